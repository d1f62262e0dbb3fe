"""Published drafts and small garments of our own whose paper is cut, closed and opened, as styles without a detour."""

from __future__ import annotations

import itertools
import math
from pathlib import Path as File

import pytest

from catalogue.drafting.model import Draft
from catalogue.pattern.joining import unfold
from catalogue.pattern.measure import sewn_length
from catalogue.studio.reading import read_style
from tests.drafting.people_and_styles import draft, person

WORKED = File(__file__).parent / "worked"


def good(style: str) -> Draft:
    """Drafted for a body of round figures; nothing may be wrong with it."""
    made = draft(style, person(bust_girth="92", waist_girth="72", hip_girth="98", back_waist_length="40"))
    assert [str(f) for f in made.findings] == []
    return made


def test_robe_of_rectangles():
    """Bath robe (issuu.com, songxianchun): body 262 x 75 cm folded at the shoulder, 125 long, sleeve 35 wide."""
    style = read_style(WORKED / "yukata-robe.md", WORKED)
    assert [str(f) for f in style.findings] == []
    made = draft(style, person())
    assert [str(f) for f in made.findings] == []
    body = made.pieces["body"]
    # On the fold at the back only: the front is cut open down the middle, so both its edges lie there.
    assert [(e.name, e.fold, round(e.path.length)) for e in body.edges if e.name.startswith("centre")] == [
        ("centre_2", False, 1310),
        ("centre", True, 1310),
    ]
    whole = unfold(body, "centre").outline.bounds()
    assert (whole.width, whole.height) == pytest.approx((750, 2620))
    assert made.values["sleeve_width"].value == pytest.approx(350)
    (finished,) = made.finished
    assert finished.garment == pytest.approx(1250)
    assert all(seam.ok for seam in made.seams)


BODICE = """
width  = bust_girth / 4 + 2 cm
neck   = 7 cm right from start
tip    = 19 cm right and 4 cm down from start
under  = width right and 18 cm down from start
waist  = back_waist_length down from start
side_waist = width right from waist
cf_neck = 7 cm down from start
bust   = 9.5 cm right and 24 cm down from start
piece front "Front", cut 1 on fold
  outline centre: waist to cf_neck, fold
          neckline: cf_neck to neck
          shoulder: neck to tip
          armhole: tip to under
          side: under to side_waist
          waistline: side_waist to waist
dart front.waistline, middle at (9.5 cm right from waist), intake 5 cm, point at bust
"""


def test_a_dart_closed_and_opened_in_three_places_in_any_order():
    places = (
        "opening shoulder at (midway neck to tip) named first",
        "opening armhole at (midway tip to under) named second",
        "opening side at (4 cm along front.side from under) named third",
    )
    found = []
    for order in itertools.permutations(places):
        made = good(f"{BODICE}close front.waistline_dart, pivoting on bust, {', '.join(order)}").pieces[
            "front"
        ]
        found.append(
            {d.name: d.intake for d in made.darts} | {e.name: sewn_length(made, e.name) for e in made.edges}
        )
        angles = []
        for dart in made.darts:
            one, other = (leg - dart.apex for leg in dart.legs)
            angles.append(math.degrees(math.atan2(abs(one.cross(other)), one.dot(other))))
        # Each opens by a third of the angle that was closed: 5 cm across legs that run 16 cm down.
        assert angles == pytest.approx([2 * math.degrees(math.atan(25 / 160)) / 3] * 3, abs=1e-6)
    assert all(each == pytest.approx(found[0], abs=0.01) for each in found[1:])


def test_a_wedge_out_of_the_waist_and_a_dart_drawn_after_it():
    made = good(
        BODICE.replace(
            "dart front.waistline, middle at (9.5 cm right from waist), intake 5 cm, point at bust", ""
        )
        + "fold out front, 1.5 cm at (6 cm up from waist), nothing at (6 cm up from side_waist)\n"
        + "left = length of front.centre\n"
        + "dart front.waistline, at (9 cm along front.waistline from (corner of front.waistline and centre)), "
        "1 cm left and 2 cm right, length 9 cm, unequal legs\n" + "taken = intake of front.waistline_dart"
    )
    # The centre is shorter by what was folded out, and the dart as wide as it was said.
    assert made.values["left"].value == pytest.approx(400 - 70 - 15, abs=0.1)
    assert made.values["taken"].value == pytest.approx(30, abs=0.05)
