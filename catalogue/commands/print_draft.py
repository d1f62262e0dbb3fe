"""`catalogue print`: print one draft on another paper, without building the catalogue."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from catalogue.commands.arguments import Commands, add_command, papers, studio
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
    command.add_argument("style", metavar="STYLE", help="the style, by file name or title")
    command.add_argument("client", metavar="CLIENT", help="the client, by file name or name")
    studio(command)
    papers(command, "print on these papers")
    command.add_argument(
        "--out",
        type=Path,
        metavar="FILE",
        help="the PDF to write, or a folder for several (default: in the current folder)",
    )


def run(given: argparse.Namespace) -> int:
    from catalogue.building.prints import print_draft
    from catalogue.building.progress import finding_text, printable
    from catalogue.building.report import Told

    printed = print_draft(given.studio, given.style, given.client, given.paper, given.out)
    for finding in printed.findings:
        print(finding_text(Told(finding)), file=sys.stderr)
    if not printed.files:
        return say("The draft is not whole, so nothing is printed.", SOMETHING_WRONG)
    for path, pages in printed.files:
        print(printable(f"{path}: {pages} page{'s' if pages != 1 else ''}"))
    return ALL_MADE
