"""A mistake in a style file is told once, whatever number of clients, orders and sizes are drafted from it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from catalogue.building.checking import check
from catalogue.building.gathering import Told, gathered
from catalogue.building.kind import Definition
from catalogue.building.progress import finding_text
from catalogue.building.report import Report, Request
from catalogue.building.run import build
from catalogue.building.units import CATALOGUE
from catalogue.findings import Finding, Place
from tests.building.odd_studio import CLIENT, PLAIN

NAMES = ("Person 10", "Person 9", "Abẹ́bí")
ORDERS = """orders:
  long one:
    style: first-skirt
    choices:
      length: 70 cm
---
"""
TABLE = """---
name: Counter sizes
for: woman
units: cm
garments: [first-skirt]
---

| size        |  8 | 10 |
|-------------|---:|---:|
| waist girth | 68 | 74 |
"""
Look = Callable[[Request, Definition], Report]
MISTAKE = "hem  = length down from sied"


class Desk:
    """A studio of one style, three clients, an order with options of its own, and a table of two sizes."""

    def __init__(self, folder: Path) -> None:
        self.studio, self.output = folder / "studio", folder / "site"
        (self.studio / "styles").mkdir(parents=True)
        (self.studio / "clients/sizes").mkdir(parents=True)
        (self.studio / "clients/sizes/counter.md").write_text(TABLE, encoding="utf-8")
        for number, name in enumerate(NAMES):
            text = CLIENT.replace("name: A", f"name: {name}").replace("girth: 76", f"girth: {76 + number}")
            text = text.replace("---\nNotes", ORDERS + "Notes") if number == 0 else text
            (self.studio / f"clients/client-{number}.md").write_text(text, encoding="utf-8")

    def told(self, style: str, also: Sequence[Look] = ()) -> list[Told]:
        """What a check says of the style, and says again, and whatever else looks."""
        (self.studio / "styles/first-skirt.md").write_text(style, encoding="utf-8")
        request = Request(self.studio, self.output, jobs=1)
        reports: list[Report] = [look(request, CATALOGUE) for look in (check, check, *also)]
        for report in reports:
            assert report.findings == reports[0].findings and not report.ok
        return [told for told in reports[0].findings if str(told.finding.place).startswith("styles/")]


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    return Desk(tmp_path_factory.mktemp("told-once"))


def test_a_line_that_is_wrong_for_all_is_told_once_with_whom_it_concerns(desk: Desk) -> None:
    # A build says what a check does, and says it again when nothing changed.
    [told] = desk.told(PLAIN.replace("hem  = length down from side", MISTAKE), (build, build))
    assert told.clients == ("Abẹ́bí", "Person 9", "Person 10")
    assert told.others == ("Counter sizes, size 8, size 10", "Order “long one” of Person 10")
    assert told.figures == ()
    assert finding_text(told).splitlines()[-2:] == [
        "    for Abẹ́bí, Person 9, Person 10",
        "    also for Counter sizes, size 8, size 10; Order “long one” of Person 10",
    ]


def test_the_figures_of_each_are_listed_where_they_differ(desk: Desk) -> None:
    low = "low  = below start on level hem\n"
    [told] = desk.told(PLAIN.replace(low, f"{low}check waist_girth is more than 90 cm\n"))
    assert "78 cm" in told.finding.message and told.clients == ("Abẹ́bí",)
    assert told.figures == (
        ("Person 9", "77 cm"),
        ("Person 10, Order “long one” of Person 10", "76 cm"),
        ("Counter sizes, size 8", "68 cm"),
        ("Counter sizes, size 10", "74 cm"),
    )
    assert "with other figures for Person 9 (77 cm), Person 10" in finding_text(told)


def test_what_one_order_or_one_table_alone_has_is_named_before_the_message(desk: Desk) -> None:
    low = "low  = below start on level hem\n"
    [order, size] = desk.told(
        PLAIN.replace(low, f"{low}check length is less than 65 cm\ncheck waist_girth is more than 70 cm\n")
    )
    assert f"{order.finding}".partition(": error: ")[2].startswith("Order “long one” of Person 10: ")
    assert f"{size.finding}".partition(": error: ")[2].startswith("Counter sizes, size 8: ")
    assert not order.clients and not size.clients and not order.others and not size.others


@pytest.mark.parametrize(
    ("first", "second", "figures"),
    [
        ("it is 3 cm, not 4 cm", "it is 1 1/4 in, not 1 5/8 in", "1 1/4 in, 1 5/8 in"),
        ("it is 3,5 cm at 20°", "it is 3,5 cm at -4.5°", "-4.5°"),
        ("in “part 2” 12 %", "in “part 2” 12.5 %", "12.5 %"),
    ],
)
def test_figures_are_told_from_words_in_any_units(first: str, second: str, figures: str) -> None:
    place = Place("styles/a.md", 3, 1)
    [told] = gathered([(Finding("x", first, place), "A"), (Finding("x", second, place), "B")])
    assert (told.finding.message, told.clients, told.figures) == (first, ("A",), (("B", figures),))


def test_what_differs_in_words_is_told_apart() -> None:
    place = Place("styles/a.md", 3, 1)
    messages = ("the side is 3 cm too long", "the side is 3 cm too short", "the hem is 3 cm too long")
    told = gathered((Finding("x", message, place), "A") for message in messages)
    assert [each.finding.message for each in told] == list(messages)
    named = [Finding("x", "“arm2” is not known", place), Finding("x", "“arm3” is not known", place)]
    assert len(gathered((finding, "A") for finding in named)) == 2
    assert (
        len(gathered((Finding("x", f"{n} cm of cloth"), "A") for n in (1, 2))) == 2
    )  # of two styles, perhaps


def test_a_mistake_in_the_one_client_s_own_file_names_nobody():
    own = Told(Finding("check", "A mistake.", Place("clients/a.md", 3, 1)), ("Person 1",))
    assert "for Person" not in finding_text(own)
    for file in ("styles/a.md", "clients/cloths.md", "clients/measurements.md"):
        told = Told(Finding("check", "A mistake.", Place(file, 3, 1)), ("Person 1",))
        assert finding_text(told).endswith("for Person 1")


def test_whom_other_figures_concern_is_counted_by_figures():
    """Many clients in many figures: “and 34 more” would be read as so many clients."""
    findings = [
        (Finding("check", f"The hem is {n // 10} cm too long.", Place("styles/a.md", 3, 1)), f"Person {n}")
        for n in range(200)
    ]
    [told] = gathered(findings)
    text = finding_text(told)
    assert "for Person 0, Person 1, Person 2, Person 3, Person 4, Person 5 and 4 more\n" in text
    assert "Person 15 and 4 more (1 cm), Person 20" in text
    assert text.endswith("Person 65 and 4 more (6 cm) and for others, in 13 more figures")
