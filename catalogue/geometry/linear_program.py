"""The best of many values under straight limits: the simplex method, begun from values that are known to be allowed."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.float64]
_SMALL = 1e-9
MOST_STEPS = 2_000
"""Exchanges after which what was reached is taken: it is allowed at every step."""


def improved(limits: Numbers, room: Numbers, gain: Numbers) -> Numbers:
    """Values u, of either sign, for which `gain` · u is as large as can be while `limits` u <= `room`.

    Args:
        limits: one row for each limit, one column for each value.
        room: none of it negative, so that u = 0 is allowed; that is where the search begins.
        gain: what one more of each value is worth.

    Every value must be limited in both directions. Only sums and products of single numbers are used, in a fixed order,
    so that the same input gives the same bits on every machine. (Dantzig's rule on a condensed table; the room is made
    a little uneven, so that no exchange is for nothing.)
    """
    rows, columns = limits.shape
    table = np.empty((rows + 1, columns + 1))
    table[:-1, :-1], table[:-1, -1] = limits, room + 1e-7 * (1.0 + np.arange(rows) % 97)
    table[-1, :-1], table[-1, -1] = gain, 0.0
    basic = np.full(rows, -1)
    """The value that a row stands for; -1 where it is still a limit's own slack."""
    free = np.arange(columns)
    """The value that a column stands for; -1 for a limit's slack."""
    for _ in range(MOST_STEPS):
        worth = np.where(free >= 0, np.abs(table[-1, :-1]), table[-1, :-1])
        column = int(worth.argmax())
        if worth[column] <= _SMALL:
            break
        if table[-1, column] < 0.0:  # A value may be made less as well as more.
            table[:, column] *= -1.0
            falls = True
        else:
            falls = False
        grows = np.where(basic < 0, table[:-1, column], 0.0)
        with np.errstate(divide="ignore", invalid="ignore"):
            ratios = np.where(grows > _SMALL, table[:-1, -1] / grows, np.inf)
        row = int(ratios.argmin())
        if not np.isfinite(ratios[row]):
            break
        _exchange(table, row, column)
        if falls:
            # The row now stands for the value taken backwards.
            table[row] *= -1.0
        basic[row], free[column] = free[column], basic[row]
    values = np.zeros(columns)
    for row, value in enumerate(basic):
        if value >= 0:
            values[value] = table[row, -1]
    return values


def _exchange(table: Numbers, row: int, column: int) -> None:
    pivot = table[row, column]
    line = table[row] / pivot
    line[column] = 1.0 / pivot
    factors = table[:, column].copy()
    table[:, column] = 0.0
    table -= factors[:, None] * line[None, :]
    table[row] = line
