"""Cutting lines: their distance from the seam line against shapely's buffer, and each corner by its geometry."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from math import cos, hypot, radians, sin, tan

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, unary_union
from shapely import Point as Spot
from shapely.affinity import affine_transform

from catalogue.geometry import Cubic, Knot, Path, Point, Transform, is_simple, polygon, signed_area, smooth
from catalogue.pattern import Cut, Edge, Piece
from catalogue.pattern.allowance import CuttingLine, cutting_line, width_of
from catalogue.pattern.corners import BLUNT, LONGEST_MITRE
from catalogue.pattern.darts import add_dart
from catalogue.pattern.making import PieceError, make_piece
from tests.extent import examples

NEARER = 0.05
"""mm that the cutting line may lie too near: what a pair of scissors can't tell."""


def piece_of(*edges: Edge) -> Piece:
    return make_piece("sheet", "Sheet", edges, Cut(), {})


def straight(points: Sequence[tuple[float, float]], **allowances: float) -> Piece:
    """A piece with straight edges a, b, c ... between the points, 10 mm of allowance unless said."""
    corners = [Point(x, y) for x, y in points]
    edges = [
        Edge(chr(97 + i), Path.line(p, q), allowance=allowances.get(chr(97 + i), 10.0))
        for i, (p, q) in enumerate(pairwise([*corners, corners[0]]))
    ]
    return piece_of(*edges)


def with_corners(piece: Piece, name: str, corners: str) -> Piece:
    return piece.with_changes(
        edges=tuple(replace(e, corners=corners) if e.name == name else e for e in piece.edges)
    )


def corner_points(cut: CuttingLine) -> list[tuple[float, float]]:
    """The places where the cutting line bends, rounded."""
    return [(round(cut.path.point_at(s).x, 3), round(cut.path.point_at(s).y, 3)) for s in cut.path.corners()]


# --- random paper -------------------------------------------------------------------------------------------

WIDTHS = (0.0, 4.0, 10.0, 15.0, 25.0, 40.0)


@st.composite
def outlines(draw: st.DrawFn) -> Piece:
    """Paper with hollow and sharp corners, straight and curved edges, a dart perhaps, and any allowances."""
    count = draw(st.integers(3, 8))
    turn = [i * 360 / count + draw(st.integers(-20, 20)) * 6 / count for i in range(count)]
    reach = [draw(st.integers(60, 420)) for _ in range(count)]
    corners = [Point(r * cos(radians(a)), r * sin(radians(a))) for r, a in zip(reach, turn, strict=True)]
    fold = draw(st.integers(-2 * count, count - 1))
    edges = []
    for i, (a, b) in enumerate(pairwise([*corners, corners[0]])):
        bow = draw(st.sampled_from((0.0, 0.0, -0.3, -0.12, 0.06, 0.15, 0.3)))
        path = Path.line(a, b)
        if bow and i != fold:
            share = draw(st.integers(30, 70)) / 100
            path = smooth(
                [Knot(a), Knot(a.mix(b, share) + (b - a).normal() * (a.distance(b) * bow)), Knot(b)]
            )
        edges.append(Edge(f"e{i}", path, i == fold, draw(st.sampled_from(WIDTHS))))
    try:
        made = piece_of(*edges)
        dart = draw(st.integers(-count, count - 1))
        if dart >= 0 and dart != fold:
            length = made.edge(f"e{dart}").path.length
            made = add_dart(
                made, "dart", f"e{dart}", length / 2, min(30.0, length / 5), length=min(90.0, length / 2)
            )
    except PieceError:
        assume(False)
        raise
    return made


def runs(piece: Piece) -> list[tuple[LineString, float]]:
    """The seam line of each edge with its allowance."""
    return [(LineString(e.path.flatten(0.003)), width_of(e)) for e in piece.edges]


def least(piece: Piece) -> Polygon:
    """What must be cut out at the least: the paper and, square to every edge, its allowance."""
    bands = []
    for edge in piece.edges:
        width = max(width_of(edge) - NEARER, 0.0)
        for segment in edge.path.segments if width else ():
            steps = [i / 60 for i in range(61)] if isinstance(segment, Cubic) else [0.0, 1.0]
            ribs = [(segment.point_at(t), segment.tangent_at(t).normal() * width) for t in steps]
            # A tight hollow makes ribs cross; either half of such a strip is still within the allowance.
            bands += [Polygon([p, q, q - m, p - n]).buffer(0) for (p, n), (q, m) in pairwise(ribs)]
    spots = []
    for before, after in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
        radius = min(width_of(before), width_of(after)) - NEARER
        if radius > 0:
            spots.append(Spot(before.path.end).buffer(radius, quad_segs=64))
    return unary_union([polygon(piece.outline, 0.003).buffer(-0.005), *bands, *spots])


def most(piece: Piece) -> Polygon:
    """What may be cut out at the most, corners aside: everything within each edge's allowance of it."""
    bands = [line.buffer(w + NEARER, quad_segs=64) for line, w in runs(piece) if w]
    return Polygon(unary_union([polygon(piece.outline, 0.003).buffer(0.02), *bands]).exterior)


def outward_corners(piece: Piece) -> list[Point]:
    path = piece.outline
    found = []
    for s in path.corners():
        before, after = path.tangent_at(s or path.length, before=True), path.tangent_at(s)
        if before.cross(after) > 0 or before.dot(after) < -0.999:
            found.append(path.point_at(s))
    # Where two allowances differ there is a step, however straight the seam line runs on.
    for before_edge, after_edge in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
        if width_of(before_edge) != width_of(after_edge):
            found.append(before_edge.path.end)
    return found


@given(outlines())
@settings(max_examples=examples(30))
def test_the_cutting_line_is_never_nearer_than_the_allowance_and_never_farther_but_at_corners(
    piece: Piece,
) -> None:
    seam = piece.outline
    cut = cutting_line(piece)
    assert piece.outline == seam
    assert is_simple(cut.path)
    area = polygon(cut.path, 0.003).buffer(0)
    # Nothing crosses the fold, so there the other half of the cloth has what an allowance lacks.
    folds = [Spot(p).buffer(90) for e in piece.edges if e.fold for p in (e.path.start, e.path.end)]
    short = least(piece).difference(unary_union([area, *folds]))
    assert short.buffer(-0.02).is_empty, f"{short.area} mm² too little at {short.centroid}"
    allowed, corners = most(piece), outward_corners(piece)
    reach = LONGEST_MITRE * max(width_of(e) for e in piece.edges) + 1
    for at in cut.path.flatten(0.5):
        if not allowed.covers(Spot(at)):
            assert any(at.distance(c) < reach for c in corners), f"{at} is too far out"


@given(outlines())
@settings(max_examples=examples(15))
def test_curves_stay_curves(piece: Piece) -> None:
    cut = cutting_line(piece)
    assume("short straight lines" not in cut.remark)
    for edge in piece.edges:
        for segment in edge.path.segments:
            if not isinstance(segment, Cubic):
                continue
            out = segment.point_at(0.5) - segment.tangent_at(0.5).normal() * width_of(edge)
            s, off = cut.path.nearest(out)
            if off < 0.02:  # not lost in a hollow
                assert isinstance(cut.path.segments[cut.path.locate(s)[0]], Cubic)


def test_no_allowance_lies_beyond_a_fold_where_nothing_finer_works() -> None:
    # A hollow of 1 mm in the armhole, far too tight for its allowance of 15 mm.
    hollow = smooth([Knot(Point(80, 60), None, Point(-0.3, -1)), Knot(Point(80, 58), Point(0.3, -1), None)])
    piece = piece_of(
        Edge("centre", Path.line(Point(0, 60), Point(0, 0)), fold=True),
        Edge("neck", Path.line(Point(0, 0), Point(80, 0)), allowance=15.0),
        Edge("armhole", Path.line(Point(80, 0), Point(80, 58)).joined(hollow.reversed()), allowance=15.0),
        Edge("seam", Path.line(Point(80, 60), Point(0, 60)), allowance=15.0),
    )
    cut = cutting_line(piece)
    assert "no room in the hollow" in cut.remark
    assert cut.path.bounds().left == pytest.approx(0.0, abs=0.05)
    # Beside the fold the whole allowance is there.
    assert cut.path.bounds().top == pytest.approx(-15.0, abs=0.05)


# --- corners ------------------------------------------------------------------------------------------------

SQUARE = ((0, 0), (100, 0), (100, 80), (0, 80))


def test_a_mitre_is_where_both_cutting_lines_meet() -> None:
    cut = cutting_line(straight(SQUARE, a=10, b=20, c=30, d=0))
    assert corner_points(cut) == [(0, -10), (120, -10), (120, 110), (0, 110)]


def test_the_area_of_a_mitred_allowance_is_edges_and_corners() -> None:
    # A convex outline carried out by w gains perimeter x w and, at a corner of turn t, w² tan(t / 2) (Steiner).
    piece = straight(((0, 0), (120, 10), (150, 90), (40, 130)))
    path = piece.outline
    turns = []
    for s in path.corners():
        before, after = path.tangent_at(s or path.length, before=True), path.tangent_at(s)
        turns.append(hypot(*(after - before)) / hypot(*(after + before)))  # tan(t / 2) of two unit vectors
    gain = 10 * path.length + sum(100 * turn for turn in turns)
    assert signed_area(cutting_line(piece).path) == pytest.approx(signed_area(path) + gain, abs=1e-6)


def test_a_sharp_point_is_cut_blunt() -> None:
    piece = straight(((0, 0), (200, 12), (0, 24)))
    cut = cutting_line(piece)
    assert cut.path.bounds().right == pytest.approx(200 + BLUNT * 10, abs=0.8)
    assert LineString(cut.path.flatten()).distance(Spot(200, 12)) >= 10


def test_a_hollow_corner_is_clean() -> None:
    cut = cutting_line(straight(((0, 0), (100, 0), (100, 60), (60, 60), (60, 100), (0, 100))))
    assert (70, 70) in corner_points(cut) and len(corner_points(cut)) == 6


def test_allowances_of_different_width_on_one_line_make_a_square_step() -> None:
    cut = cutting_line(straight(((0, 0), (60, 0), (100, 0), (100, 80), (0, 80)), a=10, b=25))
    assert {(60, -10), (60, -25)} <= set(corner_points(cut))


def test_a_slight_bend_between_different_widths_makes_a_step_and_no_lug() -> None:
    piece = straight(((0, 0), (60, 0), (100, 5), (100, 80), (0, 80)), a=10, b=40)
    turn = LineString([(60, 0), (60, -200)])
    cut = cutting_line(piece)
    assert cut.path.bounds().top > -41
    assert LineString(cut.path.flatten()).intersection(turn).bounds[3] <= -10


@pytest.mark.parametrize("slant", [-30, 0, 30, 55])
def test_a_squared_end_is_as_long_on_both_pieces_of_a_seam(slant: int) -> None:
    """Two pieces sewn along b whose neighbouring edges go on from each other: their allowances end alike.

    That is what squaring is for: where the mitres would stick out on one piece and lack on the other.
    """
    rise = 100 * tan(radians(slant))
    left = straight(((0, 0), (100, 0 + rise), (100, 500), (0, 500)))
    right = straight(((100, rise), (200, 2 * rise), (200, 500), (100, 500)))
    ends = []
    for piece, seam in ((left, "b"), (right, "d")):
        cut = cutting_line(with_corners(piece, seam, "squared"))
        across = LineString([(100, -400), (100, rise)]).intersection(LineString(cut.path.flatten()))
        x = 110 if seam == "b" else 90
        own = LineString(cut.path.flatten()).intersection(LineString([(x, -400), (x, 499)]))
        ends.append((across.bounds[1], own.bounds[1]))
    # Both end where the seam line led on meets the neighbours' cutting line, square to it.
    assert ends[0] == pytest.approx(ends[1], abs=1e-6)
    assert ends[0][0] == pytest.approx(rise - 10 / cos(radians(slant)), abs=1e-6)
    assert ends[0][1] == pytest.approx(ends[0][0], abs=1e-6)


def folded_up(cut: Path, a: Point, b: Point) -> Polygon:
    """What lies beyond the line a b, turned over it."""
    m = Transform.reflection(a, b)
    o, x, y = m.apply(Point(0, 0)), m.apply_vector(Point(1, 0)), m.apply_vector(Point(0, 1))
    way = (b - a).unit() * 3000
    out = way.normal() * 3000
    beyond = Polygon([a - way, b + way, b + way + out, a - way + out])
    if beyond.intersection(polygon(cut)).area > polygon(cut).area / 2:
        beyond = Polygon([a - way, b + way, b + way - out, a - way - out])
    hem = polygon(cut).intersection(beyond)
    return affine_transform(hem, [x.x, y.x, x.y, y.y, o.x, o.y])


@pytest.mark.parametrize("spread", [-40, -15, 0, 15, 60])
@pytest.mark.parametrize("bow", [0.0, 0.04, -0.04])
def test_a_hem_turned_up_lies_on_the_garment(spread: float, bow: float) -> None:
    a, b, c, d = Point(0, 0), Point(200, 0), Point(200 + spread, 300), Point(-spread, 300)

    def side(p: Point, q: Point, bend: float) -> Path:
        middle = p.mix(q, 0.6) + (q - p).normal() * (bend * 300)
        return smooth([Knot(p), Knot(middle), Knot(q)]) if bend else Path.line(p, q)

    piece = piece_of(
        Edge("waist", Path.line(a, b), allowance=10),
        Edge("right", side(b, c, bow), allowance=15),
        Edge("hem", Path.line(c, d), allowance=40),
        Edge("left", side(d, a, bow), allowance=15),
    )
    cut = cutting_line(piece)
    assert cut.remark == ""
    up = folded_up(cut.path, c, d)
    body = polygon(cut.path)
    assert up.difference(body.buffer(0.05)).area < 0.01  # nothing sticks out
    # and nothing is lacking: for 30 mm up, both side edges of the turned-up cloth lie on those of the garment.
    for y in (295.0, 280.0, 265.0):
        line = LineString([(-500, y), (700, y)])
        assert up.intersection(line).length == pytest.approx(body.intersection(line).length, abs=0.1)
    assert cut.path.bounds().bottom == pytest.approx(340, abs=1e-6)


def test_a_hem_by_the_fold_goes_straight_down_along_it() -> None:
    piece = piece_of(
        Edge("centre", Path.line(Point(0, 200), Point(0, 0)), fold=True, allowance=0),
        Edge("waist", Path.line(Point(0, 0), Point(100, 0)), allowance=10),
        Edge("side", Path.line(Point(100, 0), Point(140, 200)), allowance=15),
        Edge("hem", Path.line(Point(140, 200), Point(0, 200)), allowance=30),
    )
    cut = cutting_line(piece)
    assert cut.path.bounds().left == 0 and {(0, 230), (0, -10)} <= set(corner_points(cut))


@given(st.integers(-25, 25), st.integers(4, 40))
@settings(max_examples=examples(15))
def test_nothing_crosses_the_fold_of_the_cloth(slant: int, width: int) -> None:
    rise = tan(radians(slant)) * 100
    piece = piece_of(
        Edge("centre", Path.line(Point(0, 300 - rise), Point(0, 0)), fold=True),
        Edge("neck", Path.line(Point(0, 0), Point(100, rise)), allowance=width),
        Edge("side", Path.line(Point(100, rise), Point(100, 300)), allowance=15),
        Edge("hem", Path.line(Point(100, 300), Point(0, 300 - rise)), allowance=width),
    )
    assert cutting_line(piece).path.bounds().left >= -1e-9


@given(
    st.integers(10, 45),
    st.integers(60, 130),
    st.sampled_from(["left", "right"]),
    st.sampled_from([0.0, 0.03, -0.05]),
)
@settings(max_examples=examples(20))
def test_the_allowance_over_a_dart_lies_on_the_garment_when_the_dart_is_folded(
    intake: int, length: int, to: str, bow: float
) -> None:
    """The dart is folded in the plane by geometry alone: the underlay is turned over the leg, then over the fold."""
    a, b = Point(0, 0), Point(260, 0)
    top = smooth([Knot(a), Knot(Point(130, -260 * bow)), Knot(b)]) if bow else Path.line(a, b)
    piece = piece_of(
        Edge("waist", top, allowance=12),
        Edge("right", Path.line(b, Point(260, 300)), allowance=12),
        Edge("hem", Path.line(Point(260, 300), Point(0, 300)), allowance=12),
        Edge("left", Path.line(Point(0, 300), a), allowance=12),
    )
    piece = add_dart(
        piece, "dart", "waist", top.length / 2, float(intake), length=float(length), folded_to=to
    )
    dart = piece.darts[0]
    assert dart.tip is not None
    cut = LineString(cutting_line(piece).path.flatten(0.005))
    leg = dart.legs[0] if to == "left" else dart.legs[1]
    onto = Transform.reflection(dart.apex, leg)
    step = (dart.tip - leg) / 8
    reach = (dart.tip - dart.apex).unit() * 60
    for i in range(1, 8):
        ray = LineString([dart.apex, dart.apex + (leg + step * i - dart.apex) * 1.0 + reach])
        over = cut.intersection(ray)
        spots = [Point(p.x, p.y) for p in getattr(over, "geoms", [over])]
        outermost = max(spots, key=lambda p: p.distance(dart.apex))
        assert cut.distance(Spot(onto.apply(outermost))) < NEARER


# --- what there is no room for ------------------------------------------------------------------------------


def slit(wide: float) -> Piece:
    points = (
        (0, 0),
        (100, 0),
        (100, 150),
        (100 + wide, 150),
        (100 + wide, 0),
        (200 + wide, 0),
        (200 + wide, 250),
        (0, 250),
    )
    return straight(points)


def test_an_allowance_wider_than_a_hollow_has_room_for_names_the_edges_and_the_best_that_fits() -> None:
    cut = cutting_line(slit(14))
    assert "“b” and “d”" in cut.remark or "“d” and “b”" in cut.remark
    assert cut.room == pytest.approx(7)
    assert is_simple(cut.path)
    assert polygon(cut.path).covers(least(slit(14)))


def test_a_hollow_with_room_enough_is_cut_into_without_a_word() -> None:
    cut = cutting_line(slit(21))
    assert cut.remark == "" and cut.room is None
    assert not polygon(cut.path).covers(Spot(110.5, 130))


def test_a_hollow_curve_tighter_than_its_allowance_says_so() -> None:
    arc = smooth([Knot(Point(100, 0)), Knot(Point(108, 8)), Knot(Point(116, 0))])
    piece = piece_of(
        Edge("top", Path.line(Point(0, 0), Point(100, 0)), allowance=15),
        Edge("scoop", arc, allowance=15),
        Edge(
            "rest",
            Path.polyline([Point(116, 0), Point(220, 0), Point(220, 90), Point(0, 90), Point(0, 0)]),
            allowance=15,
        ),
    )
    cut = cutting_line(piece)
    assert "“scoop”" in cut.remark
    assert least(piece).difference(polygon(cut.path)).buffer(-0.02).is_empty


def test_no_allowance_leaves_the_seam_line() -> None:
    piece = straight(SQUARE, a=0, b=0, c=0, d=0)
    assert cutting_line(piece).path == piece.outline
