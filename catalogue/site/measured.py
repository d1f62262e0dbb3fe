"""Clients and their measurements as pages show them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from catalogue.days import day_words
from catalogue.lengths import Units, show_length
from catalogue.people import Client, Measurement
from catalogue.people.client import Chosen
from catalogue.site.paths import PICTURE, beside, draft_path
from catalogue.site.summaries import DraftSummary, State, from_plain
from catalogue.studio.style import Style
from catalogue.studio.suiting import suits


@dataclass(frozen=True, slots=True)
class StyleState:
    """How a style stands for a client.

    Attributes:
        style, client: their slugs.
        missing: names of the measurements it waits for.
        picture: path of the picture beside the draft's page; "" when there is none.
        warned: whether there are warnings on the draft's page.
    """

    style: str
    client: str
    state: State
    missing: tuple[str, ...] = ()
    picture: str = ""
    warned: bool = False

    @property
    def path(self) -> str:
        """Where the draft's page lies."""
        return draft_path(self.style, self.client)

    @property
    def can_be_made(self) -> bool:
        return self.state in ("ready", "failing")


@dataclass(frozen=True, slots=True)
class HistoryRow:
    """A measurement on each day it may have been taken ("" where it was not), and as it is now.

    `change` is the difference between the newest value and the one before it; "" where there are no two, or none.
    """

    id: str
    name: str
    values: tuple[str, ...]
    now: str
    mm: float | None
    change: str


@dataclass(frozen=True, slots=True)
class History:
    """All sets of a client's measurements: their days, the notes with them, and a table a kind of measurement."""

    dates: tuple[str, ...]
    notes: tuple[str, ...]
    groups: Mapping[str, Sequence[HistoryRow]]


def needed(style: Style) -> tuple[str, ...]:
    """Keys of the measurements a style asks for, each once, in order of first use."""
    return style.asked


def state_of(style: Style, client: Client, summary: Mapping[str, Any] | None = None) -> StyleState:
    """How a style stands for a client: from its draft's summary, or as far as the two files tell."""
    missing = style.missing_from(client.measurements)
    state: State = "wrong" if not style.ok else "waiting" if missing else "ready"
    picture = ""
    warned = bool(client.findings_for(style.uses))
    if summary is not None:
        made = from_plain(summary, DraftSummary)
        state, missing = made.state, made.missing
        warned = warned or made.warned
        picture = beside(draft_path(style.slug, client.slug), PICTURE) if made.picture else ""
    names = tuple(style.register.name_of(key) for key in missing) if state == "waiting" else ()
    return StyleState(style.slug, client.slug, state, names, picture, warned)


KINDS = ("woman", "man", "girl", "boy", "child")


def kinds_for(style: Style) -> list[str]:
    """The kinds of people a style is drafted for without being ordered."""
    return [kind for kind in KINDS if suits(style, Client("", "", "", kind))]


def history(client: Client) -> History:
    """All sets of a client's measurements."""
    sets = list(client.sets)
    groups: dict[str, list[HistoryRow]] = {}
    for key in (k for k in client.register if any(k in s.values for s in sets)):
        known = client.register[key]
        values = [s.values.get(key) for s in sets]
        taken = [v.mm for v in values if v is not None]
        change = taken[-1] - taken[-2] if len(taken) > 1 else 0.0
        newest = client.measurements.get(key)
        groups.setdefault(group_of(known), []).append(
            HistoryRow(
                key,
                known.name,
                tuple(show_length(v.mm, client.units) if v else "" for v in values),
                show_length(newest.mm, client.units) if newest else "",
                newest.mm if newest else None,
                signed(change, client.units) if abs(change) >= 0.5 else "",
            )
        )
    dates = tuple(day_words(s.date, client.units.dates) if s.date else "undated" for s in sets)
    return History(dates, tuple(s.note for s in sets), groups)


def signed(mm: float, units: Units) -> str:
    """A difference with its sign: "+1.5 cm"."""
    shown = show_length(mm, units)
    return shown if mm < 0 else f"+{shown}"


def last_measured(client: Client) -> str:
    """Day of the newest set in words; "" where none is dated."""
    dates = [s.date for s in client.sets if s.date is not None]
    return day_words(max(dates), client.units.dates) if dates else ""


def weight(client: Client) -> str:
    """The newest weight in the client's system, "" when there is none."""
    kg = client.weight_kg
    if kg is None:
        return ""
    # 1 lb is 0.45359237 kg exactly (international yard and pound agreement, 1959).
    return f"{kg:.1f} kg" if client.units.primary.is_metric else f"{kg / 0.45359237:.0f} lb"


def group_of(measurement: Measurement) -> str:
    """The heading that a measurement stands under."""
    return _GROUPS[measurement.kind]


_GROUPS = {
    "girth": "Girths: round the body",
    "height": "Heights: down to the floor",
    "length": "Lengths: along the body",
    "width": "Widths: across the body",
    "weight": "Weight",
}


def chosen_since(chosen: Chosen, dates: str = "") -> str:
    """Since when a choice holds and what was chosen before: "since 30 August 2026, before that 52 cm"; "" undated."""
    if chosen.date is None:
        return ""
    before = ", ".join(
        f"{each.text} from {day_words(each.date, dates)}" if each.date else each.text
        for each in chosen.before
    )
    return f"since {day_words(chosen.date, dates)}" + (f", before that {before}" if before else "")
