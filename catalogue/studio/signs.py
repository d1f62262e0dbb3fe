"""The sign of an alteration as a small drawing: a part of the figure, and what is seen there, in a few words.

`drawing: bodice back; fold 34 70 to 66 70; drag 24 44 to 40 20, mirrored` is read here and drawn by
`catalogue.drawing.fitting_signs`. Places are given on a grid of 100 by 100 round the part.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal, get_args

Part = Literal[
    "bodice front",
    "bodice back",
    "bodice side",
    "skirt front",
    "skirt back",
    "skirt side",
    "trousers front",
    "trousers back",
    "trousers side",
    "sleeve",
]
PARTS: tuple[Part, ...] = get_args(Part)

Mark = Literal["drag", "fold", "gap", "edge", "pull", "spot"]
"""drag: cloth drawn tight; fold: cloth that lies loose; gap: it stands off; edge: where an edge of the garment lies;
pull: which way it is pulled; spot: a point of the body."""
MARKS: tuple[Mark, ...] = get_args(Mark)

MOST = 24
"""Marks of one drawing."""
_NUMBER = r"(\d{1,3}(?:\.\d)?)"
_LINE = re.compile(
    rf"({'|'.join(MARKS)})\s+{_NUMBER}\s+{_NUMBER}(?:\s+to\s+{_NUMBER}\s+{_NUMBER})?"
    rf"(?:\s+bowed\s+(-?\d{{1,2}}))?(\s*,\s*mirrored)?"
)


@dataclass(frozen=True, slots=True)
class SignMark:
    """One mark: from `start` to `end` on the grid, bowed to the left of its way by `bow`; also on the other half."""

    kind: Mark
    start: tuple[float, float]
    end: tuple[float, float]
    bow: float = 0.0
    mirrored: bool = False


@dataclass(frozen=True, slots=True)
class SignDrawing:
    """What is drawn of a sign."""

    part: Part
    marks: tuple[SignMark, ...]


def read_drawing(text: str) -> SignDrawing:
    """A drawing from its line in the file.

    Raises ValueError with a sentence that says what is wrong.
    """
    words, *rest = (" ".join(each.split()) for each in text.split(";"))
    part = next((p for p in PARTS if p == words.casefold()), None)
    if part is None:
        raise ValueError(f"“{words}” is no part of the figure; there are {', '.join(PARTS)}")
    if len(rest) > MOST:
        raise ValueError(f"a drawing has at most {MOST} marks")
    return SignDrawing(part, tuple(_mark(each) for each in rest if each))


def _mark(words: str) -> SignMark:
    found = _LINE.fullmatch(words)
    kind = next((k for k in MARKS if found is not None and found[1] == k), None)
    if found is None or kind is None or (found[4] is None and kind != "spot"):
        raise ValueError(f"“{words}” should be a mark with its places, such as fold 34 70 to 66 70")
    start = float(found[2]), float(found[3])
    end = (float(found[4]), float(found[5])) if found[4] is not None else start
    if max(*start, *end) > 100:
        raise ValueError(f"a place of “{words}” lies beyond 100")
    return SignMark(kind, start, end, float(found[6] or 0), found[7] is not None)
