"""`catalogue new`: make a new studio folder with a style, a client and a table of sizes to start from."""

from __future__ import annotations

import argparse
from pathlib import Path

from catalogue.commands.arguments import Commands, add_command
from catalogue.commands.ending import ALL_MADE


def add(commands: Commands) -> None:
    """Add the command, with its options."""
    command = add_command(
        commands,
        run,
        "new",
        "make a new studio folder with a style, a client and a table of sizes to start from",
        "Makes a studio folder with one style file, one client file and one table of sizes, all with comments and "
        "ready to build. Never overwrites a file.",
    )
    command.add_argument(
        "studio", type=Path, nargs="?", default=Path("my-studio"), metavar="STUDIO", help="default: my-studio"
    )


def run(given: argparse.Namespace) -> int:
    from catalogue.building.as_called import as_called
    from catalogue.starter import make_studio

    for path in make_studio(given.studio):
        print(path)
    studio = f'"{given.studio}"' if " " in str(given.studio) else given.studio
    print(f"\nNow double-click “Open catalogue” in the folder, or type: {as_called()} open {studio}")
    return ALL_MADE
