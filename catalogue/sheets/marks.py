"""What each page carries besides the pattern: where to trim, where to lay it, which join is which."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from catalogue.drawing.canvas import Canvas, LineKind
from catalogue.geometry import Path, Point
from catalogue.sheets.shaping import width
from catalogue.sheets.tiles import OVERLAP, Tile, TileGrid

DIAMOND = 4.6  # half a diamond, mm: it stays inside the overlap


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


def draw_marks(canvas: Canvas, tile: Tile, grid: TileGrid, joins: Joins) -> None:
    """Trim lines, lay-on lines, corner ticks and numbered diamonds, in the page's own coordinates."""
    left, top = grid.window_left, grid.window_top
    right, bottom = left + grid.window_width, top + grid.window_height
    before_x = joins.right.get(Tile(tile.column - 1, tile.row))
    before_y = joins.below.get(Tile(tile.column, tile.row - 1))
    after_x, after_y = joins.right.get(tile), joins.below.get(tile)
    canvas.open_group("marks", kind="marks")
    if before_x is not None:
        _line(canvas, Point(left, top), Point(left, bottom))
        _diamond(canvas, Point(left, (top + bottom - OVERLAP) / 2), before_x, (1, 0))
    if before_y is not None:
        _line(canvas, Point(left, top), Point(right, top))
        _diamond(canvas, Point((left + right - OVERLAP) / 2, top), before_y, (0, 1))
    if after_x is not None:
        x = left + grid.step_x
        _line(canvas, Point(x, top), Point(x, bottom), LineKind.BEFORE)
        _diamond(canvas, Point(x, (top + bottom - OVERLAP) / 2), after_x, (-1, 0), (1, 0))
    if after_y is not None:
        y = top + grid.step_y
        _line(canvas, Point(left, y), Point(right, y), LineKind.BEFORE)
        _diamond(canvas, Point((left + right - OVERLAP) / 2, y), after_y, (0, -1), (0, 1))
    for x in (left, left + grid.step_x):
        for y in (top, top + grid.step_y):
            _tick(canvas, Point(x, y), x == left, y == top)
    canvas.close_group()


def footer(canvas: Canvas, tile: Tile, grid: TileGrid, words: str, page: str, joins: Joins) -> None:
    """The page's own line under the window: its place in the grid, whose it is, how to trim it."""
    y = grid.footer_y
    left, right = grid.window_left, grid.window_left + grid.window_width
    canvas.text(Point(left, y), tile.label, 4.2, kind="strong")
    after = left + width(tile.label, 4.2, bold=True) + 3
    sides = [
        side
        for side, printed in (
            ("left", Tile(tile.column - 1, tile.row) in joins.right),
            ("top", Tile(tile.column, tile.row - 1) in joins.below),
        )
        if printed
    ]
    trim = f"trim {' and '.join(sides)} edge{'s' if len(sides) > 1 else ''} · " if sides else ""
    tail = f"{trim}{page}"
    size = 2.5
    tail_width = width(tail, size)
    canvas.text(Point(right, y), tail, size, anchor="end", kind="quiet")
    room = right - tail_width - 4 - after
    canvas.text(Point(after, y), shortened(words, size, room), size, kind="quiet")


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


def _diamond(canvas: Canvas, at: Point, number: int, *sides: tuple[int, int]) -> None:
    """A diamond centred on the join, half of it when one side is given, with the number on each side given."""
    x, y = at
    h = DIAMOND
    corners = {
        (-1, 0): Point(x - h, y),
        (0, -1): Point(x, y - h),
        (1, 0): Point(x + h, y),
        (0, 1): Point(x, y + h),
    }
    order = [(0, -1), (1, 0), (0, 1), (-1, 0)]
    if len(sides) == 1:
        away = (-sides[0][0], -sides[0][1])
        kept = [s for s in order if s != away]
        start = order.index(away) + 1
        kept = [order[(start + i) % 4] for i in range(3)]
        canvas.stroke(Path.polyline([corners[s] for s in kept]), LineKind.FRAME)
    else:
        canvas.stroke(Path.polyline([*(corners[s] for s in order), corners[order[0]]]), LineKind.FRAME)
    for across, down in sides:
        canvas.text(
            Point(x + across * 0.44 * h, y + down * 0.44 * h + 0.85),
            str(number),
            2.4,
            anchor="middle",
            kind="quiet",
        )


def _tick(canvas: Canvas, at: Point, at_left: bool, at_top: bool) -> None:
    """A corner of the part that shows when all is taped: a small cross, within the printed part of the page."""
    x, y = at
    left, right = x - (0 if at_left else 3), x + 3
    up, down = y - (0 if at_top else 3), y + 3
    canvas.stroke(Path.polyline([Point(left, y), Point(right, y)]), LineKind.FRAME)
    canvas.stroke(Path.polyline([Point(x, up), Point(x, down)]), LineKind.FRAME)
