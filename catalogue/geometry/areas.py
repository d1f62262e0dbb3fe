"""Areas of closed paths, and what lies inside them. An open path counts as closed by a straight line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from catalogue.geometry.path import Path
from catalogue.geometry.point import Point
from catalogue.geometry.segments import Cubic

if TYPE_CHECKING:
    from shapely import Polygon


def signed_area(path: Path) -> float:
    """mm², exact for curves too; positive when the path runs clockwise as seen on paper.

    Green's theorem: half the integral of x dy - y dx, which for a cubic is a sum of cross products of its
    control points. They are taken from the start of the path, so that a far-off path loses no digits.
    """
    ox, oy = path.start
    total = 0.0
    for segment in path.segments:
        x0, y0 = segment.start[0] - ox, segment.start[1] - oy
        x3, y3 = segment.end[0] - ox, segment.end[1] - oy
        if isinstance(segment, Cubic):
            x1, y1 = segment.c1[0] - ox, segment.c1[1] - oy
            x2, y2 = segment.c2[0] - ox, segment.c2[1] - oy
            total += (
                6.0 * (x0 * y1 - y0 * x1 + x2 * y3 - y2 * x3)
                + 3.0 * (x0 * y2 - y0 * x2 + x1 * y2 - y1 * x2 + x1 * y3 - y1 * x3)
                + (x0 * y3 - y0 * x3)
            )
        else:
            total += 10.0 * (x0 * y3 - y0 * x3)
    return total / 20.0


def polygon(path: Path, tolerance: float = 0.02) -> Polygon:
    """The path as a shapely polygon within `tolerance` mm; not valid if the path crosses itself."""
    from shapely import Polygon

    return Polygon(path.flatten(tolerance))


def contains(path: Path, point: Point, tolerance: float = 0.01) -> bool:
    """Whether a point lies inside a closed path, or on it within `tolerance` mm (by the winding number)."""
    if not path.bounds().grown(tolerance).contains(point):
        return False
    _, distance = path.nearest(point)
    if distance <= tolerance:
        return True
    # A polyline that strays by less than the point's distance winds around the point as the path does.
    points = path.flatten(max(distance / 2.0, 1e-6))
    x, y = point
    winding = 0
    x0, y0 = points[-1]
    for x1, y1 in points:
        if (y0 <= y) != (y1 <= y):
            side = (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)
            if y1 > y0 and side > 0.0:
                winding += 1
            elif y1 < y0 and side < 0.0:
                winding -= 1
        x0, y0 = x1, y1
    return winding != 0
