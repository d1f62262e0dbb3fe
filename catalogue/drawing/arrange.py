"""Pieces laid side by side for one drawing: tidy rows, nothing overlapping."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import sqrt
from typing import NamedTuple

from catalogue.geometry import Box, Path, Point, Transform
from catalogue.pattern import Piece


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
        edges=tuple(replace(e, path=e.path.transformed(move)) for e in piece.edges),
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
        lines=tuple(replace(line, path=line.path.transformed(move)) for line in piece.lines),
        points={name: at(p) for name, p in piece.points.items()},
    )


def arrange(
    pieces: Sequence[Piece],
    *,
    gap: float = 30.0,
    width: float | None = None,
    cut_lines: dict[str, Path] | None = None,
) -> list[Placed]:
    """Lay pieces in rows, in their order, unturned.

    Args:
        gap: mm between pieces.
        width: mm a row may take; None for rows that make the whole about 3 : 2.
        cut_lines: the cutting line of each piece, by name, where it has one.
    """
    boxes = [_reach(p, cut_lines) for p in pieces]
    if not boxes:
        return []
    limit = width if width is not None else _good_width(boxes, gap)
    placed: list[Placed] = []
    x = y = tall = 0.0
    for piece, box in zip(pieces, boxes, strict=True):
        if x > 0.0 and x + box.width > limit:
            x, y, tall = 0.0, y + tall + gap, 0.0
        placed.append(Placed(piece, Transform.translation(Point(x - box.left, y - box.top))))
        x += box.width + gap
        tall = max(tall, box.height)
    return placed


def _reach(piece: Piece, cut_lines: dict[str, Path] | None) -> Box:
    line = (cut_lines or {}).get(piece.name)
    box = piece.outline.bounds()
    return box.union(line.bounds()) if line else box


def _good_width(boxes: Sequence[Box], gap: float) -> float:
    """The row width, among those where a row ends, that brings the whole nearest to 3 : 2."""
    widest = max(b.width for b in boxes)
    ends = [0.0]
    for box in boxes:
        ends.append(ends[-1] + box.width + gap)
    area = sum((b.width + gap) * (b.height + gap) for b in boxes)
    wanted = max(widest, sqrt(1.5 * area))
    choices = {e - s - gap for i, s in enumerate(ends) for e in ends[i + 1 :] if e - s - gap >= widest - 1e-6}

    def rating(width: float) -> tuple[float, float]:
        rows, x, tall, total, broad = 1, 0.0, 0.0, 0.0, 0.0
        for box in boxes:
            if x > 0.0 and x + box.width > width + 1e-6:
                total, x, tall, rows = total + tall + gap, 0.0, 0.0, rows + 1
            x += box.width + gap
            broad, tall = max(broad, x - gap), max(tall, box.height)
        return (abs(broad / max(total + tall, 1.0) - 1.5), abs(width - wanted))

    return min(sorted(choices), key=rating) + 1e-6
