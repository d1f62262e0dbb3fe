"""`catalogue copy`: copy a style under a new title, to change it."""

from __future__ import annotations

import argparse
from pathlib import Path

from catalogue.commands.arguments import Commands, add_command, studio_option, style
from catalogue.commands.ending import ALL_MADE, tell


def add(commands: Commands) -> None:
    """Add the command, with its options."""
    command = add_command(
        commands,
        run,
        "copy",
        "copy a style under a new title, to change it",
        "Copies a style of the studio, or of another one, into styles/ under a title of its own. From another studio "
        "it brings the blocks that the style is cut from. Never overwrites a file.",
    )
    style(command)
    command.add_argument(
        "title", nargs="?", default="", metavar="TITLE", help="of the copy (default: “Copy of …”)"
    )
    studio_option(command)
    command.add_argument(
        "--from",
        dest="source",
        type=Path,
        metavar="DIR",
        help="the studio that has the style (default: the same studio)",
    )


def run(given: argparse.Namespace) -> int:
    from catalogue.starter.copying import copy_style

    for path in copy_style(given.studio, given.style, given.title, given.source, tell):
        print(path)
    return ALL_MADE
