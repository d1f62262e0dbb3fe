"""What a studio charges by: its currency, hourly rate, margin and tax, and the hours that garments usually take."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from catalogue.money import Currency


@dataclass(frozen=True, slots=True)
class Prices:
    """From the studio's settings.

    Attributes:
        rate: for an hour of work; None where the studio states none.
        margin, tax: shares (0.1 for 10 %), 0 for none.
        hours: planned for a garment, by the word for it or by the style's slug, in small letters.
    """

    currency: Currency = field(default_factory=Currency)
    rate: Decimal | None = None
    margin: Decimal = Decimal(0)
    tax: Decimal = Decimal(0)
    hours: Mapping[str, Decimal] = field(default_factory=dict)

    def hours_for(self, style: str, garment: str) -> Decimal | None:
        """Hours planned for a style (its slug), else for such a garment; None where nothing is said."""
        return self.hours.get(style, self.hours.get(garment.casefold()))
