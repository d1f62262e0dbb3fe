"""Pictures of pieces: all there, at one scale, apart from each other, opened out at the fold."""

import re
from dataclasses import replace

import pytest

from catalogue.geometry import Path, Point, Transform
from catalogue.pattern import Cut, Edge, Piece
from catalogue.site.pictures import pieces_picture
from tests.geometry.measures import is_rigid
from tests.site import sample


def frame(svg: str) -> tuple[float, float, float, float]:
    left, top, width, height = map(float, re.findall(r'viewBox="([^"]+)"', svg)[0].split())
    return left, top, width, height


def rectangle(name: str, width: float, height: float, fold: bool = False) -> Piece:
    corners = [
        Point(5, 7),
        Point(5 + width, 7),
        Point(5 + width, 7 + height),
        Point(5, 7 + height),
        Point(5, 7),
    ]
    sides = ("top", "right", "bottom", "left")
    edges = tuple(
        Edge(side, Path.polyline([a, b]), fold=fold and side == "left")
        for side, a, b in zip(sides, corners, corners[1:], strict=False)
    )
    return Piece(name, name.title(), edges, Cut(1, on_fold=fold))


def test_a_piece_on_the_fold_is_opened_out() -> None:
    half, whole = rectangle("front", 200, 500, fold=True), rectangle("back", 400, 500)
    opened, plain = pieces_picture([half], "x"), pieces_picture([whole], "x")
    # Half of it on the fold shows as wide as the whole, give or take the margin of 7 % round the picture.
    assert frame(opened)[2:] == pytest.approx(frame(plain)[2:])
    matrix = Transform(*map(float, re.findall(r"matrix\(([^)]+)\)", opened)[0].split()))
    assert matrix.flips and is_rigid(matrix)
    for y in (7, 507):  # the fold stays where it is
        assert matrix.apply(Point(5, y)).distance(Point(5, y)) < 1e-3
    assert "matrix" not in plain


def test_a_piece_that_is_not_cut_on_the_fold_is_left_as_it_is() -> None:
    piece = rectangle("front", 200, 500, fold=True)
    assert "matrix" not in pieces_picture([replace(piece, cut=Cut(2))], "x")


def test_pieces_don_t_overlap() -> None:
    sizes = [(200, 500), (900, 60), (120, 120), (300, 500), (80, 700), (900, 80), (40, 40)]
    svg = pieces_picture([rectangle(f"p{n}", *size) for n, size in enumerate(sizes)], "x")
    moves = re.findall(r'translate\(([-0-9. ]+)\)"><title>P(\d)<', svg)
    assert len(moves) == len(sizes)
    boxes = []
    for move, n in moves:
        dx, dy = map(float, move.split())
        width, height = sizes[int(n)]
        boxes.append((5 + dx, 7 + dy, 5 + dx + width, 7 + dy + height))
    left, top, width, height = frame(svg)
    for n, (x0, y0, x1, y1) in enumerate(boxes):
        assert left <= x0 and top <= y0 and x1 <= left + width and y1 <= top + height
        for a0, b0, a1, b1 in boxes[:n]:
            assert x1 <= a0 or a1 <= x0 or y1 <= b0 or b1 <= y0


def test_no_piece_gives_an_empty_sheet() -> None:
    assert frame(pieces_picture([], "nothing"))[2] > 0


def test_the_picture_is_named_for_screen_readers() -> None:
    svg = pieces_picture(list(sample.draft().pieces.values()), "Pieces of <this>")
    assert "<title>Pieces of &lt;this&gt;</title>" in svg and "<title>Bodice back</title>" in svg
