"""The two kinds of piece a path is made of: a straight line and a cubic Bézier curve."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from catalogue.geometry.arclength import Speed, keeps_going, length_between, speed_of
from catalogue.geometry.box import Box
from catalogue.geometry.point import GeometryError, Point
from catalogue.geometry.transform import Transform

# Below this a handle or a speed counts as none, mm.
_NOTHING = 1e-9

_made = tuple.__new__  # see point.py

# Segments are made by the thousand and asked for the same things again and again: they set their slots directly (half
# the time of a frozen dataclass's own way), and keep what was once worked out.


@dataclass(frozen=True, slots=True, init=False)
class Line:
    """A straight piece. Parameters run from 0 at the start to 1 at the end."""

    start: Point
    end: Point
    _hull: Box | None = field(init=False, repr=False, compare=False)

    def __init__(self, start: Point, end: Point) -> None:
        _set_line_start(self, start)
        _set_line_end(self, end)
        _set_line_hull(self, None)

    def point_at(self, t: float) -> Point:
        return self.start.mix(self.end, t) if t != 1.0 else self.end

    def tangent_at(self, t: float) -> Point:
        """Unit direction of travel. Raises GeometryError when the line has no length."""
        return (self.end - self.start).unit()

    def length(self) -> float:
        return self.start.distance(self.end)

    def length_to(self, t: float) -> float:
        return self.start.distance(self.end) * t

    def split(self, t: float) -> tuple[Line, Line]:
        middle = self.point_at(t)
        return Line(self.start, middle), Line(middle, self.end)

    def between(self, t0: float, t1: float) -> Line:
        return Line(self.point_at(t0), self.point_at(t1))

    def reversed(self) -> Line:
        return Line(self.end, self.start)

    def transformed(self, m: Transform) -> Line:
        return Line(m.apply(self.start), m.apply(self.end))

    moved = transformed

    def bounds(self) -> Box:
        """The smallest upright box around it. Worked out once."""
        box = self._hull
        if box is None:
            (x0, y0), (x1, y1) = self.start, self.end
            box = _made(Box, (min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)))
            _set_line_hull(self, box)
        return box

    hull = bounds

    def parameter_at_length(self, s: float) -> float:
        length = self.length()
        return min(max(s / length, 0.0), 1.0) if length else 0.0


_set_line_start = Line.__dict__["start"].__set__
_set_line_end = Line.__dict__["end"].__set__
_set_line_hull = Line.__dict__["_hull"].__set__


@dataclass(frozen=True, slots=True, init=False)
class Cubic:
    """A cubic Bézier curve with handles c1 and c2. Parameters run from 0 at the start to 1 at the end."""

    start: Point
    c1: Point
    c2: Point
    end: Point
    _hull: Box | None = field(init=False, repr=False, compare=False)
    _speed: Speed | None = field(init=False, repr=False, compare=False)
    _steady: bool | None = field(init=False, repr=False, compare=False)
    _length: float | None = field(init=False, repr=False, compare=False)

    def __init__(self, start: Point, c1: Point, c2: Point, end: Point) -> None:
        _set_start(self, start)
        _set_c1(self, c1)
        _set_c2(self, c2)
        _set_end(self, end)
        _set_hull(self, None)
        _set_speed(self, None)
        _set_steady(self, None)
        _set_length(self, None)

    def point_at(self, t: float) -> Point:
        if t == 0.0:
            return self.start
        if t == 1.0:
            return self.end
        u = 1.0 - t
        a, b, c, d = u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = self.start, self.c1, self.c2, self.end
        return _made(Point, (a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3))

    @property
    def speed(self) -> Speed:
        """Coefficients of the derivative, see `arclength.speed_of`. Worked out once."""
        speed = self._speed
        if speed is None:
            speed = speed_of(*self.start, *self.c1, *self.c2, *self.end)
            _set_speed(self, speed)
        return speed

    @property
    def keeps_going(self) -> bool:
        """Whether it surely never comes near a standstill, see `arclength.keeps_going`. Worked out once."""
        steady = self._steady
        if steady is None:
            steady = keeps_going(self.speed)
            _set_steady(self, steady)
        return steady

    def derivative_at(self, t: float) -> Point:
        px, qx, rx, py, qy, ry = self.speed
        return Point(px + t * (qx + t * rx), py + t * (qy + t * ry))

    def tangent_at(self, t: float) -> Point:
        """Unit direction of travel, also where a handle has no length; just after a cusp when t is at one.

        Raises GeometryError when the whole curve is a single point.
        """
        px, qx, rx, py, qy, ry = self.speed
        x, y = px + t * (qx + t * rx), py + t * (qy + t * ry)
        size = max(abs(px), abs(py), abs(qx), abs(qy), abs(rx), abs(ry))
        length = math.hypot(x, y)
        if length > _NOTHING * size:
            return _made(Point, (x / length, y / length)) if length < math.inf else Point(x, y).unit()
        # Near a point of no speed the derivative runs as h q + h² r, so the first of these that isn't nothing
        # is the direction ahead; at the very end it must be seen from behind.
        x, y = qx + 2.0 * t * rx, qy + 2.0 * t * ry
        if math.hypot(x, y) > _NOTHING * size:
            return Point(x, y).unit() if t < 1.0 - _NOTHING else -Point(x, y).unit()
        return Point(rx, ry).unit()

    def length(self) -> float:
        """mm, within a millionth (see arclength). Worked out once."""
        length = self._length
        if length is None:
            length = length_between(self.speed, 0.0, 1.0, self.keeps_going)
            _set_length(self, length)
        return length

    def length_to(self, t: float) -> float:
        """Length from the start to parameter t, mm."""
        return length_between(self.speed, 0.0, t, self.keeps_going) if t != 1.0 else self.length()

    def split(self, t: float) -> tuple[Cubic, Cubic]:
        p0, p1, p2, p3 = self.start, self.c1, self.c2, self.end
        a, b, c = p0.mix(p1, t), p1.mix(p2, t), p2.mix(p3, t)
        d, e = a.mix(b, t), b.mix(c, t)
        middle = d.mix(e, t)
        return Cubic(p0, a, d, middle), Cubic(middle, e, c, p3)

    def between(self, t0: float, t1: float) -> Cubic:
        """The part from t0 to t1; it runs backwards when t0 > t1."""
        if t0 == 0.0 and t1 == 1.0:
            return self
        length = (t1 - t0) / 3.0
        start, end = self.point_at(t0), self.point_at(t1)
        return Cubic(
            start, start + self.derivative_at(t0) * length, end - self.derivative_at(t1) * length, end
        )

    def reversed(self) -> Cubic:
        return Cubic(self.end, self.c2, self.c1, self.start)

    def transformed(self, m: Transform) -> Cubic:
        return Cubic(m.apply(self.start), m.apply(self.c1), m.apply(self.c2), m.apply(self.end))

    def moved(self, m: Transform) -> Cubic:
        """The curve after a rigid movement, which leaves its length what it is."""
        cubic = self.transformed(m)
        _set_steady(cubic, self._steady)
        _set_length(cubic, self._length)
        return cubic

    def hull(self) -> Box:
        """A box that surely holds the curve: the one around its ends and handles. Worked out once."""
        box = self._hull
        if box is None:
            (x0, y0), (x1, y1), (x2, y2), (x3, y3) = self.start, self.c1, self.c2, self.end
            box = _made(
                Box, (min(x0, x1, x2, x3), min(y0, y1, y2, y3), max(x0, x1, x2, x3), max(y0, y1, y2, y3))
            )
            _set_hull(self, box)
        return box

    def bounds(self) -> Box:
        """The smallest upright box around the curve itself."""
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = self.start, self.c1, self.c2, self.end
        left, right = (x0, x3) if x0 < x3 else (x3, x0)
        top, bottom = (y0, y3) if y0 < y3 else (y3, y0)
        if left <= x1 <= right and left <= x2 <= right and top <= y1 <= bottom and top <= y2 <= bottom:
            return self.hull()  # the curve never leaves the box of its ends
        px, qx, rx, py, qy, ry = self.speed
        stops = [t for t in (*_quadratic(rx, qx, px), *_quadratic(ry, qy, py)) if 0.0 < t < 1.0]
        return Box.around([self.start, self.end, *map(self.point_at, stops)])

    def parameter_at_length(self, s: float) -> float:
        """The parameter `s` mm along the curve, clamped to its ends; within a millionth of a millimetre."""
        speed, steady = self.speed, self.keeps_going
        total = self.length()
        if s <= 0.0 or total == 0.0:
            return 0.0
        if s >= total:
            return 1.0
        px, qx, rx, py, qy, ry = speed
        low, high = 0.0, 1.0
        t, at = s / total, 0.0
        reached = 0.0
        for _ in range(60):
            reached += length_between(speed, at, t, steady)
            at, over = t, reached - s
            if abs(over) <= 1e-9:
                break
            if over > 0.0:
                high = t
            else:
                low = t
            rate = math.hypot(px + t * (qx + t * rx), py + t * (qy + t * ry))
            t = t - over / rate if rate > 0.0 else low
            if not low < t < high:
                t = 0.5 * (low + high)
            if t in (low, high):
                break
        return t


_set_start = Cubic.__dict__["start"].__set__
_set_c1 = Cubic.__dict__["c1"].__set__
_set_c2 = Cubic.__dict__["c2"].__set__
_set_end = Cubic.__dict__["end"].__set__
_set_hull = Cubic.__dict__["_hull"].__set__
_set_speed = Cubic.__dict__["_speed"].__set__
_set_steady = Cubic.__dict__["_steady"].__set__
_set_length = Cubic.__dict__["_length"].__set__

Segment = Line | Cubic


def _quadratic(a: float, b: float, c: float) -> list[float]:
    """Real roots of a t² + b t + c, in the form that loses no digits; a constant has none."""
    if abs(a) <= 1e-14 * max(abs(b), abs(c)):
        return [-c / b] if b else []
    inside = b * b - 4.0 * a * c
    if inside < 0.0:
        return []
    q = -0.5 * (b + math.copysign(math.sqrt(inside), b))
    return [q / a, c / q] if q else [0.0]


def zero_length(segment: Segment) -> bool:
    """True when the segment never leaves its start."""
    box = segment.hull()
    return box[2] - box[0] <= _NOTHING and box[3] - box[1] <= _NOTHING


__all__ = ["Cubic", "GeometryError", "Line", "Segment", "zero_length"]
