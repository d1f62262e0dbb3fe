"""What takes long to work out and is the same at every run, kept in the user's own folder for such things.

It holds styles and alterations as they were read, page templates as they were compiled, and the drawn examples of the
handbook. What is said of a client is sealed, so that only who has the studio's files can read it. Everything lies in a
folder named after a digest of the program's own files and of the libraries it draws with, so that a changed program
takes nothing of what another made. Nobody else may write there, and only values of the program's own kinds are taken.
What is kept may be lost at any time: it is then worked out again.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import os
import pickle
import re
import shutil
import stat
import sys
import tempfile
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import MISSING, fields, is_dataclass
from functools import cache
from pathlib import Path
from typing import Any, TypeVar, overload

T = TypeVar("T")

VARIABLE = "CATALOGUE_CACHE"
"""Name of the environment's variable with another folder to keep things in; “none” for keeping nothing."""
PROGRAMS = 12
"""Folders of other programs (older ones, as a rule) that are left; the rest are removed."""
MOST = 3000
"""Things kept for one program; the older half is removed when there are more."""

_LIBRARIES = (
    "jinja2",
    "lark",
    "markdown-it-py",
    "mdit-py-plugins",
    "pyyaml",
    "shapely",
    "uharfbuzz",
)
_PARTICULARS = (".dist-info", ".egg-info")
_OURS = "catalogue."
_PLAIN = frozenset(
    {
        ("builtins", "frozenset"),
        ("builtins", "set"),
        ("catalogue.language.tree", "phrase"),
        ("datetime", "date"),
        ("markupsafe", "Markup"),
    }
)
"""What is made beside the classes of our modules."""
_DIGEST = 32
_PROGRAM, _THING = re.compile(r"[0-9a-f]{32}"), re.compile(r"[a-z-]+-[0-9a-f]{32}|\.\w{8}")
"""Names of the folders and files that are made here. A folder that a user names may hold anything else."""


def kept(kind: str, key: tuple[str, ...], work_out: Callable[[], T]) -> T:
    """What `work_out` gives (not None), worked out only where it was not kept for this key.

    Args:
        kind: short, for the name of the file; no two places that keep things may have the same.
        key: texts that decide, together with the program, what it gives.
    """
    found: T | None = recalled(kind, key)
    if found is None:
        found = work_out()
        keep(kind, key, found)
    return found


def recalled(kind: str, key: tuple[str, ...], secret: str = "") -> Any:
    """What was kept for this key and sealed with this secret; None where nothing was, or it can't be read."""
    place = _place(kind, key)
    try:
        return None if place is None else _unpacked(place.name, _read(place), secret)
    except Exception:  # Not there, cut off, or not ours: it is worked out as if there were nothing.
        return None


def keep(kind: str, key: tuple[str, ...], value: object, secret: str = "") -> None:
    """Keep a value for later runs, where there is a place for it.

    Args:
        secret: a text without which it can't be read, and which is kept nowhere here; "" for what anyone may read.
            One secret must seal one value alone.
    """
    place = _place(kind, key)
    if place is not None:
        with contextlib.suppress(OSError):
            _put(place, packed(value), secret)


@cache
def of_the_program() -> str:
    """Digest of this program: its own files, the built-in templates, and versions of Python and of libraries."""
    package = Path(__file__).resolve().parent
    # In a checkout the built-in templates lie beside the package, once installed in it.
    versions = [repr(sys.version_info), *_versions(sys.path)]
    return _digest((package, package.parent / "site_template"), versions)


def _versions(folders: Iterable[str]) -> Iterator[str]:
    """The libraries with their versions: the names of what installing them put beside them.

    To import what reads their particulars takes longer than all else here.
    """
    there: list[str] = []
    for folder in folders:
        with contextlib.suppress(OSError):
            there += sorted(
                each.name for each in os.scandir(folder or ".") if each.name.endswith(_PARTICULARS)
            )
    for library in _LIBRARIES:
        beginning = f"{library.replace('-', '_')}-"
        found = [name for name in there if name.lower().startswith(beginning)]
        if not found:
            from importlib import metadata

            with contextlib.suppress(metadata.PackageNotFoundError):
                found = [metadata.version(library)]
        yield " ".join((library, *found))


def _digest(folders: Iterable[Path], besides: Iterable[str]) -> str:
    taken = hashlib.blake2b("\n".join(besides).encode(), digest_size=16)
    for folder in folders:
        for name in sorted(_below(str(folder))):
            data = Path(folder, name).read_bytes()
            taken.update(f"\n{name}:{len(data)}:".encode())
            taken.update(data)
    return taken.hexdigest()


def _below(folder: str, before: str = "") -> Iterator[str]:
    """The paths of all files below a folder that are no compiled ones."""
    with contextlib.suppress(FileNotFoundError), os.scandir(folder) as there:
        for each in there:
            if each.is_dir():
                yield from _below(each.path, f"{before}{each.name}/")
            elif not each.name.endswith(".pyc") and each.is_file():
                yield before + each.name


def _place(kind: str, key: tuple[str, ...]) -> Path | None:
    folder = _folder()
    if folder is None:
        return None
    taken = hashlib.blake2b(digest_size=16)
    for text in key:
        data = text.encode("utf-8", "surrogatepass")
        taken.update(b"%d:" % len(data) + data)
    return folder / f"{kind}-{taken.hexdigest()}"


def _folder() -> Path | None:
    """The folder of this program; None where nothing can be kept safely."""
    asked = os.environ.get(VARIABLE, "")
    return None if asked == "none" else _folder_in(asked)


@cache
def _folder_in(asked: str) -> Path | None:
    try:
        above = Path(asked) if asked else _usual() / "pattern-catalogue"
        if not above.is_absolute():
            return None
        above.mkdir(mode=0o700, parents=True, exist_ok=True)
        folder = above / of_the_program()
        if not _is_ours_alone(above):
            return None
        if not folder.is_dir():
            folder.mkdir(mode=0o700, exist_ok=True)
            _remove_older(above, PROGRAMS, _PROGRAM)
        return folder if _is_ours_alone(folder) else None
    except (OSError, RuntimeError):  # RuntimeError: this user has no home
        return None


def _usual() -> Path:
    """Where the system has users' programs keep what can be made again."""
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches"
    # Source: XDG Base Directory Specification 0.8; a relative path is to be passed over.
    told = Path(os.environ.get("XDG_CACHE_HOME", ""))
    return told if told.is_absolute() else Path.home() / ".cache"


def _is_ours_alone(folder: Path) -> bool:
    """Whether nobody but this user can put anything there: what is kept is believed."""
    status = os.lstat(folder)
    if not stat.S_ISDIR(status.st_mode):
        return False
    return sys.platform == "win32" or (status.st_uid == os.getuid() and not status.st_mode & 0o022)


def _put(place: Path, body: bytes, secret: str = "") -> None:
    _make_room(place.parent)
    handle, name = tempfile.mkstemp(dir=place.parent, prefix=".")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(_sealed(_signed(place.name, body) + body, secret))
        Path(name).replace(place)
    except OSError:
        Path(name).unlink(missing_ok=True)
        raise


@cache
def _make_room(folder: Path) -> None:
    """Remove the older half where much is kept; looked at once in a run."""
    if sum(1 for _ in os.scandir(folder)) > MOST:
        _remove_older(folder, MOST // 2, _THING)


def _remove_older(folder: Path, left: int, ours: re.Pattern[str]) -> None:
    """Remove all but the newest of what has a name of ours; whatever else lies there stays."""
    there = [each for each in os.scandir(folder) if ours.fullmatch(each.name)]
    there.sort(key=lambda each: each.stat(follow_symlinks=False).st_mtime, reverse=True)
    for each in there[left:]:
        if each.is_dir(follow_symlinks=False):
            shutil.rmtree(each.path, ignore_errors=True)
        else:
            Path(each.path).unlink(missing_ok=True)


class _Unpacker(pickle.Unpickler):
    """Makes nothing but values of the program's own kinds and plain ones."""

    def find_class(self, module: str, name: str) -> object:
        if (module, name) in _PLAIN:
            return super().find_class(module, name)
        if module.startswith(_OURS):
            found = super().find_class(module, name)
            # A name with dots leads through our modules to what they import: only classes made there are taken.
            if isinstance(found, type) and found.__module__ == module:
                return found
        raise pickle.UnpicklingError(f"{module}.{name} is not kept")


def _read(place: Path) -> bytes:
    """A plain file's contents; a pipe would be waited for, and a link may lead to one."""
    handle = os.open(
        place, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | _BINARY
    )
    with os.fdopen(handle, "rb") as file:
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise OSError(f"{place} is no plain file")
        return file.read()


_BINARY = getattr(os, "O_BINARY", 0)


def _signed(name: str, body: bytes) -> bytes:
    """What tells that a file is whole and the one of this name: with another's contents cloth would be cut wrong."""
    return hashlib.blake2b(name.encode() + b"\0" + body, digest_size=_DIGEST).digest()


def _sealed(data: bytes, secret: str) -> bytes:
    """The data sealed, or the seal taken off again; the same data without a secret."""
    if not secret:
        return data
    stream = hashlib.shake_256(secret.encode()).digest(len(data))
    return (int.from_bytes(data) ^ int.from_bytes(stream)).to_bytes(len(data))


def _unpacked(name: str, data: bytes, secret: str = "") -> Any:
    data = _sealed(data, secret)
    body = data[_DIGEST:]
    if _signed(name, body) != data[:_DIGEST]:
        raise ValueError("cut off, or another's")
    return _Unpacker(io.BytesIO(body)).load()


class Later(Sequence[T]):
    """Values that stay packed until they are looked at."""

    __slots__ = ("_packed", "_values")

    def __init__(self, packed: bytes, values: tuple[T, ...] | None = None) -> None:
        self._packed = packed
        self._values = values

    @classmethod
    def of(cls, values: Iterable[T]) -> Later[T]:
        """These values; they are packed now, so that keeping them later costs nothing."""
        values = tuple(values)
        return cls(packed(values), values)

    def _all(self) -> tuple[T, ...]:
        if self._values is None:
            self._values = tuple(_Unpacker(io.BytesIO(self._packed)).load())
        return self._values

    @overload
    def __getitem__(self, at: int) -> T: ...
    @overload
    def __getitem__(self, at: slice) -> Sequence[T]: ...
    def __getitem__(self, at: int | slice) -> T | Sequence[T]:
        return self._all()[at]

    def __len__(self) -> int:
        return len(self._all())

    def __iter__(self) -> Iterator[T]:
        return iter(self._all())

    def __eq__(self, other: object) -> bool:
        return self._all() == tuple(other) if isinstance(other, Later | tuple) else NotImplemented

    __hash__ = None  # type: ignore[assignment]

    def __repr__(self) -> str:
        return repr(self._all())

    def __reduce__(self) -> tuple[type[Later[T]], tuple[bytes]]:
        return Later, (self._packed,)


class _Packer(pickle.Pickler):
    """Packs dataclasses as the call that makes them again: their own way looks up its fields for every value, and
    thousands of values make up a style that was read.
    """

    def reducer_override(self, value: object) -> tuple[Callable[..., object], tuple[object, ...]]:
        kind: type = type(value)
        names = _plainly_made(kind)
        return NotImplemented if names is None else (kind, tuple([getattr(value, n) for n in names]))


@cache
def _plainly_made(kind: type) -> tuple[str, ...] | None:
    """Names of the fields of a dataclass that is made of their values in their order, and nothing else.

    A field that is no part of the value (something worked out once, say) begins anew.
    """
    if not is_dataclass(kind) or hasattr(kind, "__post_init__") or kind.__reduce__ is not object.__reduce__:
        return None
    if not kind.__dataclass_params__.init:  # type: ignore[attr-defined]
        return None
    shown = fields(kind)
    plain = all(not f.kw_only if f.init else not f.compare and f.default is not MISSING for f in shown)
    return tuple(f.name for f in shown if f.init) if plain else None


def packed(value: object) -> bytes:
    """The value as `pickle.loads` takes it."""
    out = io.BytesIO()
    _Packer(out, pickle.HIGHEST_PROTOCOL).dump(value)
    return out.getvalue()
