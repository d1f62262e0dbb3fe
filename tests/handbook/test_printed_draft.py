"""The handbook's draft from a book: every figure that the book states comes out.

Source: I. Rosenfeld, *The Practical Designer, for women's, misses', juniors' & children's cloaks & suits, shirt waist
suits and dresses*, p. 199, Lesson 106.
"""

import pytest

from catalogue.drafting import draft_style
from catalogue.handbook.printed_draft import INCH, STAGES, printed_draft, style_text
from catalogue.lengths import parse_number
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings

DRAFT = printed_draft()


def apart(first: str, second: str) -> float:
    """Inches between two points."""
    a, b = DRAFT.points[first], DRAFT.points[second]
    return ((a.x - b.x) ** 2 + (a.y - b.y) ** 2) ** 0.5 / INCH


STATED = [
    (*row[0].split("–"), row[2])
    for stage in STAGES
    for row in stage.book
    if row[2] and row[0].count("–") == 1
]


@pytest.mark.parametrize(("first", "second", "stated"), STATED)
def test_a_stated_figure_comes_out(first, second, stated):
    # The page's own table is the list of stated figures; each is measured between the drafted points.
    assert apart(first, second) == pytest.approx(parse_number(stated), abs=1e-6)


def test_the_figures_are_those_of_the_lesson():
    assert [s[2] for s in STATED] == ["20", "12 3/4", "3", "5", "5", "17", "21", "3/4", "20 1/2"]


def test_points_between_lie_where_arithmetic_puts_them():
    # Worked out by hand from the rules: F lies 17 in from E and 5 in from D; |AD| = 13.098.
    f = DRAFT.points["F"]
    assert (f.x / INCH, f.y / INCH) == pytest.approx((16.377, 0.441), abs=1e-3)
    assert apart("A", "D") == pytest.approx(13.098, abs=1e-3)


def test_nothing_is_wrong_with_it():
    assert DRAFT.findings == () and DRAFT.ok and list(DRAFT.pieces) == ["skirt"]
    assert len(DRAFT.steps) == len(STAGES) and len(DRAFT.checks) == 2


@pytest.mark.parametrize("stages", range(1, len(STAGES)))
def test_it_drafts_after_every_stage(stages):
    style = style_from(style_text(stages).encode(), "printed-draft", "handbook/printed-draft.md")
    draft = draft_style(style, DRAFT.client, Settings())
    assert [str(f) for f in draft.findings if f.is_error] == []
    assert len(draft.steps) == stages
