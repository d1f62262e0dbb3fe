"""Arcs of circles, as cubics."""

from __future__ import annotations

import math

from catalogue.geometry.path import Path
from catalogue.geometry.point import GeometryError, Point
from catalogue.geometry.segments import Cubic, Line, Segment

# Pieces of 30 degrees with the usual handles, 4/3 tan(angle / 4) of the radius, stray by 4 parts in 10 million.
_PIECE = 30.0


def arc(centre: Point, start: Point, degrees: float) -> Path:
    """The arc about `centre` from `start` through an angle, clockwise on paper when positive.

    A line of no length for no angle or no radius. Raises GeometryError for more than one turn.
    """
    if not abs(degrees) <= 360.0:
        raise GeometryError("an arc can't go round more than once")
    spoke = start - centre
    if degrees == 0.0 or spoke.length == 0.0:
        return Path((Line(start, start),))
    count = max(1, math.ceil(abs(degrees) / _PIECE - 1e-9))
    step = degrees / count
    handle = 4.0 / 3.0 * math.tan(math.radians(step) / 4.0)
    spokes = [spoke, *(spoke.turned(step * i) for i in range(1, count + 1))]
    points = [start, *(centre + v for v in spokes[1:])]
    if abs(degrees) == 360.0:
        points[-1] = start
    parts: list[Segment] = []
    for i in range(count):
        (ax, ay), (bx, by) = spokes[i], spokes[i + 1]
        c1 = points[i] + Point(-ay * handle, ax * handle)
        c2 = points[i + 1] - Point(-by * handle, bx * handle)
        parts.append(Cubic(points[i], c1, c2, points[i + 1]))
    return Path(tuple(parts))


def circle(centre: Point, radius: float) -> Path:
    """The whole circle as a closed path, clockwise on paper from its rightmost point."""
    if not radius > 0.0:
        raise GeometryError("a circle needs a radius")
    return arc(centre, centre + Point(radius, 0.0), 360.0)
