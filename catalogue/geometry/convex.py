"""Outlines taken apart into convex parts, so that what lies beside what can be said by straight lines."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry import Polygon

from catalogue.geometry.point import Point

_HAIR = 1e-9

Ring = list[Point]


def convex_parts(outline: Sequence[Point]) -> list[Ring]:
    """Convex outlines, all with the same sense of turning, that cover a simple outline and nothing else.

    The outline's own corners are their only corners. They are the triangles of a constrained triangulation, joined over
    every line that is not needed (Hertel and Mehlhorn, 1983: at most four times as many parts as there must be).
    """
    triangles = shapely.constrained_delaunay_triangles(Polygon(outline)).geoms
    rings = [
        _turning_left([Point(x, y) for x, y in shapely.get_coordinates(t)[:-1].tolist()]) for t in triangles
    ]
    owner = {(a, b): n for n, ring in enumerate(rings) for a, b in _sides(ring)}
    inner = [side for side in owner if side < side[::-1] and side[::-1] in owner]
    joined_to = list(range(len(rings)))

    def root(n: int) -> int:
        while joined_to[n] != n:
            n = joined_to[n]
        return n

    for start, end in sorted(inner, key=lambda side: -side[0].distance(side[1])):
        one, other = root(owner[start, end]), root(owner[end, start])
        if one != other and (ring := _joined(rings[one], rings[other], start, end)):
            rings[one], joined_to[other] = ring, one
    return [ring for n, ring in enumerate(rings) if joined_to[n] == n]


def _sides(ring: Ring) -> list[tuple[Point, Point]]:
    return list(zip(ring, [*ring[1:], ring[0]], strict=True))


def _turning_left(ring: Ring) -> Ring:
    return ring if sum(a.cross(b) for a, b in _sides(ring)) > 0.0 else ring[::-1]


def _joined(one: Ring, other: Ring, start: Point, end: Point) -> Ring | None:
    """Two rings as one without the side `start` to `end` of the first; None where that is not convex."""
    at, beyond = one.index(start), other.index(end)
    ring = [*one[at + 1 :], *one[: at + 1], *other[beyond + 1 :], *other[:beyond]]
    ring = list(dict.fromkeys(ring))
    for corner in (start, end):
        n = ring.index(corner)
        before, after = ring[n - 1], ring[(n + 1) % len(ring)]
        if (corner - before).cross(after - corner) < -_HAIR:
            return None
    return ring
