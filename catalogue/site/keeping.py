"""What a draft's page shows of the draft, as bytes to keep: JSON without names, pressed together.

Read again, it is exactly what was written, or nothing at all: every value is held against the type that `Drafted`
states for it. It is plain data; nothing in it is ever run.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache
from types import NoneType, UnionType
from typing import Any, get_args, get_origin, get_type_hints, is_typeddict

from markupsafe import Markup

from catalogue.site.drafted import Drafted

LARGEST = 4_000_000
"""Bytes before pressing: more than this is not kept, and its page is made from a new draft instead."""

_Reader = Callable[[Any], Any]


def as_bytes(told: Drafted) -> bytes:
    """What to keep, some 10 to 30 KB; b"" for what can't be kept."""
    try:
        text = json.dumps(told, default=_plain, ensure_ascii=False, separators=(",", ":"))
    except (TypeError, ValueError):
        return b""
    data = text.encode("utf-8", "surrogatepass")
    return zlib.compress(data) if len(data) <= LARGEST else b""


def from_bytes(data: bytes) -> Drafted | None:
    """What was kept; None when it can't be trusted to be that."""
    press = zlib.decompressobj()
    try:
        text = press.decompress(data, LARGEST)
        if not press.eof or press.unused_data:
            return None
        told: Drafted = _reader(Drafted)(json.loads(text.decode("utf-8", "surrogatepass")))
    except (zlib.error, ValueError, TypeError, KeyError, RecursionError):
        return None
    return told


def _plain(value: Any) -> Any:
    if isinstance(value, Enum):
        return value.value
    kind: Any = type(value)
    return [getattr(value, name) for name in _names(kind)]


@cache
def _names(kind: Any) -> tuple[str, ...]:
    # TypeError for anything but a dataclass: such a value is not kept.
    return tuple(field.name for field in fields(kind))


@cache
def _reader(kind: Any) -> _Reader:
    """Makes a value of the type from what JSON holds of it; raises ValueError or TypeError for anything else."""
    origin, parts = get_origin(kind), get_args(kind)
    if kind is Markup:
        return lambda told: Markup(_exactly(str, told))
    if kind is float:
        # A whole number counts as one, and stays what it is.
        return lambda told: told if type(told) is int else _exactly(float, told)
    if kind in (str, int, bool, NoneType):
        return lambda told: _exactly(kind, told)
    if origin is UnionType and NoneType in parts and len(parts) == 2:
        inner = _reader(parts[0])
        return lambda told: None if told is None else inner(told)
    if origin is list:
        inner = _reader(parts[0])
        return lambda told: [inner(part) for part in _exactly(list, told)]
    if origin is tuple and parts[1:] == (...,):
        inner = _reader(parts[0])
        return lambda told: tuple([inner(part) for part in _exactly(list, told)])
    if origin is tuple:
        readers = [_reader(part) for part in parts]
        return lambda told: tuple(_each(readers, told))
    if origin is dict:
        key, inner = parts[0], _reader(parts[1])
        return lambda told: {key(name): inner(part) for name, part in _exactly(dict, told).items()}
    if is_typeddict(kind):
        named = {name: _reader(hint) for name, hint in get_type_hints(kind).items()}
        return lambda told: dict(zip(named, _each(list(named.values()), _values(named, told)), strict=True))
    if is_dataclass(kind):
        make: Any = kind
        hints = get_type_hints(kind)
        readers = [_reader(hints[name]) for name in _names(make)]
        return lambda told: make(*_each(readers, told))
    if isinstance(kind, type) and issubclass(kind, Enum):
        return kind
    raise TypeError(f"nothing is known of {kind}")


def _exactly(kind: Any, told: Any) -> Any:
    if type(told) is not kind:
        raise ValueError(f"{kind.__name__} was expected")
    return told


def _each(readers: list[_Reader], told: Any) -> list[Any]:
    return [read(part) for read, part in zip(readers, _exactly(list, told), strict=True)]


def _values(named: dict[str, _Reader], told: Any) -> list[Any]:
    if list(_exactly(dict, told)) != list(named):
        raise ValueError("other names were expected")
    return list(told.values())
