"""Pieces laid on the grid of pages so that few pages are needed.

The sheet is a raster of centimetre cells on which page joins fall between cells. Pieces are placed one after the
other, largest first, each where it needs the fewest new pages, then where it is cut by the fewest joins, then
closest to the corner; this is tried for several sheet widths and orders, and the best is kept. Everything is
counted, nothing timed: the same pieces always give the same sheet.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import ceil
from typing import NamedTuple

from catalogue.drawing.raster import Grid, cells_inside, cells_touched, joined, row_runs, smeared
from catalogue.geometry import Box, Path, Point, Transform, signed_area
from catalogue.sheets.tiles import OVERLAP, Tile, TileGrid

CELL = 10.0
GAP = 4.0  # mm kept between pieces, and half of it to the sheet's edge
_TURNS = (0, 90, 180, 270)
LARGEST = 15_000.0  # mm; nothing larger is laid on paper


class Layout(NamedTuple):
    """Where the pieces go.

    Attributes:
        moves: for each piece, in the order given, the movement from its place to the sheet's.
        columns, rows: pages across and down.
        tiles: the pages that have something on them, row by row.
        taken: per row of cells, the cells with something on them.
        splits: how many times a join runs through a piece.
        lower_bound: no fewer pages could hold the pieces' area.
    """

    moves: tuple[Transform, ...]
    columns: int
    rows: int
    tiles: tuple[Tile, ...]
    taken: tuple[int, ...]
    splits: int
    lower_bound: int


@dataclass(frozen=True, slots=True)
class _Shape:
    """One piece turned one way: its cells, by runs, and its size in cells."""

    turn: int
    left: float
    top: float
    rows: tuple[int, ...]
    runs: tuple[tuple[int, int, int], ...]  # (row, first, count), only what is needed to find collisions
    wide: int
    tall: int
    bands: dict[tuple[int, int], int] = field(default_factory=dict)  # cells of rows a to b taken together

    def band(self, first: int, last: int) -> int:
        """Which columns have a cell in rows `first` up to `last`."""
        key = (first, last)
        bits = self.bands.get(key)
        if bits is None:
            bits = 0
            for row in self.rows[first:last]:
                bits |= row
            self.bands[key] = bits
        return bits


@dataclass(slots=True)
class _Attempt:
    """Sets of pages are numbers with one bit per page: bit row * columns + column."""

    places: list[tuple[_Shape, int, int]]
    columns: int
    pages: int
    splits: int


def pack(outlines: Sequence[Path], grid: TileGrid, *, may_turn: bool = True, effort: int = 1) -> Layout:
    """Lay outlines on the grid of pages.

    Args:
        outlines: closed paths, millimetres.
        may_turn: also try quarter and half turns.
        effort: how many orders of the pieces to try for each sheet width.

    Raises ValueError for an outline larger than `LARGEST` either way.
    """
    if not outlines:
        return Layout((), 0, 0, (), (), 0, 0)
    if not all(fits(o) for o in outlines):
        raise ValueError(f"a piece is larger than {LARGEST / 1000:g} m")
    areas = [abs(signed_area(o)) for o in outlines]
    window = grid.window_width * grid.window_height
    bound = max(1, ceil(sum(areas) / window - 1e-9))
    shapes = [_shapes(o, _TURNS if may_turn else (0,)) for o in outlines]
    best: tuple[tuple[float, ...], _Attempt] | None = None
    for columns in _widths(shapes, grid, bound):
        for order in _orders(areas, shapes, effort):
            attempt = _fill(shapes, order, grid, columns, best[0][0] if best else None)
            if attempt is None:
                continue
            right = max(x + s.wide for s, x, _ in attempt.places)
            low = max(y + s.tall for s, _, y in attempt.places)
            rating = (attempt.pages.bit_count(), attempt.splits, right * low, columns)
            if best is None or rating < best[0]:
                best = (rating, attempt)
        if best and best[0][0] <= bound and best[0][1] == 0:
            break
    assert best is not None  # a sheet as wide as the widest piece always has room
    return _layout(best[1], grid, bound)


def fits(outline: Path) -> bool:
    """Whether an outline is small enough to be laid on paper at all."""
    box = outline.bounds()
    return box.width <= LARGEST and box.height <= LARGEST


def _shapes(outline: Path, turns: Iterable[int]) -> list[_Shape]:
    points = outline.flatten(0.5)
    found: list[_Shape] = []
    for turn in turns:
        shape = _half_turned(found[turn // 90 - 2]) if turn >= 180 else _raster(points, turn)
        found.append(shape)
    return [s for i, s in enumerate(found) if all(s.rows != f.rows for f in found[:i])]


def _raster(points: Sequence[Point], turn: int) -> _Shape:
    """The cells a piece comes within half a gap of."""
    turned = [_quarter(p, turn) for p in points]
    box = Box.around(turned)
    margin = GAP / 2
    left, top = box.left - margin, box.top - margin
    wide, tall = ceil((box.width + GAP - 1e-6) / CELL), ceil((box.height + GAP - 1e-6) / CELL)
    cells = Grid(left, top, CELL, wide, tall)
    touched = cells_touched(turned, cells, margin - 0.01)
    inside = cells_inside(turned, cells)
    return _shape(turn, left, top, [a | b for a, b in zip(touched, inside, strict=True)], wide)


def _half_turned(shape: _Shape) -> _Shape:
    """The same cells after half a turn about the origin."""
    wide = shape.wide
    rows = [int(format(bits, f"0{wide}b")[::-1], 2) for bits in reversed(shape.rows)]
    left, top = -shape.left - wide * CELL, -shape.top - shape.tall * CELL
    return _shape(shape.turn + 180, left, top, rows, wide)


def _shape(turn: int, left: float, top: float, rows: Sequence[int], wide: int) -> _Shape:
    runs = tuple((r, first, count) for r, bits in enumerate(rows) for first, count in row_runs(bits))
    return _Shape(turn, left, top, tuple(rows), runs, wide, len(rows))


def _quarter(p: Point, turn: int) -> Point:
    """A point turned about the origin by a number of quarter turns, exactly."""
    x, y = p
    return {0: Point(x, y), 90: Point(-y, x), 180: Point(-x, -y), 270: Point(y, -x)}[turn]


def _widths(shapes: Sequence[Sequence[_Shape]], grid: TileGrid, bound: int) -> list[int]:
    """Sheet widths to try, in pages: from the narrowest that holds every piece to a strip."""
    step = round(grid.step_x / CELL)
    least = max(min(s.wide for s in ways) for ways in shapes)
    first = max(1, ceil((least - 1) / step))
    square = max(first, round((bound * grid.step_y / grid.step_x) ** 0.5))
    return list(dict.fromkeys([square, *range(first, max(square + 3, first + 3))]))[:6]


def _orders(areas: Sequence[float], shapes: Sequence[Sequence[_Shape]], effort: int) -> list[list[int]]:
    count = range(len(areas))
    by_area = sorted(count, key=lambda i: (-areas[i], i))
    by_reach = sorted(count, key=lambda i: (-max(shapes[i][0].wide, shapes[i][0].tall), i))
    by_box = sorted(count, key=lambda i: (-shapes[i][0].wide * shapes[i][0].tall, i))
    distinct: list[list[int]] = []
    for order in (by_area, by_reach, by_box)[: max(effort, 1)]:
        if order not in distinct:
            distinct.append(order)
    return distinct


def _fill(
    shapes: Sequence[Sequence[_Shape]], order: Sequence[int], grid: TileGrid, columns: int, most: float | None
) -> _Attempt | None:
    """Place all pieces on a sheet `columns` pages wide; None as soon as it needs more than `most` pages."""
    step_x, step_y = round(grid.step_x / CELL), round(grid.step_y / CELL)
    spare = round(OVERLAP / CELL)
    across = columns * step_x + spare
    high = 0
    taken = 0
    places: list[tuple[_Shape, int, int] | None] = [None] * len(shapes)
    pages = 0
    splits = 0
    for index in order:
        best: tuple[tuple[int, ...], _Shape, int, int, int] | None = None
        for shape in shapes[index]:
            if shape.wide > across:
                continue
            blocked = _blocked(taken, shape, across)
            for x, y in _candidates(blocked, shape, across, high, step_x, step_y, spare):
                used = _pages(shape, x, y, step_x, step_y, spare, columns)
                rating = (
                    (used & ~pages).bit_count(),
                    used.bit_count(),
                    (y + shape.tall) * 4 + (x + shape.wide),
                    y,
                    x,
                )
                if best is None or rating < best[0]:
                    best = (rating, shape, x, y, used)
        if best is None:
            return None
        _, shape, x, y, used = best
        taken |= joined(shape.rows, across) << (y * across + x)
        high = max(high, y + shape.tall)
        pages |= used
        splits += used.bit_count() - 1
        places[index] = (shape, x, y)
        if most is not None and pages.bit_count() > most:
            return None
    return _Attempt([p for p in places if p is not None], columns, pages, splits)


def _blocked(taken: int, shape: _Shape, stride: int) -> int:
    """Every cell where the shape's corner cannot lie because a cell of it would be taken.

    Only good for corners that keep the shape within its row of `stride` cells.
    """
    memo: dict[int, int] = {}
    blocked = 0
    for row, first, count in shape.runs:
        wide = memo.get(count)
        if wide is None:
            wide = memo[count] = smeared(taken, count, 1)
        blocked |= wide >> (row * stride + first)
    return blocked


def _candidates(
    blocked: int, shape: _Shape, across: int, high: int, step_x: int, step_y: int, spare: int
) -> Iterable[tuple[int, int]]:
    """Free corners worth looking at: in each row, of those that are blocked one row higher, the first of each page
    column and those where the piece begins or ends at a join; in rows at a join, of all that are free."""
    room = across - shape.wide
    mask = (1 << (room + 1)) - 1
    starts = [0]
    while starts[-1] + step_x <= room:
        starts.append(starts[-1] + (step_x + spare if starts[-1] == 0 else step_x))
    starts = [s for s in starts if s <= room]
    ends = sorted(
        {e for c in range(room // step_x + 3) if 0 <= (e := c * step_x + spare - shape.wide) <= room}
    )
    above = 0
    below = [y for y in range(high + 1, high + step_y + 1) if (y - spare) % step_y == 0]
    for y in [*range(high + 1), *below]:
        free = ~(blocked >> (y * across)) & mask
        at_join = y == 0 or (y - spare) % step_y == 0 or (y + shape.tall - spare) % step_y == 0
        fresh = free if at_join else free & ~above
        above = free
        if not fresh:
            continue
        spots = {s + (rest & -rest).bit_length() - 1 for s in starts if (rest := fresh >> s)}
        spots.update(e for e in ends if fresh >> e & 1)
        for x in sorted(spots):
            yield x, y


def _pages(shape: _Shape, x: int, y: int, step_x: int, step_y: int, spare: int, columns: int) -> int:
    """The pages whose own part the shape touches when its corner lies at cell (x, y)."""
    first_row, last_row = _page(y, step_y, spare), _page(y + shape.tall - 1, step_y, spare)
    first_column, last_column = _page(x, step_x, spare), _page(x + shape.wide - 1, step_x, spare)
    if first_row == last_row and first_column == last_column:
        return 1 << (first_row * columns + first_column)
    used = 0
    for page_row in range(first_row, last_row + 1):
        top = (page_row * step_y + spare if page_row else 0) - y
        low = (page_row + 1) * step_y + spare - y
        bits = shape.band(top if top > 0 else 0, low if low < shape.tall else shape.tall) << x
        for column in range(first_column, last_column + 1):
            left = column * step_x + spare if column else 0
            wide = (column + 1) * step_x + spare - left
            if bits >> left & ((1 << wide) - 1):
                used |= 1 << (page_row * columns + column)
    return used


def _page(cell: int, step: int, spare: int) -> int:
    return (cell - spare) // step if cell > spare else 0


def _layout(attempt: _Attempt, grid: TileGrid, bound: int) -> Layout:
    pages = [
        divmod(bit, attempt.columns) for bit in range(attempt.pages.bit_length()) if attempt.pages >> bit & 1
    ]
    columns = max(c for _, c in pages) + 1
    rows = max(r for r, _ in pages) + 1
    moves = []
    height = max(y + s.tall for s, _, y in attempt.places)
    taken = [0] * height
    for shape, x, y in attempt.places:
        at = Transform.translation(Point(x * CELL - shape.left, y * CELL - shape.top))
        turned = _exact_turn(shape.turn)
        moves.append(turned.then(at))
        for r, bits in enumerate(shape.rows):
            taken[y + r] |= bits << x
    tiles = tuple(Tile(c, r) for r, c in pages)
    return Layout(tuple(moves), columns, rows, tiles, tuple(taken), attempt.splits, bound)


def _exact_turn(turn: int) -> Transform:
    """A quarter turn without the rounding of sine and cosine."""
    a, b = {0: (1.0, 0.0), 90: (0.0, 1.0), 180: (-1.0, 0.0), 270: (0.0, -1.0)}[turn]
    return Transform(a, b, -b, a, 0.0, 0.0)
