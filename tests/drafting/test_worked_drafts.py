"""Drafts published in books, written as styles: the numbers that the books print come out.

Stated figures are exact but for those that a book takes from a table of parts, which is rounded to 1/8 in
(Vincent, *Systems*), so that it agrees with arithmetic within 1/16 in.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from catalogue.drafting.model import Draft
from catalogue.lengths import Unit
from catalogue.people import Client
from catalogue.studio.reading import read_style
from tests.drafting.people_and_styles import INCH, draft, person, with_choices

WORKED = Path(__file__).parent / "worked"
ROUNDED = 1 / 16


def drafted(slug: str, client: Client) -> Draft:
    style = read_style(WORKED / f"{slug}.md", WORKED)
    assert [str(f) for f in style.findings] == []
    made = draft(style, client)
    assert [str(f) for f in made.findings] == []
    return made


def assert_plainly_written(slug: str) -> None:
    """Brackets stand round sums only, where arithmetic needs them; none for the language's sake."""
    text = (WORKED / f"{slug}.md").read_text(encoding="utf-8")
    blocks = "\n".join(re.findall(r"```draft\n(.*?)```", text, re.S))
    assert "check" in blocks
    for inside in re.findall(r"\(([^()]*)\)", blocks):
        assert re.search(r" [-+] ", inside), inside


def inches(made: Draft, name: str) -> tuple[float, float]:
    point = made.points[name]
    return point.x / INCH, point.y / INCH


def in_inches(made: Draft, name: str) -> float:
    return made.values[name].value / INCH


# --- I. Rosenfeld, The Practical Designer for Women's and Misses' Underwear, New York 1918 ------------------


def size(chest: str) -> Client:
    return person(Unit.IN, chest_girth=chest, scye_depth="7", back_waist_length="15 1/2", shoulder_length="6")


def test_foundation_back_of_size_36():
    made = drafted("foundation-back", size("36"))
    stated = {
        "B": (0, 7),
        "C": (0, 15.5),
        "D": (12, 0),
        "E": (12, 7),
        "F": (12, 15.5),
        "G": (6, 7),
        "H": (7.5, 7),
        "I": (7.5, 0),
        "J": (3, 0),
        "K": (3, -1),
    }
    for name, at in stated.items():
        assert inches(made, name) == pytest.approx(at, abs=1e-9), name
    # The shoulder is laid off as stated, 6 in; where it ends and how it slopes is our arithmetic.
    assert made.paths["shoulder"].length / INCH == pytest.approx(6)
    assert inches(made, "L") == pytest.approx((8.857, 0.302), abs=5e-4)
    assert made.values["slope"].value == pytest.approx(12.53, abs=5e-3)


def test_foundation_back_agrees_with_the_square_of_the_earlier_book():
    # I. Rosenfeld, The Practical Designer ... cloaks & suits, p. 261: offset 1 1/4 in; both give the shoulder of 6 in.
    assert in_inches(drafted("foundation-back", size("36")), "squared_shoulder") == pytest.approx(
        6, abs=1 / 8 + 0.01
    )
    client = with_choices(size("36"), "foundation-back", out_from_the_middle="1 1/4 in")
    made = drafted("foundation-back", client)
    assert in_inches(made, "squared_shoulder") == pytest.approx(6, abs=ROUNDED)
    assert inches(made, "M") == pytest.approx((8.811, 0.367), abs=5e-4)


@pytest.mark.parametrize(
    ("chest", "shoulder"),
    [("32", 5.774), ("34", 5.869), ("36", 5.969), ("38", 6.074), ("40", 6.183), ("44", 6.412)],
)
def test_squared_shoulder_grows_with_the_size(chest, shoulder):
    # Our arithmetic from the book's rule.
    client = with_choices(size(chest), "foundation-back", out_from_the_middle="1 1/4 in")
    assert in_inches(drafted("foundation-back", client), "squared_shoulder") == pytest.approx(
        shoulder, abs=5e-4
    )


# --- Carrie Crane Ingalls, Text-Book on Domestic Art, "Sleeve Draft" ----------------------------------------

ARM = person(Unit.IN, armscye_girth="16", elbow_girth="11", wrist_girth="7", upper_arm_length="13")


def test_one_piece_sleeve():
    made = drafted("one-piece-sleeve", ARM)
    assert made.ok
    assert in_inches(made, "biceps_line") == pytest.approx(16 + 1)
    assert inches(made, "p1") == pytest.approx((0, 1))
    assert inches(made, "p5")[0] == pytest.approx(8.5)
    assert inches(made, "p6")[0] == pytest.approx(11 / 2 + 0.5)
    assert inches(made, "p7")[0] == pytest.approx(7 / 2 + 0.5)
    assert inches(made, "p8")[0] == pytest.approx(5 + 1 / 3)
    assert inches(made, "p9") == pytest.approx((8.5 / 2, inches(made, "p5")[1] / 2))
    assert made.pieces["sleeve"].edge("cap").path.length > 8.5 * INCH


def test_one_piece_sleeve_narrower_than_the_armhole_is_refused():
    made = drafted("one-piece-sleeve", with_choices(ARM, "one-piece-sleeve", room="-1/4 in"))
    assert not made.ok
    assert [(c.text, c.detail) for c in made.checks if not c.ok] == [
        ("The sleeve is at least as wide as the armhole measures", "15 1/2 in; expected at least 16 in")
    ]


# --- Carrie Crane Ingalls, Text-Book on Domestic Art, "Five-Gored Underskirt Draft" -------------------------


@pytest.mark.parametrize(
    ("waist", "widths", "slanted", "hips"),
    [
        # Widths and lengths at the waist as the rules give them; the tops and hips are our arithmetic from them.
        ("24", (3, 4, 5), (3.0104, 4.0311, 5.0559), (4.010, 6.047)),
        ("25", (3.125, 4.1667, 5.2083), None, (4.135, 6.295)),
    ],
)
def test_five_gored_skirt(waist, widths, slanted, hips):
    made = drafted("five-gored-skirt", person(Unit.IN, waist_girth=waist))
    assert made.ok
    got = [in_inches(made, n) for n in ("front_width", "side_width", "back_width_at_waist")]
    assert got == pytest.approx(widths, abs=5e-5)
    assert sum(got) == pytest.approx(float(waist) / 2)
    if slanted:
        tops = [made.paths[n].length / INCH for n in ("front_waist", "side_waist", "back_waist")]
        assert tops == pytest.approx(slanted, abs=5e-5)
    assert [in_inches(made, n) for n in ("front_hip_width", "side_hip_width")] == pytest.approx(
        hips, abs=6e-4
    )


# --- WikiEducator, Handout for drafting skirt block ---------------------------------------------------------


def test_skirt_block():
    made = drafted(
        "skirt-block", person(waist_girth="68", hip_girth="94", waist_to_hip="20", waist_to_knee="60")
    )
    assert made.ok
    at = {name: (p.x / 10, p.y / 10) for name, p in made.points.items()}
    assert at["p2"][0] == pytest.approx(49.5)  # hips/2 + 2.5
    assert at["p6"][0] == pytest.approx(25.5)
    assert at["p2"][0] - at["p6"][0] == pytest.approx(24.0)
    assert at["p7"][0] == pytest.approx(20.2)
    assert at["p2"][0] - at["p10"][0] == pytest.approx(19.0)
    assert at["p9"][0] == pytest.approx(20.2 / 2 + 1)
    assert at["p2"][0] - at["p12"][0] == pytest.approx(19.0 / 2 + 1)
    assert at["p6"][0] - at["p7"][0] == pytest.approx(5.3)  # side shaping of the back
    assert at["p10"][0] - at["p6"][0] == pytest.approx(5.0)  # and of the front
    finished = {f.name: f.garment / 10 for f in made.finished}
    # The rule counts level from the centre; along the waist edge that rises 1 cm it is a hair longer.
    assert finished["waist girth"] == pytest.approx(68 + 2.4, abs=0.15)
    assert finished["hip girth"] == pytest.approx(94 + 5)
    darts = {p.name: p.darts[0] for p in made.pieces.values()}
    for name, long in (("back", 120), ("front", 100)):
        assert darts[name].intake == pytest.approx(20, abs=0.05)
        middle = darts[name].legs[0].mix(darts[name].legs[1], 0.5)
        assert middle.distance(darts[name].apex) == pytest.approx(long, abs=0.05)


# --- W. D. F. Vincent, Vincent's Systems of Cutting All Kinds of Tailor-Made Garments, p. 152 ---------------


def test_motor_overcoat_points_are_named_by_their_distances():
    made = drafted(
        "motor-overcoat", person(Unit.IN, "man", chest_girth="36", back_waist_length="17", back_width="14")
    )
    down = {"p3": 3, "p9": 9, "p17_5": 17.5, "p26": 26, "p50": 50}
    for name, distance in down.items():
        assert inches(made, name) == pytest.approx((0, distance)), name
    assert inches(made, "neck3") == pytest.approx((3, 0))
    assert inches(made, "p8") == pytest.approx((8, 3))
    assert inches(made, "p24") == pytest.approx((24, 9))
    assert inches(made, "p15_5") == pytest.approx((15.5, 9))
    assert in_inches(made, "to_f") == pytest.approx(9.5)
    assert inches(made, "F") == pytest.approx((15.5, 9 - 9.5))
    assert inches(made, "V")[0] - inches(made, "F")[0] == pytest.approx(3)
    assert inches(made, "I")[0] - inches(made, "V")[0] == pytest.approx(3)
    assert [inches(made, n)[0] - 24 for n in ("p6", "p4", "p8_hem")] == pytest.approx([6, 4, 8])


def test_measures_by_proportion_agree_with_the_sample_list():
    # The same book's list of measures for breast 36: 9, 17, 8, 12, 17. Its rule for the front shoulder gives
    # 12 1/2, half an inch off its own list, so that one is taken from the list.
    made = drafted(
        "motor-overcoat", person(Unit.IN, "man", chest_girth="36", back_waist_length="17", back_width="14")
    )
    got = [in_inches(made, n) for n in ("depth_of_scye", "across_chest", "over_shoulder")]
    assert got == pytest.approx([9, 8, 17])
    assert in_inches(made, "over_d") == pytest.approx(17.5)
