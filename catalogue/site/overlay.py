"""Drafts laid over each other: the outlines of each draft as a small script file, loaded when a reader asks for it.

A page opened from disk may not read other files, but it may take scripts from beside it; so nobody loads more than the
drafts compared, however many clients there are.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

import msgspec

from catalogue.days import day_words
from catalogue.drafting import Draft
from catalogue.drawing.markup import page_path_data, pair
from catalogue.lengths import show_length
from catalogue.pattern import Piece
from catalogue.people import Client
from catalogue.people.client import Chosen, Measured
from catalogue.site.measured import needed
from catalogue.site.words import in_words
from catalogue.studio.style import Style
from catalogue.studio.suiting import lines_for
from catalogue.workroom.kept_garments import KeptGarment, KeptOutlines

FILE = "outline.js"
"""Name of the script beside a draft's page."""
UNFITTED = "unfitted"
"""Key of the draft without what was changed at fittings."""
MOST = 3
"""Earlier days of one client that can be compared with today, at most."""


Held = Sequence[tuple[date, Mapping[str, Measured]]]
"""Days, and the measurements that held on each."""


@dataclass(frozen=True, slots=True)
class EarlierDay:
    """A day on which a client was measured before: `key` is the day as 2026-02-11, `words` as it is written.

    With the key `UNFITTED` it is today, before any fitting.
    """

    key: str
    words: str


@dataclass(frozen=True, slots=True)
class Earlier:
    """A client as measured up to an earlier day; the rest is as in `EarlierDay`."""

    key: str
    words: str
    client: Client


def earlier(client: Client, style: Style) -> list[Earlier]:
    """The client as measured before, for each day on which what the style needs was otherwise; newest first.

    Before them the client without fittings, where there are any that concern the style.
    """
    clients = [
        replace(
            client.as_chosen_on(on),
            measurements=values,
            sides={},
            fittings=tuple(f for f in client.fittings if f.date <= on),
            corrections=tuple(c for c in client.corrections if c.date <= on),
        )
        for on, values in _days(client, style)
    ]
    if _is_fitted(client, style):
        clients.insert(0, replace(client, fittings=(), corrections=()))
    days = earlier_days(client, style)
    return [Earlier(day.key, day.words, then) for day, then in zip(days, clients, strict=True)]


def earlier_days(client: Client, style: Style, held: Held | None = None) -> list[EarlierDay]:
    """The same without the client: asked for every client of a style whenever anything changed.

    Args:
        held: the client's `held_on`, where it is at hand.
    """
    days = [
        EarlierDay(on.isoformat(), day_words(on, client.units.dates)) for on, _ in _days(client, style, held)
    ]
    return [EarlierDay(UNFITTED, "without its fittings"), *days] if _is_fitted(client, style) else days


def _is_fitted(client: Client, style: Style) -> bool:
    fitted = client.fittings and lines_for(style, client.fittings)
    return bool(fitted) or any(c.garment == style.slug for c in client.corrections)


def held_on(client: Client) -> Held:
    """The measurements that held on each day on which the client was measured, oldest first.

    The first are those of no known day, which held before.
    """
    values = {key: m for s in client.sets if s.date is None for key, m in s.values.items()}
    held: dict[date, Mapping[str, Measured]] = {date.min: values}
    for each in sorted((s for s in client.sets if s.date is not None), key=lambda s: str(s.date)):
        if each.date is not None:
            values = held[each.date] = values | dict(each.values)
    return list(held.items())


def _days(client: Client, style: Style, held: Held | None = None) -> Held:
    """The newest few of those days, newest first, with the measurements that held then."""
    keys = needed(style)
    chosen = [
        (slug, name, each)
        for slug in {style.slug, *(block.slug for block in style.chain)}
        for name, each in client.choices.get(slug, {}).items()
    ]

    def taken(values: Mapping[str, Measured]) -> list[float | None]:
        return [m.mm if (m := values.get(key)) else None for key in keys]

    def options(on: Iterable[tuple[str, str, Chosen | None]]) -> list[tuple[str, str, str]]:
        return sorted((slug, name, each.text) for slug, name, each in on if each is not None)

    now, found = (taken(client.measurements), options(chosen)), []
    last: object = None
    for on, values in _with_days_of_choices(held_on(client) if held is None else held, chosen):
        then = taken(values), options((slug, name, each.on(on)) for slug, name, each in chosen)
        # A need that may be met one way or the other is only known to be met when all is there as it is now.
        has_all = all(a is not None or b is None for a, b in zip(then[0], now[0], strict=True))
        if has_all and then not in (now, last):
            found.append((on, values))
            last = then
    return found[-MOST:][::-1]


def _with_days_of_choices(held: Held, chosen: Iterable[tuple[str, str, Chosen]]) -> Held:
    """The days on which anything was measured or chosen, oldest first, with what held then."""
    days = {one.date for *_, each in chosen for one in (each, *each.before) if one.date is not None}
    if not days:
        return held[1:]
    of_days = dict(held[1:])
    values, found = held[0][1], []
    for on in sorted(days | of_days.keys()):
        values = of_days.get(on, values)
        found.append((on, values))
    return found


def cut_words(kept: Sequence[KeptGarment], style: str, dates: str = "") -> list[tuple[str, str]]:
    """The garments of a style that were kept: the key of each, and when it was cut."""
    return [
        (each.key, f"as cut on {day_words(each.told.date, dates)}" + (f" ({number})" if number else ""))
        for each in kept
        if each.told.style == style
        for number in (each.key.partition("--")[2].partition("--")[2],)
    ]


def outline_script(
    draft: Draft,
    before: Sequence[tuple[str, Draft]] = (),
    cut: Sequence[tuple[str, KeptOutlines]] = (),
    beside: bool = False,
) -> str:
    """A script that hands over the outlines of a draft.

    Args:
        before: the same style for the same client as measured before, or with other options, each with its key.
        cut: it as it was cut, each with the key of the kept garment.
        beside: whether it lies beside the page that compares options, and not beside the draft's.
    """
    style, client = draft.style.slug, draft.client.slug
    data: dict[str, Any] = {"": outlines(draft)} | {key: outlines(d) for key, d in before if d.pieces}
    data |= {key: msgspec.to_builtins(kept) for key, kept in cut}
    text = json.dumps(data, ensure_ascii=True, separators=(",", ":"))
    return f'catalogueOutline("{style}/{"compare/" if beside else ""}{client}",{text});\n'


def outlines(draft: Draft) -> dict[str, Any]:
    """The outlines of a draft's pieces in mm, and their edges' lengths."""

    def show(mm: float) -> str:
        return show_length(mm, draft.client.units)

    return {
        "units": [draft.client.units.primary.value, draft.client.units.fraction],
        "pieces": {
            name: {
                "title": piece.title,
                "path": drawn(piece),
                "box": [round(v, 1) for v in piece.outline.bounds()],
                "edges": [
                    [in_words(e.name), round(e.path.length, 2), show(e.path.length)] for e in piece.edges
                ],
            }
            for name, piece in draft.pieces.items()
        },
    }


def drawn(piece: Piece) -> str:
    """Path data of a piece's outline and darts, mm."""
    darts = "".join(
        f"M{pair(d.legs[0])}L{pair(end)}L{pair(d.legs[1])}"
        for d in piece.darts
        for end in (d.apex, d.far_apex)
        if end is not None
    )
    return page_path_data(piece.outline, closed=True) + darts
