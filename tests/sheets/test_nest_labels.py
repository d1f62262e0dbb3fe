"""Names on a nested sheet: legible, on nothing else, and nearest to the line or mark that they name."""

from __future__ import annotations

from dataclasses import replace

import pytest
from shapely import LineString, Polygon
from shapely import Point as ShapelyPoint
from shapely.affinity import rotate, translate

from catalogue.drawing.lettering import text_width
from catalogue.drawing.room import Spot
from catalogue.geometry import Path, Point
from catalogue.pattern import Mark, Notch, Piece
from catalogue.sheets.nest_labels import NestedPiece, PlacedName, names_on
from tests.drawing.pieces import bodice_back, bodice_front, sleeve, tab


def box(written: PlacedName) -> Polygon:
    """The room that a name takes: from its baseline up by the height of its capitals (0.7 of its size)."""
    (x, y), size, angle = written.spot
    half = text_width(written.words, size) / 2
    level = Polygon([(-half, -0.7 * size), (half, -0.7 * size), (half, 0), (-half, 0)])
    return translate(rotate(level, angle, origin=(0, 0)), x, y)


def line_of(sheet: NestedPiece) -> LineString:
    points = sheet.outline.flatten(0.1)
    return LineString([*points, points[0]])


def sheets_of(*pieces: Piece) -> list[NestedPiece]:
    return [NestedPiece(f"size {n}", piece, piece.outline) for n, piece in enumerate(pieces, 36)]


def bare(piece: Piece) -> Piece:
    """The piece with nothing on it that could bear a name."""
    return replace(piece, darts=(), notches=(), marks=())


FAMILIES = {
    "fronts": [bodice_front(240 + 11 * i, 420 + 6 * i) for i in range(8)],
    "backs": [bodice_back(230 + 9 * i, 410 + 4 * i) for i in range(5)],
    "sleeves": [sleeve(320 + 10 * i, 555 + 5 * i) for i in range(12)],
}


@pytest.mark.parametrize("name", FAMILIES)
def test_no_name_touches_a_line_or_another_name(name: str) -> None:
    sheets = sheets_of(*FAMILIES[name])
    found = names_on(sheets, ())
    lines = [line_of(sheet) for sheet in sheets]
    lines += [
        LineString([dart.legs[0], dart.apex, dart.legs[1]]) for sheet in sheets for dart in sheet.piece.darts
    ]
    boxes = [box(written) for names in found for written in names]
    assert len(boxes) >= len(sheets)
    for n, one in enumerate(boxes):
        assert not any(one.intersects(line) for line in lines)
        assert not any(one.intersects(other) for other in boxes[n + 1 :])


@pytest.mark.parametrize("name", FAMILIES)
def test_every_size_is_named_at_its_own_line_and_legibly(name: str) -> None:
    sheets = sheets_of(*(bare(piece) for piece in FAMILIES[name]))
    lines = [line_of(sheet) for sheet in sheets]
    for n, names in enumerate(names_on(sheets, ())):
        assert names, sheets[n].name
        for written in names:
            assert written.words == sheets[n].name
            assert written.spot.size >= 2.4  # a typewriter's capitals are 2.6 mm tall - from memory
            away = [line.distance(box(written)) for line in lines]
            assert away[n] == min(away) and away[n] < 2.5


def test_no_name_stands_at_an_edge_that_all_have_in_common() -> None:
    sheets = sheets_of(*(bare(piece) for piece in FAMILIES["fronts"]))
    fold = LineString(sheets[0].piece.edge("centre_front").path.flatten(0.1))
    for names in names_on(sheets, ()):
        assert all(fold.distance(ShapelyPoint(written.spot.at)) > 3 for written in names)


def test_darts_bear_the_name_beyond_their_points() -> None:
    def moved(piece: Piece, by: float) -> Piece:
        def along(p: Point) -> Point:
            return p + Point(-by, 0.0)

        darts = [
            replace(d, apex=along(d.apex), legs=(along(d.legs[0]), along(d.legs[1]))) for d in piece.darts
        ]
        return replace(piece, darts=tuple(darts))

    sheets = sheets_of(*(moved(piece, 9 * i) for i, piece in enumerate(FAMILIES["fronts"][:4])))
    for sheet, names in zip(sheets, names_on(sheets, ()), strict=True):
        at_darts = [
            min(names, key=lambda w: w.spot.at.distance(dart.apex)).spot.at.distance(dart.apex)
            for dart in sheet.piece.darts
        ]
        assert max(at_darts) < 25
    # Points that lie together for all are one point.
    same = sheets_of(*(replace(piece, marks=(), notches=()) for piece in FAMILIES["fronts"][:4]))
    apexes = [dart.apex for dart in same[0].piece.darts]
    for names in names_on(same, ()):
        assert all(w.spot.at.distance(apex) > 25 for w in names for apex in apexes)


def test_notches_are_named_on_a_common_edge_alone() -> None:
    def notched(i: int, edge: str, share: float) -> Piece:
        piece = bare(bodice_front(240 + 11 * i))
        path = piece.edge(edge).path
        return replace(piece, notches=(Notch(edge, path.point_at(share * path.length)),))

    def more(pieces: list[Piece]) -> list[int]:
        with_notches = names_on(sheets_of(*pieces), ())
        without = names_on(sheets_of(*(bare(p) for p in pieces)), ())
        return [len(a) - len(b) for a, b in zip(with_notches, without, strict=True)]

    def near(pieces: list[Piece]) -> list[bool]:
        return [
            any(w.spot.at.distance(p.notches[0].at) < 22 for w in names)
            for p, names in zip(pieces, names_on(sheets_of(*pieces), ()), strict=True)
        ]

    # Beside each other along the fold that all share: each is named.
    beside = [notched(i, "centre_front", 0.3 + 0.06 * i) for i in range(4)]
    assert near(beside) == [True] * 4 and min(more(beside)) >= 0
    # At one place for all: there is nothing to tell apart.
    together = [notched(i, "centre_front", 0.3) for i in range(4)]
    same = [replace(p, notches=together[0].notches) for p in together]
    assert near(same) == [False] * 4


def test_marks_beside_each_other_are_named_and_one_for_all_is_not() -> None:
    pieces = [
        replace(
            bare(bodice_front(240 + 11 * i)),
            marks=(Mark(Point(60.0, 150.0), "button"), Mark(Point(60, 200 + 14 * i))),
        )
        for i in range(3)
    ]
    for n, names in enumerate(names_on(sheets_of(*pieces), ())):
        gaps = [min(w.spot.at.distance(mark.at) for w in names) for mark in pieces[n].marks]
        assert gaps[1] < 16
        assert gaps[0] > 16


def test_one_alone_needs_no_name_and_words_there_already_are_kept_off() -> None:
    assert names_on(sheets_of(tab()), ()) == [[]]
    sheets = sheets_of(*(bare(piece) for piece in FAMILIES["backs"]))
    first = names_on(sheets, ())
    taken = [(written.words, written.spot) for names in first for written in names]
    there = [box(PlacedName(words, spot)) for words, spot in taken]
    for names in names_on(sheets, taken):
        assert not any(box(written).intersects(old) for written in names for old in there)


def test_fold_marks_are_kept_off() -> None:
    sheets = sheets_of(*(bare(piece) for piece in FAMILIES["fronts"]))
    marks = [[Point(x, -50.0), Point(x, 600.0)] for x in range(5, 400, 40)]
    found = [written for names in names_on(sheets, (), (), marks) for written in names]
    assert found
    assert not any(box(written).intersects(LineString(mark)) for written in found for mark in marks)


def test_joins_of_the_paper_are_kept_off() -> None:
    sheets = sheets_of(*(bare(piece) for piece in FAMILIES["fronts"]))
    joins = [(Point(-400.0, y), Point(900.0, y), 6.0) for y in range(-100, 700, 90)]
    strips = [LineString([a, b]).buffer(reach) for a, b, reach in joins]
    found = [written for names in names_on(sheets, (), joins) for written in names]
    assert found
    assert not any(box(written).intersects(strip) for written in found for strip in strips)


def test_a_path_of_one_segment_and_a_long_name() -> None:
    circle = Path.polyline([Point(0, 0), Point(300, 0), Point(300, 200), Point(0, 200), Point(0, 0)])
    one = NestedPiece("Ẹ̀bùn " * 30, tab(), circle)
    other = NestedPiece("size 2", tab(), circle)
    assert all(isinstance(w.spot, Spot) for names in names_on([one, other], ()) for w in names)
