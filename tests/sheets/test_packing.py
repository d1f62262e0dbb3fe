"""Pieces on the grid of pages: apart, whole, few pages, and the same every time."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.lib import pagesizes
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from catalogue.drawing.labels import piece_letter
from catalogue.geometry import Path, Point, Transform
from catalogue.sheets.packing import Layout, pack, pack_on
from catalogue.sheets.paper import PAPERS, Margins, Paper, paper_named
from catalogue.sheets.shapes import GAP
from catalogue.sheets.tiles import FOOTER, OVERLAP, Tile, TileGrid, tile_grid
from tests.drawing.pieces import bodice_back, bodice_front, collar, draft, line, skirt_front, sleeve, tab
from tests.extent import examples
from tests.geometry.measures import is_rigid

A4 = tile_grid(PAPERS["a4"])


def slab(width: float, height: float) -> Path:
    return line(Point(0, 0), Point(width, 0), Point(width, height), Point(0, height), Point(0, 0))


def ring(outer: float, inner: float) -> Path:
    """A quarter of a circle skirt."""
    from catalogue.geometry import arc

    big = arc(Point(0, 0), Point(outer, 0), 90)
    small = arc(Point(0, 0), Point(0, inner), -90)
    return big.joined(line(big.end, small.start)).joined(small).joined(line(small.end, big.start))


def laid(outlines: list[Path], layout: Layout) -> list[Polygon]:
    return [Polygon(o.transformed(m).flatten(0.05)) for o, m in zip(outlines, layout.moves, strict=True)]


def check(outlines: list[Path], layout: Layout, grid: TileGrid) -> None:
    shapes = laid(outlines, layout)
    for a, b in combinations(shapes, 2):
        assert a.distance(b) > GAP - 0.6  # outlines are flattened within half a millimetre before packing
    wide, tall = grid.extent(layout.columns, layout.rows)
    sheet = box(0, 0, wide, tall)
    assert all(sheet.contains(s) for s in shapes)
    for move in layout.moves:
        assert is_rigid(move)
        assert not move.flips
    printed = set(layout.tiles)
    for tile in grid.tiles(layout.columns, layout.rows):
        own = box(*grid.own(tile))
        if tile not in printed:
            assert all(s.intersection(own).area < 1e-6 for s in shapes), tile
    assert layout.lower_bound <= len(layout.tiles)


@given(st.lists(st.tuples(st.floats(15, 420), st.floats(15, 620)), min_size=1, max_size=9), st.booleans())
@settings(max_examples=examples(20))
def test_rectangles_lie_apart_and_on_printed_pages(sizes: list[tuple[float, float]], may_turn: bool) -> None:
    outlines = [slab(w, h) for w, h in sizes]
    layout = pack(outlines, A4, may_turn=may_turn)
    check(outlines, layout, A4)
    if not may_turn:
        assert all(move[:4] == (1.0, 0.0, 0.0, 1.0) for move in layout.moves)


@pytest.mark.parametrize("paper", ["a4", "a3", "letter", "legal", "tabloid", "a0"])
def test_a_garment_on_every_paper(paper: str) -> None:
    grid = tile_grid(PAPERS[paper])
    outlines = [p.outline for p in draft().pieces.values()] + [ring(700, 110)]
    check(outlines, pack(outlines, grid), grid)


def test_every_printed_page_has_something_on_it() -> None:
    outlines = [p.outline for p in draft().pieces.values()]
    layout = pack(outlines, A4)
    cells = [
        Polygon(o.transformed(m).flatten(0.05)).buffer(15)
        for o, m in zip(outlines, layout.moves, strict=True)
    ]
    for tile in layout.tiles:  # cells are whole centimetres, so a page may be kept for a near miss, no more
        assert any(c.intersects(box(*A4.own(tile))) for c in cells), tile


def test_blank_pages_are_left_out() -> None:
    triangle = line(Point(0, 0), Point(560, 810), Point(0, 810), Point(0, 0))
    layout = pack([triangle], A4, may_turn=False)
    assert (layout.columns, layout.rows) == (3, 3)
    assert Tile(2, 0) not in layout.tiles
    assert len(layout.tiles) < 9
    check([triangle], layout, A4)


def test_a_piece_as_large_as_the_window_takes_one_page() -> None:
    snug = slab(A4.window_width - GAP, A4.window_height - GAP)
    assert len(pack([snug], A4).tiles) == 1
    loose = slab(A4.window_width + 1, A4.window_height - GAP)
    assert len(pack([loose], A4, may_turn=False).tiles) == 2


def test_a_turn_saves_pages() -> None:
    flat = slab(270, 190)
    assert len(pack([flat], A4, may_turn=False).tiles) == 2
    assert len(pack([flat], A4).tiles) == 1


def test_small_pieces_share_a_page_and_none_is_cut() -> None:
    outlines = [slab(90, 60) for _ in range(8)]
    layout = pack(outlines, A4)
    assert len(layout.tiles) == 1
    assert layout.splits == 0
    check(outlines, layout, A4)


def test_no_piece_is_split_where_there_is_room_beside() -> None:
    outlines = [slab(150, 240), slab(150, 240), slab(150, 240)]
    layout = pack(outlines, A4)
    assert len(layout.tiles) == 3
    assert layout.splits == 0


def test_a_tilt_keeps_on_one_page_what_fits_it_no_other_way() -> None:
    """A strip longer than the window's long side and shorter than its diagonal."""
    ruler = slab(300, 22)
    assert ruler.bounds().width > A4.window_height
    layout = pack([ruler], A4)
    assert len(layout.tiles) == 1
    check([ruler], layout, A4)
    assert len(pack([ruler], A4, may_turn=False).tiles) == 2
    assert len(pack([slab(330, 60)], A4).tiles) == 2  # too long for any tilt


@given(st.lists(st.tuples(st.floats(40, 400), st.floats(40, 400)), min_size=2, max_size=6))
@settings(max_examples=examples(10))
def test_no_piece_can_be_moved_so_that_fewer_joins_run_through_it(sizes: list[tuple[float, float]]) -> None:
    """Each piece in turn is lifted and laid at every centimetre, in every quarter turn, on the pages there are."""
    outlines = [slab(w, h) for w, h in sizes]
    layout = pack(outlines, A4)
    shapes = laid(outlines, layout)
    pages = {t: box(*A4.own(t)) for t in layout.tiles}

    def joins(shape: Polygon) -> int:
        return sum(shape.intersection(page).area > 400 for page in pages.values())

    wide, tall = A4.extent(layout.columns, layout.rows)
    paper = unary_union(list(pages.values())).buffer(0.01)
    for i, (w, h) in enumerate(sizes):
        others = unary_union([s.buffer(GAP) for j, s in enumerate(shapes) if j != i])
        fewest = joins(shapes[i])
        for a, b in {(w, h), (h, w)}:
            for x in range(2, int(wide - a), 20):
                for y in range(2, int(tall - b), 20):
                    there = box(
                        x - 0.01, y - 0.01, x + a + 20.01, y + b + 20.01
                    )  # with a cell to spare each way
                    if paper.covers(there) and not there.intersects(others):
                        assert joins(there) >= fewest, (i, x, y)


def test_outlines_of_one_item_stay_together() -> None:
    pair = (slab(120, 80), slab(60, 20).transformed(Transform.translation(Point(0, 90))))
    items = [pair, slab(150, 240), slab(90, 90)]
    layout = pack(items, A4)
    assert len(layout.moves) == 3
    shapes = [Polygon(o.transformed(layout.moves[0]).flatten(0.05)) for o in pair]
    others = [
        Polygon(o.transformed(m).flatten(0.05)) for o, m in zip(items[1:], layout.moves[1:], strict=True)
    ]
    assert abs(shapes[0].distance(shapes[1]) - 10) < 1e-6
    assert all(a.distance(b) > GAP - 0.6 for a in shapes for b in others)


def test_an_item_may_be_kept_upright() -> None:
    layout = pack([slab(270, 190), slab(40, 30)], A4, upright=(0,))
    assert layout.moves[0][:4] == (1.0, 0.0, 0.0, 1.0)
    assert len(layout.tiles) == 2


@pytest.mark.parametrize(("size", "lying"), [((270, 180), True), ((180, 270), False)])
def test_the_paper_lies_as_it_needs_fewer_pages(size: tuple[float, float], lying: bool) -> None:
    grids = [A4, tile_grid(PAPERS["a4"].landscape())]
    grid, layout = pack_on([slab(*size)], grids, may_turn=False)
    assert len(layout.tiles) == 1
    assert (grid.paper.width > grid.paper.height) == lying


def test_a_garment_needs_few_pages() -> None:
    outlines = [p().outline for p in (bodice_front, bodice_back, sleeve, collar, tab, skirt_front)]
    layout = pack(outlines, A4)
    assert layout.lower_bound == 9
    assert len(layout.tiles) <= 12


def test_more_effort_never_needs_more_pages() -> None:
    outlines = [p.outline for p in draft().pieces.values()] + [slab(233, 177), slab(121, 333), slab(400, 90)]
    assert len(pack(outlines, A4, effort=3).tiles) <= len(pack(outlines, A4).tiles)


def test_the_same_pieces_always_give_the_same_sheet() -> None:
    outlines = [p.outline for p in draft().pieces.values()]
    assert pack(outlines, A4) == pack(outlines, A4)


def test_where_a_piece_was_drawn_makes_no_difference() -> None:
    outlines = [p.outline for p in draft().pieces.values()]
    moved = [o.transformed(Transform.translation(Point(-900.0, 4000.0))) for o in outlines]
    one, other = pack(outlines, A4), pack(moved, A4)
    assert one.tiles == other.tiles
    for a, b, m, n in zip(outlines, moved, one.moves, other.moves, strict=True):
        assert m.apply(a.start).distance(n.apply(b.start)) < 1e-6


def test_a_piece_larger_than_many_pages() -> None:
    huge = slab(2200, 1700)
    layout = pack([huge], A4)
    check([huge], layout, A4)
    assert len(layout.tiles) >= layout.lower_bound >= 60


def test_a_long_strip_on_many_pages() -> None:
    strip = slab(14_900, 60)
    layout = pack([strip], A4, may_turn=False)
    check([strip], layout, A4)
    assert layout.columns == len(layout.tiles) == 79
    with pytest.raises(ValueError, match="larger than 15 m"):
        pack([slab(15_100, 60)], A4)


def test_nothing_to_lay() -> None:
    assert pack([], A4) == Layout((), 0, 0, (), (), 0, 0)


# Sizes as another library has them (reportlab.lib.pagesizes, points of 1/72 in).
@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("a4", pagesizes.A4),
        ("a3", pagesizes.A3),
        ("a0", pagesizes.A0),
        ("letter", pagesizes.LETTER),
        ("legal", pagesizes.LEGAL),
        ("tabloid", pagesizes.TABLOID),
    ],
)
def test_paper_sizes(name: str, size: tuple[float, float]) -> None:
    paper = PAPERS[name]
    assert abs(paper.width - size[0] * 25.4 / 72) < 0.1
    assert abs(paper.height - size[1] * 25.4 / 72) < 0.1


def test_iso_papers_follow_iso_216() -> None:
    """ISO 216: A0 is a square metre, sides as 1 to the square root of two, each next size half of it."""
    a0, a3, a4 = PAPERS["a0"], PAPERS["a3"], PAPERS["a4"]
    assert abs(a0.width * a0.height / 1e6 - 1) < 1e-3
    assert abs(a0.height / a0.width - 2**0.5) < 2e-3
    assert a3.height == 2 * a4.width
    assert a3.width == a4.height


@pytest.mark.parametrize("spelling", ["A4", " a4 ", "a4"])
def test_papers_are_found_in_any_spelling(spelling: str) -> None:
    assert paper_named(spelling) is PAPERS["a4"]
    assert paper_named("US Letter") is PAPERS["letter"]
    assert paper_named("Roll 36in") is PAPERS["roll-36in"]


def test_an_unknown_paper_names_the_nearest() -> None:
    with pytest.raises(KeyError, match="tabloid"):
        paper_named("tabliod")


@pytest.mark.parametrize("name", [n for n, p in PAPERS.items() if not p.roll])
def test_the_window_and_its_footer_stay_inside_the_margins(name: str) -> None:
    paper = PAPERS[name]
    grid = tile_grid(paper)
    m = paper.margins
    assert grid.window_left >= m.left - 1e-9
    assert grid.window_left + grid.window_width <= paper.width - m.right + 1e-9
    assert grid.window_top >= m.top - 1e-9
    assert grid.window_top + grid.window_height + FOOTER <= paper.height - m.bottom + 1e-9
    assert grid.step_x % 10 == grid.step_y % 10 == 0
    assert grid.window_left < 17
    assert grid.window_top < 17  # no more is given away than the rounding to a centimetre


def test_windows_overlap_and_own_parts_tile_the_sheet() -> None:
    a, b = A4.window(Tile(0, 0)), A4.window(Tile(1, 0))
    assert a.right - b.left == OVERLAP
    owns = [box(*A4.own(t)) for t in A4.tiles(3, 2)]
    wide, tall = A4.extent(3, 2)
    assert abs(sum(o.area for o in owns) - wide * tall) < 1e-6
    assert all(x.intersection(y).area == 0 for x, y in combinations(owns, 2))
    for tile, own in zip(A4.tiles(3, 2), owns, strict=True):
        assert box(*A4.window(tile)).contains(own)


def test_page_coordinates() -> None:
    at = A4.on_page(Tile(2, 1), Point(2 * A4.step_x + 5, A4.step_y + 7))
    assert at.distance(Point(A4.window_left + 5, A4.window_top + 7)) < 1e-9


def test_labels() -> None:
    """A row and a place in it; a piece has letters, so neither is taken for the other."""
    assert [Tile(1, 2).label, Tile(2, 1).label, Tile(26, 0).label] == ["3-2", "2-3", "1-27"]
    pieces = {piece_letter(n) for n in range(60)}
    assert pieces.isdisjoint(Tile(c, r).label for c in range(30) for r in range(30))


@pytest.mark.parametrize("size", [(0.0, 0.0), (60.0, 297.0), (210.0, 40.0), (float("nan"), 300.0)])
def test_a_paper_too_small_to_print_on_says_so(size: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="too little room to print"):
        tile_grid(Paper("x", "Stamp", *size, Margins(5, 5, 5, 5)))


def test_a_paper_on_its_side_is_no_plotter_paper() -> None:
    for name in ("a4", "a3", "letter", "legal", "tabloid"):
        assert not PAPERS[name].is_large
        assert not PAPERS[name].landscape().is_large
    for name in ("a2", "a1", "a0", "roll-24in"):
        assert PAPERS[name].is_large
        assert PAPERS[name].landscape().is_large


def test_landscape_turns_paper_and_margins() -> None:
    lying = Paper("x", "X", 200, 300, Margins(1, 2, 3, 4)).landscape()
    assert (lying.width, lying.height) == (300, 200)
    assert lying.margins == Margins(4, 1, 2, 3)


@pytest.mark.parametrize("name", ["a0", "a1", "a2", "roll-36in"])
@pytest.mark.parametrize("may_turn", [True, False])
def test_no_piece_that_fits_a_large_sheet_is_cut_across_two(name: str, may_turn: bool) -> None:
    # Common practice, no source: a plotted sheet is taped only where a piece is larger than the sheet.
    wide, tall = PAPERS[name].width, min(PAPERS[name].height, 2000.0)
    items = [slab(0.7 * wide, 0.6 * tall), slab(0.6 * wide, 0.45 * tall), slab(0.45 * wide, 0.4 * tall)]
    grid, layout = pack_on(items, [tile_grid(PAPERS[name])], may_turn=may_turn)
    check(items, layout, grid)
    assert layout.splits == 0
