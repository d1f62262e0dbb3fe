"""`catalogue check`: read and draft everything, write nothing, and report what is wrong."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from catalogue.commands.arguments import Commands, add_command, jobs, request_of, some, studio
from catalogue.commands.ending import ALL_MADE, SOMETHING_WRONG

if TYPE_CHECKING:
    from catalogue.building.kind import Definition


def add(commands: Commands) -> None:
    """Add the command, with its options."""
    command = add_command(
        commands,
        run,
        "check",
        "read and draft everything, write nothing, and report what is wrong",
        "Reads every style file, client file and table of sizes, and drafts every style for every client it suits. "
        "Lists each problem with file, line and column; writes nothing.",
    )
    studio(command)
    some(command, "check")
    jobs(command)


def _definition() -> Definition:
    from catalogue.building.units import CATALOGUE

    return CATALOGUE


def run(given: argparse.Namespace) -> int:
    from catalogue.building.checking import check
    from catalogue.building.progress import Teller

    with Teller(sys.stderr) as teller:
        report = check(request_of(given), _definition, teller.progress)
    teller.findings(report, sys.stdout)
    teller.checked(report)
    return ALL_MADE if report.ok else SOMETHING_WRONG
