"""Real roots between 0 and 1 of a polynomial in Bernstein form."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

_NARROWEST = 1e-9
_MOST_STEPS = 400


def bernstein_roots(coefficients: Sequence[float], small: float) -> list[float]:
    """Roots on [0, 1] in rising order, and places where the polynomial only comes within `small` of zero.

    The interval is halved until the coefficients change sign once (then exactly one root lies there: the
    polynomial crosses zero no more often than they change sign) or no longer. A stretch on which it stays
    within `small` gives the place where it is nearest to zero. Work is bounded. Of a polynomial within
    `small` all along, only the ends are given.
    """
    if len(coefficients) == 4:
        p, q, r, s = coefficients
        plain = _plain_roots(p, q, r, s, small)
        if plain is not None:
            return plain
    if all(abs(c) <= small for c in coefficients):
        return [0.0, 1.0]
    exact: list[float] = []
    near: list[tuple[float, float, float, float]] = []  # low, high, nearest to zero at, value there
    stack: list[tuple[list[float], float, float]] = [(list(coefficients), 0.0, 1.0)]
    for _ in range(_MOST_STEPS):
        if not stack:
            break
        c, low, high = stack.pop()
        if min(c) > small or max(c) < -small:
            continue
        if c[0] * c[-1] < 0.0 and _sign_changes(c) == 1:
            exact.append(low + (high - low) * _only_root(c))
        elif high - low <= _NARROWEST or max(map(abs, c)) <= small:
            at_low, at_high = abs(c[0]), abs(c[-1])
            near.append((low, high, low, at_low) if at_low <= at_high else (low, high, high, at_high))
        else:
            left, right = _halved(c)
            middle = 0.5 * (low + high)
            stack.append((right, middle, high))
            stack.append((left, low, middle))
    return sorted(exact + _touches(near, exact, coefficients, small))


def _plain_roots(p: float, q: float, r: float, s: float, small: float) -> list[float] | None:
    """The same for a cubic that is away from zero but at one crossing or one end, as nearly all are; else None."""
    if p * s < 0.0:
        # Ends of unlike signs: the signs change once, unless they change thrice.
        if not (q * s > 0.0 and r * p > 0.0) and max(abs(p), abs(q), abs(r), abs(s)) > small:
            return [_only_root([p, q, r, s])]
    elif (q > small and r > small) or (q < -small and r < -small):
        if -small <= p <= small < abs(s) and (s < 0.0) == (q < 0.0):
            return [0.0]
        if -small <= s <= small < abs(p) and (p < 0.0) == (q < 0.0):
            return [1.0]
    return None


def _touches(
    near: list[tuple[float, float, float, float]], exact: list[float], whole: Sequence[float], small: float
) -> list[float]:
    """One place for each unbroken stretch near zero that holds no root already found."""
    stretches: list[tuple[float, float, float, float]] = []
    for low, high, at, value in sorted(near):
        if stretches and low <= stretches[-1][1] + _NARROWEST:
            first, _, best, least = stretches[-1]
            stretches[-1] = (first, high, at, value) if value < least else (first, high, best, least)
        else:
            stretches.append((low, high, at, value))
    found = []
    for low, high, at, _ in stretches:
        inside = any(low - _NARROWEST <= root <= high + _NARROWEST for root in exact)
        if not inside:
            # An end of the curve is where it is meant to touch, when it does.
            if low == 0.0 and abs(whole[0]) <= small:
                at = 0.0
            elif high == 1.0 and abs(whole[-1]) <= small:
                at = 1.0
            found.append(at)
    return found


def _sign_changes(c: Sequence[float]) -> int:
    signs = [v > 0.0 for v in c if v != 0.0]
    return sum(a != b for a, b in pairwise(signs))


def _halved(c: list[float]) -> tuple[list[float], list[float]]:
    """The coefficients of both halves (de Casteljau)."""
    if len(c) == 4:  # a cubic, as nearly always: the same sums written out
        p, q, r, s = c
        a, b, d = 0.5 * (p + q), 0.5 * (q + r), 0.5 * (r + s)
        e, f = 0.5 * (a + b), 0.5 * (b + d)
        middle = 0.5 * (e + f)
        return [p, a, e, middle], [middle, f, d, s]
    left, right = [c[0]], [c[-1]]
    while len(c) > 1:
        c = [0.5 * (a + b) for a, b in pairwise(c)]
        left.append(c[0])
        right.append(c[-1])
    right.reverse()
    return left, right


def _value(c: Sequence[float], t: float) -> float:
    u = 1.0 - t
    if len(c) == 4:
        p, q, r, s = c
        a, b, d = u * p + t * q, u * q + t * r, u * r + t * s
        return u * (u * a + t * b) + t * (u * b + t * d)
    row = list(c)
    while len(row) > 1:
        row = [u * a + t * b for a, b in pairwise(row)]
    return row[0]


def _only_root(c: list[float]) -> float:
    """The root of a polynomial whose end coefficients differ in sign (Illinois; halving as a safeguard)."""
    x0, y0, x1, y1 = 0.0, c[0], 1.0, c[-1]
    w0, w1, kept = y0, y1, 0
    x = 0.5
    for _ in range(120):
        x = (x0 * w1 - x1 * w0) / (w1 - w0)
        if not x0 < x < x1 or abs(kept) > 3:
            x, kept = 0.5 * (x0 + x1), 0
        if x1 - x0 <= 1e-15:
            break
        y = _value(c, x)
        if y == 0.0:
            break
        if (y < 0.0) == (y1 < 0.0):
            crept = x1 - x <= 1e-16  # an end that is all but a root tells nothing of the one inside: halve
            x1, y1, w1 = x, y, y
            w0 = w0 * 0.5 if kept > 0 else w0
            kept = 4 if crept else kept + 1 if kept > 0 else 1
        else:
            crept = x - x0 <= 1e-16
            x0, y0, w0 = x, y, y
            w1 = w1 * 0.5 if kept < 0 else w1
            kept = -4 if crept else kept - 1 if kept < 0 else -1
    else:
        x = x0 if abs(y0) < abs(y1) else x1
    return x
