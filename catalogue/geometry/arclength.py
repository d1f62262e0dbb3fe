"""Arc length of a cubic, by Gauss-Legendre quadrature with its Kronrod extension, halved where needed.

The speed of a cubic is the root of a quartic, so its length has no closed form. The 7-node Gauss-Legendre
rule shares its nodes with the 15-node Kronrod rule; their difference tells when a stretch must be halved, as
near a cusp. Source: R. Piessens, E. de Doncker-Kapenga, C. W. Ueberhuber, D. K. Kahaner, QUADPACK, Springer
1983 (rule QK15).
"""

from __future__ import annotations

import math
from itertools import pairwise

from catalogue.geometry.roots import bernstein_roots

KRONROD = (
    # node, Kronrod weight, Gauss weight (0 where the node is Kronrod's own)
    (0.991455371120812639206854697526329, 0.022935322010529224963732008058970, 0.0),
    (
        0.949107912342758524526189684047851,
        0.063092092629978553290700663189204,
        0.129484966168869693270611432679082,
    ),
    (0.864864423359769072789712788640926, 0.104790010322250183839876322541518, 0.0),
    (
        0.741531185599394439863864773280788,
        0.140653259715525918745189590510238,
        0.279705391489276667901467771423780,
    ),
    (0.586087235467691130294144691693993, 0.169004726639267902826583426598550, 0.0),
    (
        0.405845151377397166906606412076961,
        0.190350578064785409913256402421014,
        0.381830050505118944950369775488975,
    ),
    (0.207784955007898467600689403773245, 0.204432940075298892414161999234649, 0.0),
)
KRONROD_CENTRE = (0.209482141084727828012999174891714, 0.417959183673469387755102040816327)

# Lengths feed the solver, which works to a millionth of a millimetre; the quadrature must be quieter than
# that.
TOLERANCE = 1e-8
_DEEPEST = 26

Speed = tuple[float, float, float, float, float, float]


def speed_of(x0: float, y0: float, x1: float, y1: float, x2: float, y2: float, x3: float, y3: float) -> Speed:
    """The derivative of a cubic with these control points: (px, qx, rx, py, qy, ry) for p + q t + r t²."""
    ax, bx, cx = 3.0 * (x1 - x0), 3.0 * (x2 - x1), 3.0 * (x3 - x2)
    ay, by, cy = 3.0 * (y1 - y0), 3.0 * (y2 - y1), 3.0 * (y3 - y2)
    return ax, 2.0 * (bx - ax), ax - 2.0 * bx + cx, ay, 2.0 * (by - ay), ay - 2.0 * by + cy


def length_between(speed: Speed, low: float, high: float, steady: bool) -> float:
    """Length of the cubic with this derivative between two parameters, mm, within a millionth.

    `steady` says whether it `keeps_going`.
    """
    if steady:
        return _length(speed, low, high, True, _DEEPEST)
    # A standstill close to the end of a stretch would slip past the outermost nodes: make stretches end at it.
    first, last = min(low, high), max(low, high)
    stops = [first, *(t for t in _slowest(speed) if first < t < last), last]
    total = sum(_length(speed, a, b, False, _DEEPEST) for a, b in pairwise(stops))
    return total if low <= high else -total


def _slowest(speed: Speed) -> list[float]:
    """Parameters at which the speed is least or greatest: B' . B'' = 0, a cubic, taken to Bernstein form."""
    px, qx, rx, py, qy, ry = speed
    c0 = px * qx + py * qy
    c1 = qx * qx + qy * qy + 2.0 * (px * rx + py * ry)
    c2 = 3.0 * (qx * rx + qy * ry)
    c3 = 2.0 * (rx * rx + ry * ry)
    bernstein = (c0, c0 + c1 / 3.0, c0 + (2.0 * c1 + c2) / 3.0, c0 + c1 + c2 + c3)
    return bernstein_roots(bernstein, 1e-14 * max(map(abs, bernstein)))


def keeps_going(speed: Speed) -> bool:
    """Whether the curve surely never comes near a standstill: its control polygon's legs all go roughly one way.

    The derivative is a mean of the legs; when each lies within 78 degrees of the chord, none cancel.
    """
    px, qx, rx, py, qy, ry = speed
    bx, by = px + 0.5 * qx, py + 0.5 * qy
    cx, cy = px + qx + rx, py + qy + ry
    wx, wy = px + bx + cx, py + by + cy
    least = 0.04 * (wx * wx + wy * wy)
    a, b, c = px * wx + py * wy, bx * wx + by * wy, cx * wx + cy * wy
    return (
        min(a, b, c) >= 0.0
        and a * a >= least * (px * px + py * py)
        and b * b >= least * (bx * bx + by * by)
        and c * c >= least * (cx * cx + cy * cy)
    )


def _length(speed: Speed, low: float, high: float, steady: bool, depth: int) -> float:
    px, qx, rx, py, qy, ry = speed
    sqrt = math.sqrt
    half = 0.5 * (high - low)
    mid = 0.5 * (high + low)
    x = px + mid * (qx + mid * rx)
    y = py + mid * (qy + mid * ry)
    v = sqrt(x * x + y * y)
    kronrod, gauss = v * KRONROD_CENTRE[0], v * KRONROD_CENTRE[1]
    for node, weight, gauss_weight in KRONROD:
        s = half * node
        t = mid - s
        x = px + t * (qx + t * rx)
        y = py + t * (qy + t * ry)
        v = sqrt(x * x + y * y)
        t = mid + s
        x = px + t * (qx + t * rx)
        y = py + t * (qy + t * ry)
        v += sqrt(x * x + y * y)
        kronrod += weight * v
        if gauss_weight:
            gauss += gauss_weight * v
    length = kronrod * half
    gap = abs((kronrod - gauss) * half)
    # The least that is allowed, steady or not: mostly the gap is nothing at all.
    if gap <= 1e-13 * abs(length) or depth == 0 or not gap > _allowed(abs(length), steady):
        return length
    return _length(speed, low, mid, steady, depth - 1) + _length(speed, mid, high, steady, depth - 1)


def _allowed(size: float, steady: bool) -> float:
    """The largest gap between the two rules at which the longer one will do, for a stretch of this length.

    Where the speed is smooth the gap overstates the longer rule's error by far: QUADPACK's estimate is
    size * (200 gap / size) ** 1.5. Near a standstill both rules can be wrong alike.
    """
    if size == 0.0:
        return 0.0
    if steady:
        return size * max((TOLERANCE / size) ** (2.0 / 3.0) / 200.0, 1e-13)
    return max(0.1 * TOLERANCE, 1e-13 * size)
