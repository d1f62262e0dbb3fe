"""The few things a build does to the disk, in one place, so that tests can let each of them fail."""

from __future__ import annotations

import os
import shutil
import sys
import time
from pathlib import Path

TRIES = 6 if sys.platform == "win32" else 1
"""Windows refuses to replace a file that a virus scanner or an indexer has open for a moment: try again."""


class CannotWrite(OSError):
    """The disk or the folder does not take what a build wants to write; the text is a sentence for the
    reader.
    """


def make_folder(path: Path) -> None:
    path.mkdir(parents=True, exist_ok=True)


def write(path: Path, data: bytes) -> None:
    """Write a new file."""
    with path.open("wb") as file:
        file.write(data)


def replace(source: Path, target: Path) -> None:
    """Move a file onto another place of the same disk, in one step that no reader can see the middle of."""
    for attempt in range(TRIES):
        try:
            source.replace(target)
            return
        except PermissionError:
            if attempt == TRIES - 1:
                raise
            time.sleep(0.05 * (attempt + 1))


def keep(source: Path, target: Path) -> None:
    """Keep what `source` holds under a second name: a hard link, or a copy where there are none."""
    try:
        os.link(source, target)
    except (OSError, NotImplementedError):
        shutil.copyfile(source, target)


def remove(path: Path) -> None:
    path.unlink(missing_ok=True)


def remove_empty_folders(path: Path, root: Path) -> None:
    """Remove `path` and the folders above it, up to but without `root`, as long as nothing is in them."""
    while path != root and root in path.parents:
        try:
            path.rmdir()
        except OSError:
            return
        path = path.parent


def remove_tree(path: Path) -> None:
    """Remove a folder of the build's own with all that is in it; what can't be removed is left."""
    shutil.rmtree(path, ignore_errors=True)
