"""Fingerprints: a short text that changes whenever what it was taken of changes.

Times of files and the order of dictionaries in memory never enter: a fingerprint is taken of contents alone,
so that a copied, checked-out or restored studio has the fingerprints it had.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from functools import cache
from pathlib import Path, PurePath
from typing import Protocol

from catalogue.between_runs import of_the_program

_PLAIN = frozenset({int, float, bool, type(None)})


class _Hash(Protocol):
    def update(self, data: bytes, /) -> None: ...


def of_bytes(data: bytes) -> str:
    """Fingerprint of a file's contents: 32 hexadecimal digits."""
    return hashlib.blake2b(data, digest_size=16).hexdigest()


def of_file(path: Path) -> str:
    """As `of_bytes`, of a file of any size."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, lambda: hashlib.blake2b(digest_size=16)).hexdigest()


def of(*values: object) -> str:
    """Fingerprint of plain values: text, numbers, dates, dataclasses, sequences, mappings (in their order).

    Raises TypeError for anything whose contents can't be told apart by looking at them.
    """
    taken = hashlib.blake2b(digest_size=16)
    for value in values:
        _feed(taken, value)
    return taken.hexdigest()


def of_plain(value: object) -> str:
    """Fingerprint of texts, numbers, lists and mappings as they stand in the manifest; quicker than `of`."""
    return of_bytes(json.dumps(value, ensure_ascii=False).encode("utf-8", "surrogatepass"))


def _feed(taken: _Hash, value: object) -> None:
    # Every value is preceded by its kind and, where it has parts, their number: ("ab", "c") is not ("a", "bc").
    # Texts and plain numbers come first: in a large studio there are hundreds of thousands of them.
    kind = type(value)
    if type(value) is str:
        data = value.encode("utf-8", "surrogatepass")
        taken.update(b"text:%d:%s" % (len(data), data))
    elif type(value) is tuple or type(value) is list:
        taken.update(b"sequence:%d;" % len(value))
        for part in value:
            _feed(taken, part)
    elif kind in _PLAIN or isinstance(value, date):
        _label(taken, kind.__name__, repr(value))
    elif isinstance(value, bytes):
        taken.update(b"bytes:%d:" % len(value))
        taken.update(value)
    elif isinstance(value, Enum):
        _label(taken, kind.__name__, value.name)
    elif isinstance(value, str | int | float | Decimal):
        _label(taken, kind.__name__, repr(value))
    elif isinstance(value, PurePath):
        _label(taken, "path", value.as_posix())
    elif is_dataclass(value) and not isinstance(value, type):
        shown = _compared(type(value))
        _label(taken, "fields", f"{kind.__name__}:{len(shown)}")
        for name in shown:
            _feed(taken, name)
            _feed(taken, getattr(value, name))
    elif isinstance(value, Mapping):
        _label(taken, "mapping", str(len(value)))
        for key, part in value.items():
            _feed(taken, key)
            _feed(taken, part)
    elif isinstance(value, Set):
        _label(taken, "set", str(len(value)))
        for digest in sorted(of(part) for part in value):
            _feed(taken, digest)
    elif isinstance(value, Sequence):
        taken.update(b"sequence:%d;" % len(value))
        for part in value:
            _feed(taken, part)
    else:
        raise TypeError(f"no fingerprint can be taken of a {kind.__name__}")


@cache
def _compared(kind: type) -> tuple[str, ...]:
    """Names of a dataclass's fields that tell its values apart."""
    return tuple(f.name for f in fields(kind) if f.compare)


def _label(taken: _Hash, kind: str, text: str) -> None:
    data = text.encode("utf-8", "surrogatepass")
    taken.update(b"%s:%d:%s" % (kind.encode(), len(data), data))


def of_folders(folders: Iterable[Path]) -> str:
    """Fingerprint of all files under the folders: their names below the folder and their contents, in name
    order.
    """
    parts: list[tuple[str, str]] = []
    for number, folder in enumerate(folders):
        if not folder.is_dir():
            continue
        for path in sorted(folder.rglob("*")):
            if path.is_file() and "__pycache__" not in path.parts and path.suffix != ".pyc":
                parts.append((f"{number}/{path.relative_to(folder).as_posix()}", of_file(path)))
    return of(parts)


def of_the_tool() -> str:
    """Fingerprint of this program: its own files and the versions of the libraries that draw and write for
    it.
    """
    return of_the_program()
