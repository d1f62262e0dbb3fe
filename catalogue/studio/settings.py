"""The studio's settings: `site_template/studio.toml`, read once and checked."""

from __future__ import annotations

import datetime
import hashlib
import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

from catalogue.findings import Finding, Place, Severity, Trouble, did_you_mean
from catalogue.frontmatter import decode, read_bytes
from catalogue.lengths import Unit, Units
from catalogue.money import TOO_HIGH, Currency, doubted
from catalogue.people.register import REGISTER, Register
from catalogue.studio.prices import NotionPrice, Prices
from catalogue.studio.setting_values import READERS, Wrong, order_of_dates, read_date

if TYPE_CHECKING:
    from catalogue.studio.alterations import Alteration

LONGEST_LINE = 8_000
LARGEST_SETTINGS = 100_000
"""Characters of a line, and of all the settings; those of a studio come to some two thousand."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What a studio settles once for all its pages and prints.

    Attributes:
        name, strapline: as on the title page.
        language: of the pages (BCP 47).
        units: for clients that say none, and how fractions are shown.
        exchange: names in `setting_values.EXCHANGE` of the files for other machines that are made beside each draft.
        papers: names in `setting_values.PAPERS` that every pattern is printed on.
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


_CHARGED = {
    "hourly_rate": "rate",
    "profit_margin": "margin",
    "tax": "tax",
    "hours": "hours",
    "notion_prices": "notions",
}
"""The settings that say what is charged, and what they are in `Prices`."""


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
    first = order_of_dates(table.get("dates", ""))
    for key, value in table.items():
        place = _place(key, lines, file)
        source = lines[place.line - 1][:200]
        reader = READERS.get(key)
        if reader is None:
            hint = did_you_mean(key, READERS) or "Known: " + ", ".join(READERS) + "."
            findings.append(
                Finding("unknown-key", f"“{key}” is not a setting known here", place, hint, source=source)
            )
            continue
        try:
            values[key] = read_date(value, first) if key == "date" else reader(value)
        except Wrong as wrong:
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


def setting_names() -> Iterator[str]:
    """Every setting a studio.toml can hold."""
    yield from READERS
