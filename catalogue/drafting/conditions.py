"""Conditions, with the numbers on both sides for saying why one does not hold."""

from __future__ import annotations

from dataclasses import dataclass

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import length, quantity
from catalogue.findings import did_you_mean
from catalogue.language.tree import Node
from catalogue.language.values import Quantity, Word
from catalogue.language.wording import spell

CLOSE = 0.05
"""mm (or degrees) within which two lengths count as equal when the style says no tolerance: a twentieth of a mm
is below what can be drawn."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a condition holds, the condition in words, and the numbers."""

    ok: bool
    text: str
    detail: str


def is_so(node: Node, desk: Desk) -> bool:
    """Whether a condition holds, where nobody reads why."""
    verdicts = [_one(part, desk, False) for part in node.comparisons]
    return all(v.ok for v in verdicts)


def holds(node: Node, desk: Desk) -> Verdict:
    """Work out a condition."""
    verdicts = [_one(part, desk) for part in node.comparisons]
    return Verdict(
        all(v.ok for v in verdicts),
        " and ".join(v.text for v in verdicts),
        "; ".join(v.detail for v in verdicts if v.detail),
    )


def _same_kind(a: Quantity, b: Quantity, node: Node, desk: Desk) -> None:
    nought = any(q.is_number and q.value == 0 for q in (a, b))
    if (a.power, a.angle) != (b.power, b.angle) and not nought:
        raise desk.trouble(
            "units-differ", f"{a.kind.capitalize()} can't be compared with {b.kind}.", node.place
        )


def _one(node: Node, desk: Desk, in_words: bool = True) -> Verdict:
    """One condition; the words and numbers are left out unless `in_words`."""
    if node.word == "is_word":
        return _is_word(node, desk)
    left = quantity(node.left, desk)
    first, shown = (spell(node.left), desk.show(left)) if in_words else ("", "")
    if node.word == "in_range":
        low, high = quantity(node.low, desk), quantity(node.high, desk)
        _same_kind(left, low, node, desk)
        _same_kind(left, high, node, desk)
        ok = low.value - CLOSE <= left.value <= high.value + CLOSE
        if not in_words:
            return Verdict(ok, "", "")
        text = f"{first} between {spell(node.low)} and {spell(node.high)}"
        return Verdict(ok, text, f"{shown}; expected {desk.show(low)} to {desk.show(high)}")
    right = quantity(node.right, desk)
    _same_kind(left, right, node, desk)
    if node.word == "equal":
        within = length(node.within, desk) if node.within else CLOSE
        off = abs(left.value - right.value)
        if not in_words:
            return Verdict(off <= within, "", "")
        text = f"{first} = {spell(node.right)}"
        detail = f"{shown} and {desk.show(right)}"
        if off > CLOSE and left.is_length:
            detail += f", {desk.show_length(off)} apart"
        return Verdict(off <= within, text, detail)
    sign = " ".join(node.sign.text.removeprefix("is ").split())
    sign = {
        ">=": "at least",
        "≥": "at least",
        "<=": "at most",
        "≤": "at most",
        ">": "more than",
        "<": "less than",
    }.get(sign, sign)
    ok = {
        "at least": left.value >= right.value - 1e-9,
        "at most": left.value <= right.value + 1e-9,
        "more than": left.value > right.value,
        "less than": left.value < right.value,
    }[sign]
    if not in_words:
        return Verdict(ok, "", "")
    return Verdict(ok, f"{first} {sign} {spell(node.right)}", f"{shown}; expected {sign} {desk.show(right)}")


def _is_word(node: Node, desk: Desk) -> Verdict:
    value = desk.names.look_up(node.name)
    if not isinstance(value, Word):
        raise desk.trouble("wrong-kind", f"“{node.name.text}” is not a choice of words.", node.name.place)
    wanted = node.choice.text
    options = desk.names.options.get(node.name.text, ())
    if options and wanted not in options:
        raise desk.trouble(
            "unknown-word",
            f"“{wanted}” is not one of the words of “{node.name.text}”: {', '.join(options)}.",
            node.choice.place,
            did_you_mean(wanted, options),
        )
    negated = node.negated is not None
    return Verdict(
        (value.text == wanted) != negated, f"{node.name.text} is {'not ' if negated else ''}{wanted}", ""
    )
