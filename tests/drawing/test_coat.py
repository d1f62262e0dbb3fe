"""A coat with lapels, side body, vent and sleeves of two pieces, and halves that differ, as they hang."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path as File

import pytest
from shapely import Polygon

from catalogue.drafting import Draft, draft_style
from catalogue.drawing.assembly import half
from catalogue.drawing.body_outline import BREADTH
from catalogue.drawing.flat import Flat, flat
from catalogue.drawing.lapels import turned
from catalogue.drawing.patch import Patch
from catalogue.drawing.pieces_worn import BACK, FRONT
from catalogue.drawing.sleeves import hang_angle, sleeve_form
from catalogue.drawing.view import View
from catalogue.geometry import Transform
from catalogue.studio.reading import read_style
from catalogue.studio.settings import Settings
from tests.demo import demo_client
from tests.drafting.people_and_styles import demo_style

HERE = File(__file__).parent


@pytest.fixture(scope="module")
def coat() -> Draft:
    draft = draft_style(
        read_style(HERE / "styles" / "notched-coat.md", HERE), demo_client("ines"), Settings()
    )
    assert draft.pieces and not any(f.is_error for f in draft.findings)
    return draft


@pytest.fixture(scope="module")
def drawn(coat: Draft) -> Flat:
    made = flat(coat)
    assert made is not None
    return made


def lines(view: View, kind: str) -> list[list[tuple[float, float]]]:
    return [[(p.x, p.y) for p in line] for k, line, _ in view.strokes if k == kind]


def test_half_of_the_side_body_is_seen_from_each_side(coat: Draft) -> None:
    whole = Polygon([(p.x, p.y) for p in coat.pieces["side_body"].outline.flatten(0.5)]).area
    shares = []
    for view in (FRONT, BACK):
        patch = next(p for p in half(coat, view).patches if p.name == "side_body")
        shares.append(Polygon([(p.x, p.y) for p in patch.outline]).area / whole)
    # Laid to curved seams it is drawn a little, but each view has about half and both together the whole.
    assert shares[0] == pytest.approx(0.5, abs=0.06) and shares[1] == pytest.approx(0.5, abs=0.06)
    assert sum(shares) == pytest.approx(1.0, abs=0.05)


def test_at_the_hem_both_views_are_as_wide_as_all_the_pieces(coat: Draft, drawn: Flat) -> None:
    back, side, front = 180.0, 160.0, 220.0  # from the middle of the back to that of the front, by the style
    seen = sum(max(p.x for p in view.outline if p.y > 300) for view in (drawn.front, drawn.back))
    assert seen == pytest.approx((back + side + front) * BREADTH, rel=0.02)
    assert coat.pieces["side_body"].edge("hem").path.length == pytest.approx(side)


def test_a_lapel_is_the_cloth_beyond_its_roll_line_turned_back(coat: Draft) -> None:
    front = half(coat, FRONT)
    after = turned(front)
    (lapel,) = after.turned
    top, low = after.roll

    def area(*patches: Patch) -> float:
        return sum(Polygon([(p.x, p.y) for p in patch.outline]).area for patch in patches)

    assert area(*after.patches, lapel) == pytest.approx(area(*front.patches), rel=0.01)
    assert area(lapel) > 5000
    # All of it lies on the side of the body, that is to the right of the line from the neck down to the break.
    assert all((low - top).cross(p - top) < 1.0 for p in lapel.outline)
    assert all(
        (low - top).cross(p - top) < 1.0 for patch in after.patches for p in patch.outline if p.y < low.y
    )


def test_the_collar_stands_above_the_shoulder_in_both_views(drawn: Flat) -> None:
    for view in (drawn.front, drawn.back):
        top = min(p.y for p in view.outline)
        shoulder = drawn.body.on_shoulder(80.0)
        assert 10 < shoulder - top < 45


def test_the_vent_is_held_on_the_left_back_alone(drawn: Flat) -> None:
    held = lines(drawn.back, "stitch")
    assert len(held) == 1 and all(
        x <= 0 for x, _ in held[0]
    )  # behind, the left is on the left of the drawing
    (edge, *_) = lines(drawn.back, "vent")
    assert [x for x, _ in edge] == pytest.approx([0.0, 0.0], abs=0.5)
    assert abs(edge[1][1] - edge[0][1]) == pytest.approx(300.0, abs=5.0)  # opens 62 cm down, the hem is at 92


def test_a_sleeve_of_two_pieces_is_as_wide_as_both(coat: Draft, drawn: Flat) -> None:
    pieces = [coat.pieces["top_sleeve"], coat.pieces["under_sleeve"]]
    form = sleeve_form(coat, pieces)
    hems = sum(p.edge("hem").path.length for p in pieces)
    assert form.widths[-1] == pytest.approx(hems, rel=0.01)
    assert 0.3 < form.under < 0.5
    # Its back seam, with the buttons, shows behind; the front one near the inside of the arm.
    assert len(drawn.back.buttons) == 4 and len(drawn.front.buttons) == 2
    assert drawn.arm == pytest.approx(hang_angle(form, drawn.body.arm)) and drawn.arm < 15


def test_the_higher_the_cap_the_closer_a_sleeve_hangs(coat: Draft) -> None:
    form = sleeve_form(coat, [coat.pieces["top_sleeve"], coat.pieces["under_sleeve"]])
    # Caps of a coat, a shirt, a loose shirt and a robe of rectangles.
    angles = [
        hang_angle(replace(form, rise=form.widths[0] * share), 9.0) for share in (0.42, 0.28, 0.15, 0.0)
    ]
    assert angles == sorted(angles) and angles[0] == 9.0 and angles[-1] > 35


def test_two_halves_that_differ_are_drawn_on_their_own_sides(coat: Draft) -> None:
    # The left half with a back that is a fifth wider: behind, the left lies on the left of the drawing.
    wide = Transform.scaling(1.2, 1.0)
    pieces = {
        name: replace(p, edges=tuple(replace(e, path=e.path.transformed(wide)) for e in p.edges))
        if name == "back"
        else p
        for name, p in coat.pieces.items()
    }
    left = replace(coat, pieces=pieces)
    made = flat(replace(coat, halves=(coat, left)))
    plain = flat(coat)
    assert made is not None and plain is not None

    def reach(view: View) -> tuple[float, float]:
        low = [p for p in view.outline if p.y > 300]
        return -min(p.x for p in low), max(p.x for p in low)

    (left_of_back, right_of_back), (usual, _) = reach(made.back), reach(plain.back)
    assert right_of_back == pytest.approx(usual, abs=1.0)
    assert left_of_back == pytest.approx(usual + 180 * 0.2 * BREADTH, abs=3.0)
    assert reach(made.front) == pytest.approx(reach(plain.front), abs=1.0)


def test_a_collar_of_one_piece_with_its_stand_is_as_deep_behind_as_at_its_centre() -> None:
    """Its pointed front, slanting on the paper, makes it no deeper: it hides the neck seam and little more."""
    made = flat(draft_style(demo_style("notched-coat"), demo_client("hester-pellow"), Settings()))
    assert made is not None
    neck = min(p.y for p in made.back.outline)
    collar = made.back.shapes[-1]
    assert max(p.y for p in collar) - min(p.y for p in collar) < 75
    assert max(abs(p.x) for p in collar) < 0.55 * max(p.x for p in made.back.outline if p.y < neck + 120)
