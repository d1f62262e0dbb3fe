"""Lines in which a phrase stands inside another without brackets: how they can be read.

The grammar itself takes the phrases that have an end of their own (`midway A to B`, `line A to B`) wherever a point or
a line stands. All others are read by putting brackets in: a line is understood when exactly one way of doing so gives
a line of the language in which a point stands where a point is wanted, and so on.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from itertools import pairwise

from lark import Lark, Token, Tree

from catalogue.language.letters import NAME
from catalogue.language.naming import alternatives, grammar_text, named_parts
from catalogue.language.quick import tree_or_none

POINT, LINE, QUANTITY = "point", "line", "quantity"

MOST_TRIED = 700
"""Parses for one line; after so many it counts as not understood."""

LONGEST_SEARCHED = 300
"""Characters of a line up to which brackets are tried: twice the longest that a drafter writes."""

_SLOTS = {
    "place": {POINT},
    "path": {LINE},
    "shape": {POINT, LINE},
    **{rule: {QUANTITY} for rule in ("sum", "product", "unary", "quantity", "share")},
}
"""What may stand in a part of a phrase, by the rule that the grammar gives for it."""

_ATOMS = {"edge": {POINT}, "run": {POINT}, "chain": {LINE}, "extended": {LINE}, "row_count": {QUANTITY}}
"""The same for phrases whose parts are atoms."""

_EITHER = {"mirrored", "turned", "shifted"}
"""Phrases that give a point or a line, as what stands in them is."""

_PLAIN = {
    "name",
    "dotted",
    "length",
    "number",
    "percent",
    "angle",
    "add",
    "subtract",
    "multiply",
    "divide",
    "negative",
}
"""Phrases that are not put in brackets when a reading is looked for."""

_TOKEN = re.compile(
    r'"[^"\n]*"|“[^”\n]*”|#[^\n]*'
    r"|(\d+\s+\d+\s*[/⁄]\s*\d+|\d+\s*[/⁄]\s*\d+|\d+[.,]\d+|\d+\s*[½¼¾⅛⅜⅝⅞⅓⅔]|\d+|[½¼¾⅛⅜⅝⅞⅓⅔])"
    r'(\s*((mm|cm|inches|inch|in|m|ft|degrees?|per\s+cent)\b|["″”%°]))?'
    rf"|{NAME}(\.{NAME})?|\S"
)
_PHRASE_WORD = re.compile(
    r"\b(from|toward|beyond|along|of|midway|where|below|above|left|right|across|mirror|moved|turned|extended|line|"
    r"connect|curve|arc|circle|part|parallel|then|distance|square|either|rounded)\b"
)
_CHOOSING = frozenset({"crossing", "onto", "touching"})
_CHOSEN = ("which_first", "which_nearest")
_JOINING = frozenset({"line_to"})
_WATCHED = _CHOOSING | {"line_to", "runs", "edge"}


class SeveralReadings(Exception):
    """A line can be read in more than one way; `lines` shows them, with the brackets put in."""

    def __init__(self, lines: tuple[str, ...]) -> None:
        super().__init__(lines)
        self.lines = lines


@cache
def _kinds() -> dict[str, set[str]]:
    """What each phrase gives; phrases that may give anything are left out."""
    kinds: dict[str, set[str]] = {}
    of_rule = {"point_phrase": POINT, "fixed_point": POINT, "line_phrase": LINE, "quantity": QUANTITY}
    of_rule |= {"sum": QUANTITY, "product": QUANTITY, "unary": QUANTITY, "path": LINE}
    for rule, tokens in alternatives(grammar_text()):
        kind = of_rule.get(rule.lstrip("?"))
        if kind is not None:
            kinds[tokens[-1].removeprefix("->").strip()] = {kind}
    for word in ("length", "number", "percent", "angle"):
        kinds[word] = {QUANTITY}
    for word in (*of_rule, "atom", *_EITHER):
        kinds.pop(word, None)
    return kinds | {word: {POINT, LINE} for word in _EITHER}


@cache
def _wanted() -> dict[str, tuple[tuple[int | slice, set[str]], ...]]:
    """Phrase -> which of its parts must be points, lines or quantities."""
    found: dict[str, dict[str, set[str]]] = {}
    for rule, tokens in alternatives(grammar_text()):
        phrase = tokens[-1][2:].strip() if tokens[-1].startswith("->") else rule.lstrip("?")
        for part, given in pairwise(tokens):
            wanted = _ATOMS.get(phrase) if given == "atom" else _SLOTS.get(given)
            if part.endswith("=") and wanted is not None and phrase != "equal":  # points may be equal too
                found.setdefault(phrase, {})[part[:-1]] = wanted
    return {
        phrase: tuple((slot.at, parts[slot.name]) for slot in named_parts()[phrase] if slot.name in parts)
        for phrase, parts in found.items()
    }


def fits(tree: Tree[Token]) -> bool:
    """Whether no point stands where only a length makes sense, and so on; names may stand for anything."""
    kinds, wanted = _kinds(), _wanted()
    waiting = [tree]
    while waiting:
        node = waiting.pop()
        children = node.children
        for at, allowed in wanted.get(node.data, ()):
            for part in children[at] if isinstance(at, slice) else (children[at],):
                if isinstance(part, Tree):
                    given = kinds.get(part.data)
                    if given is not None and not given & allowed:
                        return False
        waiting.extend(child for child in children if isinstance(child, Tree))
    return True


def may_be_read_otherwise(tree: Tree[Token]) -> bool:
    """Whether a line that the grammar takes could mean something else: a cheap look, for `read` to go into.

    `line A to end of line B to C to D` has a last point that either line could have; `where a crosses line A to where
    b crosses c, highest` a choice that either crossing could make.
    """
    waiting = [tree]
    while waiting:
        node = waiting.pop()
        inside = [child for child in node.children if isinstance(child, Tree)]
        waiting += inside
        word = node.data
        if word not in _WATCHED:
            continue
        if word in _CHOOSING:
            parts = [child for child in inside if child.data not in _CHOSEN]
            if _ends_with(parts[-1], _CHOOSING) and any(next(node.find_data(how), None) for how in _CHOSEN):
                return True
        elif word == "edge":
            if _ends_with(inside[0], _JOINING):
                return True
        elif any(_ends_with(child, _JOINING) for child in inside[:-1]):
            return True
    return False


def _ends_with(tree: Tree[Token], words: frozenset[str]) -> bool:
    """Whether the last phrase of a phrase, or the last of that, is one of `words`."""
    while True:
        if tree.data in words:
            return True
        inside = [child for child in tree.children if isinstance(child, Tree)]
        if not inside:
            return False
        tree = inside[-1]


def read(text: str, start: str, lark: Lark, known: Tree[Token] | None = None) -> Tree[Token] | None:
    """The one way in which a line can be read with brackets put in; its places are those of the line as it is.

    Args:
        known: the tree of the line without brackets, if it has one that fits.

    Returns:
        None when there is no other way than `known`.

    Raises:
        SeveralReadings: there is more than one, `known` counted in.
    """
    found: list[tuple[str, Tree[Token]]] = []
    if len(text) <= LONGEST_SEARCHED:
        trials = _Trials(start, lark)
        found = list(_distinct(trials.one_pair(text), known))
        if not found and known is None:
            found = list(_distinct(trials.two_pairs(text), None))
    if known is None and len(found) == 1:
        bracketed, tree = found[0]
        return _as_in(text, bracketed, tree)
    if found:
        shown = [bracketed for bracketed, _ in found]
        if known is not None:
            own = [b for b, tree in _Trials(start, lark).one_pair(text) if tree == known]
            shown = [*own[-1:], *shown]
        raise SeveralReadings(tuple(shown))
    return None


def shown_otherwise(text: str, lark: Lark) -> str:
    """A line with brackets put in so that it means something else than without them; "" when that can't be.

    For a line in which a name turned out to be a length where a point is wanted, or the like.
    """
    for start in ("statement", "piece_line", "edge_line"):
        known = tree_or_none(text, start, lark)
        if known is None:
            continue
        trials = _Trials(start, lark)
        return next((bracketed for bracketed, _ in _distinct(trials.one_pair(text), known)), "")
    return ""


def _distinct(
    readings: Iterator[tuple[str, Tree[Token]]], known: Tree[Token] | None
) -> Iterator[tuple[str, Tree[Token]]]:
    seen = [] if known is None else [known]
    for bracketed, tree in readings:
        if tree not in seen:
            seen.append(tree)
            yield bracketed, tree


class _Trials:
    """A line tried with brackets put in."""

    def __init__(self, start: str, lark: Lark) -> None:
        self.start, self.lark = start, lark
        self.left = MOST_TRIED
        self.values: dict[str, bool] = {}

    def one_pair(self, text: str) -> Iterator[tuple[str, Tree[Token]]]:
        """Each way of putting in one pair that gives a line of the language."""
        for bracketed in self._bracketed(text):
            tree = self._parsed(bracketed, self.start)
            if tree is not None and fits(tree):
                yield bracketed, tree

    def two_pairs(self, text: str) -> Iterator[tuple[str, Tree[Token]]]:
        for bracketed in list(self._bracketed(text)):
            yield from self.one_pair(bracketed)

    def _bracketed(self, text: str) -> Iterator[str]:
        tokens = [(m.start(), m.end()) for m in _TOKEN.finditer(text) if not m[0].startswith("#")]
        words = [text[a:b] for a, b in tokens]
        for i in range(1, len(tokens)):
            if not (words[i][0].isalnum() or words[i][0] in "(½¼¾⅛⅜⅝⅞⅓⅔") or words[i - 1] == "(":
                continue
            depth = 0
            for j in range(i, len(tokens)):
                depth += (words[j] == "(") - (words[j] == ")")
                if depth < 0:
                    break
                if j == i or depth or not (words[j][-1].isalnum() or words[j] in (")", "°", "%")):
                    continue
                begin, end = tokens[i][0], tokens[j][1]
                if self._is_phrase(text[begin:end]):
                    yield f"{text[:begin]}({text[begin:end]}){text[end:]}"

    def _is_phrase(self, text: str) -> bool:
        known = self.values.get(text)
        if known is None:
            known = False
            if _PHRASE_WORD.search(text):
                tree = self._parsed(text, "value")
                known = tree is not None and tree.data not in _PLAIN and fits(tree)
            self.values[text] = known
        return known

    def _parsed(self, text: str, start: str) -> Tree[Token] | None:
        if self.left <= 0:
            return None
        self.left -= 1
        return tree_or_none(text, start, self.lark)


def _as_in(text: str, bracketed: str, tree: Tree[Token]) -> Tree[Token]:
    """The tree of a line with brackets put in, with the places that its phrases have in the line without them."""
    moved = []
    at = 0
    for character in bracketed:
        moved.append(at)
        at += at < len(text) and text[at] == character
    moved.append(at)
    columns = {}

    def place(position: int) -> tuple[int, int]:
        if position not in columns:
            before = text[:position].split("\n")
            columns[position] = len(before), len(before[-1]) + 1
        return columns[position]

    for node in tree.iter_subtrees():
        meta = node.meta
        if not meta.empty:
            begin, end = moved[meta.start_pos], moved[meta.end_pos]
            meta.start_pos, meta.end_pos = begin, end
            meta.line, meta.column = place(begin)
            meta.end_line, meta.end_column = place(end)
        for n, child in enumerate(node.children):
            if isinstance(child, Token):
                begin, end = moved[child.start_pos or 0], moved[child.end_pos or 0]
                line, column = place(begin)
                node.children[n] = Token(child.type, str(child), begin, line, column, *place(end), end)
    return tree
