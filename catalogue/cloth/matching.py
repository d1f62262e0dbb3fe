"""Which points of the pieces must lie at the same place of a stripe or plaid.

Side seams and other long seams meet from the hem up, a sleeve meets the armhole at the single notch; centre front,
centre back, the collar's too, and the middle of the other pieces lie on a main bar; a patch pocket lies as the cloth
under it does. (Threads 172, 2014; PNW 187, Pacific Northwest Extension. Not wanted: facings, and shoulder and waist
seams, where the pattern can't run on.)
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from catalogue.cloth.forms import UPRIGHT, Form, to_grain
from catalogue.geometry import Point
from catalogue.pattern import Piece
from catalogue.pattern.piece import Mark
from catalogue.pattern.seams import Match

_MOUTHS = ("mouth", "top", "upper", "opening", "hem")
"""Names of a pocket's upper edge."""
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


class OnBar(NamedTuple):
    """A point of a piece, upright as its form, that must lie on a main bar, along the cloth or across it."""

    what: str
    piece: str
    at: Point
    runs_across: bool = False


class OnGround(NamedTuple):
    """A patch and the piece that it is sewn to: the points that lie on each other, upright as their forms.

    `spots` are, for each cut of the patch, the number of the ground's cut, from 0, and the point on the ground's form.
    """

    what: str
    patch: str
    patch_at: Point
    ground: str
    spots: tuple[tuple[int, Point], ...]


class Anchor(NamedTuple):
    """A point of a form and where it lies on the cloth's pattern.

    Attributes:
        along: mm along the cloth from a main bar; None where any place will do.
        across: mm across it from one, for each cut in turn.
    """

    at: Point
    along: float | None = None
    across: tuple[float, ...] = (0.0,)


class Matching(NamedTuple):
    """Points of pieces that must lie at one place of the cloth's pattern, and the anchors that bring them there."""

    pairs: tuple[MustMeet, ...] = ()
    anchors: Mapping[str, Anchor] = {}
    bars: tuple[OnBar, ...] = ()
    grounds: tuple[OnGround, ...] = ()


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
            # A yoke need not match, so a sleeve is matched to it for want of another piece alone.
            pairs = _notch_pairs(by_name, seam)
            notches += sorted(pairs, key=lambda pair: "yoke" in f"{pair.first} {pair.second}")[:1]
    tree = _tree(pieces, [*long_seams, *notches])
    # Of a piece whose fold lies across the cloth, as a collar's does at the centre back, the fold is on a bar across.
    folded_across = {piece.name: at for piece in pieces if (at := _fold_across(piece))}
    shift = _shifts(tree, folded_across)
    anchors: dict[str, Anchor] = {}
    bars: list[OnBar] = []
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
        anchors[piece.name] = Anchor(at, None if by is None else at.y + by)
        if piece.name in folded_across:
            anchors[piece.name] = anchors[piece.name]._replace(along=0.0 if by is None else at.y + by)
            if by is None or abs(at.y + by) < 1e-6:
                bars.append(OnBar(f"{_middle_words(piece)} across", piece.name, at, runs_across=True))
        elif folds or piece.name in middles:
            bars.append(OnBar(_middle_words(piece), piece.name, at))
    grounds = _grounds([piece for piece in pieces if piece.name not in hidden])
    for laid_on in grounds:
        spot = laid_on.spots[0][1]
        ground = anchors.setdefault(laid_on.ground, Anchor(spot))
        if ground.along is None:
            ground = anchors[laid_on.ground] = ground._replace(along=0.0)
        along = spot.y - ground.at.y + (ground.along or 0.0)
        # The second of a pair is turned over, and so is what lies on it.
        sides = [(at.x - ground.at.x) * (-1.0 if n % 2 else 1.0) for n, at in laid_on.spots]
        anchors[laid_on.patch] = Anchor(laid_on.patch_at, along, tuple(sides))
    patches = {laid_on.patch for laid_on in grounds}
    return Matching(tuple(tree), anchors, tuple(b for b in bars if b.piece not in patches), tuple(grounds))


def _fold_across(piece: Piece) -> Point | None:
    """A point of the fold that a piece is cut on, where the fold lies across the cloth; else None."""
    fold = next((e.path for e in piece.edges if e.fold and piece.cut.on_fold), None)
    if fold is None:
        return None
    turn = to_grain(piece)
    start, end = turn.apply(fold.start), turn.apply(fold.end)
    return end if abs(end.y - start.y) < UPRIGHT * abs(end.x - start.x) else None


def _middle_words(piece: Piece) -> str:
    words = f"{piece.name} {piece.title}".casefold()
    where = "centre back" if "collar" in words or "back" in words else "middle"
    return f"{where} on a main bar"


def _grounds(pieces: Sequence[Piece]) -> list[OnGround]:
    """Patch pockets with what they are sewn to: by the marks of their upper corners, "pocket corner"."""
    found = []
    for patch in pieces:
        mouth = next((e.path for e in patch.edges if e.name in _MOUTHS), None)
        if mouth is None or "pocket" not in f"{patch.name} {patch.title}".casefold():
            continue
        for ground in pieces:
            corners = [
                m
                for m in ground.marks
                if m.kind == "placement" and m.text.casefold().startswith("pocket corner")
            ]
            if not corners or ground is patch:
                continue
            turn, own = to_grain(ground), to_grain(patch)
            middle = sum((turn.apply(m.at) for m in corners[1:]), turn.apply(corners[0].at)) / len(corners)
            fold = next((e for e in ground.edges if e.fold and ground.cut.on_fold), None)
            if len(corners) == 1 and fold is not None:
                middle = Point(turn.apply(fold.path.start).x, middle.y)  # One half of it is marked.
            top = (own.apply(mouth.start) + own.apply(mouth.end)) / 2
            half = next((e for e in patch.edges if e.fold and patch.cut.on_fold), None)
            if half is not None:
                top = Point(own.apply(half.path.start).x, top.y)
            found.append(
                OnGround(
                    "pocket on its ground",
                    patch.name,
                    top,
                    ground.name,
                    _spots(patch, ground, corners, middle),
                )
            )
            break
    return found


def _spots(patch: Piece, ground: Piece, corners: Sequence[Mark], at: Point) -> tuple[tuple[int, Point], ...]:
    """Which cuts of the ground the patch's cuts are sewn to, and where; of one patch alone, the side the mark names.

    A front whose centre lies at its left on paper, right side up, is the left one (the wearer's).
    """
    turn = to_grain(ground)
    fold = next((e for e in ground.edges if e.fold and ground.cut.on_fold), None)
    if fold is not None:
        over = Point(2 * turn.apply(fold.path.start).x - at.x, at.y)
        return tuple((0, over if n % 2 else at) for n in range(patch.cut.count))
    if patch.cut.count > 1 or ground.cut.count == 1:
        return tuple((n % ground.cut.count, at) for n in range(patch.cut.count))
    words = " ".join(mark.text.casefold() for mark in corners)
    if "left" not in words and "right" not in words:
        return ((0, at),)
    xs = [turn.apply(p).x for p in ground.outline.flatten(1.0)]
    centre = next(
        (e.path for e in ground.edges if "cent" in e.name or e.name.startswith(("cf", "cb", "front"))), None
    )
    on_left = centre is None or turn.apply(centre.start).x < (min(xs) + max(xs)) / 2
    return ((0 if on_left == ("left" in words) else 1, at),)


def with_anchors(forms: Iterable[Form], matching: Matching) -> tuple[Form, ...]:
    """The forms with the points that the cloth's pattern must meet."""
    found = []
    for form in forms:
        anchor = matching.anchors.get(form.name)
        if anchor is not None:
            form = replace(form, anchor=anchor.at, phase_along=anchor.along, phases_across=anchor.across)
        found.append(form)
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
            has_sleeve = any("sleeve" in f"{n} {pieces[n].title}".casefold() for n in names if n in pieces)
            if has_sleeve and names[0] != names[1] and all(name in pieces for name in names):
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


def _shifts(pairs: Sequence[MustMeet], begin: Mapping[str, Point]) -> dict[str, float]:
    """For each piece that must meet another, what to add to its y so that points that meet have the same.

    The first of a group lies with its point on a main bar, or with the one that `begin` gives for it.
    """
    shift: dict[str, float] = {}
    left = list(pairs)
    while left:
        pair = next((p for p in left if p.first in shift or p.second in shift), left[0])
        left.remove(pair)
        if pair.second in shift and pair.first not in shift:
            shift[pair.first] = pair.second_at.y + shift[pair.second] - pair.first_at.y
        else:
            start = shift.setdefault(pair.first, -begin.get(pair.first, pair.first_at).y)
            shift[pair.second] = pair.first_at.y + start - pair.second_at.y
    return shift
