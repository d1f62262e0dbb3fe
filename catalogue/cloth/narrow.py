"""Pieces that are wider than their cloth: which, by how much, and what can be done."""

from __future__ import annotations

from dataclasses import replace
from math import ceil, hypot
from typing import NamedTuple

from catalogue.cloth.lay import across, cut_shapes
from catalogue.cloth.words import width_in, width_of, width_words
from catalogue.drafting import Draft
from catalogue.drawing.labels import cloth_words
from catalogue.findings import Finding, Place, Severity
from catalogue.lengths import Unit, Units, show_length


class TooWide(NamedTuple):
    """A piece that is wider than its cloth.

    Attributes:
        piece: its name.
        cloth: what it is cut from, "main" or as the style names it.
        across: mm that one cut takes across the cloth, its grain along it, opened out at the fold.
        width: mm of the cloth.
    """

    piece: str
    cloth: str
    across: float
    width: float


def too_wide(draft: Draft) -> tuple[TooWide, ...]:
    """The pieces that do not fit across a cloth whose width the style states; none of a draft with an error."""
    stated = ((use, width_in(words)) for use, words in draft.style.cloth)
    widths = {use: width for use, width in stated if width is not None}
    if not widths or draft.missing or any(f.is_error for f in draft.findings):
        return ()
    found = []
    for piece in draft.pieces.values():
        width = widths.get(piece.cut.cloth)
        if width is not None:
            line = draft.cut_lines.get(piece.name, piece.outline)
            box = line.bounds()
            # Most pieces fit whichever way their grain lies, so they need not be turned and opened out.
            if hypot(box.width, box.height) * (2 if piece.cut.on_fold else 1) <= width:
                continue
            most = max(map(across, cut_shapes(piece, line)), default=0.0)
            if most > width + 1e-6:
                found.append(TooWide(piece.name, piece.cut.cloth, most, width))
    return tuple(found)


def width_note(wide: TooWide, units: Units) -> str:
    """A remark beside the piece: "152 cm across: wider than the cloth, 140 cm"."""
    return f"{show_length(wide.across, units)} across: wider than the cloth, {width_words(wide.width, units)}"


def width_findings(draft: Draft) -> tuple[Finding, ...]:
    """A warning for each piece that is wider than its cloth, placed at the cloth's width in the style file."""
    units = draft.client.units
    return tuple(
        Finding(
            "cloth-too-narrow",
            f"“{draft.pieces[wide.piece].title}” is {show_length(wide.across, units)} across, and the "
            f"{cloth_words(wide.cloth)} is {width_words(wide.width, units)} wide.",
            _place(draft, wide.cloth),
            f"Piece it, or use a cloth of {_wide_enough(wide.across, units)} or wider.",
            Severity.WARNING,
            draft.style.source_line(_place(draft, wide.cloth).line),
        )
        for wide in too_wide(draft)
    )


def _wide_enough(across: float, units: Units) -> str:
    """The next whole inch or centimetre."""
    step = 25.4 if units.primary is Unit.IN else 10.0
    return width_words(ceil(across / step - 1e-6) * step, units)


def _place(draft: Draft, cloth: str) -> Place:
    """Where the style file states the cloth's width."""
    style = draft.style
    place = style.cloth_places.get(cloth, Place(style.file))
    column = style.source_line(place.line).find(width_of(dict(style.cloth)[cloth]))
    return replace(place, column=column + 1) if column >= 0 else place
