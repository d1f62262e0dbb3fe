"""Pieces laid side by side for one drawing: tidy rows, nothing overlapping."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from catalogue.geometry import Box, Path, Point, Transform
from catalogue.pattern import Piece

_SHORT = 0.55
"""Share of the tallest piece's height below which a piece is short."""

_STACKS = (1.0, 1.25, 1.6)
"""How high short pieces may be stacked, as shares of the tallest piece's height."""


class Placed(NamedTuple):
    """A piece and the rigid movement that takes it to its place."""

    piece: Piece
    move: Transform

    def moved(self) -> Piece:
        """The piece at its place."""
        return moved_piece(self.piece, self.move)


def moved_piece(piece: Piece, move: Transform) -> Piece:
    """A piece and everything drawn on it, moved and turned (`move` must not reflect)."""
    at = move.apply
    turned = move.apply_vector(Point(1.0, 0.0)).angle
    return replace(
        piece,
        edges=tuple(replace(e, path=e.path.moved(move)) for e in piece.edges),
        grain=None if piece.grain is None else (at(piece.grain[0]), at(piece.grain[1])),
        darts=tuple(
            replace(
                d,
                apex=at(d.apex),
                legs=(at(d.legs[0]), at(d.legs[1])),
                tip=None if d.tip is None else at(d.tip),
                far_apex=None if d.far_apex is None else at(d.far_apex),
            )
            for d in piece.darts
        ),
        notches=tuple(replace(n, at=at(n.at)) for n in piece.notches),
        marks=tuple(replace(m, at=at(m.at), angle=m.angle + turned) for m in piece.marks),
        lines=tuple(replace(line, path=line.path.moved(move)) for line in piece.lines),
        points={name: at(p) for name, p in piece.points.items()},
    )


def arrange(
    pieces: Sequence[Piece],
    *,
    gap: float = 30.0,
    shape: float = 1.5,
    cut_lines: Mapping[str, Path] | None = None,
) -> list[Placed]:
    """Lay pieces in rows, unturned: the tall ones in their order, then the short ones, under one another.

    Args:
        gap: mm between pieces.
        shape: width over height of the space the drawing is shown in.
        cut_lines: the cutting line of each piece, by name, where it has one.
    """
    boxes = [_reach(p, cut_lines or {}) for p in pieces]
    return [
        Placed(piece, Transform.translation(by))
        for piece, by in zip(pieces, in_rows(boxes, gap=gap, shape=shape), strict=True)
    ]


def in_rows(boxes: Sequence[Box], *, gap: float, shape: float) -> list[Point]:
    """How far to move each box so that they lie in rows, as `arrange` lays pieces."""
    if not boxes:
        return []
    tallest = max(b.height for b in boxes)
    order = sorted(range(len(boxes)), key=lambda i: boxes[i].height < _SHORT * tallest)
    ranged = [boxes[i] for i in order]
    broadest = max(b.width for b in boxes)
    widths = sorted(
        {max(sum(b.width + gap for b in ranged[:i]) - gap, broadest) for i in range(1, len(boxes) + 1)}
    )
    best, least = [Point(0.0, 0.0)] * len(boxes), math.inf
    for more in _STACKS:
        for wide in widths:
            found = _rows(ranged, gap, wide, tallest * more, shape, least)
            if found:
                best, least = found
    moves = dict(
        zip(order, (at - Point(b.left, b.top) for b, at in zip(ranged, best, strict=True)), strict=True)
    )
    return [moves[i] for i in range(len(boxes))]


def _reach(piece: Piece, cut_lines: Mapping[str, Path]) -> Box:
    line = cut_lines.get(piece.name)
    box = piece.outline.bounds()
    return box.union(line.bounds()) if line else box


def _rows(
    boxes: Sequence[Box], gap: float, width: float, tall: float, shape: float, below: float
) -> tuple[list[Point], float] | None:
    """The top left corner of each box when rows may be `width` mm wide and `tall` mm high.

    Also how far the drawing must then be shrunk to be shown; None as soon as that comes to `below`.
    """
    corners: list[Point] = []
    row_top = row_low = x = y = broad = shrunk = 0.0  # y: where the next box of the column may begin
    for left, top, right, bottom in boxes:
        wide, high = right - left, bottom - top
        if corners and y > row_top and y + high <= row_top + tall + 1e-6 and x + wide <= width + 1e-6:
            broad = max(broad, wide)
        else:
            x += broad + gap if corners else 0.0
            if corners and x + wide > width + 1e-6:
                x, row_top = 0.0, row_low + gap
            y, broad = row_top, wide
        corners.append(Point(x, y))
        y += high
        row_low = max(row_low, y)
        shrunk = max(shrunk, (x + wide) / shape, y)
        if shrunk >= below:
            return None
        y += gap
    return corners, shrunk
