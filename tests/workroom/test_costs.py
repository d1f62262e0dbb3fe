"""What a garment costs: published examples, sums line by line, and what is not known is never guessed."""

from __future__ import annotations

from decimal import Decimal

import pytest

from catalogue.findings import Place
from catalogue.money import Currency
from catalogue.people.client import Order
from catalogue.studio.prices import Prices
from catalogue.workroom.costs import ClothCost, costs_of

NOWHERE = Place("")


def order(**said) -> Order:
    return Order("one", "one", "skirt", NOWHERE, NOWHERE, **said)


def cloth(length: float, price: str | None, price_for: float = 1000.0) -> ClothCost:
    return ClothCost("tweed", "some", length, Decimal(price) if price else None, price_for)


@pytest.mark.parametrize(
    ("material", "hours", "rate", "total"),
    [
        (cloth(3 * 914.4, "12", 914.4), "10", "15", "186"),  # 3 yd for 36, 10 h at 15 (grecianneedle, 2022)
        (cloth(1000, "47.50"), "6", "8", "95.50"),  # jeans: 47.50 + 6 h at 8 (zknowsbest, 2010)
        (cloth(1000, "7.25"), "0.5", "20", "17.25"),  # half an hour at 20 + 7.25 (thebalancecareers)
    ],
)
def test_published_examples_come_out(material, hours, rate, total):
    costs = costs_of(order(), [("", Decimal(hours))], [material], Prices(rate=Decimal(rate)))
    assert costs.estimate == Decimal(total)


def test_lines_add_up_to_the_estimate():
    prices = Prices(Currency("£", Decimal(1)), Decimal(16), Decimal("0.1"), Decimal("0.2"))
    made = order(
        extras=(("zip", Decimal("2.40")),), price=Decimal(160), deposit=Decimal(50), hours=Decimal(5)
    )
    costs = costs_of(made, [("", Decimal(4))], [cloth(950, "38")], prices)
    assert [(line.what, line.amount) for line in costs.lines] == [
        ("tweed", Decimal("36.10")),
        ("Hours", Decimal("64.00")),
        ("Zip", Decimal("2.40")),
        ("Margin", Decimal("10.25")),
        ("Tax", Decimal("22.55")),
    ]
    assert sum(line.amount for line in costs.lines) == Decimal("135.30")
    assert (costs.estimate, costs.agreed, costs.to_pay) == (136, 160, 110)
    assert (costs.hours_planned, costs.hours_spent) == (4, 5)


def test_an_estimate_is_not_made_up_where_something_is_not_known():
    assert (
        costs_of(order(), [("", Decimal(4))], [cloth(950, None)], Prices(rate=Decimal(16))).estimate is None
    )
    assert costs_of(order(), [], [], Prices(rate=Decimal(16))).estimate is None
    unpriced = costs_of(order(price=Decimal(90)), [("", Decimal(4))], [], Prices())
    assert (unpriced.estimate, unpriced.to_pay) == (None, 90)


def test_the_hours_of_the_order_count_before_those_of_the_garment():
    prices = Prices(rate=Decimal(10), hours={"skirt": (("", Decimal(4)),), "long-skirt": (("", Decimal(6)),)})
    assert prices.hours_for("long-skirt", "skirt") == (("", 6),)
    assert prices.hours_for("short", "Skirt") == (("", 4),)
    made = order(planned_hours=Decimal("7.5"))
    assert costs_of(made, [("", Decimal(4))], [], prices).estimate == 75


def test_nothing_is_left_to_pay_of_what_is_paid():
    import datetime

    made = order(price=Decimal(90), stages={"paid": datetime.date(2026, 3, 1)})
    assert costs_of(made, [("", Decimal(4))], [], Prices()).to_pay == 0
