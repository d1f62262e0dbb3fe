"""A path: straight lines and cubic curves, end to end, measured along its length."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from catalogue.geometry.box import Box
from catalogue.geometry.nearest import nearest_on
from catalogue.geometry.point import GeometryError, Point
from catalogue.geometry.segments import Cubic, Line, Segment, zero_length
from catalogue.geometry.transform import Transform
from catalogue.lengths import held

_ROUNDING = 1e-3
JOIN = 1e-6  # how far apart the ends of neighbouring segments may lie, and where `s` snaps to a joint, mm
_CORNER = math.cos(math.radians(1.0))
_MOST_FLAT_PIECES = 4096


@dataclass(frozen=True, slots=True, init=False)
class Path:
    """At least one segment, each starting where the one before it ends.

    Places along a path are given as `s`, mm of arc length from its start. Raises GeometryError on
    construction when the segments do not meet within a millionth of a millimetre.
    """

    segments: tuple[Segment, ...]
    _marks: tuple[float, ...] | None = field(init=False, repr=False, compare=False)
    _bounds: Box | None = field(init=False, repr=False, compare=False)
    _hull: Box | None = field(init=False, repr=False, compare=False)

    def __init__(self, segments: tuple[Segment, ...]) -> None:
        # Slots are set directly, as those of segments are: paths too are made by the thousand.
        _set_segments(self, segments)
        _set_marks(self, None)
        _set_bounds(self, None)
        _set_hull(self, None)
        if not segments:
            raise GeometryError("a path needs at least one line or curve")
        at = segments[0].start
        if not math.isfinite(at[0] + at[1]):
            raise GeometryError("a path starts at a point that is not on the paper")
        for segment in segments:
            start = segment.start
            if start is not at and not (abs(start[0] - at[0]) <= JOIN and abs(start[1] - at[1]) <= JOIN):
                raise GeometryError(
                    f"a path breaks off at ({at[0]:.3f}, {at[1]:.3f}) "
                    f"and goes on at ({start[0]:.3f}, {start[1]:.3f})"
                )
            at = segment.end
        if not math.isfinite(at[0] + at[1]):
            raise GeometryError("a path ends at a point that is not on the paper")

    @staticmethod
    def polyline(points: Iterable[Point]) -> Path:
        """Straight lines through points, in order; repeat the first one to close it."""
        found = list(points)
        if len(found) < 2:
            raise GeometryError("a line needs at least two points")
        return Path(tuple(Line(a, b) for a, b in pairwise(found)))

    @staticmethod
    def line(a: Point, b: Point) -> Path:
        return Path((Line(a, b),))

    @property
    def start(self) -> Point:
        return self.segments[0].start

    @property
    def end(self) -> Point:
        return self.segments[-1].end

    @property
    def marks(self) -> tuple[float, ...]:
        """`s` of every joint: 0 at the start, then the end of each segment. Worked out once."""
        marks = self._marks
        if marks is None:
            total, found = 0.0, [0.0]
            for segment in self.segments:
                total += segment.length()
                found.append(total)
            marks = tuple(found)
            _set_marks(self, marks)
        return marks

    @property
    def length(self) -> float:
        return (self._marks or self.marks)[-1]

    @property
    def is_closed(self) -> bool:
        (x0, y0), (x1, y1) = self.segments[0].start, self.segments[-1].end
        if abs(x1 - x0) > JOIN or abs(y1 - y0) > JOIN:
            return False
        return _is_long(self.segments[0]) or self.length > JOIN

    @property
    def leaving(self) -> Point:
        """Unit direction of travel at the start; quicker than `tangent_at`, as nothing is measured."""
        first = self.segments[0]
        return first.tangent_at(0.0) if _is_long(first) else self.tangent_at(0.0)

    @property
    def arriving(self) -> Point:
        """Unit direction of travel at the end."""
        last = self.segments[-1]
        return last.tangent_at(1.0) if _is_long(last) else self.tangent_at(self.length, before=True)

    def locate(self, s: float, before: bool = False) -> tuple[int, float]:
        """(index, mm from that segment's start) of a place; at a joint the segment after it, or that before.

        Raises GeometryError when `s` lies off the path by more than a millionth of a millimetre.
        """
        marks = self.marks
        total = marks[-1]
        if not -JOIN <= s <= total + JOIN:
            raise GeometryError(f"{held(s)} along a line that is {held(total)} long")
        s = min(max(s, 0.0), total)
        last = len(self.segments) - 1
        i = min(bisect_right(marks, s) - 1, last)
        if s - marks[i] > JOIN and marks[i + 1] - s <= JOIN:
            s = marks[i + 1]  # so close to a joint that it is meant
            i = min(bisect_right(marks, s) - 1, last)
        if before and s - marks[i] <= JOIN:
            i = max(i - 1, 0)
            while i > 0 and marks[i + 1] - marks[i] <= JOIN:
                i -= 1
            return i, marks[i + 1] if i == 0 and s > JOIN else min(s, marks[i + 1]) - marks[i]
        while i < last and marks[i + 1] - marks[i] <= JOIN:
            i += 1
        return i, max(s - marks[i], 0.0)

    def parameter(self, s: float, before: bool = False) -> tuple[int, float]:
        """(index, parameter within that segment) of a place; exactly 0 or 1 at a joint."""
        i, along = self.locate(s, before)
        if along <= JOIN:
            return i, 0.0
        marks = self.marks
        if marks[i + 1] - marks[i] - along <= JOIN:
            return i, 1.0
        return i, self.segments[i].parameter_at_length(along)

    def point_at(self, s: float) -> Point:
        i, t = self.parameter(s)
        return self.segments[i].point_at(t)

    def tangent_at(self, s: float, before: bool = False) -> Point:
        """Unit direction of travel; at a corner the one the path leaves in, or with `before` arrives in."""
        if s == 0.0 and not before and _is_long(self.segments[0]):
            return self.segments[0].tangent_at(0.0)
        i, t = self.parameter(s, before)
        if zero_length(self.segments[i]) and self.length > JOIN:  # a path may end in segments of no length
            rest = self.simplified
            return rest.tangent_at(min(s, rest.length), before)
        return self.segments[i].tangent_at(t)

    def point_and_tangent_at(self, s: float) -> tuple[Point, Point]:
        """What `point_at` and `tangent_at` give, in half the time."""
        i, t = self.parameter(s)
        segment = self.segments[i]
        return segment.point_at(t), self.tangent_at(s) if zero_length(segment) else segment.tangent_at(t)

    def nearest(self, point: Point, below: float = math.inf) -> tuple[float, float]:
        """(s, distance) of the point of the path nearest to `point`; the first of several equally near.

        (0, inf) when none is nearer than `below` mm.
        """
        where, at, best = self._nearest(point, below)
        if where < 0:
            return 0.0, math.inf
        if at == 1.0:
            return self.marks[where + 1], best
        if where == 0 and at == 0.0:
            return 0.0, best
        return self.marks[where] + (self.segments[where].length_to(at) if at else 0.0), best

    def distance(self, point: Point, below: float = math.inf) -> float:
        """How far off a point lies, as `nearest` tells it; quicker, as nothing is measured along the path."""
        where, _, best = self._nearest(point, below)
        return best if where >= 0 else math.inf

    def _nearest(self, point: Point, below: float) -> tuple[int, float, float]:
        """(index, parameter, distance) of the nearest point; -1 for the index when none is nearer than `below`."""
        best, where, at = below, -1, 0.0
        for i, segment in enumerate(self.segments):
            t, distance = nearest_on(segment, point, best)
            if distance < best:
                best, where, at = distance, i, t
        return where, at, best

    def between(self, s0: float, s1: float) -> Path:
        """The part from s0 to s1; backwards when s0 > s1, of no length when they are equal."""
        if s0 > s1:
            return self.between(s1, s0).reversed()
        i, t0 = self.parameter(s0)
        j, t1 = self.parameter(s1, before=True)
        if s1 - s0 <= JOIN or (j, t1) <= (i, t0):
            here = self.segments[i].point_at(t0)
            return Path((Line(here, here),))
        if i == 0 and t0 == 0.0 and t1 == 1.0 and j == len(self.segments) - 1:
            return self
        if i == j:
            return Path((self.segments[i].between(t0, t1),))
        parts = list(self.segments[i : j + 1])
        parts[0] = parts[0].between(t0, 1.0) if t0 else parts[0]
        parts[-1] = parts[-1].between(0.0, t1) if t1 != 1.0 else parts[-1]
        return Path(tuple(parts))

    def reversed(self) -> Path:
        return Path(tuple(s.reversed() for s in reversed(self.segments)))

    def joined(self, other: Path) -> Path:
        """This path and then `other`, which must start where this one ends."""
        return Path(self.segments + other.segments)

    def transformed(self, m: Transform) -> Path:
        return Path(tuple(s.transformed(m) for s in self.segments))

    def moved(self, m: Transform) -> Path:
        """The path after a rigid movement: as `transformed`, and what was measured is not measured again."""
        path = Path(tuple([s.moved(m) for s in self.segments]))
        _set_marks(path, self._marks)
        return path

    def corners(self) -> tuple[float, ...]:
        """`s` of every place where the direction jumps by more than a degree; of a closed path also 0."""
        found: list[int] = []
        before: Point | None = None
        first: Point | None = None
        for i, segment in enumerate(self.segments):
            if zero_length(segment):
                continue
            leaving = segment.tangent_at(0.0)
            if before is None:
                first = leaving
            elif before.dot(leaving) < _CORNER:
                found.append(i)
            before = segment.tangent_at(1.0)
        if self.is_closed and before is not None and first is not None and before.dot(first) < _CORNER:
            found.insert(0, 0)
        return tuple(self.marks[i] for i in found)

    def flatten(self, tolerance: float = 0.05) -> list[Point]:
        """Points of a polyline within `tolerance` mm of the path, ends of segments included."""
        points = [self.start]
        for segment in self.segments:
            if isinstance(segment, Cubic):
                count = _pieces(segment, tolerance)
                points.extend(segment.point_at(i / count) for i in range(1, count))
            points.append(segment.end)
        return points

    def bounds(self) -> Box:
        """The smallest box round the path. Worked out once."""
        box = self._bounds
        if box is None:
            box = self.segments[0].bounds()
            for segment in self.segments[1:]:
                box = box.union(segment.bounds())
            _set_bounds(self, box)
        return box

    def hull(self) -> Box:
        """A box that surely holds the path: the one around its ends and handles. Worked out once."""
        box = self._hull
        if box is None:
            lefts, tops, rights, bottoms = zip(*(s.hull() for s in self.segments), strict=True)
            box = Box(min(lefts), min(tops), max(rights), max(bottoms))
            _set_hull(self, box)
        return box

    def passes(self, point: Point, within: float) -> bool:
        """Whether the path comes within `within` mm of a point: quicker than asking for its nearest place."""
        x, y = point
        for segment in self.segments:
            left, top, right, bottom = segment.hull()
            near = left - within <= x <= right + within and top - within <= y <= bottom + within
            if near and nearest_on(segment, point, within)[1] <= within:
                return True
        return False

    def extended(self, before: float = 0.0, after: float = 0.0) -> Path:
        """The path with straight lines put on in the directions of its ends, mm. Never shortens."""
        if before < 0.0 or after < 0.0:
            raise GeometryError("a line can't be extended by less than nothing")
        parts = self.segments
        if before > 0.0:
            parts = (Line(self.start - self.tangent_at(0.0) * before, self.start), *parts)
        if after > 0.0:
            way = self.tangent_at(self.length, before=True)
            parts = (*parts, Line(self.end, self.end + way * after))
        return Path(parts)

    @property
    def simplified(self) -> Path:
        """The same path without segments of no length, straight lines in one direction merged."""
        parts: list[Segment] = []
        for segment in self.segments:
            if zero_length(segment):
                continue
            last = parts[-1] if parts else None
            if isinstance(last, Line) and isinstance(segment, Line) and _straight_on(last, segment):
                parts[-1] = Line(last.start, segment.end)
            else:
                parts.append(segment)
        if len(parts) == len(self.segments):
            return self
        return Path(tuple(parts) or (Line(self.start, self.start),))


_set_segments = Path.__dict__["segments"].__set__
_set_marks = Path.__dict__["_marks"].__set__
_set_bounds = Path.__dict__["_bounds"].__set__
_set_hull = Path.__dict__["_hull"].__set__


def _is_long(segment: Segment) -> bool:
    """Whether it is surely longer than what counts as a joint: told by its ends, without measuring it."""
    (x0, y0), (x1, y1) = segment.start, segment.end
    return abs(x1 - x0) > 2.0 * JOIN or abs(y1 - y0) > 2.0 * JOIN


def path_through(segments: Sequence[Segment]) -> Path:
    """A path of segments of which those without length are left out, unless nothing else is there.

    Gaps that are rounding only, up to a thousandth of a millimetre, are closed.
    """
    kept: list[Segment] = []
    for segment in segments:
        if zero_length(segment):
            continue
        if kept and 0.0 < kept[-1].end.distance(segment.start) <= _ROUNDING:
            start = kept[-1].end
            segment = (
                Line(start, segment.end)
                if isinstance(segment, Line)
                else Cubic(start, segment.c1, segment.c2, segment.end)
            )
        kept.append(segment)
    return Path(tuple(kept) or (segments[0],))


def _straight_on(first: Line, second: Line) -> bool:
    """Whether the second line goes on where the first points, within a millionth of a millimetre."""
    whole = second.end - first.start
    ahead = first.end - first.start
    reach = whole.length
    return (
        reach > 0.0 and ahead.dot(second.end - second.start) > 0.0 and abs(ahead.cross(whole)) <= JOIN * reach
    )


def _pieces(cubic: Cubic, tolerance: float) -> int:
    """How many equal parameter steps keep the chords within `tolerance` mm of the curve.

    A chord strays by at most max |B''| h² / 8, and |B''| is at most 6 times the larger second difference of
    the control points (G. Wang, "The subdivision method for finding the intersection between two Bézier
    curves or surfaces", 1984).
    """
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = cubic.start, cubic.c1, cubic.c2, cubic.end
    bend = max(math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2), math.hypot(x1 - 2 * x2 + x3, y1 - 2 * y2 + y3))
    if tolerance <= 0.0:
        raise GeometryError("a curve can't be cut into straight lines without any tolerance")
    wanted = math.sqrt(0.75 * bend / tolerance)
    return max(1, math.ceil(min(wanted, _MOST_FLAT_PIECES))) if math.isfinite(wanted) else 1
