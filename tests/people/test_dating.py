"""Dates that can't be meant, figures that changed too fast or are too old, and messages that repeat what was typed."""

from __future__ import annotations

import datetime

import pytest

from catalogue.people import Client
from tests.people.test_client import client_with, read

TODAY = datetime.date(2026, 3, 1)


def dated(*sets: tuple[str, str], person: str = "woman") -> Client:
    rows = "".join(
        f"  {day}:\n" + "".join(f"    {line.strip()}\n" for line in values.split(";")) for day, values in sets
    )
    return read(f"---\nname: A\nfor: {person}\nunits: cm\nmeasured:\n{rows}---\n")


def codes(client: Client) -> list[tuple[str, bool]]:
    return [(f.code, f.is_error) for f in client.findings]


@pytest.mark.parametrize("year", ["0206", "1926", "0026"])
def test_a_mistyped_year_stops_what_it_would_decide(year: str) -> None:
    client = dated(("2025-01-10", "waist girth: 70; hip girth: 98"), (f"{year}-02-20", "waist girth: 78"))
    [finding] = client.findings
    assert finding.code == "wrong-year" and finding.is_error
    assert finding.place is not None and finding.place.line == 9 and year in finding.message
    # The drafts that use the waist wait for the year; others go on.
    assert not client.ok_for(["waist_girth"]) and client.ok_for(["hip_girth"])
    assert "newest other set is of 2025" in finding.hint


def test_sets_a_lifetime_apart_and_out_of_order_are_told() -> None:
    apart = dated(("1962-02-20", "waist girth: 78"), ("2026-01-10", "waist girth: 70"))
    assert ("far-apart", False) in codes(apart)
    child = dated(("2010-02-20", "waist girth: 50"), ("2026-01-10", "waist girth: 60"), person="girl")
    assert ("far-apart", False) in codes(child)
    waist = "waist girth: 70"
    jumbled = dated(*((day, waist) for day in ("2024-01-01", "2025-01-01", "2052-01-01", "2026-01-01")))
    told = [f for f in jumbled.findings if f.code == "out-of-order"]
    assert len(told) == 1 and "2052-01-01" in told[0].message
    for days in (["2024-01-01", "2025-01-01", "2026-01-01"], ["2026-01-01", "2025-01-01", "2024-01-01"]):
        assert dated(*((day, waist) for day in days)).findings == ()


def test_twenty_centimetres_in_forty_days_are_told_once() -> None:
    client = dated(("2026-01-01", "waist girth: 70; hip girth: 98"), ("2026-02-10", "waist girth: 90.4"))
    [finding] = [f for f in client.findings if f.code == "jumps"]
    assert "20.4 cm more than 40 days before (70)" in finding.message and not finding.is_error
    # From memory: an expectant mother's waist grows by about 1 cm a week.
    assert dated(("2026-01-01", "waist girth: 70"), ("2026-06-01", "waist girth: 92")).findings == ()
    grew = dated(("2024-01-01", "height: 165"), ("2026-01-01", "height: 172"))
    assert codes(grew) == [("jumps", False)]
    assert dated(("2025-01-01", "height: 135"), ("2026-01-01", "height: 142"), person="girl").findings == ()


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("bust girth: 80; hip girth: 88", "bust girth: 88; hip girth: 80"),
        ("back width: 33.5; chest width: 31", "chest width: 33; back width: 31.2"),
        ("waist girth: 64; hip girth: 88", "waist girth: 88.5; hip girth: 64"),
    ],
)
def test_two_figures_that_changed_places_are_told_once(before: str, after: str) -> None:
    client = dated(("2026-01-10", before), ("2026-02-20", after))
    told = [f for f in client.findings if f.code in ("swapped", "jumps")]
    assert [f.code for f in told] == ["swapped"] and not told[0].is_error
    assert "had changed places since the set before" in told[0].message
    slimmer = dated(
        ("2026-01-10", "bust girth: 90; hip girth: 98"), ("2026-09-20", "bust girth: 85; hip girth: 94")
    )
    assert slimmer.findings == ()


def test_bones_do_not_change_in_a_grown_person_nor_shrink_in_a_child() -> None:
    """Own judgement: 5 cm for what two people measure otherwise, 2 cm for a child whose tape was held otherwise."""
    longer = dated(("2026-01-10", "arm length: 56"), ("2026-09-20", "arm length: 61"))
    assert codes(longer) == [("jumps", False)] and "5 cm more" in longer.findings[0].message
    assert dated(("2026-01-10", "arm length: 56"), ("2026-09-20", "arm length: 58")).findings == ()
    other_child = dated(("2026-01-10", "height: 128"), ("2026-09-20", "height: 118"), person="girl")
    assert codes(other_child) == [("jumps", False)]


def test_what_was_taken_years_before_the_rest_is_told_once() -> None:
    client = dated(("2019-03-04", "neck girth: 36; wrist girth: 16"), ("2026-01-10", "waist girth: 70"))
    [finding] = client.findings
    assert (
        finding.code == "old-figures"
        and "neck girth (2019-03-04), wrist girth (2019-03-04)" in finding.message
    )
    assert client.doubts_for(["neck_girth"]) and not client.doubts_for(["waist_girth"])


def test_a_child_with_a_grown_womans_figures() -> None:
    grown = "bust girth: 96\nwaist girth: 78\nhip girth: 104"
    assert codes(client_with(grown, "girl")) == [("grown", False)]
    assert client_with(grown, "woman").findings == ()


def test_a_hip_of_140_beside_a_waist_of_80() -> None:
    assert codes(client_with("waist girth: 80\nhip girth: 140")) == [("improbable-together", False)]


@pytest.mark.parametrize(
    ("typed", "told"),
    [("782.37", "782.37 cm"), ("7 m 82.37 cm", "7 m 82.37 cm"), ("300 1/4 in", "300 1/4 in")],
)
def test_messages_repeat_what_was_typed(typed: str, told: str) -> None:
    [finding] = client_with(f"waist girth: {typed}").findings
    assert told in finding.message


def test_one_impossible_measurement_stops_only_what_uses_it() -> None:
    client = client_with("waist girth: 700\nhip girth: 100")
    assert not client.ok and not client.ok_for(["waist_girth"]) and client.ok_for(["hip_girth"])
