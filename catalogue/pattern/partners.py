"""What a place on a seam is sewn to: the point of the next piece that meets it."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from catalogue.geometry import Point
from catalogue.pattern.levels import point_sewn, sewn_place
from catalogue.pattern.measure import sewn_length
from catalogue.pattern.piece import Piece
from catalogue.pattern.seamline import SeamSide
from catalogue.pattern.seams import Walked, walk

INSIDE = frozenset(
    {"facing", "lining", "interfacing", "interlining", "underlining", "pocket", "flap", "loop", "tab", "belt"}
    | {"placket", "undercollar", "petersham", "gusset", "tie", "strap"}
)
"""Words in the name of a piece that lies inside or on the garment and adds nothing to its outside."""


@dataclass(frozen=True, slots=True)
class SewnTogether:
    """A declared seam: edges "piece.edge" on both sides, and where the walk starts (see `seams.walk`)."""

    first: tuple[str, ...]
    second: tuple[str, ...]
    start: tuple[str, str] | None = None


def is_inside(piece: Piece) -> bool:
    """Whether a piece lies inside or on the garment by the words of its name and title: a facing, a pocket."""
    words = re.findall(r"[a-z]+", f"{piece.name} {piece.title}".lower().replace("_", " "))
    return not (INSIDE - {"gusset"}).isdisjoint(words)  # a gusset is part of what goes round


class Partners:
    """The pieces with their seams, each walked once when it is first asked for."""

    def __init__(self, pieces: Mapping[str, Piece], seams: Sequence[SewnTogether]) -> None:
        self.pieces = pieces
        self.seams = seams
        self._walked: dict[int, Walked | None] = {}

    def has(self, piece: Piece, edge: str) -> bool:
        """Whether an edge is sewn to a piece of the same layer."""
        return self._seam(piece, edge) is not None

    def of(self, piece: Piece, edge: str, at: Point) -> tuple[Piece, str, Point] | None:
        """What a point of an edge is sewn to: the piece, its edge and the point there; None where nothing is."""
        seam = self._seam(piece, edge)
        walked = None if seam is None else self._walk(seam[0])
        if seam is None or walked is None:
            return None
        mine, theirs = (walked.first, walked.second) if seam[1] else (walked.second, walked.first)
        along = _along(mine, f"{piece.name}.{edge}", at)
        stops = [(0.0, 0.0), *_meeting(walked, seam[1]), (mine.length, theirs.length)]
        for (a0, b0), (a1, b1) in pairwise(stops):
            if along <= a1 + 1e-6:
                share = (along - a0) / (a1 - a0) if a1 - a0 > 1e-6 else 0.0
                along = b0 + (b1 - b0) * share
                break
        return _at(theirs, along)

    def _seam(self, piece: Piece, edge: str) -> tuple[int, bool] | None:
        """The seam that joins an edge to a piece of the same layer, and whether the edge is on its first side."""
        name = f"{piece.name}.{edge}"
        for n, seam in enumerate(self.seams):
            for mine, theirs, is_first in ((seam.first, seam.second, True), (seam.second, seam.first, False)):
                if name in mine and all(self._one_layer(piece, other) for other in theirs):
                    return n, is_first
        return None

    def _one_layer(self, piece: Piece, name: str) -> bool:
        other = self.pieces.get(name.partition(".")[0])
        return (
            other is not None
            and other.cut.cloth == piece.cut.cloth
            and is_inside(other) == is_inside(piece)
            and any(e.name == name.partition(".")[2] for e in other.edges)
        )

    def _walk(self, n: int) -> Walked | None:
        if n not in self._walked:
            seam = self.seams[n]
            sewn = [(s.first, s.second) for s in self.seams]
            try:
                self._walked[n] = walk(self.pieces, seam.first, seam.second, sewn, None, seam.start)
            except KeyError:
                self._walked[n] = None
        return self._walked[n]


def _along(side: SeamSide, name: str, at: Point) -> float:
    """How far along a side a point of one of its edges lies, mm as sewn."""
    total = 0.0
    for run in side.runs:
        length = sewn_length(run.piece, run.edge.name)
        if run.name == name:
            s = sewn_place(run.piece, run.edge.name, at)
            return total + length - s if run.backwards else total + s
        total += length
    raise KeyError(name)


def _at(side: SeamSide, along: float) -> tuple[Piece, str, Point]:
    """The piece, the edge and the point so far along a side as sewn."""
    for n, run in enumerate(side.runs):
        length = sewn_length(run.piece, run.edge.name)
        if along <= length + 1e-6 or n == len(side.runs) - 1:
            s = min(max(length - along if run.backwards else along, 0.0), length)
            return run.piece, run.edge.name, point_sewn(run.piece, run.edge.name, s)
        along -= length
    raise KeyError("no edges")


def _meeting(walked: Walked, first: bool) -> list[tuple[float, float]]:
    """Places along both sides of a seam that meet, the asked side first."""
    pairs = [
        (m.first.at, m.second.at) for m in walked.matches if m.first is not None and m.second is not None
    ]
    return pairs if first else [(b, a) for a, b in pairs]
