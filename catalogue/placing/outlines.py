"""Closed outlines as shapes of cells, many in one stroke."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from catalogue.placing.shapes import CellShape

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Numbers = NDArray[np.float64]
    Cells = NDArray[np.int64]


def shapes_of_outlines(outlines: Sequence[Numbers], cell: float, columns: int) -> list[CellShape]:
    """The cells that each outline touches, and those whose middle lies inside it (even-odd).

    Args:
        outlines: arrays of n x 2 of corner points, mm, none left of or above (0, 0), where the cells begin.
        cell: mm.
        columns: of cells across; what lies further right is left out.
    """
    import numpy as np

    tall = np.array([int(outline[:, 1].max() / cell - 1e-9) + 1 for outline in outlines])
    ends = np.cumsum(tall)
    # All outlines stand below each other in one field of cells; `base` is the first row of the one a line is of.
    counts = [len(outline) for outline in outlines]
    base, rows = np.repeat(ends - tall, counts), np.repeat(tall, counts)
    start = np.concatenate(outlines)
    end = np.concatenate([part for outline in outlines for part in (outline[1:], outline[:1])])
    field = int(ends[-1]), min(columns, int(start[:, 0].max() / cell) + 2)
    there = _touched(start, end, base, rows, cell, field) | _inside(start, end, base, rows, cell, field)
    packed = np.packbits(there, axis=1, bitorder="little")
    width, whole = packed.shape[1], packed.tobytes()
    bits = [int.from_bytes(whole[n : n + width], "little") for n in range(0, len(whole), width)]
    bars = _bars(there, ends)
    found = []
    for (first, last), own in zip(pairwise([0, *ends.tolist()]), bars, strict=True):
        lengths = tuple(sorted({count for _, _, count, _ in own}))
        wide = max(row.bit_length() for row in bits[first:last])
        found.append(CellShape(tuple(bits[first:last]), tuple(own), lengths, wide))
    return found


def _touched(
    start: Numbers, end: Numbers, base: Cells, rows: Cells, cell: float, field: tuple[int, int]
) -> NDArray[np.bool_]:
    """The cells that straight lines touch, as `lines.touch_cells` finds them."""
    import numpy as np

    per = 1.0 / cell
    (x0, y0), (x1, y1) = (start * per).T, (end * per).T
    low, high = np.minimum(y0, y1), np.maximum(y0, y1)
    level = high - low < 1e-9
    slope = np.where(level, 0.0, (x1 - x0) / np.where(level, 1.0, y1 - y0))
    which, row = _rows_of(np.floor(low), np.floor(high), rows)
    up, down = np.maximum(row, low[which]), np.minimum(row + 1, high[which])
    a = x0[which] + (up - y0[which]) * slope[which]
    b = np.where(level[which], x1[which], x0[which] + (down - y0[which]) * slope[which])
    a = np.where(level[which], x0[which], a)
    first = np.maximum(np.floor(np.minimum(a, b)), 0).astype(int)
    last = np.minimum(np.floor(np.maximum(a, b)), field[1] - 1).astype(int)
    kept = first <= last
    here = (base[which] + row)[kept]
    opened, closed = _counted(here, first[kept], field), _counted(here, last[kept] + 1, field)
    return np.cumsum((opened - closed)[:, :-1], axis=1) > 0


def _inside(
    start: Numbers, end: Numbers, base: Cells, rows: Cells, cell: float, field: tuple[int, int]
) -> NDArray[np.bool_]:
    """The cells whose middle lies inside closed outlines, as `lines.cells_inside` finds them."""
    import numpy as np

    (x0, y0), (x1, y1) = start.T, end.T
    low, high = np.minimum(y0, y1), np.maximum(y0, y1)
    which, row = _rows_of(np.ceil(low / cell - 0.5), np.ceil(high / cell - 0.5) - 1, rows)
    slope = (x1[which] - x0[which]) / (y1[which] - y0[which])
    crossed = x0[which] + ((row + 0.5) * cell - y0[which]) * slope
    column = np.clip(np.ceil(crossed / cell - 0.5), 0, field[1]).astype(int)
    odd = (_counted(base[which] + row, column, field)[:, :-1] & 1).astype(bool)
    return np.logical_xor.accumulate(odd, axis=1)


def _rows_of(first: Numbers, last: Numbers, rows: Cells) -> tuple[Cells, Cells]:
    """Every row from the first to the last of each line, as far as its outline goes: number of the line, and row."""
    import numpy as np

    first = np.maximum(first, 0).astype(int)
    count = np.maximum(np.minimum(last, rows - 1).astype(int) - first + 1, 0)
    which = np.repeat(np.arange(len(count)), count)
    step = np.arange(len(which)) - np.repeat(np.cumsum(count) - count, count)
    return which, first[which] + step


def _counted(row: Cells, column: Cells, field: tuple[int, int]) -> Cells:
    """How often each cell is named, with one column more than the field has."""
    import numpy as np

    tall, wide = field
    return np.bincount(row * (wide + 1) + column, minlength=tall * (wide + 1)).reshape(tall, wide + 1)


def _bars(there: NDArray[np.bool_], ends: Cells) -> list[list[tuple[int, int, int, int]]]:
    """The cells of each outline as rectangles: see `CellShape.bars`."""
    import numpy as np

    edged = np.zeros((there.shape[0], there.shape[1] + 1), bool)
    edged[:, :-1] = there
    edged[:, 1:] ^= there
    row, at = np.divmod(np.flatnonzero(edged), edged.shape[1])
    row, first, count = row[::2], at[::2], at[1::2] - at[::2]
    owner = np.searchsorted(ends, row, side="right")
    order = np.lexsort((row, count, first, owner))
    row, first, count, owner = (each[order] for each in (row, first, count, owner))
    new = np.ones(len(row), bool)
    new[1:] = (
        (row[1:] != row[:-1] + 1)
        | (first[1:] != first[:-1])
        | (count[1:] != count[:-1])
        | (owner[1:] != owner[:-1])
    )
    begins = np.flatnonzero(new)
    high = np.diff([*begins, len(row)])
    top = row[begins] - np.concatenate([[0], ends])[owner[begins]]
    found: list[list[tuple[int, int, int, int]]] = [[] for _ in ends]
    for each, *bar in zip(
        *(one.tolist() for one in (owner[begins], top, first[begins], count[begins], high)), strict=True
    ):
        found[each].append((bar[0], bar[1], bar[2], bar[3]))
    return found
