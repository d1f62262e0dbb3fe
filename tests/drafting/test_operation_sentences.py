"""What was done to the paper is told in sentences, not in the style's own code."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from catalogue.drafting import drafter
from catalogue.drafting.operation_sentences import SENTENCES
from catalogue.drafting.registry import LINE_WORDS
from catalogue.handbook import draft_example, entries, example_source
from catalogue.handbook.entry import Entry
from catalogue.language.parser import parse_block
from catalogue.lengths import Unit
from catalogue.people import read_client
from tests.drafting.people_and_styles import ROOT, demo_client, demo_draft, demo_style, draft, suited

GRAMMAR = Path(__file__).parents[2] / "catalogue/language/grammar.lark"
PIECES = """
a = 30 cm right from start
b = 40 cm down from a
c = 40 cm down from start
piece front "Skirt front", cut 1
  outline waist: start to a
          side: a to b
          hem: b to c
          centre: c to start
piece back "Skirt back", cut 1
  outline waist: start to a
          side: a to b
          hem: b to c
          centre: c to start
hip_line = line from (20 cm down from start) right 30 cm
"""


def operations(lines: str) -> list[str]:
    made = draft_example(Entry("tape", "Pieces", "Sample", "", "", PIECES + lines))
    assert [str(f) for f in made.findings] == []
    return [o for step in made.steps for o in step.operations]


NOT_PAPER = {
    "sew_halves",
    "zip_in",
    "define",
    "find",
    "when",
    "otherwise",
    "repeat",
    "note",
    "paper",
    "allow",
    "sew",
    "check",
    "finished",
}
"""Words that draw a line, ask for something or say when; a piece is shown as it is cut from the draft."""


def test_every_word_that_does_something_to_a_piece_has_its_sentence() -> None:
    assert drafter.WORD_ROOMS
    assert set(LINE_WORDS) - NOT_PAPER - {"piece"} == set(SENTENCES)
    rule = re.search(r"^\?operation:(.*?)\n\n", GRAMMAR.read_text(encoding="utf-8"), re.S | re.M)
    assert rule
    assert set(re.findall(r"\w+", rule[1])) <= set(SENTENCES)


@pytest.mark.parametrize("entry", entries(), ids=lambda entry: entry.word)
def test_every_example_of_the_handbook_tells_what_it_does_to_a_piece(entry: Entry) -> None:
    source = re.findall(r"```draft\n(.*?)```", example_source(entry), re.S)
    words = {n.word for block in source for n in parse_block(block, "a.md", 1)[0]}
    told = [o for step in draft_example(entry).steps for o in step.operations]
    assert bool(words & set(SENTENCES)) == bool(told)


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        (
            "level front.side and back.side at hem",
            "Bring the sides of Skirt front and Skirt back to one length at the hem.",
        ),
        (
            "true front.hem and back.hem across front.side and back.side",
            "True the hems of Skirt front and Skirt back across their sides.",
        ),
        ("lengthen front at hip_line by 4 cm", "Lengthen Skirt front at the hip line by 4 cm."),
        (
            "fold out back, 0 cm at c, nothing at b",
            "Leave Skirt back as it is: there is nothing to fold out at the c.",
        ),
        (
            "fold out back, 1 cm at (20 cm down from start), nothing at (20 cm down from a)",
            "Fold 1 cm out of Skirt back at 20 cm down from start, running to nothing at 20 cm down from a.",
        ),
        (
            "dart front.waist, middle at halfway, intake 2 cm, length 9 cm, fold to centre",
            "Draw a dart of 2 cm on the waist of Skirt front, its middle halfway along it, 9 cm long, "
            "folded to the centre.",
        ),
        (
            "dart front.waist, middle at halfway, intake 2 cm, length 9 cm, fold to left, as pleat",
            "Draw a tuck of 2 cm on the waist of Skirt front, its middle halfway along it, 9 cm long, "
            "folded to the left.",
        ),
        (
            "dart waist_dart inside back, from (8 cm down and 15 cm right from start), "
            "point at (30 cm down and 15 cm right from start), widest at (18 cm down and 15 cm right from start), "
            "intake 2 cm",
            "Draw a dart inside Skirt back from 8 cm down and 15 cm right from start to "
            "30 cm down and 15 cm right from start, taking in 2 cm where it is widest, "
            "at 18 cm down and 15 cm right from start.",
        ),
        ("grain of front along front.side", "Lay the grain of Skirt front along front side."),
        (
            "double notch front.side at (10 cm along front.side from a)",
            "Draw a double notch on the side of Skirt front 10 cm along front side from the a.",
        ),
        (
            "notch front.side and back.side, 10 cm from a and a",
            "Draw a notch on the sides of Skirt front and Skirt back, 10 cm from the a.",
        ),
        ("draw hip_line on front", "Draw the hip line on Skirt front."),
        (
            "mark (5 cm right and 5 cm down from start) button on front",
            "Mark a button on Skirt front at 5 cm right and 5 cm down from start.",
        ),
        ("mark 3 buttons along hip_line on front", "Mark 3 buttons on Skirt front along the hip line."),
        ("point hip_mark at (20 cm down from a) on front", "Mark the point hip mark on Skirt front."),
        (
            'cut front along hip_line into upper "Yoke" with start, lower',
            "Cut Skirt front along the hip line into Yoke and Lower.",
        ),
        (
            "spread front, 1 line from waist to hem, nothing at waist, 4 cm at hem, as gathers",
            "Spread Skirt front along 1 line from the waist to the hem: nothing at the waist, 4 cm at the hem, "
            "as gathers.",
        ),
        (
            "spread front, 3 lines from waist to hem, nothing at waist, as far as 60 cm at hem",
            "Spread Skirt front along 3 lines from the waist to the hem: nothing at the waist, until the hem is "
            "60 cm long.",
        ),
        (
            "extend front.side by 3 cm as wrap",
            "Extend Skirt front by 3 cm at the side; the new edge is called wrap.",
        ),
        (
            "pleat front along front.centre, inverted, depth 4 cm, free at hem",
            "Add half of an inverted pleat 4 cm deep to Skirt front at the centre, free at the hem.",
        ),
        ("move front 6 cm right and 2 cm down", "Move Skirt front 6 cm to the right and 2 cm downwards."),
        (
            "turn back 30 degrees anticlockwise about a",
            "Turn Skirt back 30 degrees anticlockwise about the a.",
        ),
        ("mirror back over (line start to c)", "Turn Skirt back over along a line start to c."),
    ],
)
def test_a_line_is_told_with_titles_and_lengths(line: str, sentence: str) -> None:
    assert operations(line) == [sentence]


@pytest.mark.parametrize("style", sorted({style for style, _ in suited()}))
def test_no_code_is_left_in_what_the_demo_does_to_the_paper(style: str) -> None:
    client = demo_client(next(c for s, c in suited() if s == style))
    for step in demo_draft(style, client.slug).steps:
        for told in step.operations:
            assert told[0].isupper() and told.endswith("."), told
            assert not re.search(r"[^\W\d]\.[^\W\d]|_", told), told


def test_lengths_are_in_the_units_of_the_client() -> None:
    inches = read_client(ROOT / "clients/hester-pellow.md", ROOT)
    assert inches.units.primary is Unit.IN
    told = [o for s in draft(demo_style("yoked-shirt"), inches).steps for o in s.operations]
    assert any(o.startswith("Shape the hem of Shirt front: 2 3/4 in up") for o in told)  # 7 cm


@pytest.mark.parametrize(
    ("line", "place"),
    [
        ("p = midway a to c", "15 cm right and 20 cm down from start"),
        ("p = where (line start to b) crosses hip_line", "15 cm right and 20 cm down from start"),
        ("p = square from c to (line a to b)", "30 cm right and 40 cm down from start"),
        ("p = mirror of a over (line start to c)", "30 cm left from start"),
        ("p = end of hip_line", "30 cm right and 20 cm down from start"),
        ("p = 1/4 of the way from start to c", "10 cm down from start"),
        ("p = a moved 30 cm left", "at start"),
        ("p = corner of front.side and hem", "30 cm right and 40 cm down from start"),
    ],
)
def test_a_point_without_a_figure_is_in_the_workings_with_its_place(line: str, place: str) -> None:
    made = draft_example(Entry("tape", "Pieces", "Sample", "", "", PIECES + line))
    assert [str(f) for f in made.findings] == []
    (working,) = [w for step in made.steps for w in step.workings if w.name == "p"]
    assert working.text == place
    assert working.result is None


@pytest.mark.parametrize("style", sorted({style for style, _ in suited()}))
def test_every_constructed_point_of_the_demo_is_in_the_workings(style: str) -> None:
    made = demo_draft(style, next(c for s, c in suited() if s == style))
    told = {w.name for step in made.steps for w in step.workings}
    source = (ROOT / "styles" / f"{style}.md").read_text(encoding="utf-8")
    constructed = {
        n.name.text
        for block in re.findall(r"```draft\n(.*?)```", source, re.S)
        for line in parse_block(block, "a.md", 1)[0]
        for n in line.walk()
        if n.word == "define" and n.value.word not in ("name", "dotted") and n.name.text in made.points
    }
    assert len(constructed) >= 5
    assert {name.replace("_", " ") for name in constructed} - told == set()
