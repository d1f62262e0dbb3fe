"""On which pages of a sheet a shape lies, from each place it may have there.

Sets of cells, and of places for a shape's first cell, are rows joined (see `placing.bits`). What is said of places
from which a shape would hang over the sheet's edge is wrong, for there rows run into one another.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from catalogue.placing import Grid, counts, fewest, joined, rectangle, repeated, shifted, spread
from catalogue.sheets.shapes import CELL, Shape
from catalogue.sheets.tiles import OVERLAP

SPARE = round(
    OVERLAP / CELL
)  # cells of the first row and the first column of pages that no other row or column has


class PageCells(NamedTuple):
    """The cells of sheets up to `columns` pages wide, of pages of step_x * step_y cells."""

    columns: int
    step_x: int
    step_y: int

    @property
    def stride(self) -> int:
        return Grid(0.0, 0.0, CELL, self.across(self.columns), 0).stride

    def across(self, columns: int) -> int:
        """How many cells wide so many pages are."""
        return columns * self.step_x + SPARE


class Way:
    """A shape on sheets of pages.

    Attributes:
        cells: those it takes with its first at the sheet's corner.
        least: no place has fewer joins run through it.
    """

    __slots__ = (
        "_above", "_across", "_bases", "_columns", "_counted", "_down", "_edge", "_high", "_period", "_step",
        "_stride", "_touching", "cells", "least", "shape",
    )  # fmt: skip

    def __init__(self, shape: Shape, page_cells: PageCells) -> None:
        columns, step_x, step_y = page_cells
        stride = page_cells.stride
        self.shape = shape
        self.cells = joined(shape.cells.rows, stride)
        self._columns, self._step, self._stride = columns, step_y, stride
        # Pages so many columns or rows apart never both hold some of it.
        self._across = -(-(shape.wide - 1) // step_x) + 1
        self._down = -(-(shape.tall - 1) // step_y) + 1
        self._above = shape.tall - 1 - SPARE  # it reaches a row of pages from so many rows above
        reach = spread(spread(joined(shape.cells.mirrored, stride), step_x, 1), step_y, stride)
        self._bases = [shifted(reach, column * step_x + SPARE - shape.wide + 1) for column in range(columns)]
        self._bases[0] |= self._bases[0] >> SPARE
        self._touching: dict[int, int] = {}
        self._period: list[int] | None = None
        self._counted: list[int] = []
        self._high = 0
        self._edge = self._at_edge()
        places = page_cells.across(columns) - shape.wide + 1
        self.least = fewest(self._edge, (1 << places) - 1)[0] - 1
        if shape.tall > step_y + SPARE:  # else nowhere fewer than where one row of pages holds it
            least, _ = fewest(self._repeating(), rectangle(places, step_y, stride))
            self.least = min(self.least, least - 1)

    def _columns_together(self) -> list[int]:
        """The places from which it lies on a page of the first row, of columns too far apart for it in one."""
        together = self._bases[: self._across]
        for column in range(self._across, self._columns):
            together[column % self._across] |= self._bases[column]
        return together

    def _at_edge(self) -> list[int]:
        """On how many pages it lies with its top at the sheet's upper edge."""
        stride, above, line = self._stride, self._above, (1 << self._stride) - 1
        together = self._columns_together()
        first = [
            (shifted(base, -above * stride) | base >> (above + SPARE) * stride) & line for base in together
        ]
        further = range(above - self._step, -1, -self._step)
        return counts(first + [base >> row * stride & line for base in together for row in further])

    def _repeating(self) -> list[int]:
        """On how many pages it lies, for places on a height of one page: further down this repeats."""
        if self._period is None:
            size = self._step * self._stride
            block = (1 << size) - 1
            parts = [
                base >> row * size & block for base in self._columns_together() for row in range(self._down)
            ]
            self._period = counts(parts)
        return self._period

    def touching(self, page: int) -> int:
        """Every place from which it lies on the own part of a page (row * columns + column)."""
        found = self._touching.get(page)
        if found is None:
            row, column = divmod(page, self._columns)
            found = shifted(self._bases[column], (row * self._step - self._above) * self._stride)
            if not row:
                found |= found >> SPARE * self._stride
            self._touching[page] = found
        return found

    def pages(self, x: int, y: int, step_x: int) -> int:
        """The pages whose own part it lies on with its first cell at (x, y), a bit for each."""
        at, found = y * self._stride + x, 0
        columns = range(max(x - SPARE, 0) // step_x, max(x + self.shape.wide - 1 - SPARE, 0) // step_x + 1)
        for row in range(max(y - SPARE, 0) // self._step, max(y + self._above, 0) // self._step + 1):
            for column in columns:
                page = row * self._columns + column
                found |= (self.touching(page) >> at & 1) << page
        return found

    def counted(self, high: int) -> list[int]:
        """On how many pages it lies, as `counts` tells it, from the places of the first `high` rows and more."""
        if high > self._high:
            stride, step = self._stride, self._step
            if high + self.shape.tall <= step + SPARE + 1:  # one row of pages holds it everywhere
                self._counted = [repeated(line, high, stride) for line in self._edge]
                self._high = high
                return self._counted
            lead = self._above % step  # places at the edge are this far down in what repeats
            heights = -(-(high + lead) // step) + 1  # one more: the sheet will grow
            self._high = heights * step - lead
            repeating = self._repeating()
            self._counted = []
            for i in range(max(len(repeating), len(self._edge))):
                block = repeating[i] if i < len(repeating) else 0
                whole = repeated(block, heights, step * stride) >> (lead + 1) * stride << stride
                self._counted.append(whole | self._edge[i] if i < len(self._edge) else whole)
        return self._counted

    def groups(self, pages: Sequence[int]) -> list[int]:
        """The places from which it lies on some of the pages; those too far apart for it are taken together."""
        found: dict[int, int] = {}
        known, columns, across, down = self._touching, self._columns, self._across, self._down
        for page in pages:
            there = known.get(page)
            if there is None:
                there = self.touching(page)
            group = page // columns % down * across + page % columns % across
            found[group] = found[group] | there if group in found else there
        return list(found.values())
