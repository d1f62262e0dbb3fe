"""Filling a strip of cloth with shapes, one after the other, each as near to the beginning as there is room.

The strip is a grid of cells; a shape takes every cell that it touches. Where the cloth has a pattern the cells divide
its repeat, and a shape that must meet it has its anchor on every so many cells. Nothing is timed or left to chance: a
number of orders is tried, and the same shapes always give the same places.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor
from typing import NamedTuple

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

COARSE, FINE = 10.0, 5.0
"""mm: cells that orders are tried with, and cells of the lay itself."""
LONGEST_STRIP = 60_000.0
_HAIR = 1e-6


class Raster(NamedTuple):
    """How a strip is divided: cells of `x` by `y` mm; a pattern repeats every `by_x` and `by_y` cells (1: none)."""

    x: float
    y: float
    by_x: int = 1
    by_y: int = 1


@dataclass(frozen=True, slots=True)
class Stone:
    """A shape to place.

    Attributes:
        points: its outline, mm, with the room that it needs about it.
        turned: the same after half a turn, or () where it must not be turned.
        first_column: it must lie at the very left of the strip, unturned.
        anchor: the point of `points` that must lie on a whole repeat; `turned_anchor` the one of `turned`.
        anchored_along: whether along the strip too, not across it alone.
    """

    points: tuple[Point, ...]
    turned: tuple[Point, ...] = ()
    first_column: bool = False
    anchor: Point | None = None
    turned_anchor: Point | None = None
    anchored_along: bool = True


class StonePlace(NamedTuple):
    """Where a shape was placed: whether turned, and what to add to its points."""

    turned: bool
    by: Point


class FilledStrip(NamedTuple):
    """Where each shape lies, in the order they were given in, and the length of strip that they take.

    The spot of a shape that has no place across the strip is None.
    """

    length: float
    spots: tuple[StonePlace | None, ...]


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
    stones: Sequence[Stone], width: float, *, repeats: tuple[float, float] = (0.0, 0.0), tries: int = 24
) -> FilledStrip | None:
    """Place the shapes on a strip `width` mm wide; None when it would be longer than `LONGEST_STRIP`.

    Args:
        repeats: of the cloth's pattern, across and along; its main bars begin at the strip's corner.
        tries: how many orders are tried besides the usual ones.
    """
    fine = _Strip(stones, width, raster_for(FINE, width, *repeats))
    fitting = [i for i, stone in enumerate(stones) if fine.has_room(stone)]
    if not fitting:
        return FilledStrip(0.0, (None,) * len(stones))
    coarse = _Strip(stones, width, raster_for(COARSE, width, *repeats))
    if not all(coarse.has_room(stones[i]) for i in fitting):
        coarse = fine
    orders = coarse.best_orders(fitting, tries)
    if orders is None:
        return None
    # Finer cells give a shorter lay of most orders, not of every one.
    lays = [strip.laid(order) for order in orders for strip in (fine, coarse)]
    return min(lays, key=lambda filled: filled.length)


class _StoneWay(NamedTuple):
    """A shape one way up: its cells, how far its first cell lies from its own origin, and how long it is."""

    cells: CellShape
    left: int
    top: int
    along: float
    offset: Point
    turned: bool


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

    def best_orders(self, every: Sequence[int], tries: int) -> list[list[int]] | None:
        """The best order of these shapes found, and the best of the usual ones; None when even that is too long."""
        size = [
            (s[0].along, s[0].cells.wide, sum(r.bit_count() for r in s[0].cells.rows)) for s in self.shapes
        ]
        by_size = (
            sorted(every, key=lambda i: (-size[i][0], -size[i][1])),
            sorted(every, key=lambda i: -size[i][0] * size[i][1]),
            sorted(every, key=lambda i: (-size[i][1], -size[i][0])),
        )
        # What has one column alone to lie in comes before others take it.
        usual = [sorted(order, key=lambda i: not self.stones[i].first_column) for order in by_size]
        found = [(self.laid(order).length, order) for order in usual]
        found = [each for each in found if each[0] < LONGEST_STRIP]
        if not found:
            return None
        length, best = first = min(found, key=lambda each: each[0])
        chance = random.Random(20)
        for _ in range(tries if len(best) > 2 else 0):
            order = list(best)
            for _ in range(chance.choice((1, 1, 2, 3))):
                moved = order.pop(chance.randrange(len(order)))
                order.insert(chance.randrange(len(order) + 1), moved)
            reached = self.laid(order, length).length
            if reached <= length:
                length, best = reached, order
        return [best, first[1]] if best is not first[1] else [best]

    def laid(self, order: Sequence[int], limit: float = LONGEST_STRIP) -> FilledStrip:
        """Place the shapes in an order; broken off, with what length it came to, beyond `limit`."""
        taken, length = 0, 0.0
        spots: dict[int, StonePlace] = {}
        for index in order:
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
            row, column = divmod(at, self.stride)
            to = Point((column - way.left) * self.raster.x, (row - way.top) * self.raster.y)
            spots[index] = StonePlace(way.turned, to - way.offset)
            if length > limit + 1e-6 or length >= LONGEST_STRIP:
                return FilledStrip(length, ())
        return FilledStrip(length, tuple(spots.get(i) for i in range(len(self.shapes))))

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
