"""Where the names go in a figure, so that they can be read: off each other, off dots and off lines.

Each label is placed once and stays where it is in every later step, so the eye finds it again.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise
from math import atan2, ceil, cos, degrees, floor, inf, radians, sin
from typing import NamedTuple

from catalogue.geometry import Box, Path, Point, Segment
from catalogue.site.outlines import rough

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
        self._left, self._top = floor(frame.left / self._cell), floor(frame.top / self._cell)
        self._right, self._bottom = floor(frame.right / self._cell), floor(frame.bottom / self._cell)
        across, down = self._right - self._left + 1, self._bottom - self._top + 1
        # How bad it is to lie on each cell of the frame, row by row; of cells beyond it only those not free.
        self._busy = [[0] * across for _ in range(down)]
        self._beyond: dict[tuple[int, int], int] = {}
        # Pieces come again and again with most of their lines as they were; each segment is kept with its cells.
        self._known: dict[int, tuple[Segment, frozenset[tuple[int, int]]]] = {}
        self._waiting: list[Path] = []  # lines to be taken in before the next label is placed

    def add_path(self, path: Path) -> None:
        """Keep labels off a path."""
        self._waiting.append(path)

    def _take_in(self) -> None:
        """Take in the lines that came since the last label."""
        for path in self._waiting:
            cells: set[tuple[int, int]] = set()
            for segment in path.segments:
                known = self._known.get(id(segment))
                if known is None:
                    known = self._known[id(segment)] = segment, frozenset(self._cells_along(rough(segment)))
                cells |= known[1]
            self._take(cells, LINE)
        self._waiting.clear()

    def add_dot(self, at: Point) -> None:
        """Keep labels off a point."""
        cell = self._cell
        self._take([(floor(at[0] / cell), floor(at[1] / cell))], DOT)

    def beside(self, at: Point, words: str) -> Label:
        """The best place beside a point for its name."""
        self._take_in()
        size, cell = self.size, self._cell
        width, height, air = text_width(words) * size, size, 0.2 * size
        best, least = Label(at, "start"), inf
        kept = (0, 0, -1, -1)
        for reach in (0.45, 1.1):
            gap = reach * size
            for liking, (right, down) in enumerate(_WAYS):
                dislike = 0.1 * liking + (2.5 if reach > 1 else 0.0)
                if dislike >= least:
                    break  # not even a free place could be better
                left = at[0] + right * gap - (0.0, width / 2, width)[(0, 1, 2)[1 - right]]
                middle = at[1] + down * (gap * 0.55 + height / 2)
                covered = (
                    floor((left - air) / cell),
                    floor((middle - height / 2) / cell),
                    floor((left + width + air) / cell),
                    floor((middle + height / 2) / cell),
                )
                cost = self._cost_of_block(*covered, least) + 0.1 * liking + (2.5 if reach > 1 else 0.0)
                if cost < least:
                    # Letters without a tail stand on the baseline, about 0.35 of their height below the middle.
                    spot = Point(at[0] + right * gap, middle + 0.35 * size)
                    best, least, kept = Label(spot, _ANCHORS[right]), cost, covered
            if least < 1:
                break
        x0, y0, x1, y1 = kept
        self._take([(x, y) for x in range(x0, x1 + 1) for y in range(y0, y1 + 1)], WORDS)
        return best

    def along(self, points: Sequence[Point], words: str) -> Label | None:
        """A place along a line for its length; None when the line is shorter than the words."""
        size = self.size
        width = text_width(words) * size * 0.95
        steps = [a.distance(b) for a, b in pairwise(points)]
        length = sum(steps)
        if length < width * 1.15:
            return None
        self._take_in()
        best: Label | None = None
        least, cells = 2.0 * DOT, set[tuple[int, int]]()
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
                covered: set[tuple[int, int]] = set()
                for up in (-0.3 * size, 0.3 * size):
                    cx, cy = x - dy * up, y + dx * up
                    ends = ((cx - dx * half, cy - dy * half), (cx + dx * half, cy + dy * half))
                    covered |= self._cells_along(ends)
                cost = self._cost(covered) + dislike
                if cost < least:
                    drop = 0.35 * size
                    best, least = Label(Point(x - dy * drop, y + dx * drop), "middle", angle), cost
                    cells = covered
            if least < 1:
                break
        self._take(cells, WORDS)
        return best

    def _cells_along(self, points: Sequence[tuple[float, float]]) -> set[tuple[int, int]]:
        """Cells that straight lines from point to point touch, as far as steps of one cell tell."""
        cell = self._cell
        cells: set[tuple[int, int]] = set()
        x0, y0 = points[0][0] / cell, points[0][1] / cell
        for x, y in points[1:]:
            x1, y1 = x / cell, y / cell
            across, down = x1 - x0, y1 - y0
            steps = ceil(max(abs(across), abs(down))) or 1
            if steps == 1:
                cells.add((floor(x0), floor(y0)))
                cells.add((floor(x0 + across), floor(y0 + down)))
                x0, y0 = x1, y1
                continue
            across, down = across / steps, down / steps
            cells.update([(floor(x0 + across * n), floor(y0 + down * n)) for n in range(steps + 1)])
            x0, y0 = x1, y1
        return cells

    def _cost(self, cells: Iterable[tuple[int, int]]) -> int:
        left, top, right, bottom, busy = self._left, self._top, self._right, self._bottom, self._busy
        cost = 0
        for x, y in cells:
            if left <= x <= right and top <= y <= bottom:
                cost += busy[y - top][x - left]
            else:
                cost += OUTSIDE + self._beyond.get((x, y), 0)
        return cost

    def _cost_of_block(self, x0: int, y0: int, x1: int, y1: int, least: float) -> float:
        """The cost of all cells from (x0, y0) to (x1, y1); infinite where it is plain that it comes to `least`."""
        left, top, right, bottom = self._left, self._top, self._right, self._bottom
        if not (left <= x0 and x1 <= right and top <= y0 and y1 <= bottom):
            if OUTSIDE * max(left - x0, x1 - right, top - y0, y1 - bottom) >= least:
                return inf
            return self._cost((x, y) for x in range(x0, x1 + 1) for y in range(y0, y1 + 1))
        first, after = x0 - left, x1 - left + 1
        cost = 0
        for row in self._busy[y0 - top : y1 - top + 1]:
            cost += sum(row[first:after])
        return cost

    def _take(self, cells: Iterable[tuple[int, int]], badness: int) -> None:
        left, top, right, bottom, busy = self._left, self._top, self._right, self._bottom, self._busy
        for x, y in cells:
            if left <= x <= right and top <= y <= bottom:
                busy[y - top][x - left] += badness
            else:
                self._beyond[x, y] = self._beyond.get((x, y), 0) + badness


def taken(label: Label, words: str, size: float) -> Box:
    """The room that a level label's words take when letters are `size` high."""
    width = text_width(words) * size
    left = label.at.x - {"start": 0.0, "middle": width / 2, "end": width}[label.anchor]
    air = 0.15 * size
    return Box(left - air, label.at.y - 0.8 * size, left + width + air, label.at.y + 0.3 * size)


@lru_cache(maxsize=4096)
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
