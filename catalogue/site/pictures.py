"""Pictures of a style made from its own pieces, for cards and headings, as files of their own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from markupsafe import escape

from catalogue.drafting import Draft
from catalogue.drawing.flat import garment_svg
from catalogue.drawing.markup import tenths, view_box
from catalogue.drawing.page_svg import elements, piece_strokes
from catalogue.drawing.piece_lines import Look
from catalogue.geometry import Box, Path, Transform
from catalogue.pattern import Piece

# A picture is an image of its own, so the page's style sheet doesn't reach it: it brings the few rules it needs.
_STYLE = (
    "path{fill:none;stroke:#231f1a;vector-effect:non-scaling-stroke;stroke-width:1.3;stroke-linejoin:round}"
    ".face{fill:#fffdf8;stroke:none}.fold{stroke-dasharray:9 2.5 2 2.5}.dart,.inner{stroke-width:.9}"
    ".grain{stroke-width:.8;stroke:#6b6152}.head{fill:#6b6152;stroke:none}"
    "@media(prefers-color-scheme:dark){path{stroke:#ece5d8}.face{fill:#34302a}.grain{stroke:#b3a998}.head{fill:#b3a998}}"
)

SHOWN, SIGN = 300.0, 1.4
"""Width that a picture is taken to be shown at, and what a millimetre of an arrow head is drawn as then, px."""


def draft_picture(draft: Draft) -> str:
    """The picture beside a draft's page (`PICTURE`): the garment, or else its pieces; "" when it has none."""
    if not draft.pieces:
        return ""
    flat = garment_svg(draft) if draft.style.flat else None
    return flat or pieces_picture(list(draft.pieces.values()), f"Pieces of {draft.style.title}")


def pieces_picture(pieces: Sequence[Piece], title: str) -> str:
    """An SVG file of the pieces side by side, all at one scale; a piece on the fold is shown opened out.

    Args:
        pieces: pieces to show; an empty sequence gives an empty sheet.
        title: what the picture shows, for screen readers.
    """
    folds = [_opening(p) for p in pieces]
    boxes = [_reach(p, fold) for p, fold in zip(pieces, folds, strict=True)]
    rows = _rows(boxes)
    gap = _gap(boxes)
    places: list[tuple[int, float, float]] = []
    top = width = 0.0
    for row in rows:
        left = 0.0
        tallest = max(boxes[n].height for n in row)
        for n in row:
            box = boxes[n]
            places.append((n, left - box.left, top + (tallest - box.height) / 2 - box.top))
            left += box.width + gap
        width = max(width, left - gap)
        top += tallest + gap
    height = max(top - gap, 1.0)
    frame = Box(0, 0, max(width, 1.0), height).grown(gap / 2)
    scale = SIGN * frame.width / SHOWN
    out = [
        f'<g transform="translate({tenths(dx)} {tenths(dy)})"><title>{escape(pieces[n].title)}</title>'
        f"{_drawn(pieces[n], folds[n], scale)}</g>"
        for n, dx, dy in places
    ]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view_box(frame)}" role="img">'
        f"<title>{escape(title)}</title><style>{_STYLE}</style>{''.join(out)}</svg>\n"
    )


def _opening(piece: Piece) -> Transform | None:
    """The reflection that opens a piece out at its fold; None where it has no straight fold."""
    for edge in piece.edges:
        if piece.cut.on_fold and edge.fold and _is_straight(edge.path):
            return Transform.reflection(edge.path.start, edge.path.end)
    return None


def _is_straight(path: Path) -> bool:
    return abs(path.length - path.start.distance(path.end)) < 0.01


def _reach(piece: Piece, fold: Transform | None) -> Box:
    box = piece.outline.bounds()
    return box if fold is None else box.union(Box.around([fold.apply(c) for c in box.corners]))


def _drawn(piece: Piece, fold: Transform | None, scale: float) -> str:
    look = Look(scale=scale, filled=True, fold_marks=False, signs=False)
    lines = elements(piece_strokes(piece, look))
    if fold is None:
        return lines
    matrix = " ".join(f"{value:.6g}" for value in fold)
    other = elements(piece_strokes(piece, replace(look, grain=False)))
    return f'<g transform="matrix({matrix})">{other}</g>{lines}'


def _gap(boxes: Sequence[Box]) -> float:
    return max((max(b.width, b.height) for b in boxes), default=100.0) * 0.07


def _rows(boxes: Sequence[Box]) -> list[list[int]]:
    """Pieces in rows, tall ones first, so that the whole comes near four to three."""
    order = sorted(range(len(boxes)), key=lambda n: -boxes[n].height)
    gap = _gap(boxes)
    best: list[list[int]] = [order] if order else []
    least = float("inf")
    for limit in (sum(b.width + gap for b in boxes) / count for count in (1, 1.5, 2, 2.5, 3, 4)):
        rows: list[list[int]] = []
        used = 0.0
        for n in order:
            if not rows or used + boxes[n].width > limit * 1.001:
                rows.append([])
                used = 0.0
            rows[-1].append(n)
            used += boxes[n].width + gap
        width = max((sum(boxes[n].width + gap for n in row) for row in rows), default=1.0)
        height = sum(max(boxes[n].height for n in row) + gap for row in rows) or 1.0
        wrong = max(width / height / (4 / 3), (4 / 3) * height / width)
        if wrong < least:
            best, least = rows, wrong
    return best
