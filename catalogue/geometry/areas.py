"""Areas of closed paths, and what lies inside them. An open path counts as closed by a straight line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from catalogue.geometry.path import Path
from catalogue.geometry.point import Point
from catalogue.geometry.segments import Cubic

if TYPE_CHECKING:
    from shapely import Polygon

_FINEST = 40  # halvings of a cubic, beyond which the point lies on it as far as numbers tell


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
    x, y = point
    left, top, right, bottom = path.hull()
    if not (left - tolerance <= x <= right + tolerance and top - tolerance <= y <= bottom + tolerance):
        return False
    if path.passes(point, tolerance):
        return True
    winding = 0
    for segment in path.segments:
        left, top, right, bottom = segment.hull()
        if not top <= y <= bottom:
            continue  # it runs wholly above the point, or below it
        (x0, y0), (x1, y1) = segment.start, segment.end
        if isinstance(segment, Cubic) and left <= x <= right:
            winding += _turns_of_cubic(x, y, (x0, y0, *segment.c1, *segment.c2, x1, y1))
        else:
            winding += _turns(x, y, x0, y0, x1, y1)
    (x0, y0), (x1, y1) = path.end, path.start
    if y0 != y1:
        winding += _turns(x, y, x0, y0, x1, y1)
    return winding != 0


def _turns(x: float, y: float, x0: float, y0: float, x1: float, y1: float) -> int:
    """What a straight line adds to the winding number of a path about (x, y)."""
    if (y0 <= y) == (y1 <= y):
        return 0
    side = (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)
    if y1 > y0:
        return 1 if side > 0.0 else 0
    return -1 if side < 0.0 else 0


def _turns_of_cubic(x: float, y: float, cubic: tuple[float, ...]) -> int:
    """What a cubic adds to it: that of its chord, wherever the box of its control points leaves the point out."""
    turns = 0
    waiting = [(cubic, 0)]
    while waiting:
        (x0, y0, x1, y1, x2, y2, x3, y3), depth = waiting.pop()
        if (
            depth > _FINEST
            or not min(x0, x1, x2, x3) <= x <= max(x0, x1, x2, x3)
            or not min(y0, y1, y2, y3) <= y <= max(y0, y1, y2, y3)
        ):
            turns += _turns(x, y, x0, y0, x3, y3)
            continue
        ax, ay, bx, by, cx, cy = (
            (x0 + x1) / 2,
            (y0 + y1) / 2,
            (x1 + x2) / 2,
            (y1 + y2) / 2,
            (x2 + x3) / 2,
            (y2 + y3) / 2,
        )
        dx, dy, ex, ey = (ax + bx) / 2, (ay + by) / 2, (bx + cx) / 2, (by + cy) / 2
        mx, my = (dx + ex) / 2, (dy + ey) / 2
        waiting.append(((x0, y0, ax, ay, dx, dy, mx, my), depth + 1))
        waiting.append(((mx, my, ex, ey, cx, cy, x3, y3), depth + 1))
    return turns
