"""The library of alterations: how each is written, called, carried out and taken back, against figures of the trade."""

from __future__ import annotations

import datetime
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path as FilePath

import pytest

from catalogue.between_runs import VARIABLE
from catalogue.drafting.drafter import draft_style
from catalogue.drafting.model import Draft, FittingDone
from catalogue.findings import Place
from catalogue.geometry import Line, Path, Point, self_crossings
from catalogue.handbook import neutral_client
from catalogue.handbook.alterations import DAY, AlterationExample, alteration_examples, samples
from catalogue.lengths import Unit
from catalogue.pattern import Cut, Edge, Piece
from catalogue.pattern.making import make_piece
from catalogue.pattern.measure import sewn_length
from catalogue.pattern.shifting import Shift, shifted
from catalogue.people.fittings import FittingLine
from catalogue.studio.alterations import OWN, Alteration, library, read_alteration, read_alterations
from catalogue.studio.fitting_words import NotUnderstood, understand
from catalogue.studio.settings import Settings
from tests.demo import demo_client
from tests.drafting.people_and_styles import demo_style, with_choices

INCH = 25.4


@cache
def examples() -> dict[str, AlterationExample]:
    return {example.alteration.slug: example for example in alteration_examples()}


ASKED_FOR = {
    "lengthen-bodice",
    "shorten-bodice",
    "lengthen-skirt",
    "shorten-skirt",
    "lengthen-sleeve",
    "shorten-sleeve",
    "lengthen-leg",
    "shorten-leg",
    "let-out-sides",
    "take-in-sides",
    "let-out-waist",
    "take-in-waist",
    "let-out-hip",
    "take-in-hip",
    "let-out-centre-back",
    "take-in-centre-back",
    "swayed-back",
    "erect-back",
    "round-back",
    "broad-shoulder",
    "narrow-shoulder",
    "square-shoulder",
    "sloping-shoulder",
    "forward-shoulder",
    "full-bust",
    "small-bust",
    "bust-point-up",
    "bust-point-down",
    "bust-point-in",
    "bust-point-out",
    "hollow-chest",
    "gaping-neck",
    "larger-neck",
    "smaller-neck",
    "broad-back",
    "full-upper-arm",
    "deeper-armhole",
    "higher-armhole",
    "full-abdomen",
    "full-seat",
    "flat-seat",
    "wide-hip-curve",
    "longer-crotch",
    "shorter-crotch",
    "deeper-crotch",
    "full-thigh",
    "let-out-leg",
    "level-hem",
}


def done(slug: str) -> FittingDone:
    made = examples()[slug].done
    assert made is not None
    return made


def change(slug: str, edge: str) -> float:
    """mm that an edge ("back.side") has become longer as it is sewn."""
    piece, _, name = edge.partition(".")
    before, after = ({p.name: p for p in pieces}[piece] for pieces in (done(slug).before, done(slug).after))
    return sewn_length(after, name) - sewn_length(before, name)


def most(slug: str) -> float:
    return library()[slug].usual[1]


def test_the_library_is_the_same_read_and_kept(tmp_path: FilePath, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(VARIABLE, str(tmp_path))
    asked: list[FilePath] = []

    def noted(folder: FilePath, root: FilePath) -> tuple[Alteration, ...]:
        asked.append(folder)
        return read_alterations(folder, root)

    monkeypatch.setattr("catalogue.studio.alterations.read_alterations", noted)
    read, kept = library.__wrapped__(), library.__wrapped__()
    assert asked == [OWN]
    assert list(kept.items()) == list(read.items()) and repr(kept) == repr(read)


def test_the_library_has_what_a_workroom_asks_for() -> None:
    assert library().keys() >= ASKED_FOR


@pytest.mark.parametrize("alteration", library().values(), ids=lambda a: a.slug)
def test_an_alteration_is_whole_and_answers_to_its_names(alteration: Alteration) -> None:
    assert not alteration.findings
    assert 0 < alteration.usual[0] < alteration.usual[1] <= alteration.limit
    assert alteration.source and alteration.sign and alteration.pin and alteration.follows
    assert set(alteration.undone_by) <= library().keys()
    assert all(alteration.slug in library()[other].undone_by for other in alteration.undone_by)
    for name in alteration.names:
        for text in (f"{name} 6 mm", f"6 mm, {name}"):
            assert understand(text, Unit.CM, library()).alteration is alteration


@pytest.mark.parametrize("slug", sorted(library()))
def test_an_alteration_is_carried_out_and_crosses_no_outline(slug: str) -> None:
    made = done(slug)
    assert made.pieces and made.operations
    for before, after in zip(made.before, made.after, strict=True):
        assert not self_crossings(after.outline)
        assert [e.name for e in after.edges] == [e.name for e in before.edges]
        assert any(a.path != b.path for a, b in zip(after.edges, before.edges, strict=True)) or (
            after.notches != before.notches
        )


# --- what the sources say of edges ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("slug", "edge"),
    [
        # Hinged at the armhole, which keeps its length (soniaestepdesigns.com).
        *(
            (slug, f"{p}.armhole")
            for slug in ("broad-shoulder", "narrow-shoulder")
            for p in ("back", "front")
        ),
        # Nothing at the side seam (sewingtrip.com; powersewing.com; petitmainsauvage).
        ("swayed-back", "back.side"),
        ("full-seat", "back.side"),
        ("flat-seat", "back.side"),
        # Hinged at the armhole, the side seam as long as the back's (blog.deer-and-doe.com).
        ("full-bust", "front.armhole"),
        ("full-bust", "front.side"),
        ("full-bust", "front.waist"),
        ("small-bust", "front.armhole"),
        ("small-bust", "front.side"),
        # The neck pinched out to the middle of the armhole, hinged there (Threads magazine).
        ("gaping-neck", "front.armhole"),
        # The shoulder keeps its length (fitthat.com).
        ("round-back", "back.shoulder"),
        ("erect-back", "back.shoulder"),
        ("hollow-chest", "front.shoulder"),
        # The cap keeps its length and becomes flatter (dresspatternmaking.com).
        ("full-upper-arm", "sleeve.cap"),
        # The armhole is moved whole about the neck point (dresspatternmaking.com).
        *(
            (slug, f"{p}.armhole")
            for slug in ("sloping-shoulder", "square-shoulder")
            for p in ("back", "front")
        ),
        # Nothing at the neck (a deduction from rivetpatterns.com).
        ("forward-shoulder", "back.shoulder"),
        ("forward-shoulder", "front.shoulder"),
    ],
)
def test_the_edge_at_the_hinge_keeps_its_length(slug: str, edge: str) -> None:
    assert change(slug, edge) == pytest.approx(0.0, abs=1.6)


@pytest.mark.parametrize(
    ("slug", "edge", "times"),
    [
        ("swayed-back", "back.centre", -1.0),
        ("round-back", "back.centre", 1.0),
        ("erect-back", "back.centre", -1.0),
        ("hollow-chest", "front.centre", -1.0),
        ("sloping-shoulder", "back.side", -1.0),
        ("square-shoulder", "front.side", 1.0),
        ("lengthen-bodice", "front.centre", 1.0),
        ("shorten-skirt", "back.side", -1.0),
        ("lengthen-sleeve", "sleeve.back_seam", 1.0),
        ("shorten-leg", "front.inside", -1.0),
        ("gaping-neck", "front.neck", -1.0),
        ("larger-neck", "back.shoulder", -1.0),
        ("smaller-neck", "front.shoulder", 1.0),
        ("let-out-sides", "back.waist", 1.0),
        ("take-in-waist", "front.waist", -1.0),
        ("let-out-hip", "front.hem", 1.0),
        ("let-out-leg", "back.hem", 2.0),
        ("full-abdomen", "front.centre", 1.0),
        ("deeper-armhole", "back.side", -1.0),
    ],
)
def test_an_edge_changes_by_the_amount(slug: str, edge: str, times: float) -> None:
    assert change(slug, edge) == pytest.approx(times * most(slug), rel=0.08, abs=0.4)


def test_back_and_front_share_a_longer_crotch() -> None:
    # The fork let out, half on each piece (a deduction; the way from L. Loftin).
    added = change("longer-crotch", "back.crotch") + change("longer-crotch", "front.crotch")
    assert 0.5 * most("longer-crotch") < added <= most("longer-crotch")
    assert change("longer-crotch", "back.inside") == pytest.approx(
        change("longer-crotch", "front.inside"), abs=0.1
    )


def test_what_the_front_loses_at_the_shoulder_the_back_gets() -> None:
    # Stooping: the back gets what the front loses, not enlarged (G. F. Hertzer, Garment Cutting).
    tips = {}
    for before, after in zip(done("forward-shoulder").before, done("forward-shoulder").after, strict=True):
        if before.name in ("back", "front"):
            tips[before.name] = before.edge("shoulder").path, after.edge("shoulder").path
    moved = {name: new.end.y - old.end.y for name, (old, new) in tips.items()}
    assert moved["back"] < 0 < moved["front"]
    assert moved["back"] == pytest.approx(-moved["front"], rel=0.15)


@pytest.mark.parametrize("slug", ["deeper-armhole", "higher-armhole", "let-out-sides", "take-in-sides"])
def test_the_sleeve_still_fits_the_armhole(slug: str) -> None:
    holes = change(slug, "back.armhole") + change(slug, "front.armhole")
    assert change(slug, "sleeve.cap") == pytest.approx(holes, abs=1.0)


def test_a_fuller_bust_widens_the_front_by_the_amount_and_its_dart_takes_more() -> None:
    # The gap is half the total, on one half front; the waist is levelled (blog.deer-and-doe.com).
    [before], [after] = done("full-bust").before, done("full-bust").after
    was, now = ({d.name: d.intake for d in p.darts} for p in (before, after))
    assert now["waist_dart"] - was["waist_dart"] == pytest.approx(most("full-bust"), abs=0.5)
    assert now["bust_dart"] > was["bust_dart"] + 5.0
    for dart in after.darts:
        assert dart.legs[0].distance(dart.apex) == pytest.approx(dart.legs[1].distance(dart.apex), abs=0.05)


# --- worked figures -------------------------------------------------------------------------------------------

LEVELS = (0.0, 60.0, 130.0, 200.0, 260.0)
"""mm down at bust, under the bust, waist, belly and hip."""


def panel(rounds: tuple[float, ...], share: float) -> Piece:
    """A panel as wide as its share of the round at five levels; its left edge is straight."""
    right = [Point(10 * cm * share, y) for cm, y in zip(rounds, LEVELS, strict=True)]
    left = [Point(0.0, LEVELS[-1]), Point(0.0, 0.0)]
    edges = [
        Edge("top", Path.line(left[1], right[0])),
        Edge("side", Path(tuple(Line(a, b) for a, b in pairwise(right)))),
        Edge("hem", Path.line(right[-1], left[0])),
        Edge("inner", Path.line(*left)),
    ]
    return make_piece("panel", "Panel", edges, Cut(2, mirrored=True), {})


def widths(piece: Piece) -> list[float]:
    """cm across at the five levels."""
    side, inner = (piece.edge(name).path.flatten(0.01) for name in ("side", "inner"))

    def across(line: list[Point], y: float) -> float:
        return min(line, key=lambda p: abs(p.y - y)).x

    return [(across(side, y) - across(inner, y)) / 10 for y in LEVELS]


def altered(piece: Piece, edge: str, amounts: tuple[float, ...]) -> Piece:
    """The edge moved by so many cm at each level, out where more than 0."""
    sign = 1 if edge == "side" else -1
    at = [Point(x * 10, y) for x, y in zip(widths(piece), LEVELS, strict=True)]
    if edge == "inner":
        at = [Point(0.0, y) for y in LEVELS]
    return shifted(piece, [Shift(p, Point(sign * 10 * cm, 0.0)) for p, cm in zip(at, amounts, strict=True)])


@pytest.mark.parametrize(
    ("pattern", "side", "inner", "inner_edges", "client"),
    [
        # T. Kozorovitsky, corset-dress course, tutorials 6 and 7: bust, under bust, waist, belly, hip, in cm. `side` is
        # what the side edges of one half take, `inner` what each of four inner edges takes.
        ((92, 82, 77, 97, 102), (-1,) * 5, (0, -0.75, 0, -0.5, 0), 4, (90, 77, 75, 93, 100)),
        ((92, 82, 77, 97, 102), (-3,) * 5, (-0.25, -0.5, 0, 0, 0), 4, (85, 74, 71, 91, 96)),
    ],
)
def test_the_sum_over_the_edges_is_the_whole(
    pattern: tuple[float, ...],
    side: tuple[float, ...],
    inner: tuple[float, ...],
    inner_edges: int,
    client: tuple[float, ...],
) -> None:
    half = panel(pattern, 0.5)
    taken = altered(half, "side", side)
    # Two inner edges of a half are one seam: both are taken together here.
    taken = altered(taken, "inner", tuple(each * inner_edges / 2 for each in inner))
    assert [2 * w for w in widths(taken)] == pytest.approx(client, abs=0.01)


def test_front_and_back_take_different_shares_and_the_inner_edges_the_rest() -> None:
    # T. Kozorovitsky, corset-dress course, tutorial 4: bust 93 to 102 cm, 3 on each front side and 1.5 on each back
    # side; under the bust 80 and 2 and 0.5 there, which is 85; the client has 82, so 0.75 off each of four inner edges.
    front, back = panel((93, 80, 80, 80, 80), 0.25), panel((93, 80, 80, 80, 80), 0.25)
    front, back = altered(front, "side", (3, 2, 0, 0, 0)), altered(back, "side", (1.5, 0.5, 0, 0, 0))
    rounds = [2 * (a + b) for a, b in zip(widths(front), widths(back), strict=True)]
    assert rounds[:2] == pytest.approx((102, 85), abs=0.01)
    front, back = (altered(each, "inner", (0, -0.75, 0, 0, 0)) for each in (front, back))
    assert [2 * (a + b) for a, b in zip(widths(front), widths(back), strict=True)][:2] == pytest.approx(
        (102, 82), abs=0.01
    )


def test_a_trouser_hem_of_seventeen_inches_is_half_an_inch_more_on_each_side_of_the_back_crease() -> None:
    # Howland (Threads magazine): front (17 - 1) / 4 = 4 in on each side of the crease, back (17 + 1) / 4 = 4 1/2; so 8
    # and 9. Our block has 2 cm between them, not 1 in. A wider leg taken in on four edges alike comes to the same.
    def hems(round_the_foot: str, *texts: str) -> list[float]:
        body = with_choices(demo_client("hester-pellow"), "trousers-block", hem_round=round_the_foot)
        lines = tuple(FittingLine(DAY, "trousers-block", text, Place("x", 1)) for text in texts)
        draft = draft_style(demo_style("trousers-block"), replace(body, fittings=lines), Settings())
        assert len(draft.fittings) == len(texts)
        return [sewn_length(draft.pieces[name], "hem") / INCH for name in ("front", "back")]

    assert hems("17 in") == pytest.approx((8.0, 9.0), abs=0.12)
    assert sum(hems("17 in")) == pytest.approx(17.0, abs=0.01)
    assert hems("18 1/2 in", "leg taken in 1 1/2 in in all") == pytest.approx(hems("17 in"), abs=0.01)


def test_four_inches_over_six_inner_edges_of_a_half() -> None:
    # The hip 44 in pattern has a waist of 30, the client's is 34: 2 in on each half (older Butterick manual); even over
    # six inner edges that is a third of an inch each (a deduction).
    assert pytest.approx((34 - 30) * INCH) == 2 * 6 * (1 / 3) * INCH
    line = understand("waist let out 4 in in all", Unit.IN, library())
    assert line.amount == pytest.approx(INCH)  # over the four edges of two side seams


def test_two_inches_let_out_at_the_centre_back_lie_one_inch_outside_on_each_piece() -> None:
    # sewcreatelive: let out 2 in, the new line 1 in outside on each piece.
    assert understand("centre back let out 2 in in all", Unit.IN, library()).amount == pytest.approx(INCH)


@pytest.mark.parametrize(
    "text",
    [
        # What is wrong is the opposite of what is done: “sleeve too short” once shortened the sleeve.
        "sleeve too short 1 cm",
        "skirt too long 2 cm",
        "sleeve short 1 cm",
        "armhole low 1 cm",
        "thigh too wide 1 cm",
        "crotch too short 1 cm",
        "swayed back -6 mm",
        "hip let out −0.5 cm",
        "full seat 1 and a half",
        "hip let out 1 × 2",
        "swayed back 6 %",
        "right shoulder, left 5 mm lower",
        "hip let out 0.2 mm",
    ],
)
def test_a_change_that_may_be_meant_the_other_way_is_not_taken(text: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        understand(text, Unit.CM, library())
    assert refused.value.hint


@pytest.mark.parametrize(
    ("text", "mm"),
    [("1-in", 25.4), ("1/4''", 6.35), (".5 cm", 5.0), ("- 6 mm", 6.0), ("0.6", 6.0)],
)
def test_amounts_of_a_change_are_read_as_they_are_written(text: str, mm: float) -> None:
    assert understand(f"swayed back {text}", Unit.CM, library()).amount == pytest.approx(mm)
    both = understand("left and right shoulder low 5 mm", Unit.CM, library())
    assert (both.alteration.slug, both.side) == ("sloping-shoulder", "both")


# --- taken back ------------------------------------------------------------------------------------------------

NOT_EXACTLY = {
    "broad-shoulder": "the shoulder is redrawn straight and the armhole trued",
    "full-bust": "the hinge lies elsewhere on the altered armhole",
    "full-seat": "the dart is trued",
    "lengthen-bodice": "the side is trued again from another length",
    "lengthen-leg": "half way along the side is another place",
    "deeper-armhole": "half way along the armhole is another place",
    "let-out-sides": "half way along the armhole is another place",
    "round-back": "the armhole is trued",
    "square-shoulder": "the armhole is trued",
}
"""Alterations that do not come back within 0.1 mm when the opposite is made, and why; they do within 2 mm."""

PAIRS = sorted({tuple(sorted((a.slug, other))) for a in library().values() for other in a.undone_by})


def in_turn(garment: str, *lines: str) -> Draft:
    fittings = tuple(
        FittingLine(DAY + datetime.timedelta(n), f"sample-{garment}", text, Place("handbook", n + 1))
        for n, text in enumerate(lines)
    )
    return draft_style(samples()[garment], replace(neutral_client(), fittings=fittings), Settings())


@cache
def plain(garment: str) -> Draft:
    return in_turn(garment)


@pytest.mark.parametrize(("one", "other"), PAIRS)
def test_applied_and_taken_back_the_outline_returns(one: str, other: str) -> None:
    within = 2.0 if {one, other} & NOT_EXACTLY.keys() else 0.12
    amount = min(library()[one].usual[1], library()[other].usual[1])
    garment = done(one).on.removeprefix("sample-")
    again = in_turn(garment, *(f"{library()[slug].names[0]} {amount:g} mm" for slug in (one, other)))
    assert len(again.fittings) == 2
    for name, piece in plain(garment).pieces.items():
        for edge in piece.edges:
            back = again.pieces[name].edge(edge.name).path
            off = max(back.nearest(edge.path.point_at(edge.path.length * k / 10))[1] for k in range(11))
            assert off < within, (name, edge.name)


# --- bad input -------------------------------------------------------------------------------------------------


def test_two_that_undo_each_other_are_both_left_out() -> None:
    fittings = tuple(
        FittingLine(DAY, "sample-bodice", text, Place("handbook", n))
        for n, text in enumerate(("broad shoulder 6 mm", "narrow shoulder 4 mm"), 1)
    )
    draft = draft_style(samples()["bodice"], replace(neutral_client(), fittings=fittings), Settings())
    told = [f.message for f in draft.findings if f.code == "not-altered"]
    assert len(told) == 2 and all("undo each other" in message for message in told)
    assert draft.pieces == plain("bodice").pieces


def test_what_two_fittings_take_together_is_held_to_the_limit() -> None:
    draft = in_turn("bodice", "shoulder lower 15 mm", "shoulder lower 15 mm")
    assert len(draft.fittings) == 1
    assert any("in all" in f.message for f in draft.findings if f.code == "not-altered")


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("sway bak 6 mm", "swayed back"),
        ("squar shoulder 6 mm", "square shoulder"),
        ("ful bust 6 mm", "full bust"),
    ],
)
def test_a_name_misspelt_has_the_nearest_one_suggested(text: str, hint: str) -> None:
    with pytest.raises(NotUnderstood) as told:
        understand(text, Unit.CM, library())
    assert hint in told.value.hint


def test_words_in_any_order_fractions_and_sides() -> None:
    for text in ("right shoulder 1/4 lower", "shoulder lower on the right 1/4", "1/4 lower, right shoulder"):
        line = understand(text, Unit.IN, library())
        assert (line.alteration.slug, line.amount, line.side) == ("sloping-shoulder", 6.35, "right")


def test_a_studio_s_own_alteration_comes_before_the_catalogue_s(tmp_path: FilePath) -> None:
    path = tmp_path / "swayed-back.md"
    text = (
        "---\ntitle: Hollow back\nnames: hollow back\nsign: Folds.\npin: Pin.\namount: what is taken\n"
        "usual: 2 mm to 4 mm\nlimit: 5 mm\nbelongs to: body\nturn: length\nsource: own\n---\n\n"
        "```draft\nwith back.centre_waist\nshift back, amount up at centre_waist\n```\n"
    )
    path.write_text(text)
    own = read_alteration(path, tmp_path)
    assert own.ok
    client = replace(
        neutral_client(), fittings=(FittingLine(DAY, "sample-bodice", "hollow back 4 mm", Place("x", 1)),)
    )
    draft = draft_style(samples()["bodice"], client, Settings(alterations=(own,)))
    assert draft.fittings[0].title == "Hollow back"
    path.write_text(
        text.replace("usual: 2 mm to 4 mm\n", "usal: 2 mm\n").replace("with back.centre_waist\n", "")
    )
    wrong = read_alteration(path, tmp_path)
    assert next(f.place.line for f in wrong.findings if f.place) == 7
    assert "Did you mean “usual”?" in wrong.findings[0].hint
    assert any("names the landmarks it needs" in f.message for f in wrong.findings)
