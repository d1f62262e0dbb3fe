"""`catalogue keep`: keep a garment as it was cut: measurements, choices, fittings, every figure and the print."""

from __future__ import annotations

import argparse
import sys

from catalogue.commands.arguments import Commands, a_date, a_name, add_command, client, papers, studio, style
from catalogue.commands.ending import ALL_MADE, SOMETHING_WRONG, WRONG_USAGE, say


def add(commands: Commands) -> None:
    """Add the command, with its options."""
    command = add_command(
        commands,
        run,
        "keep",
        "keep a garment as it was cut: measurements, choices, fittings, every figure and the print",
        "Drafts a style for a client and keeps all of it in a folder of plain files, clients/CLIENT/DATE STYLE/, which "
        "stays whatever is later measured or changed. Never overwrites anything.",
    )
    style(command)
    client(command)
    studio(command)
    command.add_argument(
        "--date", type=a_date, metavar="DATE", help="the day it was cut, such as 2026-03-21 (default: today)"
    )
    command.add_argument(
        "--order",
        type=a_name,
        metavar="ORDER",
        help="the order it was cut for (default: the only open order of the style, if there is just one)",
    )
    papers(command, "keep the print on these papers")


def run(given: argparse.Namespace) -> int:
    from datetime import date

    from catalogue.building.gathering import Told
    from catalogue.building.keeping_cut import keep
    from catalogue.building.progress import finding_text, printable
    from catalogue.people.dating import EARLIEST

    day = given.date or date.today()
    if day > date.today() or day.year < EARLIEST:
        return say(f"No garment can have been cut on {day.isoformat()}: check the year.", WRONG_USAGE)
    kept = keep(given.studio, given.style, given.client, day, given.order or "", given.paper)
    for finding in kept.findings:
        print(finding_text(Told(finding)), file=sys.stderr)
    if kept.folder is None:
        return say("The draft is not whole, so there is nothing to keep.", SOMETHING_WRONG)
    for file in kept.files:
        print(printable(str(kept.folder / file)))
    return ALL_MADE
