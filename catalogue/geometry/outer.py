"""The outer boundary of a closed path that crosses itself."""

from __future__ import annotations

import math
from typing import NamedTuple

from catalogue.geometry.crossing import Crossing, places_of_self_crossings
from catalogue.geometry.path import JOIN, Path
from catalogue.geometry.point import GeometryError, Point

MOST_CROSSINGS = 400


class OuterStretch(NamedTuple):
    """Part of a closed path, mm from its start to mm from its start (over the start where `to` is not larger).

    `ahead` is False where it is walked against the path's own direction.
    """

    at: float
    to: float
    ahead: bool = True

    def of(self, path: Path) -> Path:
        """That part of the path, in the direction it is walked."""
        if self.at < self.to:
            part = path.between(self.at, self.to)
        elif path.length - self.at <= JOIN:
            part = path.between(0.0, self.to)
        else:
            part = path.between(self.at, path.length)
            part = part.joined(path.between(0.0, self.to)) if self.to > JOIN else part
        return part if self.ahead else part.reversed()


def outer_boundary(path: Path) -> tuple[OuterStretch, ...] | None:
    """What one walks along, clockwise as seen on paper, round the outside of a closed path; None when it is simple.

    With the outside on the left hand, the leftmost way is taken at every crossing. Raises GeometryError when the
    path crosses itself more often than `MOST_CROSSINGS`, or runs along itself so that there is no telling.
    """
    found = places_of_self_crossings(path)
    if not found:
        return None
    if len(found) > MOST_CROSSINGS:
        raise GeometryError("the line crosses itself too often to follow")
    cuts = sorted((s, k) for k, c in enumerate(found) for s in (c.on_first, c.on_second))
    at, ahead = _outermost(path)
    first = max((i for i, (s, _) in enumerate(cuts) if s <= at), default=len(cuts) - 1), ahead
    kept: list[OuterStretch] = []
    arc = first
    for _ in range(2 * len(cuts)):
        i, ahead = arc
        after = (i + 1) % len(cuts)
        kept.append(OuterStretch(cuts[i][0], cuts[after][0], ahead))
        arc = _leftmost(path, cuts, found, after if ahead else i, ahead)
        if arc == first:
            return tuple(kept)
    raise GeometryError("the outside of the line can't be followed")


def _outermost(path: Path) -> tuple[float, bool]:
    """A place that surely lies outside, the topmost one, and whether the path runs clockwise there."""
    points = path.flatten(1.0)
    top = min(range(len(points)), key=lambda i: (points[i].y, points[i].x))
    s, _ = path.nearest(points[top])
    before, after = _tangent(path, s, before=True), _tangent(path, s)
    turn = before.cross(after)
    return s % path.length, turn > 0.0 if abs(turn) > 1e-3 else after.x > 0.0


def _tangent(path: Path, s: float, before: bool = False) -> Point:
    """Direction of travel on a closed path, whose start and end are a joint like any other."""
    if before and s <= JOIN:
        s = path.length
    elif not before and path.length - s <= JOIN:
        s = 0.0
    return path.tangent_at(s, before=before)


def _leftmost(
    path: Path, cuts: list[tuple[float, int]], found: list[Crossing], here: int, ahead: bool
) -> tuple[int, bool]:
    """The way to go on from a cut: (number of the cut that begins the stretch, its direction)."""
    s, k = cuts[here]
    way = _tangent(path, s, before=True) if ahead else -_tangent(path, s)
    other = next(i for i, (place, j) in enumerate(cuts) if j == k and i != here)
    best, chosen = -math.inf, (here, ahead)
    for i in (here, other):
        place = cuts[i][0]
        for forward in (True, False):
            if i == here and forward is not ahead:
                continue  # the way it came
            out = _tangent(path, place) if forward else -_tangent(path, place, before=True)
            left = math.atan2(-way.cross(out), way.dot(out))
            if left > best:
                best, chosen = left, (i if forward else (i - 1) % len(cuts), forward)
    return chosen
