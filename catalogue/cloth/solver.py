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
from concurrent.futures import ThreadPoolExecutor
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from catalogue.cloth.filling import fill
from catalogue.cloth.strip import FilledStrip, Stone, StonePlace
from catalogue.cloth.tightening import tightened
from catalogue.geometry import Point

SEEDS = (1, 2, 3)
"""Beginnings that are searched from side by side, each in a process: which does best can't be told beforehand."""
REPORTS = 400
"""Reports of progress that are waited for: two or three seconds on garments of 10 to 30 pieces."""
TRIES, WALKS = 100, 3
"""Orders that our own filling tries, and how many times, where the library can't be used."""
FAILURES = 2
"""Times that the search may give up on a shorter lay before it is over."""
MOST_WORK = 4.0
"""Seconds of work, not of waiting, after which the best so far is taken; only then does it depend on the machine."""
LONGEST_WAIT = 600.0
"""Seconds after which the search is given up, so that nobody waits for ever."""
MOST_CORNERS = 200
_PROCESS = Path(__file__).with_name("search_process.py")
SLIGHT = 0.01
"""mm that the strip is made wider than it is, since a piece as wide as the strip itself is refused."""


def fill_well(stones: Sequence[Stone], width: float, repeats: tuple[float, float]) -> FilledStrip | None:
    """The shortest lay of many; for patterns, folds, or without the library, the best of our own filling."""
    plain = repeats == (0.0, 0.0) and not any(stone.first_column for stone in stones)
    if not plain or len(stones) < 2 or not is_there():
        return fill(stones, width, repeats=repeats, tries=TRIES, walks=WALKS)
    quick = fill(stones, width)
    if quick is None or None in quick.spots:
        return quick
    if quick.length <= max(max(p.y for p in s.points) - min(p.y for p in s.points) for s in stones) + 1.0:
        return quick  # As short as its longest piece.
    good = search(stones, width)
    return good if good is not None and good.length < quick.length else quick


def is_there() -> bool:
    """Whether the library is installed."""
    return find_spec("spyrrow") is not None


def search(
    stones: Sequence[Stone], width: float, reports: int = REPORTS, seeds: Sequence[int] = SEEDS
) -> FilledStrip | None:
    """What the library finds, its pieces moved together; None where it is missing or finds nothing."""
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
    asked = {
        "width": width + SLIGHT,
        "items": items,
        "reports": reports,
        "failures": FAILURES,
        "seconds": MOST_WORK,
    }
    with ThreadPoolExecutor(len(seeds)) as side_by_side:
        answers = list(side_by_side.map(lambda seed: _answer({**asked, "seed": seed}), seeds))
    found = [
        tightened(stones, _filled(answer["placed"], stones, kinds), width) for answer in answers if answer
    ]
    return min(found, key=lambda filled: filled.length, default=None)


def _answer(asked: dict[str, Any]) -> dict[str, Any] | None:
    """What a process of the library's answers; None where it finds nothing."""
    command = [sys.executable, str(_PROCESS)]
    try:
        done = subprocess.run(
            command, input=json.dumps(asked), capture_output=True, text=True, timeout=LONGEST_WAIT, check=True
        )
        return dict(json.loads(done.stdout))
    except (OSError, subprocess.SubprocessError, ValueError):
        return None


def _filled(
    placed: Sequence[tuple[int, int, float, float]], stones: Sequence[Stone], kinds: Sequence[Stone]
) -> FilledStrip:
    """The library's lay as one of ours, begun at the beginning of the strip, which it need not be."""
    left: dict[int, list[StonePlace]] = {}
    for number, turned, along, across in placed:
        left.setdefault(number, []).append(StonePlace(bool(turned), Point(across, along)))
    spots = [left[kinds.index(stone)].pop() for stone in stones]
    ys = [
        [p.y + spot.by.y for p in (stone.turned if spot.turned else stone.points)]
        for stone, spot in zip(stones, spots, strict=True)
    ]
    start = min(map(min, ys))
    moved = [StonePlace(spot.turned, spot.by - Point(0.0, start)) for spot in spots]
    return FilledStrip(max(map(max, ys)) - start, tuple(moved))


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
