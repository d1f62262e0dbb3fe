"""The command `catalogue`: its line is read here; what each command does is in `catalogue/commands/`."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from catalogue import __version__
from catalogue.building.as_called import as_called
from catalogue.commands import (
    build,
    check,
    copy,
    keep,
    lay,
    nest,
    new,
    open,
    pack,
    print_draft,
    verify,
    watch,
)
from catalogue.commands.arguments import EPILOG, CommandLine
from catalogue.commands.ending import ALL_MADE, guarded

COMMANDS = (build, check, open, watch, verify, print_draft, nest, lay, pack, keep, copy, new)
"""In the order of the list that `--help` prints."""


def parser() -> argparse.ArgumentParser:
    """The whole command line."""
    top = CommandLine(
        prog=as_called(),
        description="A studio's own pattern catalogue: drafts every style for every client and makes "
        "pages and true-scale PDFs of them that open from disk.",
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action="version", version=f"catalogue {__version__}")
    commands = top.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    for command in COMMANDS:
        command.add(commands)
    return top


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command. Returns the exit status; argparse's own exits pass through as SystemExit."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            # A name that the terminal can't show must not stop a build.
            stream.reconfigure(errors="backslashreplace")
    top = parser()
    given = top.parse_args(arguments)
    if given.command is None:
        from catalogue.welcome import what_next

        print(what_next(Path.cwd(), as_called()), end="")
        return ALL_MADE
    return guarded(lambda: given.run(given))
