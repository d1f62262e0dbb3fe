"""The words on a piece: what it is, whose it is, how often it is cut and from what."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from catalogue.drawing.lettering import isolated
from catalogue.lengths import Units, show_length
from catalogue.pattern import Cut, Piece
from catalogue.pattern.darts import SHORT_OF_POINT, drill_holes


class LabelLine(NamedTuple):
    """One line of a label: type size in mm at full size; `kind` is "strong", "quiet" or ""."""

    words: str
    size: float = 5.0
    kind: str = ""


def piece_letter(index: int) -> str:
    """A, B, ... Z, AA, AB ... for the piece at `index` (from 0)."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def cloth_words(cloth: str) -> str:
    """What a cut names its cloth, in words: "main cloth", "lining"."""
    return "main cloth" if cloth == "main" else cloth.replace("_", " ")


def count_words(cut: Cut) -> str:
    """How often: "Cut 1 on the fold", "Cut 1 pair", "Cut 2"."""
    if cut.mirrored and cut.count % 2 == 0:
        pairs = cut.count // 2
        words = f"Cut {pairs} pair{'s' if pairs > 1 else ''}"
    else:
        words = f"Cut {cut.count}"
        if cut.mirrored and cut.count > 1:
            words += ", some turned over"
    return f"{words} on the fold" if cut.on_fold else words


def cut_words(cut: Cut) -> str:
    """The whole instruction: "Cut 1 on the fold · main cloth"."""
    return f"{count_words(cut)} · {cloth_words(cut.cloth)}"


def label_lines(
    piece: Piece, letter: str, style: str, client: str, *, day: str = "", allowance: str = ""
) -> list[LabelLine]:
    """The label of a piece, most important line first; `allowance` says what is included, in words."""
    whose = f"{isolated(client)} · {day}" if client and day else client or day
    lines = [
        LabelLine(f"{letter}  {isolated(piece.title)}" if letter else piece.title, 8.0, "strong"),
        LabelLine(cut_words(piece.cut), 5.5),
        LabelLine(style, 4.5),
        LabelLine(whose, 4.5),
        LabelLine(allowance, 4.0, "quiet"),
    ]
    return [line for line in lines if line.words]


def allowance_words(pieces: Iterable[Piece]) -> str:
    """Whether seam allowances are in the pieces, in words."""
    included = any(e.allowance for p in pieces for e in p.edges)
    return "Seam allowance included" if included else "Seam allowance not included"


def letters_of(pieces: Sequence[Piece]) -> dict[str, str]:
    """The letter of each piece, by the piece's name, in the order given."""
    return {piece.name: piece_letter(i) for i, piece in enumerate(pieces)}


def drill_words(units: Units) -> str:
    """What the drill hole of a dart is, for a label: "drill hole 1 cm short of the point"."""
    return f"drill hole {show_length(SHORT_OF_POINT, units)} short of the point"


def drill_key(pieces: Iterable[Piece], units: Units) -> str:
    """The same for a key, with the usual caution; "" where no dart has a drill hole."""
    if not any(drill_holes(dart) for piece in pieces for dart in piece.darts):
        return ""
    return (
        f"Drill hole: {show_length(SHORT_OF_POINT, units)} short of the dart’s point. "
        "In fine cloth a hole shows: use a tailor’s tack."
    )
