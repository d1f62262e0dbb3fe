"""Days as they are written: in words for pages and prints, and read from a client's file in the studio's own order."""

from __future__ import annotations

import datetime
import re

ORDERS = ("day", "month", "year")
"""What may come first when a day is written."""

_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_YEAR_FIRST = re.compile(r"\d{4}-\d{2}-\d{2}")
_YEAR_LAST = re.compile(r"(\d{1,2})\s*[./ -]\s*(\d{1,2})\s*[./ -]\s*(\d{4})")


def day_words(day: datetime.date, first: str = "day") -> str:
    """A day in English, the same on every machine: "5 March 2026", "March 5, 2026" or "2026-03-05"."""
    if first == "year":
        return day.isoformat()
    month = _MONTHS[day.month - 1]
    return f"{month} {day.day}, {day.year}" if first == "month" else f"{day.day} {month} {day.year}"


def is_a_day(text: str, first: str = "") -> bool:
    """Whether a text has the form of a day, though there may be no such day: 2026-02-30."""
    return bool(_YEAR_FIRST.fullmatch(text)) or (
        first in ("day", "month") and bool(_YEAR_LAST.fullmatch(text))
    )


def read_day(text: str, first: str = "") -> datetime.date | None:
    """The day that is written: year-month-day always, and with the year last in the order that a studio settled.

    Args:
        first: "day" for 5.3.2026 or 05/03/2026, "month" for 3/5/2026; "" or "year" where neither is read.
    """
    text = text.strip()
    try:
        if _YEAR_FIRST.fullmatch(text):
            return datetime.date.fromisoformat(text)
        found = _YEAR_LAST.fullmatch(text)
        if found and first in ("day", "month"):
            one, other, year = (int(part) for part in found.groups())
            day, month = (one, other) if first == "day" else (other, one)
            return datetime.date(year, month, day)
    except ValueError:
        pass
    return None
