"""The studio's settings: `site_template/studio.toml`, read once and checked."""

from __future__ import annotations

import datetime
import hashlib
import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

from catalogue.days import ORDERS, not_a_day, read_day
from catalogue.findings import Finding, Place, Severity, Trouble, did_you_mean
from catalogue.frontmatter import decode, read_bytes
from catalogue.lengths import UNIT_WORDS, LengthError, Unit, Units, parse_length
from catalogue.money import TOO_HIGH, Currency, MoneyError, doubted, parse_amount
from catalogue.people.register import REGISTER, Register
from catalogue.studio.prices import NotionPrice, Prices

if TYPE_CHECKING:
    from catalogue.studio.alterations import Alteration

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


LONGEST_LINE = 8_000
LARGEST_SETTINGS = 100_000
"""Characters of a line, and of all the settings; those of a studio come to some two thousand."""

EXCHANGE = {
    "dxf": "all pieces in one file, for other pattern programs",
    "svg": "a file for each piece, for plotters and cutters",
}
"""Files for other machines that can be made beside each draft."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What a studio settles once for all its pages and prints.

    Attributes:
        name, strapline: as on the title page.
        language: of the pages (BCP 47).
        units: for clients that say none, and how fractions are shown.
        exchange: names in `EXCHANGE` of the files for other machines that are made beside each draft.
        papers: names in `PAPERS` that every pattern is printed on.
        margin: mm of every sheet's edge that the printer can't print; None for what is usual for the paper.
        grid: whether a faint grid is drawn over printed patterns.
        accent: the studio's colour, "#rrggbb" in lower case.
        date: printed on drafts; None means the day the client was measured, or none.
        seam_allowance, hem: mm, for styles that state none.
        prices: what the studio charges by.
        register: the body measurements that are known, the studio's own among them.
        alterations: the studio's own; `alterations_digest` changes with any of them.
        findings: what is wrong with the file; the defaults stand in for what couldn't be read.
        digest: hash of the file's bytes, "" without a file.
    """

    name: str = "The pattern studio"
    strapline: str = ""
    language: str = "en"
    units: Units = field(default_factory=Units)
    papers: tuple[str, ...] = ("a4",)
    exchange: tuple[str, ...] = ()
    margin: float | None = None
    grid: bool = False
    accent: str = "#8c3b2e"
    date: datetime.date | None = None
    seam_allowance: float = 15.0
    hem: float = 40.0
    findings: tuple[Finding, ...] = ()
    digest: str = ""
    register: Register = REGISTER
    alterations: tuple[Alteration, ...] = field(default=(), compare=False, repr=False)
    alterations_digest: str = ""
    prices: Prices = field(default_factory=Prices)

    @property
    def ok(self) -> bool:
        return not any(f.is_error for f in self.findings)


class _Wrong(Exception):
    """A value that can't be used: what was expected, and a hint."""

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


def read_settings(path: Path | None, root: Path | None = None) -> Settings:
    """The settings in the file at `path`; None, or a file that isn't there, gives the defaults.

    Never raises for what the file holds: problems become `findings`. `root` is the studio's folder, for
    naming the file in them.
    """
    if path is None or not path.exists():
        return Settings()
    file = path.relative_to(root).as_posix() if root and path.is_relative_to(root) else path.as_posix()
    try:
        data = read_bytes(path, file)
        text = decode(data, file)
    except Trouble as trouble:
        return Settings(findings=trouble.findings)
    digest = hashlib.sha256(data).hexdigest()
    lines = text.split("\n")
    if too_long := _too_long(lines, file):
        return Settings(findings=(too_long,), digest=digest)
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return Settings(findings=(_broken(error, lines, file),), digest=digest)
    except (ValueError, RecursionError):
        finding = Finding("toml", "a number here is too long, or lists go too deep", Place(file))
        return Settings(findings=(finding,), digest=digest)
    findings: list[Finding] = []
    values: dict[str, Any] = {}
    first = _order_of_dates(table.get("dates", ""))
    for key, value in table.items():
        place = _place(key, lines, file)
        source = lines[place.line - 1][:200]
        reader = _READERS.get(key)
        if reader is None:
            hint = did_you_mean(key, _READERS) or "Known: " + ", ".join(_READERS) + "."
            findings.append(
                Finding("unknown-key", f"“{key}” is not a setting known here", place, hint, source=source)
            )
            continue
        try:
            values[key] = _date(value, first) if key == "date" else reader(value)
        except _Wrong as wrong:
            findings.append(
                Finding("bad-setting", f"{key}: {wrong.message}", place, wrong.hint, source=source)
            )
    units = Units(
        values.pop("units", Unit.CM),
        values.pop("inch_fraction", 16),
        values.pop("show_both_units", False),
        values.pop("decimal_comma", False),
        values.pop("dates", ""),
    )
    currency = Currency(
        values.pop("currency", ""), values.pop("round_prices_to", Decimal("0.01")), units.comma
    )
    charged = {name: values.pop(key) for key, name in _CHARGED.items() if key in values}
    values["prices"] = Prices(currency, **charged)
    settings = replace(Settings(units=units, digest=digest), **values)
    findings += _doubted_prices(settings.prices.notions, lines, file)
    if "accent" in values and contrast_with_white(settings.accent) < 4.5:
        place = _place("accent", lines, file)
        message = f"the accent {settings.accent} is too pale to read on paper"
        hint = "Use a darker one: text needs a contrast of 4.5 to 1 against white (WCAG 2, 1.4.3)."
        source = lines[place.line - 1][:200]
        findings.append(Finding("pale-accent", message, place, hint, Severity.WARNING, source))
    return replace(settings, findings=tuple(sorted(findings, key=lambda f: f.place or Place(file))))


def _doubted_prices(notions: Mapping[str, NotionPrice], lines: list[str], file: str) -> Iterator[Finding]:
    """Warnings of notions' prices that lack their decimal point, beside those of the others that are sold alike."""
    for name, price in notions.items():
        alike = (each.amount for key, each in notions.items() if key != name and each.length == price.length)
        if meant := doubted(price.amount, alike):
            place = _place("notion_prices", lines, file)
            message = f"notion_prices: {price.amount} for {name} is over {TOO_HIGH} times what most notions cost here"
            hint = f"Did you mean {meant}? Then write its decimal point."
            yield Finding("high-price", message, place, hint, Severity.WARNING, lines[place.line - 1][:200])


def contrast_with_white(colour: str) -> float:
    """Contrast of "#rrggbb" with white, 1 to 21, as WCAG 2 defines it."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 1.05 / (0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2] + 0.05)


def _place(key: str, lines: list[str], file: str) -> Place:
    """Where a key stands: the standard library's reader doesn't say."""
    pattern = re.compile(rf"(\s*\[?\s*)[\"']?{re.escape(key)}[\"']?\s*[=.\]]")
    for number, line in enumerate(lines, 1):
        if found := pattern.match(line):
            return Place(file, number, found.end(1) + 1)
    return Place(file)


def _too_long(lines: list[str], file: str) -> Finding | None:
    """What is longer than any settings are: the reader's work grows with the square of a key's parts."""
    long = next((n for n, line in enumerate(lines, 1) if len(line) > LONGEST_LINE), 0)
    if long:
        message = f"this line is longer than {LONGEST_LINE:,} characters"
        return Finding("too-long", message, Place(file, long), "Break it up.", source=lines[long - 1][:200])
    if sum(map(len, lines)) > LARGEST_SETTINGS:
        message = f"settings of more than {LARGEST_SETTINGS:,} characters are not read"
        return Finding("too-long", message, Place(file), "Leave out what is not needed.")
    return None


def _broken(error: tomllib.TOMLDecodeError, lines: list[str], file: str) -> Finding:
    found = re.search(r"\(at line (\d+), column (\d+)\)", str(error))
    place = Place(file, len(lines), len(lines[-1]) + 1)
    if found:
        place = Place(file, int(found[1]), int(found[2]))
    line = lines[place.line - 1] if place.line <= len(lines) else ""
    if "overwrite" in str(error):
        message, hint = "this setting is given twice", "Keep one of the two."
    else:
        message = "this line can't be read as a setting"
        hint = 'Write key = "text", with quotes round every text; a remark begins with #.'
    return Finding("toml", message, place, hint, source=line[:200])


_JOINERS = "\u200c\u200d\u200e\u200f"
"""Signs without a shape that Persian, Hindi and Arabic are written with."""


def _text(value: Any) -> str:
    if not isinstance(value, str):
        raise _Wrong("a text is expected", 'Put quotes round it, as in "Rosa\'s workroom".')
    if len(value) > 200:
        raise _Wrong("this text is longer than 200 characters")
    text = " ".join(value.split())
    if hidden := next((c for c in text if not c.isprintable() and c not in _JOINERS), ""):
        raise _Wrong(
            f"there is a hidden character (code {ord(hidden):04X}) in this text", "Type the text again."
        )
    return text


def _name(value: Any) -> str:
    if not (text := _text(value)):
        raise _Wrong("the studio's name is empty")
    return text


def _language(value: Any) -> str:
    text = _text(value)
    if not re.fullmatch(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8}){0,3}", text):
        raise _Wrong(f"“{text}” is not a language code", 'Write a code such as "en" or "en-GB".')
    return text


def _unit(value: Any) -> Unit:
    text = _text(value).casefold().rstrip(".")
    unit = UNIT_WORDS.get(text, "")
    if unit not in ("mm", "cm", "in"):
        raise _Wrong(f"“{text}” is not a unit known here", 'Write "inches", "cm" or "mm".')
    return Unit(unit)


def _yes(value: Any) -> bool:
    if not isinstance(value, bool):
        raise _Wrong("true or false is expected", "Write it without quotes.")
    return value


def _dates(value: Any) -> str:
    text = _text(value).casefold().removesuffix(" first")
    if text not in ORDERS:
        raise _Wrong(f"“{value}” is no order of dates", 'Write "day first", "month first" or "year first".')
    return text


def _fraction(value: Any) -> int:
    if isinstance(value, bool) or value not in (8, 16):
        raise _Wrong("8 or 16 is expected: inches to the nearest 1/8 or 1/16")
    return int(value)


def _exchange(value: Any) -> tuple[str, ...]:
    names = [value] if isinstance(value, str) else value
    if not isinstance(names, list):
        raise _Wrong("a list of kinds of file is expected", 'Write ["dxf", "svg"], or [] for none.')
    kinds = tuple(dict.fromkeys(_text(name).casefold() for name in names))
    for name in kinds:
        if name not in EXCHANGE:
            hint = did_you_mean(name, EXCHANGE) or "Known: " + ", ".join(EXCHANGE) + "."
            raise _Wrong(f"“{name}” is not a kind of file known here", hint)
    return kinds


def _papers(value: Any) -> tuple[str, ...]:
    names = [value] if isinstance(value, str) else value
    if not isinstance(names, list) or not names:
        raise _Wrong("a list of paper sizes is expected", 'Write ["a4"] or ["a4", "letter"].')
    return tuple(dict.fromkeys(_paper(name) for name in names))


def _paper(value: Any) -> str:
    name = _text(value).casefold().replace(" ", "-")
    if name not in PAPERS:
        hint = did_you_mean(name, PAPERS) or "Known: " + ", ".join(PAPERS) + "."
        raise _Wrong(f"“{name}” is not a paper size known here", hint)
    return name


def _length(low: float, high: float) -> Callable[[Any], float]:
    def read(value: Any) -> float:
        text = _text(value) if isinstance(value, str) else str(value)
        try:
            mm = parse_length(text)
        except LengthError as error:
            raise _Wrong(error.message, error.hint or 'Write "1.5 cm", with its unit, in quotes.') from None
        if not low <= mm <= high:
            raise _Wrong(f"{text} is out of range: {low:g} mm to {high:g} mm is expected")
        return mm

    return read


def _colour(value: Any) -> str:
    text = _text(value).casefold()
    if found := re.fullmatch(r"#([0-9a-f])([0-9a-f])([0-9a-f])", text):
        return "#" + "".join(c * 2 for c in found.groups())
    if not re.fullmatch(r"#[0-9a-f]{6}", text):
        raise _Wrong(f"“{text}” is not a colour", 'Write it as "#8c3b2e": six digits from 0 to 9 and a to f.')
    return text


def _date(value: Any, first: str = "") -> datetime.date:
    if isinstance(value, datetime.datetime):
        return value.date()
    if isinstance(value, datetime.date):
        return value
    text = _text(value)
    if day := read_day(text, first):
        return day
    raise _Wrong(*not_a_day(text, first))


def _order_of_dates(value: Any) -> str:
    """What is written first of a date; "" where nothing is settled, or not in a way that can be read."""
    try:
        return _dates(value)
    except _Wrong:
        return ""


def _sign(value: Any) -> str:
    text = _text(value)
    if len(text) > 4 or any(c.isdigit() for c in text):
        raise _Wrong(f"“{text}” is not the sign of a currency", 'Write it as in "£" or "EUR".')
    return text


def _amount(value: Any) -> Decimal:
    text = _text(value) if isinstance(value, str) else str(value)
    try:
        return parse_amount(text)
    except MoneyError as error:
        raise _Wrong(error.message, error.hint or 'Write it as in "18.50".') from None


def _step(value: Any) -> Decimal:
    if not (amount := _amount(value)):
        raise _Wrong("prices can't be rounded to nothing", 'Write it as in "1" or "0.05".')
    return amount


def _percent(value: Any) -> Decimal:
    text = _text(value) if isinstance(value, str) else str(value)
    found = re.fullmatch(r"(\d{1,3}(?:[.,]\d{1,2})?)\s*%?", text)
    if not found or Decimal(found[1].replace(",", ".")) > 100:
        raise _Wrong(f"“{text}” is not a percentage from 0 to 100", 'Write it as in "20 %".')
    return Decimal(found[1].replace(",", ".")) / 100


def _hours(value: Any) -> dict[str, tuple[tuple[str, Decimal], ...]]:
    hint = "Write { skirt = 4, shirt = 9.5 }."
    if not isinstance(value, dict):
        raise _Wrong("hours for each kind of garment are expected", hint)
    found = {}
    for garment, number in value.items():
        steps = number if isinstance(number, dict) else {"": number}
        if not steps or not all(_are_hours(hours) for hours in steps.values()):
            raise _Wrong(f"{garment}: a number of hours is expected", hint)
        name = " ".join(garment.split()).casefold()
        found[name] = tuple((" ".join(step.split()), Decimal(str(hours))) for step, hours in steps.items())
    return found


def _are_hours(number: Any) -> bool:
    return not isinstance(number, bool) and isinstance(number, int | float) and 0 < number <= 500


def _notions(value: Any) -> dict[str, NotionPrice]:
    hint = 'Write { zip = "2.40", elastic = "1.20 a metre" }.'
    if not isinstance(value, dict):
        raise _Wrong("a price for each notion is expected", hint)
    found = {}
    for name, price in value.items():
        text = _text(price) if isinstance(price, str) else str(price)
        read = _NOTION_PRICE.fullmatch(" ".join(text.split()))
        try:
            amount = parse_amount(read[1] if read else text)
        except MoneyError as error:
            raise _Wrong(f"{name}: {error.message}", error.hint or hint) from None
        unit = (read[2] or "each").casefold() if read else "each"
        length = 0.0 if unit == "each" else 914.4 if unit.startswith("y") else 1000.0
        found[" ".join(name.split()).casefold()] = NotionPrice(amount, length)
    return found


_NOTION_PRICE = re.compile(
    r"(.+?)\s*(?:(?:/|\ba\b|\bper\b|\beach\b)\s*(m|metres?|meters?|yd|yards?)?)\.?", re.IGNORECASE
)
_CHARGED = {
    "hourly_rate": "rate",
    "profit_margin": "margin",
    "tax": "tax",
    "hours": "hours",
    "notion_prices": "notions",
}
_READERS: dict[str, Callable[[Any], Any]] = {
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
    "date": _date,
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


def setting_names() -> Iterator[str]:
    """Every setting a studio.toml can hold."""
    yield from _READERS
