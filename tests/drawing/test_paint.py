"""A painted piece: nothing written over anything, every mark where the trade puts it."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from typing import Unpack

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint

from catalogue.drawing.arrange import moved_piece
from catalogue.drawing.bounds import Recorder, text_corners
from catalogue.drawing.canvas import Lettering, LineKind, PassingCanvas
from catalogue.drawing.labels import (
    count_words,
    cut_words,
    drill_key,
    drill_words,
    label_lines,
    letters_of,
    piece_letter,
)
from catalogue.drawing.paint import LENGTHEN, ON_FOLD, PLEAT_FOLD, PLEAT_PLACE, paint_piece
from catalogue.drawing.piece_lines import Look
from catalogue.drawing.room import Room, Spot
from catalogue.geometry import Path, Point, Transform, parallel
from catalogue.lengths import Unit, Units
from catalogue.pattern import Cut, Edge, InnerLine, Mark, Notch, Piece
from catalogue.pattern.allowance import cutting_line
from tests.drawing.pieces import bodice_back, bodice_front, collar, line, skirt_front, sleeve, tab
from tests.extent import examples

PIECES = [bodice_front, bodice_back, sleeve, collar, tab, skirt_front]


def painted(piece: Piece, scale: float = 1.0, **more: object) -> Recorder:
    canvas = Recorder()
    label = label_lines(piece, "A", "Fitted bodice", "Adaeze Ọlábísí Okonjo", day="25 November 2026")
    paint_piece(canvas, piece, label=label, look=Look(scale=scale), **more)  # type: ignore[arg-type]
    return canvas


def text_shapes(canvas: Recorder) -> list[tuple[str, Polygon]]:
    found = []
    for args, named in canvas.of("text"):
        at, words, size = args
        corners = text_corners(at, words, size, named["anchor"], named["angle"])  # type: ignore[arg-type]
        found.append((str(words), Polygon(corners).buffer(-0.12 * float(size))))  # type: ignore[arg-type]
    return found


def strokes(canvas: Recorder, *kinds: LineKind) -> list[LineString]:
    return [
        LineString(path.flatten(0.1))  # type: ignore[attr-defined]
        for (path, kind), _ in canvas.of("stroke")
        if kind in kinds
    ]


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
@pytest.mark.parametrize("scale", [1.0, 2.6])
@pytest.mark.parametrize("make", PIECES)
def test_words_lie_inside_and_over_nothing(make: object, scale: float, turn: int) -> None:
    piece = moved_piece(make(), Transform.rotation(turn))  # type: ignore[operator]
    canvas = painted(piece, scale)
    outline = Polygon(piece.outline.flatten(0.1))
    texts = text_shapes(canvas)
    assert texts
    for words, shape in texts:
        assert outline.contains(shape), words
    for (a, one), (b, other) in combinations(texts, 2):
        assert not one.intersects(other), (a, b)
    drawn = strokes(canvas, LineKind.DART, LineKind.GRAIN, LineKind.NOTCH, LineKind.GUIDE)
    for words, shape in texts:
        for other in drawn:
            assert not shape.intersects(other), words


@given(
    st.floats(40, 600),
    st.floats(40, 900),
    st.floats(-0.3, 0.3),
    st.floats(0.1, 0.9),
    st.sampled_from([0, 90, 180, 270, 17]),
)
@settings(max_examples=examples(25))
def test_the_label_of_any_piece_keeps_clear(
    w: float, h: float, lean: float, grain: float, turn: float
) -> None:
    p = Point
    a, b, c, d = p(0, 0), p(w, 0), p(w * (1 - max(lean, 0)), h), p(w * max(-lean, 0), h)
    x = w * (0.35 + 0.3 * grain)
    piece = moved_piece(
        Piece(
            "p",
            "Piece of any shape",
            (
                Edge("a", line(a, b)),
                Edge("b", line(b, c)),
                Edge("c", line(c, d)),
                Edge("d", line(d, a), fold=True),
            ),
            grain=(p(x, 0.2 * h), p(x, 0.8 * h)),
        ),
        Transform.rotation(turn),
    )
    canvas = painted(piece)
    outline = Polygon(piece.outline.flatten(0.1))
    texts = text_shapes(canvas)
    for words, shape in texts:
        assert outline.contains(shape), words
    for (one, first), (two, second) in combinations(texts, 2):
        assert not first.intersects(second), (one, two)
    for words, shape in texts:
        assert not any(shape.intersects(g) for g in strokes(canvas, LineKind.GRAIN)), words


def test_a_roomy_piece_has_its_whole_label_at_full_size() -> None:
    canvas = painted(skirt_front())
    sizes = {str(args[1]): float(args[2]) for args, _ in canvas.of("text")}  # type: ignore[arg-type]
    assert sizes["A  Skirt front"] == 8.0
    assert sizes["Cut 1 on the fold · main cloth"] == 5.5
    assert "Adaeze Ọlábísí Okonjo · 25 November 2026" in sizes


def test_a_small_piece_keeps_the_first_lines_of_its_label() -> None:
    assert any(words.startswith("A  Tab") for words in painted(tab()).words)


def test_the_label_is_square_to_the_grain_or_along_it() -> None:
    piece = moved_piece(bodice_back(), Transform.rotation(30))
    label = [named for args, named in painted(piece).of("text") if str(args[1]).startswith("A  ")]
    assert label
    assert round(float(label[0]["angle"]) % 90) == 30  # type: ignore[arg-type]


def test_labels_keep_off_the_joins_of_the_paper() -> None:
    piece = skirt_front()
    join = (Point(0, 300), Point(300, 300), 8.0)
    shapes = text_shapes(painted(piece, avoid=[join]))
    across = LineString([join[0], join[1]])
    label = [s for words, s in shapes if words.startswith(("A  ", "Cut", "Fitted", "Adaeze"))]
    assert len(label) == 4
    assert min(s.distance(across) for s in label) > 6


def test_the_fold_says_so_and_is_chain_dotted() -> None:
    canvas = painted(bodice_front())
    assert ON_FOLD in canvas.words
    assert len(strokes(canvas, LineKind.FOLD)) == 1
    assert not strokes(painted(bodice_back()), LineKind.FOLD)


def test_notches_stand_across_the_seam_one_or_two() -> None:
    piece = bodice_back().with_changes(darts=())
    ticks = strokes(painted(piece), LineKind.NOTCH)
    armhole = LineString(piece.edge("armhole").path.flatten(0.01))
    assert len(ticks) == 2
    assert all(tick.crosses(armhole) for tick in ticks)
    assert 2.5 < ticks[0].distance(ticks[1]) < 3.5
    outline = Polygon(piece.outline.flatten(0.05))
    assert all(outline.contains(tick.interpolate(tick.length)) for tick in ticks)


def test_a_dart_has_legs_a_fold_and_a_drill_mark_short_of_its_point() -> None:
    piece = bodice_back()
    canvas = painted(piece)
    dart = piece.darts[0]
    legs = strokes(canvas, LineKind.DART)
    assert {leg.coords[0] for leg in legs} == {(p.x, p.y) for p in dart.legs}
    assert all(leg.coords[-1] == (dart.apex.x, dart.apex.y) for leg in legs)
    drills = [args[0] for args, named in canvas.of("dot") if not named["filled"]]
    assert len(drills) == 1
    short = drills[0].distance(dart.apex)  # type: ignore[attr-defined]
    assert abs(short - 10) < 1e-9  # common practice, no source
    assert Polygon([*dart.legs, dart.apex]).contains(
        LineString([drills[0], dart.legs[0].mix(dart.apex, 0.9)]).centroid
    )


def test_grain_has_an_arrow_at_each_end() -> None:
    piece = skirt_front()
    heads = [args[0].start for args, _ in painted(piece).of("fill")]  # type: ignore[attr-defined]
    assert piece.grain is not None
    assert set(piece.grain) <= set(heads)


def test_with_a_cutting_line_notches_start_from_it_and_the_seam_may_be_left_out() -> None:
    piece = bodice_back()
    cut = parallel(piece.outline, -15)
    canvas = Recorder()
    paint_piece(canvas, piece, cut_line=cut, look=Look(show_seam=False))
    assert not strokes(canvas, LineKind.SEAM)
    assert len(strokes(canvas, LineKind.CUT)) == 1
    outer = LineString(cut.flatten(0.05))
    for tick in strokes(canvas, LineKind.NOTCH):
        assert outer.distance(tick) < 0.6
        assert tick.length > 15


def test_the_fold_is_never_drawn_as_a_line_to_cut() -> None:
    """On the fold the cutting line would tell scissors to cut the piece in two."""
    piece = bodice_front()
    (fold,) = [e.path for e in piece.edges if e.fold]
    left, top, right, low = piece.outline.bounds()
    a, b = Point(left, top + 60), Point(left, low + 15)  # the fold and its line across the allowances
    cut = line(a, Point(left, top - 15), Point(right + 15, top - 15), Point(right + 15, low + 15), b, a)
    canvas = Recorder()
    paint_piece(canvas, piece, cut_line=cut)
    fold_line = LineString(fold.flatten(0.1))
    for drawn in strokes(canvas, LineKind.CUT, LineKind.SEAM):
        assert drawn.intersection(fold_line.buffer(0.1)).length < 1.0
    folds = strokes(canvas, LineKind.FOLD)
    assert sum(f.intersection(fold_line.buffer(0.1)).length for f in folds) > fold.length - 0.5
    whole = sum(s.length for s in strokes(canvas, LineKind.CUT)) + sum(f.length for f in folds)
    assert abs(whole - cut.length) < 1e-6


def test_a_cutting_line_without_a_fold_stays_whole() -> None:
    piece = bodice_back()
    cut = parallel(piece.outline, -15)
    canvas = Recorder()
    paint_piece(canvas, piece, cut_line=cut)
    drawn = [(args, named) for args, named in canvas.of("stroke") if args[1] is LineKind.CUT]
    assert [(args[0], named["closed"]) for args, named in drawn] == [(cut, True)]


def test_a_label_without_room_inside_is_written_below() -> None:
    piece = tab()
    canvas = Recorder()
    label = label_lines(piece, "E", "Style", "Client")
    paint_piece(canvas, piece, label=label, look=Look(scale=3.0, label_below=True))
    below = [args[0] for args, _ in canvas.of("text") if str(args[1]) in ("E  Tab", "Cut 2 pairs · lining")]
    assert len(below) == 2
    assert all(at.y > piece.outline.bounds().bottom for at in below)  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("kind", "calls"),
    [("drill", 1), ("button", 1), ("buttonhole", 0), ("end", 0), ("point", 1), ("label", 0)],
)
def test_every_kind_of_mark_is_drawn(kind: str, calls: int) -> None:
    piece = Piece("p", "P", skirt_front().edges, marks=(Mark(Point(120, 300), kind, "here"),))
    canvas = Recorder()
    paint_piece(canvas, piece)
    assert "here" in canvas.words
    assert sum(1 for _ in canvas.of("dot")) == calls
    if kind not in ("label", "point"):
        near = [
            s for s in strokes(canvas, LineKind.MARK) if s.distance(LineString([(120, 300), (120, 301)])) < 12
        ]
        assert near


@pytest.mark.parametrize(
    ("kind", "drawn"),
    [("fold", LineKind.FOLD), ("stitch", LineKind.STITCH), ("guide", LineKind.GUIDE), ("pleat", LineKind.PLEAT),
     ("arrow", LineKind.GRAIN), ("placement", LineKind.PLACEMENT)],
)  # fmt: skip
def test_every_kind_of_inner_line_is_drawn(kind: str, drawn: LineKind) -> None:
    inner = line(Point(60, 300), Point(200, 300))
    piece = Piece("p", "P", skirt_front().edges, lines=(InnerLine(inner, kind, "words"),))
    canvas = Recorder()
    paint_piece(canvas, piece)
    assert (inner, drawn) in [args for args, _ in canvas.of("stroke")]
    assert "words" in canvas.words


def test_a_notch_on_an_edge_that_is_gone_is_drawn_on_the_outline() -> None:
    piece = skirt_front().with_changes(notches=(Notch("lost", Point(270, 300)),), darts=())
    assert len(strokes(painted(piece), LineKind.NOTCH)) == 1


def test_groups_are_closed() -> None:
    depth = 0
    for verb, _, _ in painted(bodice_front()).calls:
        depth += {"open_group": 1, "close_group": -1}.get(verb, 0)
        assert depth >= 0
    assert depth == 0


def test_each_leg_of_a_dart_has_a_notch_from_the_cutting_line() -> None:
    piece = bodice_front()
    cut = cutting_line(piece).path
    ticks = strokes(painted(piece, cut_line=cut), LineKind.NOTCH)
    assert len(ticks) == sum(n.count for n in piece.notches) + 2 * len(piece.darts) > 2
    for leg, apex in ((leg, dart.apex) for dart in piece.darts for leg in dart.legs):
        (tick,) = (t for t in ticks if t.distance(ShapelyPoint(*leg)) < 1e-6)
        start, end = (Point(*at) for at in (tick.coords[0], tick.coords[-1]))
        assert cut.nearest(start)[1] < 0.01
        assert 3.5 < end.distance(leg) < 4.5 and end.distance(apex) < leg.distance(apex)


def test_a_leg_that_has_a_notch_of_its_own_gets_no_second() -> None:
    piece = bodice_back()
    (dart,) = piece.darts
    own = piece.with_changes(notches=(Notch(dart.edge, dart.legs[0]),))
    assert len(strokes(painted(own), LineKind.NOTCH)) == 2
    inside = piece.with_changes(darts=(replace(dart, edge=""),), notches=())
    assert not strokes(painted(inside), LineKind.NOTCH)  # a dart that opens at no edge has nowhere for one


def test_the_drill_hole_of_a_dart_is_named_where_there_is_room() -> None:
    words = drill_words(Units(Unit.CM))
    assert words == "drill hole 1 cm short of the point"
    for make in PIECES:
        piece = make()
        canvas = Recorder()
        label = label_lines(piece, "A", "Fitted bodice", "Adaeze Ọlábísí Okonjo")
        paint_piece(canvas, piece, label=label, look=Look(drill=words))
        assert canvas.words.count(words) == (1 if piece.darts else 0), piece.name
        shapes = text_shapes(canvas)
        (named, *_) = [s for w, s in shapes if w == words] or [None]
        if named is not None:
            assert Polygon(piece.outline.flatten(0.1)).contains(named)
            assert not any(named.intersects(s) for w, s in shapes if w != words)
            assert not any(named.intersects(d) for d in strokes(canvas, LineKind.DART, LineKind.GRAIN))


def test_the_key_says_what_a_drill_hole_is_in_the_client_s_units_and_only_where_there_is_one() -> None:
    assert drill_key([bodice_front()], Units(Unit.CM)).startswith(
        "Drill hole: 1 cm short of the dart’s point."
    )
    assert "3/8 in short" in drill_key([bodice_front()], Units(Unit.IN))
    assert drill_key([collar()], Units(Unit.CM)) == ""
    (dart,) = bodice_back().darts
    middle = dart.legs[0].mix(dart.legs[1], 0.5)
    stub = replace(dart, apex=middle.toward(dart.apex, 15.0))  # too short for a hole 10 mm from its point
    assert drill_key([bodice_back().with_changes(darts=(stub,))], Units(Unit.CM)) == ""


def test_letters() -> None:
    assert [piece_letter(i) for i in (0, 1, 25, 26, 27, 701, 702)] == ["A", "B", "Z", "AA", "AB", "ZZ", "AAA"]
    assert letters_of([bodice_front(), tab()]) == {"front": "A", "tab": "B"}


@pytest.mark.parametrize(
    ("cut", "words"),
    [
        (Cut(1, on_fold=True), "Cut 1 on the fold"),
        (Cut(2, mirrored=True), "Cut 1 pair"),
        (Cut(4, mirrored=True), "Cut 2 pairs"),
        (Cut(3), "Cut 3"),
        (Cut(3, mirrored=True), "Cut 3, some turned over"),
    ],
)
def test_how_often_a_piece_is_cut(cut: Cut, words: str) -> None:
    assert count_words(cut) == words
    assert cut_words(cut) == f"{words} · main cloth"


def test_a_filter_passes_on_all_but_what_it_changes() -> None:
    class Shouting(PassingCanvas):
        def text(self, at: Point, words: str, size: float, **lettering: Unpack[Lettering]) -> None:
            super().text(at, words.upper(), size, **lettering)

    plain, seen = Recorder(), Recorder()
    piece = bodice_front()
    paint_piece(plain, piece, label=label_lines(piece, "A", "Fitted bodice", "Ada"))
    paint_piece(Shouting(seen), piece, label=label_lines(piece, "A", "Fitted bodice", "Ada"))
    assert seen.words == [words.upper() for words in plain.words] != plain.words
    others = [[call for call in canvas.calls if call[0] != "text"] for canvas in (plain, seen)]
    assert others[0] == others[1]
    assert {verb for verb, _, _ in seen.calls} == {
        "open_group",
        "close_group",
        "stroke",
        "fill",
        "dot",
        "text",
    }


def test_the_folds_of_a_pleat_say_which_is_folded_and_where_it_is_laid() -> None:
    box = skirt_front().outline.bounds()
    x = box.left + box.width / 2
    fold, place = (Path.line(Point(x + d, box.top), Point(x + d, box.bottom)) for d in (-15.0, 15.0))
    arrow = Path.line(fold.point_at(fold.length / 4), place.point_at(place.length / 4))
    lines = (InnerLine(fold, "pleat"), InnerLine(place, "pleat"), InnerLine(arrow, "arrow"))
    words = painted(skirt_front().with_changes(lines=lines, grain=None)).words
    assert any(w in words for w in PLEAT_FOLD)
    assert any(w in words for w in PLEAT_PLACE)


def test_no_words_run_through_the_circle_of_a_button() -> None:
    box = skirt_front().outline.bounds()
    places = [box.centre + Point(0.0, d) for d in range(-200, 201, 40)]
    line = Path.line(Point(box.left, box.centre.y), Point(box.right, box.centre.y))
    centre = InnerLine(line.transformed(Transform.rotation(90, box.centre)), "guide", "centre")
    marks = tuple(Mark(at, "button") for at in places)
    canvas = painted(skirt_front().with_changes(lines=(centre,), marks=marks, grain=None))
    assert len([args for args, _ in canvas.of("dot") if args[1] == 5.0]) == len(places)
    assert any(words == "centre" for words, _ in text_shapes(canvas))
    for words, shape in text_shapes(canvas):
        assert all(shape.distance(ShapelyPoint(*at)) > 5.0 for at in places), words


@pytest.mark.parametrize("turn", [0, 90, 180])
@pytest.mark.parametrize("scale", [1.0, 2.6])
def test_both_lines_to_lengthen_at_are_clear_of_their_words(scale: float, turn: int) -> None:
    piece = skirt_front()
    box = piece.outline.bounds()
    level = Path.line(Point(box.left, box.centre.y), Point(box.right, box.centre.y))
    about = Transform.rotation(turn, box.centre)
    piece = moved_piece(piece.with_changes(lines=(InnerLine(level, "lengthen"),), grain=None), about)
    canvas = painted(piece, scale)
    [words] = [shape for words, shape in text_shapes(canvas) if words == LENGTHEN]
    lines = [line for line in strokes(canvas, LineKind.GUIDE) if line.length > box.width - 1]
    assert len(lines) == 2 and 0 < lines[0].distance(lines[1]) < 10
    assert not any(words.intersects(line) for line in lines)


def test_no_words_lie_over_the_cutting_line() -> None:
    piece = tab().with_changes(marks=(Mark(Point(8.0, 9.0), "buttonhole", "buttonhole"),))
    cut = line(Point(-6, -6), Point(56, -6), Point(56, 24), Point(-6, 24), Point(-6, -6))
    canvas = painted(piece, cut_line=cut)
    edge = LineString(cut.flatten(0.1))
    assert not [words for words, shape in text_shapes(canvas) if shape.intersects(edge)]


def test_room_seen_without_a_line_or_with_more_is_the_same_room() -> None:
    corners = [Point(0, 0), Point(200, 0), Point(200, 100), Point(0, 100), Point(0, 0)]
    middle, upright = [Point(0, 50), Point(200, 50)], [Point(30, 0), Point(30, 100)]
    room = Room(corners)
    room.keep_clear(middle, 1.0)
    on_it, beside = Spot(Point(100, 52), 6.0, 0.0), Spot(Point(30, 30), 6.0, 0.0)
    own = room.lines[0][0]
    assert not room.is_clear(on_it, 40.0, 0.5)
    assert room.seen(without=[own]).is_clear(on_it, 40.0, 0.5)
    assert room.is_clear(beside, 40.0, 0.5)
    assert not room.seen(more=[(upright, 1.0)]).is_clear(beside, 40.0, 0.5)
    room.occupy(beside, 40.0)  # what is written is seen from then on
    assert not room.seen(without=[own]).is_clear(beside, 40.0, 0.5)
    assert not room.is_clear(on_it, 40.0, 0.5)
