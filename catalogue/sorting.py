"""The order in which lists of names are shown: digits as numbers, case and accents only where all else is the same.

Capitals, accents and what a language puts on its vowels come second, as in the Unicode Collation Algorithm (Unicode
Technical Standard 10), whose order of letters a browser's own `Intl.Collator` keeps to; tests compare the two.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

SortKey = tuple[tuple[str | tuple[int, str], ...], str, str]
"""What two names are compared by: words and numbers by turns, then with accents, then as they are written."""

_MARKS = re.compile("[\u0300-\u036f\u0591-\u05c7\u0640\u064b-\u065f\u0670]")
"""Accents, tones and dots of Latin letters, points of Hebrew, vowels and the stretching stroke of Arabic."""

_LETTERS = str.maketrans({"đ": "d", "ð": "d", "ø": "o", "ł": "l", "ħ": "h", "ı": "i", "æ": "ae", "œ": "oe"})
"""Letters whose stroke is no accent of its own to Unicode."""


def folded(text: str) -> str:
    """`text` in small letters without accents, as search in the pages compares it (`plain` in `catalogue.js`)."""
    return _MARKS.sub("", unicodedata.normalize("NFKD", text)).casefold().translate(_LETTERS)


def sort_key(text: str) -> SortKey:
    """What a list of names is sorted by: “number 4” before “number 10”, “Đặng” beside “Dang”.

    What is neither letter nor digit counts as a blank between words.
    """
    bare = " ".join("".join(c if _counts(c) else " " for c in folded(text)).split())
    parts = tuple(_number(part) if n % 2 else part for n, part in enumerate(re.split(r"(\d+)", bare)))
    return parts, unicodedata.normalize("NFKD", text).casefold(), text.swapcase()


def in_order(names: Iterable[str]) -> list[str]:
    """Names in the order of `sort_key`."""
    return sorted(names, key=sort_key)


def _counts(character: str) -> bool:
    return unicodedata.category(character)[0] in "LNM"


def _number(digits: str) -> tuple[int, str]:
    """Digits of any script, to be compared as a number of any length."""
    plain = "".join(str(unicodedata.decimal(digit)) for digit in digits).lstrip("0")
    return len(plain), plain
