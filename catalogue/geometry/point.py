"""Points on the paper, which are vectors too: millimetres, x to the right and y down."""

from __future__ import annotations

import math
from typing import NamedTuple

# A point made of a tuple as it is: half the time of Point(x, y), and drafts are made of points.
_made = tuple.__new__

_QUARTERS = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}


class GeometryError(ValueError):
    """A shape that can't be made or asked of: the message says why, in plain words."""


def cos_sin(degrees: float) -> tuple[float, float]:
    """Cosine and sine of an angle in degrees, exact at whole quarter turns."""
    exact = _QUARTERS.get(degrees % 360.0)
    if exact is not None:
        return exact
    radians = math.radians(degrees)
    return math.cos(radians), math.sin(radians)


class Point(NamedTuple):
    """A point, or the vector to it from the origin, mm. Adds and scales as a vector, not as a tuple."""

    x: float
    y: float

    def __add__(self, other: Point) -> Point:  # type: ignore[override]
        return _made(Point, (self[0] + other[0], self[1] + other[1]))

    def __sub__(self, other: Point) -> Point:
        return _made(Point, (self[0] - other[0], self[1] - other[1]))

    def __mul__(self, factor: float) -> Point:  # type: ignore[override]
        return _made(Point, (self[0] * factor, self[1] * factor))

    def __rmul__(self, factor: float) -> Point:  # type: ignore[override]
        return _made(Point, (self[0] * factor, self[1] * factor))

    def __truediv__(self, divisor: float) -> Point:
        return _made(Point, (self[0] / divisor, self[1] / divisor))

    def __neg__(self) -> Point:
        return _made(Point, (-self[0], -self[1]))

    @property
    def length(self) -> float:
        return math.hypot(self[0], self[1])

    @property
    def angle(self) -> float:
        """Direction in degrees: 0 right, 90 down, 180 left, -90 up."""
        return math.degrees(math.atan2(self[1], self[0]))

    def unit(self) -> Point:
        """The vector of length 1 in this direction. Raises GeometryError for a vector of no length."""
        length = math.hypot(self[0], self[1])
        if not 0.0 < length < math.inf:
            raise GeometryError("two points that coincide give no direction")
        return _made(Point, (self[0] / length, self[1] / length))

    def dot(self, other: Point) -> float:
        return self[0] * other[0] + self[1] * other[1]

    def cross(self, other: Point) -> float:
        """Positive when `other` lies clockwise of this vector, as seen on paper."""
        return self[0] * other[1] - self[1] * other[0]

    def turned(self, degrees: float) -> Point:
        """The vector turned clockwise, as seen on paper; exact at whole quarter turns."""
        cos, sin = cos_sin(degrees)
        return _made(Point, (self[0] * cos - self[1] * sin, self[0] * sin + self[1] * cos))

    def normal(self) -> Point:
        """The unit vector a quarter turn clockwise: the right-hand side of travel. Raises as `unit` does."""
        x, y = self.unit()
        return _made(Point, (-y, x))

    def distance(self, other: Point) -> float:
        return math.hypot(other[0] - self[0], other[1] - self[1])

    def toward(self, other: Point, mm: float) -> Point:
        """The point `mm` from here on the straight line to `other` and beyond. Raises when they coincide."""
        return self + (other - self).unit() * mm

    def mix(self, other: Point, t: float) -> Point:
        """The point at part `t` of the way to `other`: 0 here, 1 there."""
        return _made(Point, (self[0] + (other[0] - self[0]) * t, self[1] + (other[1] - self[1]) * t))


DIRECTIONS = {
    "right": Point(1.0, 0.0),
    "down": Point(0.0, 1.0),
    "left": Point(-1.0, 0.0),
    "up": Point(0.0, -1.0),
}
