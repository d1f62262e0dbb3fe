"""Whether published files are still what was written: told by size and time first, by contents where there is doubt.

Every file of a catalogue is in place before its manifest is. A file that is changed later has a later time than the
manifest, so it is looked into; some others are at every build, picked at random, since a disk can go wrong without a
change of times. `catalogue verify` looks into all.
"""

from __future__ import annotations

import os
import random
import stat
import time
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from catalogue.building import fingerprint, manifest
from catalogue.building.manifest import MadeUnit, Manifest, Written

PICKED = 16
"""Files whose contents are looked into at every build, though nothing speaks against them."""


class Published:
    """The files of an output folder, as its manifest states them.

    Args:
        doubtful: look into every file, because a build was cut off in a way that left nothing to go on.
    """

    def __init__(self, output: Path, old: Manifest, *, doubtful: bool = False) -> None:
        self.output = output
        self.doubtful = doubtful
        self._found_touched = False
        self._told: dict[str, bool] = {}
        self._began = time.time_ns()
        try:
            self._since = os.lstat(output / manifest.NAME).st_mtime_ns
        except OSError:
            self._since = 0
        self._picked = _picked(old.units) if old.found else frozenset()

    def has(self, unit: MadeUnit) -> bool:
        """Whether all files of a unit are there as they were written."""
        # Asked of every file of a catalogue at every build.
        return all(map(self.is_as_written, unit.files))

    def is_as_written(self, written: Written) -> bool:
        """Whether a file is there and is what was written."""
        place = f"{self.output}/{written.path}"
        try:
            status = os.lstat(place)
        except OSError:
            return False
        # A link put in its place is not what was written, whatever it leads to.
        if status.st_size != written.size or not stat.S_ISREG(status.st_mode):
            return False
        touched = status.st_mtime_ns > self._since or status.st_ctime_ns > self._since
        if not (touched or self.doubtful or written.path in self._picked):
            return True
        if written.path not in self._told:
            self._found_touched = self._found_touched or touched
            self._told[written.path] = digest_of(place) == written.digest
        return self._told[written.path]

    def settle(self) -> None:
        """Take files that were touched, but found to be what was written, for no longer touched."""
        if self._found_touched and all(self._told.values()):
            os.utime(self.output / manifest.NAME, ns=(self._began, self._began))


def digest_of(path: str | Path) -> str:
    """Fingerprint of a published file, "" when it can't be read."""
    try:
        return fingerprint.of_file(Path(path))
    except OSError:
        return ""


def _picked(units: Mapping[str, MadeUnit]) -> frozenset[str]:
    names = list(units)
    chance = random.SystemRandom()
    some = (units[name].files for name in chance.sample(names, min(PICKED, len(names))))
    return frozenset(chance.choice(files).path for files in some if files)


class Verified(NamedTuple):
    """What a look into every file found, by path: `missing`, `changed`, and `others` that no build wrote.

    `files` is the number that were looked into, `trouble` a sentence when there is no manifest to go by.
    """

    files: int = 0
    missing: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()
    others: tuple[str, ...] = ()
    trouble: str = ""

    @property
    def ok(self) -> bool:
        return not (self.trouble or self.missing or self.changed)


def verify(output: Path) -> Verified:
    """Look into every file of a published catalogue; nothing is written."""
    old = manifest.read(output)
    if not old.found:
        if not output.is_dir():
            return Verified(trouble=f"There is no catalogue at “{output}”.")
        damaged = os.path.lexists(output / manifest.NAME)
        what = f"“{output / manifest.NAME}” is damaged" if damaged else f"“{output}” has no {manifest.NAME}"
        return Verified(trouble=f"{what}, so there is nothing to compare the files with. Build again.")
    missing: list[str] = []
    changed: list[str] = []
    known = {manifest.NAME}
    for written in sorted(old.files()):
        known.add(written.path)
        place = output / written.path
        if not place.is_file() or _is_by_a_link(output, written.path):
            (changed if os.path.lexists(place) else missing).append(written.path)
        elif digest_of(place) != written.digest:
            changed.append(written.path)
    others = []
    for base, below, names in os.walk(output):
        below.sort()
        links = [name for name in below if (Path(base) / name).is_symlink()]
        paths = [(Path(base) / name).relative_to(output).as_posix() for name in (*names, *links)]
        others += [path for path in sorted(paths) if path not in known]
    return Verified(len(known) - 1, tuple(missing), tuple(changed), tuple(others))


def _is_by_a_link(output: Path, path: str) -> bool:
    place = output / path
    return any(each.is_symlink() for each in (place, *place.parents) if output in each.parents)
