"""A sheet some pages wide, and the best place on it for one item after the other.

Cells and places are bits of whole numbers (see `placing.bits`): every place on the sheet is looked at in one stroke.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from catalogue.placing import Overlaps, counts, fewest, first_of, rectangle
from catalogue.sheets.reach import SPARE, PageCells, Way
from catalogue.sheets.shapes import Shape
from catalogue.sheets.tiles import TileGrid

Rating = tuple[int, int, int]
"""How good a sheet is: the smaller the better."""


class PlacedShape(NamedTuple):
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
    places: tuple[tuple[int, PlacedShape], ...] = ()

    def rating(self, whole_first: bool = False, more: int = 0) -> Rating:
        """Pages before splits, or splits before pages where whole items matter more; `more` splits are to come."""
        pages, splits, area = self.pages.bit_count(), self.splits + more, self.wide * self.high
        return (splits, pages, area) if whole_first else (pages, splits, area)

    def also(self, index: int, place: PlacedShape) -> Filled:
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

    def __init__(
        self, ways: Sequence[Sequence[Way]], page_cells: PageCells, grid: TileGrid, columns: int
    ) -> None:
        self.columns = columns
        self.page_cells, self.stride = page_cells, page_cells.stride
        self.across = page_cells.across(columns)
        self.endless = grid.paper.roll
        # Sheets from a plotter are awkward to tape: another one costs less than a join through a piece.
        self.whole_first = grid.paper.is_large
        self._ways = [[way for way in of_item if way.shape.wide <= self.across] for of_item in ways]
        self._least = [min(way.least for way in of_item) for of_item in self._ways]
        self._begun: dict[tuple[int, ...], Filled] = {(): _EMPTY}
        self._rectangles: dict[tuple[int, int], int] = {}
        self._pages: dict[int, list[int]] = {}

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
                left = sheet.without(index)
                if place.splits == self._least[index] and left.pages == sheet.pages:
                    continue  # neither a join nor a page can be saved
                again = self._with(left, index)
                if (again.pages.bit_count(), again.splits) < (sheet.pages.bit_count(), sheet.splits):
                    sheet, moved = again, True
                    break
        return sheet

    def _with(self, sheet: Filled, index: int) -> Filled:
        """The sheet with one more item, at its best place, whichever way it is turned.

        That is where it needs the fewest fresh pages, then where it lies on the fewest (where whole items matter more,
        the other way round), then nearest to the corner.
        """
        way, x, y = _Search(self, sheet).best(self._ways[index])
        cells = way.cells << (y * self.stride + x)
        return sheet.also(index, PlacedShape(way.shape, x, y, cells, way.pages(x, y, self.page_cells.step_x)))

    def rectangle(self, wide: int, rows: int) -> int:
        """The first `wide` places of each of the first `rows` rows."""
        found = self._rectangles.get((wide, rows))
        if found is None:
            found = self._rectangles[wide, rows] = rectangle(wide, rows, self.stride)
        return found

    def pages(self, rows: int) -> list[int]:
        """All pages of the first `rows` rows of them."""
        found = self._pages.get(rows)
        if found is None:
            each = self.page_cells.columns
            found = [row * each + column for row in range(rows) for column in range(self.columns)]
            self._pages[rows] = found
        return found


class _Option(NamedTuple):
    """A way of lying, some places, and the last row that places are looked for in."""

    way: Way
    spots: int
    lowest: int


class _Search:
    """The look for the best place for one more item on a sheet."""

    def __init__(self, field: Field, sheet: Filled) -> None:
        self._field, self._sheet = field, sheet
        self._overlaps = Overlaps(sheet.taken, field.stride)

    def best(self, ways: Sequence[Way]) -> tuple[Way, int, int]:
        """The best way and the column and row of its first cell."""
        options = [self._option(way) for way in ways]
        if self._field.whole_first:
            found = self._best_of(options, self._joins, self._fresh)
        else:
            used = [option for each in options if (option := self._on_used(each)).spots]
            found = self._best_of(used, self._joins) or self._best_of(options, self._fresh, self._joins)
        assert found is not None  # there is always room in a row of pages not in use
        return found

    def _option(self, way: Way) -> _Option:
        """Every place where nothing lies yet."""
        field, lowest, step = self._field, self._sheet.high, self._field.page_cells.step_y
        # No place further down is better than one in the first row of a free row of pages.
        if lowest and (not field.endless or (lowest - SPARE) % step + way.shape.tall > step):
            lowest = -(-max(lowest - SPARE, 1) // step) * step + SPARE
        spots = field.rectangle(field.across - way.shape.wide + 1, lowest + 1)
        return _Option(way, spots ^ (spots & self._overlaps.blocked(way.shape.cells)), lowest)

    def _on_used(self, option: _Option) -> _Option:
        """Those of the places from which it would lie on pages in use alone."""
        way, spots, lowest = option
        field, used = self._field, self._sheet.pages
        last = (used.bit_length() - 1) // field.page_cells.columns
        rows = (last + 1) * field.page_cells.step_y + SPARE - way.shape.tall + 1 if used else 0
        if rows <= 0:
            return _Option(way, 0, lowest)
        if rows <= lowest:
            spots &= (1 << rows * field.stride) - 1
        for page in field.pages(last + 1):
            if not used >> page & 1:
                spots ^= spots & way.touching(page)
        return _Option(way, spots, lowest)

    def _joins(self, option: _Option) -> list[int]:
        """On how many pages it would lie, as `counts` tells it."""
        return option.way.counted(option.lowest + 1)

    def _fresh(self, option: _Option) -> list[int]:
        """On how many pages not in use yet."""
        way, _, lowest = option
        used = self._sheet.pages
        if not used:
            return self._joins(option)
        rows = (lowest + way.shape.tall) // self._field.page_cells.step_y + 1
        return counts(way.groups([page for page in self._field.pages(rows) if not used >> page & 1]))

    def _best_of(
        self,
        options: Sequence[_Option],
        first: Callable[[_Option], list[int]],
        then: Callable[[_Option], list[int]] | None = None,
    ) -> tuple[Way, int, int] | None:
        """Where the counts that `first` gives are lowest, then those of `then`, then what is nearest to the corner."""
        best: tuple[int, ...] = ()
        found: tuple[Way, int, int] | None = None
        for option in options:
            way = option.way
            one, spots = fewest(first(option), option.spots)
            if found and one > best[0]:
                continue
            two = 0
            if then:
                two, spots = fewest(then(option), spots)
            y, x = divmod(first_of(spots), self._field.stride)
            rating = one, two, (y + way.shape.tall) * 4 + x + way.shape.wide, y, x
            if found is None or rating < best:
                best, found = rating, (way, x, y)
        return found
