"""What a garment costs, set out line by line.

Price = what the garment itself takes (cloth, hours, notions and other extras) + a share for the rest and for profit
(disboutique, 2008). All amounts are exact decimals; the estimate is rounded up to the studio's step.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from catalogue.people.client import Order
from catalogue.studio.prices import Prices
from catalogue.workroom.notions import NotionCost

CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class CostLine:
    """One line: what, how it is worked out, and the amount; None where something is missing to know it."""

    what: str
    detail: str
    amount: Decimal | None


@dataclass(frozen=True, slots=True)
class ClothCost:
    """A length of cloth as it is bought: mm, and the price of `price_for` mm (None where none is known)."""

    name: str
    shown: str
    length: float
    price: Decimal | None
    price_for: float


@dataclass(frozen=True, slots=True)
class OrderCosts:
    """The costs of one order.

    Attributes:
        lines: cloth, notions, hours, extras, margin and tax, in this order.
        estimate: their sum rounded up; None when an amount is missing.
        to_pay: of the agreed price, else of the estimate, what is left after the deposit.
        hours_planned, hours_spent: None where nothing is said.
    """

    lines: tuple[CostLine, ...]
    estimate: Decimal | None
    agreed: Decimal | None
    deposit: Decimal | None
    to_pay: Decimal | None
    hours_planned: Decimal | None
    hours_spent: Decimal | None


def costs_of(
    order: Order,
    planned: Sequence[tuple[str, Decimal]],
    cloths: Iterable[ClothCost],
    prices: Prices,
    notions: Iterable[NotionCost] = (),
    unpriced: Sequence[str] = (),
) -> OrderCosts:
    """The costs of an order; `planned` are the hours by step where the order itself says none."""
    shown = prices.currency.shown
    lines: list[CostLine] = []
    for cloth in cloths:
        if cloth.price is None:
            lines.append(CostLine(cloth.name, f"{cloth.shown}, no price known", None))
            continue
        amount = (cloth.price * Decimal(repr(cloth.length)) / Decimal(repr(cloth.price_for))).quantize(CENT)
        unit = "a metre" if cloth.price_for == 1000.0 else "a yard"
        lines.append(CostLine(cloth.name, f"{cloth.shown} at {shown(cloth.price)} {unit}", amount))
    lines += [
        CostLine(n.name, n.detail, None if n.amount is None else n.amount.quantize(CENT)) for n in notions
    ]
    if unpriced and prices.notions:
        lines.append(CostLine("Other notions", f"without a price: {', '.join(unpriced)}", Decimal("0.00")))
    steps = [("", order.planned_hours)] if order.planned_hours else planned
    hours = sum((hours for _, hours in steps), Decimal(0)) if steps else None
    if not steps:
        lines.append(CostLine("Hours", "none planned", None))
    for step, each in steps:
        what = f"Hours: {step}" if step else "Hours"
        spent = f"{prices.currency.number(each)} h"
        if prices.rate is None:
            lines.append(CostLine(what, f"{spent}, no hourly rate in studio.toml", None))
        else:
            lines.append(
                CostLine(what, f"{spent} at {shown(prices.rate)}", (each * prices.rate).quantize(CENT))
            )
    lines += [CostLine(what[:1].upper() + what[1:], "", amount) for what, amount in order.extras]
    known = all(line.amount is not None for line in lines)
    for share, what in ((prices.margin, "Margin"), (prices.tax, "Tax")):
        if share:
            so_far = sum((line.amount for line in lines if line.amount is not None), Decimal(0))
            detail = f"{prices.currency.number(share * 100)} %" + (
                " (ask your adviser)" if what == "Tax" else ""
            )
            lines.append(CostLine(what, detail, (so_far * share).quantize(CENT) if known else None))
    total = sum((line.amount for line in lines if line.amount is not None), Decimal(0))
    estimate = prices.currency.rounded_up(total) if known else None
    price = order.price if order.price is not None else estimate
    paid = "paid" in order.stages
    to_pay = Decimal(0) if paid else None if price is None else price - (order.deposit or Decimal(0))
    return OrderCosts(tuple(lines), estimate, order.price, order.deposit, to_pay, hours, order.hours)
