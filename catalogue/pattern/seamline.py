"""One side of a seam: edges laid end to end as they are sewn, with the notches met on the way."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from catalogue.geometry import Point
from catalogue.pattern.measure import gaps, place_on
from catalogue.pattern.piece import Edge, Piece

Sewn = Collection[tuple[Sequence[str], Sequence[str]]]
"""The seams of a style: for each, the edges ("piece.edge") on its two sides."""

TOUCHING = 0.01
"""mm within which two corners of one piece are one."""

AT_THE_END = 1.0
"""mm from a side's end within which a notch marks that end."""


@dataclass(frozen=True, slots=True)
class Run:
    """One edge of a side, walked forwards (as the outline runs) or backwards."""

    piece: Piece
    edge: Edge
    backwards: bool = False

    @property
    def name(self) -> str:
        return f"{self.piece.name}.{self.edge.name}"

    def turned(self) -> Run:
        return Run(self.piece, self.edge, not self.backwards)

    def corner(self, at_end: bool) -> tuple[Edge, float]:
        """The edge beside this one at the run's start or end, and the angle of the paper there, degrees."""
        edges = self.piece.edges
        name = self.edge.name
        at = next(i for i, e in enumerate(edges) if e.name == name)
        if at_end != self.backwards:
            after = (at + 1) % len(edges)
            return edges[after], self.piece.angle(after)
        return edges[at - 1], self.piece.angle(at)

    def point(self, at_end: bool) -> Point:
        return self.edge.path.end if at_end != self.backwards else self.edge.path.start


@dataclass(frozen=True, slots=True)
class Sign:
    """Something met on the walk: a notch, or the place where one edge of the side meets the next.

    Attributes:
        at: mm from the start of the walk, darts closed and pleats folded.
        count: 1 to 3 for a notch, 0 where two edges meet.
        edge: "piece.edge" it lies on.
        point: where it lies on that piece's paper.
    """

    at: float
    count: int
    edge: str
    point: Point

    @property
    def is_notch(self) -> bool:
        return self.count > 0


@dataclass(frozen=True)
class SeamSide:
    """Edges in the order and the direction they are walked."""

    runs: tuple[Run, ...]

    def reversed(self) -> SeamSide:
        return SeamSide(tuple(r.turned() for r in reversed(self.runs)))

    @cached_property
    def _measured(self) -> tuple[float, tuple[Sign, ...]]:
        total, signs = 0.0, []
        for i, run in enumerate(self.runs):
            length, notches = _notches_along(run)
            if i:
                signs.append(Sign(total, 0, run.name, run.point(False)))
            signs += [Sign(total + s, n.count, run.name, n.point) for s, n in notches]
            total += length
        # A notch at the very end marks the corner, which meets the other side's end anyhow.
        kept = [s for s in signs if AT_THE_END <= s.at <= total - AT_THE_END or not s.is_notch]
        return total, tuple(sorted(kept, key=lambda s: s.at))

    @property
    def length(self) -> float:
        return self._measured[0]

    @property
    def signs(self) -> tuple[Sign, ...]:
        return self._measured[1]

    @property
    def notches(self) -> tuple[Sign, ...]:
        return tuple(s for s in self.signs if s.is_notch)

    def corner(self, at_end: bool) -> tuple[Piece, Edge, float]:
        """The piece, the edge beside the seam and the angle of the paper at the walk's start or end."""
        run = self.runs[-1 if at_end else 0]
        return (run.piece, *run.corner(at_end))


def _notches_along(run: Run) -> tuple[float, list[tuple[float, Sign]]]:
    """The sewn length of a run, and its notches with their sewn distance from the run's start."""
    path = run.edge.path
    closed = gaps(run.piece, run.edge.name)

    def sewn(s: float) -> float:
        taken, reached = 0.0, 0.0
        for s0, s1 in closed:
            taken += max(min(s, s1) - max(s0, reached), 0.0)
            reached = max(reached, s1)
        return s - taken

    total = sewn(path.length)
    found = []
    for notch in run.piece.notches:
        if notch.edge == run.edge.name:
            s = sewn(place_on(path, notch.at))
            found.append((total - s if run.backwards else s, Sign(0.0, notch.count, run.name, notch.at)))
    return total, found


def plain_name(name: str) -> str:
    """The name an edge had before it was cut up or mirrored: side for other_side_2."""
    plain = name.removeprefix("other_")
    return re.sub(r"_\d+$", "", plain) if plain[-1:].isdigit() else plain


def laid(pieces: Mapping[str, Piece], names: Sequence[str], sewn: Sewn) -> SeamSide:
    """Edges laid end to end, each turned so that it meets the next: where a seam joins them, or by their names.

    Raises KeyError for an edge that isn't there.
    """
    runs = []
    for name in names:
        piece, _, edge = name.partition(".")
        if piece not in pieces:
            raise KeyError(name)
        try:
            runs.append(Run(pieces[piece], pieces[piece].edge(edge)))
        except KeyError:
            raise KeyError(name) from None
    # The cheapest way so far that ends with the last run as drawn, and with it turned.
    ways: list[tuple[int, tuple[Run, ...]]] = [(0, (runs[0],)), (0, (runs[0].turned(),))]
    for run in runs[1:]:
        ways = [
            min(((cost + _join_cost(way[-1], r, sewn), (*way, r)) for cost, way in ways), key=lambda w: w[0])
            for r in (run, run.turned())
        ]
    return SeamSide(min(ways, key=lambda w: w[0])[1])


def _join_cost(first: Run, second: Run, sewn: Sewn) -> int:
    """How unlikely it is that the end of one run meets the start of the next."""
    if first.piece.name == second.piece.name and first.point(True).distance(second.point(False)) < TOUCHING:
        return 0
    a, b = first.corner(True)[0], second.corner(False)[0]
    if are_sewn(f"{first.piece.name}.{a.name}", f"{second.piece.name}.{b.name}", sewn):
        return 1
    if a.fold or b.fold:
        return 5
    return 2 if plain_name(a.name) == plain_name(b.name) else 4


def are_sewn(a: str, b: str, sewn: Sewn) -> bool:
    """Whether two edges are on opposite sides of a seam."""
    return any((a in p and b in q) or (a in q and b in p) for p, q in sewn)


def run_on(a: str, b: str, sewn: Sewn) -> bool:
    """Whether two edges lie on one side of some seam, so that they run on from each other."""
    return any((a in side and b in side) for seam in sewn for side in seam if a != b)
