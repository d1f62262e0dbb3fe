"""A sheet some pages wide, and the best place on it for one item after the other.

Cells and places are bits of whole numbers, as in `reach`: so every place on the sheet is looked at in one stroke.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from catalogue.drawing.raster import smeared
from catalogue.sheets.reach import SPARE, Raster, Way, counts, fewest, rectangle
from catalogue.sheets.shapes import CELL, Shape
from catalogue.sheets.tiles import TileGrid

Rating = tuple[int, int, int]
"""How good a sheet is: the smaller the better."""

_Spots = tuple[Way, int, int]
"""A way of lying, places for it, and the last row that they are looked for in."""


class Place(NamedTuple):
    """A shape with its first cell at (x, y): the cells it takes, and a bit for each page it lies on."""

    shape: Shape
    x: int
    y: int
    cells: int
    pages: int

    @property
    def splits(self) -> int:
        """How many times a join runs through it."""
        return self.pages.bit_count() - 1


class Filled(NamedTuple):
    """A sheet with some items on it.

    Attributes:
        taken: the cells of all.
        wide, high: the columns and rows of cells they reach.
        pages: those they lie on, a bit for each (see `Way.touching`).
        splits: how many times a join runs through an item.
        places: where each item lies.
    """

    taken: int = 0
    wide: int = 0
    high: int = 0
    pages: int = 0
    splits: int = 0
    places: tuple[tuple[int, Place], ...] = ()

    def rating(self, whole_first: bool = False, more: int = 0) -> Rating:
        """Pages before splits, or splits before pages where whole items matter more; `more` splits are to come."""
        pages, splits, area = self.pages.bit_count(), self.splits + more, self.wide * self.high
        return (splits, pages, area) if whole_first else (pages, splits, area)

    def also(self, index: int, place: Place) -> Filled:
        """The sheet with one more item on it."""
        return Filled(
            self.taken | place.cells,
            max(self.wide, place.x + place.shape.wide),
            max(self.high, place.y + place.shape.tall),
            self.pages | place.pages,
            self.splits + place.splits,
            (*self.places, (index, place)),
        )

    def without(self, index: int) -> Filled:
        """The sheet with one item lifted off it."""
        left = _EMPTY
        for other, place in self.places:
            if other != index:
                left = left.also(other, place)
        return left


_EMPTY = Filled()


class Field:
    """A sheet `columns` pages wide for items that each may lie in several `ways`."""

    def __init__(self, ways: Sequence[Sequence[Way]], raster: Raster, grid: TileGrid, columns: int) -> None:
        self.columns = columns
        self._raster, self._stride = raster, raster.stride
        self._across = raster.across(columns)
        self._endless = grid.paper.roll
        # Sheets from a plotter are awkward to tape: another one costs less than a join through a piece.
        self.whole_first = grid.paper.is_large
        self._ways = [[way for way in of_item if way.shape.wide <= self._across] for of_item in ways]
        self._least = [min(way.least for way in of_item) for of_item in self._ways]
        self._begun: dict[tuple[int, ...], Filled] = {(): _EMPTY}
        self._rectangles: dict[tuple[int, int], int] = {}
        self._rows: dict[int, list[int]] = {}

    def fill(
        self, order: Sequence[int], most: int | None = None, better: Rating | None = None
    ) -> Filled | None:
        """Place all items; None as soon as more than `most` pages are needed, or nothing `better` can come of it."""
        begun = [tuple(order[:n]) for n in range(len(order) + 1)]
        done = next(n for n in range(len(order), -1, -1) if begun[n] in self._begun)
        sheet = self._begun[begun[done]]
        more = sum(self._least[i] for i in order[done:])
        for n in range(done, len(order) + 1):
            if most is not None and sheet.pages.bit_count() > most:
                return None
            if better is not None and sheet.rating(self.whole_first, more) >= better:
                return None
            if n < len(order):
                sheet = self._begun[begun[n + 1]] = self._with(sheet, order[n])
                more -= self._least[order[n]]
        return sheet

    def settled(self, sheet: Filled) -> Filled:
        """The same sheet after each split item has been lifted and laid again where it is split less, if it can be.

        No item moves where that would need another page.
        """
        moved = True
        while moved:
            moved = False
            for index, place in sheet.places:
                if not place.splits:
                    continue
                again = self._with(sheet.without(index), index)
                if (again.pages.bit_count(), again.splits) < (sheet.pages.bit_count(), sheet.splits):
                    sheet, moved = again, True
                    break
        return sheet

    def _with(self, sheet: Filled, index: int) -> Filled:
        """The sheet with one more item, at its best place, whichever way it is turned.

        That is where it needs the fewest fresh pages, then where it lies on the fewest (where whole items matter more,
        the other way round), then nearest to the corner.
        """
        memo: dict[tuple[int, int], int] = {}
        lowest = [self._lowest(way, sheet) for way in self._ways[index]]
        ways = [
            (way, self._spots(way, low, sheet, memo), low)
            for way, low in zip(self._ways[index], lowest, strict=True)
        ]
        way, spots, _ = (self._whole if self.whole_first else self._thrifty)(ways, sheet)
        y, x = divmod((spots & -spots).bit_length() - 1, self._stride)
        cells = way.cells << (y * self._stride + x)
        return sheet.also(index, Place(way.shape, x, y, cells, way.pages(x, y, self._raster.step_x)))

    def _thrifty(self, ways: Sequence[_Spots], sheet: Filled) -> _Spots:
        """The spots with the fewest fresh pages, of these with the fewest pages, the best first."""
        free = self._on_used(ways, sheet)
        best: tuple[tuple[int, ...], _Spots] | None = None
        for way, spots, lowest in free or ways:
            fresh = 0
            if not free and sheet.pages:
                fresh, spots = fewest(counts(way.groups(self._blank(sheet.pages, way, lowest))), spots)
                if best and fresh > best[0][0]:
                    continue
            whole, spots = fewest(way.counted(lowest + 1), spots)
            best = self._better(best, (fresh, whole), (way, spots, lowest))
        assert best is not None
        return best[1]

    def _whole(self, ways: Sequence[_Spots], sheet: Filled) -> _Spots:
        """The spots with the fewest pages, of these with the fewest fresh ones, the best first."""
        best: tuple[tuple[int, ...], _Spots] | None = None
        for way, spots, lowest in ways:
            whole, spots = fewest(way.counted(lowest + 1), spots)
            if best and whole > best[0][0]:
                continue
            fresh, free = 0, self._on_used([(way, spots, lowest)], sheet)
            if free:
                spots = free[0][1]
            else:
                fresh, spots = fewest(counts(way.groups(self._blank(sheet.pages, way, lowest))), spots)
            best = self._better(best, (whole, fresh), (way, spots, lowest))
        assert best is not None
        return best[1]

    def _better(
        self, best: tuple[tuple[int, ...], _Spots] | None, first: tuple[int, int], found: _Spots
    ) -> tuple[tuple[int, ...], _Spots]:
        """The better of two: by `first`, then by how near to the corner the first of the spots is."""
        way, spots, _ = found
        y, x = divmod((spots & -spots).bit_length() - 1, self._stride)
        rating = (*first, (y + way.shape.tall) * 4 + x + way.shape.wide, y, x)
        return (rating, found) if best is None or rating < best[0] else best

    def _lowest(self, way: Way, sheet: Filled) -> int:
        """No place further down is better than one in this row: the first of a free row of pages."""
        lowest, step = sheet.high, self._raster.step_y
        if lowest and (not self._endless or (lowest - SPARE) % step + way.shape.tall > step):
            lowest = -(-max(lowest - SPARE, 1) // step) * step + SPARE
        return lowest

    def _spots(self, way: Way, lowest: int, sheet: Filled, memo: dict[tuple[int, int], int]) -> int:
        """Every place where it would lie on nothing; `memo` serves all ways on the same sheet."""
        wide, rows = self._across - way.shape.wide + 1, lowest + 1
        spots = self._rectangles.get((wide, rows))
        if spots is None:
            spots = self._rectangles[wide, rows] = rectangle(wide, rows, self._stride)
        return spots & (spots ^ _blocked(sheet.taken, way.shape, self._stride, memo))

    def _on_used(self, ways: Sequence[_Spots], sheet: Filled) -> list[_Spots]:
        """The ways that have spots from which they lie on pages in use alone, and these."""
        if not sheet.pages:
            return []
        last = (sheet.pages.bit_length() - 1) // self._raster.columns
        holes = [page for page in self._pages(last + 1) if not sheet.pages >> page & 1]
        below = (last + 1) * self._raster.step_y + SPARE + 1
        found = []
        for way, spots, lowest in ways:
            rows = below - way.shape.tall
            if rows <= 0:
                continue
            if rows <= lowest:
                spots &= (1 << rows * self._stride) - 1
            for page in holes:
                spots ^= spots & way.touching(page)
            if spots:
                found.append((way, spots, lowest))
        return found

    def _blank(self, used: int, way: Way, lowest: int) -> list[int]:
        """The pages not in use, as far down as it could reach."""
        rows = (lowest + way.shape.tall) // self._raster.step_y + 1
        return [page for page in self._pages(rows) if not used >> page & 1]

    def _pages(self, rows: int) -> list[int]:
        """All pages of some rows."""
        found = self._rows.get(rows)
        if found is None:
            each = self._raster.columns
            found = [row * each + column for row in range(rows) for column in range(self.columns)]
            self._rows[rows] = found
        return found


def _blocked(taken: int, shape: Shape, stride: int, memo: dict[tuple[int, int], int]) -> int:
    """Every place where a cell of the shape would be taken; `memo` serves all shapes while `taken` is the same."""
    have, bits = 1, memo.setdefault((1, 1), taken)
    for count in shape.lengths:
        known = memo.get((count, 1))
        if known is None:
            while have < count:
                more = min(have, count - have)
                bits |= bits >> more
                have += more
            memo[count, 1] = bits
        else:
            have, bits = count, known
    blocked = 0
    for row, first, count, rows in shape.bars:
        beside = memo.get((count, rows))
        if beside is None:
            beside = memo[count, rows] = smeared(memo[count, 1], rows, stride)
        blocked |= beside >> (row * stride + first)
    return blocked
