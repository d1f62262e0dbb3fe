"""Where two segments meet, as pairs of parameters: (on the first, on the second)."""

from __future__ import annotations

import math

from catalogue.geometry.nearest import nearest_on
from catalogue.geometry.point import Point
from catalogue.geometry.roots import bernstein_roots
from catalogue.geometry.segments import Cubic, Line, Segment, zero_length

# An end that lies this near to the other segment meets it, mm. Ends are often worked out to lie on the other
# line.
TOUCH = 1e-5
# Pieces of two curves are halved down to this size, mm, unless they are known to cross once before.
_SMALL = 1e-4
_MOST_PAIRS = 3000
# Where curves touch without crossing, places this near in a row are one touch, mm.
_STRING = 0.02

Pair = tuple[float, float]
_Piece = tuple[float, float, float, float, float, float, float, float]


def segments_meet(first: Segment, second: Segment) -> list[Pair]:
    """Parameters of the points that two segments share; of a stretch that they share, its two ends."""
    if zero_length(first) or zero_length(second):
        return []
    if isinstance(first, Line) and _off_line(first, second):
        return []
    if isinstance(second, Line) and _off_line(second, first):
        return []
    ends = _ends_that_touch(first, second)
    if len(ends) > 1 and _share_a_stretch(first, second, ends):
        other = [
            (u, t) for t, u in ends
        ]  # a curve may fold along the other one: its ends need not be the same
        return list(dict.fromkeys([min(ends), max(ends), min(other)[::-1], max(other)[::-1]]))
    if any(t in (0.0, 1.0) and u in (0.0, 1.0) and parted_at(first, t, second, u) for t, u in ends):
        return ends
    if isinstance(first, Line):
        if isinstance(second, Line):
            return ends + _lines_cross(first, second)
        return ends + [(t, u) for u, t in _cubic_crosses_line(second, first)]
    if isinstance(second, Line):
        return ends + _cubic_crosses_line(first, second)
    return ends + _cubics_cross(first, second)


def _off_line(line: Line, other: Segment) -> bool:
    """Whether the other segment plainly lies wholly on one side of the endless line."""
    (x0, y0), (x1, y1) = line.start, line.end
    dx, dy = x1 - x0, y1 - y0
    (px, py), (qx, qy) = other.start, other.end
    clear = 2.0 * TOUCH * (abs(dx) + abs(dy))
    first = (py - y0) * dx - (px - x0) * dy
    last = (qy - y0) * dx - (qx - x0) * dy
    if -clear <= first <= clear or -clear <= last <= clear or (first > 0.0) != (last > 0.0):
        return False
    if isinstance(other, Line):
        return True
    (px, py), (qx, qy) = other.c1, other.c2
    second = (py - y0) * dx - (px - x0) * dy
    third = (qy - y0) * dx - (qx - x0) * dy
    return min(second, third) > clear if first > 0.0 else max(second, third) < -clear


def _ends_that_touch(first: Segment, second: Segment) -> list[Pair]:
    """Where an end of one segment lies on the other."""
    found: list[Pair] = []
    for end, point in ((0.0, first.start), (1.0, first.end)):
        u, gap = nearest_on(second, point, TOUCH)
        if gap <= TOUCH:
            found.append((end, u))
    for end, point in ((0.0, second.start), (1.0, second.end)):
        t, gap = nearest_on(first, point, TOUCH)
        if gap <= TOUCH:
            found.append((t, end))
    return found


def _share_a_stretch(first: Segment, second: Segment, ends: list[Pair]) -> bool:
    """Whether the segments run along each other between the outermost of the places where ends touch."""
    (t0, _), (t1, _) = min(ends), max(ends)
    if first.point_at(t0).distance(first.point_at(t1)) <= 10.0 * TOUCH:
        return False
    for part in (0.5, 0.29, 0.83):
        point = first.point_at(t0 + (t1 - t0) * part)
        if nearest_on(second, point, TOUCH)[1] > TOUCH:
            return False
    return True


def parted_at(first: Segment, t: float, second: Segment, u: float) -> bool:
    """Whether a straight line through a shared end keeps the rest of the segments apart; t, u are 0 or 1."""
    p, q = _handles_from(first, t), _handles_from(second, u)
    (px, py), (qx, qy) = _heading(p), _heading(q)
    x, y = px - qx, py - qy  # the line is square to this
    side = 0.0
    for hx, hy in p:
        side = hx * x + hy * y
        if side < 0.0:
            return False
    if side == 0.0:
        return False
    for hx, hy in q:
        side = hx * x + hy * y
        if side > 0.0:
            return False
    return side != 0.0


def _handles_from(segment: Segment, end: float) -> list[tuple[float, float]]:
    """The other control points as seen from an end, nearest first."""
    (x0, y0), (x1, y1) = (segment.end, segment.start) if end == 1.0 else (segment.start, segment.end)
    if not isinstance(segment, Cubic):
        return [(x1 - x0, y1 - y0)]
    (px, py), (qx, qy) = (segment.c2, segment.c1) if end == 1.0 else (segment.c1, segment.c2)
    return [(px - x0, py - y0), (qx - x0, qy - y0), (x1 - x0, y1 - y0)]


def _heading(handles: list[tuple[float, float]]) -> tuple[float, float]:
    for x, y in handles:
        length = math.hypot(x, y)
        if length > 1e-9:
            return x / length, y / length
    return 0.0, 0.0


def _lines_cross(first: Line, second: Line) -> list[Pair]:
    (ax, ay), (bx, by) = first.start, first.end
    (cx, cy), (dx, dy) = second.start, second.end
    px, py, qx, qy = bx - ax, by - ay, dx - cx, dy - cy
    bottom = px * qy - py * qx
    if abs(bottom) <= 1e-14 * math.hypot(px, py) * math.hypot(qx, qy):
        return []  # parallel: what they share, they share at an end
    t = ((cx - ax) * qy - (cy - ay) * qx) / bottom
    u = ((cx - ax) * py - (cy - ay) * px) / bottom
    return [(t, u)] if 0.0 <= t <= 1.0 and 0.0 <= u <= 1.0 else []


def _cubic_crosses_line(cubic: Cubic, line: Line) -> list[Pair]:
    """(parameter of the cubic, parameter of the line) of each crossing."""
    (ax, ay), (bx, by) = line.start, line.end
    length = math.hypot(bx - ax, by - ay)
    ux, uy = (bx - ax) / length, (by - ay) / length
    across = [(y - ay) * ux - (x - ax) * uy for x, y in (cubic.start, cubic.c1, cubic.c2, cubic.end)]
    found: list[Pair] = []
    for t in bernstein_roots(across, TOUCH):
        x, y = cubic.point_at(t)
        along = (x - ax) * ux + (y - ay) * uy
        if 0.0 <= along <= length:
            found.append((t, along / length))
    return found


def _cubics_cross(first: Cubic, second: Cubic) -> list[Pair]:
    """Halve both curves where their pieces may meet, until Newton's method is sure of the one crossing."""
    found: list[Pair] = []
    touches: list[tuple[float, float, float]] = []
    stack: list[tuple[_Piece, float, float, _Piece, float, float]] = [
        (_piece(first), 0.0, 1.0, _piece(second), 0.0, 1.0)
    ]
    for _ in range(_MOST_PAIRS):
        if not stack:
            break
        p, t0, t1, q, u0, u1 = stack.pop()
        if _apart(p, q) or _beside(p, q) or _beside(q, p):
            continue
        if _at_most_one(p, q):
            pair = _newton(first, second, t0, t1, u0, u1)
            if pair is not None:
                found.append(pair)
                continue
        size_p, size_q = _size(p), _size(q)
        if max(size_p, size_q) <= _SMALL:
            t = 0.5 * (t0 + t1)
            u, gap = nearest_on(second, first.point_at(t))
            if gap <= TOUCH:
                touches.append((t, u, gap))
            continue
        if size_p >= size_q:
            tm = 0.5 * (t0 + t1)
            left, right = _halves(p)
            stack.append((right, tm, t1, q, u0, u1))
            stack.append((left, t0, tm, q, u0, u1))
        else:
            um = 0.5 * (u0 + u1)
            left, right = _halves(q)
            stack.append((p, t0, t1, right, um, u1))
            stack.append((p, t0, t1, left, u0, um))
    return found + _best_touches(first, touches, found)


def _best_touches(first: Cubic, touches: list[tuple[float, float, float]], found: list[Pair]) -> list[Pair]:
    """Of each string of places where the curves lie close, the closest; none beside a crossing."""
    best: list[tuple[float, float, float]] = []
    last: Point | None = None
    for t, u, gap in sorted(touches):
        point = first.point_at(t)
        if last is not None and point.distance(last) <= _STRING:
            if gap < best[-1][2]:
                best[-1] = (t, u, gap)
        else:
            best.append((t, u, gap))
        last = point
    crossed = [first.point_at(t) for t, _ in found]
    return [(t, u) for t, u, _ in best if all(first.point_at(t).distance(c) > _STRING for c in crossed)]


def _piece(cubic: Cubic) -> _Piece:
    return (*cubic.start, *cubic.c1, *cubic.c2, *cubic.end)


def _size(p: _Piece) -> float:
    return (
        max(p[0], p[2], p[4], p[6])
        - min(p[0], p[2], p[4], p[6])
        + (max(p[1], p[3], p[5], p[7]) - min(p[1], p[3], p[5], p[7]))
    )


def _apart(p: _Piece, q: _Piece) -> bool:
    """Whether the boxes around the control points are apart."""
    return (
        max(p[0], p[2], p[4], p[6]) < min(q[0], q[2], q[4], q[6])
        or max(q[0], q[2], q[4], q[6]) < min(p[0], p[2], p[4], p[6])
        or max(p[1], p[3], p[5], p[7]) < min(q[1], q[3], q[5], q[7])
        or max(q[1], q[3], q[5], q[7]) < min(p[1], p[3], p[5], p[7])
    )


def _beside(p: _Piece, q: _Piece) -> bool:
    """Whether q lies wholly to one side of the strip along p's chord that holds p."""
    x0, y0, x1, y1, x2, y2, x3, y3 = p
    dx, dy = x3 - x0, y3 - y0
    if dx == 0.0 and dy == 0.0:
        return False
    d1 = (y1 - y0) * dx - (x1 - x0) * dy
    d2 = (y2 - y0) * dx - (x2 - x0) * dy
    low, high = min(d1, d2, 0.0), max(d1, d2, 0.0)
    e0 = (q[1] - y0) * dx - (q[0] - x0) * dy
    e1 = (q[3] - y0) * dx - (q[2] - x0) * dy
    e2 = (q[5] - y0) * dx - (q[4] - x0) * dy
    e3 = (q[7] - y0) * dx - (q[6] - x0) * dy
    slack = 1e-9 * (abs(dx) + abs(dy))
    return min(e0, e1, e2, e3) > high + slack or max(e0, e1, e2, e3) < low - slack


def _at_most_one(p: _Piece, q: _Piece) -> bool:
    """Whether no direction that p takes is parallel to one that q takes; then they share one point at most.

    A cubic's direction is a mean of its control polygon's legs, so it is enough to compare the legs.
    """
    sign = 0.0
    for i in (0, 2, 4):
        px, py = p[i + 2] - p[i], p[i + 3] - p[i + 1]
        for j in (0, 2, 4):
            turn = px * (q[j + 3] - q[j + 1]) - py * (q[j + 2] - q[j])
            if turn * sign < 0.0 or turn == 0.0:
                return False
            sign = turn
    return True


def _newton(first: Cubic, second: Cubic, t0: float, t1: float, u0: float, u1: float) -> Pair | None:
    """The crossing of the pieces t0-t1 and u0-u1, or None when it is not reached."""
    a, b = first.speed, second.speed
    t, u = 0.5 * (t0 + t1), 0.5 * (u0 + u1)
    step = math.inf
    for _ in range(12):
        gap: Point = second.point_at(u) - first.point_at(t)
        ax, ay = a[0] + t * (a[1] + t * a[2]), a[3] + t * (a[4] + t * a[5])
        bx, by = b[0] + u * (b[1] + u * b[2]), b[3] + u * (b[4] + u * b[5])
        bottom = ax * by - ay * bx
        if bottom == 0.0:
            return None
        dt = (gap[0] * by - gap[1] * bx) / bottom
        du = (gap[0] * ay - gap[1] * ax) / bottom
        t, u, step = t + dt, u + du, abs(dt) + abs(du)
        if not -1.0 < t < 2.0 or not -1.0 < u < 2.0:
            return None
        if step <= 1e-14:
            break
    hair = 1e-12
    if step > 1e-9 or not t0 - hair <= t <= t1 + hair or not u0 - hair <= u <= u1 + hair:
        return None
    return min(max(t, 0.0), 1.0), min(max(u, 0.0), 1.0)


def _halves(p: _Piece) -> tuple[_Piece, _Piece]:
    x0, y0, x1, y1, x2, y2, x3, y3 = p
    ax, ay = 0.5 * (x0 + x1), 0.5 * (y0 + y1)
    bx, by = 0.5 * (x1 + x2), 0.5 * (y1 + y2)
    cx, cy = 0.5 * (x2 + x3), 0.5 * (y2 + y3)
    dx, dy = 0.5 * (ax + bx), 0.5 * (ay + by)
    ex, ey = 0.5 * (bx + cx), 0.5 * (by + cy)
    mx, my = 0.5 * (dx + ex), 0.5 * (dy + ey)
    return (x0, y0, ax, ay, dx, dy, mx, my), (mx, my, ex, ey, cx, cy, x3, y3)
