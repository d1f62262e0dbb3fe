"""The grid of pages that a sheet is printed on, and which pages are needed.

Every page shows a window of the sheet. Windows overlap by `OVERLAP` mm for taping; the step from one window to
the next is a whole number of centimetres, so that joins can be checked with a ruler. The strip two windows share
belongs to the page before (to the left, above): a page whose own part is blank is not printed at all.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import floor, isfinite
from typing import NamedTuple

from catalogue.geometry import Box, Point
from catalogue.sheets.paper import Paper

OVERLAP = 10.0
FOOTER = 5.0  # mm under the window, inside the printable part, for the page's own line of text


class Tile(NamedTuple):
    """A page of the grid, by column and row from 0."""

    column: int
    row: int

    @property
    def label(self) -> str:
        """ "2-3" for the third place in the second row, which may begin further in: letters are for pieces."""
        return f"{self.row + 1}-{self.column + 1}"


class TileGrid(NamedTuple):
    """How a paper is used. Millimetres.

    Attributes:
        step_x, step_y: from one window to the next.
        window_left, window_top: where the window's corner lies on the page.
    """

    paper: Paper
    step_x: float
    step_y: float
    window_left: float
    window_top: float

    @property
    def window_width(self) -> float:
        return self.step_x + OVERLAP

    @property
    def window_height(self) -> float:
        return self.step_y + OVERLAP

    @property
    def footer_y(self) -> float:
        """Baseline of the page's own line of text, on the page."""
        return self.window_top + self.window_height + FOOTER - 1.2

    def window(self, tile: Tile) -> Box:
        """The part of the sheet that a page shows."""
        left, top = tile.column * self.step_x, tile.row * self.step_y
        return Box(left, top, left + self.window_width, top + self.window_height)

    def own(self, tile: Tile) -> Box:
        """The part of the sheet that no page before shows."""
        w = self.window(tile)
        return Box(
            w.left + (OVERLAP if tile.column else 0.0),
            w.top + (OVERLAP if tile.row else 0.0),
            w.right,
            w.bottom,
        )

    def extent(self, columns: int, rows: int) -> tuple[float, float]:
        """Width and height of the sheet that so many pages show."""
        return columns * self.step_x + OVERLAP, rows * self.step_y + OVERLAP

    def on_page(self, tile: Tile, at: Point) -> Point:
        """Where a point of the sheet lies on the page of `tile`."""
        return Point(
            at[0] - tile.column * self.step_x + self.window_left,
            at[1] - tile.row * self.step_y + self.window_top,
        )

    def tiles(self, columns: int, rows: int) -> Iterator[Tile]:
        """All pages, row by row."""
        return (Tile(c, r) for r in range(rows) for c in range(columns))


def tile_grid(paper: Paper) -> TileGrid:
    """The grid for a paper. Raises ValueError when too little of the paper can be printed on."""
    m = paper.margins
    wide = paper.width - m.left - m.right
    tall = paper.height - m.top - m.bottom - FOOTER
    step_x, step_y = (
        floor((room - OVERLAP) / 10.0 + 1e-9) * 10.0 if isfinite(room) else 0.0 for room in (wide, tall)
    )
    if not (step_x >= 50.0 and step_y >= 50.0):
        raise ValueError(
            f"{paper.title} ({paper.width:g} × {paper.height:g} mm) leaves too little room to print: "
            f"{max(wide, 0):g} × {max(tall, 0):g} mm, expected at least {50 + OVERLAP:g} mm each way"
        )
    left = m.left + (wide - step_x - OVERLAP) / 2
    top = m.top + (tall - step_y - OVERLAP) / 2
    return TileGrid(paper, step_x, step_y, left, top)
