"""A piece as cells of the sheet, turned each way it may lie."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, cos, radians, sin

from catalogue.drawing.raster import Grid, cells_inside, cells_touched, row_runs
from catalogue.geometry import Box, Path, Point, Transform

CELL = 10.0
GAP = 4.0  # mm kept between pieces, and half of it to the sheet's edge
_STEP = 3.0  # degrees between the tilts tried for a piece that fits no page upright


@dataclass(frozen=True, slots=True)
class Shape:
    """One item turned one way.

    Attributes:
        turn: degrees clockwise.
        left, top: the corner of its first cell, mm, after turning about the origin.
        rows: its cells, one bit each, row by row.
        mirrored: the cells after half a turn.
        bars: its cells as rectangles: (row, first, count, rows).
        lengths: each count among the bars once, ascending.
    """

    turn: float
    left: float
    top: float
    rows: tuple[int, ...]
    mirrored: tuple[int, ...]
    bars: tuple[tuple[int, int, int, int], ...]
    lengths: tuple[int, ...]
    wide: int

    @property
    def tall(self) -> int:
        return len(self.rows)

    def moved_to(self, column: int, row: int) -> Transform:
        """The movement that takes the item to where its first cell is at (column, row) of the sheet."""
        at = Transform.translation(Point(column * CELL - self.left, row * CELL - self.top))
        return Transform.rotation(self.turn).then(at)


def shapes_of(outlines: Sequence[Path], window: tuple[float, float], *, may_turn: bool) -> list[Shape]:
    """The ways an item may lie: as drawn, by quarter turns, and tilted where only that keeps it on one page.

    Args:
        outlines: closed paths that stay together.
        window: width and height of what one page shows, mm.
    """
    points = [o.flatten(0.5) for o in outlines]
    first = _raster(points, 0.0)
    if not may_turn:
        return [first]
    quarter = _raster(points, 90.0)
    found = [first, quarter, _half_turned(first), _half_turned(quarter)]
    tilt = _tilt(points, window)
    if tilt is not None:
        leaning = _raster(points, tilt)
        found += [leaning, _half_turned(leaning)]
    return [s for i, s in enumerate(found) if all(s.rows != f.rows for f in found[:i])]


def _raster(lines: Sequence[Sequence[Point]], turn: float) -> Shape:
    """The cells an item comes within half a gap of."""
    turning = Transform.rotation(turn)
    turned = [[turning.apply(p) for p in line] for line in lines]
    box = Box.around(p for line in turned for p in line)
    margin = GAP / 2
    left, top = box.left - margin, box.top - margin
    wide, tall = ceil((box.width + GAP - 1e-6) / CELL), ceil((box.height + GAP - 1e-6) / CELL)
    cells = Grid(left, top, CELL, wide, tall)
    rows = [0] * tall
    for line in turned:
        touched, inside = cells_touched(line, cells, margin - 0.01), cells_inside(line, cells)
        rows = [have | a | b for have, a, b in zip(rows, touched, inside, strict=True)]
    return _shape(turn, left, top, rows, wide)


def _half_turned(shape: Shape) -> Shape:
    """The same cells after half a turn about the origin."""
    left, top = -shape.left - shape.wide * CELL, -shape.top - shape.tall * CELL
    bars = tuple(
        (shape.tall - row - rows, shape.wide - first - count, count, rows)
        for row, first, count, rows in shape.bars
    )
    return Shape(shape.turn + 180.0, left, top, shape.mirrored, shape.rows, bars, shape.lengths, shape.wide)


def _shape(turn: float, left: float, top: float, rows: Sequence[int], wide: int) -> Shape:
    bars: list[tuple[int, int, int, int]] = []
    going: dict[tuple[int, int], int] = {}  # bars of the row above, and where they began
    for r, bits in enumerate([*rows, 0]):
        here = {bar: going.get(bar, r) for bar in row_runs(bits)}
        bars += [(start, *bar, r - start) for bar, start in going.items() if bar not in here]
        going = here
    mirrored = tuple(int(format(bits, f"0{wide}b")[::-1], 2) for bits in reversed(rows))
    lengths = tuple(sorted({count for _, _, count, _ in bars}))
    return Shape(turn, left, top, tuple(rows), mirrored, tuple(bars), lengths, wide)


def _tilt(lines: Sequence[Sequence[Point]], window: tuple[float, float]) -> float | None:
    """The angle at which an item that needs two pages upright lies on one with most room to spare, or None."""
    room = window[0] - GAP, window[1] - GAP
    points = [p for line in lines for p in line]
    box = Box.around(points)
    if (box.width <= room[0] and box.height <= room[1]) or (box.height <= room[0] and box.width <= room[1]):
        return None
    if max(box.width, box.height) > (room[0] ** 2 + room[1] ** 2) ** 0.5:
        return None
    best: tuple[float, float] | None = None
    for i in range(1, round(180.0 / _STEP)):
        c, s = cos(radians(i * _STEP)), sin(radians(i * _STEP))
        across = [x * c - y * s for x, y in points]
        down = [x * s + y * c for x, y in points]
        spare = min(room[0] - (max(across) - min(across)), room[1] - (max(down) - min(down)))
        if spare >= 0 and (best is None or spare > best[0] + 1e-9):
            best = spare, i * _STEP
    return best[1] if best else None
