"""Words that give lengths, numbers and angles: arithmetic, tables, things measured on the paper."""

from __future__ import annotations

import math
from itertools import pairwise

from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import evaluate, path, point, quantity, wrong_kind
from catalogue.drafting.registry import value_word
from catalogue.findings import did_you_mean
from catalogue.language.tree import Node
from catalogue.language.values import Quantity, Value, Word, angle, number
from catalogue.language.values import length as as_length
from catalogue.lengths import LengthError, parse_length, parse_number

HUGE = 1e9
"""No length (mm), number or angle of a draft is as large; a formula that gets there has gone wrong."""


def _checked(value: float, power: int, is_angle: bool, node: Node, desk: Desk) -> Quantity:
    if not math.isfinite(value) or abs(value) > HUGE ** max(power, 1):
        raise desk.trouble(
            "no-number",
            f"“{node.text}” is out of range: the result is too large or not a number.",
            node.place,
        )
    return Quantity(value, power, is_angle)


@value_word("name", substituted=True)
def name(node: Node, desk: Desk) -> Value:
    return desk.names.look_up(node)


@value_word("either", substituted=True)
def either(node: Node, desk: Desk) -> Value:
    """`either bust_girth or chest_girth`: the first of some body measurements that the client file has."""
    for part in node.names:
        if part.text not in desk.names.known_measurements:
            known = did_you_mean(part.text, desk.names.known_measurements)
            raise desk.trouble("unknown-name", f"“{part.text}” is no body measurement.", part.place, known)
    return desk.names.look_up(
        next((p for p in node.names if p.text in desk.names.measurements), node.names[0])
    )


@value_word("dotted", substituted=True)
def dotted(node: Node, desk: Desk) -> Value:
    """`piece.edge` is the edge as a line, `piece.point` where that point is on the piece now; `block.name` what a block
    that the style is cut from has given that name."""
    piece_name, _, part = node.text.partition(".")
    if piece_name in desk.blocks.on_hand:
        return desk.blocks.value(piece_name, part, node, desk.trace.step)
    piece = desk.table.piece(node, piece_name)
    for edge in piece.edges:
        if edge.name == part:
            return edge.path
    if part in piece.points:
        return piece.points[part]
    known = [e.name for e in piece.edges] + list(piece.points)
    raise desk.trouble(
        "unknown-edge",
        f"The piece “{piece_name}” has no edge or point “{part}”.",
        node.place,
        did_you_mean(part, known) or f"Its edges: {', '.join(e.name for e in piece.edges)}.",
    )


@value_word("length", shows="nothing")
def literal_length(node: Node, desk: Desk) -> Quantity:
    try:
        return as_length(parse_length(node.written.text, None))
    except LengthError as error:
        raise desk.trouble("not-a-length", error.message, node.place, error.hint) from None


def _literal_number(node: Node, desk: Desk) -> float:
    written = node.said if node.word == "fraction" else node.written
    try:
        return parse_number(
            written.text.rstrip("%° ").removesuffix("degrees").removesuffix("degree").removesuffix("per cent")
        )
    except LengthError as error:
        raise desk.trouble("not-a-number", error.message, node.place, error.hint) from None


@value_word("number", shows="nothing")
def literal_number(node: Node, desk: Desk) -> Quantity:
    return _checked(_literal_number(node, desk), 0, False, node, desk)


@value_word("percent", shows="nothing")
def percent(node: Node, desk: Desk) -> Quantity:
    return number(_literal_number(node, desk) / 100)


@value_word("angle", shows="nothing")
def literal_angle(node: Node, desk: Desk) -> Quantity:
    return angle(_literal_number(node, desk))


@value_word("add", "subtract")
def add_or_subtract(node: Node, desk: Desk) -> Quantity:
    left, right = quantity(node.left, desk), quantity(node.right, desk)
    if (left.power, left.angle) != (right.power, right.angle):
        word = "added to" if node.word == "add" else "taken from"
        bare = [p for p in (node.left, node.right) if p.word == "number"]
        hint = f"Add a unit: {bare[0].text} cm or {bare[0].text} in." if bare else ""
        if not bare and left.is_number != right.is_number:
            plain = node.left if left.is_number else node.right
            hint = f"“{plain.text}” is a number. Was a unit forgotten where it is given?"
        raise desk.trouble(
            "units-differ", f"{right.kind.capitalize()} can't be {word} {left.kind}.", node.place, hint
        )
    sign = 1 if node.word == "add" else -1
    return _checked(left.value + sign * right.value, left.power, left.angle, node, desk)


@value_word("share_of")
def share_of(node: Node, desk: Desk) -> Quantity:
    """`2/5 of hip_girth`, `15% of hip_girth`"""
    share, value = quantity(node.share, desk), quantity(node.of, desk)
    return _checked(share.value * value.value, value.power, value.angle, node, desk)


@value_word("fraction")
def fraction(node: Node, desk: Desk) -> Quantity:
    """`2/5`, `½` or `15%` before of."""
    value = _literal_number(node, desk)
    return number(value / 100 if node.said.text.endswith(("%", "cent")) else value)


@value_word("share_word")
def share_word(node: Node, desk: Desk) -> Quantity:
    """`a third`, `two thirds`, before of the way."""
    *many, part = node.text.split()
    parts = {"half": 2, "third": 3, "quarter": 4, "fifth": 5, "sixth": 6, "eighth": 8}[part.removesuffix("s")]
    return number({"two": 2, "three": 3}.get(many[0] if many else "", 1) / parts)


@value_word("multiply")
def multiply(node: Node, desk: Desk) -> Quantity:
    left, right = quantity(node.left, desk), quantity(node.right, desk)
    if (left.angle and not right.is_number) or (right.angle and not left.is_number):
        raise desk.trouble("units-differ", "An angle can be multiplied only by a number.", node.place)
    if left.power + right.power > 2:
        raise desk.trouble("units-differ", "More than two lengths multiplied make no sense here.", node.place)
    return _checked(left.value * right.value, left.power + right.power, left.angle or right.angle, node, desk)


@value_word("divide")
def divide(node: Node, desk: Desk) -> Quantity:
    left, right = quantity(node.left, desk), quantity(node.right, desk)
    if right.value == 0:
        raise desk.trouble(
            "divided-by-nought",
            f"“{node.right.text}” is 0 here; nothing can be divided by it.",
            node.right.place,
        )
    if right.power > left.power or (right.angle and not left.angle):
        raise desk.trouble(
            "units-differ", f"{left.kind.capitalize()} can't be divided by {right.kind}.", node.place
        )
    is_angle = left.angle and not right.angle
    return _checked(left.value / right.value, left.power - right.power, is_angle, node, desk)


@value_word("negative")
def negative(node: Node, desk: Desk) -> Quantity:
    value = quantity(node.of, desk)
    return Quantity(-value.value, value.power, value.angle)


@value_word("half", "third", "quarter")
def part_of_it(node: Node, desk: Desk) -> Quantity:
    value = quantity(node.of, desk)
    return Quantity(value.value / {"half": 2, "third": 3, "quarter": 4}[node.word], value.power, value.angle)


@value_word("smaller", "larger")
def smaller_or_larger(node: Node, desk: Desk) -> Quantity:
    left, right = quantity(node.first, desk), quantity(node.second, desk)
    if (left.power, left.angle) != (right.power, right.angle):
        raise desk.trouble(
            "units-differ", f"{left.kind.capitalize()} can't be compared with {right.kind}.", node.place
        )
    first_is_smaller = left.value <= right.value
    return left if first_is_smaller == (node.word == "smaller") else right


@value_word("root")
def square_root(node: Node, desk: Desk) -> Quantity:
    value = quantity(node.of, desk)
    if value.power not in (0, 2) or value.angle:
        raise wrong_kind(node.of, desk, "An area or a number", value)
    if value.value < 0:
        raise desk.trouble("no-number", f"“{node.of.text}” is negative; it has no square root.", node.place)
    return Quantity(math.sqrt(value.value), value.power // 2)


@value_word("rounded")
def rounded(node: Node, desk: Desk) -> Quantity:
    value, step = quantity(node.of, desk), quantity(node.step, desk)
    if (value.power, value.angle) != (step.power, step.angle) or step.value <= 0:
        raise desk.trouble(
            "units-differ", f"{value.kind.capitalize()} can't be rounded to {step.kind}.", node.place
        )
    return Quantity(round(value.value / step.value) * step.value, value.power, value.angle)


@value_word("length_of", substituted=True)
def length_of(node: Node, desk: Desk) -> Quantity:
    """Of an edge: as it is sewn, its darts and pleats closed."""
    inner = node.line
    if inner.word == "dotted":
        from catalogue.pattern.measure import sewn_length

        piece_name, _, part = inner.text.partition(".")
        piece = desk.table.piece(inner, piece_name)
        if any(e.name == part for e in piece.edges):
            return as_length(sewn_length(piece, part))
    return as_length(path(inner, desk).length)


@value_word("distance", substituted=True)
def distance(node: Node, desk: Desk) -> Quantity:
    return as_length((point(node.end, desk) - point(node.start, desk)).length)


@value_word("intake_of", substituted=True)
def intake_of(node: Node, desk: Desk) -> Quantity:
    """The width of a dart's mouth."""
    piece_name, _, dart_name = node.dart.text.partition(".")
    return as_length(desk.table.dart(node.dart, desk.table.piece(node.dart, piece_name), dart_name).intake)


@value_word("angle_of", substituted=True)
def angle_of(node: Node, desk: Desk) -> Quantity:
    """Of a line: how far it falls (above nought) or rises from level, from its start to its end."""
    along = path(node.line, desk)
    chord = along.end - along.start
    return angle(math.degrees(math.atan2(chord.y, abs(chord.x))))


@value_word("table", shows="deciding")
def table(node: Node, desk: Desk) -> Value:
    """The first row that fits: `up to` is inclusive."""
    deciding = evaluate(node.deciding, desk)
    for row in node.rows:
        if row.word == "row_otherwise":
            return evaluate(row.value, desk)
        if isinstance(deciding, Word):
            if row.word != "row_word":
                raise desk.trouble(
                    "wrong-kind", f"“{node.deciding.text}” is a word; this row expects a size.", row.place
                )
            if row.choice.text == deciding.text:
                return evaluate(row.value, desk)
            continue
        if not isinstance(deciding, Quantity):
            raise wrong_kind(node.deciding, desk, "A length, a number or a choice", deciding)
        if row.word == "row_word":
            raise desk.trouble(
                "wrong-kind",
                f"“{node.deciding.text}” is {deciding.kind}; a row begins with up to, above or otherwise.",
                row.place,
            )
        if row.word == "row_above":
            return evaluate(row.value, desk)
        limit = quantity(row.limit, desk)
        if (limit.power, limit.angle) != (deciding.power, deciding.angle):
            raise desk.trouble(
                "units-differ",
                f"“{node.deciding.text}” is {deciding.kind} and can't be compared with {limit.kind}.",
                row.limit.place,
            )
        if deciding.value <= limit.value + 1e-9:
            return evaluate(row.value, desk)
    raise desk.trouble(
        "no-row",
        f"No row of the table fits {node.deciding.text} = {desk.show(deciding)}.",
        node.place,
        "Add a row: above … or otherwise ….",
    )


@value_word("graded", shows="deciding")
def graded(node: Node, desk: Desk) -> Quantity:
    """Between the rows in proportion; before the first and after the last as those."""
    deciding = quantity(node.deciding, desk)
    rows = [(quantity(r.limit, desk), quantity(r.value, desk), r) for r in node.rows]
    for limit, _, row in rows:
        if (limit.power, limit.angle) != (deciding.power, deciding.angle):
            raise desk.trouble(
                "units-differ",
                f"{deciding.kind.capitalize()} can't be compared with {limit.kind}.",
                row.place,
            )
    for (low, _, _), (high, _, row) in pairwise(rows):
        if high.value <= low.value:
            raise desk.trouble("rows-order", "The rows must rise from one to the next.", row.place)
    first, last = rows[0], rows[-1]
    if deciding.value <= first[0].value:
        return first[1]
    for (low, at_low, _), (high, at_high, row) in pairwise(rows):
        if (at_low.power, at_low.angle) != (at_high.power, at_high.angle):
            raise desk.trouble("units-differ", "The rows must all give the same kind of value.", row.place)
        if deciding.value <= high.value:
            share = (deciding.value - low.value) / (high.value - low.value)
            return Quantity(at_low.value + share * (at_high.value - at_low.value), at_low.power, at_low.angle)
    return last[1]
