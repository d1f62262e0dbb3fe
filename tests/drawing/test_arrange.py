"""Pieces side by side: in order, apart, none overlapping."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import box

from catalogue.drawing.arrange import arrange, moved_piece
from catalogue.drawing.bounds import BoundsCanvas
from catalogue.drawing.paint import paint_piece
from catalogue.geometry import Point, Transform
from catalogue.pattern import Edge, Piece
from tests.drawing.pieces import bodice_front, draft, line
from tests.extent import examples


def slab(name: str, width: float, height: float) -> Piece:
    a, b, c, d = Point(0, 0), Point(width, 0), Point(width, height), Point(0, height)
    return Piece(name, name, (Edge("round", line(a, b, c, d, a)),))


@given(st.lists(st.tuples(st.floats(20, 900), st.floats(20, 900)), min_size=1, max_size=12))
@settings(max_examples=examples(25))
def test_pieces_keep_their_distance(sizes: list[tuple[float, float]]) -> None:
    placed = arrange([slab(str(i), w, h) for i, (w, h) in enumerate(sizes)], gap=30)
    boxes = [p.moved().outline.bounds() for p in placed]
    assert [p.piece.name for p in placed] == [str(i) for i in range(len(sizes))]
    for a, b in combinations(boxes, 2):
        assert box(*a).distance(box(*b)) > 30 - 1e-6
    for (w, h), at in zip(sizes, boxes, strict=True):
        assert abs(at.width - w) < 1e-9
        assert abs(at.height - h) < 1e-9


def test_short_pieces_stand_under_one_another() -> None:
    placed = arrange([slab("tall", 200, 600), slab("a", 150, 100), slab("b", 150, 100), slab("c", 150, 100)])
    xs = {p.piece.name: p.moved().outline.bounds().left for p in placed}
    assert xs["a"] == xs["b"] == xs["c"] > xs["tall"]


def test_nothing_gives_nothing() -> None:
    assert arrange([]) == []


def test_everything_on_a_piece_moves_with_it() -> None:
    piece = bodice_front()
    move = Transform.rotation(90).then(Transform.translation(Point(500, 20)))
    back = moved_piece(moved_piece(piece, move), move.inverse())

    def near(a: Point | None, b: Point | None) -> bool:
        return a is not None and b is not None and a.distance(b) < 1e-6

    assert all(
        near(a.apex, b.apex) and near(a.tip, b.tip) for a, b in zip(piece.darts, back.darts, strict=True)
    )
    assert all(near(a.at, b.at) for a, b in zip(piece.notches, back.notches, strict=True))
    assert near(piece.marks[0].at, back.marks[0].at)
    assert near(piece.grain[0], back.grain[0])  # type: ignore[index]
    assert near(piece.points["bust_point"], back.points["bust_point"])
    assert abs(moved_piece(piece, move).marks[0].angle - 90) < 1e-9


def test_bounds_take_in_all_that_is_drawn() -> None:
    for piece in draft().pieces.values():
        canvas = BoundsCanvas()
        paint_piece(canvas, piece)
        assert canvas.box is not None
        assert canvas.box.grown(1e-6).contains(piece.outline.bounds())


def test_tall_pieces_come_first_and_short_ones_stand_beside_them() -> None:
    placed = arrange([slab("low", 300, 60), slab("tall", 200, 600), slab("flat", 300, 50)])
    boxes = {p.piece.name: p.moved().outline.bounds() for p in placed}
    assert boxes["tall"].left < boxes["low"].left == boxes["flat"].left
    assert boxes["low"].bottom < boxes["flat"].top
