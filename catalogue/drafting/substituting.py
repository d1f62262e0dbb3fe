"""The client's figures in place of names in a formula, as exact as the printed result needs them.

A working is read and worked out again by hand. So the rule is: what is printed, worked out and rounded to the places of
the printed result, gives the printed result. Figures are shown as a tape is read where that holds, and else in
decimals, as few as make it hold (2 11/16 in × 1 1/2 is not 4 in, 2.67 in × 1 1/2 is).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import evaluate
from catalogue.drafting.exact_figures import exact_length, exact_number, rounded_length, rounded_number
from catalogue.drafting.messages import Broken
from catalogue.drafting.registry import SHOWS, SUBSTITUTED
from catalogue.findings import Trouble
from catalogue.language.tree import Node
from catalogue.language.values import Quantity, Value, Word
from catalogue.language.wording import spell
from catalogue.lengths import UNIT_WORDS, Unit, Units, taped

MOST_PLACES = 6
"""Decimals after which no more are tried."""

_UNIT = re.compile("|".join(sorted(map(re.escape, UNIT_WORDS), key=len, reverse=True)), re.IGNORECASE)
_PARTS = {"half": 2.0, "third": 3.0, "quarter": 4.0}

Leaf = Callable[[Node], float | None]


class _Values:
    """The values of a formula's phrases, each worked out once: a working asks for them several times."""

    __slots__ = ("_known", "desk")

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._known: dict[int, Value | None] = {}

    def of(self, node: Node) -> Value | None:
        """The value of a phrase; None when it has none."""
        key = id(node)  # The phrases are held by the formula, longer than they are asked for here.
        if key not in self._known:
            try:
                self._known[key] = evaluate(node, self.desk)
            except (Trouble, Broken):
                self._known[key] = None
        return self._known[key]


def substituted(node: Node, desk: Desk) -> str:
    """The formula with the client's figures in place of names and measured phrases; points keep their names.

    Lengths that the style writes in inches are told in centimetres to a client who is measured in these, and the other
    way: a working in both can't be followed on one tape.
    """
    values = _Values(desk)
    places = next((n for n in range(MOST_PLACES) if _comes_out(node, values, n)), MOST_PLACES)
    return spell(node, lambda part: _figure(part, values, places))


def _value(node: Node, values: _Values) -> Value | None:
    """What is put in for a phrase; None when it stays as it is written."""
    if node.word not in SUBSTITUTED and not _in_other_units(node, values.desk):
        return None
    value = values.of(node)
    return value if isinstance(value, Quantity | Word) else None


def _in_other_units(node: Node, desk: Desk) -> bool:
    """Whether a phrase is a length as the style writes it, in units that the client's tape does not show."""
    if node.word != "length" or desk.messages.units.both:
        return False
    unit = _UNIT.search(node.text)
    if unit is None:
        return False
    return (UNIT_WORDS[unit[0].casefold()] in ("mm", "cm", "m")) != desk.messages.units.primary.is_metric


def _figure(node: Node, values: _Values, places: int) -> str | None:
    value, desk = _value(node, values), values.desk
    if value is None:
        return None
    if places and isinstance(value, Quantity) and not value.angle:
        if value.is_length:
            return exact_length(value.value, desk.messages.units, places)
        if value.is_number:
            return exact_number(value.value, places)
    return desk.show(value)


def _comes_out(node: Node, values: _Values, places: int) -> bool:
    """Whether every sum in a formula, worked out with the figures as printed, rounds to its result as printed."""
    systems = _systems(values.desk.messages.units)
    return all(_sum_comes_out(each, values, places, system) for each in _sums(node) for system in systems)


@cache
def _systems(units: Units) -> tuple[Units, ...]:
    """The units in which a result is shown, one by one."""
    first = replace(units, both=False)
    return (
        (first, replace(first, primary=Unit.IN if units.primary.is_metric else Unit.CM))
        if units.both
        else (first,)
    )


def _sums(node: Node) -> list[Node]:
    """The sums whose results are printed: the formula itself, or those by which a point is placed."""
    if node.word == "placed":
        return [move.amount for move in node.by.each]
    if SHOWS.get(node.word) == "amounts":
        return [node.amount]
    return [node]


def _sum_comes_out(node: Node, values: _Values, places: int, units: Units) -> bool:
    if node.word in SUBSTITUTED or node.word == "length":
        return True
    result = values.of(node)
    if not isinstance(result, Quantity) or result.angle or result.power > 1:
        return True

    def printed(part: Node) -> float | None:
        value = _value(part, values)
        if not isinstance(value, Quantity):
            return None
        if value.is_length:
            return rounded_length(value.value, units, places)
        return rounded_number(value.value, places) if value.is_number else value.value

    again = _worked_out(node, values, printed)
    if again is None:
        return True
    if result.is_length:
        return taped(again, units) == taped(result.value, units)
    show = values.desk.show
    return show(Quantity(again)) == show(result)


def _worked_out(node: Node, values: _Values, printed: Leaf) -> float | None:
    """A sum with the printed figures; None for what is no plain arithmetic."""
    if node.word in SUBSTITUTED or _in_other_units(node, values.desk):
        return printed(node)
    if node.word in ("length", "number", "percent"):
        value = values.of(node)
        return value.value if isinstance(value, Quantity) else None
    if node.word in ("negative", *_PARTS):
        whole = _worked_out(node.of, values, printed)
        return None if whole is None else whole / _PARTS.get(node.word, -1.0)
    if node.word == "share_of":
        share, whole = values.of(node.share), _worked_out(node.of, values, printed)
        return whole * share.value if whole is not None and isinstance(share, Quantity) else None
    if node.word not in ("add", "subtract", "multiply", "divide"):
        return None
    left, right = _worked_out(node.left, values, printed), _worked_out(node.right, values, printed)
    if left is None or right is None:
        return None
    match node.word:
        case "add":
            return left + right
        case "subtract":
            return left - right
        case "multiply":
            return left * right
    return left / right if right else None
