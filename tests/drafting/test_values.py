"""What lines give: arithmetic with units, tables at their boundaries, choices of lines, values found by trying."""

from __future__ import annotations

import math

import pytest

from catalogue.lengths import Unit
from tests.drafting.people_and_styles import INCH, draft, person, with_choices

BODY = {"bust_girth": "96", "waist_girth": "77", "hip_girth": "102"}


def value(formula: str, lines: str = "", **body: str) -> float:
    made = draft(f"{lines}\nresult = {formula}", person(**(body or BODY)))
    assert [str(f) for f in made.findings] == []
    return made.values["result"].value


@pytest.mark.parametrize(
    ("formula", "mm"),
    [
        ("1 cm + 1 in", 10 + INCH),
        ("1 1/2 in", 1.5 * INCH),
        ("38½ in", 38.5 * INCH),
        ("5/8 in", 0.625 * INCH),
        ("1 m - 1 mm", 999),
        ("bust_girth / 6 + 1 1/2 in", 160 + 1.5 * INCH),
        ("2 * (3 cm + 1 cm) / 4", 20),
        ("3 cm * 4 cm / 2 cm", 60),
        ("square root of (3 cm * 3 cm + 4 cm * 4 cm)", 50),
        ("10% * bust_girth", 96),
        ("half of 3 cm", 15),
        ("a quarter of bust_girth", 240),
        ("a third of bust_girth", 320),
        ("smaller of 3 cm and 1 in", INCH),
        ("larger of 3 cm and 1 in", 30),
        ("-2 cm + 5 cm", 30),
        ("rounded 26.4 cm to 5 mm", 265),
        ("rounded (10 1/2 in) to 1/4 in", 10.5 * INCH),
        ("2 * pi * 10 cm", 200 * math.pi),
        ("distance start to (3 cm right and 4 cm down from start)", 50),
        ("length of (line start to (3 cm right from start) to (3 cm right and 4 cm down from start))", 70),
        ("distance start to (end of (line from start right and 30 degrees down 10 cm))", 100),
        (
            "distance (10 cm right from start) to (end of (line from start right and 60 degrees down 10 cm))",
            100,
        ),
        ("distance (20 cm up from start) to (end of (line from start up and 60 degrees left 20 cm))", 200),
        ("angle of (line from start right and 20 degrees down 7 cm)", 20),
        ("7 - 2 - 1", 4),
        ("8 / 4 / 2", 1),
        ("2 + 3 * 4", 14),
    ],
)
def test_arithmetic(formula, mm):
    """Two sides of one length with 60 degrees between them make an even triangle (Euclid, Elements I.1)."""
    assert value(formula) == pytest.approx(mm, abs=1e-9)


STEPS = "by bust_girth: up to 35 in 1 in, up to 40 in 1 1/2 in, above 2 in"


@pytest.mark.parametrize(
    ("bust", "inches"),
    [("20 in", 1), ("35 in", 1), ("35 1/16 in", 1.5), ("40 in", 1.5), ("40 1/16 in", 2), ("90 in", 2)],
)
def test_steps_include_their_upper_bound(bust, inches):
    assert value(STEPS, bust_girth=bust) == pytest.approx(inches * INCH)


GRADES = "graded by bust_girth: at 80 cm 2 cm, at 100 cm 3 cm, at 110 cm 6 cm"


@pytest.mark.parametrize(
    ("bust", "mm"), [("60", 20), ("80", 20), ("90", 25), ("100", 30), ("105", 45), ("110", 60), ("150", 60)]
)
def test_grades_run_between_their_rows_and_stay_outside(bust, mm):
    assert value(GRADES, bust_girth=bust) == pytest.approx(mm)


def test_number_found_by_trying_is_a_length_of_the_right_kind():
    made = draft(
        "find r between 1 cm and 50 cm so that length of c = 60 cm\n  c = circle about start radius r",
        person(**BODY),
    )
    assert made.findings == ()
    assert made.values["r"].is_length
    # Closed form: the circumference of a circle.
    assert made.values["r"].value == pytest.approx(600 / (2 * math.pi), abs=1e-4)
    assert made.paths["c"].length == pytest.approx(600, abs=1e-3)
    assert [w.name for w in made.steps[0].workings][-1] == "r"


def test_trying_leaves_no_trace_of_what_was_tried():
    made = draft(
        "find r between 1 cm and 50 cm so that length of c = 60 cm\n  c = circle about start radius r",
        person(**BODY),
    )
    assert [i.name for i in made.items] == ["c"]


FLARE = "choices:\n  flare: full (full, half, quarter)\n"
WHEN = """when flare is full
  a = 1 cm
otherwise
  when flare is half
    a = 2 cm
  otherwise
    a = 3 cm
when flare is not full
  b = 1 cm"""


@pytest.mark.parametrize(
    ("flare", "a", "b"), [("full", 10, False), ("half", 20, True), ("quarter", 30, True)]
)
def test_when_and_otherwise(flare, a, b):
    made = draft(WHEN, with_choices(person(**BODY), "sample", flare=flare), FLARE)
    assert made.findings == ()
    assert made.values["a"].value == a
    assert ("b" in made.values) == b


@pytest.mark.parametrize(
    ("condition", "holds"),
    [
        ("3 cm is more than 1 in", True),
        ("3 cm is less than 1 in", False),
        ("1 in is at least 2.54 cm", True),
        ("1 in is at most 2.54 cm", True),
        ("1 in is more than 2.54 cm", False),
        ("3 cm = 3.004 cm", True),
        ("3 cm = 3.01 cm", False),
        ("3 cm = 3.1 cm within 2 mm", True),
        ("3 cm = 3.3 cm within 2 mm", False),
        ("3 cm between 2 cm and 4 cm", True),
        ("5 cm between 2 cm and 4 cm", False),
        ("2 cm between 2 cm and 4 cm and 5 cm is more than 9 cm", False),
        ("0 = 0 cm", True),
        ("3 cm ≥ 3 cm", True),
    ],
)
def test_conditions(condition, holds):
    made = draft(f"check {condition}", person(**BODY))
    assert made.findings == ()
    assert [c.ok for c in made.checks] == [holds]
    assert made.ok == holds


def test_notes_are_said_only_when_they_hold():
    made = draft(
        'note "wide" when bust_girth is more than 90 cm\nnote "narrow" when bust_girth is less than 90 cm',
        person(**BODY),
    )
    assert [f.message for f in made.findings] == ["wide"]
    assert made.ok, "a note is no mistake"


def test_workings_put_the_numbers_in_the_units_of_the_client():
    lines = "depth = bust_girth / 6 + 1 1/2 in\nintake = by bust_girth: up to 35 in 1 in, above 2 in"
    made = draft(lines, person(Unit.IN, bust_girth="36 in"))
    first, second = made.steps[0].workings
    assert (first.name, first.formula, first.substituted, first.text) == (
        "depth",
        "bust girth ÷ 6 + 1 1/2 in",
        "36 in ÷ 6 + 1 1/2 in",
        "7 1/2 in",
    )
    assert (second.substituted, second.text) == ("bust girth is 36 in", "2 in")
    made = draft(lines, person(bust_girth="90 cm"))
    assert made.steps[0].workings[0].substituted == "90 cm ÷ 6 + 3.8 cm"
    assert made.steps[0].workings[0].text == "18.8 cm"


def test_workings_can_be_followed_on_one_tape():
    """11 1/2 in ÷ 2 + 4 cm can't; as worked out with a pocket calculator, each gives the result beside it."""
    made = draft(
        "a = hip_girth / 2 + 4 cm\nb = smaller of 9 cm and a", person(Unit.IN, hip_girth="11 1/2 in")
    )
    first, second = made.steps[0].workings
    assert (first.formula, first.substituted, first.text) == (
        "hip girth ÷ 2 + 4 cm",
        "11 1/2 in ÷ 2 + 1 9/16 in",
        "7 5/16 in",
    )
    assert (second.substituted, second.text) == ("smaller of 3 9/16 in and 7 5/16 in", "3 9/16 in")


def test_a_table_by_a_word_shows_the_word_in_its_working():
    made = draft("share = by flare: full 1, half 1/2, quarter 1/4", person(**BODY), FLARE)
    assert made.findings == ()
    assert made.steps[0].workings[0].substituted == "flare is full"


def test_workings_of_either_put_in_the_one_that_was_taken():
    lines = "a = either calf_girth or bust_girth\nb = (either calf_girth or bust_girth) / 4\n"
    lines += "c = line from start right and 20 degrees down a / 8"
    first, second, third = draft(lines, person(**BODY)).steps[0].workings
    assert (first.formula, first.substituted) == ("either calf girth or bust girth", "96 cm")
    assert (second.substituted, second.text) == ("96 cm ÷ 4", "24 cm")
    assert (third.substituted, third.text) == (
        "line from start right and 20 degrees down 96 cm ÷ 8",
        "12 cm long",
    )
