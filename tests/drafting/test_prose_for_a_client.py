"""Prose whose words depend on the draft: what is worked out of it, what is not, and what goes wrong."""

from __future__ import annotations

import pytest

from catalogue.studio.prose import SLOT, Prose
from catalogue.studio.reading import style_from
from tests.drafting.people_and_styles import draft, person, with_choices

CHOICES = "choices:\n  vent: yes (yes, no)\n  depth: 5 cm (0 cm to 30 cm)\n"


def drafted(prose: str, block: str = "", *, hip_girth: str = "100", **choices: str):
    """A draft of a style with `prose` as its last text, and what of it there is for its client."""
    lines = f"half_hip = hip_girth / 2\nused = by vent: yes depth, otherwise 0 cm\n{block}"
    text = f"---\ntitle: Sample\n{CHOICES}---\n\n# Draft\n\n```draft\n{lines}\n```\n\n# Sewing\n\n{prose}\n"
    style = style_from(text.encode(), "sample", "styles/sample.md")
    made = draft(style, with_choices(person(hip_girth=hip_girth), "sample", **choices))
    [last] = (part for part in style.sections[-1].parts if isinstance(part, Prose))
    return made, last.filled(made.rendered, made.holding).strip()


@pytest.mark.parametrize(
    ("condition", "choices", "there"),
    [
        ("vent is yes", {}, True),
        ("vent is yes", {"vent": "no"}, False),
        ("vent is not yes", {"vent": "no"}, True),
        ("vent is yes and depth is more than 4 cm", {}, True),
        ("vent is yes and depth is more than 4 cm", {"depth": "4 cm"}, False),
        ("half_hip between 45 cm and 50 cm", {}, True),
        ("half_hip between 45 cm and 50 cm", {"hip_girth": "102"}, False),
        ("depth = half_hip / 10", {}, True),
        ("hem left of start", {}, True),
        ("hem below start", {}, False),
    ],
)
def test_a_condition_holds_as_it_does_after_when(condition, choices, there):
    """The same words on a line of the drafting give the same."""
    block = f"hem = depth left from start\nwhen {condition}\n  known = 2 cm\notherwise\n  known = 1 cm\n"
    made, shown = drafted(
        f"Sew {{when {condition}}} this {{otherwise}} that {{always}} now.", block, **choices
    )
    assert made.ok
    assert shown == f"Sew {'this' if there else 'that'} now."
    assert made.values["known"].value == (20 if there else 10)


def test_what_is_not_there_is_not_worked_out():
    """Names that only some drafts have may be named where these are meant; as under `when` in the drafting."""
    block = "when vent is yes\n  lap = 5 cm\n"
    item = "1. The lap is {lap}{when lap is more than 4 cm}, wide{always}.\n"
    item = f"{{when vent is yes}}\n{item}{{always}}\n"
    prose = f"{item}2. Press {{half_hip}}{{when vent is yes and lap = 5 cm}}, both laps{{always}}."
    made, shown = drafted(prose, block)
    assert made.ok and shown == "1. The lap is 5 cm, wide.\n2. Press 50 cm, both laps."
    made, shown = drafted(prose, block, vent="no")
    assert made.ok and made.findings == () and shown == "1. Press 50 cm."
    assert list(made.rendered.values()) == ["50 cm"]


@pytest.mark.parametrize(
    ("condition", "message", "hint", "column"),
    [
        ("vemt is yes", "“vemt”", "“vent”", 11),
        ("vent is yess", "“yess” is not one of the words of “vent”: yes, no", "“yes”", 19),
        ("depth is yes", "“depth” is not a choice of words", "", 11),
        ("half_hip is more than 3", "can't be compared", "", 11),
        ("half_hip is more than hip_grith", "“hip_grith”", "", 33),
        ("square root of (depth - 2 * depth) is more than 2 cm", "An area or a number is needed", "", 27),
    ],
)
def test_a_condition_that_fails_is_a_finding_and_all_is_shown(condition, message, hint, column):
    made, shown = drafted(f"Sew {{when {condition}}} this {{otherwise}} that.")
    [finding] = made.findings
    assert finding.is_error and message in finding.message and hint in finding.hint
    assert (finding.place.line, finding.place.column) == (18, column)
    assert finding.source.startswith("Sew {when")
    assert shown == f"Sew when {condition}: this otherwise: that."


def test_what_depends_on_a_line_that_failed_is_told_once():
    made, shown = drafted("{when width is more than 3 cm} Wide {width}.", "width = depht * 2\n")
    assert len(made.findings) == 1 and made.findings[0].place.line == 13
    assert shown == "when width is more than 3 cm: Wide …."


def test_conditions_count_as_work():
    few, many = (drafted("{when half_hip is more than 1 cm} a. {always}" * count)[0] for count in (1, 400))
    assert many.ok and few.ok
    assert len(many.holding) == 400


def test_blocks_have_prose_of_their_own(tmp_path):
    made, _ = drafted("{when vent is yes} One {depth}. {otherwise} Two {half_hip}.", vent="no")
    [prose] = (part for part in made.style.sections[-1].parts if isinstance(part, Prose))
    there = {int(slot[1]) for slot in SLOT.finditer(prose.shown(lambda c: made.holding.get(c.index)))}
    assert there == set(made.rendered)
