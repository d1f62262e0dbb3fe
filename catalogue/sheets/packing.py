"""Pieces laid on the grid of pages so that few pages are needed.

The sheet is a raster of centimetre cells on which page joins fall between cells. Items are placed one after the
other, largest first, each where it needs the fewest new pages, then where it lies on the fewest pages, then closest
to the corner; this is tried for several sheet widths and orders, and the best is kept. A set of cells is one whole
number with a bit per cell, so that every place on the sheet is looked at in one stroke. Everything is counted,
nothing timed: the same pieces always give the same sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import NamedTuple

from catalogue.drawing.raster import smeared
from catalogue.geometry import Path, Transform, signed_area
from catalogue.sheets.shapes import CELL, Shape, shapes_of
from catalogue.sheets.tiles import OVERLAP, Tile, TileGrid

LARGEST = 15_000.0  # mm; nothing larger is laid on paper
_SPARE = round(OVERLAP / CELL)

Item = Path | Sequence[Path]
"""What is laid as one: an outline, or several that stay together."""


class Layout(NamedTuple):
    """Where the pieces go.

    Attributes:
        moves: for each item, in the order given, the movement from its place to the sheet's.
        columns, rows: pages across and down.
        tiles: the pages that have something on them, row by row.
        taken: per row of cells, the cells with something on them.
        splits: how many times a join runs through an item.
        lower_bound: no fewer pages could hold the items' area.
    """

    moves: tuple[Transform, ...]
    columns: int
    rows: int
    tiles: tuple[Tile, ...]
    taken: tuple[int, ...]
    splits: int
    lower_bound: int


class _Place(NamedTuple):
    """A shape with its first cell at (x, y), and the pages whose own part it lies on, as (row, column)."""

    shape: Shape
    x: int
    y: int
    pages: frozenset[tuple[int, int]] = frozenset()


@dataclass(slots=True)
class _Attempt:
    """A sheet `columns` pages wide; `pages` are the pages used, as (row, column)."""

    places: list[_Place]
    columns: int
    pages: set[tuple[int, int]]
    splits: int

    @property
    def rating(self) -> tuple[int, int, int, int]:
        """The smaller the better."""
        right = max(p.x + p.shape.wide for p in self.places)
        low = max(p.y + p.shape.tall for p in self.places)
        return len(self.pages), self.splits, right * low, self.columns


def pack(items: Sequence[Item], grid: TileGrid, *, may_turn: bool = True, effort: int = 1) -> Layout:
    """Lay items on the grid of pages.

    Args:
        items: closed paths, millimetres; several in one item keep their places to one another.
        may_turn: also try quarter and half turns, and a tilt where only that keeps an item on one page.
        effort: how many orders of the items to try.

    Raises ValueError for an outline larger than `LARGEST` either way.
    """
    groups = [[item] if isinstance(item, Path) else list(item) for item in items]
    if not groups:
        return Layout((), 0, 0, (), (), 0, 0)
    if not all(fits(o) for group in groups for o in group):
        raise ValueError(f"a piece is larger than {LARGEST / 1000:g} m")
    areas = [max(abs(signed_area(o)) for o in group) for group in groups]
    window = grid.window_width, grid.window_height
    bound = max(1, ceil(sum(areas) / (window[0] * window[1]) - 1e-9))
    ways = [shapes_of(group, window, may_turn=may_turn) for group in groups]
    best: tuple[_Attempt, _Field, list[int]] | None = None

    def attempt(sheet: _Field, order: list[int]) -> None:
        nonlocal best
        laid = sheet.fill(order, len(best[0].pages) if best else None)
        if laid and (best is None or laid.rating < best[0].rating):
            best = laid, sheet, order

    for columns in _widths(ways, grid, bound):
        sheet = _Field(ways, grid, columns)
        for order in _orders(areas, ways):
            attempt(sheet, order)
        if best and len(best[0].pages) <= bound and best[0].splits == 0:
            return _layout(best[0], bound)
    assert best is not None  # a sheet as wide as the widest piece always has room
    for number in range(effort * len(groups) if len(groups) > 1 else 0):
        attempt(best[1], _changed(best[2], number))
    return _layout(best[1].settled(best[0]), bound)


def _changed(order: Sequence[int], number: int) -> list[int]:
    """An order with one item put elsewhere; `number` says which and where."""
    count = len(order)
    changed = list(order)
    item = changed.pop(number % count)
    changed.insert((number * 7 + 3 + number // count * 5) % count, item)
    return changed


def pack_on(
    items: Sequence[Item], grids: Sequence[TileGrid], *, may_turn: bool = True, effort: int = 1
) -> tuple[TileGrid, Layout]:
    """Lay items on whichever of the grids needs the fewest pages, the first on a tie."""
    best: tuple[TileGrid, Layout] | None = None
    seen: list[tuple[float, float]] = []
    for grid in sorted(grids, key=lambda g: -g.step_x * g.step_y):
        window = grid.window_width, grid.window_height
        # With quarter turns, the window of the paper on its side is the same window.
        ways = (window, window[::-1]) if may_turn else (window,)
        if any(w <= s and h <= t for w, h in ways for s, t in seen):
            continue
        seen.append(window)
        layout = pack(items, grid, may_turn=may_turn, effort=effort)
        if best is None or (len(layout.tiles), layout.splits) < (len(best[1].tiles), best[1].splits):
            best = grid, layout
    assert best is not None
    return best


def fits(outline: Path) -> bool:
    """Whether an outline is small enough to be laid on paper at all."""
    box = outline.bounds()
    return box.width <= LARGEST and box.height <= LARGEST


def _widths(ways: Sequence[Sequence[Shape]], grid: TileGrid, bound: int) -> list[int]:
    """Sheet widths to try, in pages: from the narrowest that holds every piece to a strip."""
    step = round(grid.step_x / CELL)
    least = max(min(s.wide for s in shapes) for shapes in ways)
    first = max(1, ceil((least - _SPARE) / step))
    square = max(first, round((bound * grid.step_y / grid.step_x) ** 0.5))
    return list(dict.fromkeys([square, *range(first, max(square + 3, first + 3))]))[:6]


def _orders(areas: Sequence[float], ways: Sequence[Sequence[Shape]]) -> list[list[int]]:
    count = range(len(areas))
    first = [shapes[0] for shapes in ways]
    by_area = sorted(count, key=lambda i: (-areas[i], i))
    by_reach = sorted(count, key=lambda i: (-max(first[i].wide, first[i].tall), i))
    by_box = sorted(count, key=lambda i: (-first[i].wide * first[i].tall, i))
    distinct: list[list[int]] = []
    for order in (by_area, by_reach, by_box):
        if order not in distinct:
            distinct.append(order)
    return distinct


class _Field:
    """A sheet `columns` pages wide, on which items are placed.

    A set of places holds those of an item's first cell: bit y * stride + x. The stride leaves room beside the
    sheet for an item that would hang over its edge, so that no row runs into the next.
    """

    def __init__(self, ways: Sequence[Sequence[Shape]], grid: TileGrid, columns: int) -> None:
        self.columns = columns
        self.step_x, self.step_y = round(grid.step_x / CELL), round(grid.step_y / CELL)
        self.across = columns * self.step_x + _SPARE
        self.ways = [[s for s in shapes if s.wide <= self.across] for shapes in ways]
        widest = max(s.wide for shapes in self.ways for s in shapes)
        self.stride = -(-(self.across + widest) // 8) * 8
        self.endless = grid.paper.roll
        self._reached: dict[int, int] = {}

    def fill(self, order: Sequence[int], most: int | None) -> _Attempt | None:
        """Place all items; None as soon as more than `most` pages are needed."""
        taken = 0
        high = 0
        pages: set[tuple[int, int]] = set()
        splits = 0
        places: dict[int, _Place] = {}
        for index in order:
            place = self._best_way(index, taken, high, pages)
            taken |= self._cells(place)
            high = max(high, place.y + place.shape.tall)
            pages |= place.pages
            splits += len(place.pages) - 1
            places[index] = place
            if most is not None and len(pages) > most:
                return None
        return _Attempt([places[i] for i in range(len(order))], self.columns, pages, splits)

    def settled(self, attempt: _Attempt) -> _Attempt:
        """The same sheet after each split item has been lifted and laid again where it is split less, if it can be.

        No item moves where that would need another page.
        """
        moved = True
        while moved:
            moved = False
            for index in range(len(attempt.places)):
                if len(attempt.places[index].pages) == 1:
                    continue
                again = self._laid_again(attempt, index)
                if (len(again.pages), again.splits) < (len(attempt.pages), attempt.splits):
                    attempt, moved = again, True
        return attempt

    def _laid_again(self, attempt: _Attempt, index: int) -> _Attempt:
        others = [p for i, p in enumerate(attempt.places) if i != index]
        taken = 0
        pages: set[tuple[int, int]] = set()
        for place in others:
            taken |= self._cells(place)
            pages |= place.pages
        high = max((p.y + p.shape.tall for p in others), default=0)
        place = self._best_way(index, taken, high, pages)
        places = list(attempt.places)
        places[index] = place
        return _Attempt(places, self.columns, pages | place.pages, sum(len(p.pages) - 1 for p in places))

    def _cells(self, place: _Place) -> int:
        return _joined(place.shape.rows, self.stride) << (place.y * self.stride + place.x)

    def _best_way(self, index: int, taken: int, high: int, pages: set[tuple[int, int]]) -> _Place:
        """The best place for an item, whichever way it is turned."""
        memo: dict[tuple[int, int], int] = {}
        found = (self._best(shape, taken, high, pages, memo) for shape in self.ways[index])
        place = min(found, key=lambda f: f[0])[1]
        return place._replace(pages=self._pages(place))

    def _best(
        self,
        shape: Shape,
        taken: int,
        high: int,
        pages: set[tuple[int, int]],
        memo: dict[tuple[int, int], int],
    ) -> tuple[tuple[int, ...], _Place]:
        """The best place for a shape, and how good it is."""
        stride, step = self.stride, self.step_y
        lowest = high  # no place further down is better than one on the first free row of pages
        if high and not self.endless:
            lowest = -(-max(high - _SPARE, 1) // step) * step + _SPARE
        spots = _rectangle(self.across - shape.wide + 1, lowest + 1, stride)
        spots &= ~self._blocked(taken, shape, memo)
        new: list[int] = []
        old: list[int] = []
        for row in range((lowest + shape.tall) // step + 1):
            for column in range(self.columns):
                touching = self._touched(shape, column, row) & spots
                if touching:
                    _add(old if (row, column) in pages else new, touching)
        fresh, spots = _fewest(new, spots)
        worn, spots = _fewest(old, spots)
        at = (spots & -spots).bit_length() - 1
        y, x = divmod(at, stride)
        return (fresh, fresh + worn, (y + shape.tall) * 4 + x + shape.wide, y, x), _Place(shape, x, y)

    def _blocked(self, taken: int, shape: Shape, memo: dict[tuple[int, int], int]) -> int:
        """Every place where a cell of the shape would be taken."""
        blocked = 0
        for row, first, count, rows in shape.bars:
            wide = memo.get((count, rows))
            if wide is None:
                beside = memo.get((count, 1))
                if beside is None:
                    beside = memo[count, 1] = smeared(taken, count, 1)
                wide = memo[count, rows] = smeared(beside, rows, self.stride)
            blocked |= wide >> (row * self.stride + first)
        return blocked

    def _touched(self, shape: Shape, column: int, row: int) -> int:
        """Every place where the shape lies on the page's own part, and some beside the sheet."""
        base = self._reaching(shape)
        stride = self.stride
        shift = (row * self.step_y + _SPARE - shape.tall + 1) * stride
        shift += column * self.step_x + _SPARE - shape.wide + 1
        found = base << shift if shift >= 0 else base >> -shift
        if not row:  # its own part begins at the sheet's edge, as if a page above came with it
            found |= base >> (self.step_y * stride - shift)
        if not column:
            found |= found >> self.step_x
        return found

    def _reaching(self, shape: Shape) -> int:
        """Every place where a shape reaches a page's own part, if that began at the shape's last cell."""
        known = self._reached.get(id(shape))
        if known is None:
            known = _spread(_joined(shape.mirrored, self.stride), self.step_x, 1)
            known = self._reached[id(shape)] = _spread(known, self.step_y, self.stride)
        return known

    def _pages(self, place: _Place) -> frozenset[tuple[int, int]]:
        found = set()
        for r, bits in enumerate(place.shape.rows):
            y = place.y + r
            row = max(y - _SPARE, 0) // self.step_y
            cells = bits << place.x
            for column in range(self.columns):
                left = column * self.step_x + _SPARE if column else 0
                wide = (column + 1) * self.step_x + _SPARE - left
                if cells >> left & ((1 << wide) - 1):
                    found.add((row, column))
        return frozenset(found)


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


def _add(planes: list[int], places: int) -> None:
    """Count one more at every place of a set; plane i holds bit i of the counts."""
    for i, plane in enumerate(planes):
        planes[i] = plane ^ places
        places &= plane
        if not places:
            return
    planes.append(places)


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


def _layout(attempt: _Attempt, bound: int) -> Layout:
    columns = max(c for _, c in attempt.pages) + 1
    rows = max(r for r, _ in attempt.pages) + 1
    taken = [0] * max(p.y + p.shape.tall for p in attempt.places)
    for shape, x, y, _ in attempt.places:
        for r, bits in enumerate(shape.rows):
            taken[y + r] |= bits << x
    tiles = tuple(Tile(c, r) for r, c in sorted(attempt.pages))
    moves = tuple(p.shape.moved_to(p.x, p.y) for p in attempt.places)
    return Layout(moves, columns, rows, tiles, tuple(taken), attempt.splits, bound)
