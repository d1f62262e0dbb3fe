"""`catalogue watch`: build, show the catalogue in a browser on this computer, and build again at each save."""

from __future__ import annotations

import argparse

from catalogue.commands.arguments import Commands, a_port, add_command, jobs, output, request_of, studio


def add(commands: Commands) -> None:
    """Add the command, with its options."""
    command = add_command(
        commands,
        run,
        "watch",
        "build, show the catalogue in a browser on this computer, and build again at each save",
        "Builds the catalogue and serves it to this computer alone, at the address it prints. When you save a "
        "file, what depends on it is made again and open pages are updated.",
    )
    studio(command)
    output(command)
    command.add_argument(
        "--port",
        type=a_port,
        metavar="NUMBER",
        help="port of the address; 0 for any free one (default: 8420, or the next free one)",
    )
    command.add_argument("--open", action="store_true", help="open the address in the browser")
    command.add_argument(
        "--poll",
        action="store_true",
        help="look at the files every second instead of waiting for the system to report changes: for network drives",
    )
    jobs(command)


def run(given: argparse.Namespace) -> int:
    from catalogue.building.units import CATALOGUE
    from catalogue.watch import watch
    from catalogue.welcome import show

    ready = show if given.open else lambda _: None
    return watch(request_of(given), CATALOGUE, port=given.port, poll=given.poll, ready=ready)
