"""A piece as cells of the sheet, turned each way it may lie."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, cos, radians, sin

from catalogue.geometry import Box, Path, Point, Transform
from catalogue.geometry.point import cos_sin
from catalogue.placing import (
    CellShape,
    Grid,
    cells_inside,
    cells_touched,
    half_turned,
    quarter_turned,
    shape_of,
)

CELL = 10.0
GAP = 4.0  # mm kept between pieces, and half of it to the sheet's edge
_STEP = 3.0  # degrees between the tilts tried for a piece that fits no page upright


@dataclass(frozen=True, slots=True)
class Shape:
    """One item turned one way.

    Attributes:
        turn: degrees clockwise.
        left, top: the corner of its first cell, mm, after turning about the origin.
        cells: those it takes.
    """

    turn: float
    left: float
    top: float
    cells: CellShape

    @property
    def wide(self) -> int:
        """How many columns of cells it takes."""
        return self.cells.wide

    @property
    def tall(self) -> int:
        """How many rows."""
        return self.cells.tall

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
    first = _as_cells(points, 0.0)
    if not may_turn:
        return [first]
    quarter = _quarter_turned(first)
    found = [first, quarter, _half_turned(first), _half_turned(quarter)]
    tilt = _tilt(points, window)
    if tilt is not None:
        leaning = _as_cells(points, tilt)
        found += [leaning, _half_turned(leaning)]
    return [s for i, s in enumerate(found) if all(s.cells.rows != f.cells.rows for f in found[:i])]


def moved_box(path: Path, move: Transform) -> Box:
    """The box round a path after a movement."""
    if abs(move.a * move.b) > 1e-12 or abs(move.c * move.d) > 1e-12:
        return path.transformed(move).bounds()
    return Box.around(move.apply(corner) for corner in path.bounds().corners)  # turned by quarters, if at all


def _as_cells(lines: Sequence[Sequence[Point]], turn: float) -> Shape:
    """The cells an item comes within half a gap of."""
    c, s = cos_sin(turn)
    turned = [[(x * c - y * s, x * s + y * c) for x, y in line] for line in lines]
    xs, ys = [x for line in turned for x, _ in line], [y for line in turned for _, y in line]
    margin = GAP / 2
    left, top = min(xs) - margin, min(ys) - margin
    wide = ceil((max(xs) - min(xs) + GAP - 1e-6) / CELL)
    tall = ceil((max(ys) - min(ys) + GAP - 1e-6) / CELL)
    grid = Grid(left, top, CELL, wide, tall)
    rows = [0] * tall
    for line in turned:
        near = cells_touched((*line, line[0]), grid, margin - 0.01)
        rows = [a | b | c for a, b, c in zip(rows, near, cells_inside(line, grid), strict=True)]
    return Shape(turn, left, top, shape_of(rows, wide))


def _quarter_turned(shape: Shape) -> Shape:
    """The same cells after a quarter turn about the origin, clockwise."""
    cells = quarter_turned(shape.cells)
    return Shape(shape.turn + 90.0, -shape.top - shape.tall * CELL, shape.left, cells)


def _half_turned(shape: Shape) -> Shape:
    """The same cells after half a turn about the origin."""
    left, top = -shape.left - shape.wide * CELL, -shape.top - shape.tall * CELL
    return Shape(shape.turn + 180.0, left, top, half_turned(shape.cells))


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
