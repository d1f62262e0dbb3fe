"""Conditions, with the numbers on both sides for saying why one does not hold."""

from __future__ import annotations

import re
from dataclasses import dataclass

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import evaluate, length, point, point_or_path, quantity
from catalogue.findings import did_you_mean
from catalogue.geometry import Path, Point, crossings, foot_of
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


def is_so(node: Node, desk: Desk, *, as_far_as_needed: bool = False) -> bool:
    """Whether a condition holds, where nobody reads why.

    `as_far_as_needed`: what follows a part that does not hold is not looked at.
    """
    if as_far_as_needed:
        return all(_one(part, desk, False).ok for part in node.comparisons)
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
    if node.word == "place_is":
        return _place_is(node, desk, in_words)
    if node.word == "equal" and isinstance(evaluate(node.left, desk), Point):
        return _same_place(node, desk)
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


def _same_place(node: Node, desk: Desk) -> Verdict:
    """`A = B` of two points: they lie on one spot."""
    apart = point(node.left, desk).distance(point(node.right, desk))
    within = length(node.within, desk) if node.within else CLOSE
    text = f"{spell(node.left)} = {spell(node.right)}"
    return Verdict(
        apart <= within, text, f"{desk.show_length(apart)} apart" if apart > CLOSE else "on one spot"
    )


_OPPOSITE = {"above": "below", "below": "above", "left of": "right of", "right of": "left of"}
_TOWARD = {"above": Point(0, -1), "below": Point(0, 1), "left of": Point(-1, 0), "right of": Point(1, 0)}
REACH = 20_000.0
"""mm to either side of a point in which a line is looked for: longer than any garment."""


def _place_is(node: Node, desk: Desk, in_words: bool) -> Verdict:
    """`A level with B`, `A above hem_line by 2 cm within 1 mm`."""
    here, other = point(node.here, desk), point_or_path(node.other, desk)
    relation = re.sub(r"^(is|lies) ", "", " ".join(node.relation.text.split()))
    if relation == "across from":
        raise desk.trouble(
            "not-understood", "That is no condition.", node.relation.place, "Write A level with B."
        )
    if relation.startswith("on level"):
        relation = "level with"
    within = length(node.within, desk) if node.within else CLOSE
    if relation in _TOWARD:
        there = other if isinstance(other, Point) else _beside(here, other, relation, node, desk)
        far = (here - there).dot(_TOWARD[relation])
        by = length(node.by, desk) if node.by else None
        ok = far > (-within if node.within else CLOSE) if by is None else abs(far - by) <= within
        wanted = "" if by is None else f"; expected {desk.show_length(by)}"
        side = relation if far >= 0 else _OPPOSITE[relation]
        detail = f"{desk.show_length(abs(far))} {side}{wanted}" if abs(far) > CLOSE else f"just there{wanted}"
    else:
        if node.by is not None:
            raise desk.trouble(
                "not-understood", f"“{relation}” goes with no amount.", node.by.place, "Write within."
            )
        far = _off(here, other, relation, node, desk)
        ok = far <= within
        detail = f"{desk.show_length(far)} off" if far > CLOSE else ""
    if not in_words:
        return Verdict(ok, "", "")
    amount = f" by {spell(node.by)}" if node.by else ""
    return Verdict(ok, f"{spell(node.here)} {relation} {spell(node.other)}{amount}", detail)


def _off(here: Point, other: Point | Path, relation: str, node: Node, desk: Desk) -> float:
    """By how much a point misses being level with, in line with, or on another or a line."""
    if relation == "on":
        return here.distance(other if isinstance(other, Point) else foot_of(here, other)[0])
    upright = relation == "in line with"
    if isinstance(other, Point):
        return abs(here.x - other.x if upright else here.y - other.y)
    box = other.bounds()
    spread, middle = (box.width, box.left) if upright else (box.height, box.top)
    if spread > CLOSE:
        way = "straight down" if upright else "level"
        raise desk.trouble(
            "no-side", f"“{node.other.text}” does not run {way}.", node.other.place, "Name a point of it."
        )
    return abs((here.x if upright else here.y) - middle)


def _beside(here: Point, line: Path, relation: str, node: Node, desk: Desk) -> Point:
    """The point of a line straight above or below, or level with, another; the nearest where there are several."""
    v = _TOWARD[relation] * REACH
    desk.budget.spend(node.place, 10 + 5 * len(line.segments))
    found = [c.point for c in crossings(Path.line(here - v, here + v), line)]
    if not found:
        where = "above or below" if relation in ("above", "below") else "level with"
        raise desk.trouble(
            "no-crossing",
            f"Nothing of “{node.other.text}” lies {where} “{node.here.text}”.",
            node.place,
            "Give the line extended a name above, and use that.",
        )
    return min(found, key=here.distance)
