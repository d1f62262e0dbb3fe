"""Cloth: how the pieces may be laid on it, and how much of it to buy."""

from catalogue.cloth.lay import Laid, Lay, lay_of, lays
from catalogue.cloth.picture import lay_picture
from catalogue.cloth.words import cloth_words, width_in, width_words

__all__ = ["Laid", "Lay", "cloth_words", "lay_of", "lay_picture", "lays", "width_in", "width_words"]
