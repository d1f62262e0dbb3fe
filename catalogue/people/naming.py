"""How names of measurements are compared: the forms in which people write the same name."""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

from catalogue.trade_names import names_for

SIDES = ("left", "right")

LEFT_OUT = frozenset(
    [
        "a",
        "an",
        "the",
        "your",
        "my",
        "at",
        "of",
        "in",
        "from",
        "down",
        "over",
        "measure",
        "measurement",
        "measured",
        "point",
        "points",
    ]
)
"""Words that change nothing: “the waist measurement”, “from nape down to waist”."""

SAME_WORD = {
    # common practice, no source: what each is written for
    "circumference": "girth",
    "circumf": "girth",
    "circ": "girth",
    "round": "girth",
    "around": "girth",
    "girths": "girth",
    "breadth": "width",
    "wide": "width",
    "long": "length",
    **dict.fromkeys(names_for("centre"), "centre"),
    "cb": "centre back",
    "cf": "centre front",
    "hips": "hip",
    "shoulders": "shoulder",
    "biceps": "bicep",
    **{form: "armscye" for name in names_for("armhole") for form in (name, f"{name}s")},
    **{form: "trouser" for name in names_for("trousers") for form in (name, name.removesuffix("s"))},
    "apex": "bust",
    "underbust": "under bust",
    "underarm": "under arm",
    "cervical": "nape",
    "cervicale": "nape",
    "upperarm": "upper arm",
    "buttock": "hip",
    "buttocks": "hip",
    "outer": "outside",
    "inner": "inside",
    "distance": "width",
    "separation": "width",
    "nipple": "bust",
    "nipples": "bust",
}

_SAME_PHRASE = {
    "breast point": "bust point",
    "arm hole": "armhole",
    "arm eye": "armhole",
    "fore arm": "forearm",
    "in seam": "inseam",
    "out seam": "outseam",
    "outside seam": "outseam",
    "7th vertebra": "nape",
    "seventh vertebra": "nape",
}


def plain_name(name: str) -> str:
    """A name as it is looked up: case, hyphens, underscores, apostrophes, brackets and spaces make no difference."""
    text = unicodedata.normalize("NFKC", name).casefold()
    return " ".join(re.sub(r"[_\-‐‑–,()]", " ", re.sub("['’.]", "", text)).split())


def words_of(name: str) -> tuple[str, ...]:
    """The words of a name, each in the form it is compared in: "Hips, circumference" as ("hip", "girth")."""
    plain = plain_name(name)
    for two, one in _SAME_PHRASE.items():
        if two in plain:
            plain = plain.replace(two, one)
    words = (SAME_WORD.get(word, word) for word in plain.split())
    return tuple(word for some in words for word in some.split())


def loose_name(name: str) -> tuple[str, ...]:
    """What two forms of one name have in common: its words in any order, without those that change nothing."""
    return tuple(sorted(word for word in words_of(name) if word not in LEFT_OUT))


class Sided(NamedTuple):
    """A name, and the side of the body that was written with it: "left", "right" or ""."""

    name: str
    side: str


def split_side(name: str) -> Sided:
    """“shoulder drop right”, “right shoulder drop” and “shoulder drop (right)” as the name and its side."""
    words = plain_name(name).split()
    if len(words) > 1:
        for at in (-1, 0):
            if words[at] in SIDES:
                return Sided(" ".join(words[:-1] if at else words[1:]), words[at])
    return Sided(name, "")
