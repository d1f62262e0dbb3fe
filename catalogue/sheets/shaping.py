"""Text made into glyphs: letters joined, marks placed, right-to-left parts in the order they stand on paper."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from itertools import groupby
from typing import NamedTuple

from catalogue.sheets.bidi import ISOLATES, visual_runs
from catalogue.sheets.fonts import REPLACEMENT, Face, choose_faces, face


class Glyph(NamedTuple):
    """One glyph in visual order. Distances in font units.

    Attributes:
        text: the characters it stands for; "" for the further glyphs of a cluster.
        advance: how far the pen moves on; `width` is what the font says by itself.
        dx, dy: displacement from the pen, up positive.
    """

    id: int
    text: str
    advance: int
    width: int
    dx: int
    dy: int


Meant = tuple[int, str]
"""A glyph and the characters it stands for."""


@dataclass(frozen=True)
class Strip:
    """Glyphs of one face, left to right."""

    face: Face
    glyphs: tuple[Glyph, ...]

    @cached_property
    def moves(self) -> tuple[tuple[int, tuple[float | tuple[Meant, ...], ...]], ...]:
        """The glyphs as a page description writes them.

        Runs of one rise above the line (font units), each of glyphs side by side and, between them, thousandths of
        an em that the pen moves back.
        """
        scale = 1000 / self.face.units
        runs: list[tuple[int, list[float | tuple[Meant, ...]]]] = [(0, [])]
        together: list[Meant] = []
        shift = 0.0  # thousandths still to be moved back before the next glyph

        def close() -> None:
            if together:
                runs[-1][1].append(tuple(together))
                together.clear()

        for glyph in self.glyphs:
            if glyph.dy != runs[-1][0]:
                close()
                runs.append((glyph.dy, []))
            shift -= glyph.dx * scale
            if abs(shift) >= 0.5:
                close()
                runs[-1][1].append(shift)
            together.append((glyph.id, glyph.text))
            shift = (glyph.width - glyph.advance + glyph.dx) * scale
        close()
        if abs(shift) >= 0.5:
            runs[-1][1].append(shift)
        return tuple((rise, tuple(parts)) for rise, parts in runs if parts)


class Shaped(NamedTuple):
    """A line of text ready to be drawn. `width` is in ems; `missing` are the characters no font has."""

    strips: tuple[Strip, ...]
    width: float
    missing: str


@lru_cache(maxsize=8192)
def shape(text: str, *, bold: bool = False) -> Shaped:
    """Shape one line of text. Line ends and tabs become blanks."""
    plain = face("sans-bold" if bold else "sans")
    if text and _latin_in(plain).issuperset(text):
        strip = _latin(text, plain)
        return Shaped((strip,), sum([g.advance for g in strip.glyphs]) / plain.units, "")
    clean = "".join(" " if unicodedata.category(c) == "Cc" else c for c in text)
    chosen = choose_faces(clean, bold=bold)
    missing = "".join(dict.fromkeys(c for c, f in zip(clean, chosen, strict=True) if f is None))
    strips: list[Strip] = []
    width = 0.0
    for run in visual_runs(clean):
        parts: list[Strip] = []
        for used, spots in groupby(range(run.start, run.end), key=lambda i: chosen[i]):
            places = list(spots)
            words = "".join(c for c in clean[places[0] : places[-1] + 1] if c not in ISOLATES)
            if not words:
                continue
            parts.append(_replaced(words, bold) if used is None else _shaped(words, used, run.rtl))
        for strip in reversed(parts) if run.rtl else parts:
            strips.append(strip)
            width += sum(g.advance for g in strip.glyphs) / strip.face.units
    return Shaped(tuple(strips), width, missing)


def width(text: str, size: float, *, bold: bool = False) -> float:
    """How wide `text` is at type size `size`, in the unit of `size`."""
    return _ems(text, bold) * size


@lru_cache(maxsize=16384)
def _ems(text: str, bold: bool) -> float:
    """The width of a line of text in ems; lines are broken at one size after the other until they fit."""
    used = face("sans-bold" if bold else "sans")
    if not text or not _latin_in(used).issuperset(text):
        return shape(text, bold=bold).width
    script = _script_of(text)
    blanks = (len(words := text.split(" ")) - 1) * _blank(used).advance
    return (sum([_word(word, used, script).width for word in words]) + blanks) / used.units


class _Word(NamedTuple):
    """A word by itself; `width` in font units."""

    glyphs: tuple[Glyph, ...]
    width: int


@cache
def _latin_in(used: Face) -> frozenset[str]:
    """The Latin letters that the face has whole, figures and everyday signs.

    The faces kern nothing with a blank (a test looks), so a line of these is its words side by side.
    """
    return frozenset(c for c in _LATIN if used.covers(c))


_SIGNS = "\u2013\u2014\u2018\u2019\u201c\u201d\u2026\u2032\u2033\u2212\u215b\u215c\u215d\u215e"
_LATIN = frozenset((*map(chr, (*range(0x20, 0x7F), *range(0xA1, 0xAD), *range(0xAE, 0x250))), *_SIGNS))


def _script_of(words: str) -> str:
    """The script that a line of Latin words is set in: that of its letters, where it has any."""
    return "Latn" if any(c.isalpha() and c != "µ" for c in words) else "Zyyy"


def _latin(words: str, used: Face) -> Strip:
    """Such words shaped, each word once in a process."""
    script = _script_of(words)
    first, *others = words.split(" ")
    glyphs = list(_word(first, used, script).glyphs)
    for word in others:
        glyphs.append(_blank(used))
        glyphs += _word(word, used, script).glyphs
    return Strip(used, tuple(glyphs))


@lru_cache(maxsize=16384)
def _word(word: str, used: Face, script: str) -> _Word:
    glyphs = _shaped(word, used, rtl=False, script=script).glyphs if word else ()
    return _Word(glyphs, sum(g.advance for g in glyphs))


@cache
def _blank(used: Face) -> Glyph:
    [glyph] = _shaped(" ", used, rtl=False).glyphs
    return glyph


def _shaped(words: str, used: Face, rtl: bool, script: str = "") -> Strip:
    import uharfbuzz

    buffer = uharfbuzz.Buffer()
    buffer.add_str(words)
    buffer.guess_segment_properties()
    if script:
        buffer.script = script
    buffer.direction = "rtl" if rtl else "ltr"
    features = {"kern": True, "liga": False}
    if used.name.startswith("sans") and not _has_marks(words):
        features["ccmp"] = False  # letters the font has whole are not taken apart: readers then see one sign
    uharfbuzz.shape(used.hb_font, buffer, features)
    infos, positions = buffer.glyph_infos, buffer.glyph_positions
    starts = sorted({info.cluster for info in infos})
    ends = dict(zip(starts, [*starts[1:], len(words)], strict=True))
    glyphs: list[Glyph] = []
    for cluster, group in groupby(zip(infos, positions, strict=True), key=lambda pair: pair[0].cluster):
        pairs = list(group)
        advances = [at.x_advance for _, at in pairs]
        meanings = _share_out(words[cluster : ends[cluster]], advances, rtl)
        for (info, at), text in zip(pairs, meanings, strict=True):
            width = used.advance(info.codepoint)
            glyphs.append(Glyph(info.codepoint, text, at.x_advance, width, at.x_offset, at.y_offset))
    return Strip(used, tuple(glyphs))


def _has_marks(words: str) -> bool:
    """Whether marks are left that no precomposed letter takes in."""
    return any(unicodedata.category(c)[0] == "M" for c in unicodedata.normalize("NFC", words))


def _share_out(text: str, advances: list[int], rtl: bool) -> list[str]:
    """The characters of a cluster given to its glyphs, so that reading them in order gives the text again.

    Where there are fewer characters than glyphs, the widest glyphs get them: readers take a wide glyph without
    any meaning for a blank.
    """
    count = len(advances)
    order = list(range(count))
    if len(text) < count:
        widest = sorted(order, key=lambda i: (-advances[i], i))[: len(text)]
        order = [i for i in order if i in widest]
    if rtl:
        order.reverse()
    shares = [""] * count
    for place, i in enumerate(order):
        shares[i] = text[place] if place < len(order) - 1 else text[place:]
    return shares


def _replaced(words: str, bold: bool) -> Strip:
    """The replacement sign for each character, which keeps the character for searching and copying."""
    used = face("sans-bold" if bold else "sans")
    glyph = used.hb_font.get_nominal_glyph(ord(REPLACEMENT))
    advance = used.advance(glyph)
    return Strip(used, tuple(Glyph(glyph, c, advance, advance, 0, 0) for c in words))
