"""Lines and outlines as cells of a grid."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor

from catalogue.placing.grid import Grid, Window


def cells_touched(points: Sequence[tuple[float, float]], grid: Grid, grown: float = 0.0) -> list[int]:
    """Row by row, the cells that the open line through `points` comes within `grown` mm of (never too few)."""
    rows = [0] * grid.rows
    touch_cells(rows, points, grid, grown)
    return rows


def touch_cells(
    found: list[int],
    points: Sequence[tuple[float, float]],
    grid: Grid,
    grown: float,
    window: Window | None = None,
) -> None:
    """Add to the rows `found` the cells that the open line through `points` comes within `grown` mm of.

    Never too few; but cells outside the window may be left out.
    """
    left, top, cell, columns, rows = grid
    leftmost, rightmost, topmost, lowest = window or (0, columns - 1, 0, rows - 1)
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
        if slope == 0.0:
            for row in range(first, last + 1):
                found[row] |= whole
            x0, y0 = x1, y1
            continue
        rising = slope < 0.0
        for row in range(first, last + 1):
            up, down = row - reach, row + 1 + reach
            if up <= low:
                if down >= high:
                    found[row] |= whole
                    continue
                up = low
            if down > high:
                down = high
            if rising:
                up, down = down, up
            start, end = floor(x0 + (up - y0) * slope - reach), floor(x0 + (down - y0) * slope + reach)
            if start < 0:
                start = 0
            if end >= columns:
                end = columns - 1
            if end >= start:
                found[row] |= (2 << end) - (1 << start)
        x0, y0 = x1, y1


def cells_inside(points: Sequence[tuple[float, float]], grid: Grid) -> list[int]:
    """Row by row, the cells whose middle lies inside the closed polygon (even-odd)."""
    left, top, cell, columns, rows = grid
    found = [0] * rows
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
                    x = x0 + (top + (row + 0.5) * cell - y0) * slope
                    column = ceil((x - left) / cell - 0.5)
                    if column < 0:
                        column = 0
                    elif column > columns:
                        column = columns
                    # All cells further right change sides; those beyond the grid an even number of times.
                    found[row] ^= -1 << column
        x0, y0 = x1, y1
    return found


def cells_stepped(points: Sequence[tuple[float, float]], rows: list[int], columns: int) -> bool:
    """Set the cells that a line meets, looked at in steps of at most a cell; False if some lie beyond the grid.

    Quicker than `cells_touched`, and with cells left out that a line only cuts the corner of.

    Args:
        points: through which the line goes, in cells from the grid's corner.
        rows: the grid's rows of cells, to which those of the line are added.
        columns: how many cells a row has; what lies beyond is left out.
    """
    count, inside = len(rows), True
    x0, y0 = points[0]
    for x1, y1 in points[1:]:
        across, down = x1 - x0, y1 - y0
        steps = ceil(max(abs(across), abs(down))) or 1
        across, down = across / steps, down / steps
        if across and down:
            for n in range(steps + 1):
                x, y = floor(x0 + across * n), floor(y0 + down * n)
                if 0 <= x < columns and 0 <= y < count:
                    rows[y] |= 1 << x
                else:
                    inside = False
        else:  # along a row or a column, every cell from end to end
            left, right = sorted((floor(x0), floor(x0 + across * steps)))
            top, bottom = sorted((floor(y0), floor(y0 + down * steps)))
            if left < 0 or right >= columns or top < 0 or bottom >= count:
                inside = False
                left, right = max(left, 0), min(right, columns - 1)
                top, bottom = max(top, 0), min(bottom, count - 1)
            if left <= right:
                whole = (2 << right) - (1 << left)
                for y in range(top, bottom + 1):
                    rows[y] |= whole
        x0, y0 = x1, y1
    return inside
