"""Edges trued: run on across a seam, square at a fold, level, shaped, moved outwards; and facings traced."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from catalogue.geometry import Knot, Path, Point, Transform, is_simple, polygon, signed_area, smooth
from catalogue.pattern import Piece
from catalogue.pattern.making import PieceError, make_piece, with_ends
from catalogue.pattern.seams import walk
from catalogue.pattern.tracing import band
from catalogue.pattern.truing import (
    extend_edge,
    level,
    redraw,
    shape_edge,
    smoothed,
    squared,
    straighten,
    true_across,
    turned_end,
)
from tests.pattern.paper import bodices, few, floats, moves, quads


def bend(first: Piece, second: Piece, seam: str, edge: str) -> float:
    walked = walk(
        {first.name: first, second.name: second}, [f"{first.name}.{seam}"], [f"{second.name}.{seam}"]
    )
    return next(b.degrees for b in walked.bends if b.first == f"{first.name}.{edge}")


def renamed(piece: Piece, name: str, move: Transform | None = None) -> Piece:
    """The piece under another name, moved; a move that flips it is redrawn clockwise."""
    if move is None:
        return piece.with_changes(name=name)
    edges = [
        e.__class__(e.name, e.path.transformed(move), e.fold, e.allowance, e.corners) for e in piece.edges
    ]
    return make_piece(name, name.capitalize(), edges, piece.cut, {})


flips = st.one_of(moves, moves.map(lambda m: Transform.scaling(-1, 1).then(m)))


@few
@given(quads(), quads(), flips)
def test_trued_across_a_seam_there_is_no_bend_left(one, two, move):
    """Whichever way the pieces lie or are turned over; each gives half, and lengths of seams stay."""
    first, second = renamed(one, "first"), renamed(two, "second", move)
    before = bend(first, second, "right", "bottom")
    assume(1 < abs(before) < 50)
    try:
        a, b = true_across(first, "bottom", "right", second, "bottom", "right")
    except PieceError as error:
        assume("crosses itself" not in error.message)
        raise
    assert bend(a, b, "right", "bottom") == pytest.approx(0, abs=1e-6)
    assert a.edge("right").path.length == pytest.approx(first.edge("right").path.length)
    assert b.edge("right").path.length == pytest.approx(second.edge("right").path.length)
    # The far ends of the trued edges, and the directions they have there, stay as they were.
    for old, new in ((first, a), (second, b)):
        was, now = old.edge("bottom").path, new.edge("bottom").path
        assert {was.start, was.end} == {now.start, now.end}


@few
@given(quads())
def test_squared_to_a_neighbour(piece):
    try:
        made = squared(piece, "bottom", "left")
    except PieceError as error:
        assume("crosses itself" not in error.message)
        raise
    path, other = made.edge("bottom").path, made.edge("left").path
    corner = path.tangent_at(path.length, before=True).dot(other.tangent_at(0.0))
    assert math.degrees(math.acos(corner)) == pytest.approx(90)


@few
@given(quads(), floats(-20, 40))
def test_levelled_edges_are_of_one_length(piece, by):
    try:
        first, second = renamed(piece, "first"), shape_edge(renamed(piece, "second"), "bottom", {"right": by})
        a, b = first.edge("right").path.length, second.edge("right").path.length
        x, y = level(first, "right", second, "right", "bottom")
    except PieceError as error:
        assume("crosses itself" not in error.message)
        raise
    assert x.edge("right").path.length == pytest.approx(y.edge("right").path.length, abs=1e-6)
    assert x.edge("right").path.length == pytest.approx((a + b) / 2, abs=1e-6)


@few
@given(quads(), floats(-20, 40), floats(-20, 40), st.booleans())
def test_a_hem_shaped_is_so_much_higher_at_its_ends(piece, up_right, up_left, pointed):
    try:
        made = shape_edge(piece, "bottom", {"right": up_right, "left": up_left}, pointed)
    except PieceError as error:
        assume("crosses itself" not in error.message)
        raise
    for edge, by in (("right", up_right), ("left", up_left)):
        assert piece.edge(edge).path.length - made.edge(edge).path.length == pytest.approx(by, abs=1e-6)
    hem = made.edge("bottom").path
    if pointed:
        assert hem.length == pytest.approx(hem.start.distance(hem.end))


@few
@given(quads(), floats(5, 40))
def test_an_edge_moved_outwards_lies_so_far_from_the_old_one(piece, by):
    """As for a button stand: the new edge is parallel, the old one stays as a guide line."""
    old = piece.edge("left").path
    try:
        made = extend_edge(piece, "left", by, "front_edge")
    except PieceError as error:
        assume("crosses itself" not in error.message and "run alongside" not in error.message)
        raise
    new = made.edge("front_edge").path
    for share in (0.25, 0.5, 0.75):
        assert old.extended(900, 900).nearest(new.point_at(new.length * share))[1] == pytest.approx(
            by, abs=0.05
        )
    assert [line.path for line in made.lines if line.text == "left"] == [old]
    assert signed_area(made.outline) > signed_area(piece.outline)


@few
@given(quads())
def test_redrawn_straight_smooth_and_along_a_line(piece):
    path = piece.edge("top").path
    try:
        straight = straighten(piece, "top")
        made = redraw(straight, "top", path.reversed())
    except PieceError as error:
        assume("crosses itself" not in error.message)
        raise
    assert straight.edge("top").path.length == pytest.approx(path.start.distance(path.end))
    assert made.edge("top").path.start == path.start
    assert made.edge("top").path.length == pytest.approx(path.length)
    for notch in straight.notches:
        assert straight.edge(notch.edge).path.nearest(notch.at)[1] < 1e-6
    smooth = smoothed(piece, "top")
    assert smooth.edge("top").path.corners() == ()
    assert (smooth.edge("top").path.start, smooth.edge("top").path.end) == (path.start, path.end)


@few
@given(
    bodices(()),
    floats(30, 60),
    st.sampled_from([("neck",), ("neck", "shoulder"), ("shoulder", "armhole"), ("armhole",)]),
)
def test_a_facing_is_as_wide_as_it_is_said_to_be(piece, width, edges):
    """All of it lies on the piece, none farther than its width from the edges; its outer edges are the piece's own."""
    try:
        facing = band(piece, "facing", "Facing", edges, width, None)
    except PieceError as error:
        assume("No facing" not in error.message and "no facing" not in error.message)
        raise
    for edge in edges:
        assert facing.edge(edge).path.length == pytest.approx(piece.edge(edge).path.length, abs=0.01)
    whole, part = polygon(piece.outline, 0.005), polygon(facing.outline, 0.005)
    assert part.difference(whole.buffer(0.02)).area < 0.5
    assert is_simple(facing.outline)
    inner = facing.edge("inner").path
    for share in (0.3, 0.5, 0.7):
        at = inner.point_at(inner.length * share)
        nearest = min(piece.edge(e).path.nearest(at)[1] for e in edges)
        assert nearest == pytest.approx(width, abs=0.1)


def sharpest(path: Path, within: float) -> float:
    """The smallest radius, mm, of the last stretch of a path, by the turn between tangents 0.2 mm apart."""
    step, radius = 0.2, math.inf
    s = path.length - within
    while s + step < path.length - 1e-9:
        turn = abs(math.asin(path.tangent_at(s).cross(path.tangent_at(s + step))))
        radius = min(radius, step / turn if turn > 1e-9 else math.inf)
        s += step
    return radius


@pytest.mark.parametrize("stub", [0.3, 1.0, 4.0, 15.0])
@pytest.mark.parametrize("at_start", [True, False])
def test_a_stub_left_by_a_cut_is_not_bent_into_a_hook(stub, at_start):
    curve = smooth([Knot(Point(0, 0), None, Point(1, 0)), Knot(Point(90, 60), Point(0, 1), None)])
    cut_there = curve.length - stub
    path = curve.between(0, cut_there).joined(curve.between(cut_there, curve.length))
    assert len(path.segments) == 2
    wanted = path.tangent_at(path.length, before=True).turned(-8)
    bent = turned_end(path.reversed() if at_start else path, at_start, -wanted if at_start else wanted)
    bent = bent.reversed() if at_start else bent
    assert bent.tangent_at(bent.length, before=True).dot(wanted) == pytest.approx(1)
    assert (bent.start, bent.end) == (path.start, path.end)
    assert bent.corners() == ()
    # Turned by 8 degrees and back to its end over 20 mm: no part of it has a radius of millimetres.
    assert sharpest(bent, 25.0) > 25.0
    assert bent.nearest(path.point_at(path.length - 10))[1] < 2.0


@pytest.mark.parametrize("stub", [0.3, 1.6, 4.0])
@pytest.mark.parametrize("at_start", [True, False])
def test_moving_the_end_of_a_stub_bends_what_lies_before_it_too(stub, at_start):
    curve = smooth([Knot(Point(0, 0), None, Point(1, 0)), Knot(Point(90, 60), Point(0, 1), None)])
    cut_there = curve.length - stub
    path = curve.between(0, cut_there).joined(curve.between(cut_there, curve.length))
    to = path.end + Point(0.5, 0)
    moved = (
        with_ends(path.reversed(), to, path.start).reversed() if at_start else with_ends(path, path.start, to)
    )
    assert (moved.start, moved.end) == (path.start, to) and moved.corners() == ()
    # A side step of 0.5 mm on the last 20: gentle everywhere.
    assert sharpest(moved, 25.0) > 25.0
    assert moved.arriving.dot(path.arriving) == pytest.approx(1)


def test_a_corner_that_was_meant_is_not_bent_away():
    path = Path.polyline([Point(0, 0), Point(80, 0), Point(88, 6)])
    bent = turned_end(path, False, Point(1, 0))
    assert len(bent.corners()) == 1 and bent.point_at(bent.corners()[0]).distance(Point(80, 0)) < 1e-6
