"""Pieces laid on the grid of pages so that few pages are needed.

The sheet is a grid of centimetre cells on which page joins fall between cells. Items are placed one after the
other, largest first, each where it needs the fewest new pages, then where it lies on the fewest pages (on plotter
paper the other way round), then closest to the corner; this is tried for several sheet widths and orders, and the
best is kept. Everything is counted, nothing timed: the same pieces always give the same sheet.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from math import ceil
from typing import NamedTuple

from catalogue.geometry import Path, Transform, signed_area
from catalogue.sheets.field import Field, Filled, Rating
from catalogue.sheets.reach import SPARE, PageCells, Way
from catalogue.sheets.shapes import CELL, Shape, shapes_of
from catalogue.sheets.tiles import Tile, TileGrid

LARGEST = 15_000.0  # mm; nothing larger is laid on paper
_WIDTHS = 1  # sheet widths on which further orders are tried
_WORK = 350  # how many items times pages are laid again in search of a better sheet
_WORST = (1_000_000, 0, 0)

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
        cells: for each item the first row of its cells on the sheet, and the cells of each row.
        way: how many pages wide the sheet was, and in what order the items were laid on it.
    """

    moves: tuple[Transform, ...]
    columns: int
    rows: int
    tiles: tuple[Tile, ...]
    taken: tuple[int, ...]
    splits: int
    lower_bound: int
    cells: tuple[tuple[int, tuple[int, ...]], ...] = ()
    way: tuple[int, tuple[int, ...]] = (0, ())


Known = dict[tuple[object, ...], tuple[list[Path], list[Shape]]]
"""Shapes that were worked out before, with the paths they are of."""


def pack(
    items: Sequence[Item],
    grid: TileGrid,
    *,
    may_turn: bool = True,
    effort: int = 1,
    upright: Collection[int] = (),
) -> Layout:
    """Lay items on the grid of pages.

    Args:
        items: closed paths, millimetres; several in one item keep their places to one another.
        may_turn: also try quarter and half turns, and a tilt where only that keeps an item on one page.
        effort: how long to go on looking; 0 for not at all, once a first sheet is there.
        upright: items, by index, that are never turned.

    Raises ValueError for an outline larger than `LARGEST` either way.
    """
    if not items:
        return Layout((), 0, 0, (), (), 0, 0)
    window = grid.window_width, grid.window_height
    layout = _packed(_ItemShapes(items, window, may_turn, upright), grid, effort, None)
    assert layout is not None  # a sheet as wide as the widest piece always has room
    return layout


class _ItemShapes:
    """Items as the cells they take, whichever way they lie."""

    def __init__(
        self,
        items: Sequence[Item],
        window: tuple[float, float],
        may_turn: bool,
        upright: Collection[int],
        known: Known | None = None,
    ) -> None:
        groups = [[item] if isinstance(item, Path) else list(item) for item in items]
        if not all(fits(o) for group in groups for o in group):
            raise ValueError(f"a piece is larger than {LARGEST / 1000:g} m")
        self.areas = [max(abs(signed_area(o)) for o in group) for group in groups]
        known = {} if known is None else known
        self.ways: list[list[Shape]] = []
        for i, group in enumerate(groups):
            turns = may_turn and i not in upright
            key = (window, turns, *map(id, group))
            if key not in known:
                known[key] = group, shapes_of(group, window, may_turn=turns)
            self.ways.append(known[key][1])


def _ways(shaped: _ItemShapes, page_cells: PageCells) -> list[list[Way]]:
    across = page_cells.across(page_cells.columns)
    return [[Way(shape, page_cells) for shape in shapes if shape.wide <= across] for shapes in shaped.ways]


def _page_cells(grid: TileGrid, columns: int) -> PageCells:
    return PageCells(columns, round(grid.step_x / CELL), round(grid.step_y / CELL))


def _packed(shaped: _ItemShapes, grid: TileGrid, effort: int, most: int | None) -> Layout | None:
    """See `pack`; None where more than `most` pages are needed."""
    bound = max(1, ceil(sum(shaped.areas) / (grid.window_width * grid.window_height) - 1e-9))
    widths = _widths(shaped.ways, grid, bound)
    page_cells = _page_cells(grid, max(widths))
    ways = _ways(shaped, page_cells)
    fields = [Field(ways, page_cells, grid, columns) for columns in widths]
    found = _Found(bound, most)
    first, *others = _orders(shaped.areas, shaped.ways)
    for field in fields:
        found.attempt(field, first)
    if not found.ratings:
        return None
    near = sorted(fields, key=lambda f: found.ratings.get(f.columns, _WORST))[:_WIDTHS]
    for field in near:
        for order in others:
            found.attempt(field, order)
    count = len(shaped.ways)
    rounds = effort * min(count, _WORK // (count * bound)) if count > 1 else 0
    for number in range(rounds):
        found.attempt(found.field, _changed(found.order, number))
    return _layout(found.field, found.sheet, found.order, bound)


class _Found:
    """The best sheet found so far, with what led to it."""

    sheet: Filled
    field: Field
    order: list[int]

    def __init__(self, bound: int, most: int | None) -> None:
        self.bound = bound
        self.most = most
        self.ratings: dict[int, Rating] = {}  # the best of each width

    def attempt(self, field: Field, order: list[int]) -> None:
        if self.ratings and self.most == self.bound and not self.sheet.splits:
            return
        split = field.whole_first and (not self.ratings or self.sheet.splits)
        best = self.sheet.rating(field.whole_first) if self.ratings else None
        sheet = field.fill(order, None if split else self.most, best)
        if sheet is None:
            return
        self.sheet, self.field, self.order = sheet, field, order
        self.most = sheet.pages.bit_count()
        self.ratings[field.columns] = sheet.rating(field.whole_first)


def _changed(order: Sequence[int], number: int) -> list[int]:
    """An order with one item put elsewhere; `number` says which and where."""
    count = len(order)
    changed = list(order)
    item = changed.pop(number % count)
    changed.insert((number * 7 + 3 + number // count * 5) % count, item)
    return changed


def pack_again(
    items: Sequence[Item],
    grid: TileGrid,
    before: Layout,
    *,
    may_turn: bool = True,
    known: Known | None = None,
) -> Layout | None:
    """Items of which some have grown a little, laid as was best before; None where more pages are needed."""
    shaped = _ItemShapes(items, (grid.window_width, grid.window_height), may_turn, (), known)
    columns, order = before.way
    page_cells = _page_cells(grid, columns)
    ways = _ways(shaped, page_cells)
    if not all(ways):
        return None
    field = Field(ways, page_cells, grid, columns)
    sheet = field.fill(order, len(before.tiles))
    return None if sheet is None else _layout(field, sheet, order, before.lower_bound)


def pack_on(
    items: Sequence[Item],
    grids: Sequence[TileGrid],
    *,
    may_turn: bool = True,
    effort: int = 1,
    known: Known | None = None,
) -> tuple[TileGrid, Layout]:
    """Lay items on whichever of the grids needs the fewest pages, the first on a tie.

    `known` keeps the shapes of items for when they are laid again.
    """
    if not items:
        return grids[0], Layout((), 0, 0, (), (), 0, 0)
    best: tuple[TileGrid, Layout] | None = None
    seen: list[tuple[float, float]] = []
    shaped: _ItemShapes | None = None
    # The larger window first; but where one page may do, the one that rolls off the plotter upright.
    for grid in sorted(grids, key=lambda g: 0.0 if g.paper.is_large else -g.step_x * g.step_y):
        window = grid.window_width, grid.window_height
        # With quarter turns, the window of the paper on its side is the same window.
        ways = (window, window[::-1]) if may_turn else (window,)
        if any(w <= s and h <= t for w, h in ways for s, t in seen):
            continue
        seen.append(window)
        most = len(best[1].tiles) - 1 if best else None
        if most is not None and most < 1:
            break
        shaped = shaped or _ItemShapes(items, window, may_turn, (), known)
        layout = _packed(shaped, grid, effort, most)
        if layout is None:
            continue
        if best is None or _rank(grid, layout) < _rank(grid, best[1]):
            best = grid, layout
    assert best is not None
    return best


def _rank(grid: TileGrid, layout: Layout) -> tuple[int, int]:
    """The smaller the better; large sheets are not joined through a piece to save a sheet."""
    pages = len(layout.tiles)
    return (layout.splits, pages) if grid.paper.is_large else (pages, layout.splits)


def fits(outline: Path) -> bool:
    """Whether an outline is small enough to be laid on paper at all."""
    box = outline.bounds()
    return box.width <= LARGEST and box.height <= LARGEST


def _widths(ways: Sequence[Sequence[Shape]], grid: TileGrid, bound: int) -> list[int]:
    """Sheet widths to try, in pages: from the narrowest that holds every piece to a strip."""
    step = round(grid.step_x / CELL)
    least = max(min(s.wide for s in shapes) for shapes in ways)
    first = max(1, ceil((least - SPARE) / step))
    square = max(first, round((bound * grid.step_y / grid.step_x) ** 0.5))
    tries = 4 if bound <= 8 else 3  # a large sheet takes longer, and gains less
    return list(dict.fromkeys([square, *range(first, max(square + 3, first + 3))]))[:tries]


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


def _layout(field: Field, sheet: Filled, order: Sequence[int], bound: int) -> Layout:
    sheet, columns = field.settled(sheet), field.page_cells.columns
    pages = [divmod(page, columns) for page in range(sheet.pages.bit_length()) if sheet.pages >> page & 1]
    taken = [0] * sheet.high
    moves: dict[int, Transform] = {}
    cells: dict[int, tuple[int, tuple[int, ...]]] = {}
    for index, (shape, x, y, _, _) in sheet.places:
        moves[index] = shape.moved_to(x, y)
        cells[index] = y, tuple([bits << x for bits in shape.cells.rows])
        for r, bits in enumerate(cells[index][1], y):
            taken[r] |= bits
    return Layout(
        tuple(moves[i] for i in range(len(moves))),
        max(c for _, c in pages) + 1,
        max(r for r, _ in pages) + 1,
        tuple(Tile(c, r) for r, c in pages),
        tuple(taken),
        sheet.splits,
        bound,
        tuple(cells[i] for i in range(len(cells))),
        (field.columns, tuple(order)),
    )
