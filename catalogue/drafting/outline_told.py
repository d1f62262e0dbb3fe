"""What is said of an outline that may not be as it was meant: a run left straight, a corner where lines run smooth."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from catalogue.drafting.desk import Desk
from catalogue.geometry import Path, Point
from catalogue.language.tree import Node
from catalogue.pattern.measure import ON_EDGE

LEAST_CORNER, MOST_CORNER = 3.0, 25.0
"""Degrees between which a corner where a curve ends inside an edge is sooner a mistake than meant (common practice, no
source)."""


class OutlineRun(NamedTuple):
    """A run of an edge: from and to where, as it is written; the line that it follows, None where it is straight."""

    start: Node
    end: Node
    line: Node | None
    whole: Path | None
    path: Path


def tell_runs(name: str, runs: Sequence[OutlineRun], desk: Desk) -> None:
    """Warnings about the runs of one edge."""
    for before, after in pairwise(runs):
        for plain, other in ((before, after), (after, before)):
            if plain.line is None and other.line is not None and other.whole is not None:
                _tell_left_straight(name, plain, other.line, other.whole, desk)
        _tell_corner(name, before, after, desk)


def _tell_left_straight(name: str, run: OutlineRun, line: Node, whole: Path, desk: Desk) -> None:
    """`hem: B to I to J along hem_line`, where B and I lie on hem_line too and it is not straight between them."""
    places = [whole.nearest(at) for at in (run.path.start, run.path.end)]
    if any(off > ON_EDGE for _, off in places) or abs(places[0][0] - places[1][0]) < ON_EDGE:
        return
    meant = whole.between(places[0][0], places[1][0])
    strays = max(run.path.nearest(meant.point_at(meant.length * t))[1] for t in (0.25, 0.5, 0.75))
    if strays <= ON_EDGE:
        return
    a, b = run.start.text, run.end.text
    desk.messages.warn(
        "left-straight",
        f"{a} to {b} is drawn straight, though both lie on “{line.text}”, which is up to "
        f"{desk.show_length(strays)} away from that.",
        run.end.place,
        f"Write: {name}: {a} to {b} along {line.text}",
    )


def _tell_corner(name: str, before: OutlineRun, after: OutlineRun, desk: Desk) -> None:
    """A slight corner in an edge where a curve ends."""
    if not (_is_curved(before.path) or _is_curved(after.path)):
        return
    bend = _bend(before.path.arriving, after.path.leaving)
    if not LEAST_CORNER < bend < MOST_CORNER:
        return
    at = before.end.text
    desk.messages.warn(
        "slight-corner",
        f"The edge “{name}” has a corner of {bend:.0f} degrees at {at}, where a curve meets the next line.",
        before.end.place,
        f"Draw it smooth: end the curve with {at} arriving along the next line, or begin it with {at} leaving along "
        "the one before. If a corner is meant, make two edges of it.",
    )


def _is_curved(path: Path) -> bool:
    return path.length - path.start.distance(path.end) > 0.05


def _bend(arriving: Point, leaving: Point) -> float:
    return abs(math.degrees(math.atan2(arriving.cross(leaving), arriving.dot(leaving))))
