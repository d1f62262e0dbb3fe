"""`catalogue open`: build, and open the catalogue in the browser."""

from __future__ import annotations

import argparse

from catalogue.commands import build
from catalogue.commands.arguments import Commands, add_command, catalogue_of, jobs, output, studio


def add(commands: Commands) -> None:
    """Add the command, with its options."""
    command = add_command(
        commands,
        run,
        "open",
        "build, and open the catalogue in the browser",
        "Makes the catalogue, or updates what has changed in it, and opens its first page in the browser.",
    )
    studio(command)
    output(command)
    jobs(command)


def run(given: argparse.Namespace) -> int:
    from catalogue.welcome import show

    status = build.run(given)
    first = catalogue_of(given) / "index.html"
    if first.exists():
        show(first.resolve().as_uri())
    return status
