"""Words of a style file that were probably typed wrong, and that nothing else would tell of."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import islice

from catalogue.findings import Finding, Place, Severity, nearest
from catalogue.frontmatter import Front
from catalogue.lengths import LengthError, parse_length
from catalogue.studio.style import Choice, Section

GARMENTS = frozenset(
    {
        *("apron", "bathrobe", "blazer", "blouse", "bodice", "body", "breeches", "camisole", "cape"),
        *("cardigan", "coat", "collar", "cuff", "culottes", "dress", "dungarees", "gown", "hood"),
        *("jacket", "jumpsuit", "kimono", "overcoat", "pinafore", "pocket", "robe", "shirt", "shorts"),
        *("skirt", "sleeve", "top", "trousers", "tunic", "waistcoat"),
    }
)
"""Kinds of garment, and parts of one, that a style may be called by; others may be too."""
_OTHERS = frozenset({"cloak", "skort", "trouser", "vest"})
"""Others that a common one would be taken for."""
HEADINGS = ("Cutting", "Sewing")
"""Headings whose prose goes into the notes for the workroom."""
_MOST, _LONGEST = 40, 200
"""Cloths and headings that are looked at, and characters of each text."""
_ALIKE = 0.8
"""How alike, from 0 to 1, a word must be to one that is known."""
STATED_WIDTH = re.compile(
    r"((?:\d[\d.,½¼¾⅛⅜⅝⅞/ ]{0,12}|[½¼¾])(?:cm|mm|m|in|inches|″|\"|”))\s{0,3}(?:wide|width)", re.IGNORECASE
)
"""A width as the description of a cloth states it."""
NARROWEST, WIDEST = 200.0, 4000.0
"""mm: between these a number before “wide” is taken for the width of a cloth."""


def doubted_words(front: Front, sections: Iterable[Section]) -> Iterator[Finding]:
    """Warnings about the kind of garment, the widths of cloths and the headings of a style."""

    def doubt(code: str, message: str, place: Place, hint: str) -> Finding:
        return front.finding(code, message, place, hint, Severity.WARNING)

    garment = front.mapping.get("garment")
    words = re.findall(r"[a-z]{4,}", (garment.text or "")[:_LONGEST].casefold()) if garment else []
    for word in words:
        meant = nearest(word, GARMENTS, least=_ALIKE)
        forms = {word, word.removesuffix("s"), word.removesuffix("es")}
        if garment and meant and not forms & (GARMENTS | _OTHERS):
            hint = f"Did you mean “{meant[0]}”? What is usual for it is only known by its name."
            yield doubt("doubted-garment", f"“{word}” is no garment that is known here", garment.place, hint)
    cloth = front.mapping.get("cloth")
    cloths = () if cloth is None else (cloth.mapping or {"main": cloth}).values()
    for entry in islice(cloths, _MOST):
        if wrong := _width((entry.text or "")[:_LONGEST]):
            hint = "Expected 20 cm to 4 m. Until then no cloth is reckoned for it."
            yield doubt("doubted-width", f"no cloth is {wrong} wide: is the unit right?", entry.place, hint)
    for section in islice((each for each in sections if each.level == 1), _MOST):
        word = section.heading[:_LONGEST].strip()
        if word.capitalize() not in HEADINGS and (meant := nearest(word, HEADINGS, least=_ALIKE)):
            message = f"“{section.heading}” is no heading of the workroom's notes"
            hint = f"Did you mean “{meant[0]}”? Only what stands under it goes into the sewing notes."
            yield doubt("doubted-heading", message, Place(front.file, section.line), hint)


def _width(words: str) -> str:
    """The width that a cloth can't have, as it is written; "" where there is none, or another that it can have."""
    stated = [found.group(1).strip() for found in STATED_WIDTH.finditer(words)]
    wrong = ""
    for each in stated:
        try:
            if NARROWEST <= parse_length(each) <= WIDEST:
                return ""
        except LengthError:
            continue
        wrong = wrong or each
    return wrong


def doubted_range(choice: Choice, front: Front) -> Iterator[Finding]:
    """What is wrong with the figures of a choice that can be told without a client."""
    low, high, default = (_plain(text) for text in (choice.lowest, choice.highest, choice.default))
    if low is None or high is None or low[0] != high[0]:
        return
    if low[1] > high[1]:
        yield front.finding(
            "bad-range",
            f"The range of “{choice.name}” begins with the larger: {choice.lowest} to {choice.highest}.",
            choice.place,
            f"Write {choice.highest} to {choice.lowest}.",
        )
    elif default is not None and default[0] != low[0]:
        yield front.finding(
            "bad-range",
            f"“{choice.default}” is a {default[0]}, and the range of “{choice.name}” is from {low[0]} to {low[0]}.",
            choice.place,
            "Write all three with a unit.",
        )
    elif default is not None and not low[1] <= default[1] <= high[1]:
        taken = choice.lowest if default[1] < low[1] else choice.highest
        told = front.finding(
            "default-outside",
            f"The default of “{choice.name}”, {choice.default}, lies outside its range: {choice.lowest} to "
            f"{choice.highest}.",
            choice.place,
            f"Until one of them is changed, {taken} is taken.",
        )
        yield replace(told, severity=Severity.WARNING)


def _plain(text: str) -> tuple[str, float] | None:
    """Whether a text is a length or a number, and how large; None for a formula, and where there is none."""
    if re.fullmatch(r"-?\d+(\.\d+)?", text):
        return "number", float(text)
    try:
        return "length", parse_length(text, negative=True)
    except LengthError:
        return None
