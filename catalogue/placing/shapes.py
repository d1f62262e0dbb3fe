"""Shapes as cells, and where they may lie among cells that are taken."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from catalogue.placing.bits import row_runs, smeared


@dataclass(frozen=True)
class CellShape:
    """The cells of a shape, its corner at the first of each.

    Attributes:
        rows: its cells, one bit each, row by row.
        bars: its cells as rectangles: (row, first, count, rows).
        lengths: each count among the bars once, ascending.
        wide: how many columns it has.
    """

    rows: tuple[int, ...]
    bars: tuple[tuple[int, int, int, int], ...]
    lengths: tuple[int, ...]
    wide: int

    @property
    def tall(self) -> int:
        """How many rows it has."""
        return len(self.rows)

    @cached_property
    def mirrored(self) -> tuple[int, ...]:
        """The rows after half a turn."""
        return tuple([int(format(bits, f"0{self.wide}b")[::-1], 2) for bits in reversed(self.rows)])


def shape_of(rows: Sequence[int], wide: int) -> CellShape:
    """The shape of these cells."""
    bars: list[tuple[int, int, int, int]] = []
    going: dict[tuple[int, int], int] = {}  # bars of the row above, and where they began
    above = 0
    for r, bits in enumerate([*rows, 0]):
        if bits == above:
            continue  # its bars go on
        here = {bar: going.get(bar, r) for bar in row_runs(bits)}
        bars += [(start, *bar, r - start) for bar, start in going.items() if bar not in here]
        going, above = here, bits
    lengths = tuple(sorted({count for _, _, count, _ in bars}))
    return CellShape(tuple(rows), tuple(bars), lengths, wide)


def quarter_turned(shape: CellShape) -> CellShape:
    """The shape after a quarter turn clockwise."""
    wide = shape.wide
    cells = "".join([format(bits, f"0{wide}b") for bits in shape.rows])
    # A column read from its top becomes a row read from its right: what lay at the foot comes first.
    rows = [int(cells[column::wide], 2) for column in range(wide - 1, -1, -1)]
    return shape_of(rows, shape.tall)


def half_turned(shape: CellShape) -> CellShape:
    """The shape after half a turn."""
    tall, wide = shape.tall, shape.wide
    bars = tuple(
        [(tall - row - high, wide - first - count, count, high) for row, first, count, high in shape.bars]
    )
    turned = CellShape(shape.mirrored, bars, shape.lengths, wide)
    vars(turned)["mirrored"] = shape.rows
    return turned


class Overlaps:
    """Where shapes would meet cells that are taken; what one shape's look found out serves the next."""

    def __init__(self, taken: int, stride: int) -> None:
        """`taken` are the cells, rows joined."""
        self._taken, self._stride = taken, stride
        self._smeared: dict[tuple[int, int], int] = {(1, 1): taken}

    def blocked(self, shape: CellShape) -> int:
        """Every place for the shape's corner where one of its cells would be taken.

        What it says of places from which the shape would reach beyond the end of a row is wrong.
        """
        if not self._taken:
            return 0
        stride, known = self._stride, self._smeared
        have, bits = 1, self._taken
        for count in shape.lengths:
            there = known.get((count, 1))
            if there is None:
                while have < count:
                    more = min(have, count - have)
                    bits |= bits >> more
                    have += more
                known[count, 1] = bits
            else:
                have, bits = count, there
        blocked = 0
        for row, first, count, rows in shape.bars:
            there = known.get((count, rows))
            if there is None:
                there = known[count, rows] = smeared(known[count, 1], rows, stride)
            blocked |= there >> (row * stride + first)
        return blocked
