"""Real roots between 0 and 1 of a polynomial in Bernstein form."""

from __future__ import annotations

from collections.abc import Sequence

_DEEPEST = 50
_MOST_STEPS = 400


def bernstein_roots(coefficients: Sequence[float], small: float) -> list[float]:
    """Roots on [0, 1] in rising order, and places where the polynomial touches zero within `small`.

    The interval is halved until the coefficients change sign once (then exactly one root lies there: the polynomial
    crosses zero no more often than they change sign) or no longer. Work is bounded; of a polynomial that is nothing
    all along, only the ends are given.
    """
    if all(abs(c) <= small for c in coefficients):
        return [0.0, 1.0]
    roots: list[float] = []
    stack: list[tuple[list[float], float, float, int]] = [(list(coefficients), 0.0, 1.0, 0)]
    for _ in range(_MOST_STEPS):
        if not stack:
            break
        c, low, high, depth = stack.pop()
        if min(c) > small or max(c) < -small:
            continue
        if abs(c[0]) <= small:
            roots.append(low)
        if abs(c[-1]) <= small:
            roots.append(high)
        signs = [v > 0.0 for v in c if v != 0.0]
        changes = sum(a != b for a, b in zip(signs, signs[1:], strict=False))
        if changes == 1 and c[0] * c[-1] < 0.0:
            roots.append(low + (high - low) * _only_root(c))
            continue
        if depth >= _DEEPEST or high - low <= 1e-9 or max(map(abs, c)) <= small:
            roots.append(0.5 * (low + high))
            continue
        left, right = _halved(c)
        middle = 0.5 * (low + high)
        stack.append((right, middle, high, depth + 1))
        stack.append((left, low, middle, depth + 1))
    return sorted(roots)


def _halved(c: list[float]) -> tuple[list[float], list[float]]:
    """The coefficients of both halves (de Casteljau)."""
    left, right = [c[0]], [c[-1]]
    while len(c) > 1:
        c = [0.5 * (a + b) for a, b in zip(c, c[1:], strict=False)]
        left.append(c[0])
        right.append(c[-1])
    right.reverse()
    return left, right


def _value(c: Sequence[float], t: float) -> float:
    row = list(c)
    u = 1.0 - t
    while len(row) > 1:
        row = [u * a + t * b for a, b in zip(row, row[1:], strict=False)]
    return row[0]


def _only_root(c: list[float]) -> float:
    """The one root of a polynomial whose end coefficients differ in sign (Illinois, then halving as a safeguard)."""
    x0, y0, x1, y1 = 0.0, c[0], 1.0, c[-1]
    w0, w1, kept = y0, y1, 0
    x = 0.5
    for _ in range(80):
        x = (x0 * w1 - x1 * w0) / (w1 - w0)
        if not x0 < x < x1 or abs(kept) > 3:
            x, kept = 0.5 * (x0 + x1), 0
        if x1 - x0 <= 1e-15:
            break
        y = _value(c, x)
        if y == 0.0:
            break
        if (y < 0.0) == (y1 < 0.0):
            if abs(x1 - x) <= 1e-16:
                break
            x1, y1, w1 = x, y, y
            w0 = w0 * 0.5 if kept > 0 else w0
            kept = kept + 1 if kept > 0 else 1
        else:
            if abs(x - x0) <= 1e-16:
                break
            x0, y0, w0 = x, y, y
            w1 = w1 * 0.5 if kept < 0 else w1
            kept = kept - 1 if kept < 0 else -1
    return x
