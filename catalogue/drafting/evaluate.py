"""Working out phrases, each by the function of its word, and asking for a value of one kind."""

from __future__ import annotations

from collections.abc import Iterable

from catalogue.drafting.budget import BUDGET, MOST_SEGMENTS, OutOfBudget
from catalogue.drafting.desk import Desk
from catalogue.drafting.messages import Broken
from catalogue.drafting.registry import LINE_WORDS, PAPER_WORK, VALUE_WORDS
from catalogue.findings import Trouble
from catalogue.geometry import GeometryError, Path, Point
from catalogue.language.tree import Node
from catalogue.language.values import Quantity, Value, Word


def evaluate(node: Node, desk: Desk) -> Value:
    """The value of a phrase.

    Raises:
        Trouble: it can't be worked out; the finding says where and what would help.
        Broken: it needs something from a line that failed.
    """
    budget = desk.budget
    budget.spent += 1  # as `spend` does
    budget.last = node.place
    if budget.spent > BUDGET:
        budget.spend(node.place, 0)
    try:
        value = VALUE_WORDS[node.word](node, desk)
        if isinstance(value, Path):
            _bounded(value, node, desk)
        return value
    except GeometryError as error:
        raise desk.trouble("cannot-draw", f"“{node.text}” can't be drawn: {error}.", node.place) from None
    except (OverflowError, ZeroDivisionError):
        raise desk.trouble("no-number", f"“{node.text}” does not give a number.", node.place) from None


def _bounded(way: Path, node: Node, desk: Desk) -> None:
    """Count the work of a line by its parts. Raises Trouble for one of endless parts."""
    size = len(way.segments)
    desk.budget.spend(node.place, size // 2)
    if size > MOST_SEGMENTS:
        raise desk.trouble(
            "too-many-parts",
            f"This line has {size} parts; a line of a draft has at most {MOST_SEGMENTS}.",
            node.place,
        )


def carry_out(node: Node, desk: Desk) -> None:
    """Do what a line says. Raises like `evaluate`."""
    desk.budget.spend(node.place)
    if PAPER_WORK.get(node.word):
        _count_paper_work(node, desk)
    try:
        LINE_WORDS[node.word](node, desk)
    except GeometryError as error:
        raise desk.trouble("cannot-draw", f"This can't be drawn: {error}.", node.place) from None


def do_lines(lines: Iterable[Node], desk: Desk) -> None:
    """Carry out lines; a wrong one is reported and the next is tried."""
    for line in lines:
        if line.word != "otherwise":
            desk.taken = None
        try:
            carry_out(line, desk)
        except OutOfBudget:
            raise
        except Broken:
            _not_given(line, desk)
        except Trouble as trouble:
            _not_given(line, desk)
            desk.messages.findings.extend(trouble.findings)


_MAKES_A_PIECE = frozenset({"part_named", "tape", "trace"})


def _not_given(line: Node, desk: Desk) -> None:
    """Remember the pieces and edges that a failed line would have made, for lines that use them only follow from it."""
    for node in line.walk():
        if node.word in _MAKES_A_PIECE:
            desk.table.broken.add(node.name.text)
        elif node.word == "opening_named" or (node.word == "extend_edge" and node.name is not None):
            desk.names.broken.add(node.name.text)


def _count_paper_work(node: Node, desk: Desk) -> None:
    """Count the work of a line with scissors and tape before it is done: by its pieces, and by its slashes."""
    times = 1.0
    for lines in (p for p in node.inside if p is not None and p.word in ("lines_even", "lines_drawn")):
        count = lines.count.text if lines.word == "lines_even" else str(len(lines.each))
        times += int(count) if count.isdecimal() and len(count) < 4 else 0
    for part in node.inside:
        if part is not None and part.word in ("NAME", "DOTTED"):
            piece = desk.table.pieces.get(part.text.partition(".")[0])
            if piece is not None:
                desk.budget.spend_on(piece, times)


def kind_of(value: Value) -> str:
    """In the reader's words."""
    if isinstance(value, Quantity):
        return value.kind
    if isinstance(value, Point):
        return "a point"
    if isinstance(value, Path):
        return "a line or curve"
    return f"the word “{value.text}”" if isinstance(value, Word) else "something else"


def wrong_kind(node: Node, desk: Desk, expected: str, value: Value, hint: str = "") -> Trouble:
    """An exception to raise where `expected` ("A length") is needed and `value` is something else."""
    if not hint and node.word == "name":
        from catalogue.language.parser import grammar
        from catalogue.language.readings import shown_otherwise

        other = shown_otherwise(desk.messages.source_line(node.place).strip(), grammar())
        hint = f"Did you mean: {other}" if other else ""
    return desk.trouble(
        "wrong-kind", f"{expected} is needed here; “{node.text}” is {kind_of(value)}.", node.place, hint
    )


def quantity(node: Node, desk: Desk) -> Quantity:
    """A length, number or angle."""
    value = evaluate(node, desk)
    if not isinstance(value, Quantity):
        hint = f"Did you mean “length of {node.text}”?" if isinstance(value, Path) else ""
        raise wrong_kind(node, desk, "A length or a number", value, hint)
    return value


def length(node: Node, desk: Desk) -> float:
    """A length in mm; a bare number is refused, except nought."""
    value = quantity(node, desk)
    if value.is_length or (value.is_number and value.value == 0):
        return value.value
    hint = f"Add a unit: {node.text} cm or {node.text} in." if node.word == "number" else ""
    raise wrong_kind(node, desk, "A length", value, hint)


def plain_number(node: Node, desk: Desk) -> float:
    """A number without a unit."""
    value = quantity(node, desk)
    if not value.is_number:
        raise wrong_kind(node, desk, "A plain number", value)
    return value.value


def degrees(node: Node, desk: Desk) -> float:
    """An angle in degrees."""
    value = quantity(node, desk)
    if not value.angle:
        hint = f"Write {node.text} degrees." if node.word == "number" else ""
        raise wrong_kind(node, desk, "An angle", value, hint)
    return value.value


def point(node: Node, desk: Desk) -> Point:
    value = evaluate(node, desk)
    if not isinstance(value, Point):
        raise wrong_kind(node, desk, "A point", value)
    return value


def path(node: Node, desk: Desk) -> Path:
    value = evaluate(node, desk)
    if not isinstance(value, Path):
        hint = "Write line A to B for the line between two points." if isinstance(value, Point) else ""
        raise wrong_kind(node, desk, "A line or curve", value, hint)
    return value


def point_or_path(node: Node, desk: Desk) -> Point | Path:
    value = evaluate(node, desk)
    if not isinstance(value, Point | Path):
        raise wrong_kind(node, desk, "A point, a line or a curve", value)
    return value
