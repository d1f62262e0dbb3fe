"""Where the names go in a figure, so that they can be read: off each other, off dots and off lines.

Each label is placed once and stays where it is in every later step, so the eye finds it again.
"""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from catalogue.geometry import Box, Point

LINE, DOT, WORDS, OUTSIDE = 1, 4, 9, 40
"""How bad it is for a label to lie on a line, a dot, another label, or beyond the edge of the figure (per cell)."""


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
        self.frame = frame
        self.size = size
        self._cell = size / 2
        self._busy: dict[tuple[int, int], int] = {}

    def add_line(self, points: Sequence[Point]) -> None:
        """Keep labels off a line."""
        cells: set[tuple[int, int]] = set()
        for a, b in pairwise(points):
            cells.update(self._cells_on(a.x, a.y, b.x, b.y))
        for cell in cells:
            self._busy[cell] = self._busy.get(cell, 0) + LINE

    def add_dot(self, at: Point) -> None:
        """Keep labels off a point."""
        x, y = self._cell_of(at)
        self._busy[x, y] = self._busy.get((x, y), 0) + DOT

    def beside(self, at: Point, words: str) -> Label:
        """The best place beside a point for its name."""
        width, height, air = text_width(words) * self.size, self.size, 0.2 * self.size
        best, least = Label(at, "start"), math.inf
        cells: list[tuple[int, int]] = []
        for reach in (0.45, 1.1):
            gap = reach * self.size
            for liking, (right, down) in enumerate(_WAYS):
                left = at.x + right * gap - (0.0, width / 2, width)[(0, 1, 2)[1 - right]]
                middle = at.y + down * (gap * 0.55 + height / 2)
                box = Box(left - air, middle - height / 2, left + width + air, middle + height / 2)
                covered = self._cells_in(box)
                cost = self._cost(covered) + 0.1 * liking + (2.5 if reach > 1 else 0.0)
                if cost < least:
                    # Letters without a tail stand on the baseline, about 0.35 of their height below the middle.
                    spot = Point(at.x + right * gap, middle + 0.35 * self.size)
                    best, least, cells = Label(spot, _ANCHORS[right]), cost, covered
            if least < 1:
                break
        self._take(cells)
        return best

    def along(self, points: Sequence[Point], words: str) -> Label | None:
        """A place along a line for its length; None when the line is shorter than the words."""
        width = text_width(words) * self.size * 0.95
        steps = [a.distance(b) for a, b in pairwise(points)]
        if sum(steps) < width * 1.15:
            return None
        best: Label | None = None
        least, cells = 2.0 * DOT, set[tuple[int, int]]()
        for share in (0.5, 0.36, 0.64, 0.24, 0.76):
            middle, angle = _spot(points, steps, share)
            dx, dy = math.cos(math.radians(angle)), math.sin(math.radians(angle))
            for side in (-1, 1):
                off = side * self.size * 0.82
                x, y = middle.x - dy * off, middle.y + dx * off
                covered: set[tuple[int, int]] = set()
                for up in (-0.3 * self.size, 0.3 * self.size):
                    cx, cy = x - dy * up, y + dx * up
                    half = width / 2
                    covered.update(
                        self._cells_on(cx - dx * half, cy - dy * half, cx + dx * half, cy + dy * half)
                    )
                cost = self._cost(covered) + 0.1 * (side > 0)
                if cost < least:
                    drop = 0.35 * self.size
                    best, least = Label(Point(x - dy * drop, y + dx * drop), "middle", angle), cost
                    cells = covered
            if least < 1:
                break
        self._take(cells)
        return best

    def _cells_on(self, x0: float, y0: float, x1: float, y1: float) -> list[tuple[int, int]]:
        """Cells that a straight line touches, as far as steps of one cell tell."""
        cell = self._cell
        x0, y0, x1, y1 = x0 / cell, y0 / cell, x1 / cell, y1 / cell
        count = max(1, math.ceil(max(abs(x1 - x0), abs(y1 - y0))))
        dx, dy = (x1 - x0) / count, (y1 - y0) / count
        return [(math.floor(x0 + dx * n), math.floor(y0 + dy * n)) for n in range(count + 1)]

    def _cell_of(self, point: Point) -> tuple[int, int]:
        return math.floor(point.x / self._cell), math.floor(point.y / self._cell)

    def _cells_in(self, box: Box) -> list[tuple[int, int]]:
        x0, y0 = self._cell_of(Point(box.left, box.top))
        x1, y1 = self._cell_of(Point(box.right, box.bottom))
        return [(x, y) for x in range(x0, x1 + 1) for y in range(y0, y1 + 1)]

    def _cost(self, cells: Iterable[tuple[int, int]]) -> float:
        left, top = self._cell_of(Point(self.frame.left, self.frame.top))
        right, bottom = self._cell_of(Point(self.frame.right, self.frame.bottom))
        cost = 0
        for x, y in cells:
            cost += self._busy.get((x, y), 0)
            if not (left <= x <= right and top <= y <= bottom):
                cost += OUTSIDE
        return cost

    def _take(self, cells: Iterable[tuple[int, int]]) -> None:
        for cell in cells:
            self._busy[cell] = self._busy.get(cell, 0) + WORDS


def taken(label: Label, words: str, size: float) -> Box:
    """The room that a level label's words take when letters are `size` high."""
    width = text_width(words) * size
    left = label.at.x - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    air = 0.15 * size
    return Box(left - air, label.at.y - 0.8 * size, left + width + air, label.at.y + 0.3 * size)


def text_width(words: str) -> float:
    """Rough width of words in letter heights: narrow for most scripts, a full square for East Asian letters."""
    width = 0.0
    for letter in words:
        if unicodedata.combining(letter):
            continue
        width += (
            1.0 if unicodedata.east_asian_width(letter) in "WF" else 0.34 if letter in " il.,’'|" else 0.55
        )
    return width


def _spot(points: Sequence[Point], steps: Sequence[float], share: float) -> tuple[Point, float]:
    """The point at a share of a polyline's length, and the angle at which words there read from the left."""
    left = sum(steps) * share
    for a, b, step in zip(points, points[1:], steps, strict=False):
        if left <= step and step > 0:
            angle = math.degrees(math.atan2(b.y - a.y, b.x - a.x))
            # Upright lines are read from the right-hand side of the sheet, as ISO 129-1 places dimensions.
            if angle > 89.9:
                angle -= 180
            elif angle <= -90.1:
                angle += 180
            return a.mix(b, left / step), angle
        left -= step
    return points[-1], 0.0
