"""What a garment takes beside cloth, counted or measured, at the studio's prices.

A style writes its notions as a reader likes them: "two flat buttons and one to spare", "elastic of 25 mm (the draft
says how long)". How many or how long is then a value of the draft: `buttons_in_all` or `button_count`, `elastic_length`
or `elastic_long`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from decimal import Decimal
from math import ceil
from typing import NamedTuple

from catalogue.drafting import Draft
from catalogue.lengths import LengthError, Units, parse_length, show_length
from catalogue.studio.prices import NotionPrice, Prices
from catalogue.trade_names import wordings

SOLD_BY = 100.0
"""mm: tape, elastic and ribbon are cut off by the 10 cm (common practice, no source)."""
WHOLE_CM, HALF_INCH = 10.0, 12.7
"""mm: what a list to shop by is rounded up to (common practice, no source)."""
_NUMBERS = {
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "seven": 7,
    "eight": 8,
    "nine": 9,
    "ten": 10,
}
_COUNT = re.compile(rf"(\d{{1,3}}|{'|'.join(_NUMBERS)})\s+(?!(?:mm|cm|m|in|yd)\b)\S", re.IGNORECASE)
_MEASURE = re.compile(r"\d[\d.,/ ]{0,8}\s?(?:mm|cm|m|in|yd)\b")
_LENGTH = re.compile(
    r"(?<![\w./])\d[\d.,/ ]{0,8}\s?(mm|cm|m|in|yd)\b(?!\s+(?:a|all|an|back|each|every|front|the)\b)"
)
"""A length in a notion; "2 in front" is none."""
_WORD = re.compile(r"[^\W\d_]+")
_HOW_MANY, _HOW_LONG, _SPARE = "how many", "how long", re.compile(r"\bone to spare\b")


class NotionCost(NamedTuple):
    """A notion that has a price: how it is worked out, and the amount; None where number or length is not known."""

    name: str
    detail: str
    amount: Decimal | None


def notion_costs(
    draft: Draft, prices: Prices, charged: Iterable[str] = ()
) -> tuple[list[NotionCost], list[str]]:
    """The notions of a draft that have a price, and in words those that have none.

    What an order's extras charge for already (`charged`) is in neither.
    """
    found: list[NotionCost] = []
    unpriced: list[str] = []
    already = [words for extra in charged for words in _wordings(extra)]
    for notion in draft.notions:
        plain = re.sub(r"\([^)]*\)", "", notion).strip()
        if any(extra and extra <= _words(plain) for extra in already):
            continue
        # "hook and bar or one flat button": of a choice the first with a price. What follows a comma is a notion too
        # ("sewing thread, buttonhole thread") or a remark ("zip of 60 cm, shortened if need be").
        costs = [cost for part in plain.split(", ") if (cost := _first_priced(part, notion, draft, prices))]
        found += costs
        if not costs and not plain.casefold().startswith("no "):
            unpriced.append(plain)
    return found, unpriced


def notion_words(draft: Draft) -> list[str]:
    """The notions as a list to shop by: where the draft says how many or how long, its figure stands there.

    Lengths are rounded up to whole centimetres or half inches.
    """
    found = []
    for notion in draft.notions:
        plain = re.sub(r"\([^)]*\)", "", notion)
        count = _count(plain, notion, draft) if _HOW_MANY in notion else None
        length = _value(plain, ("_length", "_long"), draft, length=True) if _HOW_LONG in notion else None
        if count is not None:
            spare = bool(_SPARE.search(plain))
            notion = re.sub(r"\([^)]*how many\)", f"({count - spare})", notion)
        if length is not None:
            shown = show_length(_to_buy(length, draft.client.units), draft.client.units)
            notion = re.sub(r"\([^)]*how long\)", f"({shown})", notion)
        found.append(notion)
    return list(notions_in_units(found, draft.client.units))


def notions_in_units(notions: Iterable[str], units: Units) -> tuple[str, ...]:
    """The notions with every length in them in these units: "20 cm zip" as "7 7/8 in zip" where they are inches.

    A length that is written in the client's system stays as it is written.
    """

    def shown(found: re.Match[str]) -> str:
        metric = found[1] not in ("in", "yd")
        if metric == units.primary.is_metric and not units.both:
            return found[0]
        try:
            return show_length(parse_length(found[0], None), units)
        except LengthError:
            return found[0]

    return tuple(_LENGTH.sub(shown, notion) for notion in notions)


def _to_buy(length: float, units: Units) -> float:
    """A length rounded up to what is asked for in a shop; a millimetre over is let go."""
    step = WHOLE_CM if units.primary.is_metric else HALF_INCH
    return ceil((length - 1.0) / step) * step


def _words(text: str) -> set[str]:
    """The words of a text, each as of one thing."""
    return {word.removesuffix("s") for word in _WORD.findall(text.casefold())}


def _wordings(text: str) -> list[set[str]]:
    """The words of a text, and of the same by other names of the trade: a zipper is a zip."""
    return [_words(text), *(_words(wording) for wording, _, _ in wordings(text))]


def _price(notion: str, prices: Mapping[str, NotionPrice]) -> NotionPrice | None:
    """The price whose name is in the notion; of several the longest name's."""
    words = _words(notion)
    fitting = [name for name in prices if any(each <= words for each in _wordings(name))]
    return prices[max(fitting, key=len)] if fitting else None


def _first_priced(part: str, notion: str, draft: Draft, prices: Prices) -> NotionCost | None:
    for way in re.split(r"\bor\b", part):
        price = _price(way, prices.notions)
        if price and (cost := _cost(way.strip(), price, notion, draft, prices)):
            return cost
    return None


def _cost(way: str, price: NotionPrice, notion: str, draft: Draft, prices: Prices) -> NotionCost | None:
    """None where nobody says how long it is: it may not be wanted at all ("bias tape for a heavy cloth")."""
    name = way[:1].upper() + way[1:]
    shown = prices.currency.shown(price.amount)
    if price.length:
        length = _length(way, notion, draft)
        if length is None:
            unknown = NotionCost(name, f"{shown} {price.unit}; how long is not known", None)
            return unknown if _HOW_LONG in notion else None
        sold = ceil(length / SOLD_BY - 1e-6) * SOLD_BY
        amount = price.amount * Decimal(repr(sold)) / Decimal(repr(price.length))
        return NotionCost(name, f"{show_length(sold, draft.client.units)} at {shown} {price.unit}", amount)
    count = _count(way, notion, draft)
    if count is None:
        return NotionCost(name, f"{shown} each; how many is not known", None)
    return NotionCost(name, f"{count} at {shown}" if count > 1 else shown, price.amount * count)


def _value(notion: str, endings: Iterable[str], draft: Draft, *, length: bool) -> float | None:
    """The draft's own figure for a notion, by the name of the value.

    The thing is named before what it is for: "snap tape for the inside of the legs" is no leg's length.
    """
    for word in _WORD.findall(notion.casefold()):
        for ending in endings:
            value = draft.values.get(f"{word.removesuffix('s')}{ending}")
            if value is not None and (value.is_length if length else value.is_number):
                return value.value
    return None


def _count(way: str, notion: str, draft: Draft) -> int | None:
    spare = 1 if _SPARE.search(way) else 0
    if _HOW_MANY in notion:
        drafted = _value(way, ("s_in_all", "_count"), draft, length=False)
        return None if drafted is None else round(drafted) + spare
    stated = _COUNT.match(way)
    return (_NUMBERS.get(stated[1].casefold()) or int(stated[1]) if stated else 1) + spare


def _length(way: str, notion: str, draft: Draft) -> float | None:
    if _HOW_LONG in notion:
        return _value(way, ("_length", "_long"), draft, length=True)
    # "25 mm elastic" is a width; what is bought by length is stated by more than that.
    for stated in _MEASURE.findall(way):
        try:
            if (length := parse_length(stated)) >= SOLD_BY:
                return length
        except LengthError:
            continue
    return None
