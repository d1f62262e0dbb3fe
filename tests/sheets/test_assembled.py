"""Pages laid together by what is printed on them, against the whole sheet: pixel by pixel, on every paper."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date
from typing import NamedTuple

import numpy as np
import pytest

from catalogue.geometry import Box, Point
from catalogue.pattern import Edge, Notch, Piece
from catalogue.sheets.marks import DIAMOND
from catalogue.sheets.paper import PAPERS
from catalogue.sheets.sheet import SheetSettings, sheet_pdf
from catalogue.sheets.tiles import FOOTER, OVERLAP, Tile, TileGrid, tile_grid
from tests.drawing.pieces import draft, line
from tests.sheets.reading import PIXELS, RENDERERS, one_page_of

SNAPPED = {"pdfium": 0.0, "poppler": 0.5}  # poppler draws level and upright lines on whole pixels
SETTINGS = SheetSettings(day=date(2026, 3, 5), studio="Thread and Chalk")
DARK, PALE = 100, 215  # what counts as ink, and what may count as the ink next to it


def strip(length: float) -> Piece:
    """A long piece without a level or an upright side, so that no line of it is taken for one of the page."""
    a, b, c, d = Point(3, 0), Point(length, 9), Point(length - 11, 61), Point(0, 52)
    edges = (
        Edge("top", line(a, b)),
        Edge("end", line(b, c)),
        Edge("low", line(c, d)),
        Edge("start", line(d, a)),
    )
    notches = tuple(Notch("top", a.mix(b, (i + 0.5) / 9)) for i in range(9))
    return Piece("strip", "Strip", edges, notches=notches, grain=(a.mix(d, 0.5), b.mix(c, 0.5)))


class Join(NamedTuple):
    """Where the marks of joins are on a page, in pixels; None where there is none."""

    left: float | None
    top: float | None
    right: float | None
    below: float | None


def _line(picture: np.ndarray, near: float) -> float:
    """The middle of the line that runs across most of a picture from top to bottom near a column."""
    low = max(round(near) - 8, 0)
    part = picture[:, low : round(near) + 9]
    columns = np.flatnonzero((part < 225).mean(axis=0) > 0.3)
    assert len(columns), "no line where one is due"
    assert np.ptp(columns) < 6
    first, last = max(columns[0] - 1, 0), columns[-1] + 2
    weight = np.median(
        255.0 - part[:, first:last], axis=0
    )  # of most rows: a line of the pattern that crosses is left out
    if not weight.any():  # dotted, with more gap than dot
        weight = (255.0 - part[:, first:last]).mean(axis=0)
    return float((np.arange(first, last) + 0.5) @ weight / weight.sum()) + low


def joins_of(page: np.ndarray, tile: Tile, tiles: set[Tile], grid: TileGrid) -> Join:
    """Where the printed lines of a page are, looked for within 0.7 mm of where the grid has them."""
    left, top = grid.window_left * PIXELS, grid.window_top * PIXELS
    right, below = left + grid.step_x * PIXELS, top + grid.step_y * PIXELS
    beside = {
        (c, r): Tile(tile.column + c, tile.row + r) in tiles for c, r in ((-1, 0), (0, -1), (1, 0), (0, 1))
    }
    return Join(
        _line(page, left) if beside[-1, 0] else None,
        _line(page.T, top) if beside[0, -1] else None,
        _line(page, right) if beside[1, 0] else None,
        _line(page.T, below) if beside[0, 1] else None,
    )


def corner_of(page: np.ndarray, grid: TileGrid) -> tuple[float, float]:
    """The corner of the first page's window, by the tick that marks it."""
    left, top = round(grid.window_left * PIXELS), round(grid.window_top * PIXELS)
    part = 255.0 - page[top - 6 : top + 40, left - 6 : left + 40]
    found = []
    for share, start in ((part[20:].mean(axis=0), left - 6), (part[:, 20:].mean(axis=1), top - 6)):
        ink = np.flatnonzero(share > 15)
        spots = np.arange(max(ink[0] - 1, 0), ink[-1] + 2)
        assert len(spots) < 8
        found.append(float((spots + 0.5) @ share[spots] / share[spots].sum()) + start)
    return found[0], found[1]


def near(ink: np.ndarray) -> np.ndarray:
    """Ink and the pixels next to it."""
    grown = ink.copy()
    grown[1:] |= ink[:-1]
    grown[:-1] |= ink[1:]
    wide = grown.copy()
    wide[:, 1:] |= grown[:, :-1]
    wide[:, :-1] |= grown[:, 1:]
    return wide


def compare(
    pages: dict[Tile, np.ndarray], whole: np.ndarray, grid: TileGrid, snapped: float = 0.0
) -> tuple[dict[Tile, tuple[float, float]], int]:
    """Lay the pages by their marks and hold each against the whole sheet.

    `snapped` is how far from its place, in pixels, the program that drew the pages may put the two lines of a join.
    Returns where each page's corner came to lie, in pixels of the sheet, and the number of dark pixels compared.
    """
    tiles = set(pages)
    marks = {t: joins_of(page, t, tiles, grid) for t, page in pages.items()}
    first = min(tiles, key=lambda t: (t.row, t.column))
    assert first.column == 0
    right, below = marks[first].right, marks[first].below
    x = right - grid.step_x * PIXELS if right else corner_of(pages[first], grid)[0]
    y = below - grid.step_y * PIXELS if below else corner_of(pages[first], grid)[1]
    at = {first: (-x, -y)}
    while len(at) < len(tiles):
        before = len(at)
        for tile in sorted(tiles - set(at), key=lambda t: (t.row, t.column)):
            known = {
                (c, r): Tile(tile.column + c, tile.row + r)
                for c, r in ((-1, 0), (0, -1), (1, 0), (0, 1))
                if Tile(tile.column + c, tile.row + r) in at
            }
            x = y = None
            for (c, r), other in known.items():
                ox, oy = at[other]
                mine, theirs = marks[tile], marks[other]
                if c:
                    pair = (theirs.right, mine.left) if c < 0 else (theirs.left, mine.right)
                    x, y = ox + pair[0] - pair[1], oy if y is None else y  # type: ignore[operator]
                if r:
                    pair = (theirs.below, mine.top) if r < 0 else (theirs.top, mine.below)
                    y, x = oy + pair[0] - pair[1], ox if x is None else x  # type: ignore[operator]
            if x is not None and y is not None:
                at[tile] = (x, y)
        assert len(at) > before, "a page joins no other"
    compared = 0
    for tile, page in pages.items():
        x, y = at[tile]
        # A page is laid on a whole pixel: on either of those beside a place that falls between two.
        slack = 0.1 + snapped * (1 + tile.column + tile.row)
        places = [
            (dx, dy)
            for dx in range(round(x - slack), round(x + slack) + 1)
            for dy in range(round(y - slack), round(y + slack) + 1)
        ]
        lost = strange = count = 0
        for dx, dy in sorted(places, key=lambda p: abs(p[0] - x) + abs(p[1] - y)):
            lost, strange, count = _differences(page, whole, grid.own(tile), dx, dy)
            if not (lost or strange):
                break
        assert not lost, f"{tile.label} lacks {lost} pixels of the sheet"
        assert not strange, f"{tile.label} has {strange} pixels that are not of the sheet"
        compared += count
    return at, compared


def _differences(page: np.ndarray, whole: np.ndarray, own: Box, dx: int, dy: int) -> tuple[int, int, int]:
    """Pixels of ink on the sheet with none next to them on the page; the other way round; and those compared."""
    left, top = max(round(own.left * PIXELS) + 1, 0), max(round(own.top * PIXELS) + 1, 0)
    right = min(round(own.right * PIXELS) - 1, whole.shape[1], page.shape[1] + dx)
    low = min(round(own.bottom * PIXELS) - 1, whole.shape[0], page.shape[0] + dy)
    there, sheet = page[top - dy : low - dy, left - dx : right - dx], whole[top:low, left:right]
    assert there.shape == sheet.shape
    ink = sheet < DARK
    lost = ink & ~near(there < PALE)
    # What is on the page but not on the sheet are its own marks, all beside the joins.
    strange = (there < DARK) & ~near(sheet < PALE)
    before, after = round((DIAMOND + 0.5) * PIXELS), round((OVERLAP + DIAMOND + 0.5) * PIXELS)
    strange[:, :before] = strange[:before] = strange[:, -after:] = strange[-after:] = False
    return int(lost.sum()), int(strange.sum()), int(ink.sum())


def grid_of(data: bytes, paper: str) -> TileGrid:
    """The grid a file was laid on, told by the size of its last page."""
    import pypdf

    box = pypdf.PdfReader(io.BytesIO(data)).pages[-1].mediabox
    given = PAPERS[paper]
    if not given.roll:
        return tile_grid(given.landscape() if box.width > box.height else given)
    grid = tile_grid(given)
    m = given.margins
    used = float(box.height) * 25.4 / 72 - m.top - m.bottom - FOOTER
    return grid._replace(step_y=used - OVERLAP, window_top=m.top)


@pytest.mark.parametrize("renderer", RENDERERS)
@pytest.mark.parametrize("paper", PAPERS)
def test_pages_laid_together_by_their_marks_are_the_sheet(paper: str, renderer: str) -> None:
    given = PAPERS[paper]
    piece = strip(1.45 * (given.width if given.roll else given.height))
    settings = replace(SETTINGS, may_turn=False)
    result = sheet_pdf(draft(piece), given, settings)
    assert len(result.tiles) == 2
    assert result.pages == 3
    grid = grid_of(result.data, paper)
    if not given.roll:
        assert grid.paper.width > grid.paper.height  # on its side it needs fewer pages
    render = RENDERERS[renderer]
    pages = render(result.data, 110.0)[1:]
    (whole,) = render(one_page_of(result.data), 100.0)
    at, compared = compare({Tile(i, 0): page for i, page in enumerate(pages)}, whole, grid, SNAPPED[renderer])
    assert compared > 20_000
    (x0, y0), (x1, y1) = at[Tile(0, 0)], at[Tile(1, 0)]
    assert abs(x1 - x0 - grid.step_x * PIXELS) <= 1.0
    assert abs(y1 - y0) <= 1.0


@pytest.mark.parametrize("renderer", RENDERERS)
def test_a_garment_laid_together_from_its_pages_is_the_sheet(renderer: str) -> None:
    """Everything drawn is there: seam lines, darts, notches, arrows, words, squares."""
    result = sheet_pdf(draft(), PAPERS["a4"], SETTINGS)
    render = RENDERERS[renderer]
    pages = render(result.data)[1:]
    (whole,) = render(one_page_of(result.data))
    tiles = {t.label: t for t in (Tile(c, r) for c in range(9) for r in range(9))}
    grid = grid_of(result.data, "a4")
    laid = {tiles[label]: page for label, page in zip(result.tiles, pages, strict=True)}
    at, compared = compare(laid, whole, grid, SNAPPED[renderer])
    assert compared > 200_000
    for tile, (x, y) in at.items():
        far = 1.0 + SNAPPED[renderer] * (tile.column + tile.row)
        assert abs(x + (grid.window_left - tile.column * grid.step_x) * PIXELS) <= far
        assert abs(y + (grid.window_top - tile.row * grid.step_y) * PIXELS) <= far


def test_a_page_one_and_a_half_pixels_off_is_noticed() -> None:
    given = PAPERS["a4"]
    piece = strip(1.45 * given.height)
    settings = replace(SETTINGS, may_turn=False)
    result = sheet_pdf(draft(piece), given, settings)
    pages = RENDERERS["pdfium"](result.data, 110.0)[1:]
    (whole,) = RENDERERS["pdfium"](one_page_of(result.data), 100.0)
    shifted = np.roll(whole, 3, axis=0)
    with pytest.raises(AssertionError, match="pixels"):
        compare({Tile(i, 0): p for i, p in enumerate(pages)}, shifted, grid_of(result.data, "a4"))
