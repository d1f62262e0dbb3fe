"""A line of a fitting read as one would say it: which alteration, how much, on which side."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Literal, NamedTuple

from catalogue.findings import nearest
from catalogue.lengths import LengthError, Unit, Units, parse_length, show_length
from catalogue.studio.alterations import Alteration
from catalogue.trade_names import called, wordings

Side = Literal["both", "left", "right"]

_AMOUNT = re.compile(
    r"(?<![\w.,/])"
    r"(?P<amount>(?:\d+\s+\d+\s*[/⁄]\s*\d+|\d+\s*-\s*\d+\s*[/⁄]\s*\d+|\d+\s*[/⁄]\s*\d+|\d+[.,]\d+|[.,]\d+|\d+\s*[½¼¾⅛⅜⅝⅞⅓⅔]|\d+|[½¼¾⅛⅜⅝⅞⅓⅔])"
    r"(?:(?:\s*|-)(?:(?:mm|cms?|inch(?:es)?|ins?|millimet(?:re|er)s?|centimet(?:re|er)s?)\b\.?|''|’’|′′|[\"″”]))?)",
    re.IGNORECASE,
)
_WORD = re.compile(r"[^\W\d_]+(?:[-’'][^\W\d_]+)*")
MOST_NAMED = 8
"""Alterations that a line may mean and that are all named."""
LONGEST = 300
"""Letters of a line: what was seen stands apart."""
_SMALL = frozenset(
    {"a", "an", "the", "by", "of", "at", "to", "from", "with", "on", "in", "is", "was", "it", "its"}
    | {"and", "each", "per", "about"}
)
"""Words that name nothing by themselves."""
_IN_ALL = re.compile(r"\b(in all|altogether|all round|all around|in total)\b", re.IGNORECASE)
_ONLY = re.compile(r",?\s*\(?this garment only\)?|,?\s*for this garment( only)?", re.IGNORECASE)
_SIGNED = re.compile(r"(?<!\S)[-−–](?=[\d.,½¼¾⅛⅜⅝⅞⅓⅔])")
_STRANGE = re.compile(r"[%°<>=×*]")
_BOTH = re.compile(
    r"\b(left|right)\b[^,;]*?(?:\band\b|[&+/])[^,;]*?\b(left|right)\b|\b(left|right), (left|right)\b", re.I
)
THINNEST = 1.0
"""mm below which no change is pinned or drawn: a pencil line is half of it."""
_EITHER_WAY = frozenset({"short", "long", "low", "high", "deep", "wide", "narrow"})
"""Said of a garment, these are what is wrong or what was done, which are opposites: “sleeve short 1 cm”."""
_OF_THE_BODY = frozenset({"shoulder", "bust"})
"""What is said of these is said of the wearer: a shoulder that is low slopes."""
_FORMS = {
    "let": "let",
    "letting": "let",
    "took": "take",
    "taken": "take",
    "taking": "take",
    "takes": "take",
    "lowered": "lower",
    "low": "lower",
    "raised": "raise",
    "higher": "raise",
    "high": "raise",
    "lengthened": "lengthen",
    "longer": "lengthen",
    "long": "lengthen",
    "shortened": "shorten",
    "shorter": "shorten",
    "short": "shorten",
    "deepened": "deeper",
    "deep": "deeper",
    "wider": "wide",
    "widened": "wide",
    "narrower": "narrow",
    "narrowed": "narrow",
    "sway": "swayed",
    "gapes": "gaping",
    "gape": "gaping",
    "slopes": "sloping",
    "sloped": "sloping",
    "rounded": "round",
    "bigger": "large",
    "larger": "large",
    "smaller": "small",
    "bottom": "seat",
    "tummy": "abdomen",
    "belly": "abdomen",
    "stomach": "abdomen",
    "levelled": "level",
    "centre-back": "centre-back",
}


class Understood(NamedTuple):
    """A line that was understood; `amount` in mm on each edge, `only` where it stays with this garment."""

    alteration: Alteration
    amount: float
    side: Side
    only: bool


class NotUnderstood(Exception):
    """What is wrong with a line: a sentence, where in the line, and what would help."""

    def __init__(self, message: str, offset: int = 0, hint: str = "", near: str = "") -> None:
        super().__init__(message)
        self.message, self.offset, self.hint, self.near = message, offset, hint, near


def _plain(word: str) -> str:
    word = word.casefold()
    if word in _FORMS:
        return _FORMS[word]
    if len(word) > 3 and word.endswith("s") and not word.endswith("ss"):
        word = word[:-1]
    return _FORMS.get(word, word)


@lru_cache(maxsize=4096)
def words_of(phrase: str) -> frozenset[str]:
    """The words of a phrase that name something, each in one form."""
    parts = (part for found in _WORD.finditer(phrase) for part in found.group().split("-"))
    return frozenset(_plain(part) for part in parts if part.casefold() not in _SMALL)


def understand(text: str, unit: Unit, known: Mapping[str, Alteration]) -> Understood:
    """What a line of a fitting says, in any order of words.

    Args:
        unit: what a bare number means.
        known: the alterations, by slug.

    Raises:
        NotUnderstood: with the alteration that may be meant.
    """
    if len(text) > LONGEST:
        raise NotUnderstood(
            "this line is too long to be a change", LONGEST, "Write each change on a line of its own."
        )
    only = _ONLY.search(text) is not None
    said = _ONLY.sub("", text)
    in_all = _IN_ALL.search(said) is not None
    said = _IN_ALL.sub(lambda found: " " * len(found.group()), said)
    amounts = list(_AMOUNT.finditer(said))
    rest = _AMOUNT.sub(lambda found: " " * len(found.group()), said)
    side, rest = _side(rest)
    alteration = _named(rest, text, known)
    if strange := _SIGNED.search(said) or _STRANGE.search(rest):
        raise NotUnderstood(
            f"“{strange.group()}” can't stand in a change",
            strange.start(),
            f"Write the amount alone, as in {alteration.names[0]} 6 mm; for less, name the opposite change.",
            alteration.slug,
        )
    if not amounts:
        low, high = (show_length(mm, Units(unit)) for mm in alteration.usual)
        raise NotUnderstood(
            f"how much is missing: “{text}”",
            len(text),
            f"Write the amount, {alteration.amount}: usually {low} to {high}.",
            alteration.slug,
        )
    if len(amounts) > 1:
        raise NotUnderstood(
            f"two amounts stand here: “{amounts[0].group().strip()}” and “{amounts[1].group().strip()}”",
            amounts[1].start(),
            "Write each change on a line of its own.",
            alteration.slug,
        )
    try:
        amount = parse_length(
            re.sub(r"-(?=[a-z])", " ", amounts[0].group("amount").strip(), flags=re.I), unit
        )
    except LengthError as error:
        raise NotUnderstood(
            error.message, amounts[0].start() + error.offset, error.hint, alteration.slug
        ) from None
    if amount <= 0:
        raise NotUnderstood("the amount must be more than 0", amounts[0].start(), "", alteration.slug)
    if amount < THINNEST:
        raise NotUnderstood(
            f"{amounts[0].group().strip()} is less than can be drawn",
            amounts[0].start(),
            "Is the unit right?",
            alteration.slug,
        )
    if in_all:
        amount /= alteration.edges
    return Understood(alteration, amount, side, only)


def _side(rest: str) -> tuple[Side, str]:
    """The side that is named, and the text without it."""
    said, found = rest, list[Side]()

    def take(match: re.Match[str]) -> str:
        word = match.group(1).casefold()
        found.append("left" if word == "left" else "right" if word == "right" else "both")
        return " " * len(match.group())

    rest = re.sub(r"\b(left|right|both)\b(?:\s+sides?\b(?!\s+seam))?", take, rest, flags=re.IGNORECASE)
    sides = set(found)
    if len(sides) > 1 and "both" not in sides:
        if _BOTH.search(said):
            return "both", rest
        raise NotUnderstood("left and right are both named", 0, "Write right, left or both.")
    if "both" in sides and len(sides) > 1:
        raise NotUnderstood("both sides and one side are named", 0, "Write right, left or both.")
    return (sides.pop() if sides else "both"), rest


def _named(rest: str, text: str, known: Mapping[str, Alteration]) -> Alteration:
    """The alteration whose name has most of the words of the line, and all its own words in it."""
    words = words_of(rest)
    if not words:
        raise NotUnderstood(
            f"what was changed is missing: “{text}”", 0, "Write it with the amount, as in swayed back 6 mm."
        )
    best: dict[str, int] = {}
    for alteration in known.values():
        for name in alteration.names:
            own = words_of(name)
            if own <= words:
                best[alteration.slug] = max(best.get(alteration.slug, 0), len(own))
    most = max(best.values(), default=0)
    found = [slug for slug, count in best.items() if count == most]
    if len(found) > 1:
        names = " or ".join(f"“{known[slug].names[0]}”" for slug in found)
        raise NotUnderstood(f"“{text}” may mean {names}", 0, "Write the whole name.", found[0])
    if found:
        alteration = known[found[0]]
        every = frozenset().union(*(words_of(name) for name in alteration.names))
        left = [w for w in _WORD.findall(rest) if not words_of(w) - {"too"} <= every]
        if left:
            at = text.find(left[0])
            raise NotUnderstood(
                f"“{left[0]}” is not understood in “{alteration.names[0]}”",
                max(at, 0),
                f"It is written so: {_some(alteration)}.",
                alteration.slug,
            )
        _same_way(
            rest,
            [n for n in alteration.names if words_of(n) <= words and len(words_of(n)) == most],
            alteration,
            known,
        )
        return alteration
    raise NotUnderstood(f"“{text}” names no alteration known here", 0, _nearest(words, rest, known))


def _same_way(
    rest: str, names: Sequence[str], alteration: Alteration, known: Mapping[str, Alteration]
) -> None:
    """Raise NotUnderstood for a line that may say what is wrong where the names it has say what was done."""
    said = {word.casefold() for word in _WORD.findall(rest)}
    doubtful = said & ({"too"} if words_of(rest) & _OF_THE_BODY else {"too", *_EITHER_WAY})
    for name in names:
        doubtful -= {word.casefold() for word in _WORD.findall(name)}
    if doubtful:
        word = next(w for w in _WORD.findall(rest) if w.casefold() in doubtful)
        others = [known[slug].names[0] for slug in alteration.undone_by if slug in known]
        raise NotUnderstood(
            f"with “{word}” this may be what is wrong or what was done, and the two are opposites",
            rest.find(word),
            f"Write what was done: {' or '.join(f'“{name}”' for name in (alteration.names[0], *others[:1]))}.",
            alteration.slug,
        )


def _some(alteration: Alteration) -> str:
    return "; ".join(alteration.names[:4])


def _nearest(words: frozenset[str], rest: str, known: Mapping[str, Alteration]) -> str:
    """The name that a line looks most like, of those that share a word with it where there are such."""
    fitting = [
        alteration for alteration in known.values() if any(words < words_of(n) for n in alteration.names)
    ]
    if 1 < len(fitting) <= MOST_NAMED:
        which = ", ".join(next(n for n in a.names if words < words_of(n)) for a in fitting)
        return f"Say which: {which}."
    names = [name for alteration in known.values() for name in alteration.names]
    for wording, theirs, ours in wordings(rest):
        if same := [name for name in names if words_of(name) == words_of(wording)]:
            return called(" ".join(rest.split()), nearest(wording, same, least=0.0)[0], theirs, ours)
    sharing = [name for name in names if words_of(name) & words]
    said = " ".join(rest.split()).casefold()
    near = nearest(said, sharing, least=0.3) or nearest(said, names)
    return f"Did you mean “{near[0]}”?" if near else "The page “Fitting” of the handbook lists them all."
