"""A whole piece moved, turned or turned over where it lies on its paper; nothing of it changes but its place."""

from __future__ import annotations

from dataclasses import replace

from catalogue.geometry import Transform
from catalogue.pattern.contents import contents_of
from catalogue.pattern.piece import Piece


def moved(piece: Piece, by: Transform, turns_over: bool = False) -> Piece:
    """The piece with everything on it carried by a rigid move.

    Args:
        turns_over: the move is a reflection, so the outline runs the other way round and is drawn clockwise again.
    """
    edges = tuple(replace(e, path=e.path.transformed(by)) for e in piece.edges)
    if turns_over:
        edges = tuple(replace(e, path=e.path.reversed()) for e in reversed(edges))
    contents = contents_of(piece).moved(by)
    return contents.on(piece, edges).with_changes(grain=contents.grain)
