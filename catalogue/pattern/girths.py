"""Girths measured off the pieces: along a level from piece to piece, as a tape goes round the garment.

A level passes from a piece to the next through the seam that joins them, at the place where the two meet in sewing. It
ends at a fold of the cloth or at an edge that nothing is sewn to: a centre seam to the other half, or an opening.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from catalogue.geometry import Path, Point
from catalogue.pattern.levels import Reach, below, reach, sewn_place, squared, trimmed
from catalogue.pattern.making import PieceError
from catalogue.pattern.measure import place_on, sewn_length, sewn_parts
from catalogue.pattern.partners import Partners, SewnTogether
from catalogue.pattern.piece import Edge, Piece
from catalogue.pattern.seamline import plain_name
from catalogue.trade_names import names_for

_SEAMS = frozenset({"side", "sides", "panel", "underarm", "inseam", "princess"})
_ARMHOLES = names_for("armhole")
_MOST_PIECES = 60  # that a level goes through before it is given up
_NEAR_END = 5.0  # mm from the end of a seam within which a level along an edge passes it
_BESIDE_CORNER = 10.0  # mm that a level may lie above the corner under the arm and still be taken through it
_DOWN_THE_SEAM = (2.0, 5.0, 10.0)  # mm that a level is moved to clear the corner that it enters a piece at
_LEAST_SLANT = 0.6  # sine of the angle between a level and the opening that it ends at
_LEVEL = Point(1.0, 0.0)
_ENDLESS = "the level goes round without coming back to its start"


@dataclass(frozen=True, slots=True)
class GirthPlace:
    """Where a level is named: a point on a piece, or an edge (and how far below it, mm)."""

    piece: str
    at: Point | None = None
    edge: str = ""
    depth: float = 0.0


@dataclass(frozen=True, slots=True)
class Width:
    """What a level measures on one piece, mm as sewn."""

    piece: str
    title: str
    mm: float


@dataclass(frozen=True, slots=True)
class Girth:
    """A girth measured off the pieces.

    Attributes:
        widths: of the pieces that the level goes through, in order.
        times: how often they go round: 2 when one half of the garment was measured.
        closed: the level comes back to where it began, as round a sleeve.
        ends: the edges ("piece.edge") that it ends at where it is not closed: a fold, a centre seam, an opening.
    """

    widths: tuple[Width, ...]
    times: int
    closed: bool
    ends: tuple[str, ...] = ()

    @property
    def loose_ends(self) -> tuple[str, ...]:
        """Ends at edges that are named as seams inside a half: nobody said what they are sewn to."""
        return tuple(e for e in self.ends if not _SEAMS.isdisjoint(re.findall("[a-z]+", e.partition(".")[2])))

    @property
    def mm(self) -> float:
        return self.times * sum(w.mm for w in self.widths)


def girth_at(
    pieces: Mapping[str, Piece],
    seams: Sequence[SewnTogether],
    places: Sequence[GirthPlace],
    limb: bool | None = None,
) -> tuple[Girth, ...]:
    """The girth of a garment at the level of a place, both halves counted; several where one level has several places.

    Their sum is what the tape shows, less what laps over at an opening and is not marked by a centre line. A place
    that the level of an earlier one passes through is not measured again.

    Args:
        seams: that the style declares. Seams to a facing, a lining or another cloth are not followed.
        limb: True for what goes round an arm or a leg, False round the body, None to tell from how it is cut: a tube
            cut as a pair is a sleeve, one cut more often goes round in as many parts.

    Raises:
        PieceError: there is no such level, or it runs into an armhole.
    """
    return Garment(pieces, seams).girth_at(places, limb)


def length_along(piece: Piece, edge: str, start: Point | None = None, end: Point | None = None) -> float:
    """Length of an edge in mm as sewn, whole or between two points on it. Raises KeyError for no such edge."""
    if start is None or end is None:
        return sewn_length(piece, edge)
    return abs(sewn_place(piece, edge, end) - sewn_place(piece, edge, start))


@dataclass(slots=True)
class _Chain:
    widths: list[Width] = field(default_factory=list)
    passed: set[str] = field(default_factory=set)
    ends: list[str] = field(default_factory=list)
    closed: bool = False


def _times(chain: _Chain, pieces: Mapping[str, Piece], limb: bool | None) -> int:
    cuts = [pieces[w.piece].cut for w in chain.widths]
    on_fold = any(c.on_fold for c in cuts)
    if limb:
        return 2 if on_fold else 1
    if any(c.count == 1 and not c.on_fold for c in cuts):
        return 1
    if not chain.closed:
        return 2
    count = min(c.count for c in cuts)
    pair = count == 2 and all(c.mirrored for c in cuts)
    return 1 if pair and limb is None else count


@dataclass(slots=True)
class _Step:
    """Where a level enters a piece: the edge, the point, and the way it goes from there."""

    piece: str
    edge: str
    at: Point
    way: Point


class Garment:
    """The pieces with their seams, for levels to go through; each seam is walked once for all of them."""

    def __init__(self, pieces: Mapping[str, Piece], seams: Sequence[SewnTogether]) -> None:
        self.pieces = pieces
        self.partners = Partners(pieces, seams)

    def girth_at(self, places: Sequence[GirthPlace], limb: bool | None = None) -> tuple[Girth, ...]:
        """As the function `girth_at`."""
        found: list[Girth] = []
        passed: set[str] = set()
        for place in places:
            if (f"{place.piece}.{place.edge}" if place.edge else place.piece) in passed:
                continue
            chain = self.along_edges(place) if place.edge else self.across(place)
            passed.update(chain.passed)
            times = _times(chain, self.pieces, limb)
            found.append(Girth(tuple(chain.widths), times, chain.closed, tuple(chain.ends)))
        return tuple(found)

    def across(self, place: GirthPlace) -> _Chain:
        """Level with a point, both ways from it, through every piece."""
        assert place.at is not None
        piece = self.pieces[place.piece]
        way = squared(piece, _LEVEL)
        right, left = (self._to_seam(piece, reach(piece, place.at, w)) for w in (way, -way))
        if left.edge == right.edge and left.length + right.length < 1.0:
            raise PieceError(
                f"the level only touches “{piece.title}” at a corner", "Name a place farther in.", place.at
            )
        chain = _Chain(passed={piece.name})
        ahead, back = (self._beyond(piece, run) for run in (right, left))
        parts = (
            *(trimmed(piece, left.parts) if back is None else left.parts),
            *(trimmed(piece, right.parts) if ahead is None else right.parts),
        )
        chain.widths.append(Width(piece.name, piece.title, sum(p.length for p in parts)))
        chain.ends += [
            f"{piece.name}.{run.edge}" for run, after in ((left, back), (right, ahead)) if after is None
        ]
        self._follow(ahead, (piece.name, left.edge), chain)
        if not chain.closed:
            self._follow(back, ("", ""), chain)
        return chain

    def _follow(self, step: _Step | None, home: tuple[str, str], chain: _Chain) -> None:
        for _ in range(_MOST_PIECES):
            if step is None:
                return
            if (step.piece, step.edge) == home:
                chain.closed = True
                return
            piece = self.pieces[step.piece]
            run = self._entered(piece, step)
            after = self._beyond(piece, run)
            parts = trimmed(piece, run.parts) if after is None else run.parts
            chain.widths.append(Width(piece.name, piece.title, sum(p.length for p in parts)))
            chain.passed.add(piece.name)
            if after is None:
                chain.ends.append(f"{piece.name}.{run.edge}")
            step = after
        raise PieceError(
            "the level goes round without coming back to its start", "Look at the seams of these pieces."
        )

    def _entered(self, piece: Piece, step: _Step) -> Reach:
        """The level through a piece from where it enters; from a little down the seam where that is at a corner.

        There an armhole may leave the side seam in the very direction of the level, or hollow out below it.
        """
        path = piece.edge(step.edge).path
        s = place_on(path, step.at)
        away = 1.0 if s < path.length / 2 else -1.0
        for shift in (0.0, *_DOWN_THE_SEAM):
            start = path.point_at(min(max(s + away * shift, 0.0), path.length)) if shift else step.at
            run = reach(piece, start, step.way)
            if run.edge != step.edge or run.length > _DOWN_THE_SEAM[-1]:
                return self._to_seam(piece, run)
        raise PieceError(
            f"the level leaves “{piece.title}” where it enters it",
            "Name a level away from the corner.",
            step.at,
        )

    def _to_seam(self, piece: Piece, run: Reach) -> Reach:
        """A level that grazes the armhole beside the side seam, taken through the corner under the arm."""
        if not _is_armhole(run.edge):
            return run
        at = next(i for i, e in enumerate(piece.edges) if e.name == run.edge)
        around = len(piece.edges)
        for corner, beside in (
            (piece.edges[at].path.start, piece.edges[at - 1]),
            (piece.edges[at].path.end, piece.edges[(at + 1) % around]),
        ):
            on = corner - run.at
            if abs(on.cross(run.way)) <= _BESIDE_CORNER and self.partners.has(piece, beside.name):
                ahead = on.dot(run.way)
                start = run.parts[-1].start if run.parts else run.at
                whole = start.distance(run.at) + ahead
                if whole < 0:
                    continue
                parts = (*run.parts[:-1], Path.line(start, start + run.way * whole))
                return Reach(parts, beside.name, corner, run.way)
        raise PieceError(
            f"the level runs into the armhole of “{piece.title}”", "Name a level below the armhole.", run.at
        )

    def _beyond(self, piece: Piece, run: Reach) -> _Step | None:
        """Where the level goes on in the next piece; None where it ends at a fold or at an opening."""
        if piece.edge(run.edge).fold:
            return None
        met = self.partners.of(piece, run.edge, run.at)
        if met is None:
            self._check_end(piece, run)
            return None
        other, edge, at = met
        path = other.edge(edge).path
        s = place_on(path, at)
        inward = path.tangent_at(s, before=s >= path.length - 1e-9).normal()
        return _Step(other.name, edge, at, squared(other, inward))

    def _check_end(self, piece: Piece, run: Reach) -> None:
        """A level may end at an opening or a centre seam, which it meets about square; not run out at a hem."""
        path = piece.edge(run.edge).path
        s = place_on(path, run.at)
        tangents = (
            (path.tangent_at(s, before=True), path.tangent_at(s)) if s > 1e-6 else (path.tangent_at(s),)
        )
        if max(abs(t.cross(run.way)) for t in tangents) < _LEAST_SLANT:
            raise PieceError(
                f"the level runs out at “{run.edge}” of “{piece.title}” before it has gone all round",
                "Name a level that lies on every piece.",
                run.at,
            )

    def along_edges(self, place: GirthPlace) -> _Chain:
        """Along an edge or below it, and on along the edges that it runs into at the seams on both sides."""
        chain = _Chain(passed={f"{place.piece}.{place.edge}"})
        piece, edge = self.pieces[place.piece], self.pieces[place.piece].edge(place.edge)
        nexts = [self._next_edge(piece, edge, at_end) for at_end in (True, False)]
        chain.widths.append(self._edge_width(piece, edge, place.depth, nexts[0] is None, nexts[1] is None))
        chain.ends += [
            f"{piece.name}.{_beside(piece, edge, at_end).name}"
            for step, at_end in zip(nexts, (True, False), strict=True)
            if step is None
        ]
        for step in nexts:
            while step is not None and not chain.closed:
                piece, edge, at_end = step
                name = f"{piece.name}.{edge.name}"
                if name == f"{place.piece}.{place.edge}":
                    chain.closed = True
                    break
                chain.passed.add(name)
                if len(chain.widths) > _MOST_PIECES:
                    raise PieceError(_ENDLESS, "Look at the seams of these pieces.")
                step = self._next_edge(piece, edge, at_end)
                ends = (step is None and at_end, step is None and not at_end)
                chain.widths.append(self._edge_width(piece, edge, place.depth, *ends))
                if step is None:
                    chain.ends.append(f"{piece.name}.{_beside(piece, edge, at_end).name}")
        return chain

    def _edge_width(self, piece: Piece, edge: Edge, depth: float, ends: bool, starts: bool) -> Width:
        parts = tuple(below(piece, edge.name, depth) if depth else sewn_parts(piece, edge.name))
        if ends:
            parts = trimmed(piece, parts)
        if starts:
            parts = tuple(p.reversed() for p in reversed(parts))
            parts = trimmed(piece, parts)
        return Width(piece.name, piece.title, sum(p.length for p in parts))

    def _next_edge(self, piece: Piece, edge: Edge, at_end: bool) -> tuple[Piece, Edge, bool] | None:
        """The edge that runs on beyond one end, and whether that is walked to its end; None at a fold or opening."""
        beside = _beside(piece, edge, at_end)
        if beside.fold:
            return None
        if plain_name(beside.name) == plain_name(edge.name):
            return piece, beside, at_end
        corner = edge.path.end if at_end else edge.path.start
        met = self.partners.of(piece, beside.name, corner)
        if met is None:
            return None
        other, name, point = met
        n = next(i for i, e in enumerate(other.edges) if e.name == name)
        path = other.edges[n].path
        if point.distance(path.end) <= _NEAR_END:
            return other, other.edges[(n + 1) % len(other.edges)], True
        if point.distance(path.start) <= _NEAR_END:
            return other, other.edges[n - 1], False
        return None


def _beside(piece: Piece, edge: Edge, at_end: bool) -> Edge:
    """The edge that follows at the end of an edge, or comes before its start."""
    at = next(i for i, e in enumerate(piece.edges) if e.name == edge.name)
    return piece.edges[(at + 1) % len(piece.edges) if at_end else at - 1]


def _is_armhole(edge: str) -> bool:
    return any(word in edge for word in _ARMHOLES)
