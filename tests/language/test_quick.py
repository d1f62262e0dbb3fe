"""The quick parser gives the library's trees, places included, and takes what the library takes."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from lark import Token, Tree
from lark.exceptions import UnexpectedInput

from catalogue.handbook import entries
from catalogue.language import quick
from catalogue.language.lines import logical_lines
from catalogue.language.parser import grammar
from catalogue.language.tables import STARTS
from tests.language.hint_lines import LINES
from tests.language.test_nesting import PLACES

ROOT = Path(__file__).resolve().parents[2]
ODD = (
    "",
    " ",
    "\t",
    "#",
    "a",
    "a =",
    "a = (",
    "a = 3 cm # so",
    "a =\n  3 cm\n  down from B",
    "a=3cm",
    "ä = 1½ in",
)


@cache
def lines() -> tuple[str, ...]:
    """Lines of the handbook and of the demo's styles, phrases inside phrases, and lines that are wrong."""
    blocks = [block for entry in entries() for block in entry.steps()]
    for style in sorted((ROOT / "styles").glob("*.md")):
        blocks += re.findall(r"```draft\n(.*?)```", style.read_text(encoding="utf-8"), re.DOTALL)
    waiting = [line for block in blocks for line in logical_lines(block)]
    found = [*ODD, *LINES.values(), *(slot.replace("◦", phrase) for slot, phrase in PLACES[::7])]
    while waiting:
        line = waiting.pop()
        found.append(line.text)
        waiting += line.under
    return tuple(dict.fromkeys(found))


def whole(tree: Tree[Token] | Token | None) -> object:
    """A tree with all places, as plain values."""
    if tree is None:
        return None
    if isinstance(tree, Token):
        place = (tree.start_pos, tree.line, tree.column, tree.end_pos, tree.end_line, tree.end_column)
        return tree.type, str(tree), place
    meta = tree.meta
    place = (meta.start_pos, meta.line, meta.column, meta.end_pos, meta.end_line, meta.end_column)
    return tree.data, meta.empty, place, [whole(child) for child in tree.children]


@pytest.mark.parametrize("start", STARTS)
def test_it_gives_the_trees_of_the_library(start):
    lark, taken, refused = grammar(), 0, 0
    for line in lines():
        found = quick.tree_or_none(line, start, lark)
        try:
            expected = lark.parse(line, start=start)
        except UnexpectedInput:
            assert found is None, line
            refused += 1
        else:
            assert whole(found) == whole(expected), line
            taken += 1
    assert taken > {"statement": 1000, "value": 0, "piece_line": 50, "edge_line": 50}[start]
    assert refused > 50


def test_what_is_not_understood_is_refused_as_the_library_does():
    with pytest.raises(UnexpectedInput) as raised:
        quick.tree_of("a = 3 cm dwon from B", "statement", grammar())
    assert raised.value.column == 10


def test_a_library_made_otherwise_is_asked_itself(monkeypatch):
    monkeypatch.setattr(quick, "_parser_of", lambda lark: None)
    assert quick.tree_of("a = 3 cm", "statement", grammar()).data == "define"
    assert quick.tree_or_none("a = 3 cm dwon", "statement", grammar()) is None


def test_the_library_installed_is_known():
    assert quick._parser_of(grammar()) is not None


def test_only_what_is_passed_over_starts_with_a_blank():
    """Blanks are passed over before any pattern is tried."""
    for terminal in grammar().terminals:
        parsed = quick._parser.parse(terminal.pattern.to_regexp())
        assert quick.may_start(parsed, " ") == terminal.name.startswith("__IGNORE_0"), terminal.name


@pytest.mark.parametrize(
    ("pattern", "starts", "others"),
    [
        ("ab|c", "ac", "bx"),
        ("(a\\s+)?b", "ab", "c"),
        ("[^a-c\\d]x", "dx-", "abc1"),
        ("(?=a)\\w", "a1", "-"),
        ("x*y{2}", "xy", "a"),
        ("(a|b)?(c|d*)e", "abcde", "f"),
        (".", "ax", ""),
    ],
)
def test_the_letters_that_a_pattern_may_start_with(pattern, starts, others):
    parsed = quick._parser.parse(pattern)
    assert all(quick.may_start(parsed, letter) for letter in starts)
    assert not any(quick.may_start(parsed, letter) for letter in others)
