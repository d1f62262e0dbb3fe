"""Ruler and compasses: where straight lines and circles meet each other and a path."""

from __future__ import annotations

import math

from catalogue.geometry.path import Path
from catalogue.geometry.point import Point
from catalogue.geometry.roots import bernstein_roots
from catalogue.geometry.segments import Cubic, Segment

# Points nearer than this are one, and circles that miss by less than this touch, mm.
_TOUCH = 1e-6


def line_meets_line(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Where the endless straight lines through a, b and through c, d meet; None when they are parallel."""
    p, q = b - a, d - c
    bottom = p.cross(q)
    if abs(bottom) <= 1e-12 * p.length * q.length:
        return None
    return a + p * ((c - a).cross(q) / bottom)


def foot_of(point: Point, path: Path) -> tuple[Point, float]:
    """The point of a path nearest to `point`, and its `s`: a perpendicular's foot, or an end or corner."""
    s, _ = path.nearest(point)
    return path.point_at(s), s


def circle_meets_path(centre: Point, radius: float, path: Path) -> list[Point]:
    """Points of a path at `radius` mm from `centre`, in the order of the path."""
    found: list[Point] = []
    for segment in path.segments:
        for t in _at_distance(segment, centre, abs(radius)):
            point = segment.point_at(t)
            if not any(point.distance(p) <= _TOUCH for p in found):
                found.append(point)
    return found


def circles_meet(c1: Point, r1: float, c2: Point, r2: float) -> list[Point]:
    """Where two circles meet: none, one (they touch within a millionth of a millimetre) or two points.

    Of two, the one on the right-hand side of the way from c1 to c2 comes first. Circles on one another give
    none.
    """
    r1, r2 = abs(r1), abs(r2)
    apart = c1.distance(c2)
    if apart <= 1e-12 or apart > r1 + r2 + _TOUCH or apart < abs(r1 - r2) - _TOUCH:
        return []
    ahead = (c2 - c1) / apart
    along = (apart * apart + r1 * r1 - r2 * r2) / (2.0 * apart)
    middle = c1 + ahead * along
    if apart >= r1 + r2 - _TOUCH or apart <= abs(r1 - r2) + _TOUCH:
        return [c1 + ahead * math.copysign(r1, along)]
    side = ahead.turned(90.0) * math.sqrt(max(r1 * r1 - along * along, 0.0))
    return [middle + side, middle - side]


def _at_distance(segment: Segment, centre: Point, radius: float) -> list[float]:
    """Parameters at which a segment is `radius` from `centre`: roots of |B - centre|² - radius²."""
    p = [segment.start - centre, segment.end - centre]
    if isinstance(segment, Cubic):
        p[1:1] = [segment.c1 - centre, segment.c2 - centre]
    n = len(p) - 1
    coefficients = []
    for k in range(2 * n + 1):
        total = 0.0
        for i in range(max(0, k - n), min(n, k) + 1):
            total += math.comb(n, i) * math.comb(n, k - i) * p[i].dot(p[k - i])
        coefficients.append(total / math.comb(2 * n, k) - radius * radius)
    return bernstein_roots(coefficients, _TOUCH * max(radius, 1e-3))
