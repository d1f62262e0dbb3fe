"""Names in headings: set in the title serif, or, where it lacks a letter or a mark, as a whole in the sans.

A browser fills gaps in a font letter by letter, which breaks a name into two faces; and letters put together of
a base and a mark, as in Yoruba, have their marks in the wrong place in the italic of the serif.
"""

from __future__ import annotations

import unicodedata

from markupsafe import Markup

SERIF = (
    *((0x20, 0x7E), (0xA0, 0x131), (0x134, 0x148), (0x14A, 0x17E), (0x18F, 0x18F), (0x192, 0x192)),
    *((0x1A0, 0x1A1), (0x1AF, 0x1B0), (0x1E6, 0x1E7), (0x218, 0x21B), (0x259, 0x259), (0x2BC, 0x2BC)),
    *((0x1E80, 0x1E85), (0x1E9E, 0x1E9E), (0x1EA0, 0x1EF9)),
)
"""Letters that the title serif has, ready-made: first and last of each run."""


def in_serif(words: str) -> bool:
    """Whether every letter of the words is in the title serif with its marks in place."""
    return all(
        any(first <= ord(letter) <= last for first, last in SERIF)
        for letter in unicodedata.normalize("NFC", words)
        if unicodedata.category(letter)[0] in "LM"
    )


def titled_name(words: str, lang: str = "") -> Markup:
    """A name as it stands in a heading, its direction its own."""
    face = Markup("") if in_serif(words) else Markup(' class="plain-face"')
    language = Markup(' lang="{}"').format(lang) if lang else Markup("")
    return Markup("<bdi{}{}>{}</bdi>").format(face, language, words)
