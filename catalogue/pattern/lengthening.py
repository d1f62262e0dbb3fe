"""Wedges folded out, and pieces made longer or shorter at a line."""

from __future__ import annotations

from catalogue.geometry import Path, Point
from catalogue.pattern.making import PieceError
from catalogue.pattern.parting import inner_line
from catalogue.pattern.piece import Piece
from catalogue.pattern.ring import edge_at, place
from catalogue.pattern.spreading import Slash, lap, spread
from catalogue.pattern.truing import straighten


def lengthen(piece: Piece, line: Path, by: float) -> Piece:
    """Make a piece longer by `by` mm across a straight line (below nought: shorter).

    Raises:
        PieceError: the line misses the piece, runs through a dart, or more is taken out than there is.
    """
    return spread(piece, [Slash(line, by, by)])


def fold_out(piece: Piece, at: Point, amount: float, to: Point) -> Piece:
    """Fold a wedge out of the paper: `amount` mm at one point of the outline, nothing at another.

    The wedge is measured half above and half below the first point; its two sides are equally long, so the area it
    takes is half the amount times its length. The edge it is folded at is redrawn straight if it was straight.

    Raises:
        PieceError: a point lies off the outline, or the wedge is wider than the edge.
    """
    s = place(piece, at)
    edge = edge_at(piece, s)
    if edge.path.nearest(at)[1] > 0.5:
        edge = min(piece.edges, key=lambda e: e.path.nearest(at)[1])
    middle = edge.path.nearest(at)[0]
    half = amount / 2
    if amount <= 0 or middle - half < -1e-6 or middle + half > edge.path.length + 1e-6:
        raise PieceError(
            f"a wedge of {amount / 10:.1f} cm does not fit on the edge “{edge.name}” there",
            "Make it smaller or move it.",
        )
    was_straight = edge.path.length - edge.path.start.distance(edge.path.end) < 1e-6
    first = edge.path.point_at(max(middle - half, 0.0))
    second = edge.path.point_at(min(middle + half, edge.path.length))
    hinge = piece.outline.point_at(place(piece, to))
    reach = min(first.distance(hinge), second.distance(hinge))
    if reach < amount:
        raise PieceError("the wedge is wider than it is long")
    # Equal sides: the point nearer the hinge stays, the other is brought to the same distance along the edge.
    line, other = inner_line(piece, Path.line(first, hinge)), inner_line(piece, Path.line(second, hinge))
    away = (second - first).unit()
    made = lap(piece, line, other, amount, 0.0, away)
    if was_straight:
        made = straighten(made, edge.name)
    return made
