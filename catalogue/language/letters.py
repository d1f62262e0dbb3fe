"""What a name may be made of, in any script, and characters that look like others."""

from __future__ import annotations

import re
import unicodedata

_MARKS = (
    "\u0300-\u036f\u0483-\u0487"  # accents that have no letter of their own (Yoruba ẹ̀), Cyrillic titlo
    "\u0591-\u05bd\u05bf\u05c1\u05c2\u05c4\u05c5\u05c7\u0610-\u061a\u064b-\u065f\u0670"  # Hebrew, Arabic points
    "\u0900-\u0963\u0966-\u0dff\u0e31-\u0e3a\u0e47-\u0e4e\u0eb1-\u0ebc\u0ec8-\u0ecd"  # India, Thai, Lao
    "\u102b-\u103e\u17b4-\u17d3\u1dc0-\u1dff\u3099\u309a"  # Burmese, Khmer, more accents, Japanese voicing
)
"""Vowel signs and accents: part of a word, though not letters to the regular expressions of the library."""

LETTER = r"[^\W\d_]"
NAME = rf"{LETTER}[\w{_MARKS}]*"
"""A regular expression for one name: a letter of any script, then letters, marks, digits and _."""

is_name = re.compile(NAME).fullmatch
"""Whether a text is one name."""

MOST_MARKS = 500
"""Marks in one text beyond which their order is left as it is: sorting them could take long."""


def composed(text: str) -> str:
    """The text with letters and their accents in one character where there is one, so that equal names are equal."""
    if text.isascii() or unicodedata.is_normalized("NFC", text):
        return text
    if sum(1 for c in text if unicodedata.combining(c)) > MOST_MARKS:
        return text
    return unicodedata.normalize("NFC", text)


_UNSEEN = {
    "\u200b": "a zero-width space",
    "\u200c": "a zero-width non-joiner",
    "\u200d": "a zero-width joiner",
    "\u2060": "a word joiner",
    "\ufeff": "a byte-order mark",
    "\u00ad": "a soft hyphen",
    "\u200e": "a direction mark",
    "\u200f": "a direction mark",
    "\u061c": "a direction mark",
}


def unseen(character: str) -> str:
    """In words, a character that can't be seen ("a zero-width space"); "" for one that can."""
    if character == " ":
        return ""
    if character in _UNSEEN:
        return _UNSEEN[character]
    kind = unicodedata.category(character)
    if kind in ("Cf", "Cc", "Co", "Cn", "Cs"):
        return f"an invisible character (U+{ord(character):04X})"
    if kind in ("Zs", "Zl", "Zp"):
        return f"an unusual space (U+{ord(character):04X})"
    return ""
