"""Moving, turning, mirroring and scaling the paper."""

from __future__ import annotations

from typing import NamedTuple

from catalogue.geometry.point import GeometryError, Point, cos_sin

_ORIGIN = Point(0.0, 0.0)
_made = tuple.__new__  # see point.py


class Transform(NamedTuple):
    """An affine map: x' = a x + c y + e, y' = b x + d y + f (the order of SVG's `matrix`)."""

    a: float
    b: float
    c: float
    d: float
    e: float
    f: float

    @staticmethod
    def translation(v: Point) -> Transform:
        return Transform(1.0, 0.0, 0.0, 1.0, v[0], v[1])

    @staticmethod
    def rotation(degrees: float, about: Point = _ORIGIN) -> Transform:
        """A turn, clockwise as seen on paper when positive."""
        cos, sin = cos_sin(degrees)
        x, y = about
        return Transform(cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y)

    @staticmethod
    def reflection(p: Point, q: Point) -> Transform:
        """The mirror image over the straight line through p and q, which must be two different points."""
        ux, uy = (q - p).unit()
        a, b = ux * ux - uy * uy, 2.0 * ux * uy
        x, y = p
        return Transform(a, b, b, -a, x - a * x - b * y, y - b * x + a * y)

    @staticmethod
    def scaling(across: float, down: float | None = None, about: Point = _ORIGIN) -> Transform:
        """Scaling from `about`, by `across` in x and `down` in y (the same when not given)."""
        sx, sy = across, across if down is None else down
        return Transform(sx, 0.0, 0.0, sy, about[0] * (1.0 - sx), about[1] * (1.0 - sy))

    @staticmethod
    def carrying(a: Point, b: Point, to_a: Point, to_b: Point) -> Transform:
        """The rigid move that lays a on to_a and turns the direction a-b to that of to_a-to_b."""
        was, now = (b - a).unit(), (to_b - to_a).unit()
        cos, sin = was.dot(now), was.cross(now)
        x, y = a
        return Transform(cos, sin, -sin, cos, to_a[0] - cos * x + sin * y, to_a[1] - sin * x - cos * y)

    def apply(self, p: Point) -> Point:
        a, b, c, d, e, f = self
        x, y = p
        return _made(Point, (a * x + c * y + e, b * x + d * y + f))

    def apply_vector(self, v: Point) -> Point:
        """The image of a direction: turned and scaled, not moved."""
        a, b, c, d, _, _ = self
        return Point(a * v[0] + c * v[1], b * v[0] + d * v[1])

    def then(self, other: Transform) -> Transform:
        """This transform first, `other` after it."""
        a, b, c, d, e, f = self
        p, q, r, s, u, v = other
        return Transform(
            p * a + r * b,
            q * a + s * b,
            p * c + r * d,
            q * c + s * d,
            p * e + r * f + u,
            q * e + s * f + v,
        )

    @property
    def determinant(self) -> float:
        return self.a * self.d - self.b * self.c

    def inverse(self) -> Transform:
        """The transform that undoes this one. Raises GeometryError when it flattens the paper."""
        a, b, c, d, e, f = self
        det = a * d - b * c
        if abs(det) <= 1e-12 * max(a * a + b * b, c * c + d * d):
            raise GeometryError("a transform that flattens the paper can't be undone")
        return Transform(d / det, -b / det, -c / det, a / det, (c * f - d * e) / det, (b * e - a * f) / det)

    @property
    def flips(self) -> bool:
        """True when left and right change places."""
        return self.determinant < 0.0
