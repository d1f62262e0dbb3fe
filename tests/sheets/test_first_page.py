"""The first page of a print: what one needs to know, the map, cautions, and that nothing overlaps."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from catalogue.drawing.bounds import Recorder, text_corners
from catalogue.geometry import Point
from catalogue.pattern import InnerLine
from catalogue.sheets.assembly import printable_part
from catalogue.sheets.cover import CoverText, draw_cover, is_for_child
from catalogue.sheets.marks import shortened
from catalogue.sheets.packing import pack
from catalogue.sheets.paper import PAPERS
from catalogue.sheets.shaping import width
from catalogue.sheets.sheet import sheet_pdf
from catalogue.sheets.tiles import Tile, tile_grid
from catalogue.sheets.wrapping import wrap
from tests.drawing.pieces import collar, draft, line, skirt_front, tab
from tests.sheets.slabs import SETTINGS, parts_of, slab, words_of


def test_the_first_page_says_what_one_needs_to_know() -> None:
    data = sheet_pdf(draft(), PAPERS["a4"], SETTINGS).data
    words = words_of(data, 0)
    for part in (
        "Thread and Chalk",
        "Fitted bodice",
        "Adaeze Okonjo",
        "5 March 2026",
        "A4, 13 pages including this one",
        "100 mm",
        "4 in",
        "100 %",
        "Measure both squares, across and down, before you cut",
        "Trim the left edge and the top edge",
        "match the halves of the diamonds",
        "Bodice front 1 on the fold, main cloth",
        "Collar 2 on the fold, interfacing",
        "Tab 2 pairs, lining",
        "Scissors, rotary cutters, pins and needles are sharp",
        "Irons and steam burn",
    ):
        assert part in words, part


def test_the_map_shows_every_page_and_every_piece() -> None:
    sample = draft()
    pieces = list(sample.pieces.values())
    grid = tile_grid(PAPERS["a4"])
    layout = pack([p.outline for p in pieces], grid)
    canvas = Recorder()
    text = CoverText("", "Title", "Client", ())
    draw_cover(canvas, text, parts_of(pieces), layout, grid, printable_part(PAPERS["a4"]))
    assert {t.label for t in layout.tiles} <= set(canvas.words)
    letters = [w for w in canvas.words if re.fullmatch(r"[A-F]", w)]
    assert sorted(letters) == sorted("ABCDEF" * 2)  # once on the map, once in the list


@pytest.mark.parametrize(
    ("kind", "audience"), [("child", ()), ("girl", ("women", "girls")), ("woman", ("girls",))]
)
def test_childrens_wear_has_its_own_cautions(kind: str, audience: tuple[str, ...]) -> None:
    sample = draft(tab(), kind=kind)
    sample = replace(sample, style=replace(sample.style, audience=audience))
    words = words_of(sheet_pdf(sample, PAPERS["a4"], SETTINGS).data, 0)
    for part in ("no cords or drawstrings", "buttons, snaps", "catch fire easily", "rules of your country"):
        assert part in words
    assert is_for_child(kind, audience)


def test_grown_ups_are_spared_them() -> None:
    sample = draft(tab(), kind="woman")
    sample = replace(sample, style=replace(sample.style, audience=("women", "girls")))
    assert "drawstrings" not in words_of(sheet_pdf(sample, PAPERS["a4"], SETTINGS).data, 0)


@pytest.mark.parametrize("count", [1, 8, 30])
@pytest.mark.parametrize("paper", ["a4", "letter", "tabloid"])
def test_the_parts_of_the_first_page_do_not_overlap(paper: str, count: int) -> None:
    pieces = [slab(f"piece {i}", 60 + 9 * i, 90 + 11 * i) for i in range(count)]
    grid = tile_grid(PAPERS[paper])
    layout = pack([p.outline for p in pieces], grid)
    canvas = Recorder()
    text = CoverText("Studio", "A title", "A client", ("5 March 2026", "A4"), for_child=True)
    draw_cover(canvas, text, parts_of(pieces), layout, grid, printable_part(PAPERS[paper]))
    parts: dict[str, list[Point]] = {}
    inside = []
    for verb, args, named in canvas.calls:
        if verb == "open_group":
            inside.append(str(args[0]))
        elif verb == "close_group":
            inside.pop()
        elif verb == "text" and inside:
            at, words, size = args
            real = width(str(words), float(size))  # type: ignore[arg-type]
            corners = text_corners(at, str(words), float(size), named["anchor"], named["angle"])  # type: ignore[arg-type]
            x0 = corners[0].x if named["anchor"] != "end" else corners[1].x - real
            points = (
                [corners[0], corners[2]]
                if named["angle"]
                else [Point(x0, corners[0].y), Point(x0 + real, corners[2].y)]
            )
            parts.setdefault(inside[0], []).extend(points)
    boxes = {}
    for name, points in parts.items():
        boxes[name] = (
            min(p.x for p in points), min(p.y for p in points), max(p.x for p in points), max(p.y for p in points)
        )  # fmt: skip
    names = [n for n in boxes if not n.startswith("square")]
    assert {"map", "cut list", "Safety", "title", "facts"} <= set(names)
    assert ("Trim and tape" in names) == (len(layout.tiles) > 1)
    bottom = grid.window_top + grid.window_height + 5
    for i, one in enumerate(names):
        a = boxes[one]
        assert a[3] <= bottom, one
        assert a[2] <= grid.window_left + grid.window_width + 1, one
        for other in names[i + 1 :]:
            b = boxes[other]
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] + 0.6 or b[3] <= a[1] + 0.6
            assert apart, (one, a, other, b)


def test_a_draft_without_pieces_gets_a_first_page_and_a_finding() -> None:
    empty = replace(draft(), pieces={})
    result = sheet_pdf(empty, PAPERS["a4"], SETTINGS)
    assert result.pages == 1
    assert [f.code for f in result.findings] == ["no-pieces"]


def test_squares_go_on_the_first_page_of_the_pattern_when_there_is_room() -> None:
    roomy = sheet_pdf(draft(collar()), PAPERS["a4"], SETTINGS)
    assert words_of(roomy.data, 1).count("100 mm") == 2
    full = sheet_pdf(draft(slab("whole", 190, 270)), PAPERS["a4"], SETTINGS)
    assert "100 mm" not in words_of(full.data, 1)


def test_the_first_page_says_what_the_lines_mean() -> None:
    x = skirt_front().outline.bounds().centre.x
    pleated = skirt_front().with_changes(
        lines=(InnerLine(line(Point(x, 100.0), Point(x, 300.0)), "pleat"),), darts=()
    )
    with_pleat = words_of(sheet_pdf(draft(pleated), PAPERS["a4"], SETTINGS).data, 0)
    assert "fold of a pleat" in with_pleat
    assert "fold of the cloth" in with_pleat
    assert "dart" not in with_pleat
    without = words_of(sheet_pdf(draft(tab()), PAPERS["a4"], SETTINGS).data, 0)
    assert "fold of a pleat" not in without


def test_text_is_shortened_to_fit_and_wrapped_by_words() -> None:
    words = "a long line of words that goes on and on"
    cut = shortened(words, 3.0, 30.0)
    assert cut.endswith("…")
    assert width(cut, 3.0) <= 30.0
    assert shortened("short", 3.0, 30.0) == "short"
    assert shortened(words, 3.0, 0.5) == ""
    lines = wrap(words, 3.0, 25.0)
    assert " ".join(lines) == words
    assert all(width(part, 3.0) <= 25.0 for part in lines)


@pytest.mark.parametrize(
    ("tiles", "words"),
    [
        ("1-1 1-2 2-1 2-2", "1-2 is the second place in the first row."),
        ("1-1 2-1 3-1", "3-1 is the first place in the third row."),
        (
            "1-1 2-1 2-3 3-3",
            "2-3 is the third place in the second row. Blank pages are not printed: their place stays free.",
        ),
        ("1-1 1-2 1-3 1-4 1-5 1-6 1-7 1-8 1-9 1-10 1-11 1-12", "1-12 is the 12th place in the first row."),
    ],
)
def test_pages_are_explained_by_one_that_is_on_the_map(tiles: str, words: str) -> None:
    places = [(int(column) - 1, int(row) - 1) for row, column in (tile.split("-") for tile in tiles.split())]
    grid = tile_grid(PAPERS["a4"])
    layout = pack([p.outline for p in draft().pieces.values()], grid)._replace(
        tiles=tuple(Tile(*place) for place in places),
        columns=1 + max(column for column, _ in places),
        rows=1 + max(row for _, row in places),
    )
    canvas = Recorder()
    draw_cover(canvas, CoverText("", "Title", "Client", ()), [], layout, grid, printable_part(PAPERS["a4"]))
    told = " ".join(canvas.words)
    assert f"Lay the pages out as on the map: {words} 2. Trim" in told


def test_labels_of_the_map_are_large_and_black_where_there_is_room() -> None:
    """7 pt is 2.47 mm."""
    grid = tile_grid(PAPERS["a4"])
    pieces = list(draft().pieces.values())
    layout = pack([p.outline for p in pieces], grid)
    canvas = Recorder()
    text = CoverText("", "Title", "Client", ())
    draw_cover(canvas, text, parts_of(pieces), layout, grid, printable_part(PAPERS["a4"]))
    labels = {t.label for t in layout.tiles}
    drawn = [
        (args[2], named["kind"]) for verb, args, named in canvas.calls if verb == "text" and args[1] in labels
    ]
    assert len(drawn) == len(labels) > 9
    assert all(size >= 2.47 and kind == "" for size, kind in drawn)
