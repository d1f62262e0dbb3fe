"""What a client's draft of a style would be with other options: as a file asks for it, and as an order has it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from catalogue.people import Client
from catalogue.people.client import Chosen
from catalogue.studio.style import Style
from catalogue.workroom.own_drafts import has_own_draft


@dataclass(frozen=True, slots=True)
class OtherOptions:
    """A client with other choices for a style.

    Attributes:
        key: tells them apart, and from days and garments that were cut.
        words: as pages name it.
        choices: those that come before the client's own.
        ordered: whether it is an order that chooses them.
    """

    key: str
    words: str
    choices: Mapping[str, Chosen]
    client: Client
    ordered: bool = False


def other_options(client: Client, style: Style) -> list[OtherOptions]:
    """The sets of choices under `compare:` in the client's file, then those of orders; none in most files."""
    found = [
        OtherOptions(
            f"set-{each.slug}", each.name, each.choices, client.with_choices(style.slug, each.choices)
        )
        for each in client.compared.get(style.slug, ())
    ]
    # An order that makes a garment again as it was cut is compared with what was kept of it.
    found += [
        OtherOptions(
            f"order-{order.slug}",
            f"as ordered: {order.name}" if order.name else "as ordered",
            order.choices,
            client.with_choices(style.slug, order.choices),
            ordered=True,
        )
        for order in client.orders
        if order.as_cut is None and has_own_draft(client, order, style)
    ]
    return found
