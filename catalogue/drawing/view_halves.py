"""A garment whose two halves differ, drawn of the halves of two views: that of the right half and that of the left."""

from __future__ import annotations

from itertools import pairwise

from catalogue.drawing.patch import Polyline
from catalogue.drawing.view import View
from catalogue.geometry import Point

MIDDLE = 0.01
"""mm from the middle within which a line lies on it; such a line is taken from the right half."""


def of_two_halves(right: View, left: View, from_behind: bool) -> View:
    """One view of two, each of which shows its half on both sides of the middle.

    The wearer's right is on the left of the drawing in front, and on the right of it from behind.
    """
    made = View()
    for view, side in ((right, 1.0 if from_behind else -1.0), (left, -1.0 if from_behind else 1.0)):
        for kind, line, closed in view.strokes:
            if closed and kind != "seam":
                kept = filled(line, side)
                if len(kept) > 2:
                    made.strokes.append((kind, kept, True))
                continue
            for part in cut([*line, line[0]] if closed else line, side):
                if view is right or any(abs(p.x) > MIDDLE for p in part):
                    made.strokes.append((kind, part, False))
        made.buttons += [
            b for b in view.buttons if b.x * side > MIDDLE or (view is right and abs(b.x) <= MIDDLE)
        ]
    return made


def filled(ring: Polyline, side: float) -> Polyline:
    """The part of a closed shape on one side of the middle, closed along it."""
    found: Polyline = []
    for a, b in pairwise([*ring, ring[0]]):
        if a.x * side >= 0:
            found.append(a)
        if a.x * b.x < 0:
            found.append(_at_the_middle(a, b))
    return found


def cut(line: Polyline, side: float) -> list[Polyline]:
    """The parts of a line on one side of the middle."""
    parts: list[Polyline] = [[]]
    for n, p in enumerate(line):
        if n and line[n - 1].x * p.x < 0:
            parts[-1].append(_at_the_middle(line[n - 1], p))
            if p.x * side < 0:
                parts.append([])
        if p.x * side >= -MIDDLE:
            parts[-1].append(p)
        elif parts[-1]:
            parts.append([])
    return [part for part in parts if len(part) > 1]


def _at_the_middle(a: Point, b: Point) -> Point:
    return Point(0.0, a.mix(b, a.x / (a.x - b.x)).y)
