"""Choices with a day: the newest counts, a draft of an earlier day has the earlier one; the old form stays valid."""

from __future__ import annotations

import datetime
from pathlib import Path

from catalogue.people import Client
from catalogue.people.as_of import as_of
from catalogue.people.reading import read_client

TODAY = datetime.date(2026, 11, 27)
HEAD = """---
name: Bea
for: woman
units: cm
measured:
  2026-01-20:
    waist girth: 70
    hip girth: 96
  2026-08-30:
    waist girth: 72
fittings:
  2026-03-07 straight-skirt:
    - hip let out 4 mm, dropped 2026-08-30
    - full seat 1 cm
  2026-09-10 straight-skirt:
    - waist let out 5 mm
choices:
"""


def client(tmp_path: Path, choices: str) -> Client:
    path = tmp_path / "clients" / "bea.md"
    path.parent.mkdir(exist_ok=True)
    path.write_text(f"{HEAD}{choices}---\n", encoding="utf-8")
    return read_client(path, tmp_path, today=TODAY)


DATED = """  straight-skirt:
    skirt length: 52 cm
    hip ease: 4 cm
    2026-08-30:
      skirt length: 54 cm
    2026-03-01:
      skirt length: 53 cm
"""


def test_the_newest_counts_and_what_was_before_is_kept(tmp_path):
    body = client(tmp_path, DATED)
    assert not body.findings
    chosen = body.choices["straight-skirt"]
    length = chosen["skirt length"]
    assert (length.text, length.date) == ("54 cm", datetime.date(2026, 8, 30))
    assert [(b.text, b.date) for b in length.before] == [
        ("53 cm", datetime.date(2026, 3, 1)),
        ("52 cm", None),
    ]
    assert (chosen["hip ease"].text, chosen["hip ease"].date) == ("4 cm", None)


def test_a_client_as_of_a_day_has_what_was_known_then(tmp_path):
    body = client(tmp_path, DATED)
    then = as_of(body, datetime.date(2026, 3, 14))
    assert then.choices["straight-skirt"]["skirt length"].text == "53 cm"
    assert then.measurements["waist_girth"].text == "70"
    # What was decided later was not decided yet.
    assert [(f.text, f.decided) for f in then.fittings] == [("hip let out 4 mm", ""), ("full seat 1 cm", "")]
    assert as_of(body, datetime.date(2025, 1, 1)).choices["straight-skirt"]["skirt length"].text == "52 cm"
    assert as_of(body, TODAY) == body


def test_a_day_to_come_or_that_is_none_does_not_count(tmp_path):
    to_come = client(tmp_path, "  straight-skirt:\n    2027-01-01:\n      hip ease: 9 cm\n")
    assert [f.message for f in to_come.findings] == [
        "the date 2027-01-01 is in the future, so the choices below it do not count"
    ]
    assert not to_come.choices["straight-skirt"]
    wrong = client(tmp_path, "  straight-skirt:\n    2026-02-30:\n      hip ease: 9 cm\n")
    assert [f.message for f in wrong.findings] == ["there is no day 2026-02-30"]


def test_a_choice_that_is_a_group_is_told_how_days_are_written(tmp_path):
    body = client(tmp_path, "  straight-skirt:\n    hip ease:\n      now: 9 cm\n")
    [told] = body.findings
    assert "must be one value" in told.message and "2026-08-30:" in told.hint
