"""`catalogue lay`: search for short lays of ordered garments and keep them until something changes."""

from __future__ import annotations

import argparse
import sys

from catalogue.commands.arguments import Commands, add_command, studio_option
from catalogue.commands.ending import ALL_MADE


def add(commands: Commands) -> None:
    """Add the command, with its options."""
    command = add_command(
        commands,
        run,
        "lay",
        "search for short lays of ordered garments and keep them until something changes",
        "Searches a few seconds for a short lay of every cloth of the orders named (default: all that are open), keeps "
        "it in clients/lays/, and prints what it saves. The next build shows it.",
    )
    studio_option(command)
    command.add_argument(
        "orders", nargs="*", metavar="CLIENT|ORDER", help="a client, or an order as order or client/order"
    )


def run(given: argparse.Namespace) -> int:
    from catalogue.building.order_papers import lay_well
    from catalogue.building.progress import printable
    from catalogue.cloth.solver import is_there

    if not is_there():
        print(
            "The library spyrrow is not installed: lays are searched for by our own filling.", file=sys.stderr
        )
    laid = lay_well(given.studio, given.orders)
    for each in laid:
        saved = max(each.before - each.after, 0.0) / 10
        words = f"{each.after / 10:.1f} cm, {saved:.1f} cm shorter" if saved >= 0.1 else "no shorter"
        print(printable(f"{each.client}, {each.order}: {each.cloth}, {words}"))
    if not laid:
        print("No order with a cloth is open.")
    return ALL_MADE
