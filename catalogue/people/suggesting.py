"""What measurement a name that is not known most likely means: told by its words before its letters."""

from __future__ import annotations

import re
from collections.abc import Mapping
from difflib import SequenceMatcher, get_close_matches
from functools import lru_cache

from catalogue.people.naming import LEFT_OUT, SAME_WORD, plain_name, words_of
from catalogue.trade_names import names_for, wordings

_KINDS = frozenset("girth length width height depth rise drop slope weight seam".split())  # noqa: SIM905
_WHERE = frozenset(
    "front back inside outside side upper lower high low mid middle under above below full centre cross across".split()  # noqa: SIM905
)
_LIKE_KINDS = (
    # How far one kind of measurement is from being written for another (common practice, no source).
    (frozenset(("length", "depth")), 0.6),
    (frozenset(("length", "height")), 0.6),
    (frozenset(("depth", "height")), 0.5),
    (frozenset(("depth", "rise")), 0.7),
    (frozenset(("drop", "slope")), 0.8),
    (frozenset(("length", "seam")), 0.6),
    (frozenset(("width", "length")), 0.2),
)
ALMOST_THE_SAME = 0.72
"""Letters two words must share to be the same word misspelt."""
LONGEST_WORD, MOST_WORDS = 20, 10
"""What is longer is no misspelt name."""
LEAST = 0.42
"""Likeness below which nothing is suggested."""


Words = tuple[str, ...]
_BODY = 3.0
_MEANT = dict.fromkeys(names_for("abdomen"), "abdomen")
"""Words near enough to suggest another, and too far from it to be taken for it."""


_GARMENTS = frozenset(
    (
        "skirt",
        "dress",
        "jacket",
        "coat",
        "waistcoat",
        "shirt",
        "blouse",
        "cape",
        "robe",
        "apron",
        "shorts",
        "garment",
    )
)
_OF_A_GARMENT = re.compile(
    r"(?:(?:finished|garment|total) )?(?:hem|cuff|turn up|waistband|yoke|pocket|placket|sleeve cap)"
    r"(?: (?:length|width|depth|height|girth|circumference|allowance))?|.*\bease"
)


def is_of_a_garment(name: str) -> bool:
    """Whether a name is of what a style chooses and nobody measures on a body: “skirt length”, “sleeve head height”."""
    for wording in (plain_name(name), *(other for other, _, _ in wordings(name))):
        *of, what = wording.split() or [""]
        if (what == "length" and set(of) & _GARMENTS) or _OF_A_GARMENT.fullmatch(wording):
            return True
    return False


def weight_of(word: str) -> float:
    """How much a word says: which part of the body most, then where on it, then what kind of measurement."""
    if word in ("to", "trouser"):
        return 0.4
    return 1.2 if word in _KINDS else 1.6 if word in _WHERE else _BODY


def likeness(wanted: Words, known: Words) -> float:
    """How alike two names are, from 0 to 1: the weight of the words they share beside that of all their words."""
    left = list(known)
    shared = total = 0.0
    for word in wanted:
        best = max(left, key=lambda other: _word_likeness(word, other), default="")
        alike = _word_likeness(word, best) if best else 0.0
        if alike > 0:
            left.remove(best)
            weight = max(weight_of(word), weight_of(best)) if alike == 1 else weight_of(best)
            shared += alike * weight
            total += weight
        else:
            total += weight_of(word)
    alike = shared / (total + sum(weight_of(word) for word in left)) if total else 0.0
    # A length from one part of the body to another is none that ends elsewhere, and no girth.
    if "to" in wanted and ("to" not in known or any(weight_of(word) == _BODY for word in left)):
        return alike * 0.55
    return alike * 0.8 if "to" in left else alike


@lru_cache(maxsize=8192)
def _word_likeness(word: str, other: str) -> float:
    if word == other:
        return 1.0
    for pair, alike in _LIKE_KINDS:
        if pair == {word, other}:
            return alike
    if min(len(word), len(other)) < 3 or max(len(word), len(other)) > LONGEST_WORD:
        return 0.0
    if sorted(word) == sorted(other):
        return 0.95  # Two letters changed over: the commonest slip.
    matcher = SequenceMatcher(None, word, other)
    if matcher.real_quick_ratio() < ALMOST_THE_SAME or matcher.quick_ratio() < ALMOST_THE_SAME:
        return 0.0
    ratio = matcher.ratio()
    return ratio if (ratio >= ALMOST_THE_SAME and word[0] == other[0]) or ratio > 0.8 else 0.0


def most_like(name: str, known: Mapping[str, bool]) -> str:
    """The name of `known` that `name` most likely means, "" when none is likely.

    Of names that are equally likely one that `known` has as True, a standard name, goes before an everyday one.
    """
    if len(name) > MOST_WORDS * LONGEST_WORD:
        return ""
    wanted = _words(name, mended=True)
    if not 0 < len(wanted) <= MOST_WORDS or max(map(len, wanted)) > LONGEST_WORD:
        return ""
    together = "".join(wanted)
    best, found = (LEAST, False, 0.0), ""
    for other, standard in known.items():
        words = _words_known(other)
        score = round(likeness(wanted, words), 6)
        if (score, standard) < best[:2]:
            continue
        letters = SequenceMatcher(None, together, "".join(words)).ratio()
        if (score, standard, letters) > best:
            best, found = (score, standard, letters), other
    return found


def _words(name: str, *, mended: bool = False) -> Words:
    """The words that count; `mended` takes a misspelt “circumfrence” for what it is written for."""
    words = words_of(name)
    if mended and len(words) <= MOST_WORDS:
        words = words_of(" ".join(_MEANT.get(word) or _mended(word) for word in words))
    return tuple(word for word in words if word not in LEFT_OUT) or words


_words_known = lru_cache(maxsize=4096)(_words)


def _mended(word: str) -> str:
    close = get_close_matches(word, [other for other in SAME_WORD if len(other) > 4], 1, 0.8)
    return close[0] if close else word
