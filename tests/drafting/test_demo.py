"""The demo studio's styles, drafted for every demo client they are meant for."""

from __future__ import annotations

import math
import re
from itertools import pairwise

import pytest

from catalogue.drafting.record import draft_record
from catalogue.geometry import self_crossings, signed_area
from catalogue.pattern.measure import sewn_length
from tests.drafting.people_and_styles import (
    DEMO_CLIENTS,
    DEMO_STYLES,
    INCH,
    ROOT,
    demo_client,
    demo_draft,
    demo_style,
    draft,
    person,
    suited,
    with_choices,
)
from tests.extent import one_each

WOMEN = [c for c in DEMO_CLIENTS if demo_client(c).kind == "woman"]


def test_the_demo_has_its_styles_and_clients():
    assert {"bodice-block", "straight-skirt", "circle-skirt"} <= set(DEMO_STYLES)
    assert {demo_client(c).kind for c in DEMO_CLIENTS} >= {"woman", "man", "girl"}
    assert len(suited()) >= 15


# That no draft of the demo has an error is seen where all of it is built: `tests.building.test_demo`.
DRAFTED = one_each(suited())


@pytest.mark.parametrize(("style", "client"), DRAFTED)
def test_every_style_drafts_for_a_client_it_suits(style, client):
    made = demo_draft(style, client)
    assert [str(f) for f in made.findings if f.is_error] == []
    assert made.ok
    assert made.seams or made.style.receives
    assert made.checks
    assert all(f.ok for f in made.finished)
    assert set(made.rendered.values()).isdisjoint({"", "…"})
    for piece in made.pieces.values():
        assert not self_crossings(piece.outline), piece.name
        assert piece.grain is not None
        assert all(e.fold or e.allowance is not None for e in piece.edges), piece.name


def finished_hip(made):
    """The hip girth of a skirt, measured off its pieces, mm."""
    return next(f.garment for f in made.finished if f.name == "hip girth")


@pytest.mark.parametrize("client", [c for c in DEMO_CLIENTS if ("straight-skirt", c) in suited()])
def test_straight_skirt_goes_together(client):
    made = draft(demo_style("straight-skirt"), demo_client(client))
    front, back = made.pieces["front"], made.pieces["back"]
    assert sewn_length(front, "side") == pytest.approx(sewn_length(back, "side"), abs=1.0)
    waist = 2 * (sewn_length(front, "waist") + sewn_length(back, "waist"))
    body = {key: m.mm for key, m in demo_client(client).measurements.items()}
    # Skirt waist 1/2 to 3/4 in, hip 2 to 2 3/4 in: Costume text, ch. 16 "Ease in Clothing" (S. Robinson, Central
    # Washington University). Skirt waist 2.4 cm, hip 5 cm: WikiEducator, Handout for drafting skirt block.
    assert 0.5 * INCH <= waist - body["waist_girth"] <= 24
    hip = finished_hip(made) - body["hip_girth"]
    assert 50 - 0.01 <= hip <= 2.75 * INCH


SHAPES = {
    "a small child": ("48", "52", "10", "25"),
    "a child as wide at the waist as at the hip": ("54", "54", "12", "34"),
    "a waist larger than the hip": ("110", "100", "20", "58"),
    "hardly any difference": ("100", "101", "20", "58"),
    "a very great difference": ("60", "115", "22", "60"),
    "very large": ("130", "165", "26", "60"),
}


@pytest.mark.parametrize("ease", ["4 cm", "7.5 cm"])
@pytest.mark.parametrize("drop", ["0 cm", "1.25 cm"])
@pytest.mark.parametrize("shape", SHAPES.values(), ids=[n.replace(" ", "-") for n in SHAPES])
def test_straight_skirt_takes_every_shape(shape, drop, ease):
    waist, hip, hip_depth, knee = shape
    body = person(waist_girth=waist, hip_girth=hip, waist_to_hip=hip_depth, waist_to_knee=knee)
    made = draft(
        demo_style("straight-skirt"),
        with_choices(body, "straight-skirt", hip_ease=ease, back_waist_drop=drop),
    )
    assert [str(f) for f in made.findings if f.is_error] == []
    assert made.ok
    girth = finished_hip(made)
    assert girth + 0.1 >= max(float(hip) * 10 + 40, float(waist) * 10)
    # Side and darts together take exactly what lies between hip and waist, and none of them less than nought.
    for name in ("front", "back"):
        piece = made.pieces[name]
        assert all(d.intake > 10 for d in piece.darts), "a dart that is worth sewing"
        if girth - (float(waist) * 10 + 15) < 0.4:
            assert not piece.darts
        assert sewn_length(piece, "waist") == pytest.approx((float(waist) * 10 + 15) / 4, abs=0.1)


@pytest.mark.parametrize("flare", ["full", "half", "quarter"])
@pytest.mark.parametrize("client", DEMO_CLIENTS)
@pytest.mark.parametrize("ease", ["0 cm", "1 cm", "3 cm"])
@pytest.mark.parametrize("cloth", ["90 cm", "150 cm", "300 cm"])
def test_circle_skirt_waist_is_the_arc_of_its_radius(client, flare, ease, cloth):
    # Closed form: a circle of radius r measures 2 pi r round.
    who = with_choices(demo_client(client), "circle-skirt", flare=flare, waist_ease=ease, cloth_width=cloth)
    made = draft(demo_style("circle-skirt"), who)
    assert [str(f) for f in made.findings if f.is_error] == []
    assert made.ok
    share = {"full": 1.0, "half": 0.5, "quarter": 0.25}[flare]
    edge = who.measurements["waist_girth"].mm + {"0 cm": 0, "1 cm": 10, "3 cm": 30}[ease]
    radius = edge / (2 * math.pi * share)
    assert made.values["waist_radius"].value == pytest.approx(radius, abs=1e-6)
    skirts = [p for name, p in made.pieces.items() if not name.startswith("band")]
    # Each drawn half is laid on the fold or cut as a pair: it counts twice.
    assert all(p.cut.on_fold or p.cut.count == 2 for p in skirts)
    waists = [2 * p.edge("waist").path.length for p in skirts]
    hems = [2 * p.edge("hem").path.length for p in skirts]
    length = made.values["skirt_length"].value
    assert sum(waists) == pytest.approx(edge, abs=0.1)
    assert sum(hems) == pytest.approx(2 * math.pi * share * (radius + length), abs=0.1)
    # The area of a part of a ring.
    area = share * math.pi * ((radius + length) ** 2 - radius**2)
    assert 2 * sum(abs(signed_area(p.outline)) for p in skirts) == pytest.approx(area, rel=1e-5)
    for piece in skirts:
        if piece.cut.on_fold:
            assert piece.outline.bounds().width + 15 <= made.values["cloth_width"].value / 2


# --- common practice, no source -----------------------------------------------------------------------------


@pytest.mark.parametrize("client", WOMEN)
def test_bodice_side_seams_match_and_the_cap_measures_the_armhole(client):
    made = draft(demo_style("bodice-block"), demo_client(client))
    for half in made.halves or (made,):  # a client whose two halves differ has one draft for each
        front, back, sleeve = (half.pieces[n] for n in ("front", "back", "sleeve"))
        assert sewn_length(front, "side") == pytest.approx(sewn_length(back, "side"), abs=1.0)
        armhole = front.edge("armhole").path.length + back.edge("armhole").path.length
        ease = sleeve.edge("cap").path.length - armhole
        assert ease == pytest.approx(made.values["cap_ease"].value, abs=0.1)


# --- a draft is a pure function -----------------------------------------------------------------------------


@pytest.mark.parametrize(("style", "client"), DRAFTED[::3])
def test_drafting_twice_gives_the_same(style, client):
    first = demo_draft(style, client)
    second = draft(demo_style(style), demo_client(client))
    assert first == second
    assert draft_record(first) == draft_record(second)


def test_prose_is_spoken_in_the_units_of_the_client():
    for client, unit in (("ines", "cm"), ("hester-pellow", "in")):
        made = draft(demo_style("circle-skirt"), demo_client(client))
        lengths = [t for t in made.rendered.values() if not re.fullmatch(r"[\d. /]+|[a-z]+|[\d.]+°", t)]
        assert len(lengths) > 15
        assert all(t.endswith(f" {unit}") for t in lengths), lengths


def test_prose_speaks_the_figure_of_its_formula():
    made = draft(demo_style("circle-skirt"), with_choices(person(waist_girth="70", waist_to_knee="60", hip_girth="95",
                 waist_to_hip="20"), "circle-skirt", flare="half", waist_ease="1"))  # fmt: skip
    rendered = {f.text: made.rendered[f.index] for s in made.style.sections for p in s.parts
              if hasattr(p, "formulas") for f in p.formulas if f.index in made.rendered}  # fmt: skip
    assert rendered["flare"] == "half"
    assert rendered["share"] == "0.5"
    assert rendered["waist_edge"] == "71 cm"
    assert rendered["waist_radius"] == "22.6 cm"  # 71 / pi
    assert rendered["hem_radius"] == "82.6 cm"


# --- draft.json ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("style", "client"), DRAFTED)
def test_record_tells_the_draft(style, client):
    made = demo_draft(style, client)
    record = draft_record(made)
    assert (record["style"], record["client"], record["ok"]) == (style, client, True)
    for key in ("values", "points", "pieces", "checks", "steps"):
        assert record[key], key
    for name, entry in record["pieces"].items():
        piece = made.pieces[name]
        assert set(entry["edges"]) == {e.name for e in piece.edges}
        assert entry["cut"]["count"] >= 1
        outline = entry["outline"]
        assert outline[0] == outline[-1]
        assert len(outline) > 3
        # The listed outline has the length of the edges and the area of the piece, within what flattening costs.
        around = sum(math.dist(a, b) for a, b in pairwise(outline))
        edges = sum(e["length"] for e in entry["edges"].values())
        assert around == pytest.approx(edges, rel=1e-3)
        shoelace = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise(outline)) / 2
        assert abs(shoelace) == pytest.approx(abs(entry["area_mm2"]), rel=1e-3)
        assert all(e["sewn_length"] <= e["length"] + 1e-3 for e in entry["edges"].values())
    for value in record["values"].values():
        assert set(value) <= {"value", "unit"}
    for step in record["steps"]:
        for working in step["workings"]:
            assert set(working) == {"name", "formula", "numbers_put_in", "result"}
            assert working["result"]
    assert [s["number"] for s in record["steps"]] == list(range(1, len(record["steps"]) + 1))


def test_the_yoke_is_lined_with_itself_and_so_cut_twice():
    made = draft(demo_style("yoked-shirt"), demo_client(next(c for s, c in suited() if s == "yoked-shirt")))
    yoke = made.pieces["yoke"].cut
    assert (yoke.count, yoke.on_fold, yoke.cloth) == (2, True, "main")
    assert draft_record(made)["pieces"]["yoke"]["cut"]["count"] == 2


def test_no_style_says_that_allowance_is_still_to_be_added_to_the_prints():
    for slug, client in DRAFTED:
        text = " ".join((ROOT / "styles" / f"{slug}.md").read_text(encoding="utf-8").split())
        assert "added when the pieces are cut" not in text, slug
        assert "The printed pieces include the seam allowance" in text, slug
        made = demo_draft(slug, client)
        assert any(e.allowance for p in made.pieces.values() for e in p.edges), slug


def test_the_vent_is_snipped_on_the_back_whose_lap_lies_under():
    """Both laps lie to the left, so only the right back's allowance must change sides at the top of the vent."""
    text = " ".join((ROOT / "styles/straight-skirt.md").read_text(encoding="utf-8").split())
    assert "Snip the allowance of the **right** back at the top of the vent" in text
    assert "Leave the allowance of the left back whole" in text
