"""What each page carries besides the pattern: where to trim, where to lay it, which join is which."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import NamedTuple

from catalogue.drawing.canvas import Canvas, LineKind
from catalogue.geometry import Path, Point
from catalogue.sheets.embedding import FontBook
from catalogue.sheets.ink import PdfCanvas
from catalogue.sheets.shaping import width
from catalogue.sheets.tiles import Tile, TileGrid

DIAMOND = 4.6  # half a diamond, mm: it stays inside the overlap
_FOOTER_SIZE = 2.5
_LABEL_ROOM = 15.0  # mm at the left of the footer for the page\'s label
_PAGE_ROOM = 26.0  # mm at its right for "page n of m"


class Joins(NamedTuple):
    """The number of each join between two printed pages: to the right of a page, and below it."""

    right: Mapping[Tile, int]
    below: Mapping[Tile, int]


def number_joins(tiles: Iterable[Tile]) -> Joins:
    """Number the joins row by row, so that neighbours in the stack of paper have neighbouring numbers."""
    printed = set(tiles)
    right: dict[Tile, int] = {}
    below: dict[Tile, int] = {}
    count = 0
    for tile in sorted(printed, key=lambda t: (t.row, t.column)):
        for column, row, table in ((1, 0, right), (0, 1, below)):
            if Tile(tile.column + column, tile.row + row) in printed:
                count += 1
                table[tile] = count
    return Joins(right, below)


class Sides(NamedTuple):
    """At which sides of a page another printed page joins it."""

    left: bool
    top: bool
    right: bool
    below: bool


def sides_of(tile: Tile, joins: Joins) -> Sides:
    return Sides(
        Tile(tile.column - 1, tile.row) in joins.right,
        Tile(tile.column, tile.row - 1) in joins.below,
        tile in joins.right,
        tile in joins.below,
    )


def draw_frame(canvas: PdfCanvas, grid: TileGrid, sides: Sides, words: str) -> None:
    """What all pages joined at the same sides have in common, in page coordinates.

    Trim lines, lay-on lines, corner ticks and diamonds; and under the window whose pattern it is (`words`) and
    which edges to trim.
    """
    canvas.literal(_frame_lines(grid, sides))
    right = grid.window_left + grid.window_width
    edges = [side for side, joined in (("left", sides.left), ("top", sides.top)) if joined]
    trim = f"trim {' and '.join(edges)} edge{'s' if len(edges) > 1 else ''}" if edges else ""
    y, size, ends = grid.footer_y, _FOOTER_SIZE, right - _PAGE_ROOM
    canvas.text(Point(ends, y), trim, size, anchor="end", kind="quiet")
    left = grid.window_left + _LABEL_ROOM
    room = ends - width(trim, size) - 4 - left
    canvas.text(Point(left, y), shortened(words, size, room), size, kind="quiet")


@lru_cache(maxsize=256)
def _frame_lines(grid: TileGrid, sides: Sides) -> str:
    """The lines of a frame as operators: many files share them."""
    canvas = PdfCanvas(FontBook())
    left, top = grid.window_left, grid.window_top
    right, bottom = left + grid.window_width, top + grid.window_height
    places = _diamonds(grid)
    if sides.left:
        _line(canvas, Point(left, top), Point(left, bottom))
        _diamond(canvas, places.left, (1, 0))
    if sides.top:
        _line(canvas, Point(left, top), Point(right, top))
        _diamond(canvas, places.top, (0, 1))
    if sides.right:
        x = left + grid.step_x
        _line(canvas, Point(x, top), Point(x, bottom), LineKind.PLACEMENT)
        _diamond(canvas, places.right)
    if sides.below:
        y = top + grid.step_y
        _line(canvas, Point(left, y), Point(right, y), LineKind.PLACEMENT)
        _diamond(canvas, places.below)
    for x in (left, left + grid.step_x):
        for y in (top, top + grid.step_y):
            _tick(canvas, Point(x, y), x == left, y == top)
    return canvas.content()


def draw_numbers(canvas: Canvas, tile: Tile, grid: TileGrid, joins: Joins, page: str) -> None:
    """What only this page has: its label, its number in the file (`page`), and the numbers of its joins."""
    y = grid.footer_y
    canvas.text(Point(grid.window_left, y), tile.label, 4.2, kind="strong")
    right = grid.window_left + grid.window_width
    canvas.text(Point(right, y), page, _FOOTER_SIZE, anchor="end", kind="quiet")
    places = _diamonds(grid)
    for number, at, ways in (
        (joins.right.get(Tile(tile.column - 1, tile.row)), places.left, ((1, 0),)),
        (joins.below.get(Tile(tile.column, tile.row - 1)), places.top, ((0, 1),)),
        (joins.right.get(tile), places.right, ((-1, 0), (1, 0))),
        (joins.below.get(tile), places.below, ((0, -1), (0, 1))),
    ):
        if number is not None:
            for across, down in ways:
                spot = Point(at[0] + across * 0.44 * DIAMOND, at[1] + down * 0.44 * DIAMOND + 0.85)
                canvas.text(spot, str(number), 2.4, anchor="middle", kind="quiet")


class _Diamonds(NamedTuple):
    """Middles of the diamonds at the four sides, on the page."""

    left: Point
    top: Point
    right: Point
    below: Point


def _diamonds(grid: TileGrid) -> _Diamonds:
    left, top = grid.window_left, grid.window_top
    x, y = left + grid.step_x / 2, top + grid.step_y / 2
    return _Diamonds(Point(left, y), Point(x, top), Point(left + grid.step_x, y), Point(x, top + grid.step_y))


def shortened(words: str, size: float, room: float, *, bold: bool = False) -> str:
    """The words, cut off with an ellipsis where they are wider than `room` mm."""

    def fits(text: str) -> bool:
        return width(text, size, bold=bold) <= room

    if fits(words):
        return words
    low, high = 0, len(words)
    while low < high:
        middle = (low + high + 1) // 2
        if fits(words[:middle].rstrip() + "…"):
            low = middle
        else:
            high = middle - 1
    return words[:low].rstrip() + "…" if low else ""


def _line(canvas: Canvas, a: Point, b: Point, kind: LineKind = LineKind.FRAME) -> None:
    canvas.stroke(Path.polyline([a, b]), kind)


def _diamond(canvas: Canvas, at: Point, half: tuple[int, int] | None = None) -> None:
    """A diamond centred on the join, or only its half on the side given."""
    x, y = at
    h = DIAMOND
    order = [(0, -1), (1, 0), (0, 1), (-1, 0)]
    corners = [Point(x + across * h, y + down * h) for across, down in order]
    if half is None:
        canvas.stroke(Path.polyline([*corners, corners[0]]), LineKind.FRAME)
        return
    away = order.index((-half[0], -half[1]))
    canvas.stroke(Path.polyline([corners[(away + i) % 4] for i in (1, 2, 3)]), LineKind.FRAME)


def _tick(canvas: Canvas, at: Point, at_left: bool, at_top: bool) -> None:
    """A corner of the part that shows when all is taped: a small cross, within the printed part of the page."""
    x, y = at
    left, right = x - (0 if at_left else 3), x + 3
    up, down = y - (0 if at_top else 3), y + 3
    canvas.stroke(Path.polyline([Point(left, y), Point(right, y)]), LineKind.FRAME)
    canvas.stroke(Path.polyline([Point(x, up), Point(x, down)]), LineKind.FRAME)
