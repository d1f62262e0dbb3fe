"""What a build has made and not yet put in place: the hidden folder it lies in, and the moves that bring it out."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from catalogue.building import disk, fingerprint
from catalogue.building.disk import CannotWrite
from catalogue.building.folder import STAGING
from catalogue.building.made_units import Written


@dataclass(frozen=True, slots=True)
class Move:
    """One change to the published folder.

    Attributes:
        path: what comes, or goes.
        staged: what it comes from in the hidden folder; "" when it goes.
        number: of a whole folder, the number that the disk knows it by; 0 for a file.
        aside: what it comes from in the published folder itself, when it is only given another name.
    """

    path: str
    staged: str = ""
    number: int = 0
    aside: str = ""


class Made(NamedTuple):
    """A file a build wants in the catalogue. `staged` is its name there, "" when the old one serves."""

    written: Written
    staged: str = ""


class Stage:
    """The hidden folder. Made when the first file is put into it, so a build with nothing to do touches
    nothing.
    """

    def __init__(self, output: Path, name: str = "") -> None:
        self.output = output
        self.folder = output / (name or f"{STAGING}{os.getpid()}-{os.urandom(4).hex()}")

    def put(self, path: str, data: bytes, name: str) -> Made:
        """Hold `data` for `path` under the file name `name`, unless the published file already is just that.

        Raises CannotWrite when the disk is full or the folder can't be written to.
        """
        written = Written(path, fingerprint.of_bytes(data), len(data))
        there = self.output / path
        if size_of(there) == len(data) and _holds(there, data):
            return Made(written)
        try:
            disk.make_folder(self.folder)
            disk.write(self.folder / name, data)
        except OSError as error:
            raise cannot(self.output, error) from error
        return Made(written, name)

    def read(self, made: Made) -> bytes:
        """What a file holds that was made now or before; b"" when that is no longer what was written."""
        try:
            there = self.folder / made.staged if made.staged else self.output / made.written.path
            data = disk.read(there)
        except OSError:
            return b""
        return data if fingerprint.of_bytes(data) == made.written.digest else b""

    def discard(self) -> None:
        disk.remove_tree(self.folder)


def above(path: str) -> list[str]:
    """The folders that a path of the catalogue lies in, the nearest first."""
    folders = []
    while folder := path.rpartition("/")[0]:
        folders.append(folder)
        path = folder
    return folders


def size_of(path: Path | str) -> int | None:
    """Size of a published file in bytes; None when there is no such plain file."""
    try:
        status = os.lstat(path)
    except OSError:
        return None
    # Size only of what is really a file: a link put in its place is not what was written.
    return status.st_size if (status.st_mode & 0o170000) == 0o100000 else None


def cannot(output: Path, error: OSError) -> CannotWrite:
    """The error as a sentence for the reader."""
    if isinstance(error, CannotWrite):
        return error
    reason = error.strerror or str(error) or type(error).__name__
    about = f" ({error.filename})" if error.filename else ""
    return CannotWrite(f"“{output}” can't be written to: {reason}{about}. The catalogue is as it was before.")


def _holds(path: Path, data: bytes) -> bool:
    try:
        return disk.read(path) == data
    except OSError:
        return False


def number_of(path: Path) -> int:
    """The number that the disk knows a file or folder by; 0 where there is none."""
    try:
        return os.lstat(path).st_ino
    except OSError:
        return 0
