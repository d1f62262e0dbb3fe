"""Orders in client files: what is read, and each mistake with its place and what to write instead."""

from __future__ import annotations

import datetime
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from catalogue.building.doubted_prices import doubted_prices
from catalogue.cloth.reading import read_cloths
from catalogue.findings import Place
from catalogue.people import Client, read_client
from catalogue.people.client import Chosen
from catalogue.people.orders import STAGES
from catalogue.slugs import slugify
from catalogue.workroom.order_view import with_choices
from catalogue.workroom.stages import next_step, stage_of
from tests.demo import ROOT, demo_clients

ORDERS = [(client, order) for client in demo_clients() for order in client.orders]


def client_with(folder: Path, *lines: str) -> Client:
    text = [
        "---",
        "name: A",
        "for: woman",
        "orders:",
        "  blue skirt:",
        *(f"    {line}" for line in lines),
        "---",
        "",
    ]
    path = folder / "a.md"
    path.write_text("\n".join(text), encoding="utf-8")
    return read_client(path, folder, today=datetime.date(2027, 1, 1))


def test_the_demo_studio_has_ten_orders_in_all_stages_in_eight_cloths():
    assert len(ORDERS) >= 10 and len({client.slug for client, _ in ORDERS}) >= 6
    found = {stage_of(order) for _, order in ORDERS}
    assert found >= {
        "ordered",
        "measured",
        "drafted",
        "toile",
        "fitted",
        "cut",
        "sewn",
        "finished",
        "delivered",
        "paid",
    }
    cloths = read_cloths(ROOT).by_slug
    assert {slugify(name) for _, order in ORDERS for _, name, _ in order.cloths} == set(cloths)


def test_every_order_of_the_demo_names_a_style_and_a_client_that_are_there():
    styles = {path.stem for path in (ROOT / "styles").glob("*.md")}
    for client, order in ORDERS:
        assert order.style in styles, (client.slug, order.name)
        assert not [f for f in client.findings if f.code.startswith("order-")]


def test_everything_of_an_order_is_read(tmp_path):
    client = client_with(
        tmp_path,
        "style: Straight skirt",
        "ordered: 2026-03-01",
        "due: 2026-04-01",
        "cloth: {main: Grey tweed, lining: Red silk}",
        "choices: {skirt length: 62 cm}",
        "lay: single",
        "price: £240",
        "deposit: 80",
        "extras: covered buttons 6.50; delivery 4",
        "hours: 7.5 h",
        "planned hours: 8",
        "measured: 2026-03-01",
        "cut: 2026-03-09",
    )
    assert client.ok
    [order] = client.orders
    assert (order.slug, order.style) == ("blue-skirt", "straight-skirt")
    assert [each[:2] for each in order.cloths] == [("main", "Grey tweed"), ("lining", "Red silk")]
    assert order.choices["skirt length"].text == "62 cm"
    assert (order.price, order.deposit, order.hours, order.planned_hours) == (240, 80, Decimal("7.5"), 8)
    assert order.extras == (("covered buttons", Decimal("6.50")), ("delivery", Decimal(4)))
    assert dict(order.stages) == {"measured": datetime.date(2026, 3, 1), "cut": datetime.date(2026, 3, 9)}
    assert stage_of(order) == "cut" and next_step(order) == "sew" and order.is_open
    assert client.garments == ("straight-skirt",)


@pytest.mark.parametrize(
    ("lines", "code", "line", "hint"),
    [
        (
            ["ordered: 2026-03-01"],
            "order-no-style",
            5,
            "Write style: and the name of the style's file, without .md.",
        ),
        (["style: s", "finnished: 2026-03-01"], "order-unknown-key", 7, "Did you mean “finished”?"),
        (
            ["style: s", "stage: cut"],
            "order-unknown-key",
            7,
            "Write each stage that is done with its day, as in cut: 2026-03-14 (measured, drafted, toile, fitted, cut, "
            "sewn, finished, delivered, paid).",
        ),
        (["style: s", "ordered: 2026-03-02", "due: 2026-03-01"], "order-dates", 8, "Check both dates."),
        (["style: s", "sewn: 2026-03-01", "cut: 2026-03-05"], "order-dates", 7, "Check both dates."),
        (
            ["style: s", "ordered: 1.3.2026"],
            "order-date",
            7,
            "Write 2026-03-01 for 1 March 2026 or 2026-01-03 for 3 January 2026; or settle it for all files by "
            'dates = "day first" in studio.toml.',
        ),
        (
            ["style: s", "ordered: 2026-02-30"],
            "order-date",
            7,
            "Write year-month-day, for example 2026-03-14.",
        ),
        (["style: s", "price: as agreed"], "order-money", 7, "Write an amount such as 42.50."),
        (["style: s", "extras: buttons"], "order-money", 7, None),
        (["style: s", "hours: long"], "order-hours", 7, "Write it as in 7.5."),
        (["style: s", "lay: round"], "order-lay", 7, "Write single, lengthwise, crosswise."),
        # In silence the garment would be cut to the usual length, or without its cloth.
        (["style: s", "choices: {length: [62 cm]}"], "order-not-a-text", 7, None),
        (["style: s", "choices: {skirt length: 62 cm, skirt_length: 52 cm}"], "order-twice", 7, None),
        (["style: s", "cloth: {main: [Tweed]}"], "order-not-a-text", 7, None),
        (["style: s", "cut: 2062-03-05"], "order-date-to-come", 7, None),
        (["style: s", "as cut: 2062-03-05"], "order-date-to-come", 7, "Write the day on which it was cut."),
        (["style: s", "price: 240 a metre"], "order-money", 7, "Write it as in 42.50."),
    ],
)
def test_what_is_wrong_with_an_order_is_said_with_its_place_and_stops_no_draft(
    tmp_path, lines, code, line, hint
):
    client = client_with(tmp_path, *lines)
    [finding] = [f for f in client.findings if f.code.startswith("order-")]
    assert finding.is_error and (finding.code, finding.place and finding.place.line) == (code, line)
    assert hint is None or finding.hint == hint
    assert client.ok_for(["bust_girth"])


@pytest.mark.parametrize(
    ("lines", "code", "line"),
    [
        (["style: s", "ordered: 2026-03-01", "due: 2062-04-01"], "order-year", 8),
        (["style: s", "ordered: 0206-03-01", "due: 2026-04-01", "measured: 2026-03-01"], "order-year", 7),
        (["style: s", "cut: 2026-03-01", "measured: 2026-03-04"], "order-dates", 8),
        (["style: s", "price: 130", "deposit: 260"], "order-money", 8),
    ],
)
def test_what_is_hardly_meant_in_an_order_is_asked_about(tmp_path, lines, code, line):
    client = client_with(tmp_path, *lines)
    [finding] = [f for f in client.findings if f.code.startswith("order-")]
    assert (finding.code, finding.is_error, finding.place and finding.place.line) == (code, False, line)


def test_an_order_copied_under_another_name_is_asked_about(tmp_path):
    client = client_with(tmp_path, "style: s", "ordered: 2026-03-01", "cloth: Tweed")
    text = (tmp_path / "a.md").read_text("utf-8")
    begin = text.index("  blue skirt:")
    copied = text[begin:].removesuffix("---\n")
    (tmp_path / "a.md").write_text(f"{text[:begin]}{copied}{copied.replace('blue', 'red')}---\n", "utf-8")
    client = read_client(tmp_path / "a.md", tmp_path)
    assert [(f.code, f.place and f.place.line) for f in client.findings] == [("order-twice", 9)]


def test_stages_lead_from_one_to_the_next(tmp_path):
    """A toile is made where its day is written down; payment may come at any time (common practice, no source)."""
    done = ["style: s", "ordered: 2026-03-01"]
    steps = []
    for stage in STAGES[:-1]:
        done.append(f"{stage}: 2026-03-01")
        steps.append(next_step(client_with(tmp_path, *done).orders[0]))
    assert steps == [
        "draft and print the pattern",
        "fit",
        "fit",
        "lay and cut the cloth",
        "sew",
        "finish and press",
        "deliver",
        "take the payment",
    ]
    paid = client_with(tmp_path, *done, "paid: 2026-02-01").orders[0]
    assert not paid.is_open and next_step(paid) == "" and stage_of(paid) == "paid"


def test_measurements_of_the_day_of_the_order_or_later_are_not_asked_for_again(tmp_path):
    order = client_with(tmp_path, "style: s", "ordered: 2026-03-02").orders[0]
    earlier, same, later = (datetime.date(2026, 3, day) for day in (1, 2, 9))
    assert next_step(order) == next_step(order, [earlier]) == "take the measurements"
    assert next_step(order, [earlier, same]) == next_step(order, [later]) == "draft and print the pattern"


def test_a_choice_of_an_order_counts_before_the_client_s_however_it_is_written(tmp_path):
    client = client_with(tmp_path, "style: s", "choices: {skirt_length: 62 cm}")
    own = Chosen("52 cm", Place("a.md", 1), Place("a.md", 1))
    both = with_choices(replace(client, choices={"s": {"skirt length": own}}), client.orders[0])
    assert {name: chosen.text for name, chosen in both.choices["s"].items()} == {"skirt length": "62 cm"}


def test_a_day_of_measuring_without_measurements_is_asked_about(tmp_path):
    def told(day: str, head: str) -> list[tuple[str, str]]:
        path = tmp_path / "ada.md"
        path.write_text(
            f"---\nname: Ada\nfor: woman\n{head}orders:\n  o:\n    style: s\n    measured: {day}\n---\n",
            encoding="utf-8",
        )
        return [(f.code, f.hint) for f in read_client(path, tmp_path).findings]

    sets = "measured:\n  2026-03-04:\n    waist girth: 28 in\n  2026-01-20:\n    hip girth: 38 in\n"
    assert told("2026-03-04", sets) == told("2026-01-20", sets) == []
    [(code, hint)] = told("2026-02-22", sets)
    assert code == "order-not-measured" and hint.startswith("The nearest are of 2026-03-04: write that day")
    [(_, hint)] = told("2026-04-03", sets)
    assert hint == "Are day and month the wrong way round? 2026-03-04 would fit."
    # One set without a day may be of any.
    assert told("2026-02-22", "measurements:\n  waist girth: 28 in\n") == []


@pytest.mark.parametrize(
    ("lines", "hint"),
    [
        (["hours: 400"], "Is a decimal point missing? Hours are those of this garment alone."),
        (["planned hours: 250"], "Is a decimal point missing? Hours are those of this garment alone."),
        (["hours: 75", "planned hours: 8"], "Is a decimal point missing?"),
        (["hours: 60", "planned hours: 20"], None),
        (["hours: 120"], None),
    ],
)
def test_hours_that_no_garment_takes_are_asked_about(tmp_path, lines, hint):
    client = client_with(tmp_path, "style: s", *lines)
    assert [(f.code, f.hint) for f in client.findings if f.code.startswith("order-")] == (
        [("order-many-hours", hint)] if hint else []
    )
    assert client.orders[0].hours or client.orders[0].planned_hours  # It counts all the same.


def test_an_order_many_times_as_dear_as_the_others_is_asked_about_without_telling_what_they_cost(tmp_path):
    def of(name: str, *prices: str) -> Client:
        rows = "".join(f"  {n}:\n    style: s\n    price: {price}\n" for n, price in enumerate(prices))
        path = tmp_path / f"{name}.md"
        path.write_text(f"---\nname: {name}\nfor: woman\norders:\n{rows}---\n", encoding="utf-8")
        return read_client(path, tmp_path)

    bea = of("bea", "210", "260.50")
    [finding] = doubted_prices([of("ada", "24000"), bea])
    assert (finding.code, finding.place and finding.place.line) == ("order-high-price", 7)
    assert (
        finding.hint == "Did you mean 240.00? Then write its decimal point." and "210" not in finding.message
    )
    assert list(doubted_prices([of("ada", "2400"), bea])) == []
    assert list(doubted_prices([of("ada", "24000")])) == []
