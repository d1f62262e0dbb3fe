"""The search for a good lay: valid by shapely, the same every time, and our own filling where there is no library."""

from __future__ import annotations

from itertools import combinations

import pytest
from shapely.geometry import Polygon

from catalogue.cloth import solver
from catalogue.cloth.filling import fill
from catalogue.cloth.strip import Stone
from catalogue.geometry import Point


def triangles(count: int = 6) -> list[Stone]:
    """Gores that fit into each other end for end."""
    points = (Point(0, 0), Point(200, 0), Point(100, 600))
    return [Stone(points, tuple(-p for p in points))] * count


def test_what_is_found_is_valid_and_the_same_every_time():
    pytest.importorskip("spyrrow")
    stones = triangles()
    found = solver.search(stones, 500.0, reports=12, seeds=(1, 2))
    assert found is not None and found == solver.search(stones, 500.0, reports=12, seeds=(1, 2))
    shapes = []
    for stone, place in zip(stones, found.spots, strict=True):
        assert place is not None
        shapes.append(Polygon([p + place.by for p in (stone.turned if place.turned else stone.points)]))
    assert all(a.intersection(b).area < 1.0 for a, b in combinations(shapes, 2))
    left, top, right, low = (f(s.bounds[i] for s in shapes) for i, f in enumerate((min, min, max, max)))
    assert left > -0.05 and right < 500.05 and top == pytest.approx(0, abs=0.05)
    assert low == pytest.approx(found.length)


def test_without_the_library_the_lay_is_our_own(monkeypatch):
    monkeypatch.setattr(solver, "find_spec", lambda name: None)
    stones = triangles()
    assert solver.search(stones, 500.0) is None
    ours = fill(stones, 500.0, tries=solver.TRIES, walks=solver.WALKS)
    assert solver.fill_well(stones, 500.0, (0.0, 0.0)) == ours


def test_a_lay_as_short_as_its_longest_piece_is_searched_no_further(monkeypatch):
    monkeypatch.setattr(solver, "search", lambda *_: pytest.fail("searched"))
    filled = solver.fill_well(triangles(2), 500.0, (0.0, 0.0))
    assert filled is not None and filled.length == pytest.approx(600, abs=1)


def test_a_simplified_outline_holds_the_whole_of_it():
    import math

    wavy = [
        Point((500 + 20 * math.sin(9 * t)) * math.cos(t), (500 + 20 * math.sin(9 * t)) * math.sin(t))
        for t in (math.tau * n / 900 for n in range(900))
    ]
    simple = solver.simplified(wavy)
    assert len(simple) <= solver.MOST_CORNERS < len(wavy)
    assert Polygon(simple).buffer(1e-6).covers(Polygon(wavy))
    assert Polygon(simple).area < 1.02 * Polygon(wavy).area
