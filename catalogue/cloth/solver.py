"""A good lay of a single layer, searched for in a process of its own by the library spyrrow.

The library repeats itself exactly only when its work is counted, not timed: so its reports of progress are counted, and
the best lay among the first so many is taken. It runs in a process of its own, since a fault of it can't be caught
otherwise, and since it must not have run in a process that is forked later.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path

from catalogue.cloth.filling import fill
from catalogue.cloth.strip import FilledStrip, Stone, StonePlace
from catalogue.geometry import Point

REPORTS = 450
"""Reports of progress that are waited for: a few seconds on garments of 10 to 30 pieces."""
FAILURES = 2
"""Times that the search may give up on a shorter lay before it is over."""
MOST_WORK = 10.0
"""Seconds of work, not of waiting, after which the best so far is taken; only then does it depend on the machine."""
LONGEST_WAIT = 600.0
"""Seconds after which the search is given up, so that nobody waits for ever."""
MOST_CORNERS = 200
_PROCESS = Path(__file__).with_name("search_process.py")
SLIGHT = 0.01
"""mm that the strip is made wider than it is, since a piece as wide as the strip itself is refused."""


def fill_well(stones: Sequence[Stone], width: float, repeats: tuple[float, float]) -> FilledStrip | None:
    """The shorter of the quick lay and the good one; for patterns, folds, or without the library, the quick one."""
    quick = fill(stones, width, repeats=repeats, tries=60)
    plain = repeats == (0.0, 0.0) and not any(stone.first_column for stone in stones)
    if quick is None or not plain or None in quick.spots or len(stones) < 2:
        return quick
    if quick.length <= max(max(p.y for p in s.points) - min(p.y for p in s.points) for s in stones) + 1.0:
        return quick  # As short as its longest piece.
    good = search(stones, width)
    return good if good is not None and good.length < quick.length else quick


def is_there() -> bool:
    """Whether the library is installed."""
    return find_spec("spyrrow") is not None


def search(stones: Sequence[Stone], width: float, reports: int = REPORTS) -> FilledStrip | None:
    """What the library finds; None where it is missing or finds nothing."""
    if not is_there():
        return None
    kinds = list(dict.fromkeys(stones))
    items = [
        {
            "points": [[p.y, p.x] for p in simplified(stone.points)],  # Its strip runs along x.
            "demand": sum(1 for other in stones if other == stone),
            "turns": bool(stone.turned),
        }
        for stone in kinds
    ]
    told = {
        "width": width + SLIGHT,
        "items": items,
        "reports": reports,
        "failures": FAILURES,
        "seconds": MOST_WORK,
    }
    asked = json.dumps(told)
    command = [sys.executable, str(_PROCESS)]
    try:
        done = subprocess.run(
            command, input=asked, capture_output=True, text=True, timeout=LONGEST_WAIT, check=True
        )
        answer = json.loads(done.stdout)
    except (OSError, subprocess.SubprocessError, ValueError):
        return None
    left: dict[int, list[StonePlace]] = {}
    for number, turned, along, across in answer["placed"]:
        left.setdefault(number, []).append(StonePlace(bool(turned), Point(across, along)))
    spots = [left[kinds.index(stone)].pop() for stone in stones]
    # Where the first piece begins is not always the beginning of the strip.
    start = min(
        min(p.y for p in (stone.turned if spot.turned else stone.points)) + spot.by.y
        for stone, spot in zip(stones, spots, strict=True)
    )
    moved = [StonePlace(spot.turned, spot.by - Point(0.0, start)) for spot in spots]
    length = max(
        max(p.y for p in (stone.turned if spot.turned else stone.points)) + spot.by.y
        for stone, spot in zip(stones, moved, strict=True)
    )
    return FilledStrip(length, tuple(moved))


def simplified(points: Sequence[Point]) -> list[Point]:
    """An outline of at most `MOST_CORNERS` corners with the whole of `points` inside it."""
    import shapely
    from shapely.geometry import Polygon

    shape = Polygon(points).buffer(0)
    allowed = 0.05
    while True:
        outside = shape.buffer(allowed, join_style="mitre").simplify(allowed)
        corners = [Point(x, y) for x, y in shapely.get_coordinates(outside)[:-1].tolist()]
        if outside.covers(shape) and len(corners) <= MOST_CORNERS:
            return corners
        if allowed > 5.0:
            return [Point(x, y) for x, y in shapely.get_coordinates(shape.convex_hull)[:-1].tolist()]
        allowed *= 1.6
