"""Parallel curves, as for seam allowances. Checked against the definition, shapely's buffer and by hand."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from catalogue.geometry import (
    Cubic,
    GeometryError,
    Knot,
    Line,
    Path,
    Point,
    arc,
    circle,
    is_simple,
    parallel,
    polygon,
    signed_area,
    smooth,
)
from tests.extent import examples
from tests.geometry.measures import curvature_at

SQUARE = Path.polyline([Point(0, 0), Point(100, 0), Point(100, 50), Point(0, 50), Point(0, 0)])
MM = st.floats(-200, 200).map(lambda v: round(v, 1))
POINTS = st.builds(Point, MM, MM)


def armhole() -> Path:
    return smooth(
        [
            Knot(Point(0, 0), leaving=Point(0, 1)),
            Knot(Point(-10, 120)),
            Knot(Point(60, 200), arriving=Point(1, 0)),
        ]
    )


def strays(path: Path, offset: Path, distance: float) -> float:
    """The most by which points of the offset path miss their distance from the path."""
    worst = 0.0
    for s in offset.segments:
        for i in range(13):
            worst = max(worst, abs(path.nearest(s.point_at(i / 12))[1] - abs(distance)))
    return worst


def test_the_right_hand_side_of_travel():
    line = Path.line(Point(0, 0), Point(100, 0))
    assert parallel(line, 10).segments == (Line(Point(0, 10), Point(100, 10)),)  # y runs down: below is right
    assert parallel(line, -10).segments == (Line(Point(0, -10), Point(100, -10)),)
    assert parallel(line, 0) == line


@pytest.mark.parametrize("distance", [-40, -15, -6, 6, 10, 15, 40])
def test_an_armhole_keeps_its_distance(distance):
    offset = parallel(armhole(), distance)
    assert strays(armhole(), offset, distance) <= 0.02
    assert offset.corners() == ()
    assert len(offset.segments) <= 12


@pytest.mark.parametrize("distance", [-15, 15])
def test_ends_stand_square_to_the_ends(distance):
    path = armhole()
    offset = parallel(path, distance)
    assert offset.start.distance(path.start + path.tangent_at(0).normal() * distance) < 1e-9
    assert offset.end.distance(path.end + path.tangent_at(path.length).normal() * distance) < 1e-9


def test_length_of_a_parallel_arc():
    """Steiner: the parallel of a curve that turns by an angle a is longer by distance times a."""
    turned = math.radians(110)
    path = arc(Point(0, 0), Point(200, 0), 110)
    assert parallel(path, -15).length == pytest.approx(path.length + 15 * turned, abs=1e-3)
    assert parallel(path, 15).length == pytest.approx(path.length - 15 * turned, abs=1e-3)
    # The armhole goes straight down, ends straight right and turns both ways in between: minus a quarter in all.
    assert parallel(armhole(), 15).length == pytest.approx(armhole().length + 15 * math.pi / 2, abs=0.01)


def test_corners_are_mitred():
    assert [s.start for s in parallel(SQUARE, -10).segments] == [
        Point(-10, -10),
        Point(110, -10),
        Point(110, 60),
        Point(-10, 60),
    ]
    assert signed_area(parallel(SQUARE, 10)) == pytest.approx(80 * 30)
    assert parallel(SQUARE, 10).is_closed


def test_a_sharp_point_is_cut_off():
    needle = Path.polyline([Point(0, 0), Point(200, 5), Point(0, 10)])
    around = parallel(needle, -10)
    assert len(around.segments) == 3
    assert around.bounds().right == pytest.approx(200 + 4 * 10)
    assert parallel(needle, -10, mitre=1.5).bounds().right == pytest.approx(215)
    blunt = Path.polyline([Point(0, 0), Point(200, 100), Point(0, 200)])
    corner = parallel(blunt, -10)
    half = math.atan2(100, 200)
    assert corner.bounds().right == pytest.approx(200 + 10 / math.sin(half), abs=1e-9)


def test_straight_back_does_not_run_away():
    back = Path.polyline([Point(0, 0), Point(100, 0), Point(20, 0)])
    around = parallel(back, -10)
    assert (
        around.bounds().right == pytest.approx(140)
        and around.start == Point(0, -10)
        and around.end == Point(20, 10)
    )


@settings(max_examples=examples(15))
@given(st.lists(st.floats(60, 140), min_size=5, max_size=10), st.sampled_from([-20.0, -10.0, 5.0]))
def test_a_closed_curve_against_shapely_buffer(radii, distance):
    """Outward is to the left of a clockwise path. shapely rounds where we go on along the curve: the same here."""
    count = len(radii)
    path = smooth([Knot(Point(r, 0).turned(360 * i / count)) for i, r in enumerate(radii)], closed=True)
    if not is_simple(path):
        return
    tightest = max(abs(curvature_at(s, i / 24)) for s in path.segments for i in range(25))
    if tightest * abs(distance) > 0.8:
        return  # the parallel turns back on itself: below
    offset = parallel(path, distance)
    assert offset.is_closed and strays(path, offset, distance) <= 0.02
    reference = polygon(path, 0.001).buffer(-distance, quad_segs=64)
    ours = polygon(offset, 0.001)
    assert ours.symmetric_difference(reference).area < 0.05 * reference.length


@given(st.lists(POINTS, min_size=3, max_size=6), st.floats(1, 30))
def test_mitred_polygons_against_shapely(points, distance):
    """Convex polygons outward, with shapely's mitre of the same limit; sharp points are cut differently."""
    hull = LineString(points).convex_hull
    if not isinstance(hull, Polygon) or hull.area < 500:
        return
    ring = [Point(x, y) for x, y in hull.exterior.coords]
    path = Path.polyline(ring).simplified
    sharp = False
    corners = [s.tangent_at(0) for s in path.segments]
    for before, after in zip(corners[-1:] + corners, corners, strict=False):
        sharp = sharp or math.sqrt(0.5 * (1 + before.dot(after))) < 0.3
    if sharp:
        return
    outward = -distance if signed_area(path) > 0 else distance
    reference = hull.buffer(distance, join_style="mitre", mitre_limit=4)
    assert abs(signed_area(parallel(path, outward))) == pytest.approx(reference.area, rel=1e-6)


def test_an_inner_corner_between_curves():
    """A scooped square corner: two arcs meeting inward; the runs are cut where they cross."""
    left = arc(Point(0, 0), Point(100, 0), 60)
    notch = Path((*left.segments, Line(left.end, Point(0, 0))))
    inside = parallel(notch, 8)
    assert is_simple(inside)
    assert strays(notch, inside, 8) <= 0.02
    assert len(inside.corners()) == 1


def test_a_bend_tighter_than_the_distance():
    """A U with an inner radius of 8 mm moved inward by 15: no loop is left, and nothing comes nearer than 15."""
    u = (
        Path.polyline([Point(-40, 0), Point(-40, 100)])
        .joined(
            smooth(
                [
                    Knot(Point(-40, 100), leaving=Point(0, 1)),
                    Knot(Point(0, 108), leaving=Point(1, 0)),
                    Knot(Point(40, 100), arriving=Point(0, -1)),
                ]
            )
        )
        .joined(Path.polyline([Point(40, 100), Point(40, 0)]))
    )
    inside = parallel(u, -15)
    assert is_simple(inside)
    assert min(u.nearest(p)[1] for p in inside.flatten(0.5)) >= 15 - 0.05
    reference = LineString(u.flatten(0.001)).buffer(15, quad_segs=64)
    assert reference.boundary.distance(LineString(inside.flatten(0.01))) < 0.05


def test_a_closed_outline_with_a_tight_hollow():
    """Inward past a hollow's radius on a closed outline: the area agrees with shapely's."""
    outline = (
        Path.polyline([Point(0, 0), Point(200, 0), Point(200, 100), Point(120, 100)])
        .joined(
            smooth(
                [
                    Knot(Point(120, 100), leaving=Point(0, -1)),
                    Knot(Point(110, 90), leaving=Point(-1, 0)),
                    Knot(Point(100, 100), arriving=Point(0, 1)),
                ]
            )
        )
        .joined(Path.polyline([Point(100, 100), Point(0, 100), Point(0, 0)]))
    )
    outside = parallel(outline, -15)
    assert outside.is_closed and is_simple(outside)
    reference = polygon(outline, 0.001).buffer(15, join_style="mitre", mitre_limit=4, quad_segs=64)
    assert signed_area(outside) == pytest.approx(reference.area, rel=2e-3)


@settings(max_examples=examples(25))
@given(st.builds(Cubic, POINTS, POINTS, POINTS, POINTS), st.sampled_from([-25.0, -5.0, 5.0, 25.0]))
def test_any_curve_gives_a_path(c, distance):
    """Cusps, loops and tight bends: an answer every time, and where the bend is gentle the right one."""
    path = Path((c,))
    if path.length < 0.1:
        return
    offset = parallel(path, distance)
    assert math.isfinite(offset.length)
    if all(abs(curvature_at(c, i / 200) * distance) < 0.7 for i in range(201)):
        for s in offset.segments:
            for i in range(9):
                assert path.nearest(s.point_at(i / 8))[1] <= abs(distance) + 0.02


def test_circles_grow_and_shrink():
    for distance, radius in ((-20, 120), (20, 80)):
        moved = parallel(circle(Point(0, 0), 100), distance)
        assert moved.is_closed and moved.length == pytest.approx(2 * math.pi * radius, abs=0.01)


def test_nothing_has_no_parallel():
    with pytest.raises(GeometryError):
        parallel(Path.line(Point(1, 1), Point(1, 1)), 5)


def test_a_bend_too_slight_to_see_leaves_no_gap():
    # Two lines of a side seam that turn by a fiftieth of a degree: their parallels meet but for rounding.
    corner = Point(219.5899852157552, 227.21294506932543)
    path = Path.polyline(
        [Point(219.58871856460837, 223.87323373503054), corner, Point(219.59247679586383, 230.55265571440404)]
    )
    moved = parallel(path, -15.0)
    assert moved.length == pytest.approx(path.length, abs=0.01)
    assert path.nearest(moved.start)[1] == pytest.approx(15.0, abs=1e-6)
    assert path.nearest(moved.end)[1] == pytest.approx(15.0, abs=1e-6)
