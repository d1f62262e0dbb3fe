"""A sheet some pages wide, and the best place on it for one item after the other.

A set of cells, or of places for an item's first cell, is one whole number with a bit for each: bit y * stride + x.
So every place on the sheet is looked at in one stroke. What is said of places from which an item would hang over the
sheet's edge is wrong, for there rows run into one another; these places are never among the spots to choose from.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from catalogue.drawing.raster import smeared
from catalogue.sheets.shapes import CELL, Shape
from catalogue.sheets.tiles import OVERLAP, TileGrid

SPARE = round(OVERLAP / CELL)


class Place(NamedTuple):
    """A shape with its first cell at (x, y); bit row * columns + column is set for pages it lies on."""

    shape: Shape
    x: int
    y: int
    pages: int = 0


class Filled(NamedTuple):
    """A sheet with some items on it: cells taken, rows they reach down, pages used, and where each item lies."""

    taken: int
    high: int
    pages: int
    places: tuple[tuple[int, Place], ...]

    @property
    def splits(self) -> int:
        """How many times a join runs through an item."""
        return sum(p.pages.bit_count() - 1 for _, p in self.places)

    def rating(self, whole_first: bool = False) -> tuple[int, int, int]:
        """The smaller the better: pages before splits, or splits before pages where whole items matter more."""
        right = max(p.x + p.shape.wide for _, p in self.places)
        pages, splits = self.pages.bit_count(), self.splits
        return (splits, pages, right * self.high) if whole_first else (pages, splits, right * self.high)


_EMPTY = Filled(0, 0, 0, ())


class Field:
    """A sheet `columns` pages wide for items that each may lie in several `ways`."""

    def __init__(self, ways: Sequence[Sequence[Shape]], grid: TileGrid, columns: int) -> None:
        self.columns = columns
        self._step_x, self._step_y = round(grid.step_x / CELL), round(grid.step_y / CELL)
        self._across = columns * self._step_x + SPARE
        self._endless = grid.paper.roll
        # Sheets from a plotter are awkward to tape: another one costs less than a join through a piece.
        self.whole_first = grid.paper.is_large
        self._ways = [[_Way(s) for s in shapes if s.wide <= self._across] for shapes in ways]
        self._stride = -(-self._across // 8) * 8
        self._begun: dict[tuple[int, ...], Filled] = {(): _EMPTY}

    def fill(self, order: Sequence[int], most: int | None = None) -> Filled | None:
        """Place all items; None as soon as more than `most` pages are needed."""
        done = next(n for n in range(len(order), -1, -1) if tuple(order[:n]) in self._begun)
        sheet = self._begun[tuple(order[:done])]
        for n in range(done, len(order)):
            if most is not None and sheet.pages.bit_count() > most:
                return None
            sheet = self._with(sheet, order[n])
            self._begun[tuple(order[: n + 1])] = sheet
        return None if most is not None and sheet.pages.bit_count() > most else sheet

    def settled(self, sheet: Filled) -> Filled:
        """The same sheet after each split item has been lifted and laid again where it is split less, if it can be.

        No item moves where that would need another page.
        """
        moved = True
        while moved:
            moved = False
            for index, place in sheet.places:
                if place.pages.bit_count() == 1:
                    continue
                others = _EMPTY
                for other, there in sheet.places:
                    if other != index:
                        others = self._and(others, other, there)
                again = self._with(others, index)
                if (again.pages.bit_count(), again.splits) < (sheet.pages.bit_count(), sheet.splits):
                    sheet, moved = again, True
                    break
        return sheet

    def _and(self, sheet: Filled, index: int, place: Place) -> Filled:
        shape = place.shape
        cells = _joined(shape.rows, self._stride) << (place.y * self._stride + place.x)
        return Filled(
            sheet.taken | cells,
            max(sheet.high, place.y + shape.tall),
            sheet.pages | place.pages,
            (*sheet.places, (index, place)),
        )

    def _with(self, sheet: Filled, index: int) -> Filled:
        """The sheet with one more item, at its best place, whichever way it is turned."""
        memo: dict[tuple[int, int], int] = {}
        _, place = min(
            (self._best(way, sheet, memo) for way in self._ways[index]), key=lambda found: found[0]
        )
        return self._and(sheet, index, place._replace(pages=self._pages(place)))

    def _best(
        self, way: _Way, sheet: Filled, memo: dict[tuple[int, int], int]
    ) -> tuple[tuple[int, ...], Place]:
        """The best place for an item lying one way, and how good it is: the smaller the better."""
        shape, stride, step = way.shape, self._stride, self._step_y
        lowest = sheet.high  # no place further down is better than one on the first free row of pages
        if lowest and (not self._endless or (lowest - SPARE) % step + shape.tall > step):
            lowest = -(-max(lowest - SPARE, 1) // step) * step + SPARE
        spots = _rectangle(self._across - shape.wide + 1, lowest + 1, stride)
        spots &= ~_blocked(sheet.taken, shape, stride, memo)
        rows = (lowest + shape.tall) // step + 1
        self._learn(way, rows)
        if self.whole_first:
            _, spots = _fewest(way.counted, spots)
        blank = self._grouped(way, ~sheet.pages)
        fresh = 0
        free = spots
        for touching in blank:
            free &= ~touching
        if free:
            spots = free
        else:
            fresh, spots = _fewest(_counts(blank), spots)
        whole, spots = _fewest(way.counted, spots)
        y, x = divmod((spots & -spots).bit_length() - 1, stride)
        first = (whole, fresh) if self.whole_first else (fresh, whole)
        return (*first, (y + shape.tall) * 4 + x + shape.wide, y, x), Place(shape, x, y)

    def _learn(self, way: _Way, rows: int) -> None:
        """Work out where the item would lie on which page, for some rows of pages."""
        known = len(way.touching) // self.columns
        if known >= rows:
            return
        for row in range(known, rows):
            way.touching += [self._touching(way, column, row) for column in range(self.columns)]
        way.counted = _counts(self._grouped(way, -1))

    def _grouped(self, way: _Way, pages: int) -> list[int]:
        """The places from which the item lies on some of the pages, those of pages too far apart for it together."""
        shape, columns = way.shape, self.columns
        across = (
            -(-(shape.wide - 1) // self._step_x) + 1
        )  # pages so many columns apart never both hold some of it
        down = -(-(shape.tall - 1) // self._step_y) + 1
        groups = [0] * (across * down)
        for page, touching in enumerate(way.touching):
            if pages >> page & 1:
                row, column = divmod(page, columns)
                groups[row % down * across + column % across] |= touching
        return [places for places in groups if places]

    def _touching(self, way: _Way, column: int, row: int) -> int:
        """Every place from which the item lies on the page's own part."""
        shape, stride = way.shape, self._stride
        if not way.reaching:
            mirrored = _joined(shape.mirrored, stride)
            way.reaching = _spread(_spread(mirrored, self._step_x, 1), self._step_y, stride)
        base = way.reaching
        shift = (row * self._step_y + SPARE - shape.tall + 1) * stride
        shift += column * self._step_x + SPARE - shape.wide + 1
        found = base << shift if shift >= 0 else base >> -shift
        if not row:  # its own part begins at the sheet's edge
            found |= found >> (SPARE * stride)
        if not column:
            found |= found >> SPARE
        return found

    def _pages(self, place: Place) -> int:
        """The pages whose own part a placed shape lies on."""
        rows: dict[int, int] = {}
        for y, bits in enumerate(place.shape.rows, place.y):
            row = max(y - SPARE, 0) // self._step_y
            rows[row] = rows.get(row, 0) | bits
        found = 0
        for row, bits in rows.items():
            cells = bits << place.x
            for column in range(self.columns):
                left = column * self._step_x + SPARE if column else 0
                wide = (column + 1) * self._step_x + SPARE - left
                if cells >> left & ((1 << wide) - 1):
                    found |= 1 << (row * self.columns + column)
        return found


class _Way:
    """A shape and what is known of it on one sheet.

    Attributes:
        reaching: places from which it reaches a page, if the page began at the shape's last cell.
        touching: for each page, row by row, the places from which it lies on the page's own part.
        counted: on how many pages it lies, as `_counts` tells it.
    """

    __slots__ = ("counted", "reaching", "shape", "touching")

    def __init__(self, shape: Shape) -> None:
        self.shape = shape
        self.reaching = 0
        self.touching: list[int] = []
        self.counted: list[int] = []


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


def _joined(rows: Sequence[int], stride: int) -> int:
    """Rows as one number; `stride` is a multiple of eight."""
    width = stride // 8
    return int.from_bytes(b"".join(row.to_bytes(width, "little") for row in rows), "little")


def _spread(bits: int, count: int, step: int) -> int:
    """Every cell that one of those set is 0, step, 2 step ... before, `count` in all."""
    have = 1
    while have < count:
        more = min(have, count - have)
        bits |= bits << (more * step)
        have += more
    return bits


def _rectangle(wide: int, rows: int, stride: int) -> int:
    """The first `wide` cells of each of the first `rows` rows."""
    row = ((1 << wide) - 1).to_bytes(stride // 8, "little")
    return int.from_bytes(row * rows, "little")


def _counts(sets: Sequence[int]) -> list[int]:
    """In how many of the sets each place is: number i of the answer holds bit i of the counts."""
    planes: list[int] = []
    for places in sets:
        for i, plane in enumerate(planes):
            planes[i] = plane ^ places
            places &= plane
            if not places:
                break
        else:
            planes.append(places)
    return planes


def _fewest(planes: Sequence[int], spots: int) -> tuple[int, int]:
    """The lowest count at any of the spots, and the spots that have it."""
    lowest = 0
    for i in range(len(planes) - 1, -1, -1):
        without = spots & ~planes[i]
        if without:
            spots = without
        else:
            lowest |= 1 << i
    return lowest, spots
