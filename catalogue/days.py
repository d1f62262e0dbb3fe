"""Days as they are written: in words for pages and prints, and read from a client's file in the studio's own order."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable

ORDERS = ("day", "month", "year")
"""What may come first when a day is written."""

_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_MONTH_NUMBERS = {
    form: number for number, name in enumerate(_MONTHS, 1) for form in (name.casefold(), name[:3].casefold())
} | {"sept": 9}
_BETWEEN = r"\s*[./ -]\s*"
_NAME = r"[A-Za-z]{3,9}\.?"
_YEAR_FIRST = re.compile(r"\d{4}-\d{2}-\d{2}")
_NEARLY_YEAR_FIRST = re.compile(rf"(\d{{4}}){_BETWEEN}(\d{{1,2}}){_BETWEEN}(\d{{1,2}})")
_YEAR_LAST = re.compile(rf"(\d{{1,2}}){_BETWEEN}(\d{{1,2}}){_BETWEEN}(\d{{4}}|\d{{2}})")
_IN_WORDS = re.compile(
    rf"(?P<day>\d{{1,2}})(?:st|nd|rd|th)? (?P<month>{_NAME})(?:,)? (?P<year>\d{{4}})"
    rf"|(?P<name>{_NAME}) (?P<of>\d{{1,2}})(?:st|nd|rd|th)?(?:,)? (?P<in>\d{{4}})"
)
WRITTEN = (
    r"(?:\d{4}[./-]\d{1,2}[./-]\d{1,2}|\d{1,2}\s?[./-]\s?\d{1,2}\s?[./-]\s?(?:\d{4}|\d{2})(?!\d)"
    rf"|\d{{1,2}}(?:st|nd|rd|th)? {_NAME},? \d{{4}}|{_NAME} \d{{1,2}}(?:st|nd|rd|th)?,? \d{{4}})"
)
"""What has the form of a day inside a longer text, be it one that can be read or not; without groups of its own."""


def day_words(day: datetime.date, first: str = "day") -> str:
    """A day in English, the same on every machine: "5 March 2026", "March 5, 2026" or "2026-03-05"."""
    if first == "year":
        return day.isoformat()
    month = _MONTHS[day.month - 1]
    return f"{month} {day.day}, {day.year}" if first == "month" else f"{day.day} {month} {day.year}"


def day_shown(day: datetime.date, first: str = "") -> str:
    """A day as a file has it, for messages: year-month-day, or in words where the studio settled an order."""
    return day_words(day, first or "year")


def is_a_day(text: str, first: str = "") -> bool:
    """Whether a text has the form of a day that is read, though there may be no such day: 2026-02-30."""
    if _YEAR_FIRST.fullmatch(text) or _named(text):
        return True
    found = _YEAR_LAST.fullmatch(text)
    return bool(found and len(found[3]) == 4 and first in ("day", "month"))


def looks_like_a_day(text: str) -> bool:
    """Whether a text is meant for a day, be it one that can be read or not: 3/4/26."""
    return any(p.fullmatch(text.strip()) for p in (_NEARLY_YEAR_FIRST, _YEAR_LAST)) or bool(_named(text))


def read_day(text: str, first: str = "") -> datetime.date | None:
    """The day that is written: year-month-day and the month in words always, figures with the year last as settled.

    Args:
        first: "day" for 5.3.2026 or 05/03/2026, "month" for 3/5/2026; "" or "year" where neither is read.
    """
    text = text.strip()
    if not is_a_day(text, first):
        return None
    if _YEAR_FIRST.fullmatch(text):
        return _day(*map(int, text.split("-")))
    if named := _named(text):
        return _day(*named)
    one, other, year = _figures(text)
    return _day(year, other, one) if first == "day" else _day(year, one, other)


def not_a_day(text: str, first: str = "", *, in_a_file: bool = True) -> tuple[str, str]:
    """For a text that `read_day` gives nothing for: what is wrong with it, and what to write.

    Where day and month could be either, both days are named, each as it is to be written. The order that a studio
    settles holds for what is written in its files.
    """
    text = text.strip()
    shown = text[:40]
    if is_a_day(text, first) and not _YEAR_LAST.fullmatch(text):
        return f"there is no day {shown}", _EXAMPLE
    if found := _NEARLY_YEAR_FIRST.fullmatch(text):
        day = _day(*map(int, found.groups()))
        hint = f"Write {day.isoformat()}." if day else _EXAMPLE
        return f"“{shown}” is not a date as it is read here", hint
    if not _YEAR_LAST.fullmatch(text):
        return f"“{shown}” is not a date", _EXAMPLE
    one, other, year = _figures(text)
    if year < 100:
        return f"the year of “{shown}” has two figures", f"Write the year in full. {_EXAMPLE}"
    meant = {"day": _day(year, other, one), "month": _day(year, one, other)}
    days = [day for day in dict.fromkeys((meant["day"], meant["month"])) if day]
    if not days:
        return f"there is no day {shown}", _EXAMPLE
    if first in meant:
        right = days[0]
        figures = f"{right.day:02}/{right.month:02}" if first == "day" else f"{right.month:02}/{right.day:02}"
        message = f"there is no day {shown}: the studio's settings say that the {first} is written first"
        return message, f"Write {figures}/{year}, or {right.isoformat()}."
    if len(days) == 1:
        return f"“{shown}” is not a date as it is read here", f"Write {days[0].isoformat()}."
    ways = " or ".join(f"{day.isoformat()} for {day_words(day)}" for day in days)
    message = f"“{shown}” may be {day_words(days[0])} or {day_words(days[1])}"
    settled = '; or settle it for all files by dates = "day first" in studio.toml' if in_a_file else ""
    return message, f"Write {ways}{settled}."


def if_turned_round(
    day: datetime.date,
    fits: Callable[[datetime.date], bool],
    first: str = "",
    beside: datetime.date | None = None,
) -> str:
    """A hint for a day that is out of place: the one with day and month changed over where it `fits`, else "".

    Args:
        first: what the studio writes first of a date.
        beside: the day that it does not go with; one that is a few days out is mistyped, not turned round.
    """
    other = _day(day.year, day.day, day.month)
    near = beside is not None and abs((day - beside).days) <= A_FEW_DAYS
    if other is None or other == day or near or not fits(other):
        return ""
    return f"Are day and month the wrong way round? {day_shown(other, first)} would fit."


A_FEW_DAYS = 14
_EXAMPLE = "Write year-month-day, for example 2026-03-14."


def _day(year: int, month: int, day: int) -> datetime.date | None:
    try:
        return datetime.date(year, month, day)
    except ValueError:
        return None


def _figures(text: str) -> tuple[int, int, int]:
    one, other, year = (int(part) for part in re.findall(r"\d+", text))
    return one, other, year


def _named(text: str) -> tuple[int, int, int] | None:
    """Year, month and day of a day in words; None for one that is none."""
    found = _IN_WORDS.fullmatch(" ".join(text.split()))
    if found is None:
        return None
    month = _MONTH_NUMBERS.get((found["month"] or found["name"]).rstrip(".").casefold())
    return (int(found["year"] or found["in"]), month, int(found["day"] or found["of"])) if month else None
