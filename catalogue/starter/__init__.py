"""What `catalogue new` writes: a commented style, client and table of sizes, which build at once, and starters.

A starter is a file to double-click: it builds the catalogue and shows it, with no command to type.
"""

from __future__ import annotations

import os
import shlex
import sys
from pathlib import Path

from catalogue.building.disk import CannotWrite
from catalogue.building.folder import Refused


def files() -> dict[str, bytes]:
    """The starter's files by their path below the new studio."""
    source = Path(__file__).parent / "studio"
    found = sorted(p for p in source.rglob("*") if p.is_file() and not p.name.startswith("."))
    return {p.relative_to(source).as_posix(): p.read_bytes() for p in found}


def starters(python: str) -> dict[str, bytes]:
    """Files to double-click on Windows, macOS and Linux, by name.

    `python` is the interpreter that this program runs in: it is tried first, then `catalogue` wherever it is found.
    """
    quoted = shlex.quote(python)
    shell = (
        '#!/bin/sh\n# Double-click: builds the catalogue and shows it.\ncd "$(dirname "$0")" || exit 1\n'
        f"if [ -x {quoted} ]; then {quoted} -m catalogue watch --open .\n"
        "else catalogue watch --open .; fi\n"
        "if [ -t 0 ]; then printf 'Press Enter to close this window. '; read -r _; fi\n"
    )
    escaped = python.replace("%", "%%")
    windows = (
        "@echo off\nchcp 65001 >nul\nrem Double-click: builds the catalogue and shows it.\n"
        f'cd /d "%~dp0"\nif exist "{escaped}" (\n  "{escaped}" -m catalogue watch --open .\n'
        ") else (\n  catalogue watch --open .\n)\npause\n"
    )
    return {
        "Open catalogue.cmd": windows.replace("\n", "\r\n").encode(),
        "Open catalogue.command": shell.encode(),
        "Open catalogue.sh": shell.encode(),
    }


def make_studio(folder: Path) -> list[Path]:
    """Write the starter into `folder`, new or with nothing of the same names in it.

    Returns:
        The files written.

    Raises:
        Refused: something is there already; nothing was written.
        CannotWrite: the disk did not take it; what had been written was removed again.
    """
    wanted = {folder / path: data for path, data in (files() | starters(sys.executable)).items()}
    if folder.exists() and not folder.is_dir():
        raise Refused(f"“{folder}” is a file; a studio is a folder. Choose another name.")
    for name in ("styles", "clients"):
        if os.path.lexists(folder / name):
            raise Refused(
                f"“{folder / name}” is there already, so nothing was written. Choose another folder."
            )
    for path in wanted:
        if os.path.lexists(path):
            raise Refused(f"“{path}” is there already, so nothing was written. Choose another folder.")
    made: list[Path] = []
    try:
        for path, data in wanted.items():
            missing = [p for p in (path.parent, *path.parent.parents) if not p.exists()]
            for parent in reversed(missing):
                parent.mkdir()
                made.append(parent)
            made.append(path)
            with path.open("xb") as file:
                file.write(data)
            if path.suffix in (".command", ".sh"):
                path.chmod(0o755)
    except OSError as error:
        for path in reversed(made):
            _take_back(path)
        raise CannotWrite(f"“{folder}” can't be written to: {error.strerror}.") from error
    return list(wanted)


def _take_back(path: Path) -> None:
    try:
        if path.is_dir() and not path.is_symlink():
            path.rmdir()
        else:
            path.unlink(missing_ok=True)
    except OSError:
        pass
