"""Outlines in convex parts: by area and by shapely, on outlines that hollow out."""

from __future__ import annotations

import math

import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union

from catalogue.geometry import Point
from catalogue.geometry.convex import convex_parts


def wave(corners: int, depth: float) -> list[Point]:
    """A ring that hollows out five times."""
    turns = [math.tau * n / corners for n in range(corners)]
    return [
        Point((300 + depth * math.sin(5 * t)) * math.cos(t), (300 + depth * math.sin(5 * t)) * math.sin(t))
        for t in turns
    ]


L_SHAPE = [Point(0, 0), Point(40, 0), Point(40, 10), Point(10, 10), Point(10, 50), Point(0, 50)]


@pytest.mark.parametrize(
    ("outline", "most"),
    [(L_SHAPE, 2), (L_SHAPE[::-1], 2), (wave(40, 120.0), 24), (wave(7, 0.0), 1), (wave(200, 60.0), 120)],
)
def test_the_parts_are_convex_and_cover_the_outline_and_nothing_else(outline, most):
    parts = [Polygon(ring) for ring in convex_parts(outline)]
    assert len(parts) <= most
    assert all(part.convex_hull.area == pytest.approx(part.area, rel=1e-9) for part in parts)
    assert sum(part.area for part in parts) == pytest.approx(Polygon(outline).area, rel=1e-9)
    assert unary_union(parts).symmetric_difference(Polygon(outline)).area < 1e-6
    assert {corner for part in parts for corner in part.exterior.coords} <= set(outline)
