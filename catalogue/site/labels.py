"""Where the names go in a figure, so that they can be read: off each other, off dots and off lines.

Each label is placed once and stays where it is in every later step, so the eye finds it again.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from math import atan2, cos, degrees, floor, inf, radians, sin
from typing import NamedTuple

from catalogue.geometry import Box, Cubic, Path, Point, Segment
from catalogue.placing import Costs, Grid, Window, cells_stepped, joined, rectangle

LINE, DOT, WORDS, OUTSIDE = 1, 4, 9, 40
"""How bad it is for a label to lie on a line, a dot, another label, or beyond the edge of the figure (per cell)."""

BEYOND = 6
"""Cells round the figure on which it is still noted what lies there."""
SAMPLES = 10
"""Straight bits that stand for one curve where only its rough course matters."""


class Label(NamedTuple):
    """Words at a place: `anchor` is start, middle or end; `angle` degrees clockwise."""

    at: Point
    anchor: str
    angle: float = 0.0


# Which way from its point a label goes, in order of liking: (right, down), each -1, 0 or 1.
_WAYS = ((1, -1), (1, 1), (-1, -1), (-1, 1), (1, 0), (-1, 0), (0, -1), (0, 1))
_ANCHORS = {1: "start", 0: "middle", -1: "end"}


class Labels:
    """The room left on one figure, kept as a grid of cells half a letter high."""

    def __init__(self, frame: Box, size: float) -> None:
        """`frame` is what the figure shows, `size` the height of letters, both in mm."""
        self.size = size
        self._cell = cell = size / 2
        left, top = floor(frame.left / cell), floor(frame.top / cell)
        across, down = floor(frame.right / cell) - left + 1, floor(frame.bottom / cell) - top + 1
        # The grid's corner in cells; round the frame it has cells more, which are bad to lie on from the start.
        self._left, self._top = left - BEYOND, top - BEYOND
        columns, rows = across + 2 * BEYOND, down + 2 * BEYOND
        self._grid = grid = Grid(self._left * cell, self._top * cell, cell, columns, rows)
        self._stride = grid.stride
        self._costs = Costs()
        inside = rectangle(across, down, grid.stride) << BEYOND * (grid.stride + 1)
        self._costs.add(rectangle(columns, rows, grid.stride) & ~inside, OUTSIDE)
        # Pieces come again and again with most of their lines as they were; each segment is kept with its cells.
        self._known: dict[int, tuple[Segment, int]] = {}
        self._waiting: list[Path] = []  # lines to be taken in before the next label is placed

    def add_path(self, path: Path) -> None:
        """Keep labels off a path."""
        self._waiting.append(path)

    def _take_in(self) -> None:
        """Take in the lines that came since the last label."""
        for path in self._waiting:
            cells = 0
            for segment in path.segments:
                known = self._known.get(id(segment))
                if known is None:
                    known = self._known[id(segment)] = segment, self._cells_along(rough(segment))[0]
                cells |= known[1]
            self._costs.add(cells, LINE)
        self._waiting.clear()

    def add_dot(self, at: Point) -> None:
        """Keep labels off a point."""
        x, y = floor(at[0] / self._cell - self._left), floor(at[1] / self._cell - self._top)
        if 0 <= x < self._grid.columns and 0 <= y < self._grid.rows:
            self._costs.add(1 << (y * self._stride + x), DOT)

    def beside(self, at: Point, words: str) -> Label:
        """The best place beside a point for its name."""
        self._take_in()
        size, cell = self.size, self._cell
        width, height, air = width_in_letters(words) * size, size, 0.2 * size
        best, least = Label(at, "start"), inf
        kept = Window(0, -1, 0, -1)
        for reach in (0.45, 1.1):
            gap = reach * size
            for liking, (right, down) in enumerate(_WAYS):
                dislike = 0.1 * liking + (2.5 if reach > 1 else 0.0)
                if dislike >= least:
                    break  # not even a free place could be better
                left = at[0] + right * gap - (0.0, width / 2, width)[(0, 1, 2)[1 - right]]
                middle = at[1] + down * (gap * 0.55 + height / 2)
                covered = Window(
                    floor((left - air) / cell) - self._left,
                    floor((left + width + air) / cell) - self._left,
                    floor((middle - height / 2) / cell) - self._top,
                    floor((middle + height / 2) / cell) - self._top,
                )
                cost = self._cost_of_block(covered) + 0.1 * liking + (2.5 if reach > 1 else 0.0)
                if cost < least:
                    # Letters without a tail stand on the baseline, about 0.35 of their height below the middle.
                    spot = Point(at[0] + right * gap, middle + 0.35 * size)
                    best, least, kept = Label(spot, _ANCHORS[right]), cost, covered
            if least < 1:
                break
        cells, first, _ = self._block(kept)
        self._costs.add(cells << first, WORDS)
        return best

    def along(self, points: Sequence[Point], words: str) -> Label | None:
        """A place along a line for its length; None when the line is shorter than the words."""
        size = self.size
        width = width_in_letters(words) * size * 0.95
        steps = [a.distance(b) for a, b in pairwise(points)]
        length = sum(steps)
        if length < width * 1.15:
            return None
        self._take_in()
        best: Label | None = None
        least, cells = 2.0 * DOT, 0
        half = width / 2
        for share in (0.5, 0.36, 0.64, 0.24, 0.76):
            middle, angle = _spot(points, steps, length * share)
            dx, dy = cos(radians(angle)), sin(radians(angle))
            for side in (-1, 1):
                dislike = 0.1 * (side > 0)
                if dislike >= least:
                    break
                off = side * size * 0.82
                x, y = middle[0] - dy * off, middle[1] + dx * off
                lines = []
                for up in (-0.3 * size, 0.3 * size):
                    cx, cy = x - dy * up, y + dx * up
                    lines.append(((cx - dx * half, cy - dy * half), (cx + dx * half, cy + dy * half)))
                covered, inside = self._cells_along(*lines)
                cost = self._costs.of(covered) + OUTSIDE * (not inside) + dislike
                if cost < least:
                    drop = 0.35 * size
                    best, least = Label(Point(x - dy * drop, y + dx * drop), "middle", angle), cost
                    cells = covered
            if least < 1:
                break
        self._costs.add(cells, WORDS)
        return best

    def _cells_along(self, *lines: Sequence[tuple[float, float]]) -> tuple[int, bool]:
        """Cells that lines through points touch, rows joined, and whether none lies beyond the grid."""
        _, _, cell, columns, rows = self._grid
        left, top = self._left, self._top
        levels = [y for line in lines for _, y in line]
        # Most lines lie in a few rows: only these are looked at.
        first, last = max(floor(min(levels) / cell - top), 0), min(floor(max(levels) / cell - top), rows - 1)
        if first > last:
            return 0, False
        found = [0] * (last - first + 1)
        inside = True
        for line in lines:
            in_cells = [(x / cell - left, y / cell - top - first) for x, y in line]
            inside &= cells_stepped(in_cells, found, columns)
        return joined(found, self._stride) << first * self._stride, inside

    def _block(self, cells: Window) -> tuple[int, int, int]:
        """A window's cells from the first on, rows joined; where the first is; how many lie beyond the grid."""
        left, right, top, bottom = cells
        every = (right - left + 1) * (bottom - top + 1)
        left, right = max(left, 0), min(right, self._grid.columns - 1)
        top, bottom = max(top, 0), min(bottom, self._grid.rows - 1)
        wide, tall = right - left + 1, bottom - top + 1
        if wide <= 0 or tall <= 0:
            return 0, 0, every
        stride = self._stride
        return rectangle(wide, tall, stride), top * stride + left, every - wide * tall

    def _cost_of_block(self, window: Window) -> int:
        cells, at, beyond = self._block(window)
        return self._costs.of(cells, at) + OUTSIDE * beyond


def taken(label: Label, words: str, size: float) -> Box:
    """The room that a level label's words take when letters are `size` high."""
    width = width_in_letters(words) * size
    left = label.at.x - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    air = 0.15 * size
    return Box(left - air, label.at.y - 0.8 * size, left + width + air, label.at.y + 0.3 * size)


@lru_cache(maxsize=4096)
def width_in_letters(words: str) -> float:
    """Rough width of words in letter heights: narrow for most scripts, a full square for East Asian letters."""
    width = 0.0
    for letter in words:
        if unicodedata.combining(letter):
            continue
        width += (
            1.0 if unicodedata.east_asian_width(letter) in "WF" else 0.34 if letter in " il.,’'|" else 0.55
        )
    return width


def _spot(points: Sequence[Point], steps: Sequence[float], left: float) -> tuple[Point, float]:
    """The point `left` mm along a polyline, and the angle at which words there read from the left."""
    for a, b, step in zip(points, points[1:], steps, strict=False):
        if left <= step and step > 0:
            angle = degrees(atan2(b.y - a.y, b.x - a.x))
            # Upright lines are read from the right-hand side of the sheet, as ISO 129-1 places dimensions.
            if angle > 89.9:
                angle -= 180
            elif angle <= -90.1:
                angle += 180
            return a.mix(b, left / step), angle
        left -= step
    return points[-1], 0.0


def rough(*segments: Segment) -> list[Point]:
    """Points along segments that follow one another, dense enough to keep labels off them."""
    points = [segments[0].start]
    for segment in segments:
        if isinstance(segment, Cubic):
            points += [segment.point_at(n / SAMPLES) for n in range(1, SAMPLES)]
        points.append(segment.end)
    return points
