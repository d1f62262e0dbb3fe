"""The corners of a cutting line, where the allowances of two runs of the seam line meet.

Of each corner: the runs of the cutting line before and after it, shortened where they must be, and what joins them.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, degrees, radians, sin

from catalogue.geometry import Line, Path, Point, Segment, Transform, crossings
from catalogue.pattern.making import with_ends

STRAIGHT_ON = 1.0
"""Degrees of bend below which two runs go on from each other rather than make a corner."""

SHALLOW = 7.0
"""Degrees of bend below which no allowance is squared or mirrored."""

TO_AND_FRO = 150.0
"""Degrees of bend from which a look at the runs tells a sharp point from a slit better than their directions do."""

LONGEST_MITRE = 2.2
"""A mitre whose point lies further from the corner than this many times the larger allowance is cut off blunt."""

AT_FOLD = 12.0
"""Allowances from a corner within which the fold is led on to the cutting line of a slanting edge, as at the foot of a
V: nothing may be cut beyond the fold, so it goes farther than a mitre."""


BLUNT = 1.15
"""How far a blunt corner reaches beyond the corner, in allowances: never nearer than the allowance itself."""

Joined = tuple[Path, list[Segment], Path]


@dataclass(frozen=True, slots=True)
class Side:
    """A smooth run of an edge, and the same carried outwards by the allowance.

    Attributes:
        name: of the edge.
        path: the seam line, clockwise round the piece.
        width: mm.
        out: parallel to `path`, on its left-hand side.
        fold: it lies on the fold of the cloth, which nothing may cross.
        squared, turned_up: how the edge's allowance ends, where this run has an end of the edge.
        first, last: whether it has the edge's start and its end.
    """

    name: str
    path: Path
    width: float
    out: Path
    fold: bool = False
    squared: bool = False
    turned_up: bool = False
    first: bool = True
    last: bool = True


def corner(before: Side, after: Side, out: Path, following: Path) -> Joined:
    """The corner between two runs; `out` and `following` are their parts of the cutting line as they are so far."""
    at = after.path.start
    arriving = before.path.arriving
    leaving = after.path.leaving
    bend = degrees(atan2(arriving.cross(leaving), arriving.dot(leaving)))
    if abs(bend) > TO_AND_FRO and (bend < 0) != _is_slit(before.path, after.path):
        bend = -bend
    if out.end.distance(following.start) < 1e-6:
        return out, [], following
    if abs(bend) < STRAIGHT_ON:
        return _straight_on(out, following, before.width, after.width, at, arriving, leaving)
    if bend < 0:
        # By way of the seam line, so that the overlap lies inside and the outside of all is the cutting line.
        return out, _lines([out.end, at, following.start]), following
    if bend >= SHALLOW:
        shaped = _shaped(before, after, out, following)
        if shaped is not None:
            return shaped
    points = _mitre(before.width, after.width, at, arriving, leaving, bend)
    return out, _lines([out.end, *points, following.start]), following


def _is_slit(before: Path, after: Path) -> bool:
    """Whether two runs that go there and back have cloth on their outer sides rather than between them."""
    there = before.end - before.point_at(max(before.length - 5.0, 0.0))
    back = after.point_at(min(after.length, 5.0)) - after.start
    return there.cross(back) < 0


def _straight_on(
    out: Path, following: Path, width: float, next_width: float, at: Point, arriving: Point, leaving: Point
) -> Joined:
    """Runs that go on from each other: one line where they are equally wide, else a step square to the seam line."""
    if abs(width - next_width) < 1e-6:
        meet = out.end.mix(following.start, 0.5)
        return with_ends(out, out.start, meet), [], with_ends(following, meet, following.end)
    # The narrower one ends where it meets the step: a hair further on at a bend outwards, a hair sooner at one inwards.
    hair = min(width, next_width) * arriving.cross(leaving)
    if width > next_width:
        foot = at - arriving.normal() * next_width
        if hair < 0:
            following = following.between(min(-hair, following.length / 2), following.length)
            following = with_ends(following, foot, following.end)
        return out, _lines([out.end, foot, following.start]), following
    foot = at - leaving.normal() * width
    if hair < 0:
        out = with_ends(out.between(0.0, max(out.length + hair, out.length / 2)), out.start, foot)
    return out, _lines([out.end, foot, following.start]), following


def _mitre(
    width: float, next_width: float, at: Point, arriving: Point, leaving: Point, bend: float
) -> list[Point]:
    """Both cutting lines led on until they meet; blunt where that is far off, a step where they never do."""
    end, start = at - arriving.normal() * width, at - leaving.normal() * next_width
    c, s = cos(radians(bend)), sin(radians(bend))
    if next_width < width * c:  # the next allowance ends under this one
        return [at - arriving.normal() * (next_width / c)]
    if width < next_width * c:
        return [at - leaving.normal() * (width / c)]
    largest = max(width, next_width)
    if s > 1e-3:
        tip = end + arriving * ((next_width - width * c) / s)
        if tip.distance(at) <= LONGEST_MITRE * largest + 1e-6:
            return [tip]
    return [end + arriving * (BLUNT * largest), start - leaving * (BLUNT * largest)]


def _shaped(before: Side, after: Side, out: Path, following: Path) -> Joined | None:
    """A corner other than a mitre, if one of the two edges asks for it and there is room; else None.

    The fold of the cloth is led straight on, so that nothing crosses it.
    """
    if before.fold or after.fold:
        if before.fold and after.fold:
            return None
        if after.fold:
            return _cut_off(out, following, before.width, after.path.start, after.path.leaving, AT_FOLD)
        back = -before.path.arriving
        cut = _cut_off(following.reversed(), out.reversed(), after.width, before.path.end, back, AT_FOLD)
        return None if cut is None else _turned(cut)
    up = after.first and after.turned_up and after.width, before.last and before.turned_up and before.width
    square = after.first and after.squared and after.width, before.last and before.squared and before.width
    for (of_after, of_before), mirrored in ((up, True), (square, False)):
        if of_after and of_before and mirrored:
            return None  # both are turned up: a mitre
        if of_after:
            return _ended(out, following, before.width, after.path.start, after.path.leaving, mirrored)
        if of_before:
            path = before.path
            back = -path.arriving
            ended = _ended(following.reversed(), out.reversed(), after.width, path.end, back, mirrored)
            return None if ended is None else _turned(ended)
    return None


def _turned(joined: Joined) -> Joined:
    """The same corner gone through the other way."""
    first, between, second = joined
    return second.reversed(), [s.reversed() for s in reversed(between)], first.reversed()


def _cut_off(
    neighbour: Path, own: Path, width: float, at: Point, way: Point, longest: float = LONGEST_MITRE
) -> Joined | None:
    """The neighbour's cutting line as far as it meets a seam line led on backwards, and the way from there to it."""
    reach = longest * max(width, 1.0)
    led_on = neighbour.extended(after=2 * reach)
    met = crossings(led_on, Path.line(at + way * 1e-3, at - way * (reach + 1e-3)))
    if not met or (turn := max(met, key=lambda c: c.on_first)).on_first < 1e-6:
        return None
    kept = led_on.between(0.0, turn.on_first)
    return kept, _lines([kept.end, own.start]), own


def _ended(neighbour: Path, own: Path, width: float, at: Point, way: Point, mirrored: bool) -> Joined | None:
    """The end of an edge's allowance, where the seam line led on meets the neighbour's cutting line.

    From there the cutting line goes square to the seam line, or as the neighbour's mirrored over it.

    Args:
        neighbour: its cutting line, running to the corner; `width` is its allowance.
        own: the edge's cutting line, running from the corner; `at` and `way` are the seam line's start and direction.
    """
    cut = _cut_off(neighbour, own, width, at, way)
    if cut is None:
        return None
    kept = cut[0]
    reach = LONGEST_MITRE * max(width, 1.0)
    if mirrored:
        rest = kept.reversed().extended(after=4 * (own.start.distance(at) + reach))
        rest = rest.transformed(Transform.reflection(at, at + way))
    else:
        outwards = (own.start - at).unit()
        rest = Path.line(kept.end, kept.end + outwards * (2 * own.start.distance(at)))
    far = own.start.distance(at) * 2 + reach
    hem = own.extended(before=far)
    found = crossings(rest, hem)
    if not found or found[0].on_second > far + 0.9 * own.length or found[0].on_first < 1e-6:
        return None
    stop = found[0]
    rest = rest.between(0.0, stop.on_first)
    own = hem.between(stop.on_second, hem.length)
    return kept, list(with_ends(rest, kept.end, own.start).segments), own


def _lines(points: list[Point]) -> list[Segment]:
    return [Line(a, b) for a, b in pairwise(points) if a.distance(b) > 1e-6]
