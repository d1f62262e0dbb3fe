"""Grain lines: where on a piece one is drawn."""

from __future__ import annotations

from catalogue.geometry import Path, Point, contains, crossings
from catalogue.pattern.piece import Piece

INSET = 0.15
"""Share of the paper's length along the grain that is left free at each end of the line."""

SHORTEST = 20.0
"""mm: a stretch of paper shorter than this holds no grain line."""


def grain_through(piece: Piece, way: Point) -> tuple[Point, Point]:
    """A grain line in direction `way` (a unit vector) through the middle of the paper, inside it.

    Where the middle is hollow the line moves sideways until it finds paper.
    """
    box = piece.outline.bounds()
    middle = Point(box.left + box.width / 2, box.top + box.height / 2)
    reach = box.width + box.height
    across = box.width if abs(way.y) > 0.7 else box.height
    for shift in (0.0, 0.15, -0.15, 0.3, -0.3, 0.4, -0.4):
        through = middle + way.normal() * (shift * across)
        line = Path.line(through - way * reach, through + way * reach)
        marks = [c.on_first for c in crossings(line, piece.outline)]
        spans = sorted(zip(marks[::2], marks[1::2], strict=False), key=lambda s: s[0] - s[1])
        if spans and spans[0][1] - spans[0][0] > SHORTEST:
            s0, s1 = spans[0]
            inset = (s1 - s0) * INSET
            return line.point_at(s0 + inset), line.point_at(s1 - inset)
    return middle - way * (SHORTEST / 2), middle + way * (SHORTEST / 2)


def kept_grain(before: Piece, after: Piece, own: tuple[Point, Point] | None) -> tuple[Point, Point] | None:
    """The grain of paper that was worked on: `own` where it still lies on it, else drawn anew as it ran before."""
    if own is not None and all(contains(after.outline, p, 0.5) for p in own):
        return own
    if before.grain is None:
        return upright(after)
    return grain_through(after, (before.grain[1] - before.grain[0]).unit())


def upright(piece: Piece) -> tuple[Point, Point]:
    """The grain of a piece that says none: straight down."""
    return grain_through(piece, Point(0.0, 1.0))
