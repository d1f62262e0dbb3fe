"""Published drafts that build on another draft, cut from it as from a block; the figures that the books print come out.

What is our arithmetic from a draft's rules is marked so.
"""

from __future__ import annotations

import pytest

from catalogue.drafting.model import Draft
from catalogue.lengths import Unit
from catalogue.people import Client
from catalogue.studio.joining import read_with_blocks
from tests.drafting.people_and_styles import INCH, draft, person, with_choices
from tests.drafting.test_worked_drafts import WORKED, in_inches, inches


def drafted(slug: str, client: Client) -> Draft:
    made = draft(read_with_blocks(WORKED / f"{slug}.md", WORKED), client)
    assert [str(f) for f in made.findings] == []
    assert made.ok
    return made


def edge(made: Draft, piece: str, name: str) -> float:
    return made.pieces[piece].edge(name).path.length / INCH


COAT = person(
    Unit.IN, "man", chest_girth="36", back_waist_length="17", back_width="14", inside_arm_length="17"
)


# --- W. D. F. Vincent, Systems of Cutting, p. 152 (the coat) and Diagram 314 (the cape on it) ----------------


def test_coat_pieces_from_the_frame_of_the_overcoat():
    made = drafted("motor-coat", COAT)
    assert [block.draft.style.slug for block in made.blocks] == ["motor-overcoat"]
    assert inches(made, "back_tip") == pytest.approx((8, 3))
    # "Over-shoulder + 1/2 less 9 to back shoulder" is what the forepart's shoulder is swept with: 17 + 1/2 - 10.
    assert in_inches(made, "over_front") == pytest.approx(7.5)
    assert made.points["front_tip"].distance(made.blocks[0].draft.points["p15_5"]) / INCH == pytest.approx(
        7.5
    )
    # The forepart's shoulder is slightly shorter than the back's.
    assert 0 < edge(made, "back", "shoulder") - edge(made, "forepart", "shoulder") < 0.5


@pytest.mark.parametrize(("length", "longer"), [("30 in", "2 1/2 in"), ("24 in", "2 in"), ("36 in", "3 in")])
def test_half_circle_cape_on_the_coat(length: str, longer: str):
    client = with_choices(COAT, "half-circle-cape", cape_length=length, side_longer_by=longer)
    made = drafted("half-circle-cape", client)
    assert [block.draft.style.slug for block in made.blocks] == ["motor-coat"]
    cape = made.pieces["cape"]
    centre, front = cape.edge("centre").path, cape.edge("front").path
    # The shoulder ends touch, and the centres are square to each other; the paper is checked by the style.
    assert (centre.end - centre.start).dot(front.end - front.start) == pytest.approx(0, abs=1e-6)
    long = float(length.split()[0])
    assert centre.length / INCH == pytest.approx(long)
    assert front.length / INCH == pytest.approx(long - 1.5)
    neck_point = made.blocks[0].draft.points["neck_point"]
    side = neck_point.distance(made.points["side_point"]) / INCH
    assert 2 - 1e-9 <= side - long <= 3 + 1e-9
    # Opened at the neck: with the shoulders closed there would be no opening.
    assert edge(made, "cape", "opening") > 1
    assert list(made.pieces) == ["cape"]


# --- W. D. F. Vincent, The Cutter's Practical Guide, Part 13, djvu pages 57, 65 and 17 -----------------------


def test_sleeve_from_the_scye_of_a_coat():
    made = drafted("coat-with-sleeve", COAT)
    assert [block.draft.style.slug for block in made.blocks] == ["motor-coat", "sleeve-from-scye"]
    sleeve = made.blocks[1].draft
    points = sleeve.points

    def far(a: str, b: str) -> float:
        return points[a].distance(points[b]) / INCH

    assert far("corner_top", "head_start") == pytest.approx(1)
    assert far("elbow_level", "elbow_in") == pytest.approx(1)
    assert far("elbow_in", "elbow_out") == pytest.approx(8)  # a sixth of 36 and 2
    assert 9 - inches(made, "pitch_of_front")[1] == pytest.approx(
        0.75
    )  # the front pitch lies above the scye line
    # The upper scye is the head of the top sleeve, the lower that of the under sleeve, and both are the scye of the
    # coat as it is drawn.
    assert far("head_start", "front_pitch") == pytest.approx(in_inches(made, "upper_scye"))
    assert far("under_start", "front_pitch") == pytest.approx(in_inches(made, "lower_scye"))
    scye = edge(made, "back", "scye") + edge(made, "forepart", "scye")
    assert in_inches(made, "upper_scye") + in_inches(made, "lower_scye") == pytest.approx(scye)
    assert far("corner_top", "head_top") == pytest.approx(in_inches(made, "upper_scye") / 2)


def test_the_sleeve_follows_the_scye_of_the_coat():
    deeper = with_choices(COAT, "motor-overcoat", depth_of_scye="10 in")
    before, after = drafted("coat-with-sleeve", COAT), drafted("coat-with-sleeve", deeper)
    longer = sum(edge(after, piece, "scye") - edge(before, piece, "scye") for piece in ("back", "forepart"))
    assert longer > 0.1
    heads = [
        made.pieces["top"].points["head_start"].distance(made.pieces["top"].points["front_pitch"])
        + made.pieces["under"].points["under_start"].distance(made.pieces["under"].points["front_pitch"])
        for made in (before, after)
    ]
    assert (heads[1] - heads[0]) / INCH == pytest.approx(longer)


# --- L. I. Baldt, Clothing for Women, 1916: a skirt's suppression is the pattern's waist less the body's, split among
# the seams; an older Butterick manual: a pattern with a waist of 30 in let out for 34 in gains 2 in in each half, run
# out at the hip, which is 1/3 in at each of six edges (our arithmetic) --------------------------------------------


@pytest.mark.parametrize(
    ("waist", "share"), [("34", -1 / 3), ("30", 0), ("27", 1 / 4), ("24", 1 / 2)]
)  # all but the first are our arithmetic
def test_gored_skirt_from_the_circular_foundation(waist: str, share: float):
    made = drafted("gored-from-circle", person(Unit.IN, waist_girth=waist))
    [foundation] = [block.draft for block in made.blocks]
    assert in_inches(made, "share") == pytest.approx(share)
    gores = [f"gore_{number}" for number in range(1, 5)]
    assert 2 * sum(edge(made, gore, "waist") for gore in gores) == pytest.approx(float(waist))
    assert 2 * edge(foundation, "skirt", "waist") == pytest.approx(30)
    # Only the waist changes: the hems are the foundation's, and from the hip down the edges are its radii.
    assert sum(edge(made, gore, "hem") for gore in gores) == pytest.approx(edge(foundation, "skirt", "hem"))
    changes = [15 / 4 - edge(made, gore, "waist") for gore in gores]
    assert changes == pytest.approx([share, 2 * share, 2 * share, share], abs=1e-6)
    assert edge(made, "gore_1", "before") == pytest.approx(36)
    assert all(seam.ok for seam in made.seams) and len(made.seams) == 3
