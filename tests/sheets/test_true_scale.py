"""What the printer gets, looked at as a picture: squares, joins, and the same line in SVG and PDF."""

from __future__ import annotations

from datetime import date
from itertools import pairwise
from xml.etree import ElementTree

import numpy as np
import pytest

from catalogue.drawing.overview import draft_svg
from catalogue.geometry import Path, Point, parallel
from catalogue.pattern import Edge, Piece
from catalogue.sheets.paper import PAPERS
from catalogue.sheets.sheet import SheetSettings, sheet_pdf
from catalogue.sheets.tiles import Tile, tile_grid
from tests.drawing.pieces import bodice_back, bodice_front, collar, draft, line, skirt_front, sleeve, tab
from tests.sheets.reading import PIXELS, RENDERERS, form_content, length, pdf_strokes, squares, svg_path

SETTINGS = SheetSettings(day=date(2026, 3, 5), studio="Thread and Chalk")
SQUARES = (100.0, 101.6)  # 100 mm, and 4 in at 25.4 mm (the international inch of 1959)


@pytest.mark.parametrize("renderer", RENDERERS)
@pytest.mark.parametrize("paper", PAPERS)
def test_squares_are_true_in_both_directions_on_every_paper(paper: str, renderer: str) -> None:
    result = sheet_pdf(draft(tab()), PAPERS[paper], SETTINGS)
    pages = RENDERERS[renderer](result.data)
    assert len(pages) == result.pages == (1 if PAPERS[paper].is_large else 2)
    for page in pages:  # the first page, and the first tile, which has room for both
        for side in SQUARES:
            found = [s for s in squares(page, side) if abs(s.right - s.left - side * PIXELS) < 0.8 * PIXELS]
            assert len(found) == 1
            (square,) = found
            assert abs(square.right - square.left - side * PIXELS) <= 1.0
            assert abs(square.bottom - square.top - side * PIXELS) <= 1.0


def test_the_finder_of_squares_sees_a_wrong_scale() -> None:
    """A page shrunk to 98 %, as “fit to page” does, must not pass."""
    from PIL import Image

    result = sheet_pdf(draft(tab()), PAPERS["a4"], SETTINGS)
    page = Image.fromarray(RENDERERS["pdfium"](result.data)[0])
    small = np.asarray(page.resize((round(page.width * 0.98), round(page.height * 0.98))))
    sides = [s.right - s.left for side in SQUARES for s in squares(small, side)]
    assert sides
    assert all(min(abs(w - side * PIXELS) for side in SQUARES) > 1.0 for w in sides)


def wedge(width: float, height: float) -> Piece:
    """A triangle whose long side crosses many pages; no side runs level or upright, as the join lines do."""
    a, b, c = Point(0, 0), Point(width, height), Point(0.12 * width, 0.93 * height)
    edges = (Edge("slope", line(a, b)), Edge("foot", line(b, c)), Edge("back", line(c, a)))
    return Piece("wedge", "Wedge", edges)


def end_to_end(dark: np.ndarray) -> bool:
    """Whether a line of pixels is dark over most of the page, solid or dotted: with no gap of 2 mm or more."""
    places = np.flatnonzero(dark)
    parts = np.split(places, np.flatnonzero(np.diff(places) > 2 * PIXELS) + 1)
    return bool(max(np.ptp(part) for part in parts) > 0.8 * len(dark))


def lines_of_page(page: np.ndarray) -> dict[str, float]:
    """Where the printed join lines lie, in pixels: trim lines at left and top, lay-on lines at right and bottom.

    A line is a column or row that is darker than blank paper from end to end, solid or dotted.
    """
    found = {}
    half = np.array(page.shape) // 2
    for name, picture, reach in (
        ("left", page, slice(0, half[1])),
        ("right", page, slice(half[1], None)),
        ("top", page.T, slice(0, half[0])),
        ("bottom", page.T, slice(half[0], None)),
    ):
        dark = (picture < 225)[:, reach]
        share = dark.mean(axis=0)
        columns = np.array([c for c in np.flatnonzero(share > 0.35) if end_to_end(dark[:, c])])
        if len(columns):
            weight = share[columns]
            assert columns.max() - columns.min() < 6, name
            found[name] = float((columns + 0.5) @ weight / weight.sum()) + (reach.start or 0)
    return found


@pytest.mark.parametrize("renderer", RENDERERS)
def test_a_long_line_is_continuous_when_pages_are_joined_by_their_marks(renderer: str) -> None:
    piece = wedge(500.0, 740.0)
    settings = SheetSettings(day=date(2026, 3, 5), may_turn=False, cut_lines={"wedge": piece.outline})
    result = sheet_pdf(draft(piece), PAPERS["a4"], settings)
    grid = tile_grid(PAPERS["a4"])
    pages = dict(zip(result.tiles, RENDERERS[renderer](result.data)[1:], strict=True))
    tiles = {Tile(c, r).label: Tile(c, r) for c in range(4) for r in range(4)}
    marks = {name: lines_of_page(page) for name, page in pages.items()}

    # Only from what is printed: each page lies with its trim line on the lay-on line of the page before it.
    origin = {"1-1": (0.0, 0.0)}
    for name in result.tiles:
        tile = tiles[name]
        left, above = Tile(tile.column - 1, tile.row).label, Tile(tile.column, tile.row - 1).label
        places = []
        if tile.column and left in origin:
            x = origin[left][0] + marks[left]["right"] - marks[name]["left"]
            places.append((x, None))
        if tile.row and above in origin:
            places.append((None, origin[above][1] + marks[above]["bottom"] - marks[name]["top"]))
        if name != "1-1":
            same_row = [o for n, o in origin.items() if tiles[n].row == tile.row]
            same_column = [o for n, o in origin.items() if tiles[n].column == tile.column]
            x = next((p[0] for p in places if p[0] is not None), same_column[0][0] if same_column else None)
            y = next((p[1] for p in places if p[1] is not None), same_row[0][1] if same_row else None)
            assert x is not None
            assert y is not None
            origin[name] = (x, y)

    # The middle of the wide black cutting line, away from its corners, in every third row of pixels.
    slope = 500.0 / 740.0
    seen = []
    for name, page in pages.items():
        ox, oy = origin[name]
        window = grid.window(tiles[name])
        for row in range(
            round(grid.window_top * PIXELS) + 4, round((grid.window_top + grid.window_height) * PIXELS) - 4, 3
        ):
            y_sheet = (row + 0.5) / PIXELS - grid.window_top + window.top
            x_sheet = 2.0 + (y_sheet - 2.0) * slope  # the piece lies 2 mm from the sheet's corner
            column = (x_sheet - window.left + grid.window_left) * PIXELS
            inner = grid.window_left * PIXELS + 12, (grid.window_left + grid.window_width) * PIXELS - 12
            if not (inner[0] < column < inner[1] and 30 < y_sheet < 710):
                continue
            strip = page[row, round(column) - 14 : round(column) + 15]
            dark = np.flatnonzero(strip < 70)
            assert len(dark), f"the line is broken on {name} at {y_sheet:.1f} mm"
            middle = dark.mean() + 0.5 + round(column) - 14
            assert abs(middle - column) <= 1.0  # and every page shows the part of the sheet that it should
            seen.append((row + 0.5 + oy, middle + ox, name))
    steps = ["1-1", "2-1", "2-2", "3-2", "3-3"]
    assert sorted({s[2] for s in seen}) == sorted(steps)
    intercepts = {name: np.mean([x - slope * y for y, x, n in seen if n == name]) for name in steps}
    for before, after in pairwise(steps):
        assert abs(intercepts[after] - intercepts[before]) <= 1.0, (before, after)
    for name in steps:
        own = np.array([(y, x) for y, x, n in seen if n == name])
        assert np.abs(own[:, 1] - slope * own[:, 0] - intercepts[name]).max() <= 1.0


@pytest.mark.parametrize("make", [bodice_front, bodice_back, sleeve, collar, skirt_front])
def test_svg_and_pdf_agree_on_every_edge(make: object) -> None:
    piece: Piece = make()  # type: ignore[operator]
    root = ElementTree.fromstring(draft_svg(draft(piece)).encode())
    svg = [
        length(svg_path(e.attrib["d"]))
        for e in root.iter("{http://www.w3.org/2000/svg}path")
        if e.attrib["class"] in ("seam", "fold")
    ]
    data = sheet_pdf(draft(piece), PAPERS["a4"], SETTINGS).data
    pdf = [
        length(s.segments)
        for s in pdf_strokes(form_content(data))
        if s.operator == "S" and s.width == 0.5 and s.dash
    ]
    assert len(svg) == len(pdf) == len(piece.edges)
    for edge, one, other in zip(piece.edges, svg, pdf, strict=True):
        assert abs(one - other) < 0.05, edge.name
        assert abs(one - edge.path.length) < 0.05, edge.name


def test_curves_stay_curves_in_the_file() -> None:
    data = sheet_pdf(draft(sleeve()), PAPERS["a4"], SETTINGS).data
    assert any(len(segment) == 4 for s in pdf_strokes(form_content(data)) if s.dash for segment in s.segments)


def test_the_page_is_scaled_by_exactly_72_points_to_the_inch() -> None:
    import io

    import pypdf

    reader = pypdf.PdfReader(io.BytesIO(sheet_pdf(draft(tab()), PAPERS["a4"], SETTINGS).data))
    for page in reader.pages:
        assert abs(float(page.mediabox.width) * 25.4 / 72 - 210) < 0.01
        assert abs(float(page.mediabox.height) * 25.4 / 72 - 297) < 0.01
        first = page.get_contents().get_data().split(b"cm")[0].split()  # type: ignore[union-attr]
        assert abs(float(first[0]) - 72 / 25.4) < 1e-5
        assert abs(float(first[3]) + 72 / 25.4) < 1e-5


def test_a_cut_line_reaches_the_pages_that_only_it_touches() -> None:
    piece = wedge(180.0, 260.0)
    cut = parallel(piece.outline, -30.0)
    small = sheet_pdf(draft(piece), PAPERS["a4"], SETTINGS)
    settings = SheetSettings(day=SETTINGS.day, cut_lines={"wedge": cut})
    large = sheet_pdf(draft(piece), PAPERS["a4"], settings)
    assert len(small.tiles) == 1
    assert len(large.tiles) > 1
    assert isinstance(cut, Path)
