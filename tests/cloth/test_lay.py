"""Lays: nothing overlaps, nothing leaves the cloth, and the length is what the pieces need."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from shapely.geometry import Polygon, box

from catalogue.building.outputs import OutputFile, lay_pictures
from catalogue.cloth.lay import FLATNESS, MOST_CLOTH, lay_of, lays
from catalogue.cloth.words import length_to_buy, width_in
from catalogue.findings import Finding
from catalogue.geometry import Path, Point, signed_area
from catalogue.lengths import Unit, Units
from catalogue.pattern import Cut, Edge, Piece
from catalogue.pattern.making import make_piece
from catalogue.studio.settings import Settings
from tests.drafting.people_and_styles import demo_draft, suited
from tests.extent import one_each


def rectangle(name: str, width: float, height: float, cut: Cut, fold: bool = False) -> Piece:
    corners = [Point(0, 0), Point(width, 0), Point(width, height), Point(0, height)]
    ways = list(zip(("top", "right", "bottom", "left"), corners, [*corners[1:], corners[0]], strict=True))
    edges = [Edge(n, Path.line(a, b), fold and n == "left") for n, a, b in ways]
    made = make_piece(name, name, edges, cut, {})
    return made.with_changes(grain=(Point(width / 2, 10), Point(width / 2, height - 10)))


def lines(*pieces: Piece) -> dict[str, Path]:
    return {p.name: p.outline for p in pieces}


def test_a_pair_lies_side_by_side_where_there_is_room():
    piece = rectangle("p", 500, 800, Cut(2, mirrored=True))
    assert lay_of("main", 1400, [piece], lines(piece)).length == pytest.approx(800)
    assert lay_of("main", 900, [piece], lines(piece)).length == pytest.approx(1600)


def test_no_lay_is_worked_out_that_would_be_very_long():
    long = rectangle("p", 500, 2000, Cut(99))  # two side by side: 50 lengths of 2 m
    lay = lay_of("main", 1400, [long], lines(long))
    assert lay.too_long and not lay.pieces and lay.length == 0.0
    shorter = rectangle("p", 500, 2000, Cut(58))
    assert lay_of("main", 1400, [shorter], lines(shorter)).length == pytest.approx(58_000)
    strip = rectangle("p", 500, MOST_CLOTH + 1, Cut(1))
    assert lay_of("main", 1400, [strip], lines(strip)).too_long


def test_a_cloth_without_a_lay_is_reported():
    style, client = suited()[0]
    made = demo_draft(style, client)
    made_of_it = list(lay_pictures(Settings(), made))
    assert "lay-main.svg" in [each.name for each in made_of_it if isinstance(each, OutputFile)]
    assert not any(isinstance(each, Finding) for each in made_of_it)
    many = {
        name: piece.with_changes(cut=Cut(400, cloth=piece.cut.cloth)) for name, piece in made.pieces.items()
    }
    made_of_it = list(lay_pictures(Settings(), replace(made, pieces=many)))
    assert "lay-main.svg" not in [each.name for each in made_of_it if isinstance(each, OutputFile)]
    findings = [each for each in made_of_it if isinstance(each, Finding)]
    assert [f.message for f in findings if f.message.startswith("The pieces of main cloth take 60 m or more")]
    assert not any(f.is_error for f in findings)


def test_a_piece_on_the_fold_is_opened_out():
    piece = rectangle("p", 500, 800, Cut(1, on_fold=True), fold=True)
    lay = lay_of("main", 1400, [piece], lines(piece))
    assert Polygon(lay.pieces[0].outline).area == pytest.approx(2 * 500 * 800)
    assert lay_of("main", 990, [piece], lines(piece)).too_wide == ("p",)


def test_the_grain_runs_along_the_cloth():
    piece = rectangle("p", 500, 800, Cut(1)).with_changes(grain=(Point(50, 400), Point(450, 400)))
    assert lay_of("main", 1400, [piece], lines(piece)).length == pytest.approx(500)


@pytest.mark.parametrize(("style", "client"), one_each(suited()))
def test_demo_lays_hold_every_cut_and_overlap_nowhere(style, client):
    """Against shapely: the cuts lie on the cloth, apart, and add up to the pieces' areas."""
    made = demo_draft(style, client)
    widths = {name: width_in(words) or 0.0 for name, words in made.style.cloth}
    found = lays(made.pieces.values(), made.cut_lines, {n: w for n, w in widths.items() if w})
    assert found
    for lay in found:
        cloth = box(0, 0, lay.width, lay.length)
        shapes = [Polygon(p.outline).buffer(0) for p in lay.pieces]
        assert all(shape.difference(cloth).area < 1.0 for shape in shapes)
        assert all(a.intersection(b).area < 1.0 for a, b in combinations(shapes, 2))
        wanted = sum(
            p.cut.count
            for p in made.pieces.values()
            if p.cut.cloth == lay.cloth and p.name not in lay.too_wide
        )
        assert len(shapes) == wanted
        assert lay.length * lay.width >= sum(s.area for s in shapes)
    assert found == lays(made.pieces.values(), made.cut_lines, {n: w for n, w in widths.items() if w})


@pytest.mark.parametrize(
    ("words", "width"),
    [
        ("firm woven cotton, 140 cm wide, little stretch", 1400.0),
        ("shirting 45 in wide", 1143.0),
        ("fusible, 0.9 m wide", 900.0),
        ("soft wool", None),
        ("5 cm wide ribbon", None),
    ],
)
def test_the_width_is_read_from_what_the_style_says(words, width):
    assert width_in(words) == (None if width is None else pytest.approx(width))


def test_cloth_is_asked_for_in_metres_or_yards_and_never_too_short():
    """One yard is 914.4 mm (international yard and pound agreement, 1959)."""
    assert length_to_buy(1801, Units(Unit.CM)) == "1.85 m"
    assert length_to_buy(1800, Units(Unit.CM)) == "1.80 m"
    assert length_to_buy(914.4, Units(Unit.IN)) == "1 yd"
    assert length_to_buy(915, Units(Unit.IN)) == "1 1/8 yd"
    assert length_to_buy(10, Units(Unit.IN)) == "1/8 yd"


@pytest.mark.parametrize(("style", "client"), one_each(suited()))
def test_a_lay_has_the_area_of_what_is_cut(style, client):
    """A piece on the fold counts twice, whatever corners its fold has; by the exact area of its cutting line."""
    made = demo_draft(style, client)
    for piece in made.pieces.values():
        lay = lay_of("x", 10_000.0, [piece], made.cut_lines)
        line = made.cut_lines[piece.name]
        times = piece.cut.count * (2 if piece.cut.on_fold else 1)
        found = sum(Polygon(p.outline).area for p in lay.pieces)
        assert found == pytest.approx(times * abs(signed_area(line)), abs=FLATNESS * times * line.length)
