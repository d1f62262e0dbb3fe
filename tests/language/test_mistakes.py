"""What is said of lines that are not understood: at the right place, in a dressmaker's words, with what would help."""

import re
from pathlib import Path

import pytest

from catalogue.findings import Place, Trouble
from catalogue.language.hints import HINTS
from catalogue.language.parser import MOST_MISTAKES, grammar, parse_block, parse_formula
from catalogue.language.words import words_of
from tests.language.hint_lines import LINES


def table() -> list[tuple[str, str, str, str]]:
    """Label, line with its mark, message and hint of each mistake in mistakes.txt."""
    text = (Path(__file__).parent / "mistakes.txt").read_text(encoding="utf-8")
    rows = []
    for entry in text.split("\n== ")[1:]:
        label, rest = entry.split("\n", 1)
        line, said = rest.split("\n-> ", 1)
        message, _, hint = said.partition("\n?? ")
        rows.append((label, line, message.strip(), hint.strip()))
    return rows


MISTAKES = table()


def only_finding(text: str):
    findings = parse_block(text, "styles/a.md", 10)[1]
    assert len(findings) == 1, findings
    return findings[0]


@pytest.mark.parametrize(("marked", "words", "hint"), [m[1:] for m in MISTAKES], ids=[m[0] for m in MISTAKES])
def test_a_mistake_is_shown_and_explained(marked, words, hint):
    column = marked.index("▸") + 1
    finding = only_finding(marked.replace("▸", ""))
    assert (finding.place.line, finding.place.column) == (10, column)
    assert finding.message == words
    assert finding.hint == hint
    assert finding.is_error
    assert finding.source == marked.replace("▸", "").rstrip()


def test_there_are_enough_mistakes():
    assert len(MISTAKES) >= 50
    assert len({m[0] for m in MISTAKES}) == len({m[1] for m in MISTAKES}) == len(MISTAKES)


@pytest.mark.parametrize("hint", HINTS, ids=lambda hint: hint.label)
def test_every_hint_has_a_line_that_calls_it_up(hint):
    assert only_finding(LINES[hint.label]).hint == hint.say


def test_hints_and_lines_belong_together():
    labels = [hint.label for hint in HINTS]
    assert sorted(labels) == sorted(LINES)


def test_every_terminal_of_the_grammar_has_words_of_the_reader():
    words = words_of(grammar())
    lacking = [
        t.name for t in grammar().terminals if t.name not in words and not t.name.startswith("__IGNORE")
    ]
    assert lacking == []
    for ways in words.values():
        assert ways
        assert all(way and way.strip() == way and not re.search(r"[\\|*\[\]^$]", way) for way in ways), ways


def test_no_message_uses_the_grammars_own_words():
    names = {t.name for t in grammar().terminals} | {"$END"}
    for line in [m[1].replace("▸", "") for m in MISTAKES] + list(LINES.values()):
        finding = only_finding(line)
        text = f"{finding.message} {finding.hint}"
        used = {
            n
            for n in names
            if re.search(rf"(?<!\w){re.escape(n)}(?!\w)", text) and n.upper() == n and len(n) > 2
        }
        assert used <= {"LINE"}, (
            line,
            used,
        )  # LINE stands for a line's name in the hints, as A does for a point's


# --- places -------------------------------------------------------------------------------------------------


def test_a_tab_counts_as_one_column():
    assert only_finding("a\t=\t3 cm dwn from b").place.column == len("a\t=\t3 cm ") + 1


def test_letters_outside_ascii_count_as_one_column():
    assert only_finding("länge_đường = 3 cm dwn from b").place.column == len("länge_đường = 3 cm ") + 1
    assert only_finding("😀 = 3 cm").place.column == 1


def test_a_continuation_line_keeps_its_own_place():
    finding = only_finding("a = 3 cm down\n\n    # a remark\n  and 2 cm rigth from b")
    assert (finding.place.line, finding.place.column) == (13, len("  and 2 cm ") + 1)
    assert finding.source == "  and 2 cm rigth from b"


def test_a_line_that_stops_early_points_behind_its_last_word():
    finding = only_finding("a = 3 cm down   \n   from   ")
    assert (finding.place.line, finding.place.column) == (11, len("   from") + 1)


def test_a_formula_in_prose_keeps_its_place():
    with pytest.raises(Trouble) as raised:
        parse_formula("a + ", Place("styles/a.md", 7, 21))
    assert raised.value.findings[0].place == Place("styles/a.md", 7, 21 + len("a +"))


def test_five_bad_lines_give_five_findings():
    bad = [
        "a = 3 cm dwn from b",
        "b = 3 cm",
        "pice front, cut 1",
        "c = (b",
        "d = b",
        "sew front.side",
        "e = = 3",
    ]
    nodes, findings = parse_block("\n".join(bad), "a.md", 1)
    assert [f.place.line for f in findings] == [1, 3, 4, 6, 7]
    assert [n.place.line for n in nodes] == [2, 5]


def test_a_bad_heading_does_not_hide_what_is_wrong_below_it():
    text = "pice front, cut 1\nwhen a is\n  b = 3 cm dwn from c\n  d = 2 cm\nfind x\n  e = = 3"
    findings = parse_block(text, "a.md", 1)[1]
    assert [f.place.line for f in findings] == [1, 2, 3, 5, 6]


def test_a_block_of_nonsense_ends_after_some_findings():
    findings = parse_block("\n".join(["a b c d"] * 500), "a.md", 1)[1]
    assert len(findings) == MOST_MISTAKES


# --- characters that look like others -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("character", "words"),
    [
        ("\u200b", "a zero-width space"),
        ("\u00ad", "a soft hyphen"),
        ("\u200f", "a direction mark"),
        ("\u2009", "an unusual space (U+2009)"),
        ("\u3000", "an unusual space (U+3000)"),
        ("\x07", "an invisible character (U+0007)"),
    ],
)
def test_a_character_that_cannot_be_seen_is_named(character, words):
    finding = only_finding(f"a = 3 cm {character}down from b")
    assert finding.message == f"There is {words} here."
    assert finding.place.column == 10
    assert "plain space" in finding.hint


def test_no_break_blanks_are_blanks():
    nodes, findings = parse_block("a\xa0= 3\xa0cm down\xa0from\xa0b", "a.md", 1)
    assert not findings
    assert nodes[0].value.word == "placed"


def test_inch_marks_of_every_kind_are_inches():
    for mark in ('"', "”", "″"):
        nodes, findings = parse_block(f"a = 3 1/2{mark} down from b", "a.md", 1)
        assert not findings, mark
        assert nodes[0].value.word == "placed"


def test_titles_may_be_in_curly_quotes():
    (node,), findings = parse_block("new paper “Sleeve”", "a.md", 1)
    assert not findings
    assert node.title.text == "“Sleeve”"


@pytest.mark.parametrize("minus", ["-", "−", "–"])
def test_dashes_are_minus_signs(minus):
    nodes = parse_block(f"a = b {minus} 3 cm", "a.md", 1)[0]
    assert nodes[0].value.word == "subtract"
