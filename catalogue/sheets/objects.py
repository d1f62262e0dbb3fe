"""PDF objects, and the file they make.

Syntax and structure by ISO 32000-1: objects 7.3, object streams 7.5.7, cross-reference streams 7.5.8. A general PDF
library spends most of its time, and half of its bytes, on the hundreds of small dictionaries of a tiled sheet; here
they are written as plain text into a few compressed streams.
"""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Mapping
from datetime import date
from typing import Any, NamedTuple

_PER_STREAM = 400  # objects in one object stream
_EFFORT = 4  # of compression: more takes twice as long and saves a thirtieth


class Name(str):
    """A PDF name, without its slash."""

    __slots__ = ()


class Ref(NamedTuple):
    """A reference to an object by its number."""

    number: int

    def __str__(self) -> str:
        return f"{self.number} 0 R"


class Raw(str):
    """PDF syntax ready to be written."""

    __slots__ = ()


def written(value: Any) -> str:
    """A value as PDF syntax: mappings, sequences, texts, names, numbers, references, None."""
    if isinstance(value, Raw):
        return value
    if isinstance(value, Name):
        return f"/{value}"
    if isinstance(value, str):
        return text_string(value)
    if isinstance(value, Ref):
        return f"{value.number} 0 R"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, float):
        return number(value)
    if value is None:
        return "null"
    if isinstance(value, Mapping):
        return f"<<{' '.join(f'/{k} {written(v)}' for k, v in value.items())}>>"
    return f"[{' '.join(map(written, value))}]"


def number(value: float) -> str:
    """At most four decimals, no exponent."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def text_string(words: str) -> str:
    """A text string: plain where it can be, else UTF-16 (7.9.2.2)."""
    if words.isascii() and words.isprintable():
        escaped = words.replace("\\", "\\\\").replace("(", "\\(").replace(")", "\\)")
        return f"({escaped})"
    return f"<FEFF{words.encode('utf-16-be', 'replace').hex().upper()}>"


def date_string(day: date) -> str:
    """Midnight of a day, in universal time (7.9.4)."""
    return f"D:{day:%Y%m%d}000000Z"


class Document:
    """Objects by number. The same calls in the same order give the same bytes."""

    def __init__(self) -> None:
        self._objects: dict[int, str] = {}
        self._streams: dict[int, bytes] = {}
        self._last = 0

    def reserve(self) -> Ref:
        """A reference to an object that is yet to be `put`."""
        self._last += 1
        return Ref(self._last)

    def put(self, at: Ref, value: Any) -> Ref:
        self._objects[at.number] = written(value)
        return at

    def add(self, value: Any) -> Ref:
        return self.put(self.reserve(), value)

    def stream(self, content: bytes, extra: Mapping[str, Any] | None = None, *, plain: bool = False) -> Ref:
        """A stream, compressed unless `plain`."""
        ref = self.reserve()
        self._streams[ref.number] = _stream(content, extra or {}, plain)
        return ref

    def tobytes(self, root: Ref, info: Ref) -> bytes:
        """The whole file; document properties (`info`) stay readable to the simplest of programs."""
        out = bytearray(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
        entries: dict[
            int, tuple[int, int, int]
        ] = {}  # kind, place in the file or stream, index in the stream

        def put(number: int, body: bytes) -> None:
            entries[number] = (1, len(out), 0)
            out.extend(b"%d 0 obj\n%b\nendobj\n" % (number, body))

        for ref, body in self._streams.items():
            put(ref, body)
        put(info.number, self._objects[info.number].encode("latin-1"))
        small = [(n, text) for n, text in self._objects.items() if n != info.number]
        last = self._last
        for start in range(0, len(small), _PER_STREAM):
            last += 1
            part = small[start : start + _PER_STREAM]
            places: list[str] = []
            length = 0
            for index, (n, text) in enumerate(part):
                places.append(f"{n} {length}")
                length += len(text) + 1
                entries[n] = (2, last, index)
            head = " ".join(places) + "\n"
            content = (head + "\n".join(text for _, text in part)).encode("latin-1")
            put(last, _stream(content, {"Type": Name("ObjStm"), "N": len(part), "First": len(head)}, False))
        last += 1
        entries[last] = (1, len(out), 0)
        table = bytearray(b"\0" * 8)
        for n in range(1, last + 1):
            kind, place, index = entries[n]
            table += kind.to_bytes(1, "big") + place.to_bytes(4, "big") + index.to_bytes(3, "big")
        table[5:8] = b"\xff\xff\xff"
        mark = Raw(f"<{hashlib.md5(out, usedforsecurity=False).hexdigest()}>")
        trailer = {
            "Type": Name("XRef"),
            "Size": last + 1,
            "W": [1, 4, 3],
            "Root": root,
            "Info": info,
            "ID": [mark, mark],
        }
        where = len(out)
        out.extend(b"%d 0 obj\n%b\nendobj\n" % (last, _stream(bytes(table), trailer, False)))
        out.extend(b"startxref\n%d\n%%%%EOF\n" % where)
        return bytes(out)


def _stream(content: bytes, extra: Mapping[str, Any], plain: bool) -> bytes:
    data = content if plain else zlib.compress(content, _EFFORT)
    about = (
        {**extra, "Length": len(data)}
        if plain
        else {**extra, "Filter": Name("FlateDecode"), "Length": len(data)}
    )
    return written(about).encode("latin-1") + b"\nstream\n" + data + b"\nendstream"
