"""How much room letters take, before any font is at hand.

Widths are those of a plain sans serif, rounded up, so that what fits by estimate fits in every output.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache

_NARROW = frozenset("iIjlftr.,:;'|!()[]·-/ 1")
_BROAD = frozenset("mwMWGOQ@%—…")


@lru_cache(maxsize=8192)
def ems(words: str) -> float:
    """Estimated width of a line of text in ems."""
    total = 0.0
    for character in words:
        category = unicodedata.category(character)
        if category in ("Mn", "Me", "Cf"):
            continue
        if unicodedata.east_asian_width(character) in "WF":
            total += 1.02
        elif character in _NARROW:
            total += 0.4
        elif character in _BROAD:
            total += 0.95
        elif category == "Lu":
            total += 0.72
        elif category in ("Lo", "Mc"):
            total += 0.68
        else:
            total += 0.6
    return total


def text_width(words: str, size: float) -> float:
    """Estimated width of a line of text at type size `size`, in the unit of `size`."""
    return ems(words) * size


def isolated(words: str) -> str:
    """A name kept from mixing with the words beside it where it runs right to left (Unicode isolates)."""
    if any(unicodedata.bidirectional(c) in ("R", "AL") for c in words):
        return f"\u2068{words}\u2069"
    return words
