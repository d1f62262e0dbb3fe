"""Putting a made catalogue in place whole.

What a build makes is first written, complete, into a hidden folder inside the output folder (the same disk,
so that moving is renaming). Only when all of it is there, and on the disk itself, is a list of moves written
beside it, and the moves are done:

1. files that someone has changed by hand are set aside, under a name that tells;
2. files that are new, assets first and pages that lead to others last: no page of the old catalogue links to
   them;
3. files that take the place of older ones, in the same order: whatever they link to is there by now. A draft's
   page with its drawings and prints is one move (`switching.py`);
4. files no longer wanted are removed: nothing links to them any more;
5. the manifest is replaced, after the parts of it that are new came in (`manifest.py`); those that count no longer are
   removed then.

So at every moment each file is wholly old or wholly new, so is each draft's folder, every link a reader can follow
leads somewhere, and files that did not change are not touched. The moves take milliseconds. When one of them fails,
all are undone. When the process is killed between them, the list is still there, and the next build does the rest of
it first (`recovering.py`). When it is killed earlier, the list is not there, nothing was moved, and the next build
throws the hidden folder away.

The order in which things are written out to the disk (contents, then the names they have, then the list; nothing is
moved before the list is there, and the list goes only when all that was moved is) is that of the rollback journal
described in SQLite's “Atomic Commit In SQLite”, https://sqlite.org/atomiccommit.html, sections 3.7 to 3.11.

The other way, building a second folder and exchanging the two, was not chosen: it needs a link or copy of every
unchanged file at each build (120,000 in a large catalogue), gives a reader who stands in the folder (a server, a
shell, a file window) a deleted one, and has to carry over files that are not ours.
"""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Collection, Iterable, Sequence
from pathlib import Path, PurePosixPath

from catalogue.building import disk
from catalogue.building.folder import BACK, JOURNAL, Refused
from catalogue.building.made_units import Written, safe
from catalogue.building.manifest import NAME, Packed, part_path
from catalogue.building.stage import Made, Move, Stage, cannot, number_of, size_of
from catalogue.building.stage import above as folders_above
from catalogue.building.switching import whole_folders

KEPT = "kept"


def changes(
    old: Iterable[Written],
    made: Iterable[Made],
    output: Path,
    lost: Collection[str] = (),
    asides: Sequence[Move] = (),
) -> list[Move]:
    """The moves from the published files to the made ones, in the order the module's text gives.

    Args:
        old: what an earlier build wrote.
        made: everything the catalogue is to hold.
        lost: files of ours that the manifest no longer knows; those not wanted are removed too.
        asides: moves that set aside what is not ours (see `setting_aside`).
    """
    made = list(made)
    away = {move.aside for move in asides}
    wanted = {m.written.path.casefold(): m.written.path for m in made}
    staged = sorted((m for m in made if m.staged), key=lambda m: rank(m.written.path))

    def is_taken(path: str) -> bool:
        return path not in away and os.path.lexists(output / path)

    new = [Move(m.written.path, m.staged) for m in staged if not is_taken(m.written.path)]
    fresh = {move.path for move in new}
    over = [Move(m.written.path, m.staged) for m in staged if m.written.path not in fresh]

    stale = {w.path for w in old} | set(lost)
    gone = []
    for path in sorted(stale - set(wanted.values()) - away, key=rank, reverse=True):
        alike = wanted.get(path.casefold())
        if size_of(there := output / path) is None:
            continue
        if alike and same_file(there, output / alike):
            continue  # Only the case of its name changed, on a disk that doesn't tell them apart.
        gone.append(Move(path))
    # A folder may have become a file, or a file a folder: what stands in the way goes first.
    above = {folder for path in fresh for folder in folders_above(path)}
    early = [m for m in gone if m.path in above or any(folder in fresh for folder in folders_above(m.path))]
    over_folders = [m for m in over if (output / m.path).is_dir()]
    early += [m for m in gone if any(m.path.startswith(f"{o.path}/") for o in over_folders)]
    first = set(early)
    return [*asides, *early, *new, *over, *(m for m in gone if m not in first)]


def same_file(one: Path, other: Path) -> bool:
    try:
        return one.samefile(other)
    except OSError:
        return False


def rank(path: str) -> tuple[int, int, str]:
    """Order of moving in: assets, then the deepest files, pages after what they show, the first page last."""
    return (0 if path.startswith("assets/") else 1, -path.count("/") * 2 + path.endswith(".html"), path)


def refuse_links(output: Path, paths: Iterable[str]) -> None:
    """Raise Refused where a link stands among the folders that these paths lie in: what is behind it is not ours."""
    seen: set[str] = set()
    for path in paths:
        for folder in folders_above(path):
            if folder in seen:
                break
            seen.add(folder)
            if (output / folder).is_symlink():
                raise Refused(
                    f"“{output / folder}” is a link to another place, where this program writes nothing. "
                    "Remove the link and build again."
                )


def commit(stage: Stage, moves: list[Move], after: Packed, stale: Iterable[str] = ()) -> None:
    """Do all moves and replace the manifest, or none of it; `stale` are parts of manifests that count no longer.

    Raises CannotWrite, with the published folder as it was before.
    """
    output = stage.output
    parts = [(part_path(digest), data) for digest, data in after.parts.items() if data]
    written = [*((path, PurePosixPath(path).name, data) for path, data in parts), (NAME, NAME, after.head)]
    refuse_links(output, (*(move.path for move in moves), *(path for path, _ in parts), *stale))
    try:
        disk.make_folder(stage.folder / KEPT)
        moves = [*whole_folders(stage, moves), *(Move(path, name) for path, name, _ in written)]
        moves += [Move(path) for path in stale]
        for _, name, data in written:
            disk.write(stage.folder / name, data)
        disk.sync([p for p in sorted(stage.folder.rglob("*")) if not p.is_symlink()])
        _write_list(stage, JOURNAL, moves)
        disk.sync([output])
    except OSError as error:
        stage.discard()
        raise cannot(output, error) from error
    done: list[tuple[Move, bool]] = []
    try:
        for number, move in enumerate(moves):
            done.append((move, _do(stage, number, move)))
        os.utime(output / NAME)  # later than all that was moved: see `Published`
    except BaseException as error:
        _undo(stage, done)
        if isinstance(error, OSError):
            raise cannot(output, error) from error
        raise
    finish(stage, moves)


def finish(stage: Stage, moves: Iterable[Move]) -> None:
    """Throw away the hidden folder, once all that was moved is on the disk itself."""
    names = {folder for move in moves for folder in folders_above(move.path)} | {"."}
    disk.sync([stage.output / name for name in sorted(names) if (stage.output / name).is_dir()])
    stage.discard()
    for name in sorted(names, key=len, reverse=True):
        disk.remove_empty_folders(stage.output / name, stage.output)


def _write_list(stage: Stage, name: str, moves: Iterable[Move]) -> None:
    part = stage.folder / f"{name}.part"
    told = [[move.path, move.staged, move.number, move.aside] for move in moves]
    disk.write(part, json.dumps(told).encode())
    disk.sync([part])
    disk.replace(part, stage.folder / name)
    disk.sync([stage.folder])


def read_list(path: Path) -> list[Move]:
    """The moves that a list states; none when it can't be trusted."""
    try:
        told = json.loads(disk.read(path))
        moves = [Move(str(p), str(staged), int(number), str(aside)) for p, staged, number, aside in told]
    except (OSError, ValueError, TypeError):
        return []
    names = (name for move in moves for name in (move.path, move.staged, move.aside))
    return moves if all(name == "" or safe(name) for name in names) else []


def put_folder(staged: Path, there: Path) -> None:
    """Put a whole folder in place; an older one is afterwards where the new one was."""
    if there.is_dir():
        disk.exchange(staged, there)
    else:
        disk.make_folder(there.parent)
        disk.replace(staged, there)


def _do(stage: Stage, number: int, move: Move) -> bool:
    """Do one move, keeping what it replaces or removes. Returns whether there was such a file or folder."""
    there, kept = stage.output / move.path, stage.folder / KEPT / str(number)
    if move.aside:
        disk.replace(stage.output / move.aside, there)
        return True
    if move.number:
        before = there.is_dir()
        put_folder(stage.folder / move.staged, there)
        return before
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
    back = [_backwards(move, n, before) for n, (move, before) in enumerate(done)][::-1]
    # A build killed in here must go on backwards: part of what was to be moved in is gone already.
    with contextlib.suppress(OSError):
        _write_list(stage, BACK, back)
    (stage.folder / JOURNAL).unlink(missing_ok=True)
    go_back(stage, back)
    finish(stage, (move for move, _ in done))


def _backwards(move: Move, number: int, before: bool) -> Move:
    if move.aside or move.number:
        return move
    return Move(move.path, f"{KEPT}/{number}" if before else "")


def go_back(stage: Stage, back: Iterable[Move]) -> None:
    """Do moves backwards; those that were done backwards before are left."""
    for move in back:
        there, staged = stage.output / move.path, stage.folder / move.staged
        if move.aside:
            if os.path.lexists(there):
                (stage.output / move.aside).parent.mkdir(parents=True, exist_ok=True)
                there.replace(stage.output / move.aside)
        elif move.number:
            if number_of(there) == move.number:
                if staged.is_dir():
                    disk.exchange_back(staged, there)
                else:
                    there.replace(staged)
        elif not move.staged:
            there.unlink(missing_ok=True)
            disk.remove_empty_folders(there.parent, stage.output)
        elif staged.exists():
            there.parent.mkdir(parents=True, exist_ok=True)
            staged.replace(there)
