"""`catalogue nest`: print one style for several clients or sizes on one sheet, each in its own line style."""

from __future__ import annotations

import argparse
import sys

from catalogue.commands.arguments import (
    Commands,
    a_name,
    add_command,
    papers,
    printed,
    several,
    studio,
    style,
)
from catalogue.commands.ending import ALL_MADE, SOMETHING_WRONG


def add(commands: Commands) -> None:
    """Add the command, with its options."""
    command = add_command(
        commands,
        run,
        "nest",
        "print one style for several clients or sizes on one sheet, each in its own line style",
        "Drafts one style for several clients, or in the sizes of a table, and prints the pieces on top of each other, "
        "each client or size in its own line style; writes one PDF for each paper.",
    )
    style(command)
    studio(command)
    clients = "for these clients, by file name or name (default, without --table and --size: everyone the style suits)"
    tables = "in the sizes of these tables, by file name or name; can be combined with --client"
    several(command, "--client", clients, a_name)
    several(command, "--table", tables, a_name)
    several(command, "--size", "in these sizes only (default: all of the table)", a_name, "SIZE")
    papers(command, "use these papers")
    printed(command, "for several (default: in the current folder)")


def run(given: argparse.Namespace) -> int:
    from catalogue.building.gathering import Told
    from catalogue.building.nesting import Asked, nest
    from catalogue.building.progress import finding_text, printable

    asked = Asked(given.style, given.client, given.table, given.size, given.paper, given.out)
    nested = nest(given.studio, asked)
    for finding in nested.findings:
        print(finding_text(Told(finding)), file=sys.stderr)
    for path, pages in nested.files:
        print(printable(f"{path}: {pages} page{'s' if pages != 1 else ''}"))
    return ALL_MADE if nested.ok else SOMETHING_WRONG
