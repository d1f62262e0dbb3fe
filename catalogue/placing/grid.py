"""A grid of cells laid on paper or cloth, the cells of boxes on it, and free rectangles in it."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor
from typing import NamedTuple

from catalogue.geometry import Box, Point
from catalogue.placing.bits import thinned


class Grid(NamedTuple):
    """Cells of `cell` x `cell` mm from the corner (left, top) on."""

    left: float
    top: float
    cell: float
    columns: int
    rows: int

    @property
    def stride(self) -> int:
        """Bits from one row to the next where rows are joined (see `bits`)."""
        return (self.columns // 8 + 1) * 8


class Window(NamedTuple):
    """Some cells of a grid: the first and last column, the first and last row."""

    left: int
    right: int
    top: int
    bottom: int


def cells_of_box(box: Box, cell: float, *, outwards: bool = False) -> Window:
    """The cells wholly in a box, or with `outwards` all that it touches, of a grid that begins at (0, 0)."""
    up, down = (floor, ceil) if outwards else (ceil, floor)
    tiny = 1e-6 if outwards else -1e-6
    left, top = up(box.left / cell + tiny), up(box.top / cell + tiny)
    right, low = down(box.right / cell - tiny), down(box.bottom / cell - tiny)
    return Window(left, right - 1, top, low - 1)


def mark(rows: list[int], window: Window) -> None:
    """Set the cells of a window, as far down as there are rows."""
    bits = (2 << window.right) - (1 << window.left)
    for row in range(window.top, min(window.bottom + 1, len(rows))):
        rows[row] |= bits


def free_in(rows: Sequence[int], window: Window) -> list[int]:
    """The cells of a window that are not set, row by row from its corner; below the last row all are free."""
    left, right, top, bottom = window
    whole = (2 << right - left) - 1
    count = len(rows)
    return [whole & ~(rows[r] >> left) if r < count else whole for r in range(top, bottom + 1)]


def window_round(rows: Sequence[int]) -> Window:
    """The smallest window that holds all cells set; an empty one for none."""
    there = [n for n, bits in enumerate(rows) if bits]
    if not there:
        return Window(0, -1, 0, -1)
    both = 0
    for bits in rows:
        both |= bits
    return Window((both & -both).bit_length() - 1, both.bit_length() - 1, there[0], there[-1])


def any_room(free: int, grid: Grid, wide: int, tall: int) -> bool:
    """Whether there is a free rectangle of `wide` x `tall` cells; `free` are the free cells, rows joined."""
    return bool(thinned(thinned(free, wide, 1), tall, grid.stride))


def nearest_room(free: int, grid: Grid, wide: int, tall: int, near: Point) -> tuple[int, int] | None:
    """(column, row) of the free rectangle of `wide` x `tall` cells whose middle is nearest to `near`, or None.

    `free` are the free cells, rows joined.
    """
    if wide > grid.columns or tall > grid.rows:
        return None
    bits = thinned(thinned(free, wide, 1), tall, grid.stride)
    if not bits:
        return None
    column = round((near[0] - grid.left) / grid.cell - wide / 2)
    row = (near[1] - grid.top) / grid.cell - tall / 2
    column = min(max(column, 0), grid.columns - 1)
    whole = (1 << grid.columns) - 1
    best: tuple[float, int, int] | None = None
    for r in range(grid.rows - tall + 1):
        here = bits >> (r * grid.stride) & whole
        if not here:
            continue
        right, left = here >> column, here & ((1 << column) - 1)
        spots = []
        if right:
            spots.append(column + (right & -right).bit_length() - 1)
        if left:
            spots.append(left.bit_length() - 1)
        for c in spots:
            distance = (c - column) ** 2 + (r - row) ** 2
            if best is None or distance < best[0]:
                best = (distance, c, r)
    return (best[1], best[2]) if best else None
