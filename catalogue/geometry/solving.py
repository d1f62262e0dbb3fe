"""Finding the value for which something holds: a root of a function on an interval."""

from __future__ import annotations

import math
from collections.abc import Callable

from catalogue.geometry.point import GeometryError

_SCAN = 24


class NoSolution(GeometryError):
    """No value between low and high makes the function nothing.

    Attributes:
        low, high: the interval that was searched.
        at_low, at_high: the function at its ends.
        best, at_best: the value tried that came nearest, and the function there.
    """

    def __init__(self, low: float, high: float, at_low: float, at_high: float, best: float, at_best: float):
        super().__init__(
            f"no value between {low:g} and {high:g} will do; the nearest, {best:g}, misses by {at_best:g}"
        )
        self.low, self.high = low, high
        self.at_low, self.at_high = at_low, at_high
        self.best, self.at_best = best, at_best

    def __reduce__(self) -> tuple[type[NoSolution], tuple[float, ...]]:
        return type(self), (self.low, self.high, self.at_low, self.at_high, self.best, self.at_best)


def solve(
    function: Callable[[float], float],
    low: float,
    high: float,
    tolerance: float = 1e-6,
    steps: int = 200,
) -> float:
    """A value on [low, high] at which |function| is at most `tolerance`; NaN stands for no value there.

    When the ends do not differ in sign, 24 equal parts are searched for a change of sign and the first one is
    taken. The root inside is closed in on with the Illinois method (M. Dowell, P. Jarratt, "A modified regula
    falsi method for computing the root of an equation", BIT 11, 1971), with halving as a safeguard, in at
    most `steps` evaluations. Raises NoSolution when there is no change of sign, or when the function jumps
    over zero there.
    """
    if not math.isfinite(low) or not math.isfinite(high):
        raise GeometryError("a search needs a lowest and a highest value")
    tried: list[tuple[float, float]] = []

    def value(x: float) -> float:
        y = function(x)
        tried.append((x, y))
        return y

    at_low, at_high = value(low), value(high)
    if abs(at_low) <= tolerance:
        return low
    if abs(at_high) <= tolerance:
        return high
    if at_low * at_high < 0.0:
        brackets = [(low, at_low, high, at_high)]
    else:
        brackets = []
        x0, y0 = low, at_low
        for i in range(1, _SCAN + 1):
            x1 = low + (high - low) * i / _SCAN if i < _SCAN else high
            y1 = value(x1) if i < _SCAN else at_high
            if abs(y1) <= tolerance:
                return x1
            if y0 * y1 < 0.0:
                brackets.append((x0, y0, x1, y1))
                break
            x0, y0 = x1, y1
    for x0, y0, x1, y1 in brackets:
        found = _illinois(value, x0, y0, x1, y1, tolerance, steps)
        if found is not None:
            return found
    best, at_best = min(tried, key=lambda pair: math.inf if math.isnan(pair[1]) else abs(pair[1]))
    raise NoSolution(low, high, at_low, at_high, best, at_best)


def _illinois(
    value: Callable[[float], float], x0: float, y0: float, x1: float, y1: float, tolerance: float, steps: int
) -> float | None:
    """A root between x0 and x1, where y0 and y1 differ in sign; None when the function jumps over zero."""
    w0, w1 = y0, y1  # the values as weighted by the method
    kept = 0
    for _ in range(steps):
        width = abs(x1 - x0)
        x = (x0 * w1 - x1 * w0) / (w1 - w0)
        if not min(x0, x1) < x < max(x0, x1) or abs(kept) > 3:  # stuck on one side: halve instead
            x = 0.5 * (x0 + x1)
            kept = 0
        if x in (x0, x1) or width == 0.0:
            return None
        y = value(x)
        if abs(y) <= tolerance:
            return x
        if math.isnan(y):
            return None
        if (y < 0.0) == (y1 < 0.0):
            x1, y1, w1 = x, y, y
            if kept > 0:
                w0 *= 0.5
            kept = kept + 1 if kept > 0 else 1
        else:
            x0, y0, w0 = x, y, y
            if kept < 0:
                w1 *= 0.5
            kept = kept - 1 if kept < 0 else -1
    return None
