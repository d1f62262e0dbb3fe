"""Paths measured along their length."""

import copy
import math
import pickle
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from catalogue.geometry import (
    Cubic,
    GeometryError,
    Knot,
    Line,
    Path,
    Point,
    Transform,
    arc,
    circle,
    foot_of,
    smooth,
)
from tests.extent import examples

MM = st.floats(-900, 900).map(lambda v: round(v, 2))
POINTS = st.builds(Point, MM, MM)
PART = st.floats(0, 1)
SQUARE = Path.polyline([Point(0, 0), Point(100, 0), Point(100, 50), Point(0, 50), Point(0, 0)])


@st.composite
def paths(draw):
    """Lines and curves in a chain, some of no length."""
    points = draw(st.lists(POINTS, min_size=2, max_size=6))
    segments = []
    for a, b in pairwise(points):
        kind = draw(st.sampled_from(["line", "cubic", "nothing"]))
        if kind == "cubic":
            segments.append(Cubic(a, draw(POINTS), draw(POINTS), b))
        elif kind == "line":
            segments.append(Line(a, b))
        else:
            segments += [Line(a, a), Line(a, b)]
    return Path(tuple(segments))


def armhole() -> Path:
    return smooth(
        [
            Knot(Point(0, 0), leaving=Point(0, 1)),
            Knot(Point(-10, 120)),
            Knot(Point(60, 200), arriving=Point(1, 0)),
        ]
    )


def test_a_path_that_breaks_off_is_refused():
    with pytest.raises(GeometryError, match="breaks off"):
        Path((Line(Point(0, 0), Point(1, 0)), Line(Point(2, 0), Point(3, 0))))
    with pytest.raises(GeometryError):
        Path(())
    with pytest.raises(GeometryError):
        Path.polyline([Point(0, 0)])
    for bad in (math.nan, math.inf):
        with pytest.raises(GeometryError):
            Path.line(Point(0, bad), Point(1, 1))
        with pytest.raises(GeometryError):
            Path.line(Point(0, 0), Point(bad, 1))


def test_a_path_is_a_value():
    a, b = armhole(), armhole()
    assert a == b and hash(a) == hash(b) and repr(a) == repr(b)
    assert a.length == b.length
    assert a == b and pickle.loads(pickle.dumps(a)) == copy.deepcopy(a) == a
    with pytest.raises(AttributeError):
        a.segments = ()


@given(paths(), PART)
def test_places_on_the_path_are_found_again(path, part):
    assume(path.length > 1)
    s = part * path.length
    point = path.point_at(s)
    at, distance = path.nearest(point)
    assert distance < 1e-6
    assert path.point_at(at).distance(point) < 1e-5


@given(paths(), POINTS)
def test_nearest_agrees_with_a_search(path, point):
    """Against scipy's bounded minimiser started in every one of many pieces."""
    _, distance = path.nearest(point)
    best = math.inf
    for segment in path.segments:
        ts = [i / 60 for i in range(61)]
        ds = [segment.point_at(t).distance(point) for t in ts]
        i = ds.index(min(ds))
        found = minimize_scalar(
            lambda t, segment=segment: segment.point_at(t).distance(point),
            bounds=(ts[max(i - 1, 0)], ts[min(i + 1, 60)]),
            method="bounded",
            options={"xatol": 1e-10},
        )
        best = min(best, found.fun, ds[i])
    assert distance <= best + 1e-6
    assert distance >= best - 0.02  # two dips may share one of the search's pieces


@given(paths(), PART)
def test_splitting_keeps_length_and_shape(path, part):
    s = part * path.length
    first, second = path.between(0, s), path.between(s, path.length)
    assert first.length == pytest.approx(s, abs=1e-4)
    assert first.length + second.length == pytest.approx(path.length, abs=1e-4)
    assert first.start == path.start and second.end == path.end
    whole = first.joined(second)
    for i in range(5):
        assert whole.point_at(whole.length * i / 4).distance(path.point_at(path.length * i / 4)) < 1e-2


@given(paths(), PART, PART)
def test_between_is_what_lies_between(path, p0, p1):
    s0, s1 = p0 * path.length, p1 * path.length
    part = path.between(s0, s1)
    assert part.length == pytest.approx(abs(s1 - s0), abs=1e-4)
    assert part.start.distance(path.point_at(s0)) < 1e-4
    assert part.end.distance(path.point_at(s1)) < 1e-4
    assert part.reversed().length == pytest.approx(part.length, abs=1e-6)


def test_places_at_joints():
    assert SQUARE.marks == (0, 100, 150, 250, 300)
    assert SQUARE.is_closed and not armhole().is_closed
    assert SQUARE.tangent_at(100) == Point(0, 1)
    assert SQUARE.tangent_at(100, before=True) == Point(1, 0)
    assert SQUARE.tangent_at(0) == Point(1, 0)
    assert SQUARE.tangent_at(300) == Point(0, -1)
    assert SQUARE.corners() == (0, 100, 150, 250)
    for s in (100, 100 + 1e-8, 100 - 1e-8):
        assert [len(SQUARE.between(a, b).segments) for a, b in ((0, s), (s, 300))] == [1, 3]
    assert SQUARE.between(0, 0).length == 0 and SQUARE.between(300, 300).length == 0
    assert SQUARE.between(100, 150).segments == (SQUARE.segments[1],)
    assert SQUARE.between(150, 100).segments == (SQUARE.segments[1].reversed(),)
    assert SQUARE.between(70, 70).length == 0


def test_off_the_path():
    assert SQUARE.point_at(-1e-7) == Point(0, 0) and SQUARE.point_at(300 + 1e-7) == Point(0, 0)
    for s in (-0.1, 300.1, math.nan):
        for ask in (SQUARE.point_at, SQUARE.tangent_at):
            with pytest.raises(GeometryError):
                ask(s)


def test_segments_of_no_length_are_stepped_over():
    p, q, r = Point(0, 0), Point(10, 0), Point(10, 10)
    path = Path((Line(p, p), Line(p, q), Line(q, q), Cubic(q, q, q, q), Line(q, r), Line(r, r)))
    assert path.length == 20
    assert path.tangent_at(0) == Point(1, 0) and path.tangent_at(0, before=True) == Point(1, 0)
    assert path.tangent_at(10) == Point(0, 1) and path.tangent_at(10, before=True) == Point(1, 0)
    assert path.tangent_at(20) == Point(0, 1) and path.tangent_at(20, before=True) == Point(0, 1)
    assert path.corners() == (10,)
    assert path.simplified.segments == (Line(p, q), Line(q, r))
    assert path.between(5, 15).length == 10
    nothing = Path.line(p, p)
    assert nothing.length == 0 and nothing.point_at(0) == p and not nothing.is_closed
    assert nothing.nearest(r) == (0, r.length)
    with pytest.raises(GeometryError):
        nothing.tangent_at(0)


def test_simplified_merges_lines_that_go_straight_on():
    path = Path.polyline([Point(0, 0), Point(1, 1), Point(1, 1), Point(3, 3), Point(3, 5), Point(3, 4)])
    ends = [s.end for s in path.simplified.segments]
    assert ends == [Point(3, 3), Point(3, 5), Point(3, 4)]  # a line turning back is no line straight on


@settings(max_examples=examples(20))
@given(paths(), st.sampled_from([0.01, 0.05, 1.0]))
def test_flattened_points_keep_within_the_tolerance(path, tolerance):
    flat = Path.polyline(path.flatten(tolerance))
    for segment in path.segments:
        for i in range(41):
            assert flat.nearest(segment.point_at(i / 40))[1] <= tolerance + 1e-9


def test_a_curve_is_flattened_thriftily():
    assert len(armhole().flatten(0.05)) < 60
    assert len(SQUARE.flatten()) == 5
    with pytest.raises(GeometryError):
        armhole().flatten(0)


def test_extending_goes_straight_on():
    longer = armhole().extended(5, 20)
    assert longer.length == pytest.approx(armhole().length + 25)
    assert longer.start.distance(Point(0, -5)) < 1e-9 and longer.end.distance(Point(80, 200)) < 1e-9
    assert longer.corners() == ()
    assert armhole().extended() == armhole()
    with pytest.raises(GeometryError):
        armhole().extended(-1)


def test_moving_a_path():
    mirrored = armhole().transformed(Transform.reflection(Point(0, 0), Point(0, 1)))
    assert mirrored.length == pytest.approx(armhole().length, abs=1e-9)
    assert mirrored.end == Point(-60, 200)


@given(paths(), POINTS, MM)
def test_a_rigid_movement_keeps_lengths(path, by, degrees):
    """What was measured before the movement is what measuring afterwards gives."""
    assume(path.length > 1)
    move = Transform.rotation(degrees).then(Transform.translation(by))
    moved, measured = path.moved(move), path.transformed(move)
    assert moved == measured
    assert moved.marks == pytest.approx(measured.marks, abs=1e-6)


@given(paths(), POINTS, PART)
def test_asking_for_less_gives_the_same(path, point, part):
    assume(path.length > 1)
    distance = path.nearest(point)[1]
    assert path.distance(point) == distance
    assert path.distance(point, distance) == math.inf
    s = part * path.length
    assert path.point_and_tangent_at(s) == (path.point_at(s), path.tangent_at(s))


def test_arcs():
    quarter = arc(Point(0, 0), Point(100, 0), 90)
    assert quarter.end.distance(Point(0, 100)) < 1e-9 and len(quarter.segments) == 3
    assert quarter.length == pytest.approx(math.pi * 50, abs=1e-4)
    assert arc(Point(0, 0), Point(100, 0), -90).end.distance(Point(0, -100)) < 1e-9
    assert arc(Point(0, 0), Point(100, 0), 0).length == 0
    ring = circle(Point(5, 5), 300)
    assert ring.is_closed and ring.start == ring.end and ring.corners() == ()
    assert (
        max(abs(ring.point_at(ring.length * i / 97).distance(Point(5, 5)) - 300) for i in range(97))
        < 300 * 5e-7
    )
    for bad in (lambda: arc(Point(0, 0), Point(1, 0), 400), lambda: circle(Point(0, 0), 0)):
        with pytest.raises(GeometryError):
            bad()


@given(POINTS, st.floats(1, 500), st.floats(-360, 360), st.floats(-180, 180))
def test_arcs_keep_their_radius(centre, radius, degrees, begin):
    start = centre + Point(radius, 0).turned(begin)
    path = arc(centre, start, degrees)
    assert path.length == pytest.approx(math.radians(abs(degrees)) * radius, abs=1e-3)
    for i in range(8):
        assert path.point_at(path.length * i / 7).distance(centre) == pytest.approx(radius, rel=5e-7)


def test_the_foot_of_a_perpendicular():
    foot, s = foot_of(Point(30, -20), SQUARE)
    assert foot == Point(30, 0) and s == 30
    path = armhole()
    foot, s = foot_of(Point(40, 100), path)
    assert abs((Point(40, 100) - foot).dot(path.tangent_at(s))) < 1e-6
