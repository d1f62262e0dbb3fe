"""What `catalogue` says when it is asked for nothing: where one is, and what to do next."""

from __future__ import annotations

import sys
import webbrowser
from pathlib import Path

_ABOUT = """\
This program keeps a studio's patterns: it drafts every style for every client, and makes pages and prints of them.
"""
_NO_STUDIO = """
There is no studio in this folder yet. To make one to start from, with a skirt and a client:

  {command} new my-studio

Then, to build it and look at it:

  {command} open my-studio
"""
_BELOW = """
This folder is no studio, but there is one below it. To build it and look at it:

{listed}
"""
_STUDIO = """
This folder is a studio with {styles} and {clients}. To {do} and look at it:

  {command} open

To see each change as soon as a file is saved, and to write client files by form:

  {command} watch --open

Everything else: {command} --help
"""


def what_next(folder: Path, command: str) -> str:
    """What the folder is, and what can be done in it; `command` is how the program is called here."""
    if (folder / "styles").is_dir() and (folder / "clients").is_dir():
        built = (folder / "site" / "index.html").exists()
        text = _STUDIO.format(
            styles=_count(folder / "styles", "style file"),
            clients=_count(folder / "clients", "client file"),
            do="bring its catalogue up to date" if built else "build its catalogue",
            command=command,
        )
    elif below := sorted(p.parent.name for p in folder.glob("*/styles") if (p.parent / "clients").is_dir()):
        quoted = (f'"{name}"' if " " in name else name for name in below)
        text = _BELOW.format(listed="\n".join(f"  {command} open {name}" for name in quoted))
    else:
        text = _NO_STUDIO.format(command=command)
    return _ABOUT + text


def _count(folder: Path, what: str) -> str:
    found = sum(path.name != "measurements.md" for path in folder.glob("*.md"))
    return f"{found} {what}{'s' * (found != 1)}"


def show(address: str) -> None:
    """Open an address in the browser; where there is none to be had, say what to open."""
    try:
        shown = webbrowser.open(address)
    except webbrowser.Error:
        shown = False
    if not shown:
        print(f"No browser could be opened. Open this address in one: {address}", file=sys.stderr, flush=True)
