"""Small things on a garment in a flat drawing: welts, the strap at the back of a waistcoat, tabs of a cape."""

from __future__ import annotations

from collections.abc import Sequence

from catalogue.drafting.model import Draft
from catalogue.drawing.assembly import Half
from catalogue.drawing.body_outline import BREADTH
from catalogue.drawing.hanging import strip_height
from catalogue.drawing.patch import Polyline
from catalogue.drawing.pieces_worn import words_of
from catalogue.drawing.view import View
from catalogue.geometry import Point
from catalogue.pattern import Piece

_LIPS = 7.0  # mm that the two lips of a pocket show together, where no welt is cut for it
_BUCKLE = 0.8  # of the width of a strap that its buckle is long


def shown_on(words: str, left: bool) -> bool:
    """Whether what a line says lies on a side of the body: on both, unless it says “left only” or “right only”."""
    said = words_of(words)
    return "only" not in said or ("left" in said) == left


def welt(draft: Draft, words: str, seam: Polyline) -> Polyline:
    """A welt that stands up from its line, as wide as it is cut; `words` are those of the line, “welt” and its name.

    Where no piece has a welt in its name, the narrow lips of a pocket.
    """
    named = [
        p for p in draft.pieces.values() if "welt" in words_of(p.name, p.title) and p.cut.cloth == "main"
    ]
    named.sort(key=lambda p: -len(words_of(p.name, p.title) & words_of(words)))
    high = strip_height(named[0]) if named else _LIPS
    start, end = sorted((seam[0], seam[-1]), key=lambda p: p.x)
    up = Point(0.0, -high)
    return [start, end, end + up, start + up]


def has_elastic(piece: Piece) -> bool:
    """Whether a line on a band says that elastic is drawn into it."""
    return any("elastic" in words_of(line.text) for line in piece.lines)


def back_strap(view: View, draft: Draft, halves: Sequence[Half]) -> None:
    """A strap across the back, from the lines “strap” at both sides, with its buckle in the middle."""
    lines = [line for one in halves for patch in one.patches for kind, line in patch.lines if kind == "strap"]
    pieces = [
        p for p in draft.pieces.values() if "strap" in words_of(p.name, p.title) and p.cut.cloth == "main"
    ]
    if not lines or not pieces:
        return
    out = max(max(p.x for p in line) for line in lines)
    inner = min(min(p.x for p in line) for line in lines)
    level = sum(p.y for line in lines for p in line) / sum(len(line) for line in lines)
    high = strip_height(pieces[0])
    up, low = level - high / 2, level + high / 2
    view.shape([Point(-out, up), Point(out, up), Point(out, low), Point(-out, low)])
    for x in (inner, -inner):  # sewn down from here to the side
        view.line([Point(x, up), Point(x, low)], "stitch")
    wide = _BUCKLE * high * BREADTH
    view.shape([Point(-wide, up - 3), Point(wide, up - 3), Point(wide, low + 3), Point(-wide, low + 3)])
    view.line([Point(0.0, up - 3), Point(0.0, low + 3)])


def tabs(view: View, draft: Draft, levels: Sequence[float]) -> None:
    """Tabs across the middle of the front, at the levels of their buttons, one button at each end."""
    pieces = [
        p for p in draft.pieces.values() if "tab" in words_of(p.name, p.title) and p.cut.cloth == "main"
    ]
    if not pieces:
        return
    box = pieces[0].outline.bounds()
    half, high = max(box.width, box.height) / 2 * BREADTH, min(box.width, box.height)
    for level in levels:
        up, low = level - high / 2, level + high / 2
        view.shape([Point(-half, up), Point(half, up), Point(half, low), Point(-half, low)])
        view.buttons += [Point(x, level) for x in (-half + high / 2, half - high / 2)]
