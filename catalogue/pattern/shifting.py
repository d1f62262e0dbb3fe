"""Points of the outline moved by given amounts, the edges between them redrawn to follow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from catalogue.geometry import Cubic, Line, Path, Point, Segment, Transform, signed_area
from catalogue.lengths import held
from catalogue.pattern.contents import fitted
from catalogue.pattern.making import SMALLEST_AREA, PieceError, check_simple
from catalogue.pattern.measure import ON_EDGE, gaps
from catalogue.pattern.piece import Dart, Edge, InnerLine, Notch, Piece
from catalogue.pattern.ring import place
from catalogue.pattern.truing import run_on

FARTHEST = 400.0
"""mm: no point of an outline is shifted farther."""

SAME = 1e-6
"""mm within which two places of an outline are one."""


@dataclass(frozen=True, slots=True)
class Shift:
    """A point of the outline and how far it moves; by (0, 0) where it must stay."""

    at: Point
    by: Point


@dataclass(frozen=True, slots=True)
class Turn:
    """A stretch of the outline, the shorter way from one point to another, turned as it is about a centre; degrees."""

    start: Point
    end: Point
    about: Point
    degrees: float


@dataclass(frozen=True, slots=True)
class _Knot:
    """A place along an edge (mm from its start) and how far it moves; `turn` where what follows it is turned."""

    s: float
    by: Point
    turn: Transform | None = None


def shifted(piece: Piece, shifts: Sequence[Shift], turns: Sequence[Turn] = ()) -> Piece:
    """The piece with points of its outline moved and the edges between them redrawn.

    A corner that is not named stays where it is. Between two such points the move changes evenly along the edge, so an
    edge whose two ends move alike keeps its shape. Notches and darts are carried along by what both ends move; what one
    end moves more takes them along square to the edge alone, so they keep their distance from the other end.

    Raises:
        PieceError: a point lies off the outline, is named twice, or the outline would cross itself.
    """
    for shift in shifts:
        if shift.by.length > FARTHEST:
            raise PieceError(
                f"a point cannot be shifted by {held(shift.by.length)}", f"At most {held(FARTHEST)}."
            )
    ways = _by_edge(piece, shifts, turns)
    edges, darts, pleats = list(piece.edges), list(piece.darts), list(piece.pleats)
    movers = []
    for n, edge in enumerate(piece.edges):
        mover = _Mover(piece, edge, ways[n])
        movers.append(mover)
        if not mover.is_still:
            edges[n] = replace(edge, path=mover.path)
    for i, (before, after) in enumerate(zip(edges, [*edges[1:], edges[0]], strict=True)):
        gap = before.path.end.distance(after.path.start)
        if gap > SAME:
            edges[i] = replace(before, path=_ending(before.path, after.path.start))
    by_name = {e.name: m for e, m in zip(piece.edges, movers, strict=True)}
    for i, dart in enumerate(darts):
        if dart.far_apex is None and dart.edge in by_name:
            darts[i] = by_name[dart.edge].dart(dart)
    for i, pleat in enumerate(pleats):
        if pleat.edge in by_name:
            carry = by_name[pleat.edge].carried
            pleats[i] = replace(pleat, mouth=(carry(pleat.mouth[0]), carry(pleat.mouth[1])))
    lines = tuple(_line(line, piece, movers) for line in piece.lines)
    for old, new in zip(piece.edges, edges, strict=True):
        if old.path != new.path:
            lines = tuple(run_on(line, old.path, new.path) for line in lines)
    made = piece.with_changes(
        edges=tuple(edges),
        darts=tuple(darts),
        pleats=tuple(pleats),
        notches=tuple(_notch(n, by_name) for n in piece.notches),
        marks=tuple(replace(m, at=_point(m.at, piece, movers)) for m in piece.marks),
        lines=lines,
        points={n: _point(p, piece, movers) for n, p in piece.points.items()},
    )
    if signed_area(made.outline) < SMALLEST_AREA:
        raise PieceError(f"nothing would be left of “{piece.name}”", "Shift its points by less.")
    made = fitted(made)
    check_simple(made)
    return made


def _ending(path: Path, at: Point) -> Path:
    last = path.segments[-1]
    moved: Segment = (
        Cubic(last.start, last.c1, last.c2 + (at - last.end), at)
        if isinstance(last, Cubic)
        else Line(last.start, at)
    )
    return Path((*path.segments[:-1], moved))


def _by_edge(piece: Piece, shifts: Sequence[Shift], turns: Sequence[Turn]) -> list[list[_Knot]]:
    """The knots of each edge: its two ends, and points between."""
    ways = _plain_knots(piece, shifts)
    around = sum(e.path.length for e in piece.edges)
    for turn in turns:
        a, b = place(piece, turn.start), place(piece, turn.end)
        if (b - a) % around > around / 2:
            a, b = b, a
        move = Transform.rotation(turn.degrees, turn.about)
        start = 0.0
        for n, edge in enumerate(piece.edges):
            ways[n] = _with_turn(ways[n], edge.path, ((a - start) % around, (b - a) % around, around), move)
            start += edge.path.length
    return ways


def _with_turn(
    knots: list[_Knot], path: Path, span: tuple[float, float, float], move: Transform
) -> list[_Knot]:
    """The knots of an edge, what of it lies in a turned stretch turned; `span` begins at mm from the edge's start."""
    begins, length, around = span
    for first in (begins, begins - around):
        low, high = max(first, 0.0), min(first + length, path.length)
        if high < low - SAME:
            continue
        kept = [k for k in knots if k.s < low - ON_EDGE or k.s > high + ON_EDGE]
        ends = [(low, move if high - low > ON_EDGE else None), (high, None)]
        for s, turn in ends:
            at = path.point_at(s)
            kept.append(_Knot(s, move.apply(at) - at, turn))
        knots = sorted({round(k.s, 6): k for k in reversed(kept)}.values(), key=lambda k: k.s)
    return knots


def _plain_knots(piece: Piece, shifts: Sequence[Shift]) -> list[list[_Knot]]:
    corners = [Point(0.0, 0.0)] * len(piece.edges)
    named: set[float] = set()
    between: list[list[_Knot]] = [[] for _ in piece.edges]
    for shift in shifts:
        s = place(piece, shift.at)
        start = 0.0
        for n, edge in enumerate(piece.edges):
            length = edge.path.length
            if abs(s - start) <= ON_EDGE:
                found, key = n, start
                break
            if s < start + length - ON_EDGE:
                found, key = -1, s
                between[n].append(_Knot(s - start, shift.by))
                break
            start += length
        else:
            found, key = 0, 0.0
        if any(abs(key - other) < SAME for other in named):
            raise PieceError("a point of the outline is shifted twice", "Name each point once.", shift.at)
        named.add(key)
        if found >= 0:
            corners[found] = shift.by
    return [
        sorted(
            [
                _Knot(0.0, corners[n]),
                *between[n],
                _Knot(edge.path.length, corners[(n + 1) % len(piece.edges)]),
            ],
            key=lambda k: k.s,
        )
        for n, edge in enumerate(piece.edges)
    ]


class _Mover:
    """How one edge moves, and what lies on it."""

    def __init__(self, piece: Piece, edge: Edge, knots: Sequence[_Knot]) -> None:
        self.edge = edge
        self.is_still = all(k.by == Point(0.0, 0.0) for k in knots)
        self.is_rigid = all(k.by.distance(knots[0].by) < SAME and k.turn is None for k in knots)
        self.knots = list(knots)
        if not self.is_rigid:
            self._keep_mouths(piece)
        self.path = edge.path if self.is_still else self._moved()

    def _keep_mouths(self, piece: Piece) -> None:
        """The mouth of a dart or pleat moves as a whole, square to itself, by what its place on the sewn edge moves."""
        mouths = gaps(piece, self.edge.name)
        if not mouths:
            return

        def sewn(s: float) -> float:
            return s - sum(max(0.0, min(s, b) - a) for a, b in mouths)

        plain = [_Knot(sewn(k.s), k.by) for k in self.knots]
        extra = []
        for a, b in mouths:
            by = _between(plain, sewn(a))
            start, end = self.edge.path.point_at(a), self.edge.path.point_at(b)
            across = (end - start).unit().normal() if start.distance(end) > SAME else Point(0.0, 0.0)
            shared = _shared(plain, sewn(a))
            by = shared + across * (by - shared).dot(across)
            extra += [_Knot(a, by), _Knot(b, by)]
        inside = [k for k in self.knots if all(not a - SAME < k.s < b + SAME for a, b in mouths)]
        ends = [self.knots[0], self.knots[-1]]
        self.knots = sorted({k.s: k for k in (*extra, *inside, *ends)}.values(), key=lambda k: k.s)

    def by(self, s: float) -> Point:
        return _between(self.knots, s)

    def _moved(self) -> Path:
        segments: list[Segment] = []
        for one, other in pairwise(self.knots):
            if other.s - one.s < SAME:
                continue
            part = self.edge.path.between(one.s, other.s)
            if one.turn is not None:
                segments += part.transformed(one.turn).segments
                continue
            s = one.s
            for segment in part.segments:
                length = Path((segment,)).length
                start, end = segment.start + self.by(s), segment.end + self.by(s + length)
                if isinstance(segment, Cubic):
                    segments.append(
                        Cubic(
                            start,
                            segment.c1 + self.by(s + length / 3),
                            segment.c2 + self.by(s + 2 * length / 3),
                            end,
                        )
                    )
                else:
                    segments.append(Line(start, end))
                s += length
        joined: list[Segment] = []
        for segment in segments:
            if joined and segment.start != joined[-1].end:
                at = joined[-1].end
                segment = (
                    Cubic(at, segment.c1, segment.c2, segment.end)
                    if isinstance(segment, Cubic)
                    else Line(at, segment.end)
                )
            joined.append(segment)
        return Path(tuple(joined)).simplified

    def carried(self, at: Point) -> Point:
        """Where something on the edge lies afterwards."""
        if self.is_still:
            return at
        s, _ = self.edge.path.nearest(at)
        if self.is_rigid:
            return at + self.knots[0].by
        for knot in self.knots:
            if abs(knot.s - s) < ON_EDGE / 10:
                return at + knot.by
        for one, other in pairwise(self.knots):
            if one.turn is not None and one.s <= s <= other.s:
                return one.turn.apply(at)
        ahead = self.edge.path.between(max(0.0, s - 0.5), min(self.edge.path.length, s + 0.5))
        square = (ahead.end - ahead.start).unit().normal()
        shared = _shared(self.knots, s)
        aimed = at + shared + square * (self.by(s) - shared).dot(square)
        return self.path.point_at(self.path.nearest(aimed)[0])

    def dart(self, dart: Dart) -> Dart:
        """A dart of the edge: its point stays, or moves along so that its legs stay of one length."""
        if self.is_still:
            return dart
        legs = (self.carried(dart.legs[0]), self.carried(dart.legs[1]))
        tip = dart.tip + (legs[0] - dart.legs[0]) if dart.tip is not None else None
        even = abs(dart.apex.distance(dart.legs[0]) - dart.apex.distance(dart.legs[1])) < 0.05
        apex = dart.apex
        if even:
            middle = legs[0].mix(legs[1], 0.5)
            across = (legs[1] - legs[0]).unit().normal()
            apex = middle + across * (apex - middle).dot(across)
        return replace(dart, legs=legs, tip=tip, apex=apex)


def _between(knots: Sequence[_Knot], s: float) -> Point:
    if s <= knots[0].s:
        return knots[0].by
    for one, other in pairwise(knots):
        if s <= other.s + SAME:
            span = other.s - one.s
            return other.by if span < SAME else one.by.mix(other.by, min(1.0, (s - one.s) / span))
    return knots[-1].by


def _shared(knots: Sequence[_Knot], s: float) -> Point:
    """How far both ends of the stretch round a place move together: what lies on it is carried along by so much."""
    for one, other in pairwise(knots):
        if s <= other.s + SAME:
            if one.by.dot(other.by) <= 0:
                return Point(0.0, 0.0)
            return min(one.by, other.by, key=lambda by: by.length)
    return Point(0.0, 0.0)


def _notch(notch: Notch, movers: dict[str, _Mover]) -> Notch:
    mover = movers.get(notch.edge)
    return notch if mover is None else replace(notch, at=mover.carried(notch.at))


def _line(line: InnerLine, piece: Piece, movers: Sequence[_Mover]) -> InnerLine:
    """A line across the piece goes with the outline where both its ends move alike; else it stays."""
    ends = (line.path.start, line.path.end)
    first, last = (_point(end, piece, movers) - end for end in ends)
    if first.length < SAME or first.distance(last) > ON_EDGE:
        return line
    return replace(line, path=line.path.transformed(Transform.translation(first)))


def _point(at: Point, piece: Piece, movers: Sequence[_Mover]) -> Point:
    """A point or mark on the outline goes with its edge; inside the piece it stays."""
    for edge, mover in zip(piece.edges, movers, strict=True):
        for end, knot in ((edge.path.start, mover.knots[0]), (edge.path.end, mover.knots[-1])):
            if at.distance(end) < ON_EDGE / 10:
                return at + knot.by
    for edge, mover in zip(piece.edges, movers, strict=True):
        if not mover.is_still and edge.path.nearest(at)[1] < ON_EDGE / 10:
            return mover.carried(at)
    return at
