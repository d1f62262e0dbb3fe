"""What the tests measure of curves and moves by school formulas, apart from the code under test."""

from __future__ import annotations

import math

from catalogue.geometry import Cubic, Line, Point, Transform


def curvature_at(segment: Line | Cubic, t: float) -> float:
    """1/mm, positive where it turns clockwise on paper, by (x' y'' - y' x'') / speed³; infinite where it stops."""
    if isinstance(segment, Line):
        return 0.0
    p = (segment.start, segment.c1, segment.c2, segment.end)
    u = 1 - t
    first = (p[1] - p[0]) * (3 * u * u) + (p[2] - p[1]) * (6 * u * t) + (p[3] - p[2]) * (3 * t * t)
    second = (p[2] - p[1] * 2 + p[0]) * (6 * u) + (p[3] - p[2] * 2 + p[1]) * (6 * t)
    speed = first.length
    return first.cross(second) / speed**3 if speed > 1e-9 else math.inf


def is_rigid(move: Transform) -> bool:
    """Whether every length stays as it was, a mirror image included."""
    across, down = move.apply_vector(Point(1.0, 0.0)), move.apply_vector(Point(0.0, 1.0))
    return max(abs(across.length - 1), abs(down.length - 1), abs(across.dot(down))) <= 1e-9
