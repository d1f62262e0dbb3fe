"""Blocks, a blouse, a jacket and a sleeve as published, written as styles without a detour.

Every stated figure comes out exactly; what is our arithmetic from a draft's rules is marked so.
"""

from __future__ import annotations

import pytest

from catalogue.lengths import Unit
from tests.drafting.people_and_styles import person, with_choices
from tests.drafting.test_worked_drafts import assert_plainly_written, drafted, in_inches, inches

CM = 10.0


# --- artvani-vani.blogspot.com, "bodice block" ---------------------------------------------------------------


def test_dress_block():
    # The figures are our arithmetic from the page's rules, for chest 36, seat 38, shoulder 14 1/2.
    client = person(
        Unit.IN, chest_girth="36", hip_girth="38", shoulder_width="14 1/2", back_waist_length="15 1/2"
    )
    made = drafted("dress-block", client)
    assert made.ok
    assert inches(made, "D") == pytest.approx((0, 7))
    assert inches(made, "G") == pytest.approx((0, 16))
    assert inches(made, "B") == pytest.approx((10.5, 0))
    assert inches(made, "C") == pytest.approx((7.5, 0)) and inches(made, "shoulder_end")[1] == pytest.approx(
        1
    )
    assert inches(made, "neck_point") == pytest.approx((3.25, 0))
    assert inches(made, "front_neck") == pytest.approx((0, 4.5))
    assert inches(made, "waist_side") == pytest.approx((9.75, 16))
    assert inches(made, "hem_side")[0] == pytest.approx(11)
    finished = {f.name: f.garment / 25.4 for f in made.finished}
    assert finished["chest girth"] == pytest.approx(42, abs=0.005)
    assert finished["hip girth"] == pytest.approx(44, abs=0.005)


# --- moonlightpatterns.com, "Drafting children's bodice block", 18 to 24 months ------------------------------


def test_toddlers_block():
    # Scye depth 12.4 and back length 23 are stated; the whole back and the neck are our arithmetic from the
    # stated 10.9 and 4.9, and so is the chest from the stated ease of 6.
    client = person(
        Unit.CM,
        "girl",
        scye_depth="12.4",
        back_waist_length="23",
        back_width="19.8",
        neck_base_girth="26.4",
        chest_girth="52.8",
    )
    made = drafted("toddler-block", client)
    assert made.ok
    stated = {"across_back": 10.9, "across_scye": 7.6, "across_front": 10.9, "neck_width": 4.9}
    assert {n: made.values[n].value / CM for n in stated} == pytest.approx(stated)
    at = {name: (p.x / CM, p.y / CM) for name, p in made.points.items()}
    assert at["scye_level"] == pytest.approx((0, 12.4)) and at["cb_waist"] == pytest.approx((0, 23))
    assert at["cf_waist"] == pytest.approx((29.4, 24))  # the half width is our arithmetic; the front 1 longer
    assert at["underarm"][0] == pytest.approx(10.9 + 7.6 / 2)
    assert at["back_neck_point"] == pytest.approx((4.9, -1.5))
    (chest,) = made.finished
    assert chest.garment / CM == pytest.approx(52.8 + 6, abs=0.005)


# --- W. D. F. Vincent, The Cutter's Practical Guide, Part 1, 1898, djvu page 57 ------------------------------


def test_boys_blouse_points_are_named_by_their_distances():
    made = drafted("boys-blouse", person(Unit.IN, "boy", chest_girth="36", neck_base_girth="15"))
    assert made.ok
    printed = {"9": 9, "11_1_4": 11.25, "13_1_2": 13.5, "22_1_2": 22.5, "20": 20}
    for number, distance in printed.items():
        assert inches(made, f"point_{number}") == pytest.approx((distance, 0)), number
    assert in_inches(made, "step") == pytest.approx(2.25)
    assert inches(made, "point_22_1_2")[0] == pytest.approx(36 / 2 + 4.5)  # our arithmetic


# --- W. D. F. Vincent, The Cutter's Practical Guide, Part 1, 1898, djvu pages 16 and 17 ----------------------


def test_lounge_jacket():
    client = person(
        Unit.IN,
        "boy",
        chest_girth="36",
        waist_girth="32",
        hip_girth="38",
        neck_base_girth="15",
        back_waist_length="17",
        back_width="14",
    )
    made = drafted("lounge-jacket", client)
    assert made.ok
    printed = {"3_1_2": 3.5, "9": 9, "17": 17, "29": 29}
    for number, distance in printed.items():
        assert inches(made, f"point_{number}") == pytest.approx((0, distance)), number
    assert inches(made, "back_neck") == pytest.approx((2.5, 0))
    assert in_inches(made, "flap_length") == pytest.approx(
        6
    )  # this and the level of the pocket: our arithmetic
    assert inches(made, "pocket")[1] - 9 == pytest.approx(12)

    def far(a: str, b: str) -> float:
        return made.points[a].distance(made.points[b]) / 25.4

    assert far("breast_line", "button_edge") == pytest.approx(1.25)
    # The page has a sixth of the neck or a twelfth of the breast; the neck is taken here.
    assert far("neck_point", "gorge") == pytest.approx(15 / 6)
    # In the page's ranges of 1 to 1 1/2, 1/2 to 1 and 1 3/4 to 2.
    assert 9 - inches(made, "side_top")[1] == pytest.approx(1.25)
    assert far("dart_left", "dart_right") == pytest.approx(0.75)
    assert far("pocket", "flap_low") == pytest.approx(2)
    assert inches(made, "front_waist") == pytest.approx((32 / 2 + 2, 17))  # our arithmetic for a waist of 32
    assert far("fore_hem", "back_hem") == pytest.approx((38 - 36) / 2)  # and for a seat of 38


# --- W. D. F. Vincent, The Cutter's Practical Guide, Part 13, djvu pages 57, 65 and 17 -----------------------

COAT = person(Unit.IN, "man", chest_girth="36", back_width="14", inside_arm_length="17")


def test_two_piece_sleeve_from_the_armhole():
    made = drafted("coat-sleeve", COAT)
    assert made.ok
    assert inches(made, "point_1") == pytest.approx((0, 1))

    def far(a: str, b: str) -> float:
        return made.points[a].distance(made.points[b]) / 25.4

    assert far("elbow_in", "elbow_out") == pytest.approx(8)
    assert far("elbow_level", "elbow_in") == pytest.approx(1)
    assert inches(made, "scye_line")[1] - inches(made, "pitch_of_front")[1] == pytest.approx(0.75)
    assert in_inches(made, "upper_scye") == pytest.approx(far("point_1", "front_pitch"))
    assert inches(made, "head_top") == pytest.approx((in_inches(made, "upper_scye") / 2, 0))
    # Upper and lower scye are the scye, here measured as it is drawn, from shoulder to shoulder.
    scye = (made.paths["back_scye"].length + made.paths["front_scye"].length) / 25.4
    heads = far("point_1", "front_pitch") + far("under_start", "front_pitch")
    assert heads == pytest.approx(scye, abs=1e-6)
    assert far("under_start", "elbow_out") == pytest.approx(far("point_1", "elbow_out"))
    # The forearms are one line, and of the hindarms neither is strained.
    assert all(seam.ok for seam in made.seams)


def test_two_piece_sleeve_of_a_tunic():
    client = with_choices(COAT, "coat-sleeve", start_below_the_corner="1 1/4 in", round="3/4 in")
    made = drafted("coat-sleeve", client)
    assert inches(made, "point_1") == pytest.approx((0, 1.25))
    assert inches(made, "head_top")[1] == pytest.approx(-0.75)
    plain = drafted("coat-sleeve", COAT)
    assert made.paths["head"].length - plain.paths["head"].length > 0.75 * 25.4 / 2


# --- what all of them have in common -------------------------------------------------------------------------

WITHOUT_DETOUR = ("dress-block", "toddler-block", "boys-blouse", "lounge-jacket", "coat-sleeve")


@pytest.mark.parametrize("slug", WITHOUT_DETOUR)
def test_no_phrase_is_in_brackets_for_the_language_s_sake(slug):
    assert_plainly_written(slug)
