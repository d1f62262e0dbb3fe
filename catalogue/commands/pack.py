"""`catalogue pack`: join the ticket, prints, lays and sewing notes of an order into one PDF for a copy shop."""

from __future__ import annotations

import argparse

from catalogue.commands.arguments import Commands, add_command, papers, printed, studio_option
from catalogue.commands.ending import ALL_MADE, tell


def add(commands: Commands) -> None:
    """Add the command, with its options."""
    command = add_command(
        commands,
        run,
        "pack",
        "join the ticket, prints, lays and sewing notes of an order into one PDF for a copy shop",
        "Joins the job ticket, the lays, the sewing notes and the pattern of an order, or of all open orders of a "
        "client, into one PDF with bookmarks and page labels.",
    )
    command.add_argument(
        "order", metavar="CLIENT|ORDER", help="a client, or an order as order or client/order"
    )
    studio_option(command)
    papers(command, "print the pattern on these papers")
    printed(command, "for it (default: the current folder)")


def run(given: argparse.Namespace) -> int:
    from catalogue.building.order_papers import pack
    from catalogue.building.progress import printable

    path, pages = pack(given.studio, given.order, given.out, given.paper, tell)
    print(printable(f"{path}: {pages} pages"))
    return ALL_MADE
