"""Notions counted, measured and priced: from the style's words, the draft's figures and the studio's prices."""

from __future__ import annotations

import json
from decimal import Decimal
from types import SimpleNamespace

import pytest

from catalogue.language.values import Quantity
from catalogue.lengths import Unit, Units
from catalogue.money import Currency
from catalogue.people.client import Order
from catalogue.studio.prices import NotionPrice, Prices
from catalogue.studio.settings import read_settings
from catalogue.workroom.costs import costs_of
from catalogue.workroom.notions import notion_costs, notion_words, notions_in_units
from tests.workroom.test_costs import NOWHERE

METRE = 1000.0
PRICES = Prices(
    Currency("£"),
    notions={
        "zip": NotionPrice(Decimal("2.40")),
        "button": NotionPrice(Decimal("0.45")),
        "hook and bar": NotionPrice(Decimal("0.80")),
        "thread": NotionPrice(Decimal("1.90")),
        "stay tape": NotionPrice(Decimal("0.90"), METRE),
        "elastic": NotionPrice(Decimal("1.10"), METRE),
    },
)


def draft(*notions: str, **values: Quantity):
    """As much of a draft as notions need."""
    return SimpleNamespace(notions=notions, values=values, client=SimpleNamespace(units=Units()))


def mm(length: float) -> Quantity:
    return Quantity(length, 1)


@pytest.mark.parametrize(
    ("notion", "values", "amount"),
    [
        ("20 cm zip", {}, "2.40"),
        ("two flat buttons of 20 mm and one to spare", {}, "1.35"),
        ("hook and bar or one flat button", {}, "0.80"),
        (
            "flat 11 mm buttons (the draft says how many) and one to spare",
            {"button_count": Quantity(7)},
            "3.60",
        ),
        ("one flat 15 mm button for the band and one for the pocket", {}, "0.45"),
        # 61 cm is cut off as 70, 38 cm as 40.
        ("elastic of 25 mm (the draft says how long)", {"elastic_long": mm(610)}, "0.77"),
        ("straight stay tape of 8 mm (the draft says how long)", {"tape_length": mm(380)}, "0.36"),
        ("60 cm stay tape", {}, "0.54"),
        ("flat buttons (the draft says how many)", {}, None),
        ("elastic of 25 mm (the draft says how long)", {}, None),
        (
            "flat buttons (the draft says how many)",
            {"button_count": Quantity(6), "buttons_in_all": Quantity(9)},
            "4.05",
        ),
        ("zip of 60 cm, shortened if need be", {}, "2.40"),
    ],
)
def test_a_notion_costs_its_number_or_length(notion, values, amount):
    [cost], unpriced = notion_costs(draft(notion, **values), PRICES)
    assert unpriced == [] and cost.amount == (Decimal(amount) if amount else None)


def test_a_length_to_buy_is_rounded_up_and_is_that_of_the_thing_not_of_what_it_is_for():
    """What is worked out is cut off or shortened; an inch is 25.4 mm (international agreement, 1959)."""
    notions = ("snap tape for the legs (the draft says how long)", "zip (the draft says how long)")
    values = {"leg_length": mm(755), "snap_long": mm(1096), "zip_length": mm(200.8)}
    made = draft(*notions, **values)
    assert notion_words(made) == ["snap tape for the legs (110 cm)", "zip (20 cm)"]
    made.client.units = Units(Unit.IN)
    assert notion_words(made) == ["snap tape for the legs (43 1/2 in)", "zip (8 in)"]


def test_what_the_order_charges_already_and_what_has_no_price_is_not_added():
    costs, unpriced = notion_costs(
        draft(
            "20 cm zip",
            "sewing thread, buttonhole thread",
            "a buckle of 25 mm",
            "elastic of 25 mm",
            "No cord",
        ),
        PRICES,
        ("silver zip",),
    )
    assert [cost.name for cost in costs] == ["20 cm zip", "Sewing thread", "Buttonhole thread"]
    assert unpriced == ["a buckle of 25 mm", "elastic of 25 mm"]
    costs, _ = notion_costs(draft("20 cm zip", "hook and bar"), PRICES, ("zip",))
    assert [cost.name for cost in costs] == ["Hook and bar"]


def test_notions_and_hours_by_step_are_lines_of_their_own(tmp_path):
    """The hours are those of a simple dress: 1 + 1 1/2 + 6 + 1 = 9 1/2 (sewcanshe, 2015)."""
    file = tmp_path / "studio.toml"
    file.write_text(
        'hourly_rate = "15"\n'
        "hours = { dress = { visit = 1, cutting = 1.5, sewing = 6, mending = 1 } }\n"
        'notion_prices = { zip = "2.40", tape = "0.90 a yard" }\n',
        encoding="utf-8",
    )
    prices = read_settings(file).prices
    assert prices.notions["tape"].length == 914.4
    notions, unpriced = notion_costs(draft("zip", "a buckle"), prices)
    costs = costs_of(
        Order("o", "o", "d", NOWHERE, NOWHERE), prices.hours_for("x", "Dress"), [], prices, notions, unpriced
    )
    assert [(line.what, line.amount) for line in costs.lines] == [
        ("Zip", Decimal("2.40")),
        ("Other notions", Decimal("0.00")),
        ("Hours: visit", Decimal("15.00")),
        ("Hours: cutting", Decimal("22.50")),
        ("Hours: sewing", Decimal("90.00")),
        ("Hours: mending", Decimal("15.00")),
    ]
    assert costs.hours_planned == Decimal("9.5") and costs.estimate == Decimal("144.90")


def test_lengths_in_notions_are_in_the_clients_units():
    """An inch is 25.4 mm (international yard and pound agreement, 1959)."""
    notions = (
        "20 cm zip",
        "elastic of 25 mm (the draft says how long)",
        "two buttons, 2 in front",
        "8 in zip",
    )
    assert notions_in_units(notions, Units(Unit.IN)) == (
        "7 7/8 in zip",
        "elastic of 1 in (the draft says how long)",
        "two buttons, 2 in front",
        "8 in zip",
    )
    assert notions_in_units(notions, Units(Unit.CM)) == (*notions[:3], "20.3 cm zip")
    assert notions_in_units(notions[:1], Units(Unit.CM, both=True)) == ("20 cm (7 7/8 in) zip",)


def test_a_drafts_page_says_how_many_the_draft_says(demo_site):
    folder = demo_site / "styles/mens-shirt/nadim"
    values = json.loads((folder / "draft.json").read_text(encoding="utf-8"))["values"]
    count = values["buttons_in_all"]["value"]
    told = (folder / "index.html").read_text(encoding="utf-8")
    assert f"flat 11 mm buttons ({count:.0f}) and one to spare" in told
    for page in demo_site.glob("styles/*/*/index.html"):
        assert "the draft says how many" not in page.read_text(encoding="utf-8"), page
