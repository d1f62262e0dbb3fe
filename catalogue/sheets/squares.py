"""The squares to measure before cutting, and room for them on the sheet."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

from catalogue.drawing.canvas import Canvas, LineKind
from catalogue.geometry import Box, Path, Point
from catalogue.placing import Grid, Window, cells_of_box, free_in, joined, mark, nearest_room
from catalogue.sheets.shapes import CELL
from catalogue.sheets.tiles import Tile, TileGrid

FOUR_INCHES = 4 * 25.4


class Square(NamedTuple):
    """A calibration square: top left corner and side in mm, and its size in words."""

    at: Point
    side: float
    words: str

    @property
    def box(self) -> Box:
        return Box(self.at[0], self.at[1], self.at[0] + self.side, self.at[1] + self.side)


METRIC = Square(Point(0.0, 0.0), 100.0, "100 mm")
IMPERIAL = Square(Point(0.0, 0.0), FOUR_INCHES, "4 in")


def draw_square(canvas: Canvas, square: Square) -> None:
    """The square with its size written along two sides and the other two left clear for the ruler."""
    (x, y), side = square.at, square.side
    corners = [Point(x, y), Point(x + side, y), Point(x + side, y + side), Point(x, y + side), Point(x, y)]
    canvas.open_group(f"square {square.words}", kind="square", title=f"Square of {square.words} to measure")
    canvas.stroke(Path.polyline(corners), LineKind.MARK, closed=True)
    canvas.text(Point(x + side / 2, y + side - 2.2), square.words, 4.2, anchor="middle", kind="strong")
    canvas.text(
        Point(x + side - 2.2, y + side / 2), square.words, 4.2, anchor="middle", angle=-90, kind="strong"
    )
    canvas.close_group()


def squares_on_sheet(
    taken: Sequence[int], tiles: Sequence[Tile], grid: TileGrid, wanted: Sequence[Square] = (METRIC, IMPERIAL)
) -> list[Square]:
    """The squares at free places of the sheet, each wholly on the first page that has room for it.

    `taken` are the cells with something on them, row by row, as the packing gives them.
    """
    rows = list(taken)
    found: list[Square] = []
    for square in wanted:
        cells = ceil((square.side + 2.0) / CELL)
        for tile in tiles:
            place = _room(rows, tile, grid, cells)
            if place is None:
                continue
            column, row = place
            spare = (cells * CELL - square.side) / 2
            found.append(square._replace(at=Point(column * CELL + spare, row * CELL + spare)))
            rows += [0] * (row + cells - len(rows))
            mark(rows, Window(column, column + cells - 1, row, row + cells - 1))
            break
    return found


def _room(rows: Sequence[int], tile: Tile, grid: TileGrid, cells: int) -> tuple[int, int] | None:
    """The cell (column, row) of the sheet where a square fits in the page's own part, or None."""
    own = grid.own(tile)
    page = cells_of_box(own, CELL)
    left, right, top, bottom = page
    wide, tall = right - left + 1, bottom - top + 1
    whole = (1 << wide) - 1
    # A square covers one row in every so many: where none of these has cells enough, there is no room.
    if all(
        r < len(rows) and (rows[r] >> left & whole).bit_count() > wide - cells
        for r in range(top + cells - 1, top + tall, cells)
    ):
        return None
    free = free_in(rows, page)
    if sum(bits.bit_count() for bits in free) < cells * cells:
        return None
    part = Grid(own.left, own.top, CELL, wide, tall)
    found = nearest_room(joined(free, part.stride), part, cells, cells, Point(own.left, own.top))
    return None if found is None else (found[0] + left, found[1] + top)
