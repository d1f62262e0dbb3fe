"""Orders whose draft is not the client's usual one: which they are, and what pages and prints say of them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import TYPE_CHECKING

from catalogue.days import day_words
from catalogue.lengths import LengthError, Unit, parse_length
from catalogue.people.more_or_less import more_or_less

if TYPE_CHECKING:
    from catalogue.people import Client
    from catalogue.people.client import Order
    from catalogue.studio.style import Style

AS_ORDERED = ""
"""The name of an order in a client's copy, which holds no more of it than its style and its options."""
_MOST_OPTIONS = 6


def chosen_otherwise(client: Client, order: Order, style: Style) -> Mapping[str, str]:
    """What an order chooses otherwise than the client's usual draft has it, as written, by the choice's name."""
    usual = {choice.name: choice.default for choice in style.choices}
    usual |= {name: chosen.text for name, chosen in client.choices.get(style.slug, {}).items()}
    unit = client.units.primary
    return {
        name: chosen.text
        for name, chosen in order.choices.items()
        if _meant(chosen.text, unit) != _meant(usual.get(name, ""), unit)
    }


@lru_cache(maxsize=4096)
def _meant(text: str, unit: Unit) -> str | float:
    """What a choice comes to where it is a length, in tenths of a mm: 65 cm and 650 mm are one; else its words."""
    if more_or_less(text) is not None:
        return text  # “+5 cm” is no length.
    try:
        return round(parse_length(text, unit, negative=True, taped=True) * 10)
    except LengthError:
        return text


def differs(client: Client, order: Order, style: Style) -> bool:
    """Whether an order is not for the client's usual draft: it has other options, or a garment as it was cut."""
    return order.as_cut is not None or bool(chosen_otherwise(client, order, style))


def has_own_draft(client: Client, order: Order, style: Style) -> bool:
    """Whether the catalogue has a draft of an order's own.

    Where nothing is left to do it has none: what was cut is kept by `catalogue keep`.
    """
    return order.style == style.slug and order.is_open and differs(client, order, style)


def own_drafts(client: Client, style: Style) -> list[Order]:
    """The client's orders of a style that are drafted for themselves."""
    return [order for order in client.orders if has_own_draft(client, order, style)]


def how_it_differs(client: Client, order: Order, style: Style) -> str:
    """How an order differs from the usual draft: "has other options (length 65 cm, flare 12 cm)"."""
    options = [f"{name} {text}" for name, text in chosen_otherwise(client, order, style).items()]
    if len(options) > _MOST_OPTIONS:
        options[_MOST_OPTIONS:] = [f"{len(options) - _MOST_OPTIONS} more"]
    other = f"other options ({', '.join(options)})" if options else ""
    if order.as_cut is None:
        return f"has {other}"
    again = f"is made again as cut on {day_words(order.as_cut, client.units.dates)}"
    return f"{again}, with {other}" if other else again


def notices(client: Client, style: Style) -> tuple[str, ...]:
    """What a print of the usual draft says at its top: for which orders it is not."""
    return tuple(
        f"{_capital(called(order))} {how_it_differs(client, order, style)}: print it from "
        f"{'the order' if order.name else 'its own page'}, not this."
        for order in own_drafts(client, style)
    )


def notice_for(client: Client, order: Order, style: Style) -> str:
    """What the print of an order's own draft says at its top; `client` is the client as usual."""
    return f"Pattern for {called(order)}, which {how_it_differs(client, order, style)}."


def called(order: Order) -> str:
    """The order as sentences name it."""
    return f"the order “{order.name}”" if order.name != AS_ORDERED else "what was ordered"


def beside_the_name(order: Order) -> str:
    """The order as it stands after the client's name on pieces and sheets."""
    return f"order “{order.name}”" if order.name != AS_ORDERED else "as ordered"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
