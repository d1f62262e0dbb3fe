"""What the commands' lines are read with: options that several have, kinds of value, and help with a misspelt word.

Nothing heavy is imported before a command runs.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn, TypeAlias

from catalogue.commands.ending import WRONG_USAGE

if TYPE_CHECKING:
    from datetime import date

    from catalogue.building.report import Request

EPILOG = """\
A studio is a folder with style files in styles/ (*.md), client files in clients/ (*.md) and, if it has standard sizes,
tables of them in clients/sizes/ (*.md).
Exit status: 0 everything was made; 1 there is a mistake in a style, a client file, a table or the settings (the rest
was made); 2 wrong command; 3 a file could not be read or the catalogue not be written, or the program failed; 130
stopped by you. After 2, 3 and 130 the catalogue is as it was before.
"""


class CommandLine(argparse.ArgumentParser):
    """An argument parser that offers the nearest command or option for a misspelt one."""

    def error(self, message: str) -> NoReturn:
        from catalogue.findings import did_you_mean

        known = _known_words(self)
        words = [word.strip("',\":") for word in message.replace("unrecognized arguments:", "").split()]
        hints = (did_you_mean(word, known) for word in words if word not in known)
        # What is wrong with a value says itself what would help.
        hint = "" if message.endswith("?") else next((h for h in hints if h), "")
        self.print_usage(sys.stderr)
        text = f"{self.prog}: {message}"
        self.exit(
            WRONG_USAGE, f"{text}{'' if text.endswith(('.', '?')) else '.'}{' ' + hint if hint else ''}\n"
        )


Commands: TypeAlias = "argparse._SubParsersAction[CommandLine]"
"""The commands of a command line, to which each adds itself."""


def _known_words(parser: argparse.ArgumentParser) -> list[str]:
    """Commands and options of a parser and of its commands."""
    known: list[str] = []
    for action in parser._actions:
        known += action.option_strings
        if isinstance(action, argparse._SubParsersAction):
            for name, command in action.choices.items():
                known += [name, *_known_words(command)]
    return known


def add_command(
    commands: Commands, run: Callable[[argparse.Namespace], int], name: str, short: str, about: str
) -> argparse.ArgumentParser:
    """A command that is carried out by `run`, for its options to be added.

    Args:
        run: gets what was given, as `given.run`, and gives the exit status.
        short: what it does, for the list of commands.
        about: the same for its own help, in sentences.
    """
    command = commands.add_parser(
        name,
        help=short,
        description=about,
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    command.set_defaults(run=run)
    return command


def studio(command: argparse.ArgumentParser) -> None:
    """The studio's folder, in its place."""
    command.add_argument(
        "studio",
        type=Path,
        nargs="?",
        default=Path(),
        metavar="STUDIO",
        help="the studio's folder (default: the current folder)",
    )


def studio_option(command: argparse.ArgumentParser) -> None:
    """The studio's folder as an option, where something else stands in its place."""
    command.add_argument(
        "--studio",
        type=Path,
        default=Path(),
        metavar="DIR",
        help="the studio's folder (default: the current folder)",
    )


def output(command: argparse.ArgumentParser, what: str = "where the catalogue goes") -> None:
    """The catalogue's folder; `catalogue_of` gives it."""
    command.add_argument(
        "--out", type=Path, metavar="DIR", help=f"{what} (default: site/ in the studio's folder)"
    )


def catalogue_of(given: argparse.Namespace) -> Path:
    """The catalogue's folder: the one that was given, or site/ in the studio's."""
    return getattr(given, "out", None) or Path(given.studio, "site")


def printed(command: argparse.ArgumentParser, what: str) -> None:
    """The PDF that is written."""
    command.add_argument("--out", type=Path, metavar="FILE", help=f"the PDF to write, or a folder {what}")


def style(command: argparse.ArgumentParser) -> None:
    """One style, in its place."""
    command.add_argument("style", metavar="STYLE", help="the style, by file name or title")


def client(command: argparse.ArgumentParser) -> None:
    """One client, in its place."""
    command.add_argument("client", metavar="CLIENT", help="the client, by file name or name")


def several(
    command: argparse.ArgumentParser,
    option: str,
    what: str,
    kind: Callable[[str], str] = str,
    metavar: str = "NAME",
) -> None:
    """An option for one or several names, that may be given more than once."""
    command.add_argument(
        option, nargs="+", action="extend", default=[], type=kind, metavar=metavar, help=what
    )


def some(command: argparse.ArgumentParser, what: str) -> None:
    """Some styles and clients only."""
    several(command, "--style", f"{what} these styles only, by file name or title")
    several(command, "--client", f"{what} these clients only, by file name or name")


def papers(command: argparse.ArgumentParser, what: str) -> None:
    """Papers to print on."""
    known = "a4, a3, letter, legal, tabloid, a0, roll-36in, ..."
    several(command, "--paper", f"{what}: {known} (default: those in studio.toml)", _a_paper)


def _a_paper(text: str) -> str:
    from catalogue.sheets.paper import paper_named

    try:
        return paper_named(text).name
    except KeyError as error:
        raise argparse.ArgumentTypeError(error.args[0]) from None


def jobs(command: argparse.ArgumentParser) -> None:
    """How many processes share the work."""
    command.add_argument(
        "--jobs",
        type=_a_count,
        default=0,
        metavar="N",
        help="how many drafts to make at the same time (default: as many as this computer has cores)",
    )


def a_name(text: str) -> str:
    """A name that is not empty."""
    # A copy for no one in particular would be the catalogue of all clients.
    if not text.strip():
        raise argparse.ArgumentTypeError("the name is empty")
    return text


def a_date(text: str) -> date:
    """A date such as 2026-03-21."""
    from catalogue.days import not_a_day, read_day

    if day := read_day(text):
        return day
    message, hint = not_a_day(text, in_a_file=False)
    raise argparse.ArgumentTypeError(f"{message}. {hint}")


def _a_count(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not 1 <= int(text) <= 256:
        raise argparse.ArgumentTypeError(f"“{text}” is not a number from 1 to 256")
    return int(text)


def a_port(text: str) -> int:
    """A number of a port."""
    if not text.isascii() or not text.isdigit() or not 0 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError(f"“{text}” is not a port number from 0 to 65535")
    return int(text)


def request_of(given: argparse.Namespace) -> Request:
    """What a command that builds or checks was asked for."""
    from catalogue.building.report import Request

    return Request(
        given.studio,
        catalogue_of(given),
        tuple(getattr(given, "style", ())),
        tuple(getattr(given, "client", ())),
        getattr(given, "force", False),
        given.jobs,
        getattr(given, "recipient", None) or "",
        tuple(getattr(given, "paper", ())),
        getattr(given, "allow_removal", False),
    )
