"""Two halves of a body that differ: a piece of each, or one whole piece joined at the fold.

A piece is drawn with the right side of its cloth up. Seen so, a front with its centre to the left is the wearer's left
half and a back the right one; a sleeve with the front to the right is the right sleeve.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from catalogue.geometry import Line, Path, Point, Transform
from catalogue.pattern.contents import Contents, contents_of, fitted
from catalogue.pattern.joining import turned_over
from catalogue.pattern.making import PieceError, check_simple
from catalogue.pattern.partners import is_inside
from catalogue.pattern.piece import Cut, Edge, InnerLine, Mark, Piece
from catalogue.pattern.ring import Stretch, assemble, stretches

Hand = Literal["right", "left"]
FLIP = Transform.reflection(Point(0.0, 0.0), Point(0.0, 1.0))
ALIKE = 0.02
"""mm within which two points are one: the two halves were drafted by the same steps."""
MEETS = 4.0
"""mm that the folds of two halves may differ by at an end and still be one fold; the edge there is trued to it."""
_MIDDLES = ("centre", "crotch", "inside")
_OUTER = ("side", "armhole", "inner")  # of a facing, whose inner edge is the one away from the middle


def alike(one: Piece, other: Piece) -> bool:
    """Whether two pieces are the same but for rounding."""
    if len(one.edges) != len(other.edges) or len(one.darts) != len(other.darts):
        return False
    if len(one.notches) != len(other.notches) or len(one.lines) != len(other.lines):
        return False
    for a, b in zip(one.edges, other.edges, strict=True):
        if a.name != b.name or len(a.path.segments) != len(b.path.segments):
            return False
        for share in (0.0, 0.25, 0.5, 0.75, 1.0):
            if (
                a.path.point_at(a.path.length * share).distance(b.path.point_at(b.path.length * share))
                > ALIKE
            ):
                return False
    points = [
        *((a.apex, b.apex) for a, b in zip(one.darts, other.darts, strict=True)),
        *((a.at, b.at) for a, b in zip(one.notches, other.notches, strict=True)),
    ]
    return all(a.distance(b) <= ALIKE for a, b in points)


def drawn_hand(piece: Piece) -> Hand | None:
    """Which half of the body a half piece is drawn for, the cloth's right side up; None where that can't be told."""
    middles = {e.name: e.path.point_at(e.path.length / 2).x for e in piece.edges}
    if "back_seam" in middles and "front_seam" in middles:
        return "right" if middles["back_seam"] < middles["front_seam"] else "left"
    words = set(re.findall(r"[a-z]+", f"{piece.name} {piece.title}".lower().replace("_", " ")))
    if ("back" in words) == ("front" in words):
        return None
    box = piece.outline.bounds()
    centre = (box.left + box.right) / 2
    middle = next((middles[n] for n in middles if any(word in n for word in _MIDDLES)), None)
    away = next((middles[n] for word in _OUTER for n in middles if word in n), None)
    if middle is None and away is None:
        return None
    away = centre if away is None else away
    middle = centre if middle is None else middle
    outwards = away > middle
    hand: Hand = "right" if ("back" in words) == outwards else "left"
    # A facing lies with its right side to the garment's, so it is the other way round.
    if is_inside(piece):
        hand = "left" if hand == "right" else "right"
    return hand


@dataclass(frozen=True, slots=True)
class Halves:
    """What two halves of a piece become.

    Attributes:
        pieces: one whole piece, or the right one and the left one.
        names: for each hand, what an edge of the half ("front.side") is called now.
        moves: for each hand, how the half was laid in its place, as a move of its points.
        remark: what the cutter must know, "" where there is nothing.
    """

    pieces: tuple[Piece, ...]
    names: Mapping[Hand, Mapping[str, str]]
    moves: Mapping[Hand, Transform]
    remark: str = ""


_STILL = Transform.translation(Point(0.0, 0.0))


def _is_even(piece: Piece) -> bool:
    """Whether a piece turned over is the same, as a pocket bag is: then it fits either side."""
    box = piece.outline.bounds()
    turned = (Point(box.left + box.right - p.x, p.y) for p in piece.outline.flatten(1.0))
    return all(piece.outline.nearest(p)[1] < 0.5 for p in turned)


def halved(right: Piece, left: Piece) -> Halves:
    """A piece for the right half of the body and one for the left, of two drafts of one piece that differ."""
    told = drawn_hand(right)
    drawn: Hand = told or "right"
    even = _is_even(right) and _is_even(left)
    remark = "" if told or even else "it can't be told which half is drawn; it is taken for the right one"
    fold = next((e.name for e in right.edges if e.fold), None)
    if right.cut.on_fold and fold is not None:
        halves = {"right": right, "left": left}
        try:
            made = _joined(halves[drawn], halves[_other(drawn)], fold, drawn)
            return replace(made, remark=remark)
        except PieceError as error:
            remark = f"its halves are cut apart, with a seam at the {fold}: {error.message}"
    return _apart(right, left, drawn, remark)


def _other(hand: Hand) -> Hand:
    return "left" if hand == "right" else "right"


def _apart(right: Piece, left: Piece, drawn: Hand, remark: str) -> Halves:
    made: dict[Hand, Piece] = {}
    names: dict[Hand, dict[str, str]] = {}
    moves: dict[Hand, Transform] = {}
    hands: tuple[tuple[Hand, Piece], ...] = (("right", right), ("left", left))
    for hand, half in hands:
        moves[hand] = _STILL if hand == drawn else FLIP
        laid = half if hand == drawn else turned_over(half)
        name = f"{half.name}_{hand}"
        count = 1 if half.cut.on_fold else max(half.cut.count // 2, 1)
        made[hand] = laid.with_changes(
            name=name,
            title=f"{half.title}, {hand}, as worn",
            cut=Cut(count, False, False, half.cut.cloth),
            edges=tuple(replace(e, fold=False) for e in laid.edges),
        )
        names[hand] = {f"{half.name}.{e.name}": f"{name}.{e.name}" for e in half.edges}
    return Halves((made["right"], made["left"]), names, moves, remark)


def _joined(drawn: Piece, other: Piece, fold: str, hand: Hand) -> Halves:
    """Both halves joined at the fold, the drawn one where it lies.

    Raises PieceError where the folds are not of one length, or not straight.
    """
    line, line_other = drawn.edge(fold).path, other.edge(fold).path
    if any(not isinstance(s, Line) for s in (*line.segments, *line_other.segments)):
        raise PieceError("the fold is not straight")
    if line.start.distance(line_other.start) > MEETS or line.end.distance(line_other.end) > MEETS:
        raise PieceError("the middle of the body is not of one length on both halves")
    flip = Transform.reflection(line.start, line.end)
    far_hand = _other(hand)
    near, far = _around(drawn, fold), _around(other, fold)
    shared = {near[0].edge.name, near[-1].edge.name}
    kept = [_renamed(s, hand, shared) for s in near]
    laid = [
        _renamed(Stretch(s.edge, s.path.transformed(flip).reversed()), far_hand, shared)
        for s in reversed(far)
    ]
    own = _of_hand(_without(contents_of(drawn), fold), hand, shared)
    turned = _of_hand(_without(contents_of(other), fold).moved(flip), far_hand, shared)
    both = own.and_also(replace(turned, grain=None))
    edges = assemble([*kept, *laid])
    middle = Path.line(line.start, line.end)
    made = both.on(drawn, edges).with_changes(
        cut=replace(drawn.cut, on_fold=False),
        marks=(*both.marks, *_words(drawn, flip, hand)),
        lines=(*both.lines, InnerLine(middle, "guide", "middle")),
        grain=own.grain,
        operations=(*drawn.operations, *(o for o in other.operations if o not in drawn.operations)),
    )
    made = fitted(made)
    check_simple(made)

    def names(half: Piece, of: Hand) -> dict[str, str]:
        return {
            f"{half.name}.{e.name}": f"{half.name}.{e.name if e.name in shared else f'{of}_{e.name}'}"
            for e in half.edges
        }

    return Halves(
        (made,),
        {hand: names(drawn, hand), far_hand: names(other, far_hand)},
        {hand: _STILL, far_hand: flip},
    )


def _words(piece: Piece, flip: Transform, hand: Hand) -> tuple[Mark, ...]:
    """“right, as worn” and “left, as worn” on the two halves of a whole piece."""
    side = max(
        (e.path.point_at(e.path.length / 2) for e in piece.edges if not e.fold),
        key=lambda p: p.distance(flip.apply(p)),
    )
    at = side.mix(flip.apply(side), 0.22)
    return (
        Mark(at, "point", f"{hand}, as worn"),
        Mark(flip.apply(at), "point", f"{_other(hand)}, as worn"),
    )


def _around(piece: Piece, fold: str) -> list[Stretch]:
    """The outline clockwise from the end of the fold to its start."""
    start = 0.0
    for edge in piece.edges:
        if edge.name == fold:
            return stretches(piece, start + edge.path.length, start)
        start += edge.path.length
    raise PieceError(f"there is no edge “{fold}”")


def _renamed(stretch: Stretch, hand: Hand, shared: set[str]) -> Stretch:
    edge: Edge = stretch.edge
    name = edge.name if edge.name in shared else f"{hand}_{edge.name}"
    return Stretch(replace(edge, name=name), stretch.path)


def _without(contents: Contents, fold: str) -> Contents:
    return replace(contents, notches=tuple(n for n in contents.notches if n.edge != fold))


def _of_hand(contents: Contents, hand: Hand, shared: set[str]) -> Contents:
    def called(edge: str) -> str:
        return edge if edge in shared or not edge else f"{hand}_{edge}"

    return replace(
        contents,
        darts=tuple(replace(d, name=f"{hand}_{d.name}", edge=called(d.edge)) for d in contents.darts),
        pleats=tuple(replace(p, name=f"{hand}_{p.name}", edge=called(p.edge)) for p in contents.pleats),
        notches=tuple(replace(n, edge=called(n.edge)) for n in contents.notches),
        points={f"{hand}_{n}": p for n, p in contents.points.items()},
    )
