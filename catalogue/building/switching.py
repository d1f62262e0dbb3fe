"""A draft's folder put in place in one step, so that its page, drawings and prints are never of two builds.

Where the system exchanges two folders in one step (Linux, macOS), what changes in such a folder is put together, with
links to what does not change in it, as a second folder beside the rest of what was made; the two are then exchanged.
A folder that is not there yet is moved in whole everywhere. Files that a folder no longer needs stay in it until the
end, since pages elsewhere may still lead to them. Elsewhere the files are moved one by one, pages last.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path, PurePosixPath

from catalogue.building import disk
from catalogue.building.stage import Move, Stage, above, number_of

PAGE = "index.html"
MOST = 300
"""Files of a folder that is exchanged; one with more of them is not a draft's."""


def whole_folders(stage: Stage, moves: list[Move]) -> list[Move]:
    """The moves, with those into one draft's folder taken together as a move of the whole folder."""
    groups = _groups(stage.output, moves)
    if not groups:
        return moves
    swaps = disk.can_exchange(stage.folder)
    placed: dict[Move, Move | None] = {}
    set_aside = [move for move in moves if move.aside]  # few: in a large catalogue there are 100,000 moves
    for folder, inside in groups.items():
        there = stage.output / folder
        if there.exists() and not swaps:
            continue
        asides = {m.aside: m.path for m in set_aside if m.aside.startswith(f"{folder}/")}
        name = f"whole-{len(placed)}"
        if not _put_together(stage, stage.folder / name, folder, inside, asides):
            continue
        placed.update((m, None) for m in (*inside, *(m for m in set_aside if m.aside in asides)))
        placed[inside[0]] = Move(folder, name, number_of(stage.folder / name))
    return [each for move in moves if (each := placed.get(move, move)) is not None]


def _groups(output: Path, moves: list[Move]) -> dict[str, list[Move]]:
    """Folders that hold a page and none deeper down, with what is to be moved into each, where that is not one file."""
    staged = [move for move in moves if move.staged]
    pages = {move.path.rpartition("/")[0] for move in staged if move.path.rpartition("/")[2] == PAGE}
    pages.discard("")
    deeper = {upper for folder in pages for upper in above(folder)}
    # Where a file gives way to a folder, or a folder to a file, each is moved by itself.
    gone = {move.path for move in moves if not move.staged and not move.aside}
    groups: dict[str, list[Move]] = {folder: [] for folder in pages - deeper - gone}
    for move in staged:
        for parent in above(move.path):
            if parent in groups:
                groups[parent].append(move)
                break
    return {
        folder: inside for folder, inside in groups.items() if len(inside) > 1 and _is_plain(output, folder)
    }


def _is_plain(output: Path, folder: str) -> bool:
    """Whether a folder, if it is there, is one whose contents can be linked to: small, and with no page deeper down."""
    there = output / folder
    if not os.path.lexists(there):
        return True
    if there.is_symlink() or not there.is_dir():
        return False
    count = 0
    for base, below, files in os.walk(there):
        count += len(files) + len(below)
        if count > MOST or (Path(base) != there and PAGE in files):
            return False
    return True


def _put_together(stage: Stage, whole: Path, folder: str, inside: list[Move], asides: dict[str, str]) -> bool:
    """Make the new folder. Returns False, with nothing moved, where one of the old files stands in the way."""
    there = stage.output / folder
    new = {move.path for move in inside}
    old = [p for p in sorted(there.rglob("*")) if p.relative_to(stage.output).as_posix() not in new]
    taken = {p.relative_to(stage.output).as_posix() for p in old if not p.is_dir() or p.is_symlink()} - {
        *asides
    }
    if taken and any(upper in taken for path in new for upper in above(path)):
        return False
    if any((stage.output / path).is_dir() for path in (*new, *asides)):
        return False
    disk.make_folder(whole)
    if there.is_dir():
        shutil.copystat(there, whole)
    for path in old:
        name = path.relative_to(stage.output).as_posix()
        target = whole / PurePosixPath(asides.get(name, name)).relative_to(folder)
        if path.is_dir() and not path.is_symlink():
            disk.make_folder(target)
        else:
            disk.make_folder(target.parent)
            disk.keep(path, target)
    for name, other in asides.items():
        if name in new:  # it makes room for a new file of its name
            disk.keep(stage.output / name, whole / PurePosixPath(other).relative_to(folder))
    made = {whole}
    for move in inside:
        target = whole / move.path.removeprefix(f"{folder}/")
        if target.parent not in made:
            disk.make_folder(target.parent)
            made.add(target.parent)
        disk.replace(stage.folder / move.staged, target)
    return True
