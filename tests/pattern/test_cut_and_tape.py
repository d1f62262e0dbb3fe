"""Scissors and tape on random paper: what is cut and taped again is as it was, and nothing on it is lost."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from catalogue.geometry import Path, Point, Transform, contains, polygon, signed_area
from catalogue.pattern import Cut, Edge, Piece
from catalogue.pattern.joining import tape, unfold
from catalogue.pattern.making import PieceError, make_piece
from catalogue.pattern.parting import cut
from tests.pattern.paper import STRAY, apart, bodices, few, left_out, quads, shares


def line_across(piece: Piece, first: str, second: str, s: float, t: float) -> Path:
    a, b = piece.edge(first).path, piece.edge(second).path
    return Path.line(a.point_at(a.length * s), b.point_at(b.length * t))


@few
@given(quads(), shares(), shares(), st.booleans())
def test_cut_and_taped_again_is_as_before(piece, s, t, upright):
    ends = ("top", "bottom") if upright else ("right", "left")
    first, second = cut(piece, line_across(piece, *ends, s, t), [("a", "A"), ("b", "B")], "cut")
    assert first.edge("cut").path.length == pytest.approx(second.edge("cut").path.length)
    assert signed_area(first.outline) + signed_area(second.outline) == pytest.approx(
        signed_area(piece.outline), rel=1e-9
    )
    assert left_out(piece, first, second) == set()
    again = tape(second, "cut", first, "cut", "sheet", "Sheet")
    assert apart(piece.outline, again.outline) < STRAY
    assert signed_area(again.outline) == pytest.approx(signed_area(piece.outline), rel=1e-9)
    assert left_out(piece, again) == set()
    assert {e.name for e in again.edges} == {e.name for e in piece.edges}
    for edge in piece.edges:
        assert again.edge(edge.name).path.length == pytest.approx(edge.path.length, abs=1e-6)
    assert sum(line.path.length for line in again.lines) == pytest.approx(
        sum(line.path.length for line in piece.lines)
    )


@few
@given(quads(), shares(), shares())
def test_parts_are_what_shapely_cuts(piece, s, t):
    """The regions and areas of the parts against shapely's own splitting of the polygon."""
    from shapely.geometry import LineString
    from shapely.ops import split

    line = line_across(piece, "top", "bottom", s, t)
    first, second = cut(piece, line, [("a", "A"), ("b", "B")], "cut")
    whole = polygon(piece.outline, 0.001)
    a, b = line.start, line.end
    out = (b - a).unit() * 2000
    parts = sorted(g.area for g in split(whole, LineString([a - out, b + out])).geoms)
    assume(len(parts) == 2)
    ours = sorted(signed_area(p.outline) for p in (first, second))
    assert ours == pytest.approx(parts, rel=1e-4)
    assert polygon(first.outline).intersection(polygon(second.outline)).area < 1.0


@few
@given(bodices(), shares(), shares())
def test_a_bodice_cut_below_the_armhole_and_taped_again(piece, s, t):
    line = line_across(piece, "centre", "armhole", s, t)
    try:
        first, second = cut(piece, line, [("top", "Top"), ("low", "Low")], "cut")
    except PieceError as error:
        assert "runs through the dart" in error.message or "comes back" in error.message
        return
    assert left_out(piece, first, second) == set()
    again = tape(second, "cut", first, "cut", "front", "Front")
    assert apart(piece.outline, again.outline) < STRAY
    assert left_out(piece, again) == set()
    assert {e.name for e in again.edges} == {e.name for e in piece.edges}
    assert again.edge("centre").fold
    assert again.cut == piece.cut


@few
@given(quads(curved=False), shares(), shares())
def test_mirrored_twice_is_the_same(piece, s, t):
    """Unfolded on a straight edge and cut along it again, both halves are the piece; so is a half mirrored twice."""
    try:
        both = unfold(piece, "left")
    except PieceError as error:
        assert "crosses itself" in error.message
        return
    assert signed_area(both.outline) == pytest.approx(2 * signed_area(piece.outline), rel=1e-9)
    left = piece.edge("left").path
    half, other = cut(both, left, [("a", "A"), ("b", "B")], "left", piece.edge("right").path.point_at(1.0))
    assert apart(half.outline, piece.outline) < STRAY
    flip = Transform.reflection(left.start, left.end)
    assert apart(other.outline.transformed(flip), piece.outline) < STRAY
    twice = piece.outline.transformed(flip).transformed(flip)
    assert apart(twice, piece.outline) < 1e-9
    assert {m.text for m in half.marks} == {m.text for m in piece.marks}
    assert len(both.marks) == 2 * len(piece.marks)
    assert len(both.notches) == 2 * len(piece.notches) - sum(n.edge == "left" for n in piece.notches) * 2


def half(name: str) -> Piece:
    """Half a bodice with its centre on the left, as backs and fronts are both drawn."""
    corners = [Point(0, 0), Point(70, -20), Point(190, 20), Point(230, 220), Point(0, 220)]
    names = ["neck", "shoulder", "armhole", "waist", "centre"]
    edges = [
        Edge(n, Path.line(a, b)) for n, a, b in zip(names, corners, [*corners[1:], corners[0]], strict=True)
    ]
    return make_piece(name, name.title(), edges, Cut(), {"neck_point": corners[1]})


def test_pieces_drawn_the_same_way_round_are_taped_neck_to_neck():
    """A front is turned over onto its back at the shoulder, as the body has it (common practice, no source)."""
    made = tape(half("front"), "shoulder", half("back"), "shoulder", "yoke", "Yoke")
    assert [e.name for e in made.edges].count("neck") == 1
    names = {e.name: e.path.length for e in made.edges}
    assert names["neck"] == pytest.approx(2 * half("back").edge("neck").path.length, abs=1e-6)
    assert names["armhole"] == pytest.approx(2 * half("back").edge("armhole").path.length, abs=1e-6)
    assert signed_area(made.outline) == pytest.approx(2 * signed_area(half("back").outline), rel=1e-9)


@few
@given(quads(curved=False), shares(), shares())
def test_both_parts_keep_the_grain(piece, s, t):
    """Each part has a grain line of its own paper, in the direction it had."""
    parts = cut(piece, line_across(piece, "right", "left", s, t), [("a", "A"), ("b", "B")], "cut")
    was = (piece.grain[1] - piece.grain[0]).unit()
    for part in parts:
        assert part.grain is not None
        assert abs((part.grain[1] - part.grain[0]).unit().dot(was)) == pytest.approx(1)
        assert contains(part.outline, part.grain[0].mix(part.grain[1], 0.5))
