"""The measurements that a draft is made from, by the day on which they were taken."""

from __future__ import annotations

import datetime
from collections.abc import Container
from typing import NamedTuple

from catalogue.lengths import show_length
from catalogue.people.client import Client


class UsedOn(NamedTuple):
    """What counts of one day: `date` is None where the file does not say; each measurement with its name and figure."""

    date: datetime.date | None
    values: tuple[tuple[str, str], ...]


def used_by_day(client: Client, keys: Container[str]) -> tuple[UsedOn, ...]:
    """Of the measurements `keys` those that count now, the latest day first, in the client's units."""
    days: dict[datetime.date | None, list[tuple[str, str]]] = {}
    for key, measured in client.measurements.items():
        if key in keys:
            shown = show_length(measured.mm, client.units)
            days.setdefault(measured.date, []).append((client.register[key].name, shown))
    latest = sorted(days, key=lambda day: day or datetime.date.min, reverse=True)
    return tuple(UsedOn(day, tuple(days[day])) for day in latest)
