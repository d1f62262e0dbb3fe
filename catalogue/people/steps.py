"""How a measurement goes from size to size: which of them is out of step with its neighbours."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

LEEWAY = 3.0
"""mm that one may be out of step: tables that are rounded, or grade a length by its own rule, are no mistake."""


def out_of_step(values: Sequence[float | None]) -> list[int]:
    """Places in a row of mm, in the order of the sizes, of values that break the order of those around them.

    A value in the middle breaks it when it lies outside those beside it; the first and the last when the two next to
    them go on the other way. Where a table begins again (sizes for short and for tall persons) none does. `None` stands
    for a size without the measurement. Of several the worst is taken out first, for it makes its neighbours look wrong.
    """
    left = [(n, v) for n, v in enumerate(values) if v is not None]
    steps = [b - a for (_, a), (_, b) in pairwise(left)]
    way = 1 if sum(s > 0 for s in steps) >= sum(s < 0 for s in steps) else -1
    left = [(n, way * v) for n, v in left]
    found = []
    while len(left) > 3:
        worst, at = max((_out([v for _, v in left], i), -i) for i in range(len(left)))
        if worst <= LEEWAY:
            break
        found.append(left.pop(-at)[0])
    return sorted(found)


def _out(row: Sequence[float], i: int) -> float:
    """By how much the value at `i` of a row that grows lies outside what its neighbours leave it."""
    if i == 0:
        return row[0] - row[1] if row[1] < row[2] <= row[3] else 0.0
    if i == len(row) - 1:
        return row[-2] - row[-1] if row[-2] > row[-3] >= row[-4] else 0.0
    low, high = row[i - 1], row[i + 1]
    return max(low - row[i], row[i] - high) if low <= high else 0.0
