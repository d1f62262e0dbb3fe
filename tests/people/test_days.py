"""Days and decimals as a studio writes them; ISO 8601 year-month-day is read everywhere."""

from __future__ import annotations

import argparse
import datetime
from decimal import Decimal
from pathlib import Path

import pytest

from catalogue.commands.arguments import a_date
from catalogue.days import day_words, if_turned_round, looks_like_a_day, not_a_day, read_day
from catalogue.lengths import Unit, Units, parse_length, show_length
from catalogue.money import parse_amount
from catalogue.people import Client, read_client
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


@pytest.mark.parametrize(
    ("text", "day"),
    [("5 March 2026", DAY), ("March 5, 2026", DAY), ("5th Mar. 2026", DAY), ("30 February 2026", None)],
)
@pytest.mark.parametrize("first", ["", "day", "month", "year"])
def test_a_month_in_words_is_read_whatever_was_settled(text: str, first: str, day: object) -> None:
    assert read_day(text, first) == day
    assert read_day(day_words(DAY, first or "year"), first) == DAY  # What a page shows can be written back.


@pytest.mark.parametrize(
    ("text", "first", "message", "hint"),
    [
        (
            "3/4/2026",
            "",
            "may be 3 April 2026 or 4 March 2026",
            "Write 2026-04-03 for 3 April 2026 or 2026-03-04",
        ),
        ("03-04-2026", "year", "may be 3 April 2026 or 4 March 2026", 'dates = "day first"'),
        ("25/3/2026", "", "not a date as it is read here", "Write 2026-03-25."),
        ("25/3/2026", "month", "the month is written first", "Write 03/25/2026, or 2026-03-25."),
        ("3/25/2026", "day", "the day is written first", "Write 25/03/2026, or 2026-03-25."),
        ("2026/3/5", "day", "not a date as it is read here", "Write 2026-03-05."),
        ("5/3/26", "day", "has two figures", "Write the year in full."),
        ("31/2/2026", "day", "there is no day 31/2/2026", "for example 2026-03-14"),
        ("2026-02-30", "", "there is no day 2026-02-30", "for example 2026-03-14"),
        ("soon", "", "is not a date", "for example 2026-03-14"),
    ],
)
def test_a_day_that_is_not_read_is_never_guessed_and_both_ways_are_shown(
    text: str, first: str, message: str, hint: str
) -> None:
    assert read_day(text, first) is None
    said, help_ = not_a_day(text, first)
    assert message in said and hint in help_
    assert looks_like_a_day(text) == (text != "soon")


def test_a_day_that_is_out_of_place_is_asked_about_when_turned_round_it_fits() -> None:
    december, march = datetime.date(2026, 12, 3), datetime.date(2026, 3, 12)
    hint = if_turned_round(december, lambda day: day < DAY.replace(month=6), "day")
    assert hint == "Are day and month the wrong way round? 12 March 2026 would fit."
    assert "2026-03-12" in if_turned_round(december, lambda day: day == march)
    assert if_turned_round(december, lambda day: day > december) == ""
    assert if_turned_round(datetime.date(2026, 3, 25), lambda day: True) == ""  # There is no month 25.
    assert if_turned_round(datetime.date(2026, 3, 3), lambda day: True) == ""
    # Five days out is a slip of the pen.
    assert if_turned_round(december, lambda day: True, beside=december + datetime.timedelta(5)) == ""


def client_of(tmp_path: Path, front: str, first: str = "day", body: str = "") -> Client:
    file = tmp_path / "a.md"
    file.write_text(f"---\nname: A\nfor: woman\nunits: cm\n{front}---\n{body}")
    return read_client(file, tmp_path, Units(dates=first), datetime.date(2026, 11, 27))


FITTED = """measured:
  4/3/2026:
    waist girth: 70
choices:
  cape:
    5/3/2026:
      length: 60 cm
fittings:
  12/3/2026 bodice-block:
    - swayed back 6 mm, kept 13/4/2026
  March 20, 2026 cape:
    - round back 4 mm
"""


def test_days_of_choices_fittings_and_corrections_are_read_as_the_studio_writes_them(tmp_path: Path) -> None:
    own = "# Correction of bodice-block, 5/4/2026\n\nDips.\n\n```draft\na = 1 cm\n```\n"
    client = client_of(tmp_path, FITTED, body=own)
    assert client.findings == ()
    assert client.sets[0].date == datetime.date(2026, 3, 4)
    assert client.choices["cape"]["length"].date == datetime.date(2026, 3, 5)
    assert [f.date for f in client.fittings] == [datetime.date(2026, 3, 12), datetime.date(2026, 3, 20)]
    assert client.fittings[0].decided_on == datetime.date(2026, 4, 13)
    assert client.fittings[0].day == "12 March 2026"
    assert [c.date for c in client.corrections] == [datetime.date(2026, 4, 5)]
    # The same file in a studio that writes the month first, and in one that settled nothing.
    other = client_of(tmp_path, FITTED, "month", own)
    assert other.sets[0].date == datetime.date(2026, 4, 3)
    unsettled = client_of(tmp_path, FITTED, "", own)
    refused = [f.message for f in unsettled.findings if f.code == "not-a-date"]
    assert len(refused) == 4 and all("may be" in message for message in refused)
    assert unsettled.corrections == () and [f.garment for f in unsettled.fittings] == ["cape"]


MEASURED = "measured:\n  1/5/2026:\n    waist girth: 70\n"
FITTING = f"{MEASURED}fittings:\n  %s cape:\n    - round back 4 mm\n"
ORDER = "orders:\n  o:\n    style: cape\n    ordered: 2/6/2026\n"


@pytest.mark.parametrize(
    ("front", "code", "hint"),
    [
        (FITTING % "5/4/2026", "before-measured", "4 May 2026 would fit"),
        (FITTING % "6/1/2026", "before-measured", "1 June 2026 would fit"),
        (FITTING % "25/4/2026", "before-measured", "Check the year."),
        ("measured:\n  3/12/2026:\n    waist girth: 70\n", "date-to-come", "12 March 2026 would fit"),
        (f"{ORDER}    due: 9/3/2026\n", "order-dates", "3 September 2026 would fit"),
        (f"{ORDER}    cut: 5/6/2026\n    finished: 7/2/2026\n", "order-dates", "2 July 2026 would fit"),
        (f"{ORDER}    finished: 15/5/2026\n", "order-dates", "6 February 2026 would fit"),
        (f"{ORDER}    cut: 5/12/2026\n", "order-date-to-come", "12 May 2026 would fit"),
        (f"{ORDER}    cut: 31/6/2026\n", "order-date", "for example"),
    ],
)
def test_days_that_can_not_be_are_doubted_in_words(tmp_path: Path, front: str, code: str, hint: str) -> None:
    found = {f.code: f.hint for f in client_of(tmp_path, front).findings}
    assert hint in found[code]


def test_the_date_of_the_settings_follows_the_order_they_settle(tmp_path: Path) -> None:
    file = tmp_path / "studio.toml"
    for text, day in (
        ('date = "3/4/2026"\ndates = "day first"\n', datetime.date(2026, 4, 3)),
        ('dates = "month first"\ndate = "3/4/2026"\n', datetime.date(2026, 3, 4)),
        ("date = 2026-04-03\n", datetime.date(2026, 4, 3)),
        ('date = "3/4/2026"\n', None),
    ):
        file.write_text(text)
        settings = read_settings(file)
        assert settings.date == day and settings.ok is (day is not None)
    assert "2026-04-03" in settings.findings[0].hint and "2026-03-04" in settings.findings[0].hint


def test_the_command_line_asks_which_day_is_meant() -> None:
    assert a_date("2026-04-03") == a_date("3 April 2026") == datetime.date(2026, 4, 3)
    with pytest.raises(
        argparse.ArgumentTypeError, match="2026-04-03 for 3 April 2026 or 2026-03-04"
    ) as raised:
        a_date("3/4/2026")
    assert "studio.toml" not in str(raised.value)


def test_amounts_are_shown_with_the_studios_comma_and_read_back(tmp_path: Path) -> None:
    (tmp_path / "studio.toml").write_text('decimal_comma = true\ncurrency = "EUR"\n')
    currency = read_settings(tmp_path / "studio.toml").prices.currency
    assert currency.shown(Decimal("1234.5")) == "1.234,50 EUR"
    assert (currency.number(Decimal("7.50")), currency.number(Decimal(20))) == ("7,5", "20")
    assert parse_amount("1.234,50 EUR") == parse_amount("1,234.50") == Decimal("1234.50")


@pytest.mark.parametrize(
    ("deposit", "hint"),
    [
        ("30 %", "Write the amount: 30 % of 240 is 72.00."),
        ("80 on 3/4/2026", "Write the amount alone; the day it was paid may stand under note:."),
        ("80 paid 2026-04-03", "Write the amount alone"),
    ],
)
def test_a_deposit_that_is_no_amount_says_what_to_write(tmp_path: Path, deposit: str, hint: str) -> None:
    client = client_of(tmp_path, f"orders:\n  o:\n    style: cape\n    price: 240\n    deposit: {deposit}\n")
    [finding] = client.findings
    assert finding.code == "order-money" and finding.hint.startswith(hint)
    assert client.orders[0].deposit is None
