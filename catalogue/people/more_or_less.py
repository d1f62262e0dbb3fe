"""A length that a client's file gives beside the default of a choice: “usual + 5 cm”, “5 cm longer”, “+5 cm”."""

from __future__ import annotations

import re
from typing import NamedTuple

from catalogue.lengths import MINUSES

_USUAL = (
    rf"(?:the\s+|as\s+)?(?:usual|default)\s*(?P<sign>\+|plus|[{MINUSES}]|minus|less)\s*(?P<amount>.*\d.*)"
)
_MORE = "longer more wider deeper larger bigger fuller looser"
_LESS = "shorter less narrower shallower smaller tighter"
_COMPARED = (
    rf"(?P<amount>.*[\d½¼¾⅛⅜⅝⅞].*?)\s*\b(?P<word>{'|'.join((_MORE + ' ' + _LESS).split())})"
    r"(?:\s+than\s+(?:usual|the\s+default))?"
)
_BARE = r"(?:\+|plus\b)\s*(?P<amount>.*)"
_SAME = r"(?:the\s+|as\s+)?(?:usual|default)"


class MoreOrLess(NamedTuple):
    """So much more (`sign` 1) or less (-1) than the default, or the default itself (0).

    `is_bare` where only a plus sign says so.
    """

    sign: int
    amount: str
    is_bare: bool = False


def more_or_less(text: str) -> MoreOrLess | None:
    """What a text says beside the default; None where it gives the length itself.

    Lower and higher are not read: a neckline that is lower is drafted with a larger figure.
    """
    if found := re.fullmatch(_USUAL, text, re.IGNORECASE):
        return MoreOrLess(1 if found["sign"].casefold() in ("+", "plus") else -1, found["amount"].strip())
    if found := re.fullmatch(_COMPARED, text, re.IGNORECASE):
        return MoreOrLess(
            1 if found["word"].casefold() in _MORE.split() else -1, found["amount"].lstrip("+ ")
        )
    if re.fullmatch(_SAME, text, re.IGNORECASE):
        return MoreOrLess(0, "0 mm")
    if found := re.fullmatch(_BARE, text, re.IGNORECASE):
        return MoreOrLess(1, found["amount"], is_bare=True)
    return None
