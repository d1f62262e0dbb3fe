"""Moves the pieces of a strip that is filled closer together, all at once, as far as they go without overlapping.

Between any two convex parts that lie near each other there is a straight line with one on each side of it. Held to
those lines, the moves that make the strip shortest are found by linear programming; then the lines are drawn again.
(Li and Milenkovic, Compaction and separation algorithms for non-convex polygons, 1995.) Nothing is turned or exchanged.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from catalogue.cloth.strip import FilledStrip, Stone, StonePlace
from catalogue.geometry import Point
from catalogue.geometry.convex import convex_parts
from catalogue.geometry.linear_program import Numbers, improved

STEP = 60.0
"""mm that a piece may be moved, each way, before lines are drawn again."""
ROUNDS = 6
WORTH = 0.5
"""mm that a round must save for another to follow."""
TO_THE_START = 1e-3
"""What a mm of each piece's own way to the beginning of the strip is worth, beside a mm of the strip."""


class _Parts(NamedTuple):
    """Convex parts, all with as many corners: the last is repeated.

    Attributes:
        corners: parts by corners by x and y.
        outward: the directions square to the sides, in the same shape.
        reach: parts by sides: how far the part lies in each of those directions.
        low, high: the frame of each.
    """

    corners: Numbers
    outward: Numbers
    reach: Numbers
    low: Numbers
    high: Numbers


def tightened(
    stones: Sequence[Stone], filled: FilledStrip, width: float, repeats: tuple[float, float] = (0.0, 0.0)
) -> FilledStrip:
    """The same strip, never longer; what must meet a pattern, or lie at the very left, keeps to its place there."""
    laid = [(n, stones[n], spot) for n, spot in enumerate(filled.spots) if spot is not None]
    if len(laid) < 2:
        return filled
    parts = [_parts_of(stone.turned if spot.turned else stone.points) for _, stone, spot in laid]
    held = np.array([_held(stone, repeats) for _, stone, _ in laid])
    spots = [spot for _, _, spot in laid]
    at = np.array([spot.by for spot in spots])
    low, high = np.array([p.low.min(0) for p in parts]), np.array([p.high.max(0) for p in parts])
    length = filled.length
    for _ in range(ROUNDS):
        moved = at + _moves(parts, at, low, high, held, width)
        reached = float((moved + high)[:, 1].max())
        if reached > length - 1e-3:
            break
        saved, at, length = length - reached, moved, reached
        if saved < WORTH:
            break
    places = list(filled.spots)
    for (n, _, spot), (x, y) in zip(laid, at.tolist(), strict=True):
        places[n] = StonePlace(spot.turned, Point(x, y))
    return FilledStrip(length, tuple(places))


def _held(stone: Stone, repeats: tuple[float, float]) -> tuple[bool, bool]:
    """Whether a shape must stay where it is across, and along."""
    anchored = stone.anchor is not None
    return (
        stone.first_column or (anchored and repeats[0] > 0.0),
        anchored and repeats[1] > 0.0 and stone.anchored_along,
    )


@lru_cache(maxsize=256)
def _parts_of(points: tuple[Point, ...]) -> _Parts:
    rings = [np.array(ring) for ring in convex_parts(points)]
    most = max(map(len, rings))
    sides = [np.roll(ring, -1, axis=0) - ring for ring in rings]
    square = [np.stack([s[:, 1], -s[:, 0]], axis=1) / np.hypot(s[:, 0], s[:, 1])[:, None] for s in sides]
    corners, outward = (np.array([_padded(r, most) for r in each]) for each in (rings, square))
    reach = _furthest(outward, corners, 1.0)
    return _Parts(corners, outward, reach, corners.min(1), corners.max(1))


def _padded(rows: Numbers, count: int) -> Numbers:
    return np.concatenate([rows, np.repeat(rows[-1:], count - len(rows), axis=0)])


def _furthest(directions: Numbers, corners: Numbers, sign: float) -> Numbers:
    """For each part and direction, how far its corners lie in it at most; at least, negative, where `sign` is -1.

    Not by matrix products, whose last digits depend on the machine.
    """
    along = directions[:, :, None, 0] * corners[:, None, :, 0]
    along += directions[:, :, None, 1] * corners[:, None, :, 1]
    return (sign * along).max(2)


def _moves(
    parts: Sequence[_Parts], at: Numbers, low: Numbers, high: Numbers, held: Numbers, width: float
) -> Numbers:
    """How far to move each shape, for the shortest strip that the lines between them allow."""
    count = len(parts)
    ones, others, directions, between = _lines_between(parts, at, low, high)
    lines = len(ones)
    # Values: the move of each shape across and along, then how much shorter the strip becomes.
    limits = np.zeros((lines + 5 * count, 2 * count + 1))
    room = np.zeros(len(limits))
    for axis in (0, 1):
        limits[np.arange(lines), 2 * np.array(ones, int) + axis] = directions[:, axis]
        limits[np.arange(lines), 2 * np.array(others, int) + axis] = -directions[:, axis]
    room[:lines] = between
    own = np.arange(count)
    first, last = at + low, at + high
    walls = (
        (0, -1.0, np.minimum(first[:, 0], STEP)),
        (0, 1.0, np.minimum(width - last[:, 0], STEP)),
        (1, -1.0, np.minimum(first[:, 1], STEP)),
        (1, 1.0, np.full(count, STEP)),
        (1, 1.0, last[:, 1].max() - last[:, 1]),
    )
    for number, (axis, sign, free) in enumerate(walls):
        rows = lines + number * count + own
        limits[rows, 2 * own + axis] = sign
        room[rows] = free
    limits[lines + 4 * count :, -1] = 1.0
    gain = np.zeros(limits.shape[1])
    gain[1:-1:2], gain[-1] = -TO_THE_START, 1.0
    keep = np.append(np.logical_not(held.reshape(-1)), True)
    moves = np.zeros(limits.shape[1])
    moves[keep] = improved(limits[:, keep], np.maximum(room, 0.0), gain[keep])
    return moves[:-1].reshape(count, 2)


_Lines = tuple[list[int], list[int], Numbers, Numbers]
"""Pairs of shapes, the directions from the first to the second, and the mm between them in that direction."""


def _lines_between(parts: Sequence[_Parts], at: Numbers, low: Numbers, high: Numbers) -> _Lines:
    """A line for any two parts of two shapes that may meet within a step."""
    reach = 2.0 * STEP
    ones: list[int] = []
    others: list[int] = []
    directions, rooms = [np.zeros((0, 2))], [np.zeros(0)]
    for one in range(len(parts)):
        near = (at[one] + high[one] + reach >= at + low).all(1) & (
            at + high + reach >= at[one] + low[one]
        ).all(1)
        for other in np.flatnonzero(near).tolist():
            if other <= one:
                continue
            by = at[other] - at[one]
            first, second = parts[one], parts[other]
            close = (first.high[:, None] + reach >= (second.low + by)[None]).all(2) & (
                (second.high + by)[None] + reach >= first.low[:, None]
            ).all(2)
            a, b = np.nonzero(close)
            direction, room = _lines(first, a, second, b, by)
            ones += [one] * len(a)
            others += [other] * len(a)
            directions.append(direction)
            rooms.append(room)
    return ones, others, np.concatenate(directions), np.concatenate(rooms)


def _lines(
    first: _Parts, a: NDArray[np.int_], second: _Parts, b: NDArray[np.int_], by: Numbers
) -> tuple[Numbers, Numbers]:
    """For each two convex parts, of the directions square to a side the one in which most lies between them."""
    ours, theirs = first.outward[a], second.outward[b]
    apart = ours[:, :, 0] * by[0] + ours[:, :, 1] * by[1]
    gaps = apart - _furthest(ours, second.corners[b], -1.0) - first.reach[a]
    apart = theirs[:, :, 0] * by[0] + theirs[:, :, 1] * by[1]
    back = -apart - _furthest(theirs, first.corners[a], -1.0) - second.reach[b]
    rows = np.arange(len(a))
    n, m = gaps.argmax(1), back.argmax(1)
    forward = gaps[rows, n] >= back[rows, m]
    return (
        np.where(forward[:, None], ours[rows, n], -theirs[rows, m]),
        np.where(forward, gaps[rows, n], back[rows, m]),
    )
