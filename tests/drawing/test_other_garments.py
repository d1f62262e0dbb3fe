"""A robe of rectangles with a belt, dungarees with a bib and straps, a cape with a hood, gathers, as they hang."""

from __future__ import annotations

import math
from functools import cache
from itertools import pairwise
from pathlib import Path as File

import pytest
from shapely import Polygon

from catalogue.drafting import Draft, draft_style
from catalogue.drawing.body_outline import BREADTH
from catalogue.drawing.flat import Flat, flat, why_no_flat
from catalogue.drawing.patch import patch_of
from catalogue.drawing.view import View
from catalogue.studio.reading import read_style, style_from
from catalogue.studio.settings import Settings
from tests.demo import demo_client
from tests.drafting.people_and_styles import demo_style, with_choices
from tests.drafting.people_and_styles import draft as drafted_for

HERE = File(__file__).parent


@cache
def drafted(name: str) -> Draft:
    draft = draft_style(read_style(HERE / "styles" / f"{name}.md", HERE), demo_client("ines"), Settings())
    assert draft.pieces and not any(f.is_error for f in draft.findings), [str(f) for f in draft.findings]
    return draft


@cache
def drawn(name: str) -> Flat:
    made = flat(drafted(name))
    assert made is not None, why_no_flat(drafted(name))
    return made


def reach(view: View, level: float) -> float:
    """How far right the outline lies at a level."""
    ring = [*view.outline, view.outline[0]]
    return max(
        a.x + (b.x - a.x) * (level - a.y) / (b.y - a.y)
        for a, b in pairwise(ring)
        if (a.y <= level) != (b.y <= level)
    )


def test_a_robe_of_rectangles_hangs_straight_and_as_wide_as_its_pieces() -> None:
    made = drawn("robe-of-rectangles")
    for view in (made.front, made.back):
        assert reach(view, 300.0) == pytest.approx(300 * BREADTH, abs=1.0)
        assert reach(view, 500.0) == pytest.approx(300 * BREADTH, abs=1.0)


def test_its_shoulders_fall_with_those_of_the_body() -> None:
    made = drawn("robe-of-rectangles")
    body = made.body
    slope = (body.shoulder.y - body.neck.y) / (body.shoulder.x - body.neck.x)
    top = min(p.y for p in made.back.outline)
    assert top < body.on_shoulder(80.0) + 1
    tip = [p for p in made.back.outline if abs(p.x - 300.0) < 3 and p.y < body.on_shoulder(80.0) + 150]
    (drop,) = {round(p.y - top) for p in tip[:1]}
    assert drop == pytest.approx(0.8 * slope * 220, rel=0.2)


def test_its_sleeves_are_flat_and_as_long_as_cut() -> None:
    made = drawn("robe-of-rectangles")
    assert made.arm is not None and made.arm > 30  # no cap: they stand off
    out = max(made.front.outline, key=lambda p: p.x)
    tip = min((p for p in made.front.outline), key=lambda p: abs(p.x - 300.0) + p.y)
    assert out.distance(tip) == pytest.approx(360.0, abs=5.0)


def test_the_belt_lies_at_the_waist_as_wide_as_it_is_folded() -> None:
    for view in (drawn("robe-of-rectangles").front, drawn("robe-of-rectangles").back):
        band = [s for s in view.shapes if len(s) == 4 and s[0].y == s[1].y and s[1].x - s[0].x > 300]
        (shape,) = band
        assert {round(p.y) for p in shape} == {-25, 25}  # ten centimetres, folded


def test_a_bib_stands_on_the_middle_of_the_front_waist() -> None:
    made = drawn("dungarees")
    waist = min(p.y for p in made.back.outline if abs(p.x) > 90)
    # Its buttons are 2 cm below its upper edge, which is 26 cm above the waist and 24 cm wide.
    assert [waist - b.y for b in made.front.buttons] == pytest.approx([240.0, 240.0], abs=12.0)
    assert reach(made.front, waist - 200) == pytest.approx(120 * BREADTH, rel=0.15)
    # Beside the bib a part of the waist stays free.
    assert reach(made.front, waist - 10) < reach(made.front, waist + 30) - 20


def test_straps_go_over_the_shoulders_from_the_bib_to_the_back() -> None:
    made = drawn("dungarees")
    for view in (made.front, made.back):
        top = min(p.y for p in view.outline)
        assert top == pytest.approx(made.body.on_shoulder(70.0), abs=25.0)
    assert len(made.front.buttons) == 2


def test_a_cape_hangs_from_the_neck_over_the_shoulders_to_its_length() -> None:
    made = drawn("cape-with-hood")
    for view in (made.front, made.back):
        middle = max(p.y for p in view.outline if abs(p.x) < 15)
        assert middle - made.body.neck.y == pytest.approx(700.0, abs=25.0)
        assert reach(view, made.body.shoulder.y + 40) > made.body.shoulder.x
        side = max(view.outline, key=lambda p: p.x)
        out = side.x - made.body.shoulder.x
        assert 10 < math.degrees(math.atan2(out, side.y - made.body.shoulder.y)) < 30


def test_the_hood_is_up_and_its_seam_shows_behind() -> None:
    made = drawn("cape-with-hood")
    for view in (made.front, made.back):
        assert made.body.neck.y - min(p.y for p in view.outline) == pytest.approx(0.93 * 360, abs=8)
    assert sum(kind == "inside" for kind, _, _ in made.front.strokes) == 1
    assert not any(kind == "inside" for kind, _, _ in made.back.strokes)


def test_an_apron_covers_the_front_and_the_rest_of_it_is_seen_behind() -> None:
    draft, made = drafted("apron"), drawn("apron")
    quarter = draft.client.measurements["hip_girth"].mm / 4
    assert reach(made.front, 300.0) == pytest.approx((quarter + 10) * BREADTH, rel=0.01)
    assert min(p.y for p in made.front.outline) == pytest.approx(made.body.on_shoulder(70.0), abs=15)
    (right, left) = [s for s in made.back.shapes if max(p.y for p in s) > 400]
    for flap in (right, left):
        wide = max(p.x for p in flap) - min(p.x for p in flap)
        assert wide == pytest.approx(
            50 * BREADTH, abs=2.0
        )  # six centimetres less the one that the side takes


def test_a_pocket_lies_at_its_marks_as_large_as_it_is_cut() -> None:
    made = drawn("apron")
    (pocket,) = [s for s in made.front.shapes if min(p.y for p in s) > 50]
    assert {round(p.y) for p in pocket} == {100, 260}
    assert Polygon([(p.x, p.y) for p in pocket]).area == pytest.approx(300 * BREADTH * 160, rel=0.01)
    assert max(p.x for p in pocket) == pytest.approx(150 * BREADTH, abs=1.0)
    assert min(p.x for p in pocket) == pytest.approx(-150 * BREADTH, abs=1.0)


def test_an_apron_needs_to_say_where_the_waist_lies() -> None:
    text = (
        (HERE / "styles" / "apron.md")
        .read_text(encoding="utf-8")
        .replace('guide line "waist"', 'guide line "tie"')
    )
    draft = draft_style(style_from(text.encode(), "apron", "a.md"), demo_client("ines"), Settings())
    assert flat(draft) is None
    assert why_no_flat(draft) == (
        "“Apron front” has no guide line called “waist” that says where it lies on the body"
    )


PART = """
new paper "{name}"
{name}_1 = start
{name}_2 = {wide} right from {name}_1
{name}_3 = {wide} right and {deep} down from {name}_1
{name}_4 = {deep} down from {name}_1
piece {name} "{name}", cut 1 on fold
  outline {top}: {name}_1 to {name}_2
          side: {name}_2 to {name}_3
          {low}: {name}_3 to {name}_4
          centre: {name}_4 to {name}_1, fold
"""


def gathered(times: float) -> Draft:
    lines = "".join(
        PART.format(name=f"{view}_yoke", wide="24 cm", deep="12 cm", top="waist", low="seam")
        + PART.format(name=f"{view}_skirt", wide=f"{24 * times} cm", deep="50 cm", top="seam", low="hem")
        for view in ("front", "back")
    )
    for view in ("front", "back"):
        lines += f"sew {view}_skirt.seam to {view}_yoke.seam, gathered from 1 to 3\n"
    lines += "sew front_yoke.side to back_yoke.side\nsew front_skirt.side to back_skirt.side\n```\n"
    source = "---\ntitle: Gathered\n---\n# Drafting\n```draft\n" + lines
    draft = draft_style(style_from(source.encode(), "gathered", "g.md"), demo_client("ines"), Settings())
    assert draft.pieces and not any(f.is_error for f in draft.findings), [str(f) for f in draft.findings]
    return draft


def test_gathers_are_as_wide_as_their_seam_there_and_wider_below() -> None:
    made = flat(gathered(2.0))
    assert made is not None
    top = min(p.y for p in made.front.outline)
    for view in (made.front, made.back):
        assert reach(view, top + 119) == pytest.approx(240 * BREADTH, abs=2.0)
        assert 240 * BREADTH * 1.2 < reach(view, top + 615) < 480 * BREADTH
        lines = [line for kind, line, _ in view.strokes if kind == "gather"]
        assert len(lines) > 10 and all(line[0].y == pytest.approx(top + 120, abs=2.0) for line in lines)


def test_cloth_that_is_not_fuller_has_no_gathers() -> None:
    made = flat(gathered(1.0))
    assert made is not None
    assert not any(kind == "gather" for kind, _, _ in made.front.strokes)
    assert reach(made.front, 400.0) == pytest.approx(240 * BREADTH, abs=1.0)


def test_a_box_pleat_shows_both_folds_that_lie_on_top_and_an_inverted_one_where_they_meet() -> None:
    body = demo_client("hester-pellow")
    for kind, seen in (("box", 20.0), ("inverted", 0.0)):
        back = drafted_for(
            demo_style("yoked-shirt"), with_choices(body, "yoked-shirt", back_pleat=kind)
        ).pieces["back"]
        patch = patch_of(back)
        middle = min(p.x for p in patch.outline)
        lines = [line for kind, line in patch.lines if kind == "pleat"]
        assert [line[0].x - middle for line in lines] == pytest.approx([seen], abs=0.5)
