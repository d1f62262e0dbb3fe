"""What a studio charges by: its currency, hourly rate, margin and tax, and the hours that garments usually take."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import NamedTuple

from catalogue.money import Currency
from catalogue.trade_names import wordings


class NotionPrice(NamedTuple):
    """What a notion costs: each, or for `length` mm of it where that is not 0."""

    amount: Decimal
    length: float = 0.0

    @property
    def unit(self) -> str:
        return "each" if not self.length else "a metre" if self.length == 1000.0 else "a yard"


@dataclass(frozen=True, slots=True)
class Prices:
    """From the studio's settings.

    Attributes:
        rate: for an hour of work; None where the studio states none.
        margin, tax: shares (0.1 for 10 %), 0 for none.
        hours: planned for a garment, by the word for it or by the style's slug, in small letters: (step, hours),
            where nothing is said of steps one step without a name.
        notions: prices by what they are called ("zip", "bias tape").
    """

    currency: Currency = field(default_factory=Currency)
    rate: Decimal | None = None
    margin: Decimal = Decimal(0)
    tax: Decimal = Decimal(0)
    hours: Mapping[str, tuple[tuple[str, Decimal], ...]] = field(default_factory=dict)
    notions: Mapping[str, NotionPrice] = field(default_factory=dict)

    def hours_for(self, style: str, garment: str) -> tuple[tuple[str, Decimal], ...]:
        """(step, hours) planned for a style (its slug), else for such a garment by any of its names; else ()."""
        names = (style, garment.casefold(), *(wording for wording, _, _ in wordings(garment)))
        return next((self.hours[name] for name in names if name in self.hours), ())
