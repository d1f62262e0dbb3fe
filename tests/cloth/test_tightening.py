"""Pieces of a strip moved together: valid by shapely, never longer, and held where a pattern or a fold holds them."""

from __future__ import annotations

from itertools import combinations

import pytest
from shapely.geometry import Polygon

from catalogue.cloth.strip import FilledStrip, Stone, StonePlace
from catalogue.cloth.tightening import tightened
from catalogue.geometry import Point

SQUARE = (Point(0, 0), Point(100, 0), Point(100, 100), Point(0, 100))
ANGLE = (Point(0, 0), Point(100, 0), Point(100, 40), Point(40, 40), Point(40, 200), Point(0, 200))
WEDGE = (Point(0, 0), Point(120, 0), Point(60, 150))


def shapes(stones, filled):
    return [
        Polygon([p + spot.by for p in (stone.turned if spot.turned else stone.points)])
        for stone, spot in zip(stones, filled.spots, strict=True)
    ]


def placed(stones, *at: tuple[float, float]) -> FilledStrip:
    spots = tuple(StonePlace(False, Point(x, y)) for x, y in at)
    length = max(max(p.y for p in s.points) + spot.by.y for s, spot in zip(stones, spots, strict=True))
    return FilledStrip(length, spots)


def test_two_squares_one_behind_the_other_touch():
    stones = [Stone(SQUARE), Stone(SQUARE)]
    found = tightened(stones, placed(stones, (0, 20), (10, 150)), 110.0)
    assert found.length == pytest.approx(200, abs=0.01)


def test_a_square_goes_into_the_hollow_of_an_angle():
    stones = [Stone(ANGLE), Stone(SQUARE)]
    found = tightened(stones, placed(stones, (0, 0), (45, 150)), 145.0)
    assert found.length == pytest.approx(200, abs=0.01)
    assert shapes(stones, found)[0].intersection(shapes(stones, found)[1]).area < 0.1


def test_nothing_overlaps_or_leaves_the_strip_and_the_same_comes_out_again():
    stones = [Stone(WEDGE, tuple(-p for p in WEDGE)), Stone(ANGLE), Stone(SQUARE), Stone(WEDGE), Stone(ANGLE)]
    begun = placed(stones, (0, 0), (130, 0), (240, 0), (0, 210), (240, 210))
    found = tightened(stones, begun, 345.0)
    assert found == tightened(stones, begun, 345.0)
    assert found.length < begun.length - 20
    laid = shapes(stones, found)
    assert all(a.intersection(b).area < 0.1 for a, b in combinations(laid, 2))
    low = [shape.bounds for shape in laid]
    assert min(b[0] for b in low) > -0.01 and min(b[1] for b in low) > -0.01
    assert max(b[2] for b in low) < 345.01 and max(b[3] for b in low) == pytest.approx(found.length)


@pytest.mark.parametrize(
    ("stone", "repeats", "held"),
    [
        (Stone(SQUARE, first_column=True), (0.0, 0.0), (True, False)),
        (Stone(SQUARE, anchor=Point(0, 0)), (30.0, 0.0), (True, False)),
        (Stone(SQUARE, anchor=Point(0, 0)), (30.0, 40.0), (True, True)),
        (Stone(SQUARE, anchor=Point(0, 0), anchored_along=False), (30.0, 40.0), (True, False)),
    ],
)
def test_what_a_fold_or_a_pattern_holds_stays(stone, repeats, held):
    stones = [stone, Stone(SQUARE)]
    found = tightened(stones, placed(stones, (7, 40), (30, 160)), 140.0, repeats)
    assert found.spots[0] is not None
    by = found.spots[0].by
    assert (by.x == 7, by.y == pytest.approx(40)) == (True, held[1])
