"""Points, boxes and moves of the paper."""

import math
import pickle

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.geometry import DIRECTIONS, Box, GeometryError, Point, Transform
from tests.geometry.measures import is_rigid

MM = st.floats(-3000, 3000).map(lambda v: round(v, 6))
POINTS = st.builds(Point, MM, MM)
ANGLES = st.floats(-720, 720)


def near(a: Point, b: Point, mm: float = 1e-6) -> bool:
    return a.distance(b) <= mm


def test_vectors_add_and_scale_rather_than_join_as_tuples():
    assert Point(1, 2) + Point(3, 4) == Point(4, 6)
    assert Point(1, 2) * 2 == 2 * Point(1, 2) == Point(2, 4)
    assert Point(3, 4) / 2 == Point(1.5, 2)
    assert -Point(1, 2) == Point(-1, -2)
    assert Point(3, 4).length == 5


def test_clockwise_is_as_seen_on_paper():
    assert DIRECTIONS["right"].turned(90) == DIRECTIONS["down"]
    assert DIRECTIONS["down"].turned(90) == DIRECTIONS["left"]
    assert DIRECTIONS["right"].turned(-90) == DIRECTIONS["up"]
    assert DIRECTIONS["right"].normal() == DIRECTIONS["down"]
    assert [DIRECTIONS[w].angle for w in ("right", "down", "left", "up")] == [0, 90, 180, -90]
    assert DIRECTIONS["right"].cross(DIRECTIONS["down"]) > 0


@given(POINTS, ANGLES)
def test_turning_keeps_length_and_turns_back(p, degrees):
    turned = p.turned(degrees)
    assert turned.length == pytest.approx(p.length, abs=1e-9)
    assert near(turned.turned(-degrees), p)


@given(POINTS, POINTS, st.floats(-100, 100))
def test_toward_lies_on_the_line_at_the_distance(a, b, mm):
    if a.distance(b) < 1e-3:
        return
    p = a.toward(b, mm)
    assert p.distance(a) == pytest.approx(abs(mm), abs=1e-6)
    assert abs((p - a).cross((b - a).unit())) < 1e-6


def test_points_that_coincide_give_no_direction():
    for ask in (
        lambda: Point(0, 0).unit(),
        lambda: Point(0, 0).normal(),
        lambda: Point(5, 5).toward(Point(5, 5), 1),
        lambda: Point(math.nan, 1).unit(),
    ):
        with pytest.raises(GeometryError):
            ask()


def test_points_survive_a_trip_between_processes():
    copy = pickle.loads(pickle.dumps(Point(1.5, 2)))
    assert copy == Point(1.5, 2) and isinstance(copy, Point)


@given(POINTS, ANGLES, POINTS)
def test_rotation_agrees_with_turning_the_vector(p, degrees, about):
    assert near(Transform.rotation(degrees, about).apply(p), about + (p - about).turned(degrees))


@given(POINTS, POINTS, POINTS)
def test_mirror_image(p, a, b):
    if a.distance(b) < 1e-2:
        return
    mirror = Transform.reflection(a, b)
    image = mirror.apply(p)
    assert mirror.flips and is_rigid(mirror)
    assert near(mirror.apply(image), p, 1e-5)
    assert near(mirror.apply(a), a, 1e-5) and near(mirror.apply(b), b, 1e-5)
    # The line halves the way to the image and stands square to it.
    assert abs((p.mix(image, 0.5) - a).cross((b - a).unit())) < 1e-5
    assert abs((image - p).dot((b - a).unit())) < 1e-5


@given(POINTS, ANGLES, POINTS, POINTS, st.floats(0.1, 10))
def test_then_and_inverse(p, degrees, about, v, factor):
    first = Transform.rotation(degrees, about)
    second = Transform.scaling(factor, factor * 2, v).then(Transform.translation(v))
    both = first.then(second)
    assert near(both.apply(p), second.apply(first.apply(p)), 1e-5)
    assert near(both.inverse().apply(both.apply(p)), p, 1e-4)
    assert not is_rigid(both) and not both.flips


def test_a_flattened_paper_cannot_be_unfolded():
    with pytest.raises(GeometryError):
        Transform.scaling(0, 1).inverse()


def test_carrying_lays_one_line_on_another():
    move = Transform.carrying(Point(10, 10), Point(10, 60), Point(0, 0), Point(30, 0))
    assert near(move.apply(Point(10, 10)), Point(0, 0))
    assert near(move.apply(Point(10, 60)), Point(50, 0))
    assert is_rigid(move) and not move.flips


def test_boxes():
    box = Box.around([Point(10, 5), Point(-2, 8)])
    assert box == Box(-2, 5, 10, 8)
    assert (box.width, box.height, box.centre) == (12, 3, Point(4, 6.5))
    assert box.union(Box(0, 0, 1, 1)) == Box(-2, 0, 10, 8)
    assert box.grown(1) == Box(-3, 4, 11, 9)
    assert box.contains(Point(-2, 5)) and not box.contains(Point(0, 0))
    assert box.grown(1).contains(box) and not box.contains(box.grown(1))
    assert box.overlaps(Box(10, 8, 20, 20)) and not box.overlaps(Box(11, 8, 20, 20))
    assert box.distance(Point(13, 12)) == 5 and box.distance(Point(0, 6)) == 0
    with pytest.raises(GeometryError):
        Box.around([])
