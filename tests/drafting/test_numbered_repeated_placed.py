"""Points by number, lines repeated with a number in the names, and conditions about places."""

from __future__ import annotations

import math

import pytest

from catalogue.language.wording import in_words
from tests.drafting.people_and_styles import draft, person, style_of

CLIENT = person(bust_girth="92", waist_girth="72")


def made(block: str):
    drafted = draft(style_of(block), CLIENT)
    assert [str(f) for f in drafted.findings] == []
    return drafted


def test_points_keep_the_numbers_of_a_printed_draft():
    drafted = made(
        "point 0 = start\npoint 15 = 3 in down from point 0\npoint 17 1/2 = midway point 0 to point 15\n"
        "point 9.5 = 2 cm right from point 15"
    )
    assert drafted.points["point_15"].y == pytest.approx(76.2)
    assert drafted.points["point_17_1_2"].y == pytest.approx(38.1)
    assert [in_words(name) for name in drafted.points] == ["0", "15", "17 1/2", "9.5"]
    workings = {w.name: w for step in drafted.steps for w in step.workings}
    assert workings["15"].formula == "3 in down from 0"


def test_a_numbered_point_stands_in_outlines_and_on_pieces():
    drafted = made(
        "point 1 = start\npoint 2 = 8 cm right from point 1\npoint 3 = 8 cm down from point 1\n"
        "piece front, cut 1\n"
        "  outline neck: point 1 to point 2\n"
        "          side: point 2 to point 3\n"
        "          centre: point 3 to point 1\n"
        "\nlow = 1 cm down from front.point 3"
    )
    assert drafted.pieces["front"].edge("side").path.length == pytest.approx(80 * math.sqrt(2))
    assert drafted.points["low"].y == pytest.approx(90)


def test_lines_are_repeated_with_the_number_in_their_names():
    drafted = made(
        "gore_0 = start\nrepeat for gore 1 to 4\n  gore_{gore} = gore * 1 cm right from gore_{gore-1}\n"
        "  when gore is at least 3\n    width_{gore} = gore * 2 cm"
    )
    assert [drafted.points[f"gore_{n}"].x for n in range(1, 5)] == pytest.approx([10, 30, 60, 100])
    assert {n: v.value for n, v in drafted.values.items()} == {"width_3": 60, "width_4": 80}
    texts = {w.name: w.formula for step in drafted.steps for w in step.workings}
    assert texts["gore 4"] == "4 × 1 cm right from gore 3"


def test_pieces_are_repeated_with_the_number_in_their_titles():
    drafted = made(
        'repeat for gore 1 to 2\n  new paper "Gore {gore}"\n  top_{gore} = start\n'
        "  low_{gore} = 9 cm down from top_{gore}\n  side_{gore} = gore * 4 cm right from top_{gore}\n"
        '  piece gore_{gore} "Gore {gore}", cut 2\n'
        "    outline waist: top_{gore} to side_{gore}\n"
        "            side: side_{gore} to low_{gore}\n"
        "            centre: low_{gore} to top_{gore}\n"
    )
    assert {p.name: p.title for p in drafted.pieces.values()} == {"gore_1": "Gore 1", "gore_2": "Gore 2"}
    assert drafted.pieces["gore_2"].edge("waist").path.length == pytest.approx(80)


def test_how_often_may_be_a_formula():
    drafted = made(
        "count = 2 + 1\nrepeat for button 1 to count\n  at_{button} = button * 8 cm down from start"
    )
    assert list(drafted.points) == ["at_1", "at_2", "at_3"]


def test_an_angle_leans_the_move_before_it():
    drafted = made("d = 4.5 cm up and 45 degrees left from start\ne = 2 cm up and 1 cm right from start")
    assert tuple(drafted.points["d"]) == pytest.approx((-45 / math.sqrt(2), -45 / math.sqrt(2)))
    assert tuple(drafted.points["e"]) == pytest.approx((10, -20))


PLACES = """
low = 4 cm down and 9 cm right from start
far = 9 cm right from start
hem = line from (6 cm down from start) right 20 cm
"""


@pytest.mark.parametrize(
    ("condition", "holds"),
    [
        ("start level with far", True),
        ("start is level with low", False),
        ("start level with low within 4.1 cm", True),
        ("low in line with far", True),
        ("low in line with start", False),
        ("start above low", True),
        ("low above start", False),
        ("start above far", False),
        ("start left of far", True),
        ("far is right of low", False),
        ("low below far by 4 cm", True),
        ("low below far by 3 cm", False),
        ("low below far by 3.9 cm within 1 mm", True),
        ("low above hem by 2 cm", True),
        ("low below hem", False),
        ("low below line start to far", True),
        ("6 cm down from far is on hem", True),
        ("low is on hem", False),
        ("start level with far and low below far", True),
        ("low = 4 cm down from far", True),
        ("midway start to far = 4.5 cm right from start", True),
        ("low = far within 4.1 cm", True),
        ("low = far", False),
        ("hem_low level with hem", True),
    ],
)
def test_conditions_about_places(condition, holds):
    block = f"{PLACES}\nhem_low = 3 cm right and 6 cm down from start\ncheck {condition}"
    (check,) = made_with_checks(block).checks
    assert check.ok is holds


def made_with_checks(block: str):
    drafted = draft(style_of(block), CLIENT)
    assert [str(f) for f in drafted.findings if f.code != "check-failed"] == []
    return drafted


def test_a_place_that_is_missed_says_by_how_much():
    (check,) = made_with_checks(PLACES + "check low above far by 1 cm").checks
    assert (check.text, check.detail) == ("Low above far by 1 cm", "4 cm below; expected 1 cm")
    (check,) = made_with_checks(PLACES + "check start level with low").checks
    assert check.detail == "4 cm off"


def test_a_phrase_that_only_brackets_can_tell_apart_is_shown_with_them():
    block = "depth = 3 cm\nb = 4 cm right from start\na = distance start to depth down from b"
    (finding,) = draft(style_of(block), CLIENT).findings
    assert finding.hint == "Did you mean: a = distance start to (depth down from b)"


@pytest.mark.parametrize(
    ("line", "at"),
    [
        ("a = 2/5 of start to far", (36, 0)),
        ("a = 40% of start to far", (36, 0)),
        ("a = a third of the way from start to far", (30, 0)),
        ("a = two thirds of the way from start to far", (60, 0)),
        ("a = three quarters of the way from far to start", (22.5, 0)),
        ("a = midway start to far moved 1 cm up", (45, -10)),
        ("a = 2 cm up from midway start to far", (45, -20)),
        ("a = where line start to low crosses line far to hem_left", (90 * 60 / 100, 40 * 60 / 100)),
        ("a = 1/5 of far right from start", None),
    ],
)
def test_points_said_as_a_drafter_says_them(line, at):
    block = f"{PLACES}\nhem_left = 6 cm down from start\n{line}"
    if at is None:
        (finding,) = draft(style_of(block), CLIENT).findings
        assert finding.code == "wrong-kind"
        return
    assert tuple(made(block).points["a"]) == pytest.approx(at)


@pytest.mark.parametrize(
    ("line", "mm"),
    [
        ("a = 2/5 of bust_girth", 368),
        ("a = 15% of bust_girth + 1 cm", 148),
        ("a = half of half of bust_girth", 230),
        ("a = a quarter of half the bust_girth", 115),
        ("a = half of distance start to midway start to far", 22.5),
        ("a = length of connect start to far", 90),
    ],
)
def test_figures_said_as_a_drafter_says_them(line, mm):
    assert made(f"{PLACES}\n{line}").values["a"].value == pytest.approx(mm)
