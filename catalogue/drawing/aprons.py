"""An apron as it is worn: a front alone, which goes round to the back at its sides, with straps that cross there."""

from __future__ import annotations

from catalogue.drafting.model import Draft
from catalogue.drawing.assembly import half
from catalogue.drawing.body_outline import BREADTH, BodyOutline
from catalogue.drawing.hanging import strip_height
from catalogue.drawing.laying import held
from catalogue.drawing.patch import Patch, Polyline
from catalogue.drawing.pieces_worn import (
    BACK,
    FRONT,
    NotTogetherError,
    is_sleeve,
    is_strip,
    titles_of,
    view_of,
    words_of,
    worn,
)
from catalogue.drawing.pockets import pockets_on
from catalogue.drawing.view import View
from catalogue.geometry import Point

_ROOM = 10.0  # mm round a quarter of the body before an apron goes behind it


def apron_views(draft: Draft, body: BodyOutline, quarter: float) -> tuple[View, View] | None:
    """Front and back of a garment that has a front on the fold and no back; None for anything else.

    Args:
        quarter: of what the body measures round hip or waist, mm.
    """
    cloth = [p for p in worn(draft) if not is_sleeve(p) and not is_strip(p)]
    fronts = [p for p in cloth if view_of(p) == FRONT]
    if len(fronts) != 1 or any(view_of(p) == BACK for p in cloth) or not any(e.fold for e in fronts[0].edges):
        return None
    if {"armhole", "crotch", "shoulder"} & {e.name for e in fronts[0].edges}:
        return None
    levels = [line.path.start.y for line in fronts[0].lines if "waist" in words_of(line.text)]
    if not levels:
        raise NotTogetherError(
            f"{titles_of(fronts)} has no guide line called “waist” that says where it lies on the body"
        )
    waist = levels[0]
    (patch,) = half(draft, FRONT).patches
    patch = patch.moved(lambda p: Point(p.x, p.y - waist))
    side = quarter + _ROOM
    before = patch.moved(lambda p: Point(min(p.x, side) * BREADTH, p.y))
    straps = [
        p for p in draft.pieces.values() if p.cut.cloth == "main" and "strap" in words_of(p.name, p.title)
    ]
    wide = strip_height(straps[0]) * BREADTH if straps else 0.0
    bib = max(before.outline, key=lambda p: p.x - 3 * p.y)
    over = Point(0.85 * bib.x, body.on_shoulder(0.85 * bib.x))
    front, back = View(), View()
    for turn in (1, -1):
        _add(front, before, turn)
        behind = _behind(patch, side)
        if behind:
            back.shape([Point(p.x * turn, p.y) for p in behind])
            if wide:
                foot = _strap_end(patch, side, behind)
                low = [
                    Point(-foot.x + wide / 2, foot.y + wide / 2),
                    Point(-foot.x - wide / 2, foot.y + wide / 2),
                ]
                back.shape([Point(p.x * turn, p.y) for p in (over, over + Point(wide, 0.0), *low)])
        if wide:
            strap = [
                over,
                over + Point(wide, 0.0),
                Point(bib.x, bib.y + 4.0),
                Point(bib.x - wide, bib.y + 4.0),
            ]
            front.shape([Point(p.x * turn, p.y) for p in strap])
        back.buttons += [Point((2 * side - b.x) * BREADTH * turn, b.y) for b in patch.buttons if b.x > side]
    for pocket, _ in pockets_on(draft, [before]):
        front.shape(pocket)
    return front, back


def _add(view: View, patch: Patch, turn: int) -> None:
    def turned(line: Polyline) -> Polyline:
        return [Point(p.x * turn, p.y) for p in line]

    view.fill(turned(patch.outline))
    for name, edge in patch.edges.items():
        if name not in patch.folds:
            view.line(turned(edge))
    for kind, line in patch.lines:
        view.line(turned(line), kind if kind in ("stitch", "gather") else "dart")


def _strap_end(patch: Patch, side: float, behind: Polyline) -> Point:
    """Where a strap is fastened behind: at the button there, or else at the upper corner."""
    buttons = [Point((2 * side - b.x) * BREADTH, b.y) for b in patch.buttons if b.x > side]
    return buttons[0] if buttons else min(behind, key=lambda p: p.y + 0.2 * p.x)


def _behind(patch: Patch, side: float) -> Polyline:
    """What of half the apron goes round to the back, as it is seen there; empty when nothing does."""
    ring = [*patch.outline, patch.outline[0]]
    far = held(ring, lambda p: p.x - side)
    return [Point((2 * side - p.x) * BREADTH, p.y) for p in far] if len(far) > 2 else []
