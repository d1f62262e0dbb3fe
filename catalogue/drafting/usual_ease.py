"""What ease is usual, by garment, cloth and where it is measured: ranges that sources give, and the verdict on one.

Sources differ, and rightly: what is usual is whatever any of them gives. Wearing ease is a floor, and design ease comes
on top of it (Costume text, ch. 16), so what a style means to be wide has no upper limit here.
"""

from __future__ import annotations

import math
import re
from collections.abc import Collection
from functools import lru_cache
from typing import NamedTuple

from catalogue.trade_names import wordings

INCH = 25.4
KNITS = frozenset({"knit", "knits", "jersey", "stretch"})
"""Tags of a style cut from cloth that stretches."""
LOOSE = frozenset({"loose", "oversized", "unfitted", "wide"})
"""Tags of a style that is meant to be wide everywhere."""
FLARED = frozenset({"flare", "flared", "gathered", "gathers", "full", "circle", "gored"})
"""Tags of a style that is meant to be wide below the waist."""

GARMENTS: dict[str, tuple[str, ...]] = {
    "skirt": ("skirt",),
    "trousers": ("trousers", "trouser", "shorts", "breeches", "culottes"),
    "shirt": ("shirt", "blouse", "tunic"),
    "jacket": ("jacket", "blazer"),
    "coat": ("coat", "overcoat"),
    "bodice": ("bodice", "top", "dress", "waistcoat", "camisole"),
}
"""Kinds of garment, and the words by which a style's `garment` says them; the first that fits counts."""

_CWU = 'Costume text, ch. 16 "Ease in Clothing" (S. Robinson, Central Washington University)'
_NMSU = "Guide C-228, table 1 (W. Hamilton, New Mexico State University)"
_ARMY = "TM 10-227, p. 3-11 (US Army)"
_VINCENT = "W. D. F. Vincent, Systems of Cutting, p. 152, motor overcoat"
_HANDOUT = "Handout for drafting skirt block (WikiEducator)"
_TABLE = "monsterkonstruktion.se/en/ease (a secondary source)"
_SKIRTS = "motley-muse (a secondary source), skirts fitted 1 to 2 in, half fitted 2 to 3 in"


class Given(NamedTuple):
    """What one source gives: mm from the least to the most, for a kind of garment, its cloth and a place."""

    garment: str
    cloth: str
    girth: str
    least: float
    most: float
    source: str


def _inches(garment: str, cloth: str, girth: str, least: float, most: float, source: str) -> Given:
    return Given(garment, cloth, girth, least * INCH, most * INCH, source)


def _cm(garment: str, cloth: str, girth: str, least: float, most: float, source: str) -> Given:
    return Given(garment, cloth, girth, least * 10.0, most * 10.0, source)


USUAL: tuple[Given, ...] = (
    _inches("skirt", "woven", "waist", 0.5, 0.75, _CWU),
    _cm("skirt", "woven", "waist", 2.4, 2.4, _HANDOUT),
    _inches("skirt", "woven", "hip", 2.0, 2.75, _CWU),
    _cm("skirt", "woven", "hip", 5.0, 5.0, _HANDOUT),
    _inches("skirt", "woven", "hip", 1.0, 3.0, _SKIRTS),
    _inches("trousers", "woven", "waist", 0.5, 1.0, _CWU),
    _inches("trousers", "woven", "waist", 0.5, 0.5, _ARMY),
    _cm("trousers", "woven", "waist", 4.0, 6.0, _TABLE),
    _inches("trousers", "woven", "hip", 1.5, 2.75, _CWU),
    _cm("trousers", "woven", "hip", 4.0, 6.0, _TABLE),
    _inches("trousers", "woven", "thigh", 1.0, math.inf, _CWU),
    _cm("trousers", "knit", "waist", 0.0, 2.0, _TABLE),
    _cm("trousers", "knit", "hip", 2.0, 4.0, _TABLE),
    _inches("bodice", "woven", "bust", 1.5, 2.0, _CWU),
    _inches("bodice", "woven", "bust", 3.0, 4.0, _NMSU),
    _cm("bodice", "woven", "bust", 4.0, 6.0, _TABLE),
    _inches("bodice", "woven", "waist", 0.75, 1.0, _CWU),
    _cm("bodice", "woven", "waist", 2.0, 4.0, _TABLE),
    _inches("bodice", "woven", "hip", 2.0, 2.75, _CWU),
    _cm("bodice", "woven", "hip", 4.0, 6.0, _TABLE),
    _cm("bodice", "knit", "bust", 6.0, 12.0, _TABLE),
    _cm("bodice", "knit", "waist", 4.0, 8.0, _TABLE),
    _cm("bodice", "knit", "hip", 6.0, 10.0, _TABLE),
    _inches("shirt", "woven", "bust", 1.5, 3.0, _CWU),
    _cm("shirt", "woven", "bust", 6.0, 10.0, _TABLE),
    _cm("shirt", "woven", "waist", 4.0, 8.0, _TABLE),
    _inches("shirt", "woven", "hip", 2.0, 2.75, _CWU),
    _cm("shirt", "woven", "hip", 6.0, 10.0, _TABLE),
    _cm("shirt", "knit", "bust", 6.0, 12.0, _TABLE),
    _cm("shirt", "knit", "waist", 4.0, 8.0, _TABLE),
    _cm("shirt", "knit", "hip", 6.0, 10.0, _TABLE),
    _cm("jacket", "woven", "bust", 8.0, 12.0, _TABLE),
    _cm("jacket", "woven", "waist", 6.0, 10.0, _TABLE),
    _cm("jacket", "woven", "hip", 8.0, 12.0, _TABLE),
    _inches("coat", "woven", "bust", 8.0, 8.0, _VINCENT),
    _inches("coat", "woven", "waist", 4.0, 7.0, _ARMY),
)
"""The table: one row for what a source gives. A chest is measured where a bust is."""

_PLACES = {
    "bust_girth": "bust",
    "chest_girth": "bust",
    "waist_girth": "waist",
    "hip_girth": "hip",
    "thigh_girth": "thigh",
}


class Usual(NamedTuple):
    """The usual ease of a garment at a place, mm; `most` is infinite where a style may be as wide as it likes."""

    least: float
    most: float
    garment: str
    cloth: str
    place: str
    sources: tuple[str, ...]

    @property
    def words(self) -> str:
        """What it is usual for: "the waist of a woven skirt"."""
        garment = self.garment if self.garment == "trousers" else f"a {self.cloth} {self.garment}"
        return f"the {self.place} of {self.cloth + ' ' if self.garment == 'trousers' else ''}{garment}"


def usual_ease(garment: str, tags: Collection[str], measurement: str) -> Usual | None:
    """The usual ease of a garment where a body measurement is taken; None where no source gives one.

    Args:
        garment: the style's word for it ("pencil skirt").
        tags: of the style, that tell the cloth and what is meant to be wide.
        measurement: key of the body measurement.
    """
    place, kind = _PLACES.get(measurement, ""), kind_of(garment)
    said = {tag.casefold() for tag in tags}
    cloth = "knit" if said & KNITS else "woven"
    given = [row for row in USUAL if (row.garment, row.cloth, row.girth) == (kind, cloth, place)]
    if not given:
        return None
    # Patterns meant for knits alone may have little ease or none (Costume text, ch. 16).
    least = -math.inf if cloth == "knit" else min(row.least for row in given)
    wide = said & LOOSE or (place in ("hip", "thigh") and said & FLARED)
    most = math.inf if wide else max(row.most for row in given)
    return Usual(least, most, kind, cloth, place, tuple(dict.fromkeys(row.source for row in given)))


@lru_cache(
    maxsize=256
)  # Asked for each finished measurement of each draft, and a studio has few words for garments.
def kind_of(garment: str) -> str:
    """The kind of garment that a style's word for it names; "" for one that is not in the table."""
    for wording in (garment, *(other for other, _, _ in wordings(garment))):
        words = re.findall(r"[a-z]+", wording.casefold())
        for kind, names in GARMENTS.items():
            if not set(names).isdisjoint(words):
                return kind
    return ""
