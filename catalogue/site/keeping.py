"""What a draft's page shows of the draft, as bytes to keep: JSON pressed together.

Read again, every value is of the type that `DraftView` states for it, or there is nothing at all: what is spoilt or
foreign is not taken in. It is plain data; nothing in it is ever run.
"""

from __future__ import annotations

import zlib
from typing import Any

import msgspec
from markupsafe import Markup

from catalogue.site.records import DraftView

LARGEST = 4_000_000
"""Bytes before pressing: more than this is not kept, and its page is made from a new draft instead."""


def as_bytes(view: DraftView) -> bytes:
    """What to keep, some 10 to 30 KB; b"" for what can't be kept."""
    try:
        data = _ENCODER.encode(view)
    except (TypeError, ValueError, RecursionError):
        return b""
    return zlib.compress(data) if len(data) <= LARGEST else b""


def from_bytes(data: bytes) -> DraftView | None:
    """What was kept; None when it can't be trusted to be that."""
    press = zlib.decompressobj()
    try:
        text = press.decompress(data, LARGEST)
        if not press.eof or press.unused_data:
            return None
        return _DECODER.decode(text)
    except (zlib.error, ValueError, RecursionError):
        return None


def _plain(value: Any) -> str:
    if type(value) is Markup:
        return str(value)
    raise TypeError(f"a {type(value).__name__} is not kept")


def _markup(kind: type, value: Any) -> Any:
    if kind is Markup and type(value) is str:
        return Markup(value)
    raise ValueError(f"{kind.__name__} was expected")


_ENCODER = msgspec.json.Encoder(enc_hook=_plain)
_DECODER = msgspec.json.Decoder(DraftView, dec_hook=_markup)
