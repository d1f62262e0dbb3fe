"""What was done to the paper is told in sentences, not in the style's own code."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from catalogue.drafting.operation_sentences import SENTENCES
from catalogue.handbook import draft_example
from catalogue.handbook.entry import Entry
from catalogue.lengths import Unit
from catalogue.people import read_client
from tests.drafting.people_and_styles import ROOT, demo_client, demo_style, draft, suited

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


def test_every_operation_of_the_grammar_has_its_sentence() -> None:
    rule = re.search(r"^\?operation:(.*?)\n\n", GRAMMAR.read_text(encoding="utf-8"), re.S | re.M)
    assert rule
    assert set(re.findall(r"\w+", rule[1])) == set(SENTENCES)


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
            "Fold nothing out of Skirt back at the c, nothing at the b.",
        ),
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
            "extend front.side by 3 cm as wrap",
            "Extend Skirt front by 3 cm at the side; the new edge is called wrap.",
        ),
    ],
)
def test_a_line_is_told_with_titles_and_lengths(line: str, sentence: str) -> None:
    assert operations(line) == [sentence]


@pytest.mark.parametrize("style", sorted({style for style, _ in suited()}))
def test_no_code_is_left_in_what_the_demo_does_to_the_paper(style: str) -> None:
    client = demo_client(next(c for s, c in suited() if s == style))
    for step in draft(demo_style(style), client).steps:
        for told in step.operations:
            assert told[0].isupper() and told.endswith("."), told
            assert not re.search(r"[^\W\d]\.[^\W\d]|_", told), told


def test_lengths_are_in_the_units_of_the_client() -> None:
    inches = read_client(ROOT / "clients/hester-pellow.md", ROOT)
    assert inches.units.primary is Unit.IN
    told = [o for s in draft(demo_style("yoked-shirt"), inches).steps for o in s.operations]
    assert any(o.startswith("Shape the hem of Shirt front: 2 3/4 in up") for o in told)  # 7 cm
