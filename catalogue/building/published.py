"""Whether published files are still what was written: told by size and time first, by contents where there is doubt.

Every file of a catalogue is in place before its manifest is. A file that is changed later has a later time than the
manifest, so it is looked into; some others are at every build, picked at random, since a disk can go wrong without a
change of times. `catalogue verify` looks into all.

There are a hundred thousand files in a large catalogue, and each is asked for its size and time: two or more processes
share them out, and of the manifest they unpack nothing but paths and sizes.
"""

from __future__ import annotations

import os
import random
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from stat import S_ISREG
from typing import NamedTuple, TypeAlias

import msgspec

from catalogue.building import fingerprint, manifest
from catalogue.building.folder import LOCK, STAGING, is_being_written
from catalogue.building.made_units import MadeUnit, Written, safe
from catalogue.building.manifest import Damaged, Head

PICKED = 16
"""Files whose contents are looked into at every build, though nothing speaks against them."""
MANY = 40
"""With fewer parts of a manifest than this, starting processes would take longer than looking."""
TURNS = 4
"""Tasks that each process gets, so that one that is held up does not keep the others waiting."""


class _UnitFiles(msgspec.Struct, gc=False):
    files: dict[str, int] = {}


_as_files = msgspec.json.Decoder(dict[str, tuple[str, _UnitFiles]])
_as_units = msgspec.json.Decoder(dict[str, tuple[str, msgspec.Raw]])


class Looked(NamedTuple):
    """What a look at published files found.

    Attributes:
        lost: names of units that are not there as they were written.
        touched: whether a file was touched since the manifest was.
        changed: whether a file that was looked into was not what was written.
        damaged: whether a part of the manifest itself is not.
    """

    lost: frozenset[str] = frozenset()
    touched: bool = False
    changed: bool = False
    damaged: bool = False


Part: TypeAlias = "bytes | Callable[[], bytes]"
"""What some units of a manifest stand in, or how it is read."""


@dataclass(frozen=True, slots=True)
class _Look:
    """Looks at the files of the units that stand in some parts of a manifest, each with the number to look into.

    Attributes:
        output: the folder, with a "/" at the end.
        since: the manifest's time.
        doubtful: look into every file.
    """

    output: str
    since: int
    doubtful: bool

    def __call__(self, parts: Sequence[tuple[Part, int]]) -> Looked:
        every: list[Looked] = []
        try:
            for part, picks in parts:
                every.append(self.one(part if isinstance(part, bytes) else part(), picks))
        except (Damaged, ValueError):
            every.append(Looked(damaged=True))
        return _together(every)

    def one(self, data: bytes, picks: int) -> Looked:
        """What a look at the files of one part's units finds."""
        units = {name: told.files for name, (_, told) in _as_files.decode(data).items()}
        if (paths := [path for files in units.values() for path in files]) and not safe("\n".join(paths)):
            raise Damaged
        picked = _picked(units, picks)
        lost: set[str] = set()
        doubts: dict[str, list[str]] = {}
        touched = False
        # This is done for every file of a catalogue at every build.
        output, since, doubtful, lstat = self.output, self.since, self.doubtful, os.lstat
        for name, files in units.items():
            for path, size in files.items():
                try:
                    status = lstat(output + path)
                except OSError:
                    lost.add(name)
                    break
                # A link put in its place is not what was written, whatever it leads to.
                if status.st_size != size or not S_ISREG(status.st_mode):
                    lost.add(name)
                    break
                if status.st_mtime_ns > since or status.st_ctime_ns > since:
                    touched = True
                elif not (doubtful or path in picked):
                    continue
                doubts.setdefault(name, []).append(path)
        changed = {name for name, into in _digests(data, doubts) if not self.holds(into)}
        return Looked(frozenset(lost | changed), touched, bool(changed))

    def holds(self, digests: Mapping[str, str]) -> bool:
        """Whether the files at these paths hold what has these fingerprints."""
        return all(digest_of(self.output + path) == digest for path, digest in digests.items())


def _digests(data: bytes, doubts: Mapping[str, Sequence[str]]) -> Iterator[tuple[str, dict[str, str]]]:
    """The fingerprints of files that are to be looked into, for each unit that has some."""
    told = _as_units.decode(data) if doubts else {}
    for name, paths in doubts.items():
        source, body = told[name]
        yield name, {w.path: w.digest for w in MadeUnit(source, body=body).files if w.path in paths}


def _picked(units: Mapping[str, Mapping[str, int]], count: int) -> frozenset[str]:
    """Paths picked at random, at most one of a unit."""
    chance = random.SystemRandom()
    names = chance.sample(list(units), min(count, len(units))) if count else []
    return frozenset(chance.choice(list(units[name])) for name in names if units[name])


def _together(every: Iterable[Looked]) -> Looked:
    every = list(every)
    return Looked(
        frozenset().union(*(each.lost for each in every)),
        any(each.touched for each in every),
        any(each.changed for each in every),
        any(each.damaged for each in every),
    )


class Published:
    """The files of an output folder, as its manifest states them.

    Args:
        doubtful: look into every file, because a build was cut off in a way that left nothing to go on.
        jobs: how many processes may look side by side; 0 for as many as there are cores. `release` is called in each
            of them (see `Pool`).
    """

    def __init__(
        self,
        output: Path,
        head: Head,
        *,
        doubtful: bool = False,
        jobs: int = 1,
        release: Callable[[], None] | None = None,
    ) -> None:
        self.output = output
        self.doubtful = doubtful
        self._head, self._jobs, self._release = head, jobs, release
        self._told: dict[str, bool] = {}
        self._touched = False
        self._began = time.time_ns()
        try:
            self._since = os.lstat(output / manifest.NAME).st_mtime_ns
        except OSError:
            self._since = 0

    @cached_property
    def looked(self) -> Looked:
        """What a look at all files finds, at the time when it is first asked for."""
        if not self._head.about.found:
            return Looked()
        look = _Look(f"{self.output}/", self._since, self.doubtful)
        parts = self._head.data(self.output)
        picks = Counter(random.SystemRandom().choices(range(len(parts)), k=PICKED))
        tasks = [(part, picks[n]) for n, part in enumerate(parts)]
        if len(tasks) < MANY or self._jobs == 1:
            return look(tasks)
        from catalogue.building.pool import Pool, cores

        jobs = self._jobs or cores()
        shares = [tasks[n :: TURNS * jobs] for n in range(TURNS * jobs)]
        with Pool(look, jobs, release=self._release) as pool:
            # A process that broke off may have had too little memory: done again here.
            return _together(outcome.answer or look(outcome.task) for outcome in pool.run(shares))

    def has(self, name: str) -> bool:
        """Whether all files of a unit are there as they were written."""
        return name not in self.looked.lost

    def has_all(self) -> bool:
        """Whether that is so of every unit, and the manifest itself is whole."""
        return not (self.looked.lost or self.looked.damaged)

    def is_as_written(self, written: Written) -> bool:
        """Whether a file is there and is what was written."""
        place = f"{self.output}/{written.path}"
        try:
            status = os.lstat(place)
        except OSError:
            return False
        if status.st_size != written.size or not S_ISREG(status.st_mode):
            return False
        touched = status.st_mtime_ns > self._since or status.st_ctime_ns > self._since
        if not (touched or self.doubtful):
            return True
        if written.path not in self._told:
            self._touched = self._touched or touched
            self._told[written.path] = digest_of(place) == written.digest
        return self._told[written.path]

    def settle(self) -> None:
        """Take files that were touched, but found to be what was written, for no longer touched."""
        touched = self._touched or self.looked.touched
        if touched and not self.looked.changed and all(self._told.values()):
            os.utime(self.output / manifest.NAME, ns=(self._began, self._began))


def digest_of(path: str | Path) -> str:
    """Fingerprint of a published file, "" when it can't be read."""
    try:
        return fingerprint.of_file(Path(path)) if Path(path).is_file() else ""
    except OSError:
        return ""


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
    writing, before = is_being_written(output), digest_of(output / manifest.NAME)
    found = _verified(output)
    written = writing or is_being_written(output) or digest_of(output / manifest.NAME) != before
    if written and not found.ok:
        return Verified(trouble=f"A build was writing to “{output}” meanwhile: look again when it is done.")
    return found


def _verified(output: Path) -> Verified:
    head = manifest.read_head(output)
    old = head.whole(output)
    if not old.found:
        if not output.is_dir():
            return Verified(trouble=f"There is no catalogue at “{output}”.")
        damaged = output / (manifest.PARTS if head.about.found else manifest.NAME)
        told = f"“{damaged}” is damaged" if os.path.lexists(damaged) else f"“{output}” has no {damaged.name}"
        return Verified(trouble=f"{told}, so there is nothing to compare the files with. Build again.")
    missing: list[str] = []
    changed: list[str] = []
    # That the parts of the manifest are what was written was seen when they were read.
    known = {manifest.NAME, *map(manifest.part_path, head.parts)}
    for written in sorted(each for unit in old.units.values() for each in unit.files):
        known.add(written.path)
        place = output / written.path
        if not place.is_file() or _is_by_a_link(output, written.path):
            (changed if os.path.lexists(place) else missing).append(written.path)
        elif digest_of(place) != written.digest:
            changed.append(written.path)
    others = []
    for base, below, names in os.walk(output):
        if Path(base) == output:  # What a build is making, or left when it was stopped, is no one else's.
            below[:] = [name for name in below if not name.startswith(STAGING)]
            names = [name for name in names if name != LOCK]
        below.sort()
        links = [name for name in below if (Path(base) / name).is_symlink()]
        paths = [(Path(base) / name).relative_to(output).as_posix() for name in (*names, *links)]
        others += [path for path in sorted(paths) if path not in known]
    return Verified(len(known) - 1, tuple(missing), tuple(changed), tuple(others))


def _is_by_a_link(output: Path, path: str) -> bool:
    place = output / path
    return any(each.is_symlink() for each in (place, *place.parents) if output in each.parents)
