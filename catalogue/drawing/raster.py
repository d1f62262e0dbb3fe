"""Shapes as cells of a grid, kept as whole numbers with one bit per cell: fast room-finding without arrays.

Row r of a grid is bits r * stride to r * stride + columns - 1; one spare bit per row keeps rows apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, floor
from typing import NamedTuple

from catalogue.geometry import Point


class Grid(NamedTuple):
    """Cells of `cell` x `cell` mm from the corner (left, top) on."""

    left: float
    top: float
    cell: float
    columns: int
    rows: int

    @property
    def stride(self) -> int:
        return self.columns + 1


class Window(NamedTuple):
    """Some cells of a grid: the first and last column, the first and last row."""

    left: int
    right: int
    top: int
    bottom: int


def cells_touched(
    points: Sequence[tuple[float, float]], grid: Grid, grown: float = 0.0, window: Window | None = None
) -> list[int]:
    """Row by row, the cells that the open line through `points` comes within `grown` mm of (never too few).

    Cells outside the window may be left out.
    """
    left, top, cell, columns, rows = grid
    leftmost, rightmost, topmost, lowest = window or (0, columns - 1, 0, rows - 1)
    found = [0] * rows
    per = 1.0 / cell
    reach = grown * per  # from here on in cells, from the grid's corner
    x0, y0 = (points[0][0] - left) * per, (points[0][1] - top) * per
    for x, y in points[1:]:
        x1, y1 = (x - left) * per, (y - top) * per
        low, high = (y0, y1) if y0 <= y1 else (y1, y0)
        first, last = floor(low - reach), floor(high + reach)
        if first < topmost:
            first = topmost
        if last > lowest:
            last = lowest
        near, far = (x0, x1) if x0 <= x1 else (x1, x0)
        if first > last or far + reach < leftmost or near - reach >= rightmost + 1:
            x0, y0 = x1, y1
            continue
        level = high - low < 1e-9
        slope = 0.0 if level else (x1 - x0) / (y1 - y0)
        # A line as high as this lies wholly within reach of most of its rows, which then get the same cells.
        a, b = (x0, x1) if level else (x0 + (low - y0) * slope, x0 + (high - y0) * slope)
        if a > b:
            a, b = b, a
        start, end = floor(a - reach), floor(b + reach)
        if start < 0:
            start = 0
        if end >= columns:
            end = columns - 1
        whole = (2 << end) - (1 << start) if end >= start else 0
        for row in range(first, last + 1):
            up, down = row - reach, row + 1 + reach
            if level or (up <= low and down >= high):
                found[row] |= whole
                continue
            a = x0 + ((up if up > low else low) - y0) * slope
            b = x0 + ((down if down < high else high) - y0) * slope
            if a > b:
                a, b = b, a
            start, end = floor(a - reach), floor(b + reach)
            if start < 0:
                start = 0
            if end >= columns:
                end = columns - 1
            if end >= start:
                found[row] |= (2 << end) - (1 << start)
        x0, y0 = x1, y1
    return found


def cells_inside(points: Sequence[tuple[float, float]], grid: Grid) -> list[int]:
    """Row by row, the cells whose middle lies inside the closed polygon (even-odd)."""
    left, top, cell, columns, rows = grid
    crossing: list[list[float]] = [[] for _ in range(rows)]
    x0, y0 = points[-1]
    for x1, y1 in points:
        if y0 != y1:
            lo, hi = (y0, y1) if y0 < y1 else (y1, y0)
            first, last = ceil((lo - top) / cell - 0.5), ceil((hi - top) / cell - 0.5) - 1
            if first < 0:
                first = 0
            if last >= rows:
                last = rows - 1
            if first <= last:
                slope = (x1 - x0) / (y1 - y0)
                for row in range(first, last + 1):
                    crossing[row].append(x0 + (top + (row + 0.5) * cell - y0) * slope)
        x0, y0 = x1, y1
    found = []
    for xs in crossing:
        xs.sort()
        bits = 0
        for a, b in zip(xs[::2], xs[1::2], strict=False):
            start, end = ceil((a - left) / cell - 0.5), ceil((b - left) / cell - 0.5)
            if start < 0:
                start = 0
            if end > columns:
                end = columns
            if end > start:
                bits |= (1 << end) - (1 << start)
        found.append(bits)
    return found


def window_round(rows: Sequence[int]) -> Window:
    """The smallest window that holds all cells set; an empty one for none."""
    there = [n for n, bits in enumerate(rows) if bits]
    if not there:
        return Window(0, -1, 0, -1)
    both = 0
    for bits in rows:
        both |= bits
    return Window((both & -both).bit_length() - 1, both.bit_length() - 1, there[0], there[-1])


def joined(rows: Sequence[int], stride: int) -> int:
    """Rows as one number."""
    bits = 0
    for row in reversed(rows):
        bits = bits << stride | row
    return bits


def row_runs(bits: int) -> Iterator[tuple[int, int]]:
    """(first, count) of each run of cells set in one row."""
    at = 0
    while bits:
        skip = (bits & -bits).bit_length() - 1
        bits >>= skip
        at += skip
        count = (~bits & (bits + 1)).bit_length() - 1
        yield at, count
        bits >>= count
        at += count


def smeared(bits: int, count: int, step: int) -> int:
    """Every cell from which one of the `count` cells at 0, step, 2 step ... further on is set."""
    have = 1
    while have < count:
        more = min(have, count - have)
        bits |= bits >> (more * step)
        have += more
    return bits


def thinned(bits: int, count: int, step: int) -> int:
    """Every cell from which all of the `count` cells at 0, step, 2 step ... further on are set."""
    have = 1
    while have < count:
        more = min(have, count - have)
        bits &= bits >> (more * step)
        have += more
    return bits


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
