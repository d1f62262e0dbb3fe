"""The point of a segment nearest to a given one."""

from __future__ import annotations

import math

from catalogue.geometry.point import Point
from catalogue.geometry.segments import Cubic, Segment

_STEPS = 16


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
    """Walk along the curve in equal steps and refine every step that may hold the nearest point."""
    hypot = math.hypot
    ox, oy = point
    x0, y0 = cubic.start[0] - ox, cubic.start[1] - oy
    px, qx, rx, py, qy, ry = cubic.speed
    hx, kx, hy, ky = qx / 2.0, rx / 3.0, qy / 2.0, ry / 3.0
    samples = []
    for i in range(_STEPS + 1):
        t = i / _STEPS
        samples.append((x0 + t * (px + t * (hx + t * kx)), y0 + t * (py + t * (hy + t * ky))))
    distances = [hypot(x, y) for x, y in samples]
    best = min(distances)
    best_t = distances.index(best) / _STEPS
    # Between two samples the curve strays from their chord by at most |B''| h² / 8.
    bend = max(hypot(qx, qy), hypot(qx + 2.0 * rx, qy + 2.0 * ry))
    stray = bend / (8.0 * _STEPS * _STEPS) + 1e-12
    bound = min(best, below)
    for i in range(_STEPS):
        (ax, ay), (bx, by) = samples[i], samples[i + 1]
        dx, dy = bx - ax, by - ay
        square = dx * dx + dy * dy
        part = min(max(-(ax * dx + ay * dy) / square, 0.0), 1.0) if square else 0.0
        if hypot(ax + part * dx, ay + part * dy) - stray > bound:
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
