"""Filling a strip of cloth with shapes, one after the other, each as near to the beginning as there is room.

The strip is a grid of cells; a shape takes every cell that it touches. Where the cloth has a pattern the cells divide
its repeat, and a shape that must meet it has its anchor on every so many cells. Nothing is timed or left to chance: a
number of orders is tried, and the same shapes always give the same places.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Sequence
from math import ceil, floor
from typing import NamedTuple

from catalogue.cloth.strip import FilledStrip, Stone, StonePlace
from catalogue.cloth.tightening import tightened
from catalogue.geometry import Point
from catalogue.placing import (
    CellShape,
    Grid,
    Overlaps,
    cells_inside,
    cells_touched,
    joined,
    rectangle,
    shape_of,
)
from catalogue.placing.bits import first_of

CELL = 5.0
"""mm: about the size of a cell."""
LONGEST_STRIP = 60_000.0
TIGHTENED = 3
"""Lays whose pieces are moved together, of those that were found."""
_HAIR = 1e-6


class Raster(NamedTuple):
    """How a strip is divided: cells of `x` by `y` mm; a pattern repeats every `by_x` and `by_y` cells (1: none)."""

    x: float
    y: float
    by_x: int = 1
    by_y: int = 1


def raster_for(cell: float, width: float, repeat_across: float = 0.0, repeat_along: float = 0.0) -> Raster:
    """Cells of about `cell` mm that divide both repeats, or are divided by them, and else the width."""
    (x, by_x), (y, by_y) = (_division(cell, repeat) for repeat in (repeat_across, repeat_along))
    return Raster(x if repeat_across > 0.0 else width / ceil(width / cell), y, by_x, by_y)


def _division(cell: float, repeat: float) -> tuple[float, int]:
    if repeat <= 0.0:
        return cell, 1
    if repeat < cell:
        return repeat * max(floor(cell / repeat), 1), 1
    parts = ceil(repeat / cell)
    return repeat / parts, parts


def fill(
    stones: Sequence[Stone],
    width: float,
    *,
    repeats: tuple[float, float] = (0.0, 0.0),
    tries: int = 30,
    walks: int = 1,
) -> FilledStrip | None:
    """Place the shapes on a strip `width` mm wide; None when it would be longer than `LONGEST_STRIP`.

    Args:
        repeats: of the cloth's pattern, across and along; its main bars begin at the strip's corner.
        tries: how many orders are tried besides the usual ones, each a little other than the best before it.
        walks: how many times that is done.
    """
    strip = _Strip(stones, width, raster_for(CELL, width, *repeats))
    fitting = [i for i, stone in enumerate(stones) if strip.has_room(stone)]
    if not fitting:
        return FilledStrip(0.0, (None,) * len(stones))
    found = strip.best_lays(fitting, tries, walks)
    if not found:
        return None
    # Which of the shortest gets shorter still when it is moved together can't be told beforehand.
    lays = [tightened(stones, filled, width, repeats) for filled in found[: TIGHTENED * walks]]
    return min(lays, key=lambda filled: filled.length)


class _StoneWay(NamedTuple):
    """A shape one way up: its cells, how far its first cell lies from its own origin, and how long it is."""

    cells: CellShape
    left: int
    top: int
    along: float
    offset: Point
    turned: bool


class _Filling(NamedTuple):
    """Shapes placed in an order: the place and way of each, and the cells taken and the length after it."""

    order: list[int]
    length: float
    places: list[tuple[int, _StoneWay]]
    cells: list[int]
    lengths: list[float]


class _Strip:
    """A strip of cloth and the shapes for it as cells."""

    def __init__(self, stones: Sequence[Stone], width: float, raster: Raster) -> None:
        self.raster = raster
        self.columns = max(floor(width / raster.x + _HAIR), 1)
        self.stride = Grid(0.0, 0.0, 1.0, self.columns, 0).stride
        self.stones = stones
        self.ways_of = {stone: self.ways(stone) for stone in dict.fromkeys(stones)}
        self.shapes = [self.ways_of[stone] for stone in stones]

    def ways(self, stone: Stone) -> tuple[_StoneWay, ...]:
        ways = [self.way(stone.points, stone.anchor, False)]
        if stone.turned:
            other = self.way(stone.turned, stone.turned_anchor, True)
            if other.cells.rows != ways[0].cells.rows or stone.turned_anchor:
                ways.append(other)
        return tuple(ways)

    def way(self, points: tuple[Point, ...], anchor: Point | None, turned: bool) -> _StoneWay:
        """A shape as cells; one with an anchor is laid over the grid so that the anchor lies on a corner of cells."""
        cell_x, cell_y = self.raster.x, self.raster.y
        least = Point(min(p.x for p in points), min(p.y for p in points))
        origin = anchor if anchor is not None else least
        inside = [((x - origin.x) / cell_x, (y - origin.y) / cell_y) for x, y in points]
        left, top = (floor(min(p[i] for p in inside) + _HAIR) for i in (0, 1))
        wide, tall = (ceil(max(p[i] for p in inside) - _HAIR) - low for i, low in ((0, left), (1, top)))
        grid = Grid(0.0, 0.0, 1.0, wide, tall)
        # What touches the next cell by a rounding alone does not take it.
        own = [
            (min(max(x - left, _HAIR), wide - _HAIR), min(max(y - top, _HAIR), tall - _HAIR))
            for x, y in inside
        ]
        touched = cells_touched([*own, own[0]], grid)
        rows = [a | b for a, b in zip(touched, cells_inside(own, grid), strict=True)]
        return _StoneWay(
            shape_of(rows, wide),
            left,
            top,
            max(p.y for p in points) - origin.y - top * cell_y,
            origin,
            turned,
        )

    def has_room(self, stone: Stone) -> bool:
        """Whether the shape has a place on an empty strip."""
        nothing = Overlaps(0, self.stride)
        return any(self.first_room(way, nothing, stone) is not None for way in self.ways_of[stone])

    def best_lays(self, every: Sequence[int], tries: int, walks: int) -> list[FilledStrip]:
        """The shortest lays found of these shapes, the shortest first, no two of one length; [] if all are too long."""
        size = [
            (s[0].along, s[0].cells.wide * self.raster.x, sum(r.bit_count() for r in s[0].cells.rows))
            for s in self.shapes
        ]
        by_size: tuple[Callable[[int], tuple[float, ...]], ...] = (
            lambda i: (size[i][0], size[i][1]),
            lambda i: (size[i][0] * size[i][1],),
            lambda i: (size[i][1], size[i][0]),
            lambda i: (size[i][2],),
            lambda i: (size[i][0] + size[i][1],),
            lambda i: (max(size[i][:2]),),
            lambda i: (size[i][2] * max(size[i][:2]),),
        )
        found: dict[float, FilledStrip] = {}
        usual: list[_Filling] = []
        for key in by_size:
            # What has one column alone to lie in comes before others take it.
            order = sorted(
                sorted(every, key=key, reverse=True), key=lambda i: not self.stones[i].first_column
            )
            filling = self.filling(order)
            if filling.length < LONGEST_STRIP:
                found.setdefault(round(filling.length, 3), self.filled(filling))
                usual.append(filling)
        if usual and len(every) > 2:
            begin = min(usual, key=lambda filling: filling.length)
            for walk in range(walks):
                for filling in self.better(begin, tries, random.Random(20 + walk)):
                    found.setdefault(round(filling.length, 3), self.filled(filling))
        return [found[length] for length in sorted(found)]

    def better(self, best: _Filling, tries: int, chance: random.Random) -> Iterator[_Filling]:
        """Each filling that is no longer than the best before it, and of the same length no fuller on the way."""
        for _ in range(tries):
            order = list(best.order)
            for _ in range(chance.choice((1, 1, 2, 3))):
                moved = order.pop(chance.randrange(len(order)))
                order.insert(chance.randrange(len(order) + 1), moved)
            filling = self.filling(order, best.length, best)
            if (filling.length, sum(filling.lengths)) <= (best.length, sum(best.lengths)):
                best = filling
                yield filling

    def filled(self, filling: _Filling) -> FilledStrip:
        """Where the shapes of a filling lie."""
        spots: dict[int, StonePlace] = {}
        for index, (at, way) in zip(filling.order, filling.places, strict=True):
            row, column = divmod(at, self.stride)
            to = Point((column - way.left) * self.raster.x, (row - way.top) * self.raster.y)
            spots[index] = StonePlace(way.turned, to - way.offset)
        return FilledStrip(filling.length, tuple(spots.get(i) for i in range(len(self.shapes))))

    def filling(
        self, order: list[int], limit: float = LONGEST_STRIP, like: _Filling | None = None
    ) -> _Filling:
        """Place the shapes in an order; broken off, with what length it came to, beyond `limit`.

        As far as the order is that of the filling `like`, so are the places.
        """
        alike = 0
        if like is not None:
            while alike < len(order) and order[alike] == like.order[alike]:
                alike += 1
        lengths = list(like.lengths[:alike]) if like else []
        cells = list(like.cells[:alike]) if like else []
        places = list(like.places[:alike]) if like else []
        taken, length = (cells[-1], lengths[-1]) if alike else (0, 0.0)
        for index in order[alike:]:
            overlaps = Overlaps(taken, self.stride)
            best: tuple[float, int, _StoneWay] | None = None
            for way in self.shapes[index]:
                at = self.first_room(way, overlaps, self.stones[index])
                if at is not None:
                    end = at // self.stride * self.raster.y + way.along
                    if best is None or (end, at % self.stride) < (best[0], best[1] % self.stride):
                        best = end, at, way
            assert best is not None, "a shape without a place on an empty strip is not laid"
            end, at, way = best
            taken |= joined(way.cells.rows, self.stride) << at
            length = max(length, end)
            places.append((at, way))
            cells.append(taken)
            lengths.append(length)
            if length > limit + 1e-6 or length >= LONGEST_STRIP:
                break
        return _Filling(order, length, places, cells, lengths)

    def first_room(self, way: _StoneWay, overlaps: Overlaps, stone: Stone) -> int | None:
        """The first place, row by row, at which the cells meet none that are taken; None where it is too wide."""
        cells, stride = way.cells, self.stride
        if cells.wide > self.columns:
            return None
        blocked = overlaps.blocked(cells)
        deep = blocked.bit_length() // stride + 2
        wide = 1 if stone.first_column else self.columns - cells.wide + 1
        anchored = stone.anchor is not None and (self.raster.by_x > 1 or self.raster.by_y > 1)
        if not anchored:
            return first_of(rectangle(wide, deep, stride) & ~blocked)
        # The anchor lies `left` and `top` cells before the shape's corner.
        columns = sum(1 << c for c in range(wide) if (c - way.left) % self.raster.by_x == 0)
        if not columns:
            return None
        by_y = self.raster.by_y if stone.anchored_along else 1
        deep += by_y
        rows = [columns if (r - way.top) % by_y == 0 else 0 for r in range(deep)]
        return first_of(joined(rows, stride) & ~blocked)
