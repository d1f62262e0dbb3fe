"""Where two paths cross or touch, and where a path crosses itself."""

from __future__ import annotations

import math
from typing import NamedTuple

from catalogue.geometry.box import Box
from catalogue.geometry.meeting import parted_at, segments_meet
from catalogue.geometry.path import Path
from catalogue.geometry.point import Point
from catalogue.geometry.segments import Cubic, Segment

# Crossings nearer than this along both paths are one, mm.
_SAME = 2e-3
# A path leaves a joint in two directions; what is found this near to the joint is the joint itself, mm.
_AT_JOINT = 1e-2


class Crossing(NamedTuple):
    """A point that two paths share, and where it lies along each of them, mm from the start."""

    point: Point
    on_first: float
    on_second: float


def crossings(a: Path, b: Path) -> list[Crossing]:
    """Every point where a and b cross or touch, in the order of a; within 1e-4 mm.

    Where they run along each other, only the two ends of that stretch are given. A touch with no crossing is
    found where the curves come within about 1e-5 mm of each other.
    """
    found: list[Crossing] = []
    boxes = sorted((s.hull(), j) for j, s in enumerate(b.segments))
    for i, first in enumerate(a.segments):
        left, top, right, bottom = _grown(first.hull())
        for (x0, y0, x1, y1), j in boxes:
            if x0 > right:
                break
            if left <= x1 and top <= y1 and y0 <= bottom:
                found += _placed(a, i, first, b, j, b.segments[j])
    if len(found) < 2:
        return found
    return _merged(found, a.length if a.is_closed else math.inf, b.length if b.is_closed else math.inf)


def self_crossings(path: Path) -> list[Point]:
    """Points where a path crosses, touches or runs along itself, its joints aside; in the order of the path.

    A closed path's start and end are a joint.
    """
    return [crossing.point for crossing in places_of_self_crossings(path)]


def places_of_self_crossings(path: Path) -> list[Crossing]:
    """As `self_crossings`, with both places along the path, the earlier one first."""
    closed = path.is_closed
    found: list[Crossing] = []
    boxes = sorted((s.hull(), i) for i, s in enumerate(path.segments))
    for at, (box, i) in enumerate(boxes):
        first = path.segments[i]
        if isinstance(first, Cubic):
            loop = own_loop(first)
            if loop is not None:
                s0, s1 = (path.marks[i] + first.length_to(t) for t in loop)
                if not (closed and s0 <= _AT_JOINT and s1 >= path.length - _AT_JOINT):
                    found.append(Crossing(first.point_at(loop[0]), s0, s1))
        left, top, right, bottom = _grown(box)
        for (x0, y0, x1, y1), j in boxes[at + 1 :]:
            if x0 > right:
                break
            if left <= x1 and top <= y1 and y0 <= bottom:
                k, m = (i, j) if i < j else (j, i)
                if _joint_only(path, k, m, closed):
                    continue
                for crossing in _placed(path, k, path.segments[k], path, m, path.segments[m]):
                    apart = crossing.on_second - crossing.on_first
                    if apart > _AT_JOINT and not (closed and path.length - apart <= _AT_JOINT):
                        found.append(crossing)
    return _merged(found, math.inf, math.inf)


def _grown(box: Box) -> tuple[float, float, float, float]:
    """A little larger, for segments that only touch."""
    return box[0] - 1e-4, box[1] - 1e-4, box[2] + 1e-4, box[3] + 1e-4


def _joint_only(path: Path, k: int, m: int, closed: bool) -> bool:
    """Whether neighbouring segments plainly share their joint and no more."""
    first, second = path.segments[k], path.segments[m]
    if m == k + 1 and (_runs_on(first, second) or parted_at(first, 1.0, second, 0.0)):
        return True
    return (
        closed
        and k == 0
        and m == len(path.segments) - 1
        and (_runs_on(second, first) or parted_at(first, 0.0, second, 1.0))
    )


def _runs_on(first: Segment, second: Segment) -> bool:
    """Whether one of two neighbours stays behind their joint and the other before it, as seen from end to end.

    True of nearly all neighbours, and quicker to tell than with the best line to part them.
    """
    (ax, ay), (jx, jy), (bx, by) = first.start, first.end, second.end
    x, y = bx - ax, by - ay
    at = jx * x + jy * y
    if not (ax * x + ay * y < at < bx * x + by * y):
        return False
    if isinstance(first, Cubic):
        (px, py), (qx, qy) = first.c1, first.c2
        if px * x + py * y > at or qx * x + qy * y > at:
            return False
    if isinstance(second, Cubic):
        (px, py), (qx, qy) = second.c1, second.c2
        if px * x + py * y < at or qx * x + qy * y < at:
            return False
    return True


def is_simple(path: Path) -> bool:
    """Whether the path never meets itself, its joints aside."""
    return not self_crossings(path)


def own_loop(cubic: Cubic) -> tuple[float, float] | None:
    """The two parameters at which a cubic with a loop passes through one point, or None.

    With B(t) = a t³ + b t² + c t + d, B(t) = B(u) and t ≠ u leave a (t² + t u + u²) + b (t + u) + c = 0; the
    cross product with a gives the sum of the two, the dot product with a their product.
    """
    if cubic.keeps_going:
        return None
    px, qx, rx, py, qy, ry = cubic.speed
    a, b, c = Point(rx / 3.0, ry / 3.0), Point(qx / 2.0, qy / 2.0), Point(px, py)
    bottom = a.cross(b)
    size = a.length * b.length
    if size == 0.0 or abs(bottom) <= 1e-12 * size:
        return None
    total = -a.cross(c) / bottom
    product = total * total + (b.dot(a) * total + c.dot(a)) / a.dot(a)
    inside = total * total - 4.0 * product
    if inside <= 1e-12:
        return None
    root = math.sqrt(inside)
    t, u = 0.5 * (total - root), 0.5 * (total + root)
    if t < -1e-12 or u > 1.0 + 1e-12:
        return None
    return max(t, 0.0), min(u, 1.0)


def _placed(a: Path, i: int, first: Segment, b: Path, j: int, second: Segment) -> list[Crossing]:
    """The meetings of two segments as places on their paths."""
    result = []
    for t, u in segments_meet(first, second):
        on_first = a.marks[i] + first.length_to(t) if t < 1.0 else a.marks[i + 1]
        on_second = b.marks[j] + second.length_to(u) if u < 1.0 else b.marks[j + 1]
        result.append(Crossing(first.point_at(t).mix(second.point_at(u), 0.5), on_first, on_second))
    return result


def _merged(found: list[Crossing], round_first: float, round_second: float) -> list[Crossing]:
    """Sorted by the first path, repeats left out; a closed path's two ends are one place."""

    def near(s: float, other: float, total: float) -> bool:
        apart = abs(s - other)
        return apart <= _SAME or total - apart <= _SAME

    kept: list[Crossing] = []
    for crossing in sorted(found, key=lambda c: (c.on_first, c.on_second)):
        if not any(
            near(crossing.on_first, k.on_first, round_first)
            and near(crossing.on_second, k.on_second, round_second)
            for k in kept
        ):
            kept.append(crossing)
    return kept
