"""Putting a made catalogue in place whole.

What a build makes is first written, complete, into a hidden folder inside the output folder (the same disk,
so that moving is renaming). Only when all of it is there is a list of moves written beside it, and the moves
are done:

1. files that are new, assets first and pages that lead to others last: no page of the old catalogue links to
   them;
2. files that take the place of older ones, in the same order: whatever they link to is there by now;
3. files no longer wanted are removed: nothing links to them any more;
4. the manifest is replaced.

So at every moment each file is wholly old or wholly new and every link a reader can follow leads somewhere,
and files that did not change are not touched. The moves take milliseconds. When one of them fails, all are
undone. When the process is killed between them, the list is still there, and the next build does the rest of
it first. When it is killed earlier, the list is not there, nothing was moved, and the next build throws the
hidden folder away.

The other way, building a second folder and exchanging the two, was not chosen: it works on few systems, needs
a link or copy of every unchanged file at each build, gives a reader who stands in the folder (a server, a
shell, a file window) a deleted one, and has to carry over files that are not ours.
"""

from __future__ import annotations

import contextlib
import itertools
import json
import os
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import NamedTuple

from catalogue.building import disk, fingerprint, manifest
from catalogue.building.disk import CannotWrite
from catalogue.building.folder import STAGING, OutputFolder
from catalogue.building.manifest import Written

JOURNAL = "moves.json"
BACK = "back.json"
KEPT = "kept"


@dataclass(frozen=True, slots=True)
class Move:
    """One change to the published folder: `staged` goes to `path`, or `path` goes when `staged` is ""."""

    path: str
    staged: str = ""


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

    def put(self, path: str, data: bytes, old: Written | None, name: str) -> Made:
        """Hold `data` for `path` under the file name `name`, unless the published file already is just that.

        Args:
            old: what the manifest says of the published file; None to compare with the file itself.

        Raises CannotWrite when the disk is full or the folder can't be written to.
        """
        written = Written(path, fingerprint.of_bytes(data), len(data))
        there = self.output / path
        if size_of(there) == len(data) and (old == written if old else _holds(there, data)):
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
            data = there.read_bytes()
        except OSError:
            return b""
        return data if fingerprint.of_bytes(data) == made.written.digest else b""

    def discard(self) -> None:
        disk.remove_tree(self.folder)


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
        return path.read_bytes() == data
    except OSError:
        return False


def changes(
    old: Iterable[Written], made: Iterable[Made], output: Path, lost: Collection[str] = ()
) -> list[Move]:
    """The moves from the published files to the made ones, in the order the module's text gives.

    Args:
        old: what an earlier build wrote.
        made: everything the catalogue is to hold.
        lost: files of ours that the manifest no longer knows; those not wanted are removed too.
    """
    made = list(made)
    wanted = {m.written.path.casefold(): m.written.path for m in made}
    staged = sorted((m for m in made if m.staged), key=lambda m: _rank(m.written.path))
    new = [Move(m.written.path, m.staged) for m in staged if not os.path.lexists(output / m.written.path)]
    fresh = {move.path for move in new}
    over = [Move(m.written.path, m.staged) for m in staged if m.written.path not in fresh]

    stale = {w.path: w.digest for w in old} | dict.fromkeys(lost, "")
    gone = []
    for path in sorted(stale.keys() - wanted.values(), key=_rank, reverse=True):
        alike = wanted.get(path.casefold())
        if size_of(there := output / path) is None:
            continue
        if alike and same_file(there, output / alike):
            continue  # Only the case of its name changed, on a disk that doesn't tell them apart.
        # A file that someone has written over since is no longer ours to remove.
        if not stale[path] or fingerprint.of_bytes(there.read_bytes()) == stale[path]:
            gone.append(Move(path))
    # A folder may have become a file, or a file a folder: what stands in the way goes first.
    above = {str(p) for path in fresh for p in PurePosixPath(path).parents}
    early = [
        m for m in gone if m.path in above or any(str(p) in fresh for p in PurePosixPath(m.path).parents)
    ]
    over_folders = [m for m in over if (output / m.path).is_dir()]
    early += [m for m in gone if any(m.path.startswith(f"{o.path}/") for o in over_folders)]
    first = set(early)
    return [*early, *new, *over, *(m for m in gone if m not in first)]


def same_file(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:
        return False


def _rank(path: str) -> tuple[int, int, str]:
    """Order of moving in: assets, then the deepest files, pages after what they show, the first page last."""
    return (0 if path.startswith("assets/") else 1, -path.count("/") * 2 + path.endswith(".html"), path)


def foreign(made: Iterable[Made], known: Collection[str], output: Path) -> list[str]:
    """Paths that the catalogue needs but where something lies that it did not write."""
    found = []
    for m in made:
        path = m.written.path
        if not m.staged or path in known or not os.path.lexists(output / path):
            continue
        inside = [p for p in (output / path).rglob("*") if not p.is_dir()] if (output / path).is_dir() else []
        if not inside or any(p.relative_to(output).as_posix() not in known for p in inside):
            found.append(path)
    return sorted(found)


def commit(stage: Stage, moves: list[Move], manifest_after: bytes) -> None:
    """Do all moves and replace the manifest, or none of it.

    Raises CannotWrite, with the published folder as it was before.
    """
    output = stage.output
    moves = [*moves, Move(manifest.NAME, manifest.NAME)]
    try:
        disk.make_folder(stage.folder / KEPT)
        disk.write(stage.folder / manifest.NAME, manifest_after)
        _write_list(stage, JOURNAL, [[m.path, m.staged] for m in moves])
    except OSError as error:
        stage.discard()
        raise cannot(output, error) from error
    done: list[tuple[Move, bool]] = []
    try:
        for number, move in enumerate(moves):
            done.append((move, _do(stage, number, move)))
    except BaseException as error:
        _undo(stage, done)
        if isinstance(error, OSError):
            raise cannot(output, error) from error
        raise
    stage.discard()
    _tidy(output, moves)


def _write_list(stage: Stage, name: str, told: object) -> None:
    disk.write(stage.folder / f"{name}.part", json.dumps(told).encode())
    disk.replace(stage.folder / f"{name}.part", stage.folder / name)


def _do(stage: Stage, number: int, move: Move) -> bool:
    """Do one move, keeping what it replaces or removes. Returns whether there was such a file."""
    there, kept = stage.output / move.path, stage.folder / KEPT / str(number)
    before = size_of(there) is not None
    if before:
        disk.keep(there, kept)
    if move.staged:
        if there.is_dir() and not there.is_symlink():
            there.rmdir()
        disk.make_folder(there.parent)
        disk.replace(stage.folder / move.staged, there)
    else:
        disk.remove(there)
        disk.remove_empty_folders(there.parent, stage.output)
    return before


def _undo(stage: Stage, done: list[tuple[Move, bool]]) -> None:
    # The move that failed is not in `done`: it changed nothing but, at most, kept a second name.
    back = [[move.path, f"{KEPT}/{n}" if before else ""] for n, (move, before) in enumerate(done)][::-1]
    # A build killed in here must go on backwards: part of what was to be moved in is gone already.
    with contextlib.suppress(OSError):
        _write_list(stage, BACK, back)
    (stage.folder / JOURNAL).unlink(missing_ok=True)
    _go_back(stage, back)
    stage.discard()
    _tidy(stage.output, (move for move, _ in done))


def _go_back(stage: Stage, back: Iterable[list[str]]) -> None:
    for path, kept in back:
        there = stage.output / path
        if not kept:
            there.unlink(missing_ok=True)
            disk.remove_empty_folders(there.parent, stage.output)
        elif (stage.folder / kept).exists():
            there.parent.mkdir(parents=True, exist_ok=True)
            (stage.folder / kept).replace(there)


def _tidy(output: Path, moves: Iterable[Move]) -> None:
    for folder in {(output / move.path).parent for move in moves}:
        disk.remove_empty_folders(folder, output)


def recover(folder: OutputFolder) -> bool:
    """Finish what a killed build had begun to move, and throw away what it had not. Needs the folder's claim.

    Returns:
        Whether moves were finished.
    """
    finished = False
    output = folder.path
    for left in sorted(output.glob(f"{STAGING}*")):
        stage = Stage(output, left.name)
        moves = _read_list(left / JOURNAL)
        back = _read_list(left / BACK)
        try:
            if back:
                _go_back(stage, back)
            else:
                for path, staged in moves:
                    if not staged:
                        disk.remove(output / path)
                        disk.remove_empty_folders((output / path).parent, output)
                    elif (left / staged).exists():
                        disk.make_folder((output / path).parent)
                        disk.replace(left / staged, output / path)
        except OSError as error:
            raise cannot(output, error) from error
        finished = finished or bool(moves or back)
        stage.discard()
    return finished


def _read_list(path: Path) -> list[list[str]]:
    try:
        pairs = [[str(name), str(source)] for name, source in json.loads(path.read_bytes())]
    except (OSError, ValueError, TypeError):
        return []
    names = itertools.chain.from_iterable(pairs)
    return pairs if all(name == "" or manifest.safe(name) for name in names) else []
