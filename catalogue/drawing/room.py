"""Where words fit on a piece: along an edge, and the label where there is most room."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise
from math import atan2, ceil, cos, degrees, hypot, radians, sin
from typing import NamedTuple

from catalogue.drawing.labels import LabelLine
from catalogue.drawing.lettering import text_width
from catalogue.geometry import Path, Point
from catalogue.placing import (
    Grid,
    Window,
    any_room,
    cells_inside,
    cells_touched,
    joined,
    nearest_room,
    touch_cells,
    window_round,
)

LEADING = 1.35
PLACES = (0.5, 0.34, 0.66, 0.2, 0.8)
"""Shares of an edge's length at which its name may stand, the best first."""
_SHRINK = (1.0, 0.88, 0.76, 0.65, 0.55, 0.46, 0.38)
_GOOD_ENOUGH = 0.75  # of full size: then the label is read level
_WORTH_TURNING = 1.25  # how much larger letters must get before the label is turned along the piece
_ROUNDING = 1e-6
_SMALLEST = 1.9  # mm: smaller than this nobody reads at the cutting table


class Spot(NamedTuple):
    """Where a text goes: the middle of its baseline, its size in mm and its angle in degrees clockwise."""

    at: Point
    size: float
    angle: float


class Block(NamedTuple):
    """Where a label goes: each line's words, spot and kind."""

    lines: tuple[tuple[LabelLine, Spot], ...]


def readable(angle: float) -> float:
    """The angle or its opposite, whichever is read from the foot of the sheet or from its right."""
    angle = (angle + 180.0) % 360.0 - 180.0
    if angle > 89.999:
        return angle - 180.0
    if angle < -90.001:
        return angle + 180.0
    return angle


class _Stretch(NamedTuple):
    """A few points of a line that follow one another, and the box round them."""

    left: float
    top: float
    right: float
    bottom: float
    points: Sequence[Point]
    line: int  # the id of the whole line


@dataclass
class _Known:
    """What was found out of a piece's outline and lines. Each is kept with them, so that no other takes its place."""

    frames: dict[tuple[float, float], _Frame] = field(default_factory=dict)
    stretches: dict[int, tuple[Sequence[Point], list[_Stretch]]] = field(default_factory=dict)

    def stretches_of(self, points: Sequence[Point]) -> list[_Stretch]:
        known = self.stretches.get(id(points))
        if known is None:
            known = self.stretches[id(points)] = points, list(_stretches(points))
        return known[1]


_STRETCH = 8  # lines in a stretch


def _stretches(points: Sequence[Point]) -> Iterator[_Stretch]:
    for first in range(0, max(len(points) - 1, 1), _STRETCH):
        some = points[first : first + _STRETCH + 1]
        xs, ys = [p[0] for p in some], [p[1] for p in some]
        yield _Stretch(min(xs), min(ys), max(xs), max(ys), some, id(points))


@dataclass
class Room:
    """The space of one piece and what already stands in it.

    Attributes:
        outline: the seam line as a closed polygon.
        lines: polylines that no words may cross, each with the distance in mm to keep from it; they become more
            (see `keep_clear`), and none is changed or taken away.
        around: a line round the outline, which words that reach beyond may not cross either.
    """

    outline: list[Point]
    lines: list[tuple[list[Point], float]] = field(default_factory=list)
    around: Sequence[Point] = ()
    _known: _Known = field(default_factory=_Known, repr=False, compare=False)
    _stretches: list[_Stretch] = field(default_factory=list, init=False, repr=False, compare=False)
    _looked_at: int = field(
        default=0, init=False, repr=False, compare=False
    )  # lines whose stretches are there
    _without: frozenset[int] = field(
        default=frozenset(), init=False, repr=False, compare=False
    )  # ids of lines
    _more: list[_Stretch] = field(default_factory=list, init=False, repr=False, compare=False)

    def with_lines(self, lines: Sequence[tuple[list[Point], float]]) -> Room:
        """The same space with these lines in it instead."""
        return Room(self.outline, list(lines), self.around, self._known)

    def seen(
        self,
        *,
        without: Iterable[Sequence[Point]] = (),
        more: Iterable[tuple[Sequence[Point], float]] = (),
    ) -> Room:
        """The same space for asking what `is_clear` of all but some of its lines, and of more."""
        room = Room(self.outline, self.lines, self.around, self._known)
        room._stretches, room._looked_at = self._drawn(), len(self.lines)
        room._without = frozenset(map(id, without))
        room._more = [stretch for points, _ in more for stretch in self._known.stretches_of(points)]
        return room

    def keep_clear(self, points: Sequence[Point], distance: float) -> None:
        self.lines.append((list(points), distance))

    def is_clear(self, spot: Spot, width: float, margin: float) -> bool:
        """True when a text of `width` mm at `spot` crosses neither the outline nor anything drawn."""
        c, s = cos(radians(spot.angle)), sin(radians(spot.angle))
        half, top, bottom = width / 2 + margin, -0.78 * spot.size - margin, 0.2 * spot.size + margin
        ox, oy = spot.at
        # The upright box round the text: what lies beside it needs no closer look.
        deep, middle = (bottom - top) / 2, (top + bottom) / 2
        across, down = half * abs(c) + deep * abs(s) + _ROUNDING, half * abs(s) + deep * abs(c) + _ROUNDING
        x, y = ox - middle * s, oy + middle * c
        left, high, right, low = x - across, y - down, x + across, y + down

        for x0, y0, x1, y1, points, line in (*self._drawn(), *self._more):
            if x1 < left or x0 > right or y1 < high or y0 > low or line in self._without:
                continue
            px, py = points[0]
            ax, ay = (px - ox) * c + (py - oy) * s, (py - oy) * c - (px - ox) * s
            for qx, qy in points[1:]:
                bx, by = (qx - ox) * c + (qy - oy) * s, (qy - oy) * c - (qx - ox) * s
                apart = (
                    (ax < -half and bx < -half)
                    or (ax > half and bx > half)
                    or (ay < top and by < top)
                    or (ay > bottom and by > bottom)
                )
                if not apart and _cuts_box(ax, ay, bx, by, half, top, bottom):
                    return False
                ax, ay = bx, by
        return True

    def _drawn(self) -> list[_Stretch]:
        """The stretches of the outline, of what is round it and of all lines."""
        found, known = self._stretches, self._known
        if not found:
            found += known.stretches_of(self.outline)
            if self.around:
                found += known.stretches_of(self.around)
        for points, _ in self.lines[self._looked_at :]:
            found += known.stretches_of(points)
        self._looked_at = len(self.lines)
        return found

    def frame(self, angle: float, gap: float) -> _Frame:
        """The piece's cells for text of an angle, `gap` mm off its outline; worked out once."""
        frames = self._known.frames
        if (angle, gap) not in frames:
            frames[angle, gap] = _Frame(self.outline, angle, gap)
        return frames[angle, gap]

    def occupy(self, spot: Spot, width: float) -> None:
        """Note a text as something to keep clear of."""
        c, s = cos(radians(spot.angle)), sin(radians(spot.angle))
        half, top, bottom = width / 2, -0.78 * spot.size, 0.2 * spot.size
        corners = [(-half, top), (half, top), (half, bottom), (-half, bottom), (-half, top), (half, bottom)]
        at = spot.at
        self.keep_clear(
            [Point(at[0] + x * c - y * s, at[1] + x * s + y * c) for x, y in corners], spot.size * 0.4
        )


class _Ruler:
    """Points along a path by length, near enough for placing words: between points 0.2 mm true to it."""

    def __init__(self, path: Path) -> None:
        self._points = path.flatten(0.2)
        self._marks = [0.0]
        for (x0, y0), (x1, y1) in pairwise(self._points):
            self._marks.append(self._marks[-1] + hypot(x1 - x0, y1 - y0))

    @property
    def length(self) -> float:
        return self._marks[-1]

    @property
    def is_straight(self) -> bool:
        return len(self._points) == 2

    def point_at(self, s: float) -> tuple[float, float]:
        marks = self._marks
        i = bisect_right(marks, s, 1, len(marks) - 1)
        (x0, y0), (x1, y1) = self._points[i - 1], self._points[i]
        before = marks[i - 1]
        span = marks[i] - before
        t = (s - before) / span if span else 0.0
        return x0 + (x1 - x0) * t, y0 + (y1 - y0) * t


def along_edge(
    room: Room,
    path: Path,
    words: str,
    size: float,
    *,
    gap: float,
    places: Sequence[float] = PLACES,
) -> Spot | None:
    """A spot for a name along an edge, just inside it: the first place and size at which it is clear, or None."""
    ruler = _Ruler(path)
    length = ruler.length
    for factor in (1.0, 0.8, 0.62):
        kind = size * factor
        width = text_width(words, kind)
        if kind < min(_SMALLEST, size) or width > 0.9 * length:
            continue
        for place in places:
            low = min(max(place * length - width / 2, 0.0), length - width)
            spot = _beside(ruler, low, low + width, kind, gap)
            if spot and room.is_clear(spot, width, 0.25 * kind):
                return spot
    return None


def _beside(path: _Ruler, low: float, high: float, size: float, gap: float) -> Spot | None:
    """Text parallel to the chord from `low` to `high`, beyond the edge's bulge into the piece."""
    a, b = path.point_at(low), path.point_at(high)
    run = hypot(b[0] - a[0], b[1] - a[1])
    if run < 0.6 * (high - low):
        return None
    ux, uy = (b[0] - a[0]) / run, (b[1] - a[1]) / run
    inward_x, inward_y = -uy, ux  # the piece lies to the right of travel
    bulge = 0.0
    for i in range(1, 1 if path.is_straight else 6):
        x, y = path.point_at(low + (high - low) * i / 6)
        rise = (x - a[0]) * inward_x + (y - a[1]) * inward_y
        if rise > bulge:
            bulge = rise
    angle = degrees(atan2(uy, ux))
    turned = readable(angle)
    same = abs(((turned - angle) + 180.0) % 360.0 - 180.0) < 1.0
    # Letters stand up from the baseline: towards the edge when read along it, away from it when turned round.
    depth = bulge + gap + (0.75 * size if same else 0.12 * size)
    middle = Point((a[0] + b[0]) / 2 + inward_x * depth, (a[1] + b[1]) / 2 + inward_y * depth)
    return Spot(middle, size, turned)


def place_label(
    room: Room,
    lines: Sequence[LabelLine],
    grain: float,
    *,
    scale: float,
    gap: float,
    least: float = 0.0,
) -> Block | None:
    """The label as large as it fits (at most full size), square to the grain or along it, or None.

    `grain` is the direction of the grain line in degrees. When the whole label cannot be read at the smallest
    size, lines are left out from the end. With `least`, only the whole label at that share of full size or more
    will do.
    """
    level, upright = sorted({readable(grain + 90.0), readable(grain)}, key=lambda a: (abs(a), a))
    smallest = _SMALLEST * min(scale, 1.0)
    free: dict[float, int] = {}

    def free_in(frame: _Frame) -> int:
        if frame.angle not in free:
            free[frame.angle] = frame.free(room.lines)
        return free[frame.angle]

    def largest(angle: float, count: int, above: float = 0.0) -> tuple[float, Block] | None:
        some = lines[:count]
        slight = min(line.size for line in some)
        factors = [f for f in _SHRINK if f > above and f >= least and not slight * f * scale < smallest]
        if not factors:
            return None

        def at(factor: float) -> tuple[float, Block] | None:
            block = room.frame(angle, gap).fit(some, factor, scale, free_in)
            return (factor, block) if block else None

        # Where a label fits, a smaller one fits as well: most fit at full size or not at all, and for the others the
        # largest is found by halving.
        found = at(factors[0])
        if found or len(factors) == 1:
            return found
        found = at(factors[-1])
        low, high = 1, len(factors) - 1
        while found and low < high:
            middle = (low + high) // 2
            larger = at(factors[middle])
            if larger:
                found, high = larger, middle
            else:
                low = middle + 1
        return found

    for count in [len(lines)] if least else range(len(lines), 0, -1):
        first = largest(level, count)
        if first and first[0] >= _GOOD_ENOUGH:
            return first[1]
        second = largest(upright, count, first[0] * _WORTH_TURNING if first else 0.0)
        if second or first:
            return (second or first)[1]  # type: ignore[index]
    return None


class _Frame:
    """The cells of a piece, seen with text of one angle running level."""

    def __init__(self, outline: Sequence[Point], angle: float, gap: float) -> None:
        self.angle = angle
        self._c, self._s = cos(radians(angle)), sin(radians(angle))
        self._outline = self._turned(outline)
        xs, ys = [p[0] for p in self._outline], [p[1] for p in self._outline]
        wide, tall = max(xs) - min(xs), max(ys) - min(ys)
        cell = min(max(min(wide, tall) / 28, 1.2), 10.0)
        self.grid = Grid(min(xs), min(ys), cell, ceil(wide / cell) + 1, ceil(tall / cell) + 1)
        self._gap = min(gap, 0.12 * min(wide, tall))

    @cached_property
    def _inside(self) -> tuple[int, Point, Window]:
        """The cells inside and off the outline, rows joined; the middle of all that lie inside; where there are any."""
        inside = cells_inside(self._outline, self.grid)
        edge = cells_touched([*self._outline, self._outline[0]], self.grid, self._gap)
        free = [bits & ~touched for bits, touched in zip(inside, edge, strict=True)]
        return joined(free, self.grid.stride), _middle(inside, self.grid), window_round(free)

    def free(self, lines: Sequence[tuple[Sequence[Point], float]]) -> int:
        """The cells that are free of lines, each with the distance to keep from it; rows joined."""
        free, _, window = self._inside
        if not free:
            return 0
        rows = [0] * self.grid.rows
        for points, distance in lines:
            touch_cells(rows, self._turned(points), self.grid, distance, window)
        return free & ~joined(rows, self.grid.stride)

    def _turned(self, points: Sequence[Point]) -> list[tuple[float, float]]:
        c, s = self._c, self._s
        return [(x * c + y * s, y * c - x * s) for x, y in points]

    def _back(self, x: float, y: float) -> Point:
        return Point(x * self._c - y * self._s, x * self._s + y * self._c)

    def fit(
        self,
        lines: Sequence[LabelLine],
        factor: float,
        scale: float,
        free_in: Callable[[_Frame], int],
    ) -> Block | None:
        """The lines at this share of full size, where there is room for them in the free cells; or None."""
        sizes = [line.size * factor * scale for line in lines]
        width = max(
            text_width(line.words, size) * (1.06 if line.kind == "strong" else 1.0)
            for line, size in zip(lines, sizes, strict=True)
        )
        height = sum(sizes) * LEADING
        grid, cell = self.grid, self.grid.cell
        wide, tall = ceil(width / cell), ceil(height / cell)
        if wide > grid.columns or tall > grid.rows:
            return None
        if not any_room(self._inside[0], grid, wide, tall):
            return None
        found = nearest_room(free_in(self), grid, wide, tall, self._inside[1])
        if found is None:
            return None
        column, row = found
        x = grid.left + (column + wide / 2) * cell
        y = grid.top + (row + tall / 2) * cell - height / 2
        placed = []
        for line, size in zip(lines, sizes, strict=True):
            y += size * LEADING
            placed.append((line._replace(size=size), Spot(self._back(x, y - 0.32 * size), size, self.angle)))
        return Block(tuple(placed))


def _middle(rows: Sequence[int], grid: Grid) -> Point:
    """The centre of gravity of the cells set."""
    count, x, y = 0, 0.0, 0.0
    for row, bits in enumerate(rows):
        if bits:
            here = bits.bit_count()
            low, high = (bits & -bits).bit_length() - 1, bits.bit_length() - 1
            count += here
            x += here * (low + high + 1) / 2
            y += here * (row + 0.5)
    count = count or 1
    return Point(grid.left + x / count * grid.cell, grid.top + y / count * grid.cell)


def _cuts_box(ax: float, ay: float, bx: float, by: float, half: float, top: float, bottom: float) -> bool:
    """True when the segment meets the box (Liang and Barsky's clipping, 1984)."""
    t0, t1 = 0.0, 1.0
    dx, dy = bx - ax, by - ay
    for p, q in ((-dx, ax + half), (dx, half - ax), (-dy, ay - top), (dy, bottom - ay)):
        if p == 0.0:
            if q < 0.0:
                return False
            continue
        t = q / p
        if p < 0.0:
            t0 = max(t0, t)
        else:
            t1 = min(t1, t)
        if t0 > t1:
            return False
    return True
