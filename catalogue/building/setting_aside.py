"""Files that someone changed or put where the catalogue needs room: kept, under a name that tells."""

from __future__ import annotations

import os
from collections.abc import Collection, Container, Iterable, Mapping
from pathlib import Path, PurePosixPath

from catalogue.building import disk
from catalogue.building.made_units import Written
from catalogue.building.manifest import RECORDS
from catalogue.building.published import Published
from catalogue.building.stage import Made, Move, Stage, above, size_of
from catalogue.findings import Finding, Severity

LARGEST = 200_000_000
"""Bytes of a file that is looked into for whether it is merely damaged."""


def to_set_aside(
    made: Iterable[Made],
    old: Mapping[str, Written],
    known: Container[str],
    published: Published,
    stage: Stage,
) -> list[Move]:
    """Moves that set aside what is in the way of `made`, and what was written over in files no longer wanted.

    Args:
        old: what an earlier build wrote, by path.
        known: paths of files that are ours, for those that `old` does not tell.
    """
    output = published.output
    found: dict[str, Move] = {}

    def add(path: str) -> None:
        # What is kept of a draft is written for this program alone: nobody has written in it.
        if path not in found and not path.startswith(f"{RECORDS}/"):
            found[path] = Move(_free(output, path, {m.path for m in found.values()}), aside=path)

    wanted: dict[str, Made] = {}
    seen: dict[str, str | None] = {}
    for each in made:
        path = each.written.path
        wanted[path] = each
        if not each.staged:
            continue
        if (blocked := _blocked(output, path, known, seen)) is not None:
            add(blocked)
        elif os.path.lexists(output / path) and not _is_ours(path, old, known, published, each, stage):
            add(path)
    for path, written in old.items():
        if published.doubtful or path in wanted:
            continue
        changed = size_of(output / path) and not published.is_as_written(written)
        if changed and not _is_damaged(output / path, b""):
            add(path)
    return [found[path] for path in sorted(found)]


def findings_on(moves: Iterable[Move]) -> tuple[Finding, ...]:
    """What there is to say of files that were set aside."""
    return tuple(
        Finding(
            "set-aside",
            f"“{move.aside}” is not as this program wrote it, so it was kept as “{PurePosixPath(move.path).name}”",
            None,
            "Take it out of the catalogue's folder if you want to keep it; a file of the catalogue is written over.",
            Severity.WARNING,
        )
        for move in moves
    )


def _blocked(output: Path, path: str, known: Container[str], seen: dict[str, str | None]) -> str | None:
    """What stands where a folder above `path` is to be, if it is neither a folder nor ours.

    `seen` is what was found before, by the folder that a file lies in.
    """
    folder = path.rpartition("/")[0]
    if folder not in seen:
        files = (each for each in above(path) if size_of(output / each) is not None)
        name = next(files, None)
        seen[folder] = None if name is None or name in known else name
    return seen[folder]


def _is_ours(
    path: str,
    old: Mapping[str, Written],
    known: Container[str],
    published: Published,
    made: Made,
    stage: Stage,
) -> bool:
    place = output_place = published.output / path
    if place.is_symlink():
        return path in known
    if place.is_dir():
        inside = [p for p in place.rglob("*") if not p.is_dir() or p.is_symlink()]
        return bool(inside) and all(p.relative_to(published.output).as_posix() in known for p in inside)
    if path in old:
        # Where a build was cut off without a trace, what is there may be its work.
        if published.doubtful or published.is_as_written(old[path]):
            return True
        return _is_damaged(output_place, _data(stage, made))
    return path in known


def _data(stage: Stage, made: Made) -> bytes:
    try:
        return (stage.folder / made.staged).read_bytes()
    except OSError:
        return b""


def _is_damaged(place: Path, new: bytes) -> bool:
    """Whether a file holds nothing that anybody wrote: nothing at all, noughts, or the beginning of what is to come."""
    try:
        if place.stat().st_size > LARGEST:
            return False
        data = disk.read(place)
    except OSError:
        return False
    return not data.strip(b"\0") or new.startswith(data)


def _free(output: Path, path: str, taken: Collection[str]) -> str:
    """A name beside `path` that nothing has yet: "draft-a4.set-aside.pdf"."""
    place = PurePosixPath(path)
    number = 1
    while True:
        word = "set-aside" if number == 1 else f"set-aside-{number}"
        name = place.with_name(f"{place.stem}.{word}{place.suffix}").as_posix()
        if name not in taken and not os.path.lexists(output / name):
            return name
        number += 1
