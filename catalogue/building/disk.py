"""The few things a build does to the disk, in one place, so that tests can let each of them fail."""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import sys
import time
from collections.abc import Collection, Iterator
from functools import cache
from pathlib import Path
from typing import Any

TRIES = 6 if sys.platform == "win32" else 1
"""Windows refuses to replace a file that a virus scanner or an indexer has open for a moment: try again."""

SYNCS = True
"""Whether `sync` waits for the disk; the tests leave it out where a loss of power is not what they try."""

FEW = 24
"""Up to so many files are written out one by one; for more, the whole disk is at once (Linux)."""

_HERE = -100  # AT_FDCWD: paths are taken from the current folder
_EXCHANGE = 2  # RENAME_EXCHANGE of Linux, and RENAME_SWAP of macOS


class CannotWrite(OSError):
    """The disk or the folder does not take what a build wants to write; the text is a sentence for the
    reader.
    """


def read(path: Path) -> bytes:
    """What a plain file holds. Raises OSError; of a pipe too, whose end one would wait for without end."""
    if not path.is_file():
        raise FileNotFoundError(errno.ENOENT, "there is no plain file", str(path))
    return path.read_bytes()


def make_folder(path: Path) -> None:
    path.mkdir(parents=True, exist_ok=True)


def write(path: Path, data: bytes) -> None:
    """Write a file that is not there yet; never through a link that someone put in its place."""
    with open(path, "xb") as file:  # noqa: PTH123 - so that tests can stand in for it
        file.write(data)


def replace(source: Path, target: Path) -> None:
    """Move a file or folder onto another place of the same disk, in one step that no reader can see the middle of."""
    for attempt in range(TRIES):
        try:
            source.replace(target)
            return
        except PermissionError:
            if attempt == TRIES - 1:
                raise
            time.sleep(0.05 * (attempt + 1))


def exchange(one: Path, other: Path) -> None:
    """Exchange two folders in one step. Raises OSError where the system or the disk can't."""
    _exchange(one, other)


def _exchange(one: Path, other: Path) -> None:
    import ctypes

    call = _exchanging()
    if call is None:
        raise OSError("two folders can't be exchanged here")
    if call(os.fsencode(one), os.fsencode(other)):
        number = ctypes.get_errno()
        raise OSError(number, os.strerror(number), str(other))


def exchange_back(one: Path, other: Path) -> None:
    """The same, while what was done is undone: tests let everything else fail meanwhile."""
    _exchange(one, other)


@cache
def _exchanging() -> Any:
    """The system's call that exchanges two paths; None where it has none."""
    import ctypes

    with contextlib.suppress(OSError, AttributeError):
        if sys.platform == "linux":
            system = ctypes.CDLL(None, use_errno=True)
            rename = system.renameat2
            return lambda one, other: rename(_HERE, one, _HERE, other, _EXCHANGE)
        if sys.platform == "darwin":
            system = ctypes.CDLL(None, use_errno=True)
            swap = system.renamex_np
            return lambda one, other: swap(one, other, _EXCHANGE)
    return None


@cache
def can_exchange(folder: Path) -> bool:
    """Whether folders below `folder` can be exchanged in one step; tried with two empty ones."""
    if _exchanging() is None:
        return False
    one, other = folder / "a", folder / "b"
    try:
        make_folder(one)
        make_folder(other)
        exchange(one, other)
    except OSError:
        return False
    finally:
        for each in (one, other):
            with contextlib.suppress(OSError):
                each.rmdir()
    return True


def keep(source: Path, target: Path) -> None:
    """Keep what `source` holds under a second name: a hard link, or a copy where there are none."""
    try:
        os.link(source, target, follow_symlinks=False)
    except (OSError, NotImplementedError):
        shutil.copy2(source, target, follow_symlinks=False)


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


def sync(paths: Collection[Path]) -> None:
    """Wait until files and folders are on the disk itself, so that a loss of power can't undo them.

    A folder's turn matters as much as a file's: until it is written, the file may be there under no name.
    """
    if not SYNCS or not paths:
        return
    if len(paths) > FEW and sys.platform == "linux":
        import ctypes

        with contextlib.suppress(OSError, AttributeError), _opened(next(iter(paths))) as handle:
            if ctypes.CDLL(None).syncfs(handle) == 0:
                return
    for path in paths:
        # Not every system lets a folder be opened, and a file may have been moved on.
        with contextlib.suppress(PermissionError, FileNotFoundError), _opened(path) as handle:
            os.fsync(handle)


@contextlib.contextmanager
def _opened(path: Path) -> Iterator[int]:
    # Windows writes out only what is open for writing.
    flags = os.O_RDWR if sys.platform == "win32" else os.O_RDONLY
    handle = os.open(path, flags | getattr(os, "O_NOFOLLOW", 0))
    try:
        yield handle
    finally:
        os.close(handle)
