"""Amounts of money: text as people write it to exact decimals, and back."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from catalogue.lengths import UNIT_WORDS

MOST = Decimal(1_000_000)
"""No price of a workroom is higher than this."""
TOO_HIGH, FEWEST = 50, 2
_NUMBER = r"\d{1,3}(?:[ ,']\d{3})+(?:\.\d{1,2})?|\d{1,3}(?:\.\d{3})+,\d{1,2}|\d+(?:[.,]\d{1,2})?"
_AMOUNT = re.compile(rf"(\D{{0,4}}?)\s*({_NUMBER})\s*([^\d\s]{{0,12}})")


class MoneyError(ValueError):
    """A text that is no amount of money; `message` and `hint` are for the reader."""

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint


@dataclass(frozen=True, slots=True)
class Currency:
    """How amounts are shown.

    Attributes:
        sign: before the amount ("£") or, where it is a word of letters, after it ("EUR").
        step: what a price is rounded up to.
        comma: whether decimals are written with a comma.
    """

    sign: str = ""
    step: Decimal = Decimal("0.01")
    comma: bool = False

    def shown(self, amount: Decimal) -> str:
        """The amount with its sign, to the hundredth: "£42.50", "42.50 EUR", "1.234,50 EUR"."""
        text = f"{abs(amount).quantize(Decimal('0.01'), ROUND_HALF_UP):,.2f}"
        if self.comma:
            text = text.translate({ord(","): ".", ord("."): ","})
        minus = "\N{MINUS SIGN}" if amount < 0 else ""
        if not self.sign or self.sign[-1].isalpha():
            return f"{minus}{text}{' ' if self.sign else ''}{self.sign}"
        return f"{minus}{self.sign}{text}"

    def number(self, value: Decimal) -> str:
        """A number that is no amount, such as hours or a percentage, with as many decimals as it has: "7.5", "7,5"."""
        text = f"{value.normalize():f}"
        return text.replace(".", ",") if self.comma else text

    def rounded_up(self, amount: Decimal) -> Decimal:
        """The amount, or the next one above it that is a whole number of steps."""
        return (amount / self.step).to_integral_value(ROUND_CEILING) * self.step


def doubted(amount: Decimal, others: Iterable[Decimal]) -> str:
    """What was probably meant by an amount far above those of its kind, as in 1250 for 12.50; "" for any other.

    Only a whole number is doubted, `TOO_HIGH` times as high as the middle one of at least `FEWEST` others.
    """
    known = sorted(other for other in others if other)
    if (
        len(known) < FEWEST
        or amount != amount.to_integral_value()
        or amount < TOO_HIGH * known[len(known) // 2]
    ):
        return ""
    return f"{amount / 100:.2f}"


def parse_amount(text: str) -> Decimal:
    """The amount in `text`: "42.50", "42,50", "£1,200", "1.234,50", "85 EUR". Raises MoneyError."""
    plain = " ".join(text.split())
    found = _AMOUNT.fullmatch(plain)
    if not found:
        if not any(c.isdigit() for c in plain):
            raise MoneyError(f"“{plain[:40]}” has no number in it", "Write an amount such as 42.50.")
        hint = "An amount cannot be negative." if plain.startswith(("-", "−")) else ""
        raise MoneyError(f"“{plain[:40]}” is not an amount of money", hint or "Write it as in 42.50.")
    if found[1].strip() in ("-", "−"):
        raise MoneyError("an amount cannot be negative here", "Leave out the minus sign.")
    if found[3].strip(" ./").casefold() in UNIT_WORDS:
        raise MoneyError(
            f"“{plain[:40]}” ends in a unit of length, not in a currency", "Write it as in 42.50."
        )
    if "%" in plain:
        raise MoneyError(f"“{plain[:40]}” is a share, not an amount of money", "Write it as in 42.50.")
    number = found[2]
    if re.fullmatch(r"[\d.]+,\d{1,2}", number):
        number = number.replace(".", "").replace(",", ".")
    amount = Decimal(re.sub(r"[ ,']", "", number))
    if amount > MOST:
        raise MoneyError("this amount is too high to be right", "Check its decimal point.")
    return amount
