"""What follows an alteration: names of the block, notches, bands, and the draft where the style's lines can't."""

from __future__ import annotations

import datetime
from dataclasses import replace
from functools import cache

import pytest

from catalogue.drafting.block_drafts import BlockDrafts
from catalogue.drafting.drafter import draft_style
from catalogue.drafting.model import Draft
from catalogue.findings import Place
from catalogue.geometry import signed_area
from catalogue.pattern.measure import sewn_length
from catalogue.people.client import Chosen
from catalogue.people.fittings import FittingLine, FreeCorrection
from catalogue.studio.joining import joined
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from tests.demo import demo_client
from tests.drafting.people_and_styles import demo_style

DAY = datetime.date(2026, 3, 21)


def lines(garment: str, *texts: str) -> tuple[FittingLine, ...]:
    return tuple(
        FittingLine(DAY, garment, text, Place("clients/x.md", 10 + n, 7), source=f"    - {text}")
        for n, text in enumerate(texts)
    )


@cache
def fitted(style: str, client: str, *texts: str) -> Draft:
    body = replace(demo_client(client), fittings=lines(style, *texts))
    return draft_style(demo_style(style), body, Settings())


def apart(draft: Draft) -> list[str]:
    return [f"{seam.first} to {seam.second}: {seam.detail}" for seam in draft.seams if not seam.ok]


@pytest.mark.parametrize(
    ("style", "client", "text"),
    [
        ("straight-skirt", "hester-pellow", "waist let out 10 mm"),
        ("straight-skirt", "wren", "centre back let out 10 mm"),
        ("circle-skirt", "hester-pellow", "sides let out 10 mm"),
        ("trousers-block", "hester-pellow", "leg let out 20 mm"),
        ("mens-trousers", "nadim", "full thigh 20 mm"),
        ("mens-shirt", "nadim", "sides taken in 10 mm"),
        ("robe", "nadim", "deeper armhole 1 cm"),
        ("princess-dress", "hester-pellow", "full bust 35 mm"),
        ("cross-back-apron", "nadim", "side seams let out 15 mm"),
    ],
)
def test_bands_notches_and_the_lines_of_the_style_follow(style: str, client: str, text: str) -> None:
    draft = fitted(style, client, text)
    assert [f.alteration for f in draft.fittings]
    assert not [f.message for f in draft.findings if f.is_error]
    assert not apart(draft)


def test_both_sides_stay_of_one_length_where_the_waist_sinks_nearly_to_the_hip() -> None:
    """A boy whose waist lies 8 cm above the hip: the front's side is hollower there than the back's."""
    boy = demo_client("aarav")
    low = {"body_rise": 123, "waist_to_hip": 83, "hip_girth": 552, "waist_girth": 538, "crotch_length": 417}
    figures = {key: replace(m, mm=float(low.get(key, m.mm))) for key, m in boy.measurements.items()}
    fitting = lines("childs-dungarees", "rise lower 50 mm")
    draft = draft_style(
        demo_style("childs-dungarees"), replace(boy, measurements=figures, fittings=fitting), Settings()
    )
    assert [f.alteration for f in draft.fittings] == ["shallower-crotch"]
    assert not apart(draft)


@pytest.mark.parametrize("flare", ["full", "half"])
@pytest.mark.parametrize(("text", "gained"), [("let out 15 mm", 15.0), ("taken in 15 mm", -15.0)])
def test_sides_of_a_flared_skirt_move_square_to_themselves(flare: str, text: str, gained: float) -> None:
    """On a full circle the side lies square to the middle: moved level, it would slide along itself."""
    person = demo_client("hester-pellow")
    chosen = {"circle-skirt": {"flare": Chosen(flare, Place("x", 1), Place("x", 1))}}
    before, after = (
        draft_style(
            demo_style("circle-skirt"),
            replace(person, choices=chosen, fittings=lines("circle-skirt", *texts)),
            Settings(),
        )
        for texts in ((), (f"side seams {text}",))
    )
    assert not after.findings and not apart(after)
    for name in ("front", "back"):
        was, now = ({e.name: e.path for e in draft.pieces[name].edges} for draft in (before, after))
        line = was["side"].extended(100.0, 100.0)
        off = [line.nearest(at)[1] for at in (now["side"].start, now["side"].end)]
        assert off == pytest.approx([abs(gained)] * 2, abs=0.01)
        assert now["side"].length == pytest.approx(was["side"].length, abs=0.01)
        for edge in ("waist", "hem"):
            assert now[edge].length == pytest.approx(was[edge].length + gained, abs=0.5)


def test_the_hem_of_a_circle_skirt_is_raised_along_its_sides() -> None:
    before, after = (fitted("circle-skirt", "omolara", *texts) for texts in ((), ("hem level 20 mm",)))
    for name in ("front", "back"):
        was, now = (sewn_length(draft.pieces[name], "side") for draft in (before, after))
        assert now == pytest.approx(was - 20.0, abs=0.01)
    assert not after.findings and not apart(after)


@pytest.mark.parametrize("style", ["mens-shirt", "mens-waistcoat", "robe"])
def test_a_garment_with_no_place_for_an_alteration_says_what_to_do_instead(style: str) -> None:
    draft = fitted(style, "nadim", "swayed back 15 mm")
    [told] = [f for f in draft.findings if f.code == "not-altered"]
    assert not draft.fittings and told.hint.startswith("A back cut whole on the fold")
    assert "landmarks:" in told.hint


def test_a_facing_is_traced_again_and_a_half_that_was_copied_is_not() -> None:
    """Of a skirt whose front is altered alone the back, copied off it, stays; the facing of its side goes with it."""
    text = """---
title: Sample
garment: skirt
---

```draft
waist_side = 20 cm right from start
low  = 30 cm down from start
hem_side = 25 cm right from low
piece skirt_front "Front", cut 1 on fold
  outline waist: start to waist_side
          side: waist_side to hem_side
          hem: hem_side to low
          centre: low to start, fold
trace facing "Facing" from skirt_front, 4 cm from side, cut 2
trace canvas "Interfacing" from facing, cut 2 of interfacing
trace marked "Marked facing" from skirt_front, 4 cm from side, cut 2
mark waist_side button "button" on marked
trace skirt_back "Back" from skirt_front, cut 1 on fold
```
"""
    style, person = style_from(text.encode(), "sample", "styles/sample.md"), demo_client("hester-pellow")
    shift = "shift skirt_front, 1 cm right at waist_side"
    own = FreeCorrection(DAY, "sample", "", shift, 40, Place("clients/x.md", 40))
    before, after = (
        draft_style(style, replace(person, corrections=corrections), Settings())
        for corrections in ((), (own,))
    )
    assert not before.findings and len(after.fittings) == 1
    same = [name for name, piece in before.pieces.items() if piece.edges == after.pieces[name].edges]
    assert same == ["marked", "skirt_back"]  # what was marked on a facing would be lost, so it stays
    assert after.pieces["facing"].edge("side").path.length == pytest.approx(
        after.pieces["skirt_front"].edge("side").path.length
    )


def test_the_band_and_its_interfacing_become_as_long_as_the_waist() -> None:
    before, after = (
        fitted("circle-skirt", "hester-pellow", *texts) for texts in ((), ("sides let out 10 mm",))
    )
    gained = [
        signed_area(after.pieces[n].outline) - signed_area(before.pieces[n].outline)
        for n in ("band", "band_interfacing")
    ]
    assert gained[0] == pytest.approx(gained[1], abs=1.0)
    waist = [
        sum(sewn_length(draft.pieces[piece], "waist") for piece in ("front", "back"))
        for draft in (before, after)
    ]
    assert waist[1] - waist[0] > 5.0
    for edge in ("left", "right"):
        now, was = (sewn_length(draft.pieces["band"], edge) for draft in (after, before))
        assert now - was == pytest.approx(waist[1] - waist[0], abs=0.1)


def test_what_belongs_to_a_garment_is_made_on_its_block_for_this_garment_alone() -> None:
    body = replace(
        demo_client("hester-pellow"),
        fittings=lines("straight-skirt", "waist let out 10 mm, this garment only"),
    )
    skirt, other = (draft_style(demo_style(s), body, Settings()) for s in ("straight-skirt", "gored-skirt"))
    [done] = skirt.fittings
    assert (done.on, done.source) == ("skirt-block", "garment")
    assert not other.fittings
    plain = fitted("straight-skirt", "hester-pellow")
    assert sewn_length(skirt.pieces["front"], "waist") - sewn_length(
        plain.pieces["front"], "waist"
    ) == pytest.approx(10.0, abs=0.5)


TIGHT = """---
title: Tight camisole
garment: bodice
for: women
cut from:
  bodice: bodice-block
---

# Drafting

```draft
take back from bodice
tip = TIP along back.side from back.underarm
notch back.side at tip
panel_top = 1/3 of the way from back.neck_point to back.shoulder_tip along back.shoulder
panel_foot = 2 cm along back.waist from back.waist_side
cut back from panel_top to panel_foot into middle "Middle back", side_back "Side back" with back.underarm, edge panel
```
"""


def test_an_alteration_that_the_style_can_not_follow_is_left_out_and_named() -> None:
    """A notch 1 cm above the waist, on a side seam that the alteration makes shorter by more."""
    side = sewn_length(fitted("bodice-block", "hester-pellow").pieces["back"], "side")
    text = TIGHT.replace("TIP", f"{side - 10:.1f} mm")
    style = style_from(text.encode(), "tight-camisole", "styles/tight-camisole.md")
    style = {s.slug: s for s in joined([demo_style("bodice-block"), style])}["tight-camisole"]
    body = demo_client("hester-pellow")
    plain = draft_style(style, body, Settings())
    assert not [f.message for f in plain.findings if f.is_error]
    # The last has no place on a bodice.
    fitting = lines("bodice-block", "bodice shortened 3 cm", "broad shoulder 5 mm", "full seat 1 cm")
    draft = draft_style(style, replace(body, fittings=fitting), Settings())
    assert not [f.message for f in draft.findings if f.is_error]
    assert [f.alteration for f in draft.fittings] == ["broad-shoulder"]
    [told] = [f for f in draft.findings if f.code == "not-altered"]
    assert told.place is not None and told.place.line == 10
    assert "whose lines don't follow it" in told.message
    assert len(draft.unaltered) == 1


def test_a_block_with_fittings_is_drafted_to_its_last_line_once(monkeypatch: pytest.MonkeyPatch) -> None:
    drafts = BlockDrafts()
    monkeypatch.setattr("catalogue.drafting.block_drafts.BLOCK_DRAFTS", drafts)
    texts = ("swayed back 8 mm", "broad shoulder 5 mm", "full bust 1 cm")
    body = replace(demo_client("hester-pellow"), fittings=lines("bodice-block", *texts))
    made = draft_style(demo_style("yoked-blouse"), body, Settings())
    assert len(made.fittings) == 3
    assert drafts.drafted == 1
