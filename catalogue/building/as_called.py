"""How the program was started, so that a command which it names can be typed where it is read.

Findings name commands as “catalogue check”: they are shown on pages too, and what is built must not depend on how the
program was started. Only what goes to the terminal is put into the words that work there.
"""

from __future__ import annotations

import json
import os
import re
import shlex
import sys
from pathlib import Path
from shutil import which

COMMANDS = (
    "build",
    "check",
    "open",
    "watch",
    "verify",
    "print",
    "nest",
    "lay",
    "pack",
    "keep",
    "copy",
    "new",
)
_NAMED = re.compile(rf"“catalogue (?=(?:{'|'.join(COMMANDS)})\b)")


def to_be_typed(text: str) -> str:
    """A text in which commands such as “catalogue check” are named as they can be typed here."""
    return _NAMED.sub(lambda _: f"“{as_called()} ", text) if "“catalogue " in text else text


def as_called() -> str:
    """The command as it can be typed here: "catalogue" where the shell finds it, else how it was started.

    Such as ".venv/bin/catalogue", "python3 -m catalogue", "uv run catalogue" or "uvx --from … catalogue".
    """
    typed = Path(sys.argv[0])
    if typed.name == "__main__.py":
        return f"{_written(_python())} -m catalogue"
    if typed.stem != "catalogue":
        return "catalogue"
    # Both put their own folder on the path of what they start, and nowhere else.
    if os.environ.get("UV_RUN_RECURSION_DEPTH"):
        return "uv run catalogue"
    if os.environ.get("UV") and "archive-v0" in typed.parts:
        return f"uvx --from {_written(_installed_from())} catalogue"
    return "catalogue" if which("catalogue") else _written(str(typed))


def _python() -> str:
    """The interpreter as it can be typed: by its name where the shell finds this one by it."""
    names = ("python3", "python", "py")
    found = next((name for name in names if _is(which(name), Path(sys.executable))), "")
    here = Path(sys.executable)
    return found or str(here.relative_to(Path.cwd()) if here.is_relative_to(Path.cwd()) else here)


def _is(found: str | None, program: Path) -> bool:
    """Whether what the shell finds is the program."""
    # Links are not followed: every environment has a link to one and the same interpreter.
    return found is not None and os.path.normcase(Path(found).absolute()) == os.path.normcase(
        program.absolute()
    )


def _installed_from() -> str:
    """What the program was installed from: a folder, an address, or the name of the distribution."""
    from importlib.metadata import PackageNotFoundError, distribution
    from urllib.parse import unquote, urlsplit

    name = "pattern-catalogue"
    try:
        told = json.loads(distribution(name).read_text("direct_url.json") or "{}")
    except (PackageNotFoundError, ValueError):
        return name
    address = str(told.get("url", ""))
    if address.startswith("file:"):
        return unquote(urlsplit(address).path)
    return (
        f"{told['vcs_info'].get('vcs', 'git')}+{address}"
        if address and "vcs_info" in told
        else address or name
    )


def _written(path: str) -> str:
    """A path as the shell takes it."""
    if os.name == "nt":
        return f'"{path}"' if " " in path else path
    return shlex.quote(path)
