"""Measurements in a style by the names people use, beside the names that the style gives itself."""

import pytest

from catalogue.drafting import draft_style
from catalogue.findings import Place
from catalogue.people import Client, Measured
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style

HEAD = "---\ntitle: A band\nfor: women\n---\n\n"
FIGURES = {"waist_girth": 720.0, "hip_girth": 960.0, "bust_point_width": 180.0, "back_waist_length": 400.0}


def style(lines: str, prose: str = "", head: str = HEAD) -> Style:
    return style_from(
        f"{head}# Drafting\n\n{prose}\n\n```draft\n{lines}\n```\n".encode(), "band", "styles/band.md"
    )


def client(**figures: float) -> Client:
    measured = {key: Measured(mm, "", None, Place("c.md")) for key, mm in (FIGURES | figures).items()}
    return Client("c", "c.md", "C", measurements=measured)


def drafted(made: Style, **figures: float):
    return draft_style(made, client(**figures), Settings())


@pytest.mark.parametrize(
    ("written", "key"),
    [
        ("waist_circumference", "waist_girth"),
        ("hip_circumference", "hip_girth"),
        ("bust_span", "bust_point_width"),
        ("nape_to_waist", "back_waist_length"),
        ("center_back_length", "back_waist_length"),
        ("waist_measurement", "waist_girth"),
        ("waist", "waist_girth"),
        ("waist_girth", "waist_girth"),
    ],
)
def test_a_formula_takes_a_measurement_by_any_of_its_names(written: str, key: str) -> None:
    made = style(f"part = {written} / 4", f"A quarter is {{{written} / 4}}.")
    draft = drafted(made)
    assert draft.findings == () and made.needs == (key,)
    assert draft.values["part"].value == FIGURES[key] / 4
    assert draft.rendered[0] == draft.steps[0].workings[0].text
    # The page shows the name as the style's author wrote it.
    assert draft.steps[0].workings[0].formula == f"{written.replace('_', ' ')} ÷ 4"


def test_a_client_without_the_measurement_waits_for_it_by_its_standard_name() -> None:
    made = style("part = waist_circumference / 4")
    assert draft_style(made, Client("c", "c.md", "C"), Settings()).missing == ("waist_girth",)


def test_choices_and_either_take_everyday_names_too() -> None:
    head = HEAD.replace("for:", "choices:\n  length: hip_circumference / 2 (10 cm to 90 cm)\nfor:")
    made = style("part = either bust or hips", head=head)
    assert made.needs == ("hip_girth",)  # needed by the choice, so the other is no longer asked for
    assert drafted(made).values["part"].value == 960.0
    made = style("part = either bust or hips")
    assert made.needs == () and made.alternatives == (("bust_girth", "hip_girth"),)
    assert drafted(made).values["part"].value == 960.0
    assert drafted(made, bust_girth=900.0).values["part"].value == 900.0


def test_the_name_that_a_style_gives_is_its_own_anywhere_in_the_file() -> None:
    made = style("waist = 10 cm\nhips = 2 * waist\npart = hips + waist")
    draft = drafted(made)
    assert draft.findings == () and made.needs == () and made.everyday == {}
    assert draft.values["part"].value == 300.0
    made = style("part = waist / 2\nwaist = 10 cm")
    assert [f.code for f in drafted(made).findings] == ["unknown-name"]


def test_an_edge_of_a_piece_is_no_name_of_the_style() -> None:
    made = style(
        "a = start\nb = waist / 4 right from a\nc = 10 cm down from b\n\n"
        'piece band "Band", cut 1\n  outline waist: a to b\n          side: b to c\n          hem: c to a'
    )
    draft = drafted(made)
    assert draft.findings == () and made.needs == ("waist_girth",)
    assert draft.points["b"].x == 180.0


def test_a_standard_name_can_not_be_given() -> None:
    made = style("waist_girth = 10 cm")
    assert [(f.code, f.place.line) for f in made.findings if f.place] == [("name-taken", 11)]


def test_a_name_that_means_several_is_told_with_them() -> None:
    finding = drafted(style("part = front_length / 2")).findings[0]
    assert finding.code == "ambiguous-measurement"
    assert finding.message == "“front_length” means one measurement to some and another to others."
    assert (
        finding.hint
        == "Write front_waist_length or front_neck_to_waist, or give the name on an earlier line."
    )
    assert finding.place == Place("styles/band.md", 11, 8)


@pytest.mark.parametrize(
    ("written", "hint"),
    [
        ("hip_circumferance", "Did you mean “hip_girth”?"),
        ("wiast_girth", "Did you mean “waist_girth”?"),
        ("crotch_dept", "Did you mean “body_rise”?"),
        ("hip_eas", "Did you mean “hip_ease”?"),
        ("zzzz", "Names are given on an earlier line, or are body measurements."),
    ],
)
def test_a_wrong_name_is_answered_by_what_is_likely(written: str, hint: str) -> None:
    finding = drafted(style(f"hip_ease = 5 cm\npart = {written} / 4")).findings[0]
    assert (finding.code, finding.hint) == ("unknown-name", hint)


def test_a_finished_measurement_is_compared_with_the_body_by_an_everyday_name() -> None:
    draft = drafted(style("finished waist circumference = waist + 2 cm, ease at least 1 cm"))
    assert draft.findings == ()
    assert [(f.name, f.body, f.ok) for f in draft.finished] == [("waist circumference", 720.0, True)]
    # Without ease asked for, a name that is a garment's too is compared with nothing.
    assert drafted(style("finished waist = 74 cm")).finished[0].body is None
