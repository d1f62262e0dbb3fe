"""The fonts of the sheets: where they lie, what each covers, and which one a character is set in."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import Any

# Tried in this order for each character; the scripts are for the handbook and the warning.
UPRIGHT = ("sans", "arabic", "devanagari", "hebrew", "han")
BOLD = ("sans-bold", "sans", "arabic", "devanagari", "hebrew", "han")
SCRIPTS = "Latin, Greek, Cyrillic, Arabic, Devanagari, Hebrew and the everyday Chinese characters and kana"
REPLACEMENT = "\ufffd"


def font_folder() -> Path:
    """The folder of font files: beside the package in a checkout, inside it once installed.

    Raises FileNotFoundError when neither is there.
    """
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "site_template" / "fonts", package.parent / "site_template" / "fonts"):
        if (folder / "sans.ttf").is_file():
            return folder
    raise FileNotFoundError(
        f"The fonts of the sheets are missing: expected {package / 'site_template' / 'fonts'}"
    )


@dataclass(frozen=True)
class Face:
    """One font file, read once per process. Nothing of a document is kept in it."""

    name: str
    path: Path

    @cached_property
    def hb_face(self) -> Any:
        import uharfbuzz

        return uharfbuzz.Face(uharfbuzz.Blob.from_file_path(str(self.path)))

    @cached_property
    def hb_font(self) -> Any:
        import uharfbuzz

        return uharfbuzz.Font(self.hb_face)

    @cached_property
    def characters(self) -> frozenset[int]:
        """Code points the font has a glyph for."""
        return frozenset(self.hb_face.unicodes)

    @property
    def units(self) -> int:
        """Font units in one em."""
        return int(self.hb_face.upem)

    def advance(self, glyph: int) -> int:
        """Width of a glyph in font units."""
        return int(self.hb_font.get_glyph_h_advance(glyph))

    def covers(self, character: str) -> bool:
        return ord(character) in self.characters


@cache
def face(name: str) -> Face:
    """The face called `name` ("sans", "arabic", ...)."""
    return Face(name, font_folder() / f"{name}.ttf")


def is_invisible(character: str) -> bool:
    """True for joiners, direction marks and variation selectors, which have no glyph of their own."""
    code = ord(character)
    return unicodedata.category(character) == "Cf" or 0xFE00 <= code <= 0xFE0F or code == 0x034F


def _stays(character: str) -> bool:
    """True for marks, blanks and joiners, which stay in the font of the letter before them."""
    return unicodedata.category(character)[0] in "MZ" or is_invisible(character)


def choose_faces(text: str, *, bold: bool = False) -> list[Face | None]:
    """The face for each character; None where no font has it. Marks stay with their letter where possible."""
    names = BOLD if bold else UPRIGHT
    chosen: list[Face | None] = []
    current: Face | None = None
    for character in text:
        if (
            current is not None
            and _stays(character)
            and (current.covers(character) or is_invisible(character))
        ):
            chosen.append(current)
            continue
        found = next((f for n in names if (f := face(n)).covers(character)), None)
        if found is None and is_invisible(character):
            found = current or face(names[0])
        if found is not None and unicodedata.category(character)[0] == "M":
            _pull_base(text, chosen, found)
        chosen.append(found)
        current = found or current
    return chosen


def _pull_base(text: str, chosen: list[Face | None], found: Face) -> None:
    """Set the letter under a mark in the mark's face too when that face has it."""
    i = len(chosen) - 1
    while i >= 0 and unicodedata.category(text[i])[0] == "M" and found.covers(text[i]):
        i -= 1
    if i >= 0 and found.covers(text[i]):
        chosen[i:] = [found] * (len(chosen) - i)


def uncovered(text: str) -> str:
    """The characters of `text` no font has, each once, in order."""
    faces = choose_faces(text)
    return "".join(dict.fromkeys(c for c, f in zip(text, faces, strict=True) if f is None))
