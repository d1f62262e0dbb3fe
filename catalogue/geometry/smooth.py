"""Smooth curves through points, with directions where they are wanted.

The method is J. D. Hobby's ("Smooth, easy to compute interpolating splines", Discrete and Computational
Geometry 1, 1986, 123-140), as in D. E. Knuth, The METAFONTbook, 1986, chapter 14: cubic pieces whose turning
angles make a mock curvature agree on both sides of every knot; free ends take "curl 1", nearly the arc of a
circle. Tensions are 1.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from catalogue.geometry.path import Path
from catalogue.geometry.point import GeometryError, Point
from catalogue.geometry.segments import Cubic, Line, Segment

_SAME = 1e-9  # knots this close are one, mm
_STRAIGHT = 1e-12
_STRAIGHT_BACK = 1e-9
_ROOT2 = math.sqrt(2.0)
_LEAVE = 0.5 * (math.sqrt(5.0) - 1.0)
_ARRIVE = 0.5 * (3.0 - math.sqrt(5.0))


class Knot(NamedTuple):
    """A point to pass through, with the direction the curve has when it arrives there and when it leaves.

    Directions are vectors of any length. Given alone, one stands for both; given both and unlike, the knot is
    a corner.
    """

    point: Point
    arriving: Point | None = None
    leaving: Point | None = None


def smooth(knots: Sequence[Knot], closed: bool = False) -> Path:
    """The smooth path through the knots, one segment between each two; back to the first when `closed`.

    Neighbouring knots at one point count as one. Two knots with no direction give a straight line. Raises
    GeometryError when fewer than two different points are given, or a direction is of no length.
    """
    stops = _without_repeats(knots, closed)
    count = len(stops)
    if count < 2:
        raise GeometryError("a curve needs at least two different points")
    pinned = [i for i, k in enumerate(stops) if k.leaving is not None]
    if closed and not pinned:
        return Path(tuple(_closed_run([k.point for k in stops])))
    if closed:  # start at a knot with a direction, then turn the result back
        first = pinned[0]
        turned = [*stops[first:], *stops[:first], stops[first]]
        parts = _open_runs(turned)
        back = count - first
        return Path(tuple(parts[back:] + parts[:back]))
    return Path(tuple(_open_runs(stops)))


def _without_repeats(knots: Sequence[Knot], closed: bool) -> list[Knot]:
    """Knots that differ in place, each with both directions or none."""
    stops: list[Knot] = []
    for point, arriving, leaving in knots:
        if not math.isfinite(point[0] + point[1]):
            raise GeometryError("a curve can't pass through a point that is not on the paper")
        if stops and _near(stops[-1].point, point):
            # What arrives at the first of them arrives here, and what leaves the last one leaves.
            was = stops.pop()
            stops.append(Knot(was.point, was.arriving or arriving, leaving or was.leaving or arriving))
        else:
            stops.append(Knot(point, arriving, leaving))
    if closed and len(stops) > 1 and _near(stops[0].point, stops[-1].point):
        last = stops.pop()
        first = stops[0]
        stops[0] = Knot(first.point, last.arriving or first.arriving, first.leaving or last.leaving)
    return [Knot(p, a or b, b or a) if a or b else Knot(p) for p, a, b in stops]


def _near(a: Point, b: Point) -> bool:
    return abs(a[0] - b[0]) <= _SAME and abs(a[1] - b[1]) <= _SAME


def _open_runs(stops: list[Knot]) -> list[Segment]:
    """Solve from each knot with a direction to the next such knot or end."""
    parts: list[Segment] = []
    begin = 0
    last = len(stops) - 1
    for i in range(1, last + 1):
        if i == last or stops[i].leaving is not None:
            points = [k.point for k in stops[begin : i + 1]]
            parts += _open_run(points, stops[begin].leaving, stops[i].arriving)
            begin = i
    return parts


def _chords(points: Sequence[Point]) -> tuple[list[float], list[float], list[float]]:
    """Lengths and directions of the chords, and the turn at each knot between them (0 at the first)."""
    lengths, angles = [], []
    x, y = points[0]
    for nx, ny in points[1:]:
        dx, dy = nx - x, ny - y
        lengths.append(math.hypot(dx, dy))
        angles.append(math.atan2(dy, dx))
        x, y = nx, ny
    turns = [0.0]
    turns += [_reduced(b - a) for a, b in pairwise(angles)]
    return lengths, angles, turns


def _reduced(angle: float) -> float:
    """An angle in radians brought into -π to π; a turn straight back counts as clockwise."""
    if angle > math.pi + _STRAIGHT_BACK:
        return angle - math.tau
    if angle < -math.pi + _STRAIGHT_BACK:
        return angle + math.tau
    return angle


def _direction(vector: Point) -> float:
    if not 0.0 < math.hypot(vector[0], vector[1]) < math.inf:
        raise GeometryError("a direction of no length gives no direction")
    return math.atan2(vector[1], vector[0])


def _open_run(points: list[Point], leaving: Point | None, arriving: Point | None) -> list[Segment]:
    """Segments through points with a direction, or curl 1, at each end."""
    n = len(points) - 1
    lengths, angles, turns = _chords(points)
    if n == 1 and leaving is None and arriving is None:
        return [Line(points[0], points[1])]
    # theta[k] is how far the curve leaves knot k clockwise of its chord. One sweep down the tridiagonal
    # system: theta[k] = rest[k] - share[k] * theta[k + 1].
    if leaving is not None:
        share = [0.0]
        rest = [_reduced(_direction(leaving) - angles[0])]
    else:  # curl 1: theta[0] equals the angle at which the first piece arrives
        share = [1.0]
        rest = [-turns[1] if n > 1 else 0.0]
    for k in range(1, n):
        a, d = 1.0 / lengths[k - 1], 1.0 / lengths[k]
        pivot = 2.0 * (a + d) - a * share[-1]
        after = turns[k + 1] if k + 1 < n else 0.0
        rest.append((-2.0 * a * turns[k] - d * after - a * rest[-1]) / pivot)
        share.append(d / pivot)
    # At the last knot theta is minus the angle of arrival.
    if arriving is not None:
        last = _reduced(_direction(arriving) - angles[-1])
    else:  # curl 1: theta[n - 1] + theta[n] = 0
        last = -rest[-1] / (1.0 - share[-1]) if share[-1] != 1.0 else -rest[-1]
    theta = [0.0] * n + [last]
    for k in range(n - 1, -1, -1):
        theta[k] = rest[k] - share[k] * theta[k + 1]
    return [
        _piece(points[k], points[k + 1], theta[k], -theta[k + 1] - (turns[k + 1] if k + 1 < n else 0.0))
        for k in range(n)
    ]


def _closed_run(points: list[Point]) -> list[Segment]:
    """Segments of a closed curve without directions: a cyclic tridiagonal system, by Sherman-Morrison."""
    n = len(points)
    lengths, angles, turns = _chords([*points, points[0]])
    turns[0] = _reduced(angles[0] - angles[-1])
    lower = [1.0 / lengths[k - 1] for k in range(n)]
    upper = [1.0 / lengths[k] for k in range(n)]
    diagonal = [2.0 * (a + d) for a, d in zip(lower, upper, strict=True)]
    wanted = [-2.0 * lower[k] * turns[k] - upper[k] * turns[(k + 1) % n] for k in range(n)]
    if n == 2:  # both neighbours are the other knot
        a, b = diagonal[0], lower[0] + upper[0]
        bottom = a * a - b * b
        theta = [(a * wanted[0] - b * wanted[1]) / bottom, (a * wanted[1] - b * wanted[0]) / bottom]
    else:
        corner = lower[0]  # equals upper[n - 1]: both stand for the closing chord
        gamma = -diagonal[0]
        diagonal[0] -= gamma
        diagonal[-1] -= corner * corner / gamma
        x = _sweep(lower, diagonal, upper, wanted)
        z = _sweep(lower, diagonal, upper, [gamma, *[0.0] * (n - 2), corner])
        part = corner / gamma
        factor = (x[0] + part * x[-1]) / (1.0 + z[0] + part * z[-1])
        theta = [xk - factor * zk for xk, zk in zip(x, z, strict=True)]
    return [
        _piece(points[k], points[(k + 1) % n], theta[k], -theta[(k + 1) % n] - turns[(k + 1) % n])
        for k in range(n)
    ]


def _sweep(lower: list[float], diagonal: list[float], upper: list[float], wanted: list[float]) -> list[float]:
    """Solve a tridiagonal system; lower[0] and upper[-1] are not looked at."""
    n = len(wanted)
    share, rest = [upper[0] / diagonal[0]], [wanted[0] / diagonal[0]]
    for k in range(1, n):
        pivot = diagonal[k] - lower[k] * share[-1]
        share.append(upper[k] / pivot)
        rest.append((wanted[k] - lower[k] * rest[-1]) / pivot)
    for k in range(n - 2, -1, -1):
        rest[k] -= share[k] * rest[k + 1]
    return rest


def _piece(start: Point, end: Point, theta: float, phi: float) -> Segment:
    """The cubic that leaves its chord at theta and arrives at phi, with Hobby's velocities as handles."""
    if abs(theta) < _STRAIGHT and abs(phi) < _STRAIGHT:
        return Line(start, end)
    st, ct, sp, cp = math.sin(theta), math.cos(theta), math.sin(phi), math.cos(phi)
    shared = _ROOT2 * (st - sp / 16.0) * (sp - st / 16.0) * (ct - cp)
    # The METAFONTbook's program limits both velocities to 4.
    bottom = 3.0 * (1.0 + _LEAVE * ct + _ARRIVE * cp)
    rho = (2.0 + shared) / bottom if 2.0 + shared < 4.0 * bottom else 4.0
    bottom = 3.0 * (1.0 + _LEAVE * cp + _ARRIVE * ct)
    sigma = (2.0 - shared) / bottom if 2.0 - shared < 4.0 * bottom else 4.0
    x0, y0 = start
    x1, y1 = end
    dx, dy = x1 - x0, y1 - y0
    return Cubic(
        start,
        Point(x0 + rho * (dx * ct - dy * st), y0 + rho * (dx * st + dy * ct)),
        Point(x1 - sigma * (dx * cp + dy * sp), y1 - sigma * (dy * cp - dx * sp)),
        end,
    )
