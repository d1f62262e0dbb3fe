"""Prices of orders that are far above what the studio asks otherwise: a decimal point that is missing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from catalogue.findings import Finding, Severity
from catalogue.money import TOO_HIGH, doubted

if TYPE_CHECKING:
    from catalogue.people import Client


def doubted_prices(clients: Iterable[Client]) -> Iterator[Finding]:
    """A warning for each order that costs many times what the other orders of the studio do.

    What others pay is not told: the client's own page may show the finding.
    """
    asked = [(order, order.price) for client in clients for order in client.orders if order.price]
    for at, (order, price) in enumerate(asked):
        others = (other for n, (_, other) in enumerate(asked) if n != at)
        if meant := doubted(price, others):
            message = f"price: {price} is over {TOO_HIGH} times what this studio’s orders usually cost"
            place = order.price_place or order.place
            hint = f"Did you mean {meant}? Then write its decimal point."
            yield Finding("order-high-price", message, place, hint, Severity.WARNING)
