"""Patch pockets, drawn where the marks of their upper corners lie."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from catalogue.drafting.model import Draft
from catalogue.drawing.body_outline import BREADTH
from catalogue.drawing.patch import Patch, Polyline, patch_of
from catalogue.drawing.pieces_worn import words_of
from catalogue.geometry import Point
from catalogue.pattern import Piece

_NOT_ON_TOP = {"bag", "facing", "welt", "flap", "jet", "front", "back", "lining", "interfacing"}


def pockets_on(draft: Draft, patches: Sequence[Patch]) -> Iterator[tuple[Polyline, str]]:
    """Each pocket as a closed shape on a half that lies to the right of the middle, and the one side it is on, if one.

    A pocket cut on the fold has its middle at the middle of the body and one mark; any other has two.
    """
    cut = [p for p in draft.pieces.values() if p.cut.cloth == "main"]
    pieces = [
        p
        for p in cut
        if "pocket" in words_of(p.name, p.title) and not words_of(p.name, p.title) & _NOT_ON_TOP
    ]
    for patch in patches:
        marks = patch.pockets
        if not pieces or not marks:
            continue
        words = " ".join(text for text, _ in marks).split()
        only = next((hand for hand in ("left", "right") if hand in words and "only" in words), "")
        spots = sorted((p for _, p in marks), key=lambda p: p.x)
        if len(spots) == 1:
            spots = [Point(-spots[0].x, spots[0].y), spots[0]]
        if len(spots) == 2 and spots[1].x - spots[0].x > 20:
            yield _between(pieces[0], *_as_wide(pieces[0], spots[0], spots[1])), only


def _as_wide(piece: Piece, left: Point, right: Point) -> tuple[Point, Point]:
    """The corners of a pocket; on cloth that is gathered they lie close together, but the pocket is flat."""
    box = piece.outline.bounds()
    wide = BREADTH * (box.width if not any(e.fold for e in piece.edges) else 2 * box.width)
    if right.x - left.x > 0.9 * wide:
        return left, right
    middle = left.mix(right, 0.5)
    return middle - Point(wide / 2, 0.0), middle + Point(wide / 2, 0.0)


def _between(piece: Piece, left: Point, right: Point) -> Polyline:
    """The outline of a pocket between its upper corners, as deep as it is cut."""
    ring = patch_of(piece).outline
    folds = [p.x for e in piece.edges if e.fold for p in (e.path.start, e.path.end)]
    if folds:
        middle = min(folds)
        # From the middle round to the middle again, and back the same way on the other side.
        start = max(range(len(ring)), key=lambda n: (abs(ring[n].x - middle) < 0.5, -ring[n].y))
        ring = [*ring[start:], *ring[:start]]
        ring = [p for n, p in enumerate(ring) if n == 0 or abs(p.x - middle) > 0.5]
        ring = [*ring, *(Point(2 * middle - p.x, p.y) for p in reversed(ring))]
    low, high = min(p.x for p in ring), max(p.x for p in ring)
    top = min(p.y for p in ring)
    way = right - left
    return [left + way * ((p.x - low) / (high - low)) + Point(0.0, p.y - top) for p in ring]
