"""Where the words of a paragraph stand between two signs of Markdown: bold, italics, struck out, links and pictures."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

_SIGN = re.compile(r"\\.|(?P<pair>\*{1,3}|_{1,3}|~~)|(?P<open>!?\[)|(?P<close>\])", re.DOTALL)


class MarkedWords(NamedTuple):
    """Words between two signs: from the first sign to the last, and both as they are written."""

    start: int
    end: int
    first: str
    last: str


def marked_words(text: str) -> Iterator[MarkedWords]:
    """All such words of a paragraph without code, inner ones before those around them."""
    opened: dict[str, int] = {}
    brackets: list[tuple[int, str]] = []
    for found in _SIGN.finditer(text):
        at, sign = found.start(), found[0]
        if found["open"]:
            brackets.append((at, sign))
        elif found["close"] and brackets:
            start, first = brackets.pop()
            if text[at + 1 : at + 2] in ("(", "["):
                yield MarkedWords(start, at, first, "](…)")
        elif found["pair"]:
            before, after = text[at - 1 : at] or " ", text[found.end() : found.end() + 1] or " "
            closes, opens = not before.isspace(), not after.isspace()
            if sign[0] == "_":  # which inside a word is a letter of it
                closes, opens = closes and not after.isalnum(), opens and not before.isalnum()
            if closes and sign in opened:
                start = opened[sign]
                opened = {other: place for other, place in opened.items() if place < start}
                yield MarkedWords(start, at, sign, sign)
            elif opens:
                opened[sign] = at
