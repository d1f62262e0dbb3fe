"""Cloth: how the pieces may be laid on it, and how much of it to buy."""

from catalogue.cloth.lay import MOST_CLOTH, LaidCut, Lay, lay_of, lays
from catalogue.cloth.narrow import TooWide, too_wide, width_findings, width_note
from catalogue.cloth.picture import lay_picture
from catalogue.cloth.words import length_to_buy, width_in, width_words

__all__ = [
    "MOST_CLOTH",
    "LaidCut",
    "Lay",
    "TooWide",
    "lay_of",
    "lay_picture",
    "lays",
    "length_to_buy",
    "too_wide",
    "width_findings",
    "width_in",
    "width_note",
    "width_words",
]
