"""What a build does first: finish what an earlier one, killed or cut off, had begun to move into place."""

from __future__ import annotations

import os
from pathlib import Path
from typing import NamedTuple

from catalogue.building import disk
from catalogue.building.folder import BACK, JOURNAL, STAGING, OutputFolder
from catalogue.building.publish import KEPT, finish, go_back, put_folder, read_list, refuse_links
from catalogue.building.stage import Move, Stage, cannot, number_of


class Recovered(NamedTuple):
    """Whether moves were `finished`, and whether some may have been done of which no list tells (`doubtful`)."""

    finished: bool = False
    doubtful: bool = False


def recover(folder: OutputFolder) -> Recovered:
    """Finish what a killed build had begun to move, and throw away what it had not. Needs the folder's claim.

    Raises CannotWrite, and Refused where a link leads out of the folder.
    """
    finished = doubtful = False
    for left in sorted(folder.path.glob(f"{STAGING}*")):
        if left.is_symlink() or not left.is_dir():
            left.unlink(missing_ok=True)
            continue
        stage = Stage(folder.path, left.name)
        back, moves = read_list(left / BACK), read_list(left / JOURNAL)
        refuse_links(folder.path, (move.path for move in (*back, *moves)))
        try:
            if back:
                go_back(stage, back)
            else:
                for move in moves:
                    _go_on(stage, move)
            # A loss of power can take a list away again, though not all of what was done by it.
            doubtful = doubtful or not (back or moves or not (left / KEPT).exists())
            finished = finished or bool(moves or back)
            finish(stage, back or moves)
        except OSError as error:
            raise cannot(folder.path, error) from error
    return Recovered(finished, doubtful)


def _go_on(stage: Stage, move: Move) -> None:
    """Do a move that may have been done before."""
    there, staged = stage.output / move.path, stage.folder / move.staged
    if move.aside:
        if os.path.lexists(stage.output / move.aside) and not os.path.lexists(there):
            disk.replace(stage.output / move.aside, there)
    elif move.number:
        if number_of(staged) == move.number:
            put_folder(staged, there)
    elif not move.staged:
        disk.remove(there)
        disk.remove_empty_folders(there.parent, stage.output)
    elif staged.exists():
        _clear(there)
        disk.make_folder(there.parent)
        disk.replace(staged, there)


def _clear(there: Path) -> None:
    """Take away an empty folder where a file is to come."""
    if there.is_dir() and not there.is_symlink():
        there.rmdir()
