"""Which points of the pieces must lie at the same place of a stripe or plaid.

Side seams and other long seams meet from the hem up, a sleeve meets the armhole at the single notch; centre front,
centre back and the middle of the other pieces lie on a main bar. (Threads 172, 2014; PNW 187, Pacific Northwest
Extension. Not wanted: facings, and shoulder and waist seams, where the pattern can't run on.)
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from catalogue.cloth.forms import Form, to_grain
from catalogue.geometry import Point
from catalogue.pattern import Piece
from catalogue.pattern.seams import Match

_EDGE = re.compile(r"(\w+)\.(\w+)")


class SewnEdges(NamedTuple):
    """Two edges that are sewn together, each as "piece.edge", and the notches that meet."""

    first: str
    second: str
    matches: tuple[Match, ...] = ()


class MustMeet(NamedTuple):
    """Two points, upright as their pieces' forms, that must lie at one place of the repeat along the cloth."""

    what: str
    first: str
    first_at: Point
    second: str
    second_at: Point


class Matching(NamedTuple):
    """Pairs of points that must meet along the cloth, and of each piece the point that lies on a main bar across it."""

    pairs: tuple[MustMeet, ...] = ()
    anchors: Mapping[str, tuple[Point, float | None]] = {}


def matching_of(pieces: Sequence[Piece], seams: Iterable[SewnEdges]) -> Matching:
    """What must meet of the pieces of one cloth."""
    by_name = {piece.name: piece for piece in pieces}
    long_seams: list[MustMeet] = []
    notches: list[MustMeet] = []
    middles: dict[str, Point] = {}
    hidden = {piece.name for piece in pieces if "facing" in f"{piece.name} {piece.title}".casefold()}
    for seam in seams:
        first, second = _EDGE.search(seam.first), _EDGE.search(seam.second)
        if not first or not second or not {first[1], second[1]} <= by_name.keys() - hidden:
            continue
        one, other = _low_end(by_name[first[1]], first[2]), _low_end(by_name[second[1]], second[2])
        if first[1] == second[1]:
            if one and first[2] == second[2]:
                middles.setdefault(first[1], one)
        elif one and other:
            long_seams.append(MustMeet("seam from the hem up", first[1], one, second[1], other))
        else:
            notches += _notch_pairs(by_name, seam)[:1]
    tree = _tree(pieces, [*long_seams, *notches])
    shift = _shifts(tree)
    anchors: dict[str, tuple[Point, float | None]] = {}
    for piece in pieces:
        folds = [e for e in piece.edges if e.fold and piece.cut.on_fold]
        if piece.name not in shift and not folds and piece.name not in middles:
            continue
        turn = to_grain(piece)
        at = middles.get(piece.name)
        if folds:
            at = turn.apply(folds[0].path.end)
        elif at is None:
            ends = piece.grain or (piece.edges[0].path.start, piece.edges[0].path.end)
            at = turn.apply((ends[0] + ends[1]) / 2)
        by = shift.get(piece.name)
        anchors[piece.name] = at, None if by is None else at.y + by
    return Matching(tuple(tree), anchors)


def with_anchors(forms: Iterable[Form], matching: Matching) -> tuple[Form, ...]:
    """The forms with the points that the cloth's pattern must meet."""
    found = []
    for form in forms:
        at, phase = matching.anchors.get(form.name, (None, None))
        found.append(replace(form, anchor=at, phase_along=phase))
    return tuple(found)


def _low_end(piece: Piece, edge: str) -> Point | None:
    """The lower end of an edge that runs along the cloth, upright; None for one that runs across, or isn't there."""
    path = next((e.path for e in piece.edges if e.name == edge), None)
    if path is None:
        return None
    turn = to_grain(piece)
    ends = turn.apply(path.start), turn.apply(path.end)
    along, across = abs(ends[0].y - ends[1].y), abs(ends[0].x - ends[1].x)
    return max(ends, key=lambda p: p.y) if along > across else None


def _notch_pairs(pieces: Mapping[str, Piece], seam: SewnEdges) -> list[MustMeet]:
    """Single notches that meet: the front of a sleeve and of its armhole."""
    found = []
    for match in seam.matches:
        a, b = match.first, match.second
        if a and b and a.count == b.count == 1:
            names = a.edge.partition(".")[0], b.edge.partition(".")[0]
            if names[0] != names[1] and all(name in pieces for name in names):
                points = [to_grain(pieces[n]).apply(s.point) for n, s in zip(names, (a, b), strict=True)]
                found.append(MustMeet("single notch", names[0], points[0], names[1], points[1]))
    return found


def _tree(pieces: Sequence[Piece], pairs: Sequence[MustMeet]) -> list[MustMeet]:
    """The pairs that can all hold: each joins pieces that no earlier one has joined, long seams first."""
    group = {piece.name: piece.name for piece in pieces}

    def root(name: str) -> str:
        while group[name] != name:
            name = group[name]
        return name

    kept = []
    for pair in pairs:
        one, other = root(pair.first), root(pair.second)
        if one != other:
            group[other] = one
            kept.append(pair)
    return kept


def _shifts(pairs: Sequence[MustMeet]) -> dict[str, float]:
    """For each piece that must meet another, what to add to its y so that points that meet have the same."""
    shift: dict[str, float] = {}
    left = list(pairs)
    while left:
        pair = next((p for p in left if p.first in shift or p.second in shift), left[0])
        left.remove(pair)
        if pair.second in shift and pair.first not in shift:
            shift[pair.first] = pair.second_at.y + shift[pair.second] - pair.first_at.y
        else:
            # The first of a group lies with its point on a main bar.
            start = shift.setdefault(pair.first, -pair.first_at.y)
            shift[pair.second] = pair.first_at.y + start - pair.second_at.y
    return shift
