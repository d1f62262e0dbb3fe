"""Lines that name things, choose between things, or try values until a condition holds."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace

from catalogue.drafting.budget import OutOfBudget
from catalogue.drafting.conditions import is_so
from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import carry_out, do_lines, evaluate, plain_number, quantity
from catalogue.drafting.messages import Broken
from catalogue.drafting.model import Working
from catalogue.drafting.registry import SHOWS, line_word
from catalogue.drafting.substituting import substituted
from catalogue.findings import Trouble
from catalogue.geometry import NoSolution, Path, Point, solve
from catalogue.language.tree import Node, phrase
from catalogue.language.values import Quantity, Value
from catalogue.language.wording import in_words, spell

_RESERVED = """
    by midway where mirror line connect curve distance then from to along on at and or is not crosses over moved turned
    about toward beyond meeting leaving arriving heading extended when find piece dart sew allow check finished note
"""
RESERVED = frozenset(_RESERVED.split())
"""Words that mean something at the start of a value or between two: no name of a style's own."""

WORKING = 5
"""What a line's working counts in the bound on a draft's work."""


@line_word("define")
def define(node: Node, desk: Desk) -> None:
    """`scye_depth = bust_girth / 6 + 4 cm`"""
    name, value_node = node.name.text, node.value
    try:
        if name in RESERVED:
            raise desk.trouble(
                "name-taken", f"“{name}” is a word of the language.", node.place, "Choose another name."
            )
        value = evaluate(value_node, desk)
        desk.names.give(name, value, node.name)
    except (Trouble, Broken):
        desk.names.broken.add(name)
        raise
    if not desk.names.trial and _is_read(node, desk):
        with _uncounted(desk):
            record_working(name, value_node, value, desk)


def _is_read(node: Node, desk: Desk) -> bool:
    """Whether anybody reads the working of a line, which is counted either way: all drafts of a style go as far."""
    desk.budget.spend(node.place, WORKING)
    return not desk.trace.silent


@contextmanager
def _uncounted(desk: Desk) -> Iterator[None]:
    """Inside, no work is counted."""
    spent, last = desk.budget.spent, desk.budget.last
    yield
    desk.budget.spent, desk.budget.last = spent, last


def record_working(name: str, node: Node, value: Value, desk: Desk) -> None:
    """Keep the arithmetic of a line for the page: formula, the client's numbers put in, the result."""
    shows = SHOWS.get(node.word, "number")
    result: Quantity | None
    if isinstance(value, Quantity) and shows != "nothing":
        result, text = value, desk.show(value)
    elif isinstance(value, Point) and shows == "amounts":
        result, text = None, " and ".join(_amounts(node, desk))
    elif isinstance(value, Point) and node.word not in ("name", "dotted"):
        result, text = None, place_words(value, desk)
    elif isinstance(value, Path) and shows == "length":
        result, text = Quantity(value.length, 1), f"{desk.show(value)} long"
    else:
        return
    if shows == "deciding":
        numbers = f"{in_words(node.deciding.text)} is {desk.show(evaluate(node.deciding, desk))}"
    else:
        numbers = substituted(node, desk) if result is not None or shows == "amounts" else ""
    desk.trace.workings.append(Working(in_words(name), spell(node), numbers, result, text))


def place_words(point: Point, desk: Desk) -> str:
    """Where a point lies, seen from the first: “6 cm right and 2 cm up from start”."""
    ways = ((point.x, "right", "left"), (point.y, "down", "up"))
    moves = [
        f"{desk.show_length(abs(mm))} {way if mm > 0 else back}" for mm, way, back in ways if abs(mm) >= 0.5
    ]
    return f"{' and '.join(moves)} from start" if moves else "at start"


def _amounts(node: Node, desk: Desk) -> list[str]:
    """The lengths a point is placed by, as the ruler is set."""
    if node.word == "placed":
        return [f"{desk.show(evaluate(m.amount, desk))} {m.direction.text}" for m in node.by.each]
    return [desk.show(evaluate(node.amount, desk))]


@line_word("paper")
def new_paper(node: Node, desk: Desk) -> None:
    """`new paper "Sleeve"`: the next lines are drawn on a sheet of their own."""
    desk.table.paper = node.title.text.strip('"“”')


@line_word("note")
def note(node: Node, desk: Desk) -> None:
    """`note "Check the back width at the fitting" when back_width is more than 40 cm`"""
    if node.condition is None or is_so(node.condition, desk):
        desk.messages.warn("note", node.words.text.strip('"“”'), node.place)


@line_word("find")
def find(node: Node, desk: Desk) -> None:
    """`find cap_height between 8 cm and 20 cm so that length of cap = armhole + ease`, then lines to be tried."""
    name = node.name.text
    body_names = {n.name.text for n in node.body if n.word == "define"}
    try:
        desk.names.refuse_taken(name, node.name)
        if desk.names.trial:
            raise desk.trouble("find-in-find", "A find cannot be inside another find.", node.place)
        for line in node.body:
            if line.word != "define":
                raise desk.trouble("find-body", "Only lines that give a name can be under find.", line.place)
        low, high = quantity(node.low, desk), quantity(node.high, desk)
        if (low.power, low.angle) != (high.power, high.angle) or low.value >= high.value:
            raise desk.trouble(
                "range",
                "The range must run from a smaller to a larger value of the same kind.",
                node.low.place,
            )

        def off_by(value: float) -> float:
            with desk.names.trying():
                desk.names.values[name] = Quantity(value, low.power, low.angle)
                for line in node.body:
                    carry_out(line, desk)
                return _difference(node, desk)

        def off_or_nowhere(value: float) -> float:
            try:
                return off_by(value)
            except OutOfBudget:
                raise
            except Trouble as trouble:
                refusals.append(trouble)
                return float("nan")

        refusals: list[Trouble] = []
        try:
            found = solve(off_or_nowhere, low.value, high.value)
        except NoSolution as error:
            if len(refusals) >= 3 and not _finite(error):
                raise refusals[0] from None
            raise _no_solution(error, node, low, desk, off_by) from None
        if refusals and not abs(off_or_nowhere(found)) < 1.0:
            raise refusals[0]
        desk.names.give(name, Quantity(found, low.power, low.angle), node.name)
        for line in node.body:
            carry_out(line, desk)
    except (Trouble, Broken):
        desk.names.broken.update({name, *body_names})
        raise
    if not _is_read(node, desk):
        return
    value = desk.names.values[name]
    left, right = spell(node.left), spell(node.right)
    with _uncounted(desk):
        shown = desk.show(quantity(node.right, desk))
    desk.trace.workings.append(
        Working(
            in_words(name),
            f"so that {left} = {right}",
            f"so that {left} = {shown}",
            found_quantity(value),
            desk.show(value),
        )
    )


def found_quantity(value: Value) -> Quantity:
    assert isinstance(value, Quantity)
    return value


def _finite(error: NoSolution) -> bool:
    return error.at_low == error.at_low and error.at_high == error.at_high


def _difference(node: Node, desk: Desk) -> float:
    left, right = quantity(node.left, desk), quantity(node.right, desk)
    if (left.power, left.angle) != (right.power, right.angle):
        raise desk.trouble(
            "units-differ", f"{left.kind.capitalize()} can't equal {right.kind}.", node.left.place
        )
    return left.value - right.value


def _no_solution(error: NoSolution, node: Node, low: Quantity, desk: Desk, off_by: object) -> Trouble:
    name, left_node, right_node = node.name.text, node.left, node.right

    def at(value: float) -> str:
        with desk.names.trying():
            desk.names.values[name] = Quantity(value, low.power, low.angle)
            try:
                for line in node.body:
                    carry_out(line, desk)
                left, right = quantity(left_node, desk), quantity(right_node, desk)
            except (Trouble, Broken):
                return f"at {desk.show(Quantity(value, low.power, low.angle))} it can't be drawn"
            return (
                f"at {desk.show(Quantity(value, low.power, low.angle))} {spell(left_node)} is {desk.show(left)} "
                f"and should be {desk.show(right)}"
            )

    ends: Sequence[str] = [at(error.low), at(error.high)]
    return desk.trouble(
        "no-solution",
        f"No {in_words(name)} in this range makes {spell(left_node)} equal to {spell(right_node)}: {'; '.join(ends)}.",
        node.place,
        "Widen the range, or change what the length depends on.",
    )


@line_word("when")
def when(node: Node, desk: Desk) -> None:
    """`when flare is quarter` and the indented lines it holds for."""
    desk.taken = is_so(node.condition, desk)
    if desk.taken:
        do_lines(node.body, desk)
        desk.taken = True


@line_word("otherwise")
def otherwise(node: Node, desk: Desk) -> None:
    """The lines for when the `when` before it did not hold."""
    if desk.taken is None:
        raise desk.trouble("otherwise", "There is no when before this otherwise.", node.place)
    if not desk.taken:
        do_lines(node.body, desk)
    desk.taken = None


MOST_ROUNDS = 100
"""Rounds of one repeat: more than a garment has buttons."""


@line_word("repeat")
def repeat(node: Node, desk: Desk) -> None:
    """`repeat for gore 1 to 5` and indented lines, in which `gore` and `{gore}` are the number."""
    name = node.name.text
    desk.names.refuse_taken(name, node.name)
    if name in RESERVED:
        raise desk.trouble(
            "name-taken", f"“{name}” is a word of the language.", node.name.place, "Choose another name."
        )
    low, high = (_whole(part, desk) for part in (node.low, node.high))
    if high - low >= MOST_ROUNDS:
        raise desk.trouble(
            "too-many-rounds", f"Lines are repeated at most {MOST_ROUNDS} times.", node.high.place
        )
    findings = desk.messages.findings
    for number in range(low, high + 1):
        before = len(findings)
        do_lines((in_round(line, name, number) for line in node.body), desk)
        findings[before:] = [
            replace(finding, message=f"{in_words(name).capitalize()} {number}: {finding.message}")
            for finding in findings[before:]
        ]


def _whole(node: Node, desk: Desk) -> int:
    value = plain_number(node, desk)
    if abs(value - round(value)) > 1e-9:
        raise desk.trouble(
            "wrong-kind",
            f"“{node.text}” is {desk.show(quantity(node, desk))}; rounds are counted in whole numbers.",
            node.place,
        )
    return round(value)


def in_round(node: Node, name: str, number: int) -> Node:
    """A line as it stands in one round of a repeat."""

    def text_of(text: str) -> str:
        if "{" in text:
            text = re.sub(rf"\{{{name}([+-]\d+)?\}}", lambda m: str(number + int(m[1] or 0)), text)
        return text

    def of(node: Node) -> Node:
        if node.word == "name" and node.text == name:
            return phrase("number", (Node("NUMBER", (), node.place, str(number)),), node.place, str(number))
        text = text_of(node.text)
        if node.inside:
            text = re.sub(rf"(?<![\w.\"]){re.escape(name)}(?![\w.\"])", str(number), text)
        inside = tuple(None if part is None else of(part) for part in node.inside)
        return phrase(node.word, inside, node.place, text, tuple(of(line) for line in node.body))

    return of(node)
