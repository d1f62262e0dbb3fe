"""How far an order has come, and what comes next."""

from __future__ import annotations

import datetime
from collections.abc import Iterable

from catalogue.people.client import Order
from catalogue.people.orders import STAGES

_NEXT = {
    "measured": "take the measurements",
    "drafted": "draft and print the pattern",
    "toile": "sew the toile",
    "fitted": "fit",
    "cut": "lay and cut the cloth",
    "sewn": "sew",
    "finished": "finish and press",
    "delivered": "deliver",
    "paid": "take the payment",
}
ALWAYS = tuple(stage for stage in STAGES if stage != "toile")
"""Stages of every order; a toile is made where its day is written down."""


def stage_of(order: Order) -> str:
    """The last stage that is done, "ordered" before the first."""
    done = [stage for stage in STAGES if stage in order.stages and stage != "paid"]
    return "paid" if not order.is_open else done[-1] if done else "ordered"


def next_step(order: Order, taken: Iterable[datetime.date] = ()) -> str:
    """What comes next, as a thing to do; "" when all is done. What lies before the last stage done is not asked for.

    Measurements `taken` on the day of the order or later are those of the order, written down under it or not.
    """
    if not order.is_open:
        return ""
    done = [STAGES.index(stage) for stage in order.stages if stage != "paid"]
    if order.ordered is not None and any(day >= order.ordered for day in taken):
        done.append(STAGES.index("measured"))
    last = max(done, default=-1)
    rest = [s for s in ALWAYS if STAGES.index(s) > last and s not in order.stages]
    return _NEXT[rest[0]] if rest else ""
