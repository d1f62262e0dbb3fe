"""Text to syntax tree, by the grammar beside this file. A bad line never hides what is wrong with the others."""

from __future__ import annotations

import re
from functools import cache, lru_cache

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedInput, UnexpectedToken

from catalogue.findings import Finding, Place, Trouble
from catalogue.language.letters import composed
from catalogue.language.lines import LogicalLine, logical_lines
from catalogue.language.quick import tree_of
from catalogue.language.readings import SeveralReadings, fits, may_be_read_otherwise, read
from catalogue.language.tables import compiled, loaded
from catalogue.language.tree import Node, phrase

LONGEST_LINE = 4000
"""Characters in one line of a draft block, continuation lines counted in."""

DEEPEST = 60
"""Phrases inside phrases: more than any draft needs, less than would exhaust the interpreter."""

DEEPEST_LINES = 12
"""Lines indented under lines that are themselves indented."""

LONGEST_NAME = 100
LONGEST_FORMULA = 1000
"""Characters of a formula in the prose or in a choice."""

_POINT_NUMBER = re.compile(r"point\s+\d[\d.,/\s]*")
_ROUND = re.compile(r"\{(\w+)[+-]?\d*\}")

MOST_SEARCHED = 150
"""Lines of one block that are read by trying brackets: more than any draft has, and soon done."""

SEARCHED = "searched"
"""What holds the tree of such a line."""

_searched: list[str] = []
"""Such lines of the block that is being read."""

MOST_READINGS = 3
"""Ways of reading a line that are shown."""

MOST_MISTAKES = 25
"""Findings for one block; those after them are shown when these are put right."""

MOST_REPAIRED = 8
"""Findings for one block that show the line to write: a file that is no style at all is told so soon."""


@cache
def grammar() -> Lark:
    """The grammar as a parser; made once in a process."""
    return loaded() or compiled()


def parse_block(source: str, file: str, first_line: int) -> tuple[tuple[Node, ...], tuple[Finding, ...]]:
    """Parse a draft block.

    Args:
        source: the text between the fences.
        file: as findings name it.
        first_line: the line of the file on which `source` starts.

    Returns:
        The lines that could be read, and a finding for each that could not (for the first `MOST_MISTAKES`).
    """
    findings: list[Finding] = []
    _searched.clear()
    nodes = _parse_lines(logical_lines(source, first_line), "statement", file, findings)
    return nodes, tuple(findings)


def parse_formula(text: str, place: Place) -> Node:
    """Parse one value, such as a formula in braces. Raises Trouble."""
    if len(text) > LONGEST_FORMULA:
        message = f"This formula is longer than {LONGEST_FORMULA} characters."
        raise Trouble(Finding("line-too-long", message, place, "Give parts of it names in a draft block."))
    return _parse(text, "value", place.file, place.line, place.column - 1)


def parse_condition(text: str, place: Place) -> Node:
    """Parse the condition of a line such as `when vent is yes`. Raises Trouble."""
    if len(text) > LONGEST_FORMULA:
        message = f"This condition is longer than {LONGEST_FORMULA} characters."
        raise Trouble(Finding("line-too-long", message, place, "Give parts of it names in a draft block."))
    node = _parse(text, "statement", place.file, place.line, place.column - 1)
    condition = node.condition
    assert isinstance(condition, Node)
    return condition


def _parse_lines(
    lines: list[LogicalLine],
    start: str,
    file: str,
    findings: list[Finding],
    depth: int = 0,
    rounds: frozenset[str] = frozenset(),
) -> tuple[Node, ...]:
    nodes: list[Node] = []
    if lines and depth > DEEPEST_LINES:
        place = Place(file, lines[0].line, 1 + _blanks(lines[0].rows[0]))
        hint = "Join the conditions by and, or name a value above."
        findings.append(Finding("too-deep", "Too many lines are indented under one another.", place, hint))
        return ()
    for line in lines:
        if len(findings) >= MOST_MISTAKES:
            break
        try:
            node = _parse(line.text, start, file, line.line, repair=len(findings) < MOST_REPAIRED)
            if "{" in line.text:
                _refuse_other_rounds(node, rounds, line)
        except Trouble as trouble:
            findings.extend(trouble.findings)
            node = None
        below = {"piece": "piece_line", "outline": "edge_line"}.get(line.first_word, "statement")
        within = rounds | {node.name.text} if node is not None and node.word == "repeat" else rounds
        body = _parse_lines(line.under, below, file, findings, depth + 1, within)
        if node is not None:
            nodes.append(phrase(node.word, node.inside, node.place, node.text, body) if body else node)
    return tuple(nodes)


def _refuse_other_rounds(node: Node, rounds: frozenset[str], line: LogicalLine) -> None:
    """Raise Trouble where a name holds the number of a round (`gore_{n}`) that no line above repeats for."""
    for leaf in node.walk():
        for name in _ROUND.findall(leaf.text) if leaf.word in ("NAME", "DOTTED") else ():
            if name not in rounds:
                message = f"“{{{name}}}” stands for no number here."
                hint = (
                    f"Write repeat for {name} 1 to 5 on a line above, and indent the lines that are repeated."
                )
                source = line.rows[leaf.place.line - line.line].rstrip()
                raise Trouble(Finding("no-round", message, leaf.place, hint, source=source))


def _blanks(row: str) -> int:
    return len(row) - len(row.lstrip())


def _parse(text: str, start: str, file: str, line: int, shift: int = 0, repair: bool = True) -> Node:
    if len(text) > LONGEST_LINE:
        place = Place(file, line, 1 + shift + _blanks(text.partition("\n")[0]))
        message = f"This line is longer than {LONGEST_LINE} characters."
        raise Trouble(Finding("line-too-long", message, place, "Split it."))
    text = composed(text)
    try:
        tree = _parsed(text, start)
    except SeveralReadings as ways:
        place = Place(file, line, 1 + shift + _blanks(text.partition("\n")[0]))
        raise Trouble(_several(ways, text, place, shift)) from None
    except (UnexpectedToken, UnexpectedCharacters) as error:
        from catalogue.language.mistakes import explain  # most styles need no explaining

        raise Trouble(explain(error, text, start, Place(file, line, 1 + shift), grammar(), repair)) from None
    except UnexpectedInput:
        place = Place(file, line, 1 + shift)
        raise Trouble(Finding("not-understood", "This line is not understood.", place)) from None
    if isinstance(tree, Tree) and tree.data == SEARCHED:
        _searched.append(text)
        if len(_searched) > MOST_SEARCHED:
            place = Place(file, line, 1 + shift)
            message = f"More than {MOST_SEARCHED} lines of this block have phrases inside one another."
            raise Trouble(Finding("too-many-nested", message, place, "Put the inner ones in brackets."))
        (tree,) = tree.children  # type: ignore[assignment]
    return _convert(tree, text, file, line, shift)


def _numbered(name: str) -> str:
    """`point 15` as the one word that it is a name by: point_15 (point_17_5 for `point 17.5`)."""
    return (
        re.sub(r"\W+", "_", name)
        if "point" in name and _POINT_NUMBER.fullmatch(name)
        else (_POINT_NUMBER.sub(lambda m: re.sub(r"[^\w]+", "_", m[0]), name) if ".point" in name else name)
    )


@lru_cache(maxsize=4096)
def _parsed(text: str, start: str) -> Tree[Token]:
    """The tree of the parsing library, which is only looked at; styles say many a line and formula again and again.

    Raises UnexpectedInput for a line that is not understood, SeveralReadings for one that could mean several things.
    """
    lark = grammar()
    try:
        tree = tree_of(text, start, lark)
    except UnexpectedInput:
        other = read(text, start, lark)
        if other is None:
            raise
        return Tree(SEARCHED, [other])
    if not fits(tree):
        other = read(text, start, lark)
        return Tree(SEARCHED, [other]) if other is not None else tree
    if may_be_read_otherwise(tree):
        read(text, start, lark, tree)
    return tree


def _several(ways: SeveralReadings, text: str, place: Place, shift: int) -> Finding:
    """A finding for a line that could mean several things: it shows each with its brackets."""
    shown = " or: ".join(" ".join(way.split()) for way in ways.lines[:MOST_READINGS])
    message = (
        f"This line can be read in {len(ways.lines)} ways."
        if len(ways.lines) > 1
        else "This line can be misread."
    )
    source = text.partition("\n")[0].rstrip() if not shift else ""
    return Finding("several-readings", message, place, f"Put brackets in: {shown}", source=source)


def _convert(tree: Tree[Token] | Token, text: str, file: str, line: int, shift: int) -> Node:
    """The library's tree as ours, its places those of the file."""

    def place_of(at_line: int, at_column: int) -> Place:
        return Place(file, line + at_line - 1, at_column + shift if at_line == 1 else at_column)

    def converted(tree: Tree[Token] | Token, depth: int) -> Node:
        if depth > DEEPEST:
            place = Place(file, line, 1 + shift + _blanks(text.partition("\n")[0]))
            hint = "Give parts of it names of their own, on lines before this one."
            message = "This formula has too many parts inside one another."
            raise Trouble(Finding("too-deep", message, place, hint))
        if isinstance(tree, Token):
            place = place_of(tree.line or 1, tree.column or 1)
            if len(tree) > LONGEST_NAME and tree.type in ("NAME", "DOTTED"):
                message = f"This name is longer than {LONGEST_NAME} characters."
                raise Trouble(Finding("name-too-long", message, place, "Choose a shorter one."))
            return Node(
                tree.type, (), place, _numbered(str(tree)) if tree.type in ("NAME", "DOTTED") else str(tree)
            )
        meta = tree.meta
        if meta.empty:
            place, words = Place(file, line, 1 + shift), text.strip()
        else:
            place, words = place_of(meta.line, meta.column), text[meta.start_pos : meta.end_pos]
        inside = [None if child is None else converted(child, depth + 1) for child in tree.children]
        if tree.data in ("name", "dotted") and inside[0] is not None:
            words = inside[0].text
        return phrase(str(tree.data), tuple(inside), place, words)

    return converted(tree, 0)
