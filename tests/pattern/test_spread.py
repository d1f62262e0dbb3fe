"""Slashed and spread, lapped, lengthened, and a wedge folded out, on random paper."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from catalogue.geometry import Knot, Path, Point, Transform, contains, is_simple, signed_area, smooth
from catalogue.pattern import Cut, Edge, Mark, Notch, Piece
from catalogue.pattern.lengthening import fold_out, folded, lengthen
from catalogue.pattern.making import PieceError, make_piece
from catalogue.pattern.measure import sewn_length
from catalogue.pattern.parting import cut
from catalogue.pattern.spreading import Slash, even_lines, spread
from tests.pattern.paper import STRAY, apart, bodices, few, floats, quads, shares


def wont_go(error: PieceError) -> bool:
    """Random paper that is reported rightly: a line over a hollow edge, too much on too little."""
    return any(w in error.message for w in ("crosses itself", "fold over itself", "leaves the piece"))


def straight(piece: Piece, line: Path) -> float:
    return line.start.distance(line.end)


@few
@given(quads(), st.integers(1, 6), floats(2, 40), floats(0, 40))
def test_spreading_adds_what_is_said(piece, count, at_bottom, at_top):
    """Each edge grows by the number of lines times the amount, the other edges keep their length."""
    lines = even_lines(piece, count, "top", "bottom")
    slashes = [Slash(line, at_top, at_bottom) for line in lines]
    try:
        made = spread(piece, slashes)
    except PieceError as error:
        assume(not wont_go(error))
        raise
    length = {e.name: e.path.length for e in piece.edges}
    assert made.edge("bottom").path.length == pytest.approx(length["bottom"] + count * at_bottom, abs=1e-6)
    assert made.edge("top").path.length == pytest.approx(length["top"] + count * at_top, abs=1e-6)
    for name in ("left", "right"):
        assert made.edge(name).path.length == pytest.approx(length[name], abs=1e-6)
    # The area grows by a trapezium for each slash: its two sides are the slash, the others the openings.
    added = sum(trapezium(straight(piece, line), at_top, at_bottom) for line in lines)
    assert signed_area(made.outline) - signed_area(piece.outline) == pytest.approx(added, rel=1e-6, abs=1e-3)


def trapezium(side: float, a: float, b: float) -> float:
    """Area between two lines of one length that are `a` apart at one end and `b` at the other, evenly askew."""
    height = math.sqrt(max(side**2 - ((a - b) / 2) ** 2, 0.0))
    return (a + b) / 2 * height


@few
@given(quads(), st.integers(1, 4), floats(5, 30), st.sampled_from(["gathers", "pleats"]))
def test_spread_as_fullness_is_sewn_as_long_as_before(piece, count, amount, kind):
    slashes = [Slash(line, amount, 0.0) for line in even_lines(piece, count, "top", "bottom")]
    try:
        made = spread(piece, slashes, kind)
    except PieceError as error:
        assume(not wont_go(error))
        raise
    assert len(made.pleats) == count
    assert {p.edge for p in made.pleats} == {"top"}
    assert sewn_length(made, "top") == pytest.approx(piece.edge("top").path.length, abs=STRAY)
    assert made.edge("bottom").path.length == pytest.approx(piece.edge("bottom").path.length, abs=1e-6)


@few
@given(quads(), shares(0.3, 0.7), shares(0.3, 0.7), floats(5, 60))
def test_lengthened_and_shortened_again_is_as_before(piece, s, t, by):
    left, right = piece.edge("left").path, piece.edge("right").path
    line = Path.line(left.point_at(left.length * s), right.point_at(right.length * t))
    assume(min(sheet_beside(piece, line)) > 1.5 * by)
    halves = [signed_area(p.outline) for p in cut(piece, line, [("a", "A"), ("b", "B")], "cut")]
    assume(abs(halves[0] - halves[1]) > 1.2 * line.length * by)  # else either may be the one that stays
    longer = lengthen(piece, line, by)
    assert signed_area(longer.outline) - signed_area(piece.outline) == pytest.approx(
        line.length * by, rel=1e-6
    )
    assert len(longer.lines) == len(piece.lines)
    for edge in (left, right):
        name = next(e.name for e in piece.edges if e.path is edge)
        assert longer.edge(name).path.length == pytest.approx(edge.length + by, abs=1e-6)
    # The strip is taken out beyond the line, on the side of the part that moves; either part may be the one.
    across = (line.end - line.start).normal() * by
    for shift in (across * 0, across, -across):
        where = line.transformed(Transform.translation(shift))
        try:
            again = lengthen(longer, where, -by)
        except PieceError:
            continue
        # Either part may be the one that stays, so the paper may lie elsewhere on the table.
        back = piece.edges[0].path.start - again.edges[0].path.start
        if apart(again.outline.transformed(Transform.translation(back)), piece.outline) < STRAY:
            break
    else:
        pytest.fail("it does not come back")
    assert len(again.lines) == len(piece.lines)
    for was, now in zip(piece.marks, sorted(again.marks, key=lambda m: m.text), strict=True):
        assert was.at.distance(now.at + back) < STRAY, was.text


def sheet_beside(piece: Piece, line: Path) -> tuple[float, float]:
    """The room above and below a line that runs from left to right."""
    return tuple(
        min(
            abs((piece.edge(e).path.point_at(x) - line.start).dot((line.end - line.start).normal()))
            for x in (0.0, piece.edge(e).path.length)
        )
        for e in ("top", "bottom")
    )  # type: ignore[return-value]


@few
@given(quads(curved=False), floats(3, 40), shares(0.3, 0.7), shares(0.2, 0.8))
def test_a_wedge_takes_out_half_its_amount_times_its_length(piece, amount, s, t):
    """Its sides are equally long, so its area is half the amount times the height on it."""
    left, right = piece.edge("left").path, piece.edge("right").path
    at, to = left.point_at(left.length * s), right.point_at(right.length * t)
    # The wedge stands square on the edge it is folded at, so that its sides are equal before it is folded.
    foot = left.nearest(to)
    assume(0.3 * left.length < foot[0] < 0.7 * left.length)
    at = left.point_at(foot[0])
    assume(at.distance(to) > 3 * amount)
    made = folded(piece, at, amount, to)
    taken = signed_area(piece.outline) - signed_area(made.outline)
    assert taken == pytest.approx(amount * at.distance(to) / 2, rel=1e-9)
    assert left.length - made.edge("left").path.length == pytest.approx(amount, abs=1e-6)
    assert is_simple(made.outline)
    redrawn = fold_out(piece, at, amount, to)
    path = redrawn.edge("left").path
    assert path.length == pytest.approx(path.start.distance(path.end))
    assert redrawn.edge("right").path.length == pytest.approx(right.length, abs=1e-6)


@few
@given(quads(), st.integers(1, 4), floats(2, 25))
def test_overlapping_is_spreading_backwards(piece, count, amount):
    """Lapped by as much at each line, an edge is shorter by all of it; lapped paper opened again is as before."""
    lines = even_lines(piece, count, "top", "bottom")
    assume(min(piece.edge(e).path.length for e in ("top", "bottom")) > 4 * (count + 1) * amount)
    try:
        made = spread(piece, [Slash(line, 0.0, -amount) for line in lines])
    except PieceError as error:
        assume(not wont_go(error))
        raise
    assert made.edge("bottom").path.length == pytest.approx(
        piece.edge("bottom").path.length - count * amount, rel=0.02
    )
    assert made.edge("top").path.length == pytest.approx(piece.edge("top").path.length, abs=1e-6)
    assert signed_area(made.outline) < signed_area(piece.outline)


@few
@given(bodices(("waist",)), floats(5, 20))
def test_a_hollow_chest_folded_out_of_a_bodice(piece, amount):
    """From the centre to nothing at the armhole: the shoulder, side and waist keep their length."""
    centre, armhole = piece.edge("centre").path, piece.edge("armhole").path
    at = centre.point_at(centre.length * 0.7)
    to = armhole.point_at(armhole.length * 0.4)
    before = {e.name: sewn_length(piece, e.name) for e in piece.edges}
    made = fold_out(piece, at, amount, to)
    for name in ("shoulder", "side", "waist", "neck", "armhole"):
        assert sewn_length(made, name) == pytest.approx(
            before[name], abs=amount * 0.1 if name == "neck" else 0.2
        ), name
    assert before["centre"] - sewn_length(made, "centre") == pytest.approx(amount, rel=0.25)


def spotted(piece: Piece, *spots: Point) -> Piece:
    return piece.with_changes(
        points={f"at_{i}": s for i, s in enumerate(spots)},
        marks=tuple(Mark(s, "drill", f"hole {i}") for i, s in enumerate(spots)),
    )


def plain_sheet() -> Piece:
    corners = [Point(0, 0), Point(200, 0), Point(200, 300), Point(0, 300), Point(0, 0)]
    names = ("top", "right", "bottom", "left")
    edges = [Edge(n, Path.line(a, b)) for n, (a, b) in zip(names, pairwise(corners), strict=True)]
    return make_piece("sheet", "Sheet", edges, Cut(), {})


def test_what_lies_on_the_strip_that_is_taken_out_stays_on_the_fold():
    """Folded away like paper: a point on the strip is then seen, and pricked through, where the fold lies."""
    sheet = spotted(plain_sheet(), Point(80, 142), Point(80, 148), Point(80, 90), Point(80, 250))
    sheet = sheet.with_changes(notches=(Notch("right", Point(200, 145)),))
    made = lengthen(sheet, Path.line(Point(0, 150), Point(200, 150)), -20.0)
    folds = sorted({round(made.points[n].y - made.edge("top").path.start.y, 6) for n in ("at_0", "at_1")})
    assert len(folds) == 1 and folds[0] in (130.0, 150.0)
    assert made.points["at_3"].y - made.points["at_2"].y == pytest.approx(140)
    assert {m.text: m.at for m in made.marks} == {f"hole {i}": made.points[f"at_{i}"] for i in range(4)}
    (notch,) = made.notches
    assert notch.edge == "right" and made.edge("right").path.nearest(notch.at)[1] < 1e-6
    assert notch.at.y == pytest.approx(made.points["at_0"].y)


def test_what_lies_in_a_wedge_that_is_folded_out_stays_on_its_middle():
    sheet = spotted(plain_sheet(), Point(60, 150), Point(60, 153), Point(60, 147), Point(60, 40))
    made = fold_out(sheet, Point(0, 150), 15.0, Point(200, 150))
    assert set(made.points) == set(sheet.points) and len(made.marks) == 4
    hinge = Point(200, 150)
    # As far from the hinge as it was, and all three on one line through it.
    for name in ("at_0", "at_1", "at_2"):
        assert made.points[name].distance(hinge) == pytest.approx(140, abs=0.5)
        assert contains(made.outline, made.points[name])
    a, b = made.points["at_0"] - hinge, made.points["at_2"] - hinge
    assert abs(a.unit().cross(b.unit())) < 1e-6


def test_what_was_cut_off_before_does_not_come_back():
    sheet = plain_sheet().with_changes(points={"off": Point(900, 155)})
    assert lengthen(sheet, Path.line(Point(0, 150), Point(200, 150)), -20.0).points == {}


@pytest.mark.parametrize("taper", [0, -60, 40])
@pytest.mark.parametrize("count", [4, 6, 7, 8])
@pytest.mark.parametrize("at", [(10.0, 10.0), (26.0, 0.0), (0.0, 40.0)])
def test_many_lines_over_a_hollow_edge_of_a_piece_with_no_side_that_stays(taper, count, at):
    """As the paper grows, the half that stays may change; the lines still to come go with the half they lie on."""
    a, b, c, d = Point(0, 0), Point(300, 0), Point(300 + taper, 300), Point(0, 300)
    edges = [
        Edge("top", smooth([Knot(a), Knot(Point(150, 30)), Knot(b)])),
        Edge("right", Path.line(b, c)),
        Edge("bottom", Path.line(c, d)),
        Edge("left", Path.line(d, a)),
    ]
    sheet = make_piece("sheet", "Sheet", edges, Cut(), {})
    made = spread(sheet, [Slash(line, *at) for line in even_lines(sheet, count, "top", "bottom")])
    for name, amount in zip(("top", "bottom"), at, strict=True):
        grown = made.edge(name).path.length - sheet.edge(name).path.length
        assert grown == pytest.approx(count * amount, abs=1e-6)
    for name in ("left", "right"):
        assert made.edge(name).path.length == pytest.approx(sheet.edge(name).path.length, abs=1e-6)
