"""What is sewn on a garment is seen in its drawing, in its place and of its size: straps, welts, pleats, tabs, bands.

Sizes are those of the pieces; cloth round a body is drawn `BREADTH` of its width (`body_outline`).
"""

from __future__ import annotations

from functools import cache

import pytest

from catalogue.drafting import Draft
from catalogue.drawing.body_outline import BREADTH
from catalogue.drawing.flat import Flat, flat
from catalogue.drawing.view import View
from catalogue.geometry import Box, Point
from tests.drafting.people_and_styles import demo_client, demo_draft, demo_style, draft


@cache
def drawn(style: str, client: str) -> tuple[Draft, Flat]:
    made = demo_draft(style, client)
    view = flat(made)
    assert view is not None
    return made, view


def boxes(view: View) -> list[Box]:
    """The closed shapes of cloth of a view, as boxes."""
    return [Box.around(line) for kind, line, closed in view.strokes if kind == "cloth" and closed]


def lines(view: View, kind: str) -> list[list[Point]]:
    return [line for each, line, closed in view.strokes if each == kind and not closed]


@pytest.mark.parametrize("client", ["aarav", "wren"])
def test_straps_from_the_back_lie_over_the_shoulder_on_the_front(client):
    made, view = drawn("childs-pinafore", client)
    neck = min(p.y for p in view.front.outline)
    assert min(p.y for p in view.back.outline) == pytest.approx(neck, abs=8)  # nothing stands up behind
    lap, wide = made.values["lap"].value, made.values["strap_width"].value
    straps = [
        b for b in boxes(view.front) if b.top < neck + 15 and b.height < lap + wide and b.width < lap + wide
    ]
    straps = [b for b in straps if b.bottom < neck + lap + wide]
    assert sorted(box.centre.x > 0 for box in straps) == [False, True]
    # The button of each strap lies on it.
    assert all(
        any(box.left < b.x < box.right and box.top < b.y < box.bottom for b in view.front.buttons)
        for box in straps
    )
    assert not view.back.buttons


def test_a_pocket_on_gathered_cloth_is_as_wide_as_it_is_cut():
    made, view = drawn("childs-pinafore", "wren")
    wide = made.values["pocket_wide"].value * BREADTH
    deep = made.values["pocket_deep"].value
    found = [b for b in boxes(view.front) if b.height == pytest.approx(deep, rel=0.02)]
    assert [b.width for b in found] == [pytest.approx(wide, rel=0.02)] * 2


@pytest.mark.parametrize("client", ["nadim", "osric-tamblyn"])
def test_four_welts_stand_on_a_waistcoat_and_a_strap_lies_across_its_back(client):
    made, view = drawn("mens-waistcoat", client)
    high = 22.0  # cut double, 2.2 cm wide
    welts = [b for b in boxes(view.front) if high < b.height < high + 15 and b.width < 100]
    assert len(welts) == 4
    assert sorted(b.centre.x > 0 for b in welts) == [False, False, True, True]
    (strap,) = [b for b in boxes(view.back) if b.height == pytest.approx(25.0) and b.width > 200]
    assert strap.centre.x == pytest.approx(0.0, abs=1.0)
    assert made.pieces["long_strap"].outline.bounds().height == 25.0


@pytest.mark.parametrize("client", ["nadim", "osric-tamblyn"])
def test_the_only_back_pocket_lies_to_the_right_of_the_wearer(client):
    _, view = drawn("mens-trousers", client)
    small = [b for b in boxes(view.back) if b.height < 25 and 50 < b.width < 150]
    assert len(small) == 1
    assert small[0].left > 0  # seen from behind, the wearer's right is on the right


def test_waist_and_hem_of_trousers_are_seen_level():
    _, view = drawn("mens-trousers", "osric-tamblyn")  # two pleats, which open the hem to a corner
    for one in (view.front, view.back):
        low, top = max(p.y for p in one.outline), min(p.y for p in one.outline)
        right = max(p.x for p in one.outline)
        hem = [p.x for p in one.outline if p.y > low - 0.5]
        # Both corners of both legs lie on one level, and so do the middle and both sides of the waist.
        assert max(hem) > 0.8 * right and min(hem) < -0.8 * right
        assert any(0 < x < 0.2 * right for x in hem) and any(-0.2 * right < x < 0 for x in hem)
        waist = [p for p in one.outline if p.y < top + 30]  # the band is 4 cm wide
        assert max(p.x for p in waist) > 0.9 * right and all(p.y < top + 6 for p in waist)


@pytest.mark.parametrize(("pleat", "at"), [("box", [-20.0, 20.0]), ("inverted", [0.0])])
def test_a_box_pleat_shows_its_two_folds_and_an_inverted_one_their_meeting(pleat, at):
    from tests.drafting.people_and_styles import with_choices

    made = draft(demo_style("mens-shirt"), with_choices(demo_client("nadim"), "mens-shirt", back_pleat=pleat))
    view = flat(made)
    assert view is not None
    long = [line for line in lines(view.back, "dart") if abs(line[0].y - line[-1].y) > 300]
    found = sorted({round(sum(p.x for p in line) / len(line), 0) for line in long})
    # 2 cm deep, drawn narrower under the arm.
    assert found == [pytest.approx(x * (1 + BREADTH) / 2, abs=1) for x in at]


@pytest.mark.parametrize("client", ["nadim", "omolara"])
def test_the_straps_of_an_apron_keep_their_width_to_the_button(client):
    made, view = drawn("cross-back-apron", client)
    wide = made.values["strap_width"].value * BREADTH
    straps = [
        line for kind, line, closed in view.back.strokes if kind == "cloth" and closed and len(line) == 4
    ]
    straps = [line for line in straps if min(p.x for p in line) < 0 < max(p.x for p in line)]
    assert len(straps) == 2
    for line in straps:
        assert [abs(a.x - b.x) for a, b in ((line[0], line[1]), (line[2], line[3]))] == [
            pytest.approx(wide)
        ] * 2


def test_a_cape_is_closed_by_its_tabs():
    made, view = drawn("hooded-cape", "wren")
    tabs = [b for b in boxes(view.front) if b.height == pytest.approx(50.0)]
    assert [b.width for b in tabs] == [pytest.approx(made.values["tab_long"].value * BREADTH)] * 2
    assert len(view.front.buttons) == 4


def test_a_band_on_the_fold_has_no_seam_in_the_middle_and_elastic_draws_it_together():
    made, view = drawn("childs-dungarees", "aarav")
    assert made.pieces["front_band"].cut.on_fold
    (band,) = {(b.top, b.bottom) for b in boxes(view.front) if 35 < b.height < 50 and b.width > 90}
    in_band = [
        p
        for line in lines(view.front, "seam")
        for p in line
        if abs(p.x) < 1 and band[0] + 10 < p.y < band[1] - 8
    ]
    assert not in_band
    assert lines(view.back, "gather")
    assert not lines(view.front, "gather")
