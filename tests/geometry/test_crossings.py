"""Where paths meet. Checked against shapely on finely cut curves and scipy's fsolve for the last digits."""

import math

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.optimize import fsolve
from shapely import LineString, MultiPoint

from catalogue.geometry import (
    Crossing,
    Cubic,
    Knot,
    Line,
    Path,
    Point,
    Transform,
    circle,
    circle_meets_path,
    circles_meet,
    crossings,
    is_simple,
    line_meets_line,
    self_crossings,
    smooth,
)
from tests.extent import examples
from tests.work import calls

MM = st.floats(-300, 300).map(lambda v: round(v, 1))
POINTS = st.builds(Point, MM, MM)
CUBICS = st.builds(Cubic, POINTS, POINTS, POINTS, POINTS)
SEGMENTS = st.one_of(st.builds(Line, POINTS, POINTS), CUBICS)


def cut(path: Path, count: int = 600) -> list[Point]:
    return [s.point_at(i / count) for s in path.segments for i in range(count + 1)]


def by_shapely(a: Path, b: Path) -> list[Point]:
    """Crossings of the finely cut curves, those that are nearly one taken together.

    Left out are places where the curves run almost along each other: there the cut ones cross a little elsewhere.
    """
    met = LineString(cut(a)).intersection(LineString(cut(b)))
    parts = getattr(met, "geoms", [met])
    if met.length > 0:  # a stretch run together: its ends are tested by themselves
        return []
    points: list[Point] = []
    for part in parts:
        if part.is_empty:
            continue
        p = Point(*part.representative_point().coords[0])
        ways = [path.tangent_at(path.nearest(p)[0]) for path in (a, b)]
        if all(p.distance(q) > 0.5 for q in points) and abs(ways[0].cross(ways[1])) > 0.05:
            points.append(p)
    return points


def assert_on_both(found: list[Crossing], a: Path, b: Path) -> None:
    for point, s, u in found:
        assert a.point_at(s).distance(point) <= 1e-4
        assert b.point_at(u).distance(point) <= 1e-4
    assert [c.on_first for c in found] == sorted(c.on_first for c in found)


@settings(max_examples=examples(25))
@given(SEGMENTS, SEGMENTS)
def test_finds_what_shapely_finds(first, second):
    a, b = Path((first,)), Path((second,))
    found = crossings(a, b)
    assert_on_both(found, a, b)
    if a.length < 1 or b.length < 1:
        return
    for p in by_shapely(a, b):
        assert any(p.distance(c.point) < 1.0 for c in found)
    swapped = crossings(b, a)
    for some, others in ((found, swapped), (swapped, found)):
        assert all(any(c.point.distance(o.point) < 0.1 for o in others) for c in some)


@settings(max_examples=examples(20))
@given(CUBICS, CUBICS)
def test_nothing_is_found_that_is_not_there(first, second):
    a, b = Path((first,)), Path((second,))
    for point, _, _ in crossings(a, b):
        assert LineString(cut(a)).distance(MultiPoint([point])) < 0.01
        assert LineString(cut(b)).distance(MultiPoint([point])) < 0.01


def test_the_last_digits_against_fsolve():
    first = Cubic(Point(0, 0), Point(40, 120), Point(160, -90), Point(200, 60))
    second = Cubic(Point(0, 60), Point(90, -60), Point(110, 130), Point(200, 0))
    found = crossings(Path((first,)), Path((second,)))
    assert len(found) == 3

    def gap(tu):
        d = first.point_at(tu[0]) - second.point_at(tu[1])
        return [d.x, d.y]

    for crossing in found:
        start = [first.parameter_at_length(crossing.on_first), second.parameter_at_length(crossing.on_second)]
        t, u = fsolve(gap, np.array(start) + 1e-3, xtol=1e-13)
        assert first.point_at(t).distance(crossing.point) < 1e-7
        assert second.length_to(u) == pytest.approx(crossing.on_second, abs=1e-6)


def test_nine_crossings_of_two_cubics():
    """Two cubics meet in up to nine points (Bézout's theorem): a serpentine and the same turned a quarter."""
    wave = Cubic(Point(-100, 0), Point(420, 400), Point(-420, -400), Point(100, 0))
    turned = wave.transformed(Transform.rotation(90))
    found = crossings(Path((wave,)), Path((turned,)))
    assert len(found) == 9
    assert_on_both(found, Path((wave,)), Path((turned,)))


def test_ends_that_lie_on_the_other_path():
    armhole = smooth([Knot(Point(0, 0), leaving=Point(0, 1)), Knot(Point(60, 200), arriving=Point(1, 0))])
    on_it = armhole.point_at(130)
    square = Path.line(on_it, on_it + armhole.tangent_at(130).normal() * 50)
    (found,) = crossings(square, armhole)
    assert found.on_first == pytest.approx(0, abs=1e-4) and found.on_second == pytest.approx(130, abs=1e-4)
    (joint,) = crossings(armhole, Path.line(armhole.end, Point(90, 300)))
    assert joint.on_first == pytest.approx(armhole.length) and joint.on_second == 0


def test_a_crossing_at_a_joint_is_one():
    bent = Path.polyline([Point(0, 0), Point(50, 50), Point(100, 0)])
    assert len(crossings(bent, Path.polyline([Point(50, 0), Point(50, 50), Point(50, 100)]))) == 1
    ring = circle(Point(0, 0), 100)
    (at_start,) = crossings(ring, Path.line(Point(50, 0), Point(150, 0)))
    assert at_start.on_first == 0
    assert len(crossings(ring, Path.line(Point(-150, 0), Point(150, 0)))) == 2


def test_a_touch_is_one_crossing():
    ring = circle(Point(0, 0), 100)
    (touch,) = crossings(ring, Path.line(Point(100, -40), Point(100, 70)))
    assert touch.point.distance(Point(100, 0)) < 0.05
    arch = Cubic(Point(0, 0), Point(50, 100), Point(150, 100), Point(200, 0))
    (top,) = crossings(Path((arch,)), Path.line(Point(-50, 75), Point(250, 75)))
    assert top.point.distance(Point(100, 75)) < 0.05
    other = arch.transformed(Transform.reflection(Point(0, 75), Point(1, 75)))
    (kiss,) = crossings(Path((arch,)), Path((other,)))
    assert kiss.point.distance(Point(100, 75)) < 0.05
    assert crossings(Path((arch,)), Path.line(Point(-50, 75.01), Point(250, 75.01))) == []


def test_stretches_run_together_give_their_ends():
    a = Path.line(Point(0, 0), Point(100, 0))
    assert [c.point for c in crossings(a, Path.line(Point(150, 0), Point(40, 0)))] == [
        Point(40, 0),
        Point(100, 0),
    ]
    curve = Cubic(Point(0, 0), Point(40, 120), Point(160, -90), Point(200, 60))
    first, second = curve.between(0, 0.7), curve.between(0.3, 1)
    found = crossings(Path((first,)), Path((second,)))
    assert [c.point.distance(curve.point_at(t)) < 1e-4 for c, t in zip(found, (0.3, 0.7), strict=True)] == [
        True
    ] * 2
    for b in (curve, curve.reversed()):
        assert len(crossings(Path((curve,)), Path((b,)))) == 2
    straight = Cubic(Point(0, 0), Point(10, 0), Point(50, 0), Point(100, 0))
    assert len(crossings(Path((straight,)), Path.line(Point(20, 0), Point(200, 0)))) == 2


@pytest.mark.parametrize(
    "second",
    [
        Cubic(Point(0, 0), Point(0, 0), Point(0, 0), Point(0, 0)),
        Cubic(Point(0, 0), Point(0, 0), Point(100, 60), Point(100, 60)),
        Cubic(Point(0, 0), Point(100, 100), Point(0, 100), Point(100, 0)),
        Cubic(Point(0, 0), Point(400, 0), Point(-300, 0), Point(100, 0)),
        Cubic(Point(0, 0), Point(200, 100), Point(-200, 100), Point(0, 0)),
        Cubic(Point(0, 0), Point(40.00001, 120), Point(160, -90.00001), Point(200, 60)),
        Cubic(Point(0, 1e-5), Point(40, 120), Point(160, -90), Point(200, 60)),
        Line(Point(0, 0), Point(0, 0)),
        Line(Point(-1e6, 0), Point(1e6, 1)),
    ],
)
def test_awkward_meetings_take_bounded_work(second):
    """Curves along each other, cusps, points: an answer each time, and the points found lie on both."""
    wave = Cubic(Point(0, 0), Point(40, 120), Point(160, -90), Point(200, 60))
    a, b = Path((wave,)), Path((second,))
    for one, other in ((a, b), (b, a), (b, b)):
        found, work = calls(lambda one=one, other=other: crossings(one, other))
        assert_on_both(found, one, other)
        assert (
            work < 50_000
        )  # measured: 30,000 calls for a curve that runs back along itself, else under 1,200
    found, work = calls(lambda: self_crossings(b))
    assert isinstance(found, list) and work < 1000


def test_self_crossings():
    assert is_simple(circle(Point(0, 0), 50))
    assert is_simple(Path.polyline([Point(0, 0), Point(10, 0), Point(10, 10), Point(0, 0)]))
    bow = Path.polyline([Point(0, 0), Point(10, 10), Point(10, 0), Point(0, 10), Point(0, 0)])
    (middle,) = self_crossings(bow)
    assert middle.distance(Point(5, 5)) < 1e-9
    spike = Path.polyline([Point(0, 0), Point(50, 0), Point(50, 30), Point(50, 0), Point(100, 0)])
    assert not is_simple(spike)


def test_the_loop_of_a_single_curve():
    looped = Cubic(Point(0, 0), Point(300, 200), Point(-200, 200), Point(100, 0))
    (knot,) = self_crossings(Path((looped,)))
    line = LineString(cut(Path((looped,))))
    assert not line.is_simple and is_simple(
        Path((Cubic(Point(0, 0), Point(0, 9), Point(9, 9), Point(9, 0)),))
    )
    # By symmetry about x = 50 the loop's knot lies there.
    assert knot.x == pytest.approx(50, abs=1e-9)


@given(CUBICS)
def test_loops_agree_with_shapely(c):
    path = Path((c,))
    loop = self_crossings(path)
    if loop:
        near = [
            s
            for i in range(2001)
            for s in (i / 2000,)
            if c.point_at(s).distance(loop[0]) < 1e-3 * c.length() + 0.3
        ]
        assert near[-1] - near[0] > 1e-3
    elif c.length() > 1 and c.start.distance(c.end) > 1:
        along = c.end - c.start
        if max(abs(along.cross(p - c.start)) for p in (c.c1, c.c2)) < 1e-9 * along.length:
            return  # all on one straight line, there and back: no loop, though it runs along itself
        points = cut(path, 300)
        if min(c.derivative_at(i / 50).length for i in range(51)) > 5:  # away from cusps
            assert LineString(points).is_simple


def test_lines_without_ends():
    assert line_meets_line(Point(0, 0), Point(1, 1), Point(10, 0), Point(10, 1)) == Point(10, 10)
    assert line_meets_line(Point(0, 0), Point(1, 1), Point(5, 0), Point(6, 1)) is None
    assert line_meets_line(Point(0, 0), Point(0, 0), Point(5, 0), Point(6, 1)) is None


@given(POINTS, st.floats(1, 300), POINTS, st.floats(1, 300))
def test_circles(c1, r1, c2, r2):
    found = circles_meet(c1, r1, c2, r2)
    for p in found:
        assert p.distance(c1) == pytest.approx(r1, abs=1e-5)
        assert p.distance(c2) == pytest.approx(r2, abs=1e-5)
    apart = c1.distance(c2)
    if abs(r1 - r2) + 1e-3 < apart < r1 + r2 - 1e-3:
        assert len(found) == 2
        assert (c2 - c1).cross(found[0] - c1) > 0 > (c2 - c1).cross(found[1] - c1)
    elif apart > r1 + r2 + 1e-3 or apart < abs(r1 - r2) - 1e-3:
        assert found == []


def test_circles_that_touch():
    assert circles_meet(Point(0, 0), 3, Point(5, 0), 2) == [Point(3, 0)]
    assert circles_meet(Point(0, 0), 5, Point(3, 0), 2) == [Point(5, 0)]
    assert circles_meet(Point(3, 0), 2, Point(0, 0), 5) == [Point(5, 0)]
    assert circles_meet(Point(0, 0), 5, Point(0, 0), 5) == []


def test_a_circle_and_a_square():
    square = Path.polyline([Point(0, 0), Point(100, 0), Point(100, 50), Point(0, 50), Point(0, 0)])
    assert circle_meets_path(Point(0, 0), 50, square) == [Point(50, 0), Point(0, 50)]
    points = circle_meets_path(Point(0, 0), 80, square)
    assert points[0] == Point(80, 0) and points[1].distance(Point(math.sqrt(80**2 - 50**2), 50)) < 1e-6
    (touch,) = circle_meets_path(Point(50, 100), 50, square)
    assert touch.distance(Point(50, 50)) < 0.01
    assert circle_meets_path(Point(50, 25), 5, square) == []


def runs_back(c, i, j):
    """Whether the curve's piece `j` of 400 is its piece `i` the other way round: they cross a circle at one point."""
    there, back = (
        (c.point_at(i / 400), c.point_at((i + 1) / 400)),
        (c.point_at((j + 1) / 400), c.point_at(j / 400)),
    )
    return all(a.distance(b) < 1e-9 for a, b in zip(there, back, strict=True))


@given(CUBICS, POINTS, st.floats(5, 250))
@example(Cubic(Point(0, 5), Point(0, 0), Point(0, 0), Point(0, 5)), Point(1, 0), 5.0)
def test_a_circle_and_a_curve(c, centre, radius):
    path = Path((c,))
    found = circle_meets_path(centre, radius, path)
    for p in found:
        assert p.distance(centre) == pytest.approx(radius, abs=1e-4)
        assert path.nearest(p)[1] < 1e-6
    off = [c.point_at(i / 400).distance(centre) - radius for i in range(401)]
    changes = [i for i in range(400) if off[i] * off[i + 1] < 0]
    apart = [j for n, j in enumerate(changes) if not any(runs_back(c, i, j) for i in changes[:n])]
    assert len(found) >= len(apart)


def test_a_curve_that_crosses_a_straight_line_again_soon_after_their_shared_end() -> None:
    # The shared end lies off the line by rounding alone, on the side that the curve leaves to.
    corner = Point(376.56159587867984, -32.94487075861478)
    curve = Path((Cubic(corner, Point(278.388, -77.535), Point(162.396, -40.561), Point(108.139, 52.619)),))
    line = Path.line(Point(38.7426103804016, -112.51671049631872), corner)
    found = crossings(curve, line)
    assert len(found) == 2
    assert line.nearest(found[1].point)[1] < 1e-6 and found[1].on_first > 50
    assert len(self_crossings(line.joined(curve))) == 1
