"""Days and decimals as a studio writes them; ISO 8601 year-month-day is read everywhere."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from catalogue.days import day_words, read_day
from catalogue.lengths import Unit, Units, parse_length, show_length
from catalogue.people import read_client
from catalogue.studio.settings import read_settings

DAY = datetime.date(2026, 3, 5)


@pytest.mark.parametrize(
    ("first", "words"), [("day", "5 March 2026"), ("month", "March 5, 2026"), ("year", "2026-03-05")]
)
def test_a_day_in_words(first: str, words: str) -> None:
    assert day_words(DAY, first) == words


@pytest.mark.parametrize(
    ("text", "first", "day"),
    [
        ("2026-03-05", "", DAY),
        ("2026-03-05", "month", DAY),
        ("5.3.2026", "day", DAY),
        ("05/03/2026", "day", DAY),
        ("3/5/2026", "month", DAY),
        ("5.3.2026", "", None),
        ("31/02/2026", "day", None),
        ("13/13/2026", "month", None),
        ("5/3/26", "day", None),
    ],
)
def test_a_day_is_read_in_the_order_that_was_settled(
    text: str, first: str, day: datetime.date | None
) -> None:
    assert read_day(text, first) == day


def test_decimals_with_a_comma_are_read_back() -> None:
    units = Units(Unit.CM, both=True, comma=True)
    assert show_length(965.0, units) == "96,5 cm (38 in)"
    assert parse_length(show_length(965.0, Units(comma=True)), Unit.CM) == 965.0


def test_the_settings_reach_a_client_file(tmp_path: Path) -> None:
    (tmp_path / "studio.toml").write_text('decimal_comma = true\ndates = "day first"\n')
    settings = read_settings(tmp_path / "studio.toml")
    assert settings.ok and (settings.units.comma, settings.units.dates) == (True, "day")
    file = tmp_path / "a.md"
    file.write_text(
        "---\nname: A\nfor: woman\nunits: inches and cm\nmeasured:\n  05/03/2026:\n    waist girth: 30\n"
        "orders:\n  skirt:\n    style: skirt\n    ordered: 6.3.2026\n---\n"
    )
    client = read_client(file, tmp_path, settings.units)
    assert client.findings == () and client.sets[0].date == DAY
    assert client.orders[0].ordered == datetime.date(2026, 3, 6)
    assert show_length(762.0, client.units) == "30 in (76,2 cm)"
    # A studio that settled nothing is told both days it may be.
    [finding] = [f for f in read_client(file, tmp_path, Units()).findings if f.code == "not-a-date"]
    assert "2026-03-05" in finding.hint and "2026-05-03" in finding.hint


def test_another_order_is_refused(tmp_path: Path) -> None:
    (tmp_path / "studio.toml").write_text('dates = "sideways"\n')
    [finding] = read_settings(tmp_path / "studio.toml").findings
    assert "day first" in finding.hint
