"""The drawing on a style's page: every piece of a draft, side by side, with its label."""

from __future__ import annotations

from typing import TYPE_CHECKING

from catalogue.drawing.arrange import Placed, arrange, in_rows
from catalogue.drawing.bounds import BoundsCanvas, Recorder
from catalogue.drawing.labels import cut_words, drill_key, drill_words, label_lines, letters_of
from catalogue.drawing.lettering import text_width
from catalogue.drawing.paint import paint_piece
from catalogue.drawing.piece_lines import Look, drill_sign
from catalogue.drawing.svg import SvgCanvas
from catalogue.geometry import Box, Path, Point

if TYPE_CHECKING:
    from collections.abc import Mapping

    from catalogue.drafting.model import Draft

# The drawing is taken to be shown about this wide, mm; letters and lines are made to read at that size.
_SHOWN = 300.0
_SHAPE = 1.7  # width over height of the place for it on the page


def overview_scale(width: float) -> float:
    """How much larger than life to make letters and lines of a drawing `width` mm wide."""
    return min(max(width / _SHOWN, 1.0), 5.0)


def draft_svg(
    draft: Draft,
    *,
    day: str = "",
    cut_lines: Mapping[str, Path] | None = None,
    prefix: str = "",
    language: str = "en",
) -> str:
    """All pieces of a draft as one SVG at true size, in groups named by piece.

    Args:
        day: a date for the labels, as text; none is written when empty.
        cut_lines: cutting lines by piece name, in place of the draft's own.
        prefix: put before the ids of groups.
    """
    pieces = list(draft.pieces.values())
    lines = dict(draft.cut_lines if cut_lines is None else cut_lines)
    letters = letters_of(pieces)
    scale = overview_scale(_reach_across(arrange(pieces, shape=_SHAPE, cut_lines=lines)))
    look = Look(scale=0.65 * scale, filled=True, label_below=True, drill=drill_words(draft.client.units))
    drawn: list[Recorder] = []
    boxes: list[Box] = []
    for piece in pieces:
        # Drawn where it was drafted, so that what is known of its lines need not be found out again.
        own = Recorder()
        label = label_lines(piece, letters[piece.name], draft.style.title, draft.client.name, day=day)
        paint_piece(own, piece, label=label, cut_line=lines.get(piece.name), look=look)
        bounds = BoundsCanvas()
        own.replay(bounds)
        drawn.append(own)
        boxes.append(bounds.box or piece.outline.bounds())
    moves = in_rows(boxes, gap=9 * scale, shape=_SHAPE)
    box: Box | None = None
    for there, by in zip(boxes, moves, strict=True):
        moved = Box(*(there.corners[0] + by), *(there.corners[2] + by))
        box = moved if box is None else box.union(moved)
    box = (box or Box(0.0, 0.0, 100.0, 100.0)).grown(4 * scale)
    key, size = drill_key(pieces, draft.client.units), 3.0 * scale
    sign = Point(box.left + 7 * scale, box.bottom + size)
    words_at = sign + Point(5 * scale, 0.35 * size)
    if key:
        right = max(box.right, words_at[0] + text_width(key, size))
        box = Box(box.left, box.top, right, box.bottom + 3 * size)
    named = "; ".join(f"{letters[p.name]} {p.title}, {cut_words(p.cut).lower()}" for p in pieces)
    canvas = SvgCanvas(
        box,
        title=f"{draft.style.title} for {draft.client.name}",
        description=f"Pattern pieces at true size: {named}." if pieces else "No piece was drafted.",
        weight=max(1.0, 0.62 * scale),
        prefix=prefix,
        language=language,
    )
    for own, by in zip(drawn, moves, strict=True):
        canvas.shift = by
        own.replay(canvas)
    if key:
        canvas.shift = Point(0.0, 0.0)
        canvas.open_group("key", kind="key")
        drill_sign(canvas, sign, look.scale)
        canvas.text(words_at, key, size)
        canvas.close_group()
    return canvas.tostring()


def _reach_across(placed: list[Placed]) -> float:
    """How wide the pieces are together, laid as they are."""
    boxes = [(p.piece.outline.bounds(), p.move) for p in placed]
    return max(b.right + m.e for b, m in boxes) - min(b.left + m.e for b, m in boxes) if boxes else 100.0
