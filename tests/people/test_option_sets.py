"""Sets of choices to compare in a client's file: read by style and name, and no mistake in them stops a draft."""

from __future__ import annotations

from pathlib import Path

from catalogue.people import Client
from catalogue.people.option_sets import MOST_SETS
from catalogue.people.reading import read_client

HEAD = """---
name: Bea
for: woman
units: cm
measured:
  2026-01-20:
    waist girth: 70
choices:
  straight-skirt:
    hip ease: 4 cm
    skirt length: 60 cm
compare:
"""


def client(tmp_path: Path, sets: str) -> Client:
    path = tmp_path / "clients" / "bea.md"
    path.parent.mkdir(exist_ok=True)
    path.write_text(f"{HEAD}{sets}---\n", encoding="utf-8")
    return read_client(path, tmp_path)


def test_each_set_has_a_name_and_counts_before_the_clients_own(tmp_path: Path) -> None:
    body = client(
        tmp_path,
        """  Straight skirt:
    longer, no vent:
      skirt_length: 70 cm
      vent: no
    short: {skirt length: 50}
""",
    )
    assert not body.findings
    longer, short = body.compared["straight-skirt"]
    assert (longer.slug, longer.name, short.name) == ("longer-no-vent", "longer, no vent", "short")
    so = body.with_choices("straight-skirt", longer.choices).choices["straight-skirt"]
    assert {name: each.text for name, each in so.items()} == {
        "hip ease": "4 cm",
        "skirt length": "70 cm",
        "vent": "no",
    }
    assert body.choices["straight-skirt"]["skirt length"].text == "60 cm"
    assert body.compared_places["straight-skirt"].line == 13


def test_what_is_wrong_is_told_at_its_line_and_stops_nothing(tmp_path: Path) -> None:
    body = client(
        tmp_path,
        """  straight-skirt:
    longer: 70 cm
    two:
      vent: no
      vent_: yes
      hip ease:
        waist ease: 1
    Two:
      vent: yes
  gored-skirt: six
""",
    )
    told = [(f.place and f.place.line, f.message) for f in body.findings]
    assert told == [
        (14, "“longer” must be names with values, not a text"),
        (17, "“vent_” is already chosen on line 16"),
        (19, "“hip ease” must be one value, not a group of names"),
        (20, "there is a set “two” already"),
        (22, "“gored-skirt” must be names with values, not a text"),
    ]
    assert [each.name for each in body.compared["straight-skirt"]] == ["two"]
    assert body.ok_for({"waist_girth"})


def test_no_more_are_drafted_than_a_page_can_show(tmp_path: Path) -> None:
    sets = "".join(f"    set {n}:\n      hip ease: {n} cm\n" for n in range(MOST_SETS + 1_000))
    body = client(tmp_path, f"  straight-skirt:\n{sets}")
    assert len(body.compared["straight-skirt"]) == MOST_SETS
    [finding] = body.findings  # One alone: a hundred would keep the measurements from being read.
    assert finding.code == "too-many-sets" and "this set and 999 below it" in finding.message and body.ok
    assert body.measurements


def test_a_set_like_another_is_asked_about(tmp_path: Path) -> None:
    body = client(tmp_path, "  straight-skirt:\n    a: {vent: no}\n    b: {vent: no}\n")
    assert [each.name for each in body.compared["straight-skirt"]] == ["a"] and body.ok
    assert [f.message for f in body.findings] == [
        "“b” has the same choices as “a”, so there is nothing to compare"
    ]
