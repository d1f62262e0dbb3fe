"""The command `catalogue`. Nothing heavy is imported before a command that needs it runs."""

from __future__ import annotations

import argparse
import contextlib
import gc
import os
import signal
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from catalogue import __version__

if TYPE_CHECKING:
    from datetime import date

    from catalogue.building.report import Request

ALL_MADE, SOMETHING_WRONG, WRONG_USAGE, NOT_WRITTEN, STOPPED = 0, 1, 2, 3, 130

_EPILOG = """\
A studio is a folder with style files in styles/ (*.md), client files in clients/ (*.md) and, if it has standard sizes,
tables of them in clients/sizes/ (*.md).
Exit status: 0 everything was made; 1 there is a mistake in a style, a client file, a table or the settings (the rest
was made); 2 wrong command; 3 a file could not be read or the catalogue not be written, or the program failed; 130
stopped by you. After 2, 3 and 130 the catalogue is as it was before.
"""


class _Parser(argparse.ArgumentParser):
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


def _known_words(parser: argparse.ArgumentParser) -> list[str]:
    """Commands and options of a parser and of its commands."""
    known: list[str] = []
    for action in parser._actions:
        known += action.option_strings
        if isinstance(action, argparse._SubParsersAction):
            for name, command in action.choices.items():
                known += [name, *_known_words(command)]
    return known


def parser() -> argparse.ArgumentParser:
    """The whole command line."""
    top = _Parser(
        prog="catalogue",
        description="A studio's own pattern catalogue: drafts every style for every client and makes "
        "pages and true-scale PDFs of them that open from disk.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action="version", version=f"catalogue {__version__}")
    commands = top.add_subparsers(dest="command", metavar="COMMAND", title="commands")

    build = _command(
        commands,
        "build",
        "make the catalogue or bring it up to date",
        "Makes the catalogue, or updates what has changed in it. The last catalogue stays complete until the new one "
        "is ready.",
    )
    _studio(build)
    _out(build)
    _some(build, "make again the drafts of")
    build.add_argument(
        "--for",
        dest="recipient",
        type=_name,
        metavar="CLIENT",
        help="make a copy to hand to this client, with nothing about any other; needs --out with a folder of its "
        "own; --style limits it to some styles (default: all that are drafted for the client)",
    )
    _papers(build, "use these papers this time")
    build.add_argument(
        "--force", action="store_true", help="make everything again, even what has not changed"
    )
    build.add_argument(
        "--allow-removal",
        action="store_true",
        help="go on though most of the style or client files are gone, and take their pages out of the catalogue",
    )
    _jobs(build)

    check = _command(
        commands,
        "check",
        "read and draft everything, write nothing, and report what is wrong",
        "Reads every style file, client file and table of sizes, and drafts every style for every client it suits. "
        "Lists each problem with file, line and column; writes nothing.",
    )
    _studio(check)
    _some(check, "check")
    _jobs(check)

    open_ = _command(
        commands,
        "open",
        "build, and open the catalogue in the browser",
        "Makes the catalogue, or updates what has changed in it, and opens its first page in the browser.",
    )
    _studio(open_)
    _out(open_)
    _jobs(open_)

    watch = _command(
        commands,
        "watch",
        "build, show the catalogue in a browser on this computer, and build again at each save",
        "Builds the catalogue and serves it to this computer alone, at the address it prints. When you save a "
        "file, what depends on it is made again and open pages are updated.",
    )
    _studio(watch)
    _out(watch)
    watch.add_argument(
        "--port",
        type=_port,
        metavar="NUMBER",
        help="port of the address; 0 for any free one (default: 8420, or the next free one)",
    )
    watch.add_argument("--open", action="store_true", help="open the address in the browser")
    watch.add_argument(
        "--poll",
        action="store_true",
        help="look at the files every second instead of waiting for the system to report changes: for network drives",
    )
    _jobs(watch)

    verify = _command(
        commands,
        "verify",
        "compare every file of a catalogue with what was written",
        "Reads every file of a catalogue and compares it with what the last build wrote. Lists files that are missing "
        "or changed, and files that no build wrote; writes nothing. Exit status 1 when a file is missing or changed.",
    )
    _studio(verify)
    verify.add_argument(
        "--out",
        type=Path,
        metavar="DIR",
        help="the catalogue's folder (default: site/ in the studio's folder)",
    )

    nest = _command(
        commands,
        "nest",
        "print one style for several clients or sizes on one sheet, each in its own line style",
        "Drafts one style for several clients, or in the sizes of a table, and prints the pieces on top of each other, "
        "each client or size in its own line style; writes one PDF for each paper.",
    )
    nest.add_argument("style", metavar="STYLE", help="the style, by file name or title")
    _studio(nest)
    nest.add_argument(
        "--client",
        nargs="+",
        action="extend",
        default=[],
        type=_name,
        metavar="NAME",
        help="for these clients, by file name or name (default, without --table and --size: everyone the style suits)",
    )
    nest.add_argument(
        "--table",
        nargs="+",
        action="extend",
        default=[],
        type=_name,
        metavar="NAME",
        help="in the sizes of these tables, by file name or name; can be combined with --client",
    )
    nest.add_argument(
        "--size",
        nargs="+",
        action="extend",
        default=[],
        type=_name,
        metavar="SIZE",
        help="in these sizes only (default: all of the table)",
    )
    _papers(nest, "use these papers")
    nest.add_argument(
        "--out",
        type=Path,
        metavar="FILE",
        help="the PDF to write, or a folder for several (default: in the current folder)",
    )

    lay = _command(
        commands,
        "lay",
        "search for short lays of ordered garments and keep them until something changes",
        "Searches a few seconds for a short lay of every cloth of the orders named (default: all that are open), keeps "
        "it in clients/lays/, and prints what it saves. The next build shows it.",
    )
    _studio_option(lay)
    lay.add_argument(
        "orders", nargs="*", metavar="CLIENT|ORDER", help="a client, or an order as order or client/order"
    )

    pack = _command(
        commands,
        "pack",
        "join the ticket, prints, lays and sewing notes of an order into one PDF for a copy shop",
        "Joins the job ticket, the lays, the sewing notes and the pattern of an order, or of all open orders of a "
        "client, into one PDF with bookmarks and page labels.",
    )
    pack.add_argument("order", metavar="CLIENT|ORDER", help="a client, or an order as order or client/order")
    _studio_option(pack)
    _papers(pack, "print the pattern on these papers")
    pack.add_argument(
        "--out",
        type=Path,
        metavar="FILE",
        help="the PDF to write, or a folder for it (default: the current folder)",
    )

    keep = _command(
        commands,
        "keep",
        "keep a garment as it was cut: measurements, choices, fittings, every figure and the print",
        "Drafts a style for a client and keeps all of it in a folder of plain files, clients/CLIENT/DATE STYLE/, which "
        "stays whatever is later measured or changed. Never overwrites anything.",
    )
    keep.add_argument("style", metavar="STYLE", help="the style, by file name or title")
    keep.add_argument("client", metavar="CLIENT", help="the client, by file name or name")
    _studio(keep)
    keep.add_argument(
        "--date", type=_date, metavar="DATE", help="the day it was cut, such as 2026-03-21 (default: today)"
    )
    keep.add_argument(
        "--order",
        type=_name,
        metavar="ORDER",
        help="the order it was cut for (default: the only open order of the style, if there is just one)",
    )
    _papers(keep, "keep the print on these papers")

    copy = _command(
        commands,
        "copy",
        "copy a style under a new title, to change it",
        "Copies a style of the studio, or of another one, into styles/ under a title of its own. From another studio "
        "it brings the blocks that the style is cut from. Never overwrites a file.",
    )
    copy.add_argument("style", metavar="STYLE", help="the style, by file name or title")
    copy.add_argument(
        "title", nargs="?", default="", metavar="TITLE", help="of the copy (default: “Copy of …”)"
    )
    _studio_option(copy)
    copy.add_argument(
        "--from",
        dest="source",
        type=Path,
        metavar="DIR",
        help="the studio that has the style (default: the same studio)",
    )

    new = _command(
        commands,
        "new",
        "make a new studio folder with a style, a client and a table of sizes to start from",
        "Makes a studio folder with one style file, one client file and one table of sizes, all with comments and "
        "ready to build. Never overwrites a file.",
    )
    new.add_argument(
        "studio", type=Path, nargs="?", default=Path("my-studio"), metavar="STUDIO", help="default: my-studio"
    )
    return top


def _command(
    commands: argparse._SubParsersAction[_Parser], name: str, short: str, about: str
) -> argparse.ArgumentParser:
    return commands.add_parser(
        name,
        help=short,
        description=about,
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )


def _studio(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "studio",
        type=Path,
        nargs="?",
        default=Path(),
        metavar="STUDIO",
        help="the studio's folder (default: the current folder)",
    )


def _studio_option(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--studio",
        type=Path,
        default=Path(),
        metavar="DIR",
        help="the studio's folder (default: the current folder)",
    )


def _out(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--out",
        type=Path,
        metavar="DIR",
        help="where the catalogue goes (default: site/ in the studio's folder)",
    )


def _some(command: argparse.ArgumentParser, what: str) -> None:
    for kind in ("style", "client"):
        command.add_argument(
            f"--{kind}",
            nargs="+",
            action="extend",
            default=[],
            metavar="NAME",
            help=f"{what} these {kind}s only, by file name or {'title' if kind == 'style' else 'name'}",
        )


def _papers(command: argparse.ArgumentParser, what: str) -> None:
    command.add_argument(
        "--paper",
        nargs="+",
        action="extend",
        default=[],
        type=_paper,
        metavar="NAME",
        help=f"{what}: a4, a3, letter, legal, tabloid, a0, roll-36in, ... (default: those in studio.toml)",
    )


def _paper(text: str) -> str:
    from catalogue.sheets.paper import paper_named

    try:
        return paper_named(text).name
    except KeyError as error:
        raise argparse.ArgumentTypeError(error.args[0]) from None


def _jobs(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--jobs",
        type=_count,
        default=0,
        metavar="N",
        help="how many drafts to make at the same time (default: as many as this computer has cores)",
    )


def _name(text: str) -> str:
    # A copy for no one in particular would be the catalogue of all clients.
    if not text.strip():
        raise argparse.ArgumentTypeError("the name is empty")
    return text


def _date(text: str) -> date:
    from datetime import date

    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"“{text}” is not a date such as 2026-03-21") from None


def _count(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not 1 <= int(text) <= 256:
        raise argparse.ArgumentTypeError(f"“{text}” is not a number from 1 to 256")
    return int(text)


def _port(text: str) -> int:
    if not text.isascii() or not text.isdigit() or not 0 <= int(text) <= 65535:
        raise argparse.ArgumentTypeError(f"“{text}” is not a port number from 0 to 65535")
    return int(text)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command. Returns the exit status; argparse's own exits pass through as SystemExit."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            # A name that the terminal can't show must not stop a build.
            stream.reconfigure(errors="backslashreplace")
    top = parser()
    given = top.parse_args(arguments)
    if given.command is None:
        return _welcome()
    commands: dict[str, Callable[[argparse.Namespace], int]] = {
        "build": _build,
        "check": _check,
        "open": _open,
        "watch": _watch,
        "nest": _nest,
        "lay": _lay,
        "pack": _pack,
        "keep": _keep,
        "verify": _verify,
        "copy": _copy,
        "new": _new,
    }
    return _guarded(lambda: commands[given.command](given))


def _guarded(run: Callable[[], int]) -> int:
    """`run()`, with what can't be carried out said in a sentence."""
    from catalogue.building.disk import CannotWrite
    from catalogue.building.folder import Busy, Refused
    from catalogue.building.studio import CannotRead, NotAStudio, UnknownName

    if hasattr(signal, "SIGTERM"):
        signal.signal(signal.SIGTERM, _stop)
    _collect_seldom()
    try:
        status = run()
        if sys.stdout is not None:
            sys.stdout.flush()
        return status
    except (NotAStudio, UnknownName, Refused) as error:
        return _say(str(error), WRONG_USAGE)
    except (Busy, CannotRead, CannotWrite) as error:
        return _say(str(error), NOT_WRITTEN)
    except KeyboardInterrupt:
        return _say("Stopped. The catalogue is as it was before.", STOPPED)
    except BrokenPipeError:
        _let_go_of_output()  # Whoever read our words has gone.
        return SOMETHING_WRONG
    except OSError as error:
        _let_go_of_output()
        about = f" ({error.filename})" if error.filename else ": what this prints could not be written"
        return _say(f"{error.strerror or type(error).__name__}{about}.", NOT_WRITTEN)
    except Exception as error:
        if os.environ.get("CATALOGUE_DEBUG"):
            raise
        what = f"{type(error).__name__}: {error}"
        return _say(
            f"A fault of this program, not of your files: {what} (for details set CATALOGUE_DEBUG=1).",
            NOT_WRITTEN,
        )


def _let_go_of_output() -> None:
    """Have nothing more written to standard output: closing it at the end must not complain again."""
    if sys.stdout is not None:
        with contextlib.suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _collect_seldom() -> None:
    """Look for garbage less often: a build keeps nearly all it makes, and looking through that takes long."""
    gc.set_threshold(100_000, 50, 100)


def _say(text: str, status: int) -> int:
    from catalogue.building.progress import printable

    print(f"catalogue: {printable(text)}", file=sys.stderr)
    return status


def _stop(*_: object) -> NoReturn:
    raise KeyboardInterrupt


def _request(given: argparse.Namespace, output: Path | None = None) -> Request:
    from catalogue.building.report import Request

    return Request(
        given.studio,
        output or given.studio / "site",
        tuple(getattr(given, "style", ())),
        tuple(getattr(given, "client", ())),
        getattr(given, "force", False),
        given.jobs,
        getattr(given, "recipient", None) or "",
        tuple(getattr(given, "paper", ())),
        getattr(given, "allow_removal", False),
    )


def _build(given: argparse.Namespace) -> int:
    from catalogue.building.progress import Teller
    from catalogue.building.run import build
    from catalogue.building.units import CATALOGUE

    request = _request(given, given.out)
    if request.recipient and not given.out:
        return _say("A copy for one client needs a folder of its own: add --out DIR.", WRONG_USAGE)
    if request.recipient and request.clients:
        return _say(
            "--for already names the client of the copy: leave out --client.",
            WRONG_USAGE,
        )
    with Teller(sys.stderr) as teller:
        report = build(request, CATALOGUE, teller.progress)
    teller.findings(report)
    teller.built(report, request.output)
    return ALL_MADE if report.ok else SOMETHING_WRONG


def _open(given: argparse.Namespace) -> int:
    from catalogue.welcome import show

    status = _build(given)
    first = (given.out or given.studio / "site") / "index.html"
    if first.exists():
        show(first.resolve().as_uri())
    return status


def _welcome() -> int:
    from catalogue.welcome import what_next

    print(what_next(Path.cwd(), _as_called()), end="")
    return ALL_MADE


def _check(given: argparse.Namespace) -> int:
    from catalogue.building.checking import check
    from catalogue.building.progress import Teller
    from catalogue.building.units import CATALOGUE

    with Teller(sys.stderr) as teller:
        report = check(_request(given), CATALOGUE, teller.progress)
    teller.findings(report, sys.stdout)
    teller.checked(report)
    return ALL_MADE if report.ok else SOMETHING_WRONG


def _verify(given: argparse.Namespace) -> int:
    from catalogue.building.progress import printable
    from catalogue.building.published import verify

    output = given.out or given.studio / "site"
    found = verify(output)
    if found.trouble:
        return _say(found.trouble, SOMETHING_WRONG)
    for path in found.missing:
        print(printable(f"missing: {path}"))
    for path in found.changed:
        print(printable(f"changed: {path}"))
    for path in found.others:
        print(printable(f"not written by this program: {path}"))
    sums = [f"{len(p)} {w}" for p, w in ((found.missing, "missing"), (found.changed, "changed")) if p]
    told = ", ".join(sums) or "each is as it was written"
    print(printable(f"{output}: {found.files} files looked into, {told}."))
    if not found.ok:
        print("“catalogue build” makes them again.")
    return ALL_MADE if found.ok else SOMETHING_WRONG


def _watch(given: argparse.Namespace) -> int:
    from catalogue.building.units import CATALOGUE
    from catalogue.watch import watch
    from catalogue.welcome import show

    ready = show if given.open else lambda _: None
    return watch(_request(given, given.out), CATALOGUE, port=given.port, poll=given.poll, ready=ready)


def _nest(given: argparse.Namespace) -> int:
    from catalogue.building.nesting import Asked, nest
    from catalogue.building.progress import finding_text, printable
    from catalogue.building.report import Told

    asked = Asked(given.style, given.client, given.table, given.size, given.paper, given.out)
    nested = nest(given.studio, asked)
    for finding in nested.findings:
        print(finding_text(Told(finding)), file=sys.stderr)
    for path, pages in nested.files:
        print(printable(f"{path}: {pages} page{'s' if pages != 1 else ''}"))
    return ALL_MADE if nested.ok else SOMETHING_WRONG


def _lay(given: argparse.Namespace) -> int:
    from catalogue.building.order_papers import lay_well
    from catalogue.building.progress import printable
    from catalogue.cloth.solver import is_there

    if not is_there():
        print(
            "The library spyrrow is not installed: lays are searched for by our own filling.", file=sys.stderr
        )
    laid = lay_well(given.studio, given.orders)
    for each in laid:
        saved = max(each.before - each.after, 0.0) / 10
        words = f"{each.after / 10:.1f} cm, {saved:.1f} cm shorter" if saved >= 0.1 else "no shorter"
        print(printable(f"{each.client}, {each.order}: {each.cloth}, {words}"))
    if not laid:
        print("No order with a cloth is open.")
    return ALL_MADE


def _pack(given: argparse.Namespace) -> int:
    from catalogue.building.order_papers import pack
    from catalogue.building.progress import printable

    path, pages = pack(given.studio, given.order, given.out, given.paper)
    print(printable(f"{path}: {pages} pages"))
    return ALL_MADE


def _keep(given: argparse.Namespace) -> int:
    from datetime import date

    from catalogue.building.keeping_cut import keep
    from catalogue.building.progress import finding_text, printable
    from catalogue.building.report import Told

    day = given.date or date.today()
    kept = keep(given.studio, given.style, given.client, day, given.order or "", given.paper)
    for finding in kept.findings:
        print(finding_text(Told(finding)), file=sys.stderr)
    if kept.folder is None:
        return _say("The draft is not whole, so there is nothing to keep.", SOMETHING_WRONG)
    for file in kept.files:
        print(printable(str(kept.folder / file)))
    return ALL_MADE


def _copy(given: argparse.Namespace) -> int:
    from catalogue.starter.copying import copy_style

    for path in copy_style(given.studio, given.style, given.title, given.source):
        print(path)
    return ALL_MADE


def _new(given: argparse.Namespace) -> int:
    from catalogue.starter import make_studio

    for path in make_studio(given.studio):
        print(path)
    studio = f'"{given.studio}"' if " " in str(given.studio) else given.studio
    print(f"\nNow double-click “Open catalogue” in the folder, or type: {_as_called()} open {studio}")
    return ALL_MADE


def _as_called() -> str:
    """The command as it can be typed here: by its path, where the shell does not find it by its name."""
    from shutil import which

    typed = sys.argv[0]
    return typed if Path(typed).stem == "catalogue" and not which("catalogue") else "catalogue"
