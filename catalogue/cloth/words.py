"""What a style's front matter says of a cloth, and what the page says of how much is needed."""

from __future__ import annotations

from math import ceil

from catalogue.lengths import LengthError, Unit, Units, parse_length
from catalogue.studio.doubted_words import NARROWEST, STATED_WIDTH, WIDEST

YARD = 914.4
"""mm in a yard: exact (international yard and pound agreement, 1959)."""


def width_in(words: str) -> float | None:
    """The width in mm that a description states (“firm woven, 140 cm wide”), or None."""
    stated = width_of(words)
    return parse_length(stated) if stated else None


def width_of(words: str) -> str:
    """The width that a description states, as it is written there ("140 cm"); "" where it states none."""
    for found in STATED_WIDTH.finditer(words):
        stated = found.group(1).strip()
        try:
            width = parse_length(stated)
        except LengthError:
            continue
        if NARROWEST <= width <= WIDEST:
            return stated
    return ""


def width_words(width: float, units: Units) -> str:
    """The width of a cloth as bolts are marked: whole inches or centimetres."""
    return f"{width / 25.4:.0f} in" if units.primary is Unit.IN else f"{width / 10:.0f} cm"


def length_to_buy(length: float, units: Units) -> str:
    """A length of cloth as it is asked for over the counter, never too short.

    Metres to the next 5 cm, or yards to the next eighth (common practice, no source).
    """
    if units.primary is Unit.IN:
        eighths = max(ceil(length / YARD * 8 - 1e-6), 1)
        whole, part = divmod(eighths, 8)
        fraction = {0: "", 1: "1/8", 2: "1/4", 3: "3/8", 4: "1/2", 5: "5/8", 6: "3/4", 7: "7/8"}[part]
        return f"{' '.join(p for p in (str(whole) if whole else '', fraction) if p)} yd"
    steps = max(ceil(length / 50 - 1e-6), 1)
    return f"{steps * 0.05:.2f} m"


def shop_length(length: float, units: Units) -> float:
    """mm of cloth that `length_to_buy` asks for."""
    step = YARD / 8 if units.primary is Unit.IN else 50.0
    return max(ceil(length / step - 1e-6), 1) * step


def bolt_words(length: float, units: Units) -> str:
    """A length of cloth at hand: metres or yards to the hundredth, never more than there are."""
    unit, word = (YARD, "yd") if units.primary is Unit.IN else (1000.0, "m")
    return f"{int(length / unit * 100 + 1e-6) / 100:.2f} {word}"
