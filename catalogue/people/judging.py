"""Are a client's measurements plausible, each by itself and beside the others?"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import replace

from catalogue.findings import Finding, Severity
from catalogue.frontmatter import Front
from catalogue.lengths import Units, show_length
from catalogue.people.client import Client, Measured
from catalogue.people.dating import judge_dates
from catalogue.people.exchanged import exchanged, is_confirmed
from catalogue.people.judged import Judged
from catalogue.people.measurements import body_of
from catalogue.people.relations import Clash, Ratio, clashes

MOST_BETWEEN_SIDES = 30.0
"""mm by which the two sides of a body differ as a rule at the most (own judgement)."""


def judge(client: Client, front: Front) -> Iterator[Judged]:
    """Findings on the client's figures: impossible ones are errors, improbable ones warnings.

    A value that a newer one has replaced is history, and never more than a warning.
    """
    for one in client.sets:
        for key, measured in one.values.items():
            counts = client.measurements.get(key) is measured
            for finding in _by_itself(key, measured, counts, client, front):
                yield Judged(finding, (key,))
    for side, taken in client.sides.items():
        for key, measured in taken.items():
            for finding in (
                *_by_itself(key, measured, True, client, front, side),
                *_beside_the_other(key, side, measured, client, front),
            ):
                yield Judged(finding, (key,))
    of_days = list(judge_dates(client, front))
    yield from of_days
    for finding in _weight(client, front):
        yield Judged(finding, ())
    # A figure that is wrong by itself would have others blamed that are right.
    values = {key: m.mm for key, m in client.measurements.items() if _can_be(key, m.mm, client)}
    told = [set(each.about) for each in of_days if each.finding.code == "swapped"]
    places_changed = list(_exchanged(client, front, values, told))
    yield from places_changed
    told = [set(each.about) for each in places_changed]
    for clash in clashes(values, body_of(client.kind)):
        if clash.impossible or set(clash.relation.keys) not in told:
            yield Judged(_together(clash, client, front), clash.relation.keys)


def _by_itself(
    key: str, measured: Measured, counts: bool, client: Client, front: Front, side: str = ""
) -> Iterator[Finding]:
    measurement = client.register[key]
    name = f"{measurement.name} {side}".rstrip()
    bounds = measurement.bounds_for(client.kind)
    shown = as_typed(measured, client.units)
    if not _can_be(key, measured.mm, client):
        message = f"{name}: {shown} can't be right for a {client.kind}"
        hint = f"Expected: {_range(bounds.low, bounds.high, client.units)}. Is the unit right?"
        severity = Severity.ERROR if counts else Severity.WARNING
        yield front.finding("impossible", message, measured.place, hint, severity)
    elif counts and not measurement.is_for(client.kind):
        whom = " or a ".join(body for body in measurement.bounds)
        message = f"the {measurement.name} is taken of a {whom}, and this client is a {client.kind}"
        yield front.finding(
            "not-taken",
            message,
            measured.place,
            "Leave it out, or say in clients/measurements.md that it is for them too.",
            Severity.WARNING,
        )
    elif counts and not bounds.low <= measured.mm <= bounds.high:
        message = f"{name}: {shown} is unusual for a {client.kind}"
        hint = f"Usual: {_range(bounds.low, bounds.high, client.units)}. Measure it again to be sure."
        yield front.finding("improbable", message, measured.place, hint, Severity.WARNING)


def _beside_the_other(
    key: str, side: str, measured: Measured, client: Client, front: Front
) -> Iterator[Finding]:
    """A side that differs from the other, or from both together, by more than the sides of a body do; told once."""
    other_side = "left" if side == "right" else "right"
    of_other = client.sides.get(other_side, {}).get(key)
    other = of_other or client.measurements.get(key)
    if other is None or (of_other and side == "left"):
        return
    if not all(_can_be(key, each.mm, client) for each in (measured, other)):
        return  # It is reported by itself.
    difference = abs(measured.mm - other.mm)
    if difference > MOST_BETWEEN_SIDES:
        units = Units(client.units.primary, client.units.fraction)
        against = f"{other_side}, " if of_other else ""
        message = (
            f"{client.register[key].name}: {side}, {as_typed(measured, client.units)}, and {against}"
            f"{as_typed(other, client.units)}, are {show_length(difference, units)} apart"
        )
        hint = "Measure both sides again, or look whether it stands in the right line."
        yield front.finding("sides-apart", message, measured.place, hint, Severity.WARNING)


_BARE = re.compile(r"[\d\s.,/½¼¾⅛⅜⅝⅞-]+")


def as_typed(measured: Measured, units: Units) -> str:
    """A measurement as it stands in the file, with the unit that a bare number means.

    In place of what it comes to: that is rounded, and nobody finds it in the file.
    """
    text = " ".join(measured.text.split())
    return f"{text} {units.primary.value}" if _BARE.fullmatch(text) else text


def _can_be(key: str, mm: float, client: Client) -> bool:
    bounds = client.register[key].bounds_for(client.kind)
    return bounds.lowest <= mm <= bounds.highest


def _range(low: float, high: float, units: Units) -> str:
    single = replace(units, both=False)
    return f"{show_length(low, single)} to {show_length(high, single)}"


def _weight(client: Client, front: Front) -> Iterator[Finding]:
    if client.weight_kg is None:
        return
    bounds = client.register["weight"].bounds_for(client.kind)
    entry = front.mapping.get("measured") or front.mapping.get("measurements")
    if entry and not bounds.lowest <= client.weight_kg <= bounds.highest:
        message = f"a weight of {client.weight_kg:.0f} kg can't be right for a {client.kind}"
        yield front.finding("impossible", message, entry.key_place)


def _exchanged(
    client: Client, front: Front, values: dict[str, float], told: Collection[set[str]]
) -> Iterator[Judged]:
    """Two measurements that may stand in each other's line; those are left out of which `told` says so already."""
    units = replace(client.units, both=False)
    for found in exchanged(values, body_of(client.kind)):
        pair = (found.exchange.larger, found.exchange.smaller)
        sets = [{key: m.mm for key, m in one.values.items()} for one in client.sets]
        if is_confirmed(found.exchange, sets) or set(pair) in told:
            continue
        larger, smaller = (client.measurements[key] for key in pair)
        names = [client.register[key].name for key in pair]
        beside = [
            f"{client.register[key].name} ({as_typed(client.measurements[key], client.units)})"
            for key in found.beside
        ]
        for_whom = f"beside this client's {' and '.join(beside)}" if beside else f"of a {client.kind}"
        message = (
            f"the {names[1]} ({as_typed(smaller, client.units)}) and the {names[0]} "
            f"({as_typed(larger, client.units)}) may have changed places: {for_whom} "
            f"the {names[0]} is usually some {show_length(5 * round(found.usual / 5), units)} larger"
        )
        hint = (
            "Look whether each stands in the right line. If both do, measure them again at the next fitting: "
            "a second set like it is not asked about."
        )
        place = max(larger.place, smaller.place)
        yield Judged(front.finding("exchanged", message, place, hint, Severity.WARNING), pair)


def _together(clash: Clash, client: Client, front: Front) -> Finding:
    relation = clash.relation
    measured = {key: client.measurements[key] for key in relation.keys}
    shown = {key: f"{client.register[key].name} ({as_typed(m, client.units)})" for key, m in measured.items()}
    first = relation.keys[0]
    if isinstance(relation, Ratio):
        size = "large" if clash.large else "small"
        verdict = f"cannot be so {size}" if clash.impossible else f"is unusually {size}"
        message = f"the {shown[first]} {verdict} compared with the {shown[relation.second]}"
    else:
        parts = " and the ".join(shown[key] for key in relation.parts)
        gap = show_length(abs(clash.gap), replace(client.units, both=False))
        side = "more" if clash.large else "less"
        verdict = "cannot be" if clash.impossible else "is"
        message = f"the {shown[first]} {verdict} {gap} {side} than the {parts} together"
    severity = Severity.ERROR if clash.impossible else Severity.WARNING
    hint = f"Measure again: {relation.why}."
    code = "impossible-together" if clash.impossible else "improbable-together"
    return front.finding(code, message, measured[first].place, hint, severity)
