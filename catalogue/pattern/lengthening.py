"""Wedges folded out, and pieces made longer or shorter at a line."""

from __future__ import annotations

import math

from catalogue.geometry import Path, Point, Transform, crossings
from catalogue.lengths import held
from catalogue.pattern.making import PieceError
from catalogue.pattern.parting import inner_line, take, which_moves
from catalogue.pattern.piece import Edge, Piece
from catalogue.pattern.ring import edge_at, place
from catalogue.pattern.spreading import Slash, lap, spread
from catalogue.pattern.truing import straighten


def lengthen(piece: Piece, line: Path, by: float) -> Piece:
    """Make a piece longer by `by` mm across a straight line (negative: shorter).

    Raises:
        PieceError: the line misses the piece, runs through a dart, or more is taken out than there is.
    """
    return spread(piece, [Slash(line, by, by)])


def fold_out(piece: Piece, at: Point, amount: float, to: Point) -> Piece:
    """Fold a wedge out of the paper and redraw the edge it is folded at straight, if it was straight.

    Raises PieceError as `folded` does.
    """
    edge = _edge_at(piece, at)
    straight = edge.path.length - edge.path.start.distance(edge.path.end) < 1e-6
    made = folded(piece, at, amount, to)
    return straighten(made, edge.name) if straight else made


def _edge_at(piece: Piece, at: Point) -> Edge:
    edge = edge_at(piece, place(piece, at))
    return edge if edge.path.nearest(at)[1] < 0.5 else min(piece.edges, key=lambda e: e.path.nearest(at)[1])


def folded(piece: Piece, at: Point, amount: float, to: Point) -> Piece:
    """A wedge folded out of the paper: `amount` mm at one point of the outline, nothing at another.

    Its middle is the straight line between the two points and its sides are equally long, so the area it takes is
    half the amount times its length. The part with the fold stays, else the one with the grain line, else the larger.
    Darts that it runs through are trued again.

    Raises:
        PieceError: a point lies off the outline, or the wedge is wider than the edge.
    """
    edge = _edge_at(piece, at)
    at = edge.path.point_at(edge.path.nearest(at)[0])
    hinge = piece.outline.point_at(place(piece, to))
    length = at.distance(hinge)
    if amount <= 0:
        raise PieceError("a wedge must be wider than 0")
    if length < amount:
        raise PieceError("the wedge is wider than it is long", "Give its point farther away.", at)
    half = math.degrees(math.atan2(amount / 2, length))
    sides = [_side(edge, hinge, at, turn) for turn in (half, -half)]
    if any(p is None for p in sides):
        raise PieceError(
            f"a wedge of {held(amount)} does not fit on the edge “{edge.name}” there",
            "Make it smaller, or move it away from the corner.",
            at,
        )
    first, second = sorted((p for p in sides if p is not None), key=lambda p: edge.path.nearest(p)[0])
    one, other = (Path.line(p, hinge) for p in (first, second))
    for line in (one, other):
        inner = inner_line(piece, line)
        if inner.length < line.length - 1.0:
            raise PieceError("the wedge leaves the piece", "Give its point where the paper is whole.", at)
    turn = math.degrees(
        math.atan2((second - hinge).cross(first - hinge), (second - hinge).dot(first - hinge))
    )
    # Clockwise the outline runs from the second side to the hinge, and from the hinge to the first side.
    after = take(piece, place(piece, second), place(piece, hinge), other.reversed(), _names(piece))
    before = take(piece, place(piece, hinge), place(piece, first), one, _names(piece))
    if which_moves(before, after):
        return lap(piece, one, other, Transform.rotation(turn, hinge), second - first)
    return lap(piece, other, one, Transform.rotation(-turn, hinge), first - second)


def _names(piece: Piece) -> set[str]:
    """Every dart: which part is the larger does not depend on them."""
    return {d.name for d in piece.darts}


def _side(edge: Edge, hinge: Point, at: Point, turn: float) -> Point | None:
    """Where one side of a wedge meets the edge: the middle line turned about the hinge; None where it misses."""
    ray = (at - hinge).turned(turn)
    found = crossings(Path.line(hinge + ray * 0.2, hinge + ray * 3.0), edge.path)
    return min((c.point for c in found), key=at.distance, default=None)
