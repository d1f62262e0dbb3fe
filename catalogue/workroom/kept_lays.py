"""Good lays that were searched for once, kept in plain files of the studio until something changes.

A lay is known by what it was searched for: the shapes, the width of the cloth and its repeats. So one that no longer
fits is simply not found, and the quick lay takes its place.
"""

from __future__ import annotations

import hashlib
import json
import stat
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from catalogue.cloth.strip import FilledStrip, Stone, StonePlace
from catalogue.geometry import Point

if TYPE_CHECKING:
    from catalogue.cloth.laying import Filler

FOLDER = "clients/lays"
_TURN = 0.01
"""mm to which shapes are told apart."""


def key_of(stones: Sequence[Stone], width: float, repeats: tuple[float, float]) -> str:
    """What a lay is known by."""
    shapes = [
        (
            [(round(x / _TURN), round(y / _TURN)) for x, y in stone.points],
            bool(stone.turned),
            stone.first_column,
            stone.anchor and [round(v / _TURN) for v in stone.anchor],
            stone.anchored_along,
        )
        for stone in stones
    ]
    told = json.dumps([shapes, round(width / _TURN), [round(r / _TURN) for r in repeats]])
    return hashlib.sha256(told.encode()).hexdigest()[:24]


def read_kept(path: Path) -> dict[str, FilledStrip]:
    """The lays in a file; none where it is missing or spoilt."""
    try:
        if not stat.S_ISREG(path.lstat().st_mode):
            return {}  # A pipe is waited for, and a link may lead to what never ends.
        told = json.loads(path.read_text(encoding="utf-8"))
        return {key: _strip(one) for key, one in told["lays"].items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return {}


def _strip(told: Mapping[str, Any]) -> FilledStrip:
    places = tuple(StonePlace(bool(t), Point(float(x), float(y))) for t, x, y in told["places"])
    return FilledStrip(float(told["length"]), places)


def as_text(lays: Mapping[str, FilledStrip]) -> str:
    """The file of these lays; those with a shape left out are not kept."""
    whole = {key: strip for key, strip in sorted(lays.items()) if None not in strip.spots}
    told = {
        key: {
            "length": round(strip.length, 4),
            "places": [[int(s.turned), round(s.by.x, 4), round(s.by.y, 4)] for s in strip.spots if s],
        }
        for key, strip in whole.items()
    }
    rows = ",\n".join(f"  {json.dumps(key)}: {json.dumps(one)}" for key, one in told.items())
    about = "good lays of this client's orders, made by `catalogue lay`; safe to delete"
    return f'{{\n "about": {json.dumps(about)},\n "lays": {{\n{rows}\n }}\n}}\n'


def kept_or_quick(kept: Mapping[str, FilledStrip]) -> Filler:
    """A filler that takes a kept lay where there is one."""
    from catalogue.cloth.laying import fill_quickly  # slow to import

    def fill(stones: Sequence[Stone], width: float, repeats: tuple[float, float]) -> FilledStrip | None:
        found = kept.get(key_of(stones, width, repeats)) if kept else None
        if found is not None and len(found.spots) == len(stones):
            return found
        return fill_quickly(stones, width, repeats)

    return fill


def keeping(well: Filler, into: dict[str, FilledStrip]) -> Filler:
    """A filler that keeps what `well` finds."""

    def fill(stones: Sequence[Stone], width: float, repeats: tuple[float, float]) -> FilledStrip | None:
        key = key_of(stones, width, repeats)
        if key not in into:
            found = well(stones, width, repeats)
            if found is None:
                return None
            into[key] = found
        return into[key]

    return fill
