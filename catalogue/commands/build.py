"""`catalogue build`: make the catalogue or bring it up to date."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from catalogue.commands.arguments import (
    Commands,
    a_name,
    add_command,
    jobs,
    output,
    papers,
    request_of,
    some,
    studio,
)
from catalogue.commands.ending import ALL_MADE, SOMETHING_WRONG, WRONG_USAGE, say

if TYPE_CHECKING:
    from catalogue.building.kind import Definition


def add(commands: Commands) -> None:
    """Add the command, with its options."""
    command = add_command(
        commands,
        run,
        "build",
        "make the catalogue or bring it up to date",
        "Makes the catalogue, or updates what has changed in it. The last catalogue stays complete until the new one "
        "is ready.",
    )
    studio(command)
    output(command)
    some(command, "make again the drafts of")
    command.add_argument(
        "--for",
        dest="recipient",
        type=a_name,
        metavar="CLIENT",
        help="make a copy to hand to this client, with nothing about any other; needs --out with a folder of its "
        "own; --style limits it to some styles (default: all that are drafted for the client)",
    )
    papers(command, "use these papers this time")
    command.add_argument(
        "--force", action="store_true", help="make everything again, even what has not changed"
    )
    command.add_argument(
        "--allow-removal",
        action="store_true",
        help="go on though most of the style or client files are gone, and take their pages out of the catalogue",
    )
    jobs(command)


def _definition() -> Definition:
    from catalogue.building.units import CATALOGUE

    return CATALOGUE


def run(given: argparse.Namespace) -> int:
    from catalogue.building.progress import Teller
    from catalogue.building.run import build

    request = request_of(given)
    if request.recipient and not given.out:
        return say("A copy for one client needs a folder of its own: add --out DIR.", WRONG_USAGE)
    if request.recipient and request.clients:
        return say(
            "--for already names the client of the copy: leave out --client.",
            WRONG_USAGE,
        )
    with Teller(sys.stderr) as teller:
        report = build(request, _definition, teller.progress)
    teller.findings(report)
    teller.built(report, request.output)
    return ALL_MADE if report.ok else SOMETHING_WRONG
