"""Clients and their measurements as pages show them."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from catalogue.drafting import suits
from catalogue.lengths import Units, show_length
from catalogue.people import REGISTER, Client, lookup
from catalogue.site.words import in_words
from catalogue.studio.style import Style


@dataclass(frozen=True, slots=True)
class State:
    """How a style stands for a client: the path of the draft's page and what it comes to."""

    style: str
    client: str
    state: str
    missing: tuple[str, ...] = ()
    picture: str = ""

    @property
    def path(self) -> str:
        return f"styles/{self.style}/{self.client}/index.html"

    @property
    def can_be_made(self) -> bool:
        return self.state in ("ready", "failing")


def needed(style: Style) -> tuple[str, ...]:
    """Keys of the measurements a style uses, each once, in order of first use."""
    return _keys(style.uses)


@lru_cache(maxsize=1024)
def _keys(names: tuple[str, ...]) -> tuple[str, ...]:
    found = (lookup(name) for name in names)
    return tuple(dict.fromkeys(m.key if m else name for m, name in zip(found, names, strict=True)))


def state_of(style: Style, client: Client, summary: Mapping[str, Any] | None = None) -> State:
    """How a style stands for a client: from its draft's summary, or as far as the two files tell."""
    missing = style.missing_from(client.measurements)
    state = "waiting" if missing else "ready"
    if not style.ok:
        state = "wrong"
    picture = ""
    if summary is not None:
        state = str(summary.get("state", state))
        missing = tuple(summary.get("missing", missing))
        if summary.get("picture"):
            picture = f"styles/{style.slug}/{client.slug}/pieces.svg"
    names = tuple(REGISTER[k].name if k in REGISTER else in_words(k) for k in missing)
    return State(style.slug, client.slug, state, names if state == "waiting" else (), picture)


KINDS = ("woman", "man", "girl", "boy", "child")


def kinds_for(style: Style) -> list[str]:
    """The kinds of people a style is drafted for without being ordered."""
    return [kind for kind in KINDS if suits(style, Client("", "", "", kind))]


def history(client: Client) -> dict[str, Any]:
    """All sets of a client's measurements as tables, one a kind: a row for a measurement, a column for a day.

    Each row ends with the difference between the newest value and the one before it, when there are two.
    """
    sets = list(client.sets)
    groups: dict[str, list[dict[str, Any]]] = {}
    for key in (k for k in REGISTER if any(k in s.values for s in sets)):
        known = REGISTER[key]
        values = [s.values.get(key) for s in sets]
        taken = [v.mm for v in values if v is not None]
        change = taken[-1] - taken[-2] if len(taken) > 1 else 0.0
        newest = client.measurements.get(key)
        groups.setdefault(_GROUPS.get(known.kind, "Others"), []).append(
            {
                "id": key,
                "name": known.name,
                "values": [show_length(v.mm, client.units) if v else "" for v in values],
                "now": show_length(newest.mm, client.units) if newest else "",
                "mm": newest.mm if newest else None,
                "change": signed(change, client.units) if abs(change) >= 0.5 else "",
            }
        )
    dates = [day(s.date) if s.date else "undated" for s in sets]
    return {"dates": dates, "notes": [s.note for s in sets], "groups": list(groups.items())}


def signed(mm: float, units: Units) -> str:
    """A difference with its sign: "+1.5 cm"."""
    shown = show_length(mm, units)
    return shown if mm < 0 else f"+{shown}"


def last_measured(client: Client) -> str:
    """Day of the newest set in words; "" where none is dated."""
    dates = [s.date for s in client.sets if s.date is not None]
    return day(max(dates)) if dates else ""


def day(date: datetime.date) -> str:
    """A day as it is written in English, the same on every machine: "3 March 2026"."""
    return f"{date.day} {_MONTHS[date.month - 1]} {date.year}"


def weight(client: Client) -> str:
    """The newest weight in the client's system, "" when there is none."""
    kg = client.weight_kg
    if kg is None:
        return ""
    # 1 lb is 0.45359237 kg exactly (international yard and pound agreement, 1959).
    return f"{kg:.1f} kg" if client.units.primary.is_metric else f"{kg / 0.45359237:.0f} lb"


def by_kind(keys: Iterable[str] | None = None) -> list[tuple[str, list[dict[str, Any]]]]:
    """Measurements in groups for the measuring page; only those in `keys` when given."""
    wanted = None if keys is None else set(keys)
    groups: dict[str, list[dict[str, Any]]] = {}
    for m in REGISTER.values():
        if wanted is None or m.key in wanted:
            groups.setdefault(_GROUPS.get(m.kind, "Others"), []).append(
                {
                    "id": m.key,
                    "name": m.name,
                    "how": m.how,
                    "aliases": m.aliases,
                    "figure": m.figure,
                    "iso": m.iso,
                    "from_memory": m.from_memory,
                    "kind": m.kind,
                }
            )
    return list(groups.items())


_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_GROUPS = {
    "girth": "Girths: round the body",
    "height": "Heights: down to the floor",
    "length": "Lengths: along the body",
    "width": "Widths: across the body",
    "weight": "Weight",
}


def needing(styles: Sequence[Style], key: str) -> list[str]:
    """Slugs of the styles that need a measurement."""
    return [s.slug for s in styles if key in needed(s)]
