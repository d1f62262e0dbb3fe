"""Lines put into a client file by a form: the file is as its owner wrote it, but for them."""

from __future__ import annotations

import difflib
from pathlib import Path

import pytest

from catalogue.findings import Trouble
from catalogue.frontmatter import split
from catalogue.people.adding import with_lines

CLIENTS = sorted(p for p in (Path(__file__).resolve().parents[2] / "clients").glob("*.md"))

FILE = """---
name: Ada
for: woman
units: cm
measured:
  2026-01-15:
    waist girth: 70   # over a shirt
    hip girth: 96

choices:
    Everyday Skirt:
        length: 60 cm
garments: [everyday-skirt]
---

Notes.
"""


def added(before: str, after: str) -> list[str]:
    return [line for line in difflib.ndiff(before.split("\n"), after.split("\n")) if line[0] in "+-"]


def test_a_new_day_goes_below_the_last_one() -> None:
    after = with_lines(FILE, ("measured", "2026-11-27"), ["waist girth: 71", "hip girth: 97.5"])
    assert added(FILE, after) == ["+   2026-11-27:", "+     waist girth: 71", "+     hip girth: 97.5"]
    assert list(split(after, "a.md").mapping["measured"].mapping or ()) == ["2026-01-15", "2026-11-27"]


def test_a_figure_given_again_takes_the_place_of_the_old_one() -> None:
    after = with_lines(FILE, ("measured", "2026-01-15"), ["hip girth: 98", "height: 170"])
    assert added(FILE, after) == ["-     hip girth: 96", "+     hip girth: 98", "+     height: 170"]


def test_the_choices_of_a_style_are_found_by_its_title_or_its_file_name() -> None:
    after = with_lines(FILE, ("choices", "everyday-skirt"), ["length: 64 cm", "hip ease: 5 cm"])
    assert added(FILE, after) == [
        "-         length: 60 cm",
        "+         length: 64 cm",
        "+         hip ease: 5 cm",
    ]


def test_headings_that_are_not_there_are_added() -> None:
    after = with_lines(FILE, ("fittings", "2026-11-27 everyday-skirt"), ["- waist let out 1 cm"])
    assert added(FILE, after) == [
        "+ fittings:",
        "+   2026-11-27 everyday-skirt:",
        "+     - waist let out 1 cm",
    ]
    again = with_lines(after, ("fittings", "2026-11-27 everyday-skirt"), ["- hem levelled 5 mm"])
    assert added(after, again) == ["+     - hem levelled 5 mm"]
    assert split(again, "a.md").mapping["garments"].entries


@pytest.mark.parametrize("heading", ["blue: the long one", 'say "hi"', "# one", "a\\b", "- x", "été 2"])
def test_any_heading_is_written_so_that_it_is_read_again(heading: str) -> None:
    after = with_lines(FILE, ("orders", heading), ["style: everyday-skirt"])
    orders = split(after, "").mapping["orders"].mapping or {}
    assert list(orders) == [heading] and orders[heading].mapping is not None


def test_an_empty_heading_is_filled() -> None:
    before = FILE.replace("choices:\n    Everyday Skirt:\n        length: 60 cm\n", "choices:\n")
    after = with_lines(before, ("choices", "everyday-skirt"), ["length: 64 cm"])
    assert added(before, after) == ["+   everyday-skirt:", "+     length: 64 cm"]


def test_line_ends_of_windows_stay() -> None:
    before = FILE.replace("\n", "\r\n")
    after = with_lines(before, ("measured", "2026-11-27"), ["waist girth: 71"])
    assert after == with_lines(FILE, ("measured", "2026-11-27"), ["waist girth: 71"]).replace("\n", "\r\n")


@pytest.mark.parametrize("row", ["choices: {}", "choices: [a]", "choices: none"])
def test_what_is_on_the_line_of_the_heading_is_never_broken(row: str) -> None:
    before = FILE.replace("choices:\n    Everyday Skirt:\n        length: 60 cm", row)
    with pytest.raises(Trouble) as caught:
        with_lines(before, ("choices", "everyday-skirt"), ["length: 64 cm"], "clients/ada.md")
    [finding] = caught.value.findings
    assert finding.place is not None and finding.place.line == 10


def test_a_file_without_front_matter_is_told() -> None:
    with pytest.raises(Trouble):
        with_lines("waist 70", ("measured",), ["waist girth: 70"])


@pytest.mark.parametrize("path", CLIENTS, ids=lambda p: p.stem)
def test_every_client_of_the_demo_takes_a_new_set(path: Path) -> None:
    before = path.read_text(encoding="utf-8")
    after = with_lines(before, ("measured", "2026-11-27"), ["waist girth: 70"])
    assert [line[0] for line in added(before, after)] in (["+", "+"], ["+", "+", "+"])
    assert (split(after, "").mapping["measured"].mapping or {})["2026-11-27"].mapping is not None
    assert split(after, "").body == split(before, "").body
