"""`catalogue print`: print one draft on another paper, without building the catalogue."""

from __future__ import annotations

import argparse
import sys

from catalogue.commands.arguments import Commands, a_name, add_command, client, papers, printed, studio, style
from catalogue.commands.ending import ALL_MADE, SOMETHING_WRONG, say


def add(commands: Commands) -> None:
    """Add the command, with its options."""
    command = add_command(
        commands,
        run,
        "print",
        "print one draft on another paper, without building the catalogue",
        "Drafts a style for a client and writes one PDF for each paper, at true scale; the catalogue and the settings "
        "stay as they are.",
    )
    style(command)
    client(command)
    studio(command)
    command.add_argument(
        "--options",
        type=a_name,
        metavar="NAME",
        help="with the options of this order, or of this set under compare: in the client's file (default: the "
        "client's usual draft)",
    )
    papers(command, "print on these papers")
    printed(command, "for several (default: in the current folder)")


def run(given: argparse.Namespace) -> int:
    from catalogue.building.gathering import Told
    from catalogue.building.prints import print_draft
    from catalogue.building.progress import finding_text, printable

    told = print_draft(given.studio, given.style, given.client, given.paper, given.out, given.options or "")
    for finding in told.findings:
        print(finding_text(Told(finding)), file=sys.stderr)
    if not told.files:
        return say("The draft is not whole, so nothing is printed.", SOMETHING_WRONG)
    for path, pages in told.files:
        print(printable(f"{path}: {pages} page{'s' if pages != 1 else ''}"))
    return ALL_MADE
