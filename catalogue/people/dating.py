"""Are the days of a client's measurements plausible, and what changed between them?

A year with two digits changed about makes a set lose to every other, or beat them for ever, without a word. The limits
are our own judgement; where a survey or a table is behind one, it is named beside it.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations, pairwise

from catalogue.days import day_shown, if_turned_round, read_day
from catalogue.findings import Place, Severity
from catalogue.frontmatter import Front
from catalogue.lengths import show_length
from catalogue.people.client import Client, MeasurementSet
from catalogue.people.judged import Judged

EARLIEST = 1940
"""Nobody who is measured with a tape today and fitted with what was taken then was measured before."""
YOUNG = ("girl", "boy", "child")
_GAP = {True: 12, False: 25}
"""Years between one set and the next that are unlikely, of a child and of a grown person."""
_STALE_DAYS = {True: 548, False: 1096}
"""Days after which a figure is old beside the newest: a child of ten grows some 6 cm a year (common practice)."""
_JUMP, _JUMP_A_DAY = 100.0, 1.5
"""mm that a girth may change, and mm a day: an expectant mother's waist grows by about 1 cm a week (from memory)."""
_SHRUNK = 20.0
"""mm by which a child's lengths may seem less than before, the tape held otherwise (own judgement)."""
_SWAPPED, _AS_THE_OTHER = 20.0, 0.25
"""mm between two measurements whose figures may have changed places, and the share of it that each may be off."""
_GROWN = {"bust_girth": 880.0, "hip_girth": 960.0}
"""mm from which both together are a grown person's rather than a child's."""


def judge_dates(client: Client, front: Front) -> Iterator[Judged]:
    """Findings on the days of the sets, and on figures that do not go with those of another day."""
    first = client.units.dates
    places = _places(front, first)
    dated = [one for one in client.sets if one.date is not None]
    yield from _years(dated, places, front)
    yield from _order(dated, places, front, first)
    young = client.kind in YOUNG
    for one, after in pairwise(dated):
        gap = _days(one, after) / 365.25
        if gap > _GAP[young] and one.date and after.date and one.date.year >= EARLIEST:
            earlier, later = day_shown(one.date, first), day_shown(after.date, first)
            message = f"the set of {earlier} is {gap:.0f} years older than the next one, of {later}"
            hint = "Is the year of one of them mistyped? The later one counts."
            yield _warning("far-apart", message, places, one, front, hint)
    swapped = list(_swapped(client, dated, front))
    yield from swapped
    yield from _jumps(client, dated, front, frozenset(key for each in swapped for key in each.about))
    yield from _stale(client, dated, front)
    yield from _grown(client, front)


def _places(front: Front, first: str) -> dict[datetime.date, Place]:
    """Where each date stands, in the order of the file."""
    entry = front.mapping.get("measured")
    places = {}
    for text, value in (entry.mapping or {}).items() if entry else ():
        if day := read_day(text, first):
            places[day] = value.key_place
    return places


def _days(one: MeasurementSet, after: MeasurementSet) -> int:
    return (after.date - one.date).days if one.date and after.date else 0


def _warning(
    code: str,
    message: str,
    places: dict[datetime.date, Place],
    one: MeasurementSet,
    front: Front,
    hint: str,
    severity: Severity = Severity.WARNING,
) -> Judged:
    place = places.get(one.date or datetime.date.min, Place(front.file))
    return Judged(front.finding(code, message, place, hint, severity), tuple(one.values))


def _years(
    dated: Sequence[MeasurementSet], places: dict[datetime.date, Place], front: Front
) -> Iterator[Judged]:
    """Years in which nobody was measured: an error, since the set loses to every other without a word."""
    good = [f"{one.date.year}" for one in dated if one.date and one.date.year >= EARLIEST]
    for one in dated:
        if one.date and one.date.year < EARLIEST:
            message = f"the year {one.date.year:04} can't be right for measurements of this client"
            hint = "Write the year in which they were taken"
            hint += f"; the newest other set is of {good[-1]}." if good else "."
            yield _warning("wrong-year", message, places, one, front, hint, Severity.ERROR)


def _order(
    dated: Sequence[MeasurementSet], places: dict[datetime.date, Place], front: Front, first: str
) -> Iterator[Judged]:
    """The one date that stands out of the order of the others in the file."""
    known = {one.date: one for one in dated}
    listed = [date for date in places if date in known and date.year >= EARLIEST]
    if len(listed) < 3 or _is_in_order(listed):
        return
    out = next((n for n in range(len(listed)) if _is_in_order(listed[:n] + listed[n + 1 :])), None)
    if out is not None:
        message = f"{day_shown(listed[out], first)} stands out of the order of the other dates"
        turned = if_turned_round(
            listed[out], lambda other: _is_in_order([*listed[:out], other, *listed[out + 1 :]]), first
        )
        yield _warning(
            "out-of-order",
            message,
            places,
            known[listed[out]],
            front,
            f"{turned or 'Is it mistyped?'} The latest date counts, wherever it stands in the file.",
        )


def _is_in_order(dates: Sequence[datetime.date]) -> bool:
    return list(dates) in (sorted(dates), sorted(dates, reverse=True))


def _jumps(
    client: Client, dated: Sequence[MeasurementSet], front: Front, told: frozenset[str]
) -> Iterator[Judged]:
    """Girths that changed faster than a body does, lengths of a grown person that changed, and a child that shrank."""
    units = replace(client.units, both=False)
    for key in (each for each in client.measurements if each not in told):
        taken = [one for one in dated if key in one.values]
        measurement = client.register[key]
        bounds = measurement.bounds_for(client.kind)
        for one, after in pairwise(taken[-2:]):
            change, days = after.values[key].mm - one.values[key].mm, _days(one, after)
            if not all(bounds.lowest <= s.values[key].mm <= bounds.highest for s in (one, after)):
                continue  # It is reported by itself.
            girth = measurement.kind == "girth" and abs(change) >= max(_JUMP, _JUMP_A_DAY * days)
            if client.kind in YOUNG:
                bones = measurement.kind in ("height", "length") and change <= -_SHRUNK
            else:
                bones = measurement.kind in ("height", "length", "width") and abs(change) >= _JUMP / 2
            if girth or bones:
                more = "more" if change > 0 else "less"
                message = (
                    f"the {measurement.name} ({after.values[key].text}) is {show_length(abs(change), units)} {more} "
                    f"than {days} days before ({one.values[key].text})"
                )
                hint = "Measure it again, or look whether it stands in the right line."
                found = front.finding("jumps", message, after.values[key].place, hint, Severity.WARNING)
                yield Judged(found, (key,))


def _swapped(client: Client, dated: Sequence[MeasurementSet], front: Front) -> Iterator[Judged]:
    """Two measurements of a set that have each the figure that the other had before."""
    before: dict[str, float] = {}
    for one, after in pairwise(dated):
        before |= {key: measured.mm for key, measured in one.values.items()}
        now = {key: m for key, m in after.values.items() if client.measurements.get(key) is m}
        moved = [
            k
            for k, m in now.items()
            if k in before and abs(m.mm - before[k]) > _SWAPPED * (1 - _AS_THE_OTHER)
        ]
        for first, second in combinations(moved, 2):
            gap = abs(before[first] - before[second])
            off = max(abs(now[first].mm - before[second]), abs(now[second].mm - before[first]))
            if gap >= _SWAPPED and off <= _AS_THE_OTHER * gap:
                names = [client.register[key].name for key in (first, second)]
                message = (
                    f"the {names[0]} ({now[first].text}) and the {names[1]} ({now[second].text}) of {after.date} look "
                    "as if they had changed places since the set before"
                )
                hint = "Look whether each stands in the right line."
                found = front.finding("swapped", message, now[second].place, hint, Severity.WARNING)
                yield Judged(found, (first, second))


def _stale(client: Client, dated: Sequence[MeasurementSet], front: Front) -> Iterator[Judged]:
    """What counts though it was taken long before the newest set, told once."""
    if not dated or dated[-1].date is None:
        return
    limit = _STALE_DAYS[client.kind in YOUNG]
    old = [
        (key, measured)
        for key, measured in client.measurements.items()
        if measured.date is not None and (dated[-1].date - measured.date).days > limit
    ]
    if old:
        first = client.units.dates
        named = ", ".join(
            f"{client.register[key].name} ({day_shown(m.date, first)})" for key, m in old[:4] if m.date
        )
        more = f" and {len(old) - 4} more" if old[4:] else ""
        message = (
            f"taken long before the newest measurements, of {day_shown(dated[-1].date, first)}: {named}{more}"
        )
        hint = "They count until they are measured again: do so at the next fitting."
        found = front.finding("old-figures", message, old[0][1].place, hint, Severity.WARNING)
        yield Judged(found, tuple(key for key, _ in old))


def _grown(client: Client, front: Front) -> Iterator[Judged]:
    """A child with the figures of a grown person."""
    given = {key: client.measurements[key] for key in _GROWN if key in client.measurements}
    if (
        client.kind in YOUNG
        and len(given) == len(_GROWN)
        and all(m.mm >= _GROWN[k] for k, m in given.items())
    ):
        entry = front.mapping["for"]
        told = " and ".join(f"{client.register[key].name} {m.text}" for key, m in given.items())
        message = f"this client is a {client.kind}, with the figures of a grown person ({told})"
        hint = "Write for: woman or for: man if they are grown; styles, ease and cautions go by it."
        yield Judged(
            front.finding("grown", message, entry.place, hint, Severity.WARNING), tuple(client.measurements)
        )
