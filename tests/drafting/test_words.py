"""What the words of the language say of themselves: none is forgotten, and what is said is what the page shows."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from lark.exceptions import UnexpectedInput

from catalogue.drafting.block_drafts import lay_out_blocks
from catalogue.drafting.choosing import take_choices
from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import evaluate
from catalogue.drafting.messages import Broken
from catalogue.drafting.registry import LINE_WORDS, PAPER_WORK, PIECE_WORDS, SHOWS, SUBSTITUTED, VALUE_WORDS
from catalogue.drafting.steps import desk_for, do_block
from catalogue.drafting.words_flow import RESERVED, record_working
from catalogue.findings import Place, Trouble
from catalogue.geometry import Path as Line
from catalogue.geometry import Point
from catalogue.handbook import entries, example_style, neutral_client
from catalogue.language.naming import named_parts
from catalogue.language.parser import grammar, parse_formula
from catalogue.language.tables import STARTS
from catalogue.language.tree import Node
from catalogue.language.values import Quantity
from catalogue.language.wording import in_words
from catalogue.language.words import language_words
from catalogue.studio.style import DraftLines
from tests.drafting.test_parts import expansions


def test_every_line_and_value_of_the_grammar_has_a_function():
    assert expansions()["statement"] == LINE_WORDS.keys()
    assert expansions()["value"] == VALUE_WORDS.keys() - {"extended", "fraction", "share_word"}
    assert expansions()["piece_line"] - {"outline"} == PIECE_WORDS.keys()


def test_words_for_points_and_lines_say_what_their_working_shows():
    assert (expansions()["point_phrase"] | expansions()["line_phrase"]) - SHOWS.keys() == set()


def test_words_for_scissors_and_tape_say_whether_they_are_paper_work():
    assert expansions()["operation"] == PAPER_WORK.keys()


def test_amounts_are_shown_of_words_that_have_any():
    for word, shows in SHOWS.items():
        parts = {slot.name for slot in named_parts()[word]}
        if shows == "amounts":
            assert parts & {"amount", "by"}, word
        if shows == "deciding":
            assert "deciding" in parts, word


def test_reserved_names_are_words_of_the_language():
    assert language_words(grammar()) | {"distance", "about"} >= RESERVED


# --- with numbers put in ------------------------------------------------------------------------------------

MORE = {
    "half": "half of bust_girth",
    "third": "third of bust_girth",
    "quarter": "quarter of bust_girth",
    "larger": "larger of bust_girth and hip_girth",
    "percent": "10% * bust_girth",
    "negative": "-bust_girth",
}
"""Words for numbers that share an entry of the handbook with others: a formula of each."""


@cache
def desks() -> tuple[tuple[Desk, tuple[Node, ...]], ...]:
    """The desk after each step of each example, with the lines of that step."""
    found = []
    for entry in entries():
        style, client = example_style(entry), neutral_client()
        desk = desk_for(style, client)
        take_choices(style, client, desk)
        lay_out_blocks(style, client, desk)
        for section in style.sections:
            for block in section.parts:
                if isinstance(block, DraftLines):
                    do_block(block, section, "", desk)
                    found.append((desk.twin(), block.statements))
    return tuple(found)


def values() -> Iterator[tuple[Node, object, Desk]]:
    """Every value in the examples, with the desk on which it was worked out."""
    for desk, lines in desks():
        for line in lines:
            for node in line.walk():
                if node.word in VALUE_WORDS:
                    try:
                        yield node, evaluate(node, desk.twin()), desk
                    except (Trouble, Broken):
                        continue  # What it needs was cut up later in the step, or is named only inside a find.
    desk = desks()[0][0]
    for text in MORE.values():
        node = parse_formula(text, Place("a.md"))
        yield node, evaluate(node, desk), desk


def working(node: Node, value: object, desk: Desk):
    desk = desk.twin()
    desk.trace.workings = []
    record_working("x", node, value, desk)
    return desk.trace.workings[0] if desk.trace.workings else None


def names_in(node: Node) -> set[str]:
    return {in_words(n.text) for n in node.walk() if n.word in ("NAME", "DOTTED")}


def test_workings_of_numbers_have_no_names_left_in_them():
    """Were a word that measures not said to be substituted, the page would show its line's name among the numbers."""
    seen = set()
    for node, value, desk in values():
        if not isinstance(value, Quantity):
            continue
        seen.add(node.word)
        made = working(node, value, desk)
        if made is None:
            assert SHOWS[node.word] == "nothing"
        elif SHOWS.get(node.word) != "deciding":
            left = [n for n in names_in(node) if re.search(rf"(?<!\w){re.escape(n)}(?!\w)", made.substituted)]
            assert not left, f"{made.formula}: {made.substituted}"
    numbers = (
        VALUE_WORDS.keys()
        - expansions()["point_phrase"]
        - expansions()["line_phrase"]
        - {"extended", "dotted", "leg"}
    )
    assert numbers - seen == set(), "words for numbers that no example has"


def test_workings_of_points_show_every_length_that_places_them():
    seen = set()
    for node, value, desk in values():
        if isinstance(value, Point) and SHOWS.get(node.word) == "amounts":
            made = working(node, value, desk)
            moves = node.by.each if node.word == "placed" else [node]
            for move in moves:
                assert desk.show(evaluate(move.amount, desk)) in made.text
            seen.add(node.word)
    assert seen == {word for word, shows in SHOWS.items() if shows == "amounts"}


def test_workings_of_lines_show_how_long_they_are():
    seen = set()
    for node, value, desk in values():
        if isinstance(value, Line):
            made = working(node, value, desk)
            assert (made is not None) == (SHOWS.get(node.word) == "length"), node.word
            if made is not None:
                assert made.text == f"{desk.show_length(value.length)} long"
                seen.add(node.word)
    assert seen == {word for word, shows in SHOWS.items() if shows == "length"}


def test_what_is_substituted_is_a_value():
    assert VALUE_WORDS.keys() >= SUBSTITUTED


# --- paper work ---------------------------------------------------------------------------------------------


def test_lines_that_cut_or_join_pieces_are_counted_as_paper_work():
    """By what they do: with pieces on the table, there are new ones after them."""
    seen = set()
    for entry in entries():
        style, client = example_style(entry), neutral_client()
        desk = desk_for(style, client)
        take_choices(style, client, desk)
        lay_out_blocks(style, client, desk)
        for section in style.sections:
            for block in section.parts:
                for line in getattr(block, "statements", ()):
                    before = dict(desk.table.pieces)
                    LINE_WORDS[line.word](line, desk)
                    if line.word not in expansions()["operation"]:
                        continue
                    new = desk.table.pieces.keys() - before.keys()
                    if new and before:
                        assert PAPER_WORK[line.word], line.text
                    seen.add(line.word)
    assert len(seen) > 15


def test_a_word_that_says_nothing_would_be_missed(monkeypatch):
    monkeypatch.delitem(SHOWS, "midway")
    with pytest.raises(AssertionError):
        test_words_for_points_and_lines_say_what_their_working_shows()
    monkeypatch.setattr("catalogue.drafting.substituting.SUBSTITUTED", SUBSTITUTED - {"length_of"})
    with pytest.raises(AssertionError, match="length of"):
        test_workings_of_numbers_have_no_names_left_in_them()


# --- tested -------------------------------------------------------------------------------------------------


def test_what_every_word_draws_is_tested():
    """Every word stands in a line of the tests of drafting or of pieces, not only in its entry of the handbook.

    The alterations, each of which is tested, count too.
    """
    texts: set[str] = set()
    here = Path(__file__).parent
    alterations = here.parents[1] / "catalogue" / "alterations"
    for file in (*here.rglob("*.*"), *(here.parent / "pattern").rglob("*.*"), *alterations.glob("*.md")):
        if file.suffix == ".py" and file.name not in (Path(__file__).name, "test_parts.py"):
            for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Constant) and isinstance(node.value, str):
                    texts.add(node.value)
        elif file.suffix in (".md", ".txt"):
            texts.add(file.read_text(encoding="utf-8"))
    used: set[str] = set()
    for row in {row.strip() for text in texts for row in text.splitlines() if len(row) < 300}:
        for start in STARTS:
            try:
                tree = grammar().parse(row, start=start)
            except UnexpectedInput:
                continue
            used |= {str(phrase.data) for phrase in tree.iter_subtrees()}
    assert {*VALUE_WORDS, *LINE_WORDS, *PIECE_WORDS} - used == set()
