"""The output folder: whether it may be written to, and that only one build at a time does.

A folder is ours when it holds our manifest, or when its first page bears our mark (a manifest may have been
deleted or damaged). Any other folder with something in it is refused, and files in our folder that we did not
write stay.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

from catalogue.building import manifest as manifests
from catalogue.building.disk import CannotWrite
from catalogue.building.manifest import Manifest
from catalogue.building.studio import FOLDERS

MARK = re.compile(rb'<meta name="generator" content="pattern-catalogue[ "]')
STAGING = ".catalogue-new-"
"""Folders of this name hold what a build makes, until it is moved into place."""

JOURNAL = "moves.json"
BACK = "back.json"
"""In such a folder, the list of what is being moved into place, and of what is being moved back."""

LOCK = ".catalogue-lock"
"""Where folders themselves can't be locked (Windows), this file is."""


class Refused(Exception):
    """The output folder is not to be written to; the text is a sentence for the reader."""


class Busy(Exception):
    """Another build is writing to the folder."""


class OutputFolder:
    """An output folder that this process alone writes to, between `claim` and `release`."""

    def __init__(self, path: Path) -> None:
        self.path = Path(os.path.realpath(path))
        self._lock: int | None = None

    def check(self, studio: Path) -> None:
        """Raise Refused unless the folder is new, empty or a catalogue of ours, and apart from the studio's
        files.
        """
        if not self.path.exists():
            parent = next(p for p in self.path.parents if p.exists())
            if not parent.is_dir():
                raise Refused(f"“{self.path}” can't be made: “{parent}” is a file, not a folder.")
        elif not self.path.is_dir():
            raise Refused(
                f"“{self.path}” is a file; the catalogue needs a folder. Choose another with --out."
            )
        studio = Path(os.path.realpath(studio))
        for name in FOLDERS:
            theirs = studio / name
            if self.path == theirs or theirs in self.path.parents:
                raise Refused(f"The catalogue can't be written into the studio's own folder “{theirs}”.")
        if self.path.is_dir() and not self.is_ours():
            raise Refused(
                f"“{self.path}” has files in it that this program did not write, so it is left alone. "
                "Choose an empty or a new folder with --out."
            )

    def is_ours(self) -> bool:
        """Empty, or with our manifest, our marked first page, or only what a broken-off build left."""
        try:
            names = [entry.name for entry in os.scandir(self.path)]
        except OSError as error:
            raise Refused(f"“{self.path}” can't be read: {error.strerror}.") from error
        if all(name.startswith(STAGING) or name == LOCK for name in names):
            return True
        # A first build that was killed while it moved has neither a manifest nor, perhaps, a first page.
        begun = any(self.has_list(name) for name in names if name.startswith(STAGING))
        return begun or manifests.NAME in names or is_marked(self.path / "index.html")

    def has_list(self, name: str) -> bool:
        """Whether what a build left in the folder `name` lists what it was moving."""
        left = self.path / name
        return not left.is_symlink() and any((left / each).is_file() for each in (JOURNAL, BACK))

    def check_whose(self, old: Manifest, only: str) -> None:
        """Raise Refused when the folder holds the whole catalogue and a copy is to be made, or the other way, or
        somebody else's copy: what was left in it by the one would be handed over with the other.
        """
        if old.found and old.only == only:
            return
        if old.found:
            holds = f"the copy for the client “{old.only}”" if old.only else "the catalogue of all clients"
        elif only and is_marked(self.path / "index.html"):
            holds = "a catalogue that does not say whose it is"
        else:
            return
        wanted = f"The copy for “{only}”" if only else "The catalogue of all clients"
        raise Refused(
            f"“{self.path}” holds {holds}, so it is left alone. {wanted} needs a folder of its own: choose an "
            "empty or a new one with --out."
        )

    def claim(self) -> None:
        """Make the folder if need be and keep other builds out. Raises Busy or CannotWrite."""
        try:
            self.path.mkdir(parents=True, exist_ok=True)
            self._lock = _lock(self.path)
        except BlockingIOError:
            raise Busy(
                f"Another build is writing to “{self.path}” just now; try again when it is done."
            ) from None
        except OSError as error:
            raise CannotWrite(f"“{self.path}” can't be written to: {error.strerror}.") from error

    def release(self) -> None:
        if self._lock is not None:
            os.close(self._lock)
            self._lock = None

    def adopt(
        self, folders: Iterable[str], beside: Sequence[tuple[str, tuple[str, ...]]]
    ) -> tuple[frozenset[str], frozenset[str]]:
        """For a catalogue whose manifest is lost: the files known as ours by what they hold.

        Args:
            folders: those at the top of the site that pages lie in.
            beside: patterns of pages' paths, with patterns of what lies beside such a page.

        Returns:
            Paths (with "/") that may be removed when stale: marked pages, what lies beside them, and records; and
            paths that may be written over: these and everything in assets/ and pictures/.
        """
        ours: set[str] = set()
        if is_marked(self.path / "index.html"):
            ours.add("index.html")
        for page in self._below(*folders):
            if page.name == "index.html" and is_marked(page):
                name = page.relative_to(self.path)
                ours.add(name.as_posix())
                depth = len(name.parts)
                known = (k for of, ks in beside if name.match(of) and of.count("/") + 1 == depth for k in ks)
                drawn = (p for pattern in known for p in page.parent.glob(pattern) if p.is_file())
                ours.update(p.relative_to(self.path).as_posix() for p in drawn)
        if ours:
            records = (self.path / manifests.RECORDS).glob("*/*.z")
            ours.update(p.relative_to(self.path).as_posix() for p in records if p.is_file())
        shown = self._below("assets", "pictures")
        assets = {p.relative_to(self.path).as_posix() for p in shown if p.is_file()}
        return frozenset(ours), frozenset(ours | (assets if ours else set()))

    def _below(self, *folders: str) -> Iterable[Path]:
        for name in folders:
            # A link to somewhere else is never followed: what lies behind it is not in this folder.
            for base, below, files in os.walk(self.path / name, followlinks=False):
                below.sort()
                yield from (Path(base) / file for file in sorted(files))


def is_being_written(folder: Path) -> bool:
    """Whether a build is writing to an output folder just now."""
    try:
        os.close(_lock(folder))
    except BlockingIOError:
        return True
    except OSError:
        return False
    return False


def is_marked(page: Path) -> bool:
    """Whether a page says near its top that this program made it."""
    if not page.is_file():
        return False
    try:
        with page.open("rb") as file:
            return bool(MARK.search(file.read(4096)))
    except OSError:
        return False


if sys.platform == "win32":
    import msvcrt

    def _lock(folder: Path) -> int:
        handle = os.open(folder / LOCK, os.O_RDWR | os.O_CREAT)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError as error:
            os.close(handle)
            raise BlockingIOError from error
        return handle
else:
    import fcntl

    def _lock(folder: Path) -> int:
        # The lock lies on the folder itself: it leaves no file behind and ends with the process, however that
        # ends.
        handle = os.open(folder, os.O_RDONLY)
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            os.close(handle)
            raise
        return handle
