"""A piece as cells of the sheet, turned each way it may lie."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, cos, floor, radians, sin

from catalogue.drawing.raster import row_runs
from catalogue.geometry import Box, Path, Point, Transform
from catalogue.geometry.point import cos_sin

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
    quarter = _quarter_turned(first)
    found = [first, quarter, _half_turned(first), _half_turned(quarter)]
    tilt = _tilt(points, window)
    if tilt is not None:
        leaning = _raster(points, tilt)
        found += [leaning, _half_turned(leaning)]
    return [s for i, s in enumerate(found) if all(s.rows != f.rows for f in found[:i])]


def moved_box(path: Path, move: Transform) -> Box:
    """The box round a path after a movement."""
    if abs(move.a * move.b) > 1e-12 or abs(move.c * move.d) > 1e-12:
        return path.transformed(move).bounds()
    return Box.around(move.apply(corner) for corner in path.bounds().corners)  # turned by quarters, if at all


def _raster(lines: Sequence[Sequence[Point]], turn: float) -> Shape:
    """The cells an item comes within half a gap of."""
    c, s = cos_sin(turn)
    turned = [[(x * c - y * s, x * s + y * c) for x, y in line] for line in lines]
    xs, ys = [x for line in turned for x, _ in line], [y for line in turned for _, y in line]
    margin = GAP / 2
    left, top = min(xs) - margin, min(ys) - margin
    wide = ceil((max(xs) - min(xs) + GAP - 1e-6) / CELL)
    tall = ceil((max(ys) - min(ys) + GAP - 1e-6) / CELL)
    rows = [0] * tall
    for line in turned:
        _cover(rows, [((x - left) / CELL, (y - top) / CELL) for x, y in line], wide, (margin - 0.01) / CELL)
    return _shape(turn, left, top, rows, wide)


def _cover(rows: list[int], points: Sequence[tuple[float, float]], wide: int, reach: float) -> None:
    """Set the cells inside a closed line (by their middles, even-odd) and all that it comes within `reach` of.

    Coordinates and `reach` are in cells.
    """
    tall = len(rows)
    crossings: list[list[float]] = [[] for _ in rows]
    x0, y0 = points[-1]
    for x1, y1 in points:
        low, high = (y0, y1) if y0 <= y1 else (y1, y0)
        left, right = (x0, x1) if x0 <= x1 else (x1, x0)
        first, last = max(floor(low - reach), 0), min(floor(high + reach), tall - 1)
        start, end = max(floor(left - reach), 0), min(floor(right + reach), wide - 1)
        if start == end or first == last or high - low < 1e-9:  # one column, one row, or level
            bits = ((1 << (end - start + 1)) - 1) << start
            for row in range(first, last + 1):
                rows[row] |= bits
        else:
            slope = (x1 - x0) / (y1 - y0)
            for row in range(first, last + 1):
                up, down = row - reach, row + 1 + reach
                a = x0 + ((up if up > low else low) - y0) * slope
                b = x0 + ((down if down < high else high) - y0) * slope
                if a > b:
                    a, b = b, a
                start, end = max(floor(a - reach), 0), min(floor(b + reach), wide - 1)
                rows[row] |= ((1 << (end - start + 1)) - 1) << start
        if low != high:
            slope = (x1 - x0) / (y1 - y0)
            for row in range(max(ceil(low - 0.5), 0), min(ceil(high - 0.5), tall)):
                crossings[row].append(x0 + (row + 0.5 - y0) * slope)
        x0, y0 = x1, y1
    for row, xs in enumerate(crossings):
        xs.sort()
        for a, b in zip(xs[::2], xs[1::2], strict=False):
            start, end = max(ceil(a - 0.5), 0), min(ceil(b - 0.5) - 1, wide - 1)
            if end >= start:
                rows[row] |= ((1 << (end - start + 1)) - 1) << start


def _quarter_turned(shape: Shape) -> Shape:
    """The same cells after a quarter turn about the origin, clockwise."""
    wide, tall = shape.wide, len(shape.rows)
    across = zip(*(format(bits, f"0{wide}b") for bits in shape.rows), strict=True)
    rows = [int("".join(column), 2) for column in across]
    rows.reverse()
    return _shape(shape.turn + 90.0, -shape.top - tall * CELL, shape.left, rows, tall)


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
