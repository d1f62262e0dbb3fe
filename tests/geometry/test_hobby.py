"""Smooth curves through points.

Sources: J. D. Hobby, "Smooth, easy to compute interpolating splines", Discrete and Computational Geometry 1,
1986; D. E. Knuth, The METAFONTbook and METAFONT: The Program, 1986 (their formulas from memory); and the figures
of another solver of the same equations, the module pyx.metapost of the graphics library PyX 0.18.
"""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from catalogue.geometry import Cubic, GeometryError, Knot, Line, Point, Transform, smooth
from tests.geometry.measures import curvature_at

MM = st.floats(-800, 800).map(lambda v: round(v, 2))
POINTS = st.builds(Point, MM, MM)
DIRECTION = st.floats(-180, 180).map(lambda a: Point(1, 0).turned(a))
CHAINS = st.lists(st.tuples(POINTS, st.none() | DIRECTION, st.none() | DIRECTION), min_size=2, max_size=9)


def knots_of(chain):
    """Knots with at least 1 mm between neighbours, the first and last included."""
    knots = []
    for point, arriving, leaving in chain:
        if all(point.distance(k.point) >= 1 for k in knots):
            knots.append(Knot(point, arriving, leaving))
    return knots


def through(*points: tuple[float, float]):
    return [Knot(Point(*p)) for p in points]


def mock_angles(path):
    """(theta, phi, chord) of each segment, read off the handles: nothing taken from the solver."""
    rows = []
    for s in path.segments:
        chord = s.end - s.start
        if isinstance(s, Line):
            rows.append((0.0, 0.0, chord.length))
            continue
        out, into = s.c1 - s.start, s.end - s.c2
        rows.append(
            (
                math.atan2(chord.cross(out), chord.dot(out)),
                math.atan2(into.cross(chord), into.dot(chord)),
                chord.length,
            )
        )
    return rows


@given(CHAINS, st.booleans())
def test_passes_through_every_knot_in_order(chain, closed):
    knots = knots_of(chain)
    assume(len(knots) >= 2)
    path = smooth(knots, closed)
    wanted = [k.point for k in knots] + ([knots[0].point] if closed else [])
    assert [*(s.start for s in path.segments), path.end] == wanted
    assert path.is_closed is closed


@given(CHAINS, st.booleans())
def test_keeps_directions_and_has_no_corner_elsewhere(chain, closed):
    knots = knots_of(chain)
    assume(len(knots) >= 2)
    path = smooth(knots, closed)
    count = len(path.segments)
    for i, (_, arriving, leaving) in enumerate(knots):
        after = path.segments[i] if i < count else None
        before = path.segments[i - 1] if i > 0 or closed else None
        out = after.tangent_at(0) if after else None
        into = before.tangent_at(1) if before else None
        if out and (leaving or arriving):
            assert out.distance((leaving or arriving).unit()) < 1e-6
        if into and (leaving or arriving):
            assert into.distance((arriving or leaving).unit()) < 1e-6
        if out and into and not (leaving or arriving):
            assert out.distance(into) < 1e-6


@given(st.lists(POINTS, min_size=3, max_size=9), st.booleans())
def test_mock_curvature_agrees_at_free_knots(points, closed):
    """Hobby's condition itself, tensions 1.

    The mock curvature arriving at a knot is (2 phi - theta) / d of the piece before it up to a factor, leaving it
    is (2 theta - phi) / d of the piece after it. At a free end with curl 1 both ends of the piece have the same.
    """
    knots = knots_of([(p, None, None) for p in points])
    assume(len(knots) >= 3)
    path = smooth(knots, closed)
    rows = mock_angles(path)
    # Read off the handles, angles are known up to whole turns only: leave out where one was lost.
    assume(all(abs(theta) < 3 and abs(phi) < 3 for theta, phi, _ in rows))
    chords = [s.end - s.start for s in path.segments]
    for i in range(0 if closed else 1, len(rows)):
        theta0, phi0, d0 = rows[i - 1]
        theta1, phi1, d1 = rows[i]
        psi = math.atan2(chords[i - 1].cross(chords[i]), chords[i - 1].dot(chords[i]))
        assume(abs(phi0 + psi + theta1) < 1e-6)
        assert (2 * phi0 - theta0) / d0 == pytest.approx((2 * theta1 - phi1) / d1, abs=1e-7)
    if not closed:
        assert rows[0][0] == pytest.approx(rows[0][1], abs=1e-7)
        assert rows[-1][0] == pytest.approx(rows[-1][1], abs=1e-7)


def test_two_free_knots_are_a_straight_line():
    assert smooth(through((0, 0), (30, 40))).segments == (Line(Point(0, 0), Point(30, 40)),)


def test_points_in_a_row_give_a_straight_path():
    path = smooth(through((0, 0), (10, 0), (50, 0), (60, 0)))
    assert path.length == pytest.approx(60)
    assert path.bounds().height == pytest.approx(0, abs=1e-9)


def test_four_points_of_a_circle():
    """METAFONT's own circle through four points strays by at most 0.03 % of the radius, outward.

    The handles are 4/3 (√2 - 1) of the radius: METAFONT's known near-circle, from memory. How far that strays is
    worked out here from the cubic's own formula.
    """
    path = smooth(through((100, 0), (0, 100), (-100, 0), (0, -100)), closed=True)
    first = path.segments[0]
    assert isinstance(first, Cubic)
    assert (first.c1 - first.start).length == pytest.approx(400 / 3 * (math.sqrt(2) - 1), rel=1e-6)
    radii = [s.point_at(i / 400).length for s in path.segments for i in range(401)]
    assert min(radii) >= 100 - 1e-5
    t, k = np.linspace(0, 1, 100001), 4 / 3 * (math.sqrt(2) - 1)
    x = (1 - t) ** 3 + 3 * (1 - t) ** 2 * t + 3 * (1 - t) * t**2 * k
    stray = np.hypot(x, x[::-1]).max()
    assert stray == pytest.approx(1.000273, abs=1e-6)
    assert max(radii) == pytest.approx(100 * stray, abs=1e-5)
    assert path.length == pytest.approx(2 * math.pi * 100, rel=2e-4)


@pytest.mark.parametrize("count, stray", [(3, 2e-3), (5, 1e-4), (8, 5e-6), (12, 5e-7)])
def test_more_points_of_a_circle_stray_less(count, stray):
    knots = [Knot(Point(100, 0).turned(360 * i / count)) for i in range(count)]
    path = smooth(knots, closed=True)
    for s in path.segments:
        for i in range(21):
            assert s.point_at(i / 20).length == pytest.approx(100, rel=stray)


def test_free_ends_of_an_arc_are_nearly_the_circle():
    """Curl 1 is made to carry on as a circle would (from memory): three points of one give nearly its arc."""
    knots = [Knot(Point(100, 0).turned(a)) for a in (0, 35, 80)]
    for s in smooth(knots).segments:
        for i in range(21):
            assert s.point_at(i / 20).length == pytest.approx(100, rel=1e-3)


# Handles c1, c2 of each piece, mm, as computed once with PyX 0.18: path([beginknot, tensioncurve(), ...]).
BY_PYX = {
    "open": (
        through((0, 0), (60, 40), (40, 90), (10, 70), (30, 50)),
        False,
        [
            (26.764622, -1.845435, 51.409393, 14.584412),
            (67.098752, 61.001887, 59.762534, 84.575180),
            (25.357136, 94.019469, 10.480636, 84.502202),
            (9.628946, 58.804210, 18.804210, 49.628946),
        ],
    ),
    "closed": (
        through((0, 0), (60, 40), (40, 90), (10, 70), (30, 50)),
        True,
        [
            (5.187561, -26.835294, 60.360737, -18.400365),
            (59.877146, 59.889015, 57.338959, 81.642026),
            (22.399864, 98.483870, 4.724032, 84.463694),
            (13.386367, 60.716513, 26.355913, 59.135106),
            (39.194088, 26.951986, -4.105547, 21.238030),
        ],
    ),
    "directions at both ends": (
        [
            Knot(Point(0, 0), leaving=Point(0, 1)),
            Knot(Point(-10, 120)),
            Knot(Point(60, 200), arriving=Point(1, 0)),
        ],
        False,
        [(0, 40.300015, -13.912722, 79.816447), (-5.920272, 161.898705, 20.463856, 200)],
    ),
    "a direction at one end": (
        [Knot(Point(0, 0), leaving=Point(1, 0)), Knot(Point(100, -30))],
        False,
        [(35.550674, 0, 70.320080, -10.430822)],
    ),
}


@pytest.mark.parametrize("name", BY_PYX)
def test_handles_are_those_of_another_solver(name):
    knots, closed, handles = BY_PYX[name]
    for s, (x1, y1, x2, y2) in zip(smooth(knots, closed).segments, handles, strict=True):
        assert s.c1.distance(Point(x1, y1)) < 2e-6 and s.c2.distance(Point(x2, y2)) < 2e-6


def test_velocity_of_a_known_piece():
    """A quarter turn given by its two directions: Hobby's formula gives 0.5523 of the radius for the handles."""
    path = smooth([Knot(Point(0, 0), leaving=Point(0, 1)), Knot(Point(50, 50), arriving=Point(1, 0))])
    piece = path.segments[0]
    assert isinstance(piece, Cubic)
    theta = phi = math.pi / 4
    f = 2 / (3 * (1 + (math.sqrt(5) - 1) / 2 * math.cos(theta) + (3 - math.sqrt(5)) / 2 * math.cos(phi)))
    assert piece.c1.distance(Point(0, f * math.hypot(50, 50))) < 1e-9
    assert f * math.sqrt(2) == pytest.approx(0.5523, abs=1e-4)


def test_velocities_are_limited_to_four_chords():
    """METAFONT keeps each velocity to at most 4 (from memory), however wild the directions."""
    for out in range(0, 360, 5):
        for into in range(0, 360, 5):
            knots = [
                Knot(Point(0, 0), leaving=Point(1, 0).turned(out)),
                Knot(Point(10, 0), arriving=Point(1, 0).turned(into)),
            ]
            s = smooth(knots).segments[0]
            if isinstance(s, Cubic):
                assert s.c1.length <= 40 + 1e-9 and s.c2.distance(s.end) <= 40 + 1e-9


@given(CHAINS, st.floats(-180, 180), POINTS)
def test_turning_or_mirroring_the_knots_turns_or_mirrors_the_curve(chain, degrees, about):
    knots = knots_of(chain)
    assume(len(knots) >= 2)
    chords = [b.point - a.point for a, b in pairwise(knots)]
    # At a turn of half a circle either way round is right, and the choice is not mirrored.
    assume(all(a.unit().dot(b.unit()) > -0.999 for a, b in pairwise(chords)))
    ways = [(c, w) for c, k in zip(chords, knots, strict=False) for w in (k.leaving, k.arriving) if w]
    ways += [(c, w) for c, k in zip(chords, knots[1:], strict=True) for w in (k.leaving, k.arriving) if w]
    assume(all(c.unit().dot(w.unit()) > -0.999 for c, w in ways))
    path = smooth(knots)
    for m in (Transform.rotation(degrees, about), Transform.reflection(about, about + Point(1, 2))):
        moved = smooth(
            [Knot(m.apply(p), a and m.apply_vector(a), b and m.apply_vector(b)) for p, a, b in knots]
        )
        for got, was in zip(moved.segments, path.transformed(m).segments, strict=True):
            for t in (0.25, 0.5, 0.75):
                assert got.point_at(t).distance(was.point_at(t)) < 1e-6


def test_the_reversed_knots_give_the_reversed_curve():
    knots = [
        Knot(Point(0, 0), leaving=Point(0, 1)),
        Knot(Point(-10, 120)),
        Knot(Point(20, 190)),
        Knot(Point(90, 210), arriving=Point(1, 0)),
    ]
    backwards = [Knot(p, b and -b, a and -a) for p, a, b in reversed(knots)]
    for got, was in zip(smooth(backwards).segments, smooth(knots).reversed().segments, strict=True):
        assert got.point_at(0.4).distance(was.point_at(0.4)) < 1e-9


def test_a_closed_curve_does_not_depend_on_where_it_starts():
    points = [(0, 0), (80, -20), (140, 60), (60, 120), (-30, 70)]
    whole = smooth(through(*points), closed=True)
    pinned = [Knot(Point(*p), leaving=Point(1, 1) if i == 2 else None) for i, p in enumerate(points)]
    for knots in (through(*points), pinned):
        whole = smooth(knots, closed=True)
        for shift in range(1, 5):
            turned = smooth(knots[shift:] + knots[:shift], closed=True)
            for i, s in enumerate(turned.segments):
                was = whole.segments[(i + shift) % 5]
                assert s.point_at(0.5).distance(was.point_at(0.5)) < 1e-9


def test_the_closed_system_against_a_dense_solver():
    """The cyclic equations, written out and solved by numpy, give the same turning angles."""
    rng = np.random.default_rng(7)
    for count in (3, 4, 5, 7, 12):
        turn = np.sort(rng.uniform(0, 2 * np.pi, count))
        radius = rng.uniform(60, 140, count)
        points = [Point(r * math.cos(a), r * math.sin(a)) for r, a in zip(radius, turn, strict=True)]
        chords = [points[(i + 1) % count] - points[i] for i in range(count)]
        psi = [math.atan2(chords[i - 1].cross(chords[i]), chords[i - 1].dot(chords[i])) for i in range(count)]
        matrix, right = np.zeros((count, count)), np.zeros(count)
        for i in range(count):
            a, d = 1 / chords[i - 1].length, 1 / chords[i].length
            matrix[i, (i - 1) % count] += a
            matrix[i, i] += 2 * a + 2 * d
            matrix[i, (i + 1) % count] += d
            right[i] = -2 * a * psi[i] - d * psi[(i + 1) % count]
        theta = np.linalg.solve(matrix, right)
        path = smooth([Knot(p) for p in points], closed=True)
        for i, (got, _, _) in enumerate(mock_angles(path)):
            assert got == pytest.approx(theta[i], abs=1e-9)


@pytest.mark.parametrize("fullness", [1.7, 2.0, 2.4])
@pytest.mark.parametrize(
    "inward, depth, across, width", [(0, 160, 0.5, 60), (12, 210, 0.55, 75), (22, 290, 0.6, 125)]
)
def test_an_armhole_does_not_overshoot(inward, depth, across, width, fullness):
    """From the shoulder in to the across-back level, round the hollow, square into the side: one sweep, no bulge.

    The hollow is drawn on a superellipse, which has none; the curve through one point of it must not pass the
    levels of its ends by more than a hair, and must turn one way only. Proportions of a bodice block: common
    practice, no source.
    """
    level = depth * across
    reach, drop = width + inward, depth - level
    part = 0.5 ** (1 / fullness)
    knots = [
        Knot(Point(0, 0)),
        Knot(Point(-inward, level), leaving=Point(0, 1)),
        Knot(Point(-inward + reach * (1 - part), level + drop * part)),
        Knot(Point(width, depth), arriving=Point(1, 0)),
    ]
    path = smooth(knots)
    points = path.flatten(0.01)
    assert all(b.y >= a.y for a, b in pairwise(points))
    box = path.bounds()
    assert box.left >= -inward - 1e-3 and box.right <= width + 1e-9
    assert box.top >= -1e-9 and box.bottom <= depth + 1e-3
    for s in path.segments[1:]:
        assert all(curvature_at(s, i / 20) <= 1e-9 for i in range(21))  # anticlockwise all the way
        for i in range(21):
            x, y = s.point_at(i / 20)
            x, y = (width - x) / reach, (y - level) / drop
            assert x**fullness + y**fullness == pytest.approx(1, abs=0.05)


def test_two_knots_closed_make_a_rounded_loop():
    path = smooth(through((0.3, 5), (80, -3)), closed=True)
    chord = Point(80, -3) - Point(0.3, 5)
    for s in path.segments:
        assert abs(s.tangent_at(0).dot(chord)) < 1e-9 * chord.length
    middle = Point(0.3, 5).mix(Point(80, -3), 0.5)
    for s in path.segments:
        assert s.point_at(0.5).distance(middle) == pytest.approx(chord.length / 2, rel=1e-9)


def test_neighbours_at_one_point_count_as_one():
    twice = smooth(through((0, 0), (0, 0), (50, 20), (50, 20), (100, 0), (100, 0)))
    assert twice == smooth(through((0, 0), (50, 20), (100, 0)))
    ring = through((0, 0), (100, 0), (100, 100), (0, 100))
    assert smooth([*ring, ring[0]], closed=True) == smooth(ring, closed=True)
    corner = [Knot(Point(50, 0), arriving=Point(0, 1)), Knot(Point(50, 0), leaving=Point(1, 0))]
    path = smooth([Knot(Point(0, 0)), *corner, Knot(Point(100, 50))])
    assert path.segments[0].tangent_at(1).distance(Point(0, 1)) < 1e-9
    assert path.segments[1].tangent_at(0).distance(Point(1, 0)) < 1e-9


def test_turning_straight_back():
    """Chords that fold back on themselves, and directions against the chord, still give finite curves."""
    for knots in (
        through((0, 0), (100, 0), (50, 0)),
        through((0, 0), (100, 0), (0, 0)),
        [Knot(Point(0, 0), leaving=Point(-1, 0)), Knot(Point(100, 0), arriving=Point(-1, 0))],
        [Knot(Point(0, 0), leaving=Point(-1, 0)), Knot(Point(100, 0), arriving=Point(1, 0))],
    ):
        path = smooth(knots)
        assert math.isfinite(path.length) and path.length < 2000


def test_what_cannot_be_a_curve():
    for knots in (
        [],
        through((0, 0)),
        through((5, 5), (5, 5)),
        through((0, 0), (math.nan, 1)),
        [Knot(Point(0, 0), leaving=Point(0, 0)), Knot(Point(1, 1))],
    ):
        with pytest.raises(GeometryError):
            smooth(knots)
        with pytest.raises(GeometryError):
            smooth(knots, closed=True)
