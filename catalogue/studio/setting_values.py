"""What each setting of a studio may hold, and how it is written."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from catalogue.days import ORDERS, not_a_day, read_day
from catalogue.findings import did_you_mean
from catalogue.lengths import UNIT_WORDS, LengthError, Unit, parse_length
from catalogue.money import MoneyError, parse_amount
from catalogue.studio.prices import NotionPrice

if TYPE_CHECKING:
    pass

PAPERS = {
    "a0": (841.0, 1189.0),
    "a1": (594.0, 841.0),
    "a2": (420.0, 594.0),
    "a3": (297.0, 420.0),
    "a4": (210.0, 297.0),
    "letter": (215.9, 279.4),
    "legal": (215.9, 355.6),
    "tabloid": (279.4, 431.8),
    "roll-24in": (609.6, 5_000.0),
    "roll-36in": (914.4, 5_000.0),
    "roll-42in": (1066.8, 5_000.0),
    "roll-610mm": (610.0, 5_000.0),
    "roll-914mm": (914.0, 5_000.0),
}
"""Paper sizes by name: width and height in mm. ISO 216; 8 1/2 x 11, 8 1/2 x 14, 11 x 17 in; and rolls of a
plotter, with the longest that is printed.
"""

EXCHANGE = {
    "dxf": "all pieces in one file, for other pattern programs",
    "svg": "a file for each piece, for plotters and cutters",
}
"""Files for other machines that can be made beside each draft."""


class Wrong(Exception):
    """A value that can't be used: what was expected, and a hint."""

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


_JOINERS = "\u200c\u200d\u200e\u200f"
"""Signs without a shape that Persian, Hindi and Arabic are written with."""


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise Wrong("a text is expected", 'Put quotes round it, as in "Rosa\'s workroom".')
    if len(value) > 200:
        raise Wrong("this text is longer than 200 characters")
    text = " ".join(value.split())
    if hidden := next((c for c in text if not c.isprintable() and c not in _JOINERS), ""):
        raise Wrong(
            f"there is a hidden character (code {ord(hidden):04X}) in this text", "Type the text again."
        )
    return text


def _name(value: Any) -> str:
    if not (text := _text(value)):
        raise Wrong("the studio's name is empty")
    return text


def _language(value: Any) -> str:
    text = _text(value)
    if not re.fullmatch(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8}){0,3}", text):
        raise Wrong(f"“{text}” is not a language code", 'Write a code such as "en" or "en-GB".')
    return text


def _unit(value: Any) -> Unit:
    text = _text(value).casefold().rstrip(".")
    unit = UNIT_WORDS.get(text, "")
    if unit not in ("mm", "cm", "in"):
        raise Wrong(f"“{text}” is not a unit known here", 'Write "inches", "cm" or "mm".')
    return Unit(unit)


def _yes(value: Any) -> bool:
    if not isinstance(value, bool):
        raise Wrong("true or false is expected", "Write it without quotes.")
    return value


def _dates(value: Any) -> str:
    text = _text(value).casefold().removesuffix(" first")
    if text not in ORDERS:
        raise Wrong(f"“{value}” is no order of dates", 'Write "day first", "month first" or "year first".')
    return text


def _fraction(value: Any) -> int:
    if isinstance(value, bool) or value not in (8, 16):
        raise Wrong("8 or 16 is expected: inches to the nearest 1/8 or 1/16")
    return int(value)


def _exchange(value: Any) -> tuple[str, ...]:
    names = [value] if isinstance(value, str) else value
    if not isinstance(names, list):
        raise Wrong("a list of kinds of file is expected", 'Write ["dxf", "svg"], or [] for none.')
    kinds = tuple(dict.fromkeys(_text(name).casefold() for name in names))
    for name in kinds:
        if name not in EXCHANGE:
            hint = did_you_mean(name, EXCHANGE) or "Known: " + ", ".join(EXCHANGE) + "."
            raise Wrong(f"“{name}” is not a kind of file known here", hint)
    return kinds


def _papers(value: Any) -> tuple[str, ...]:
    names = [value] if isinstance(value, str) else value
    if not isinstance(names, list) or not names:
        raise Wrong("a list of paper sizes is expected", 'Write ["a4"] or ["a4", "letter"].')
    return tuple(dict.fromkeys(_paper(name) for name in names))


def _paper(value: Any) -> str:
    name = _text(value).casefold().replace(" ", "-")
    if name not in PAPERS:
        hint = did_you_mean(name, PAPERS) or "Known: " + ", ".join(PAPERS) + "."
        raise Wrong(f"“{name}” is not a paper size known here", hint)
    return name


def _length(low: float, high: float) -> Callable[[Any], float]:
    def read(value: Any) -> float:
        text = _text(value) if isinstance(value, str) else str(value)
        try:
            mm = parse_length(text)
        except LengthError as error:
            raise Wrong(error.message, error.hint or 'Write "1.5 cm", with its unit, in quotes.') from None
        if not low <= mm <= high:
            raise Wrong(f"{text} is out of range: {low:g} mm to {high:g} mm is expected")
        return mm

    return read


def _colour(value: Any) -> str:
    text = _text(value).casefold()
    if found := re.fullmatch(r"#([0-9a-f])([0-9a-f])([0-9a-f])", text):
        return "#" + "".join(c * 2 for c in found.groups())
    if not re.fullmatch(r"#[0-9a-f]{6}", text):
        raise Wrong(f"“{text}” is not a colour", 'Write it as "#8c3b2e": six digits from 0 to 9 and a to f.')
    return text


def read_date(value: Any, first: str = "") -> datetime.date:
    if isinstance(value, datetime.datetime):
        return value.date()
    if isinstance(value, datetime.date):
        return value
    text = _text(value)
    if day := read_day(text, first):
        return day
    raise Wrong(*not_a_day(text, first))


def order_of_dates(value: Any) -> str:
    """What is written first of a date; "" where nothing is settled, or not in a way that can be read."""
    try:
        return _dates(value)
    except Wrong:
        return ""


def _sign(value: Any) -> str:
    text = _text(value)
    if len(text) > 4 or any(c.isdigit() for c in text):
        raise Wrong(f"“{text}” is not the sign of a currency", 'Write it as in "£" or "EUR".')
    return text


def _amount(value: Any) -> Decimal:
    text = _text(value) if isinstance(value, str) else str(value)
    try:
        return parse_amount(text)
    except MoneyError as error:
        raise Wrong(error.message, error.hint or 'Write it as in "18.50".') from None


def _step(value: Any) -> Decimal:
    if not (amount := _amount(value)):
        raise Wrong("prices can't be rounded to nothing", 'Write it as in "1" or "0.05".')
    return amount


def _percent(value: Any) -> Decimal:
    text = _text(value) if isinstance(value, str) else str(value)
    found = re.fullmatch(r"(\d{1,3}(?:[.,]\d{1,2})?)\s*%?", text)
    if not found or Decimal(found[1].replace(",", ".")) > 100:
        raise Wrong(f"“{text}” is not a percentage from 0 to 100", 'Write it as in "20 %".')
    return Decimal(found[1].replace(",", ".")) / 100


def _hours(value: Any) -> dict[str, tuple[tuple[str, Decimal], ...]]:
    hint = "Write { skirt = 4, shirt = 9.5 }."
    if not isinstance(value, dict):
        raise Wrong("hours for each kind of garment are expected", hint)
    found = {}
    for garment, number in value.items():
        steps = number if isinstance(number, dict) else {"": number}
        if not steps or not all(_are_hours(hours) for hours in steps.values()):
            raise Wrong(f"{garment}: a number of hours is expected", hint)
        name = " ".join(garment.split()).casefold()
        found[name] = tuple((" ".join(step.split()), Decimal(str(hours))) for step, hours in steps.items())
    return found


def _are_hours(number: Any) -> bool:
    return not isinstance(number, bool) and isinstance(number, int | float) and 0 < number <= 500


def _notions(value: Any) -> dict[str, NotionPrice]:
    hint = 'Write { zip = "2.40", elastic = "1.20 a metre" }.'
    if not isinstance(value, dict):
        raise Wrong("a price for each notion is expected", hint)
    found = {}
    for name, price in value.items():
        text = _text(price) if isinstance(price, str) else str(price)
        read = _NOTION_PRICE.fullmatch(" ".join(text.split()))
        try:
            amount = parse_amount(read[1] if read else text)
        except MoneyError as error:
            raise Wrong(f"{name}: {error.message}", error.hint or hint) from None
        unit = (read[2] or "each").casefold() if read else "each"
        length = 0.0 if unit == "each" else 914.4 if unit.startswith("y") else 1000.0
        found[" ".join(name.split()).casefold()] = NotionPrice(amount, length)
    return found


_NOTION_PRICE = re.compile(
    r"(.+?)\s*(?:(?:/|\ba\b|\bper\b|\beach\b)\s*(m|metres?|meters?|yd|yards?)?)\.?", re.IGNORECASE
)
READERS: dict[str, Callable[[Any], Any]] = {
    "name": _name,
    "strapline": _text,
    "language": _language,
    "units": _unit,
    "show_both_units": _yes,
    "inch_fraction": _fraction,
    "decimal_comma": _yes,
    "dates": _dates,
    "papers": _papers,
    "exchange": _exchange,
    "margin": _length(0.0, 50.0),
    "grid": _yes,
    "accent": _colour,
    "date": read_date,
    "seam_allowance": _length(0.0, 100.0),
    "hem": _length(0.0, 300.0),
    "currency": _sign,
    "hourly_rate": _amount,
    "profit_margin": _percent,
    "tax": _percent,
    "round_prices_to": _step,
    "hours": _hours,
    "notion_prices": _notions,
}
