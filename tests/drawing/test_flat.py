"""The garment as a flat drawing: put together of its pieces, darts shut, symmetrical, on a figure of the client."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path as File
from xml.etree import ElementTree

import pytest
from shapely import Polygon, box

from catalogue.drafting import Draft, draft_style
from catalogue.drawing.assembly import half
from catalogue.drawing.body_outline import BREADTH, body_outline_for
from catalogue.drawing.flat import flat, garment_svg, why_no_flat
from catalogue.drawing.hanging import strip_height
from catalogue.drawing.patch import follow, patch_of
from catalogue.drawing.pieces_worn import BACK, FRONT, view_of
from catalogue.drawing.view import View
from catalogue.findings import Place
from catalogue.geometry import Path, Point
from catalogue.lengths import Unit, Units
from catalogue.pattern import Cut, Dart, Edge, InnerLine, Notch, Piece, Pleat
from catalogue.people import Client, Measured
from catalogue.people.client import Chosen
from catalogue.site.neutral import standard_person
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from catalogue.studio.suiting import suits
from tests.demo import demo_clients, demo_styles
from tests.drafting.people_and_styles import demo_draft
from tests.extent import one_each

ROOT = File(__file__).parents[2]
SKIRT = """---
title: Slip
---
# Drafting
```draft
top = start
low = 60 cm down from top
side_top = waist_girth / 4 + 3 cm right from top
side_low = hip_girth / 4 + 2 cm right from low
foot = midway top to side_top
piece front "Front", cut 1 on fold
  outline centre: top to low, fold
          hem: low to side_low
          side: side_low to side_top
          waist: side_top to top
dart front.waist, middle at foot, intake 3 cm, length 9 cm
piece back "Back", cut 2
  outline centre: top to low
          hem: low to side_low
          side: side_low to side_top
          waist: side_top to top
dart back.waist, middle at foot, intake 3 cm, length 12 cm
sew front.side to back.side
```
"""
BODY = {"waist_girth": 720.0, "hip_girth": 980.0, "waist_to_hip": 200.0}


def person(kind: str = "woman", **lengths: float) -> Client:
    taken = {key: Measured(mm, f"{mm}", None, Place("c.md")) for key, mm in (BODY | lengths).items()}
    return Client("c", "c.md", "C", kind, Units(Unit.CM), measurements=taken)


def drafted(source: str = SKIRT, **changes: str) -> Draft:
    for old, new in changes.items():
        source = source.replace(old, new)
    draft = draft_style(style_from(source.encode(), "slip", "slip.md"), person(), Settings())
    assert draft.pieces, [str(f) for f in draft.findings]
    return draft


def across(view: View, level: float) -> tuple[float, float]:
    """Left and right end of a view at a level."""
    line = [*view.outline, view.outline[0]]
    xs = [
        a.x + (b.x - a.x) * (level - a.y) / (b.y - a.y)
        for a, b in pairwise(line)
        if (a.y - level) * (b.y - level) <= 0 and a.y != b.y
    ]
    return min(xs), max(xs)


def test_darts_are_shut_and_halves_mirrored() -> None:
    made = flat(drafted())
    assert made is not None
    for view in (made.front, made.back):
        left, right = across(view, 1.0)
        # A quarter of the waist, the dart gone, as wide as it is seen from the front.
        assert right == pytest.approx(720 / 4 * BREADTH, abs=2.0)
        assert left == pytest.approx(-right, abs=0.5)
        left, right = across(view, 599.0)
        assert right == pytest.approx((980 / 4 + 20) * BREADTH, abs=1.0) and left == pytest.approx(
            -right, abs=0.5
        )


def test_the_middle_is_a_line_only_where_there_is_a_seam() -> None:
    made = flat(drafted())
    assert made is not None

    def upright(view: View) -> int:
        return sum(
            kind == "seam" and all(abs(p.x) < 0.1 for p in line) and abs(line[0].y - line[-1].y) > 500
            for kind, line, _ in view.strokes
        )

    assert upright(made.front) == 0 and upright(made.back) > 0


def test_each_dart_is_a_line_from_the_edge_to_its_point() -> None:
    made = flat(drafted())
    assert made is not None
    for view, length in ((made.front, 90.0), (made.back, 120.0)):
        darts = [line for kind, line, _ in view.strokes if kind == "dart"]
        assert len(darts) == 2  # one on each half
        for dart in darts:
            assert abs(dart[0].y - dart[-1].y) == pytest.approx(length, abs=2.0)


BAND = """piece band "Waistband", cut 1
  outline end: b1 to b2
          upper: b2 to b3
          other: b3 to b4
          lower: b4 to b1
sew front.side"""


def test_a_band_stands_on_the_edge_it_is_sewn_to() -> None:
    points = "top = start\nb1 = 5 cm up from start\nb2 = 4 cm up from b1\nb4 = 40 cm right from b1\n"
    banded = drafted(
        SKIRT.replace("top = start\n", points + "b3 = 4 cm up from b4\n").replace("sew front.side", BAND)
        + "",
        **{
            "to back.side\n": "to back.side\nsew front.waist and back.waist to band.lower, ease -10 cm to 40 cm\n"
        },
    )
    plain, made = flat(drafted()), flat(banded)
    assert plain is not None and made is not None
    tops = [min(p.y for p in f.front.outline) for f in (plain, made)]
    assert tops[0] - tops[1] == pytest.approx(40.0, abs=1.0)


def test_pieces_that_don_t_say_where_they_belong_give_no_flat() -> None:
    assert flat(drafted(**{'"Front"': '"One part"', "front": "one_part"})) is None
    assert garment_svg(replace(drafted(), pieces={})) is None


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (
            'piece front "Front"',
            'piece one_part "One part"',
            "no piece of main cloth has “front” in its name",
        ),
        (
            'back "Back", cut 2\n  outline centre:',
            'back "Back", cut 2\n  outline inner:',
            "no edge of “Back” lies at the middle of the body; call it “centre”, or put it on the fold",
        ),
        (
            "sew front.side",
            'piece side_back "Side back", cut 2\n  outline centre: top to low\n    hem: low to side_low\n'
            "    side: side_low to side_top\n    waist: side_top to top\nsew front.side",
            "no seam joins one edge of “Side back” to one edge of “Back”; "
            "a line such as “sew side_back.side to back.side” does",
        ),
        (
            "sew front.side",
            'piece sleeve "Sleeve", cut 2\n  outline cap: top to low\n    hem: low to side_low\n'
            "    side: side_low to side_top\n    waist: side_top to top\nsew front.side",
            "“Sleeve” needs an edge called “armhole” on the front and on the back",
        ),
    ],
)
def test_what_stops_the_drawing_is_told(old: str, new: str, told: str) -> None:
    source = SKIRT.replace(old, new)
    if "one_part" in new:
        source = source.replace("front.", "one_part.")
    made = drafted(source)
    assert flat(made) is None and why_no_flat(made) == told


def test_nothing_is_told_where_the_garment_is_drawn_or_the_style_wants_no_drawing() -> None:
    made = drafted()
    assert flat(made) is not None and why_no_flat(made) == ""
    apart = drafted(**{'"Front"': '"One part"', "front": "one_part"})
    assert why_no_flat(apart) and why_no_flat(replace(apart, style=replace(apart.style, flat=False))) == ""


def test_the_file_is_well_formed_and_says_what_it_shows() -> None:
    draft = drafted()
    svg = garment_svg(replace(draft, style=replace(draft.style, title="Slip & <co>")))
    assert svg is not None and "Slip &amp; &lt;co&gt;, front and back" in svg
    root = ElementTree.fromstring(svg)
    left, top, wide, high = map(float, root.attrib["viewBox"].split())
    for x, y in re.findall(
        r"[ML ]([-\d.]+) ([-\d.]+)", " ".join(re.findall(r'class="edge" d="([^"]+)"', svg))
    ):
        assert left <= float(x) <= left + wide and top <= float(y) <= top + high
    assert len(svg) < 30_000


def square(name: str = "front", **changes: object) -> Piece:
    corners = [Point(0, 0), Point(200, 0), Point(200, 300), Point(0, 300), Point(0, 0)]
    edges = tuple(
        Edge(edge, Path.polyline([a, b]), fold=edge == "centre")
        for edge, a, b in zip(("waist", "side", "hem", "centre"), corners, corners[1:], strict=False)
    )
    return replace(Piece(name, name.title(), edges, Cut(1, on_fold=True)), **changes)  # type: ignore[arg-type]


def test_a_dart_at_the_side_is_folded_out_right_across() -> None:
    dart = Dart("side", "side", Point(90, 110), (Point(200, 90), Point(200, 120)))
    patch = patch_of(square(darts=(dart,)))
    assert patch.box.height == pytest.approx(270)
    assert patch.edges["side"][-1].y == pytest.approx(270) and patch.edges["centre"][0].y == pytest.approx(
        270
    )


def test_a_dart_with_two_ends_takes_the_waist_in_and_leaves_the_ends() -> None:
    dart = Dart("waist", "", Point(100, 50), (Point(90, 150), Point(110, 150)), far_apex=Point(100, 250))
    piece = square(darts=(dart,))
    side = Path.polyline([Point(200, 0), Point(200, 150), Point(200, 300)])
    piece = replace(piece, edges=tuple(replace(e, path=side) if e.name == "side" else e for e in piece.edges))
    points = patch_of(piece).edges["side"]
    assert [round(p.x) for p in points if p.y in (0, 150, 300)] == [200, 180, 200]


def test_the_side_away_from_the_middle_comes_in() -> None:
    dart = Dart("waist", "waist", Point(100, 90), (Point(85, 0), Point(115, 0)))
    right, left = patch_of(square(darts=(dart,))), patch_of(square(darts=(dart,)), outward=-1)
    assert right.edges["waist"][0].x == pytest.approx(0) and right.edges["waist"][-1].x == pytest.approx(170)
    # Turned over first, so that the edge at x = 200 is the one that comes in.
    assert left.box.left == pytest.approx(-200) and left.box.right == pytest.approx(-0, abs=30)


def test_a_pleat_folded_from_edge_to_edge_counts_once() -> None:
    folds = tuple(InnerLine(Path.polyline([Point(x, 0), Point(x, 300)]), "pleat") for x in (80, 120))
    pleats = (
        Pleat("a", "waist", (Point(80, 0), Point(120, 0))),
        Pleat("b", "hem", (Point(120, 300), Point(80, 300))),
    )
    patch = patch_of(square(lines=folds, pleats=pleats))
    assert patch.box.width == pytest.approx(160)
    assert [kind for kind, _ in patch.lines] == ["pleat"]


def test_a_panel_lies_on_all_of_its_seam() -> None:
    curved = [Point(200, 0), Point(185, 100), Point(190, 200), Point(200, 300)]
    patch = patch_of(square())
    own = replace(square("back"), edges=square("back").edges)
    laid = follow(patch_of(own), "side", curved)
    assert laid.edges["side"] == curved[::-1]
    # What lies on the other side moved along with its level.
    assert len({round(p.x) for p in laid.edges["centre"]}) > 1 or len(laid.edges["centre"]) == 2
    assert patch.edges["side"][0] == Point(200, 0)


@pytest.mark.parametrize(
    ("name", "title", "view"),
    [("front", "Skirt front", FRONT), ("b", "Back", BACK), ("yoke", "Yoke", ""), ("x", "Front and back", "")],
)
def test_a_piece_belongs_where_its_name_says(name: str, title: str, view: str) -> None:
    assert view_of(square(name, title=title)) == view


def test_a_folded_band_shows_half_its_height() -> None:
    corners = [Point(0, 0), Point(400, 0), Point(400, 60), Point(0, 60), Point(0, 0)]
    edges = tuple(Edge(f"e{n}", Path.polyline([a, b])) for n, (a, b) in enumerate(pairwise(corners)))
    band = Piece("band", "Waistband", edges)
    assert strip_height(band) == 60
    fold = InnerLine(Path.polyline([Point(0, 30), Point(400, 30)]), "fold")
    assert strip_height(replace(band, lines=(fold,))) == 30


# ---- the figure ----


def test_the_figure_has_the_client_s_own_heights_and_widths() -> None:
    body = {"back_waist_length": 410.0, "waist_to_hip": 210.0, "waist_to_knee": 600.0, "waist_height": 1050.0}
    girths = {"bust_girth": 1000.0, "waist_girth": 800.0, "hip_girth": 1100.0}
    outline = body_outline_for(body | girths)
    assert (
        outline.y(281.0) == 0
        and outline.y(372.0) == 210
        and outline.y(546.0) == 600
        and outline.y(750.0) == 1050
    )
    side = outline.outlines()[2]
    for level, girth in ((0.0, 800.0), (210.0, 1100.0)):
        points = [p for p in walked(side) if abs(p.y - level) < 4]
        assert max(p.x for p in points) == pytest.approx(girth / 4 * BREADTH, rel=0.03)


def test_breadth_and_girth_agree_with_a_survey() -> None:
    # Waist and hip breadth over waist and hip girth, means of the women of the US Army survey of 2012
    # (NATICK/TR-15/007, public data): 297 and 861 mm at the navel, 357 and 1021 mm at the hip (from memory for the
    # breadths). A flat is drawn a little slimmer.
    for breadth, girth in ((297.0, 861.0), (357.0, 1021.0)):
        assert breadth / (girth / 2) == pytest.approx(BREADTH, abs=0.03)


def test_what_is_not_measured_is_taken_in_proportion() -> None:
    # Seven and a half heads to the height, the hips at half of it (A. Sundquist, Extension Circular 306, 1943).
    outline = body_outline_for({"height": 1500.0})
    lines = [p for line in outline.outlines() for p in line.flatten(1.0)]
    tall = max(p.y for p in lines) - min(p.y for p in lines)
    assert tall == pytest.approx(1500, rel=0.03)
    assert max(p.y for p in lines) - outline.y(372.0) == pytest.approx(750, rel=0.03)


def walked(path: Path) -> list[Point]:
    return [path.point_at(path.length * n / 400) for n in range(401)]


@pytest.mark.parametrize("girth", [500.0, 900.0, 1600.0])
def test_arms_hang_beside_the_body(girth: float) -> None:
    outline = body_outline_for(
        {"bust_girth": girth, "waist_girth": girth, "hip_girth": girth * 1.1, "height": 1600.0}
    )
    lines = outline.outlines()
    side, arm = lines[2], lines[6]
    for level in (outline.y(230.0), outline.y(300.0), outline.y(360.0)):
        body = max(p.x for p in walked(side) if abs(p.y - level) < 4)
        inner = min(p.x for p in walked(arm) if abs(p.y - level) < 4)
        assert inner > body - 12


# ---- the demo studio ----

STYLES = demo_styles()
CLIENTS = demo_clients()
PAIRS = {(s.slug, c.slug): (s, c) for s in STYLES for c in CLIENTS if s.flat and suits(s, c)}
DRAWN = one_each(PAIRS)


def covered(view: View) -> Polygon:
    return Polygon([(p.x, p.y) for p in view.outline])


def lopsided(view: View) -> float:
    """How much of a view has nothing opposite it, as a share of the whole."""
    mirrored = Polygon([(-p.x, p.y) for p in view.outline])
    return covered(view).symmetric_difference(mirrored).area / mirrored.area


def test_only_parts_are_shown_by_their_pieces_alone() -> None:
    assert {s.slug for s in STYLES if not s.flat} == {"set-in-sleeve", "shirt-collar", "shirt-cuff"}


@pytest.mark.parametrize(("style", "client"), DRAWN)
def test_every_garment_of_the_demo_is_drawn_whole_and_symmetrical(style: str, client: str) -> None:
    draft = demo_draft(style, client)
    made = flat(draft)
    assert made is not None
    for name, view in ((FRONT, made.front), (BACK, made.back)):
        assert covered(view).is_valid, f"{name} crosses itself"
        # Only what overlaps to be buttoned may differ between left and right, or what a fitting made differ.
        assert draft.halves or lopsided(view) < 0.01, name
    front, back = covered(made.front), covered(made.back)
    # Front and back are of one height, but for hems and necks, and as wide as each other at the sides.
    assert front.bounds[2] == pytest.approx(back.bounds[2], rel=0.12)
    assert front.bounds[3] == pytest.approx(back.bounds[3], abs=65)


@pytest.mark.parametrize("style", ["bodice-block", "notched-coat", "yoked-blouse"])
def test_where_halves_differ_each_side_is_drawn_as_its_own_draft_is(style: str) -> None:
    draft = demo_draft(style, "thuy-mien")  # let out on one side only
    whole, (right, left) = flat(draft), (flat(half) for half in draft.halves)
    assert whole and right and left
    wide = 10_000
    for name in ("front", "back"):
        seen, seen_right, seen_left = (getattr(each, name) for each in (whole, right, left))
        assert lopsided(seen) > 0.005 and lopsided(seen_right) < 0.001 and lopsided(seen_left) < 0.001, name
        # In front the wearer's right is on the left of the drawing.
        on_left, on_right = (seen_right, seen_left) if name == "front" else (seen_left, seen_right)
        for one, side in ((on_left, box(-wide, -wide, 0, wide)), (on_right, box(0, -wide, wide, wide))):
            apart = (covered(seen) & side).symmetric_difference(covered(one) & side)
            assert apart.area < 0.001 * covered(seen).area, name


def test_every_piece_of_the_outside_is_used() -> None:
    style = next(s for s in STYLES if s.slug == "princess-dress")
    client = next(c for c in CLIENTS if suits(style, c))
    draft = demo_draft(style.slug, client.slug)
    used = {p.name for view in (FRONT, BACK) for p in half(draft, view).patches}
    assert used == {"front_middle", "front_side", "back_middle", "back_side"}


def test_notches_do_not_matter_to_a_patch() -> None:
    assert patch_of(square(notches=(Notch("side", Point(200, 100)),))) == patch_of(square())


@pytest.mark.parametrize(
    "chosen",
    [{}, {"neck ease": "0.5 cm"}, {"neck ease": "3 cm"}, {"hip ease": "24 cm"}, {"sleeve length": "40 cm"}],
    ids=str,
)
def test_a_yoke_is_not_turned_over_by_a_level_seam(chosen: dict[str, str]) -> None:
    style = next(s for s in STYLES if s.slug == "yoked-shirt")
    client = standard_person(style)
    taken = {name: Chosen(value, Place("c.md"), Place("c.md")) for name, value in chosen.items()}
    draft = draft_style(style, replace(client, choices={"yoked-shirt": taken}), Settings())
    back = half(draft, BACK)
    assert back is not None
    yoke = next(p for p in back.patches if p.name == "yoke")
    below = next(p for p in back.patches if p.name == "back")
    # Its neck lies by the middle and above the seam, its armhole where the back's is.
    (neck,) = (line for name, line in yoke.edges.items() if name == "neck")
    assert min(p.x for p in neck) < 1 and min(p.y for p in neck) < below.box.top
    assert max(p.x for p in yoke.outline) == pytest.approx(max(p.x for p in below.edges["back_seam"]), abs=25)
