"""What is said of mistakes: each wrong line of mistakes.txt gives one finding, at its place and in its words."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.drafting.people_and_styles import FIRST_LINE, draft, person, with_choices

BODY = {"bust_girth": "96", "waist_girth": "77", "hip_girth": "102", "back_waist_length": "40"}


def table() -> list[tuple[str, str, str, str, str]]:
    """Label, lines, place, code and words of each mistake in the table."""
    text = (Path(__file__).parent / "mistakes.txt").read_text(encoding="utf-8")
    rows = []
    for entry in text.split("\n== ")[1:]:
        label, _, rest = entry.partition("\n")
        lines, _, said = rest.partition("\n-> ")
        where, _, words = said.partition("\n")
        place, _, code = where.partition(" ")
        rows.append((label, lines, place, code, words.strip()))
    return rows


MISTAKES = table()


def test_the_table_is_read_whole():
    assert len(MISTAKES) > 55
    assert len({m[0] for m in MISTAKES}) == len(MISTAKES)


@pytest.mark.parametrize(
    ("lines", "place", "code", "words"),
    [m[1:] for m in MISTAKES],
    ids=[m[0].replace(" ", "-") for m in MISTAKES],
)
def test_mistake_is_told_once_and_where_it_stands(lines, place, code, words):
    made = draft(lines, person(**BODY))
    assert [f.code for f in made.findings] == [code], [str(f) for f in made.findings]
    finding = made.findings[0]
    assert finding.place is not None
    assert f"{finding.place.line - FIRST_LINE + 1}:{finding.place.column}" == place, str(finding)
    assert words in finding.message
    assert finding.is_error
    assert not made.ok


NEARLY = [
    ("a = bust_girht / 4", "bust_girth"),
    ("shoulder_line = line start to (1 cm down from start)\nb = length of sholder_line", "shoulder_line"),
    (
        "b = 9 cm down from start\nc = 9 cm right from b\npiece bodice, cut 1\n  outline one: start to b\n"
        "    two: b to c\n    three: c to start\nnotch bodise.one at b",
        "bodice",
    ),
]


@pytest.mark.parametrize(("lines", "name"), NEARLY, ids=[n for _, n in NEARLY])
def test_nearest_known_name_is_offered(lines, name):
    made = draft(lines, person(**BODY))
    assert f"“{name}”" in made.findings[0].hint


def test_what_hangs_on_a_failed_line_is_not_told_again():
    made = draft(
        "a = 2 + bust_girth\nb = a / 2\nc = b down from start\nd = line start to c\n"
        "piece front, cut 1\n  outline one: start to c\n    two: c to start\nnotch front.one at c\n"
        "sew front.one to front.two\nallow 1 cm, two 2 cm\ncheck a is more than 1 cm\n"
        "finished bust girth = 2 * b\nfine = 3 cm",
        person(**BODY),
    )
    assert [f.code for f in made.findings] == ["units-differ"]
    assert made.values["fine"].value == 30


def test_every_mistake_of_a_file_is_told_in_one_go():
    made = draft("a = 1 + 1 cm\nb = nothing\nc = start + 1\nd = 1 cm", person(**BODY))
    assert [f.place.line - FIRST_LINE + 1 for f in made.findings] == [1, 2, 3]
    assert made.values["d"].value == 10


def test_missing_measurement_is_named_and_nothing_is_drafted():
    made = draft("a = 2 cm\nb = bust_girth / 4\nc = neck_base_girth / 6", person(bust_girth="96"))
    assert made.missing == ("neck_base_girth",)
    assert not made.ok
    assert not made.steps
    assert not made.values


def test_measurement_of_a_finished_figure_counts_as_needed():
    made = draft("finished hip girth = 100 cm, ease at least 2 cm", person(waist_girth="70"))
    assert made.missing == ("hip_girth",)


# --- choices ------------------------------------------------------------------------------------------------

FRONT = (
    "choices:\n  flare: full (full, half)\n  hip ease: 5 cm (3 cm to 8 cm)\n"
    "  hem: waist_girth / 2 (40 cm to 60 cm)\n"
)
LINES = "a = by flare: full 1, half 2\nb = hip_ease\nc = hem"


@pytest.mark.parametrize(
    ("choices", "a", "b", "c"),
    [
        ({}, 1, 50, 400),  # half of 77 cm is below the range of the hem, so its lower end is taken
        ({"flare": "half"}, 2, 50, 400),
        ({"hip_ease": "8 cm"}, 1, 80, 400),
        ({"hip_ease": "3"}, 1, 30, 400),
        ({"hip_ease": "1 1/2 in"}, 1, 38.1, 400),
        ({"hem": "55 cm"}, 1, 50, 550),
    ],
)
def test_choices_within_their_range_are_taken(choices, a, b, c):
    made = draft(LINES, with_choices(person(**BODY), "sample", **choices), FRONT)
    assert made.findings == ()
    assert [made.values[n].value for n in "abc"] == pytest.approx([a, b, c])


@pytest.mark.parametrize(
    ("choices", "code", "words"),
    [
        ({"flare": "quarter"}, "unknown-word", "not one of the words of “flare”: full, half"),
        ({"hip_ease": "9 cm"}, "out-of-range", "9 cm is outside the range of “hip ease”: 3 cm to 8 cm"),
        ({"hip_ease": "2.9 cm"}, "out-of-range", "outside the range"),
        ({"hip_ease": "much"}, "not-a-length", "hip ease"),
        ({"hip_ease": "1 1/3 in"}, "not-a-length", "no tape measure has thirds of an inch"),
        ({"hipease": "5 cm"}, "unknown-choice", "has no choice “hipease”"),
    ],
)
def test_choices_that_cannot_be_taken_fall_back_to_the_default(choices, code, words):
    made = draft(LINES, with_choices(person(**BODY), "sample", **choices), FRONT)
    assert [f.code for f in made.findings] == [code]
    assert words in made.findings[0].message
    assert str(made.findings[0].place).startswith("clients/made-up.md")
    assert [made.values[n].value for n in "abc"] == pytest.approx([1, 50, 400])


@pytest.mark.parametrize(
    ("name", "hint"),
    [
        ("lenght", "Did you mean “skirt length”?"),
        ("skirt lenght", "Did you mean “skirt length”?"),
        ("vant", "Did you mean “vent”?"),
        ("vet lent", "Its choices: skirt length, vent."),
    ],
)
def test_a_choice_is_known_by_one_of_its_words(name, hint):
    front = "choices:\n  vent: yes (yes, no)\n  skirt length: 60 cm (40 cm to 80 cm)\n"
    made = draft("a = skirt_length", with_choices(person(**BODY), "sample", **{name: "65 cm"}), front)
    assert [f.hint for f in made.findings if f.code == "unknown-choice"] == [hint]


def test_a_dash_before_a_range_is_a_minus_and_after_it_begins_the_words():
    made = draft(
        "a = room\nb = hem", person(**BODY), "choices:\n  room: waist_girth / 7 - 1 cm (1 cm to 20 cm) - about it\n"
        "  hem: 4 cm - from the floor (or the knee)\n",
    )  # fmt: skip
    assert made.findings == ()
    assert made.values["a"].value == pytest.approx(100)
    assert made.values["b"].value == 40
    assert [c.about for c in made.style.choices] == ["about it", "from the floor (or the knee)"]


# --- bounds on work -----------------------------------------------------------------------------------------


def test_phrases_inside_one_another_without_end_are_refused():
    made = draft(f"a = {'-' * 300}1 cm", person(**BODY))
    assert [f.code for f in made.findings] == ["too-deep"]


def test_brackets_that_add_nothing_do_no_harm():
    made = draft(f"a = {'(' * 300}1 cm{')' * 300}", person(**BODY))
    assert made.findings == ()
    assert made.values["a"].value == 10


def test_a_choice_without_its_unit_is_named():
    (found,) = draft("room = 3\nquarter = bust_girth / 4 + room", person(**BODY)).findings
    assert found.hint == "“room” is a number. Was a unit forgotten where it is given?"


def test_an_edge_to_lay_the_grain_along_is_told_by_its_nearest_name():
    lines = """corner = 10 cm right from start
foot = 10 cm down from start
piece front, cut 1
  outline top: start to corner
          slant: corner to foot
          centre: foot to start
  grain along center"""
    (found,) = draft(lines, person(**BODY)).findings
    assert (found.code, found.hint) == ("unknown-name", "Did you mean “centre”?")
