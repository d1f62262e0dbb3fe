"""Fittings carried out on drafts: which garments they reach, what they change, and what is said where they can't be."""

from __future__ import annotations

import datetime
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

import catalogue
from catalogue.drafting.drafter import draft_style
from catalogue.drafting.fitting_plan import fitting_plan
from catalogue.drafting.model import Draft
from catalogue.drafting.record import draft_record
from catalogue.findings import Place
from catalogue.pattern.measure import sewn_length
from catalogue.people import Client
from catalogue.people.client import MeasurementSet
from catalogue.people.fittings import FittingLine, FreeCorrection
from catalogue.studio.joining import joined
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style
from tests.demo import demo_client
from tests.drafting.people_and_styles import demo_style

DAY = datetime.date(2026, 3, 21)

CAMISOLE = """---
title: Camisole
garment: bodice
for: women
cut from:
  bodice: bodice-block
---

# Drafting

```draft
take front, back from bodice
panel_top = 1/3 of the way from back.neck_point to back.shoulder_tip along back.shoulder
panel_foot = 2 cm along back.waist from back.waist_side
cut back from panel_top to panel_foot into middle "Middle back", side_back "Side back" with back.underarm, edge panel
```
"""


@cache
def styles() -> dict[str, Style]:
    camisole = style_from(CAMISOLE.encode(), "camisole", "styles/camisole.md")
    return {style.slug: style for style in joined([demo_style("bodice-block"), camisole])}


def line(
    text: str, garment: str = "bodice-block", day: datetime.date = DAY, n: int = 1, **more: object
) -> FittingLine:
    return replace(
        FittingLine(day, garment, text, Place("clients/x.md", n, 7), source=f"    - {text}"), **more
    )  # type: ignore[arg-type]


def fitted(*lines: FittingLine, **more: object) -> Client:
    numbered = tuple(replace(each, place=replace(each.place, line=10 + n)) for n, each in enumerate(lines))
    return replace(demo_client("hester-pellow"), fittings=numbered, **more)  # type: ignore[arg-type]


@cache
def drafted(*texts: str, style: str = "bodice-block") -> Draft:
    return draft_style(styles()[style], fitted(*map(line, texts)), Settings())


def edge(draft: Draft, name: str) -> float:
    piece, _, rest = name.partition(".")
    return sewn_length(draft.pieces[piece], rest)


def not_done(draft: Draft) -> list[str]:
    return [f.message for f in draft.findings if f.code == "not-altered"]


def test_a_fold_at_the_centre_back_takes_the_whole_amount_there_and_nothing_at_the_side() -> None:
    # A wedge at the centre back, nothing at the side (sewingtrip.com).
    before, after = drafted(), drafted("swayed back 6 mm")
    assert edge(after, "back.centre") == pytest.approx(edge(before, "back.centre") - 6.0, abs=0.15)
    assert edge(after, "back.side") == pytest.approx(edge(before, "back.side"), abs=0.05)
    assert after.pieces["front"].edges == before.pieces["front"].edges
    assert after.ok


def test_a_sloping_shoulder_sinks_the_armhole_whole_and_shortens_the_side() -> None:
    # Tip and whole armhole moved, shape kept; the side seam shorter (dresspatternmaking.com).
    before, after = drafted(), drafted("shoulder lower 6 mm")
    for piece in ("front", "back"):
        assert edge(after, f"{piece}.armhole") == pytest.approx(edge(before, f"{piece}.armhole"), abs=1.0)
        assert edge(after, f"{piece}.shoulder") == pytest.approx(edge(before, f"{piece}.shoulder"), abs=0.05)
        assert edge(after, f"{piece}.side") == pytest.approx(edge(before, f"{piece}.side") - 6.0, abs=0.3)
    assert after.ok


def test_sides_let_out_add_the_amount_on_each_of_four_edges() -> None:
    before, after = drafted(), drafted("side seams let out 5 mm each from armhole to waist")
    added = sum(edge(after, f"{p}.waist") - edge(before, f"{p}.waist") for p in ("front", "back"))
    assert 2 * added == pytest.approx(20.0, abs=0.2)
    holes = sum(edge(after, f"{p}.armhole") - edge(before, f"{p}.armhole") for p in ("front", "back"))
    assert edge(after, "sleeve.cap") - edge(before, "sleeve.cap") == pytest.approx(holes, abs=1.0)
    assert after.ok
    # A difference is shared by the edges there are: four of them take a quarter each (T. Kozorovitsky).
    in_all = drafted("side seams let out 20 mm in all")
    assert edge(in_all, "front.waist") == pytest.approx(edge(after, "front.waist"), abs=1e-6)


def test_what_was_seen_on_a_block_reaches_the_styles_cut_from_it() -> None:
    draft = drafted("swayed back 6 mm", style="camisole")
    [done] = draft.fittings
    assert (done.source, done.on, done.garment) == ("block", "bodice-block", "bodice-block")
    # The back was cut in two after it was taken.
    assert set(done.pieces) == {"middle", "side_back"}
    plain = drafted(style="camisole")
    assert edge(draft, "middle.centre") == pytest.approx(edge(plain, "middle.centre") - 6.0, abs=0.15)


def test_what_was_seen_on_a_garment_and_belongs_to_the_body_goes_into_its_block() -> None:
    client = fitted(line("swayed back 6 mm", "camisole"))
    for slug in styles():
        [done] = draft_style(styles()[slug], client, Settings()).fittings
        assert (done.on, done.garment, done.source) == ("bodice-block", "camisole", "block")


def test_what_is_said_for_this_garment_only_stays_with_it() -> None:
    client = fitted(line("shoulder lower 6 mm, this garment only", "bodice-block"))
    assert draft_style(styles()["bodice-block"], client, Settings()).fittings[0].source == "garment"
    other = fitted(line("shoulder lower 6 mm, this garment only", "camisole"))
    assert not draft_style(styles()["bodice-block"], other, Settings()).fittings


def test_one_side_alone_makes_a_right_and_a_left_piece_and_a_whole_front() -> None:
    plain, draft = drafted(), drafted("right shoulder 6 mm lower")
    assert {"back_right", "back_left", "front"} <= set(draft.pieces)
    front = draft.pieces["front"]
    assert not front.cut.on_fold and front.cut.count == 1
    assert draft.pieces["back_right"].title == "Bodice back, right, as worn"
    # What does not differ stays a pair or on the fold.
    assert draft.pieces["sleeve"].cut == plain.pieces["sleeve"].cut
    assert draft.pieces["front_facing"].cut.on_fold
    half = edge(plain, "front.side")
    assert edge(draft, "front.left_side") == pytest.approx(half, abs=1e-6)
    assert edge(draft, "front.right_side") == pytest.approx(half - 6.0, abs=0.3)
    assert edge(draft, "front.waist") == pytest.approx(2 * edge(plain, "front.waist"), abs=0.01)
    # Seen with the right side of the cloth up, the wearer's right half of a front lies on the left.
    right, left = (front.edge(f"{side}_side").path.start.x for side in ("right", "left"))
    assert right < left
    # The back is drawn as its right half; the left one is its mirror image but for the shoulder.
    assert (
        draft.pieces["back_right"].edge("side").path.start.x
        > draft.pieces["back_right"].edge("centre").path.start.x
    )
    assert (
        draft.pieces["back_left"].edge("side").path.start.x
        < draft.pieces["back_left"].edge("centre").path.start.x
    )
    assert draft.ok
    walked = {(s.first, s.second) for s in draft.seams}
    assert ("front.right_side", "back_right.side") in walked and (
        "front.left_side",
        "back_left.side",
    ) in walked


def test_a_measurement_of_one_side_makes_both_halves() -> None:
    client = demo_client("hester-pellow")
    drop = client.measurements["shoulder_drop"]
    sided = replace(client, sides={"right": {"shoulder_drop": replace(drop, mm=drop.mm + 5.0)}})
    draft = draft_style(styles()["bodice-block"], sided, Settings())
    assert "back_right" in draft.pieces and not draft.fittings
    assert edge(draft, "front.right_side") < edge(draft, "front.left_side") + 1e-6


def test_the_record_names_date_alteration_amount_side_origin_and_pieces() -> None:
    record = draft_record(drafted("right shoulder 6 mm lower"))
    [entry] = record["fittings"]
    assert {key: entry[key] for key in ("date", "alteration", "amount", "side", "from")} == {
        "date": "2026-03-21",
        "alteration": "sloping-shoulder",
        "amount": 6.0,
        "side": "right",
        "from": "block",
    }
    assert set(entry["pieces"]) == {"front", "back_right"}


def test_the_trades_order_is_kept_and_told() -> None:
    # All length changes first, then the shoulders (L. Lee, Fitting Shoulders).
    done = drafted("shoulder lower 6 mm", "swayed back 6 mm").fittings
    assert [each.alteration for each in done] == ["swayed-back", "sloping-shoulder"]
    assert "length come first" in done[0].remark and not done[1].remark


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("swayed back 80 mm", "is more than “Swayed back” allows"),
        ("left swayed back 6 mm", "has no left side"),
        ("swayed back", "how much is missing"),
        ("swayed back 0 mm", "must be more than 0"),
        ("swayed back 6 mm 8 mm", "two amounts"),
        ("swayed bosom 6 mm", "names no alteration known here"),
        ("6 mm", "what was changed is missing"),
        ("swayed back purple 6 mm", "“purple” is not understood"),
        ("swayed back 6 furlongs", "“furlongs” is not understood"),
    ],
)
def test_a_line_that_can_not_be_carried_out_leaves_the_draft_unaltered_and_says_so(
    text: str, message: str
) -> None:
    draft, plain = drafted(text), drafted()
    assert [message in told for told in not_done(draft)] == [True]
    assert draft.unaltered == (text,) and not draft.fittings
    assert draft.pieces == plain.pieces and draft.ok
    assert all(f.place is not None and f.place.line == 10 for f in draft.findings if f.code == "not-altered")


def test_a_line_copied_twice_is_carried_out_once() -> None:
    once, twice = drafted("swayed back 6 mm"), drafted("swayed back 6 mm", "hollow back 0.6 cm")
    assert edge(twice, "back.centre") == pytest.approx(edge(once, "back.centre"), abs=1e-6)
    assert not_done(twice) == [
        "Not altered: “hollow back 0.6 cm” is the change of line 10 once more (fitting of 2026-03-21)."
    ]


@pytest.mark.parametrize(
    "texts",
    [
        ("sloping shoulders 5 mm", "left shoulder 5 mm lower", "right shoulder 5 mm lower"),
        ("left shoulder 5 mm lower", "right shoulder 5 mm lower", "sloping shoulders 5 mm"),
        ("left shoulder 5 mm lower", "sloping shoulders 0.5 cm"),
    ],
)
def test_a_change_noted_whole_and_by_sides_is_carried_out_once(texts: tuple[str, ...]) -> None:
    plan = fitting_plan(styles()["bodice-block"], fitted(*map(line, texts)), None)
    assert [(c.side, c.amount) for c in plan.corrections] == [("both", 5)]
    assert len(plan.findings) == len(texts) - 1
    assert all("already, which is for both sides" in f.message for f in plan.findings)
    uneven = fitted(line("sloping shoulders 5 mm"), line("left shoulder 3 mm lower"))
    assert len(fitting_plan(styles()["bodice-block"], uneven, None).corrections) == 2


def test_a_fault_of_the_body_seen_on_two_garments_of_one_day_is_carried_out_once() -> None:
    seen = line("swayed back 8 mm"), line("swayed back 8 mm", "camisole")
    plan = fitting_plan(styles()["camisole"], fitted(*seen), None)
    assert [c.line.garment for c in plan.corrections] == ["bodice-block"]
    assert (
        "seen on two garments on one day and is carried out once, as on line 10" in plan.findings[0].message
    )
    later = replace(seen[1], date=DAY + datetime.timedelta(days=9))
    plan = fitting_plan(styles()["camisole"], fitted(seen[0], later), None)
    assert len(plan.corrections) == 2 and not plan.findings, (
        "the second garment was cut with the first change"
    )


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("swayed back 1 mm", "It is carried out as written. Is the unit right?"),
        ("swayed back 1/16", "It is carried out as written. Is the unit right?"),
    ],
)
def test_an_amount_far_below_the_usual_is_asked_about(text: str, hint: str) -> None:
    plan = fitting_plan(styles()["bodice-block"], fitted(line(text)), None)
    [finding] = plan.findings
    assert (finding.code, finding.hint) == ("little", hint) and len(plan.corrections) == 1
    assert not fitting_plan(styles()["bodice-block"], fitted(line("swayed back 4 mm")), None).findings


def test_an_inch_passes_where_25_mm_do() -> None:
    plan = fitting_plan(styles()["bodice-block"], fitted(line("waist let out 1 in")), None)
    assert len(plan.corrections) == 1 and not plan.findings


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        # Of a client in inches.
        ("swayed back 6", "A number alone is in inches here. If you meant 6 mm, write the unit."),
        ("swayed back 6 in", "Beyond that, draft again: take the measurements once more."),
        ("let out 1/4", "Say which: thigh let out, centre back let out, hip let out, leg let out"),
    ],
)
def test_a_message_says_what_to_write_instead(text: str, hint: str) -> None:
    [told] = [f for f in drafted(text).findings if f.code == "not-altered"]
    assert told.hint.startswith(hint)


def test_a_missing_landmark_is_named() -> None:
    told = not_done(
        draft_style(demo_style("skirt-block"), fitted(line("shoulder lower 6 mm", "skirt-block")), Settings())
    )
    assert len(told) == 1 and "back.neck_point" in told[0]


def test_a_style_names_landmarks_that_it_calls_otherwise() -> None:
    text = (
        CAMISOLE.replace("take front, back from bodice", "take front, back as rear from bodice")
        .replace("cut back from", "# cut")
        .replace(
            "cut from:\n  bodice: bodice-block\n",
            "cut from:\n  bodice: bodice-block\nlandmarks:\n  back: rear\n",
        )
    )
    style = style_from(text.encode(), "vest", "styles/vest.md")
    vest = {s.slug: s for s in joined([demo_style("bodice-block"), style])}["vest"]
    client = fitted(line("swayed back 6 mm, this garment only", "vest"))
    [done] = draft_style(vest, client, Settings()).fittings
    assert done.pieces == ("rear",) and done.source == "garment"


def test_a_measurement_taken_again_makes_one_ask() -> None:
    client = fitted(line("swayed back 6 mm"))
    was = client.measurements["back_waist_length"]
    now = replace(was, mm=was.mm - 8.0, date=datetime.date(2026, 9, 1))
    sets = (*client.sets, MeasurementSet(datetime.date(2026, 9, 1), {"back_waist_length": now}))
    again = replace(client, sets=sets, measurements={**client.measurements, "back_waist_length": now})
    draft = draft_style(styles()["bodice-block"], again, Settings())
    assert not draft.fittings and "was measured again on 2026-09-01" in not_done(draft)[0]
    for decided, count in (("kept", 1), ("dropped", 0)):
        lines = tuple(
            replace(f, decided=decided, decided_on=datetime.date(2026, 9, 1)) for f in again.fittings
        )
        settled = draft_style(styles()["bodice-block"], replace(again, fittings=lines), Settings())
        assert len(settled.fittings) == count and not not_done(settled)


def test_lines_of_a_client_s_own_change_one_garment() -> None:
    source = "shift back, 4 mm up at waist_side"
    own = FreeCorrection(DAY, "bodice-block", "The waist dips.", source, 40, Place("clients/x.md", 40))
    client = replace(demo_client("hester-pellow"), corrections=(own,))
    draft, plain = draft_style(styles()["bodice-block"], client, Settings()), drafted()
    [done] = draft.fittings
    assert (done.alteration, done.pieces) == ("correction", ("back",))
    assert edge(draft, "back.side") == pytest.approx(edge(plain, "back.side") - 4.0, abs=0.3)
    wrong = replace(own, source="shift back, 4 mm up at nowhere")
    told = draft_style(styles()["bodice-block"], replace(client, corrections=(wrong,)), Settings())
    assert told.pieces == plain.pieces and "“nowhere” is not known here" in not_done(told)[0]
    cut = replace(client, corrections=(replace(own, source="discard sleeve"),))
    assert "must stay one piece" in not_done(draft_style(styles()["bodice-block"], cut, Settings()))[0]


def test_before_and_after_are_the_drafts_without_and_with() -> None:
    client = fitted(line("swayed back 6 mm"))
    without = draft_style(styles()["bodice-block"], replace(client, fittings=()), Settings())
    [done] = drafted("swayed back 6 mm").fittings
    assert [e.path for p in done.before for e in p.edges] == [e.path for e in without.pieces["back"].edges]


def test_a_body_without_a_seam_at_the_waist_is_lengthened_there_and_its_hem_follows() -> None:
    # Cut apart above the waist, the same on every layer (older Butterick manual).
    style = demo_style("mens-body-block")

    def made(*texts: str) -> Draft:
        lines = tuple(line(text, "mens-body-block") for text in texts)
        return draft_style(style, replace(demo_client("nadim"), fittings=lines), Settings())

    plain = made()
    for text, by in (("bodice lengthened 2 cm", 20.0), ("bodice shortened 2 cm", -20.0)):
        altered = made(text)
        assert not altered.findings
        for name in ("back.side", "back.centre", "front.side", "front.centre"):
            assert edge(altered, name) - edge(plain, name) == pytest.approx(by, abs=0.5), (text, name)
        for name in ("back.armhole", "front.hem"):
            assert edge(altered, name) == pytest.approx(edge(plain, name), abs=0.1), (text, name)
        for piece in ("back", "front"):
            at = {
                who: next(n.at.y for n in d.pieces[piece].notches if n.edge == "side")
                for who, d in (("plain", plain), ("altered", altered))
            }
            assert at["altered"] - at["plain"] == pytest.approx(by, abs=0.1), (text, piece)
            levels = {
                who: next(x.path for x in d.pieces[piece].lines if x.text == "waist")
                for who, d in (("plain", plain), ("altered", altered))
            }
            for end in ("start", "end"):
                moved = getattr(levels["altered"], end) - getattr(levels["plain"], end)
                assert (moved.x, moved.y) == pytest.approx((0.0, by), abs=0.5), (text, piece)
    abdomen = made("full abdomen 2 cm")
    assert not abdomen.findings
    assert edge(abdomen, "front.centre") - edge(plain, "front.centre") == pytest.approx(20.0, abs=0.1)
    assert edge(abdomen, "front.side") == pytest.approx(edge(plain, "front.side"), abs=0.1)


def test_a_back_is_not_lengthened_where_the_front_has_no_centre_to_follow() -> None:
    fitting = line("bodice lengthened 2 cm", "robe")
    made = draft_style(demo_style("robe"), replace(demo_client("nadim"), fittings=(fitting,)), Settings())
    plain = draft_style(demo_style("robe"), replace(demo_client("nadim"), fittings=()), Settings())
    for name in ("back.side", "front.side"):
        assert edge(made, name) == pytest.approx(edge(plain, name), abs=1e-6)
    [told] = [f for f in made.findings if f not in plain.findings]
    assert "centre_waist" in told.message


STARTER = Path(catalogue.__file__).parent / "starter/studio/styles/first-skirt.md"


def test_what_a_skirt_lacks_is_told_as_of_a_skirt() -> None:
    """A waist is let out on a bodice from the underarm and on a skirt from the hip; a skirt has no underarm."""
    text = STARTER.read_text(encoding="utf-8")
    bare = "".join(r for r in text.splitlines(keepends=True) if not r.startswith("point hip_side"))
    for source, told in ((text, []), (bare, ["hip_side"])):
        fitting = line("waist let out 5 mm", "first-skirt")
        client = replace(demo_client("hester-pellow"), fittings=(fitting,))
        made = draft_style(
            style_from(source.encode(), "first-skirt", "styles/first-skirt.md"), client, Settings()
        )
        messages = [f.message for f in made.findings if f.code == "not-altered"]
        assert [word for word in ("hip_side", "underarm") if any(word in m for m in messages)] == told
