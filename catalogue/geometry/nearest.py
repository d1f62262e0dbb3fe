"""The point of a segment nearest to a given one."""

from __future__ import annotations

import math

from catalogue.geometry.point import Point
from catalogue.geometry.segments import Cubic, Segment

_STEPS = 16
_COARSE = 4  # of these steps at a time are looked at first


def nearest_on(segment: Segment, point: Point, below: float = math.inf) -> tuple[float, float]:
    """(parameter, distance) of a segment's nearest point; (0, inf) when it can't be nearer than `below`."""
    x, y = point
    left, top, right, bottom = segment.hull()
    across = left - x if x < left else x - right if x > right else 0.0
    down = top - y if y < top else y - bottom if y > bottom else 0.0
    if across > below or down > below or (across and down and math.hypot(across, down) > below):
        return 0.0, math.inf
    # Mostly the ends of segments are asked for.
    if segment.start == point:
        return 0.0, 0.0
    if segment.end == point:
        return 1.0, 0.0
    if isinstance(segment, Cubic):
        return _on_cubic(segment, point, below)
    (x0, y0), (x1, y1) = segment.start, segment.end
    dx, dy = x1 - x0, y1 - y0
    square = dx * dx + dy * dy
    t = ((x - x0) * dx + (y - y0) * dy) / square if square else 0.0
    if t <= 0.0:
        return 0.0, math.hypot(x - x0, y - y0)
    if t >= 1.0:
        return 1.0, math.hypot(x - x1, y - y1)
    return t, math.hypot(x - (x0 + dx * t), y - (y0 + dy * t))


def _on_cubic(cubic: Cubic, point: Point, below: float) -> tuple[float, float]:
    """Walk along the curve in equal steps and refine every step that may hold the nearest point.

    Longer steps are looked at first, and walked through only where they may hold it.
    """
    hypot = math.hypot
    ox, oy = point
    x0, y0 = cubic.start[0] - ox, cubic.start[1] - oy
    px, qx, rx, py, qy, ry = cubic.speed
    hx, kx, hy, ky = qx / 2.0, rx / 3.0, qy / 2.0, ry / 3.0
    best, best_t = math.inf, 0.0
    ends = []
    for i in range(0, _STEPS + 1, _COARSE):
        t = i / _STEPS
        x, y = x0 + t * (px + t * (hx + t * kx)), y0 + t * (py + t * (hy + t * ky))
        ends.append((x, y))
        distance = hypot(x, y)
        if distance < best:
            best, best_t = distance, t
    # Between two samples the curve strays from their chord by at most |B''| h² / 8.
    bend = max(hypot(qx, qy), hypot(qx + 2.0 * rx, qy + 2.0 * ry))
    stray = bend / (8.0 * _STEPS * _STEPS) + 1e-12
    far_stray = stray * _COARSE * _COARSE
    bound = min(best, below)
    steps: list[tuple[int, float, float, float, float]] = []  # which, and its chord
    for n in range(_STEPS // _COARSE):
        (ax, ay), (bx, by) = ends[n], ends[n + 1]
        if _of_chord(ax, ay, bx, by)[1] - far_stray > bound:
            continue
        for i in range(n * _COARSE, (n + 1) * _COARSE):
            t = (i + 1) / _STEPS
            bx, by = x0 + t * (px + t * (hx + t * kx)), y0 + t * (py + t * (hy + t * ky))
            distance = hypot(bx, by)
            if distance < best:
                best, best_t = distance, t
            steps.append((i, ax, ay, bx, by))
            ax, ay = bx, by
        bound = min(best, below)
    for i, ax, ay, bx, by in steps:
        part, distance = _of_chord(ax, ay, bx, by)
        if distance - stray > bound:
            continue
        low, high = i / _STEPS, (i + 1) / _STEPS
        t = low + part / _STEPS
        for _ in range(40):
            x = x0 + t * (px + t * (hx + t * kx))
            y = y0 + t * (py + t * (hy + t * ky))
            vx, vy = px + t * (qx + t * rx), py + t * (qy + t * ry)
            slope = x * vx + y * vy
            if slope > 0.0:
                high = t
            else:
                low = t
            square = vx * vx + vy * vy
            rise = square + x * (qx + 2.0 * rx * t) + y * (qy + 2.0 * ry * t)
            step = t - slope / rise if rise > 0.0 else 0.5 * (low + high)
            if not low < step < high:
                step = 0.5 * (low + high)
            if abs(step - t) <= 1e-15 or abs(slope) <= 1e-13 * square:
                break
            t = step
        found = hypot(x0 + t * (px + t * (hx + t * kx)), y0 + t * (py + t * (hy + t * ky)))
        if found < best:
            best, best_t = found, t
            bound = min(bound, best)
    return best_t, best


def _of_chord(ax: float, ay: float, bx: float, by: float) -> tuple[float, float]:
    """The part of the way from a to b at which the straight line comes nearest to the origin, and how near."""
    dx, dy = bx - ax, by - ay
    square = dx * dx + dy * dy
    if not square:
        return 0.0, math.hypot(ax, ay)
    part = -(ax * dx + ay * dy) / square
    if part <= 0.0:
        return 0.0, math.hypot(ax, ay)
    if part >= 1.0:
        return 1.0, math.hypot(bx, by)
    return part, math.hypot(ax + part * dx, ay + part * dy)
