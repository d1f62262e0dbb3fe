"""Areas and what lies inside. Checked against shapely on finely cut polygons."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Point as ShapelyPoint

from catalogue.geometry import (
    Cubic,
    Knot,
    Path,
    Point,
    Transform,
    circle,
    contains,
    is_simple,
    polygon,
    signed_area,
    smooth,
)

MM = st.floats(-500, 500).map(lambda v: round(v, 2))
POINTS = st.builds(Point, MM, MM)
SQUARE = Path.polyline([Point(0, 0), Point(100, 0), Point(100, 50), Point(0, 50), Point(0, 0)])


def blob(radii) -> Path:
    """A closed smooth curve around the origin."""
    count = len(radii)
    knots = [Knot(Point(r, 0).turned(360 * i / count)) for i, r in enumerate(radii)]
    return smooth(knots, closed=True)


BLOBS = st.lists(st.floats(40, 120), min_size=4, max_size=9).map(blob)


def test_clockwise_on_paper_is_positive():
    assert signed_area(SQUARE) == 5000
    assert signed_area(SQUARE.reversed()) == -5000


def test_a_circle():
    assert signed_area(circle(Point(3, 4), 100)) == pytest.approx(math.pi * 1e4, rel=1e-6)


def test_a_parabola_segment():
    """Archimedes: two thirds of base times height (Quadrature of the Parabola)."""
    # The parabola y = 4 h x (w - x) / w², w = 300, h = 90, as a cubic: its quadratic handle is (150, -180).
    w, apex = 300.0, Point(150, -180)
    arch = Cubic(Point(0, 0), Point(0, 0).mix(apex, 2 / 3), Point(w, 0).mix(apex, 2 / 3), Point(w, 0))
    assert signed_area(Path((arch,))) == pytest.approx(2 / 3 * w * 90)


def test_an_open_path_counts_as_closed_straight():
    assert signed_area(Path.polyline([Point(0, 0), Point(100, 0), Point(100, 50)])) == 2500


@given(BLOBS)
def test_area_agrees_with_shapely(path):
    assume(is_simple(path))
    assert signed_area(path) == pytest.approx(polygon(path, 0.0005).area, abs=0.5)
    assert polygon(path).is_valid


@given(BLOBS, st.floats(-180, 180), POINTS)
def test_area_under_moves(path, degrees, about):
    area = signed_area(path)
    assert signed_area(path.transformed(Transform.rotation(degrees, about))) == pytest.approx(area, rel=1e-9)
    assert signed_area(path.transformed(Transform.scaling(2, 3))) == pytest.approx(6 * area, rel=1e-9)
    mirror = Transform.reflection(about, about + Point(1, 3))
    assert signed_area(path.transformed(mirror)) == pytest.approx(-area, rel=1e-9)


def test_a_far_off_path_loses_no_digits():
    far = SQUARE.transformed(Transform.translation(Point(1e7, -1e7)))
    assert signed_area(far) == pytest.approx(5000, abs=1e-6)


@given(BLOBS, st.builds(Point, st.floats(-150, 150), st.floats(-150, 150)))
def test_inside_agrees_with_shapely(path, point):
    assume(is_simple(path))
    shape = polygon(path, 0.001)
    spot = ShapelyPoint(point)
    if shape.exterior.distance(spot) > 0.02:
        assert contains(path, point) == shape.contains(spot)


def test_on_the_edge_is_inside_within_the_tolerance():
    assert (
        contains(SQUARE, Point(0, 0)) and contains(SQUARE, Point(50, 0)) and contains(SQUARE, Point(100, 50))
    )
    assert contains(SQUARE, Point(50, -0.009)) and not contains(SQUARE, Point(50, -0.02))
    assert contains(SQUARE, Point(50, -0.02), tolerance=0.05)
    assert contains(SQUARE, Point(1, 49)) and not contains(SQUARE, Point(200, 25))
    assert not contains(SQUARE, Point(-5, 0)) and not contains(SQUARE, Point(105, 50))  # level with an edge


@pytest.mark.parametrize("gap", [0.02, 0.1, 1.0])
def test_just_inside_and_just_outside_a_curve(gap):
    ring = circle(Point(0, 0), 200)
    for i in range(24):
        way = Point(1, 0).turned(15 * i + 7)
        assert contains(ring, way * (200 - gap)) and not contains(ring, way * (200 + gap))
