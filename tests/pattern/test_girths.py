"""Girths measured off the pieces: shapes whose girth is known beforehand, and figures that books give."""

from __future__ import annotations

import math

import pytest
from hypothesis import given

from catalogue.geometry import Path, Point, Transform, arc
from catalogue.pattern import Cut, Edge, InnerLine, Notch, Piece
from catalogue.pattern.darts import add_dart, add_double_dart
from catalogue.pattern.girths import Girth, GirthPlace, girth_at, length_along
from catalogue.pattern.grain import upright
from catalogue.pattern.levels import reach
from catalogue.pattern.making import PieceError, make_piece
from catalogue.pattern.panels import Stop, cut_through
from catalogue.pattern.partners import SewnTogether, is_inside
from catalogue.pattern.pivot import folded_wedge
from catalogue.pattern.pleating import pleat
from catalogue.pattern.spreading import Slash, spread
from tests.pattern.paper import few, floats

HALF = Cut(1, True)
PAIR = Cut(2, False, True)
SIDE = SewnTogether(("front.side",), ("back.side",))


def paper(name: str, edges: dict[str, Path], cut: Cut = PAIR, fold: str = "", **points: Point) -> Piece:
    piece = make_piece(
        name, name.title(), [Edge(n, p, fold=n == fold) for n, p in edges.items()], cut, points
    )
    return piece.with_changes(grain=upright(piece))


def four_sided(name: str, top: float, foot: float, deep: float, cut: Cut = PAIR, **points: Point) -> Piece:
    """A piece with an upright centre at the left, so wide at the waist and so wide at the hem."""
    a, b, c, d = Point(0, 0), Point(top, 0), Point(foot, deep), Point(0, deep)
    edges = {"waist": (a, b), "side": (b, c), "hem": (c, d), "centre": (d, a)}
    fold = "centre" if cut.on_fold else ""
    return paper(name, {n: Path.line(*ends) for n, ends in edges.items()}, cut, fold, **points)


def measured(
    pieces: list[Piece], seams: list[SewnTogether], *places: GirthPlace, limb: bool | None = None
) -> float:
    return sum(g.mm for g in girth_at({p.name: p for p in pieces}, seams, places, limb))


def only(
    pieces: list[Piece], seams: list[SewnTogether], place: GirthPlace, limb: bool | None = None
) -> Girth:
    (girth,) = girth_at({p.name: p for p in pieces}, seams, [place], limb)
    return girth


def level(piece: str, x: float, y: float) -> GirthPlace:
    return GirthPlace(piece, Point(x, y))


# --- from piece to piece ----------------------------------------------------------------------------------------


@few
@given(floats(100, 400), floats(100, 400), floats(0, 80), floats(0, 80), floats(50, 250))
def test_tapered_pieces_measure_what_similar_triangles_say(front, back, flare, drop, y):
    """A front on the fold and two backs: twice both widths, wherever along the side the level lies."""
    one = four_sided("front", front, front + flare, 300, HALF)
    # The back's side is the front's mirrored about the seam, so both have the same length.
    other = four_sided("back", back, back + flare, 300)
    girth = only([one, other], [SIDE], level("front", 0, y))
    assert girth.times == 2 and not girth.closed
    assert girth.ends == ("front.centre", "back.centre") and girth.loose_ends == ()
    assert [w.piece for w in girth.widths] == ["front", "back"]
    assert girth.mm == pytest.approx(2 * (front + back + 2 * flare * y / 300), abs=1e-6)


def test_a_piece_lying_elsewhere_and_turned_on_its_paper_measures_the_same():
    front = four_sided("front", 200, 260, 300, HALF)
    back = four_sided("back", 180, 240, 300)
    straight = measured([front, back], [SIDE], level("front", 0, 120))
    for turn in (90.0, 180.0, -37.0):
        move = Transform.rotation(turn).then(Transform.translation(Point(900, -400)))
        edges = [Edge(e.name, e.path.transformed(move)) for e in back.edges]
        moved = make_piece("back", "Back", edges, PAIR, {}).with_changes(
            grain=tuple(move.apply(p) for p in back.grain or ())
        )
        assert measured([front, moved], [SIDE], level("front", 0, 120)) == pytest.approx(straight, abs=1e-6)


def test_a_piece_on_the_bias_is_measured_level_not_along_its_grain():
    front, back = four_sided("front", 200, 260, 300, HALF), four_sided("back", 180, 240, 300)
    straight = measured([front, back], [SIDE], level("front", 0, 120))
    middle = Point(100, 150)
    bias = back.with_changes(grain=(middle, middle + Point(60, 60)))
    assert measured([front, bias], [SIDE], level("front", 0, 120)) == pytest.approx(straight, abs=1e-6)
    front = front.with_changes(grain=(middle, middle + Point(60, 60)))
    assert only([front, back], [SIDE], level("front", 0, 120)).mm == pytest.approx(straight, abs=1e-6)


def test_the_level_goes_on_where_the_seam_meets_not_at_the_same_height_of_the_paper():
    """A back drawn 50 mm lower on its paper, tapering: its width is that of the place the seam brings there."""
    front = four_sided("front", 200, 200, 300, HALF)
    back = four_sided("back", 180, 240, 300)
    lowered = back.with_changes(
        edges=tuple(
            Edge(e.name, e.path.transformed(Transform.translation(Point(0, 50)))) for e in back.edges
        ),
        grain=(Point(90, 100), Point(90, 250)),
    )
    # 100 mm down a front side of 300, so a third of the way down the back's side, which is the longer one.
    girth = only([front, lowered], [SIDE], level("front", 0, 100))
    assert girth.widths[1].mm == pytest.approx(180 + 60 / 3, abs=1e-6)


def test_notches_say_what_meets_where_a_seam_is_eased():
    front = four_sided("front", 200, 200, 300, HALF)
    back = four_sided("back", 200, 260, 330)
    side = back.edge("side").path
    front = front.with_changes(notches=(Notch("side", Point(200, 100)),))
    back = back.with_changes(notches=(Notch("side", side.point_at(150)),))
    girth = only([front, back], [SIDE], level("front", 0, 100))
    assert girth.widths[1].mm == pytest.approx(200 + 60 * 150 / side.length, abs=1e-6)


def test_panels_pass_the_level_on_through_every_seam():
    strips = [four_sided(f"gore_{n}", 50, 90, 600, PAIR if n else HALF) for n in range(4)]
    seams = [SewnTogether((f"gore_{n}.side",), (f"gore_{n + 1}.centre",)) for n in range(3)]
    girth = only(strips, seams, level("gore_0", 0, 300))
    # Leaning seams are sewn to upright ones: shares of their lengths meet, which are all the halves here.
    assert [w.piece for w in girth.widths] == ["gore_0", "gore_1", "gore_2", "gore_3"]
    assert [w.mm for w in girth.widths] == pytest.approx([70, 70, 70, 70], abs=0.5)
    assert girth.times == 2


def test_a_whole_front_with_two_backs_is_counted_once_round():
    a, b, c, d = Point(-150, 0), Point(150, 0), Point(150, 300), Point(-150, 300)
    front = paper(
        "front",
        {
            "waist": Path.line(a, b),
            "side": Path.line(b, c),
            "hem": Path.line(c, d),
            "other_side": Path.line(d, a),
        },
        Cut(1),
    )
    back = four_sided("back", 160, 160, 300)
    seams = [SIDE, SewnTogether(("front.other_side",), ("back.side",))]
    assert measured([front, back], seams, level("front", 0, 100)) == pytest.approx(300 + 2 * 160)
    assert measured([front, back], seams, GirthPlace("front", edge="waist")) == pytest.approx(300 + 2 * 160)


def test_a_sleeve_and_a_leg_are_measured_once_round():
    sleeve = four_sided("sleeve", 360, 260, 400)
    seam = [SewnTogether(("sleeve.side",), ("sleeve.centre",))]
    girth = only([sleeve], seam, level("sleeve", 100, 200))
    assert girth.closed and girth.times == 1 and girth.mm == pytest.approx(310, abs=0.5)
    assert measured([sleeve], seam, GirthPlace("sleeve", edge="hem")) == pytest.approx(260)
    legs = [four_sided("front", 240, 200, 800), four_sided("back", 280, 220, 800)]
    sewn = [SIDE, SewnTogether(("front.centre",), ("back.centre",))]
    girth = only(legs, sewn, level("front", 50, 400))
    assert girth.closed and girth.times == 1 and girth.mm == pytest.approx(220 + 250, abs=1.0)


def test_gores_that_are_all_alike_go_round_as_often_as_they_are_cut():
    gore = four_sided("gore", 120, 200, 600, Cut(6))
    seam = [SewnTogether(("gore.side",), ("gore.centre",))]
    assert measured([gore], seam, GirthPlace("gore", edge="hem")) == pytest.approx(6 * 200)
    assert only([gore], seam, GirthPlace("gore", edge="waist")).times == 6
    two = four_sided("gore", 120, 200, 600, PAIR)
    assert only([two], seam, GirthPlace("gore", edge="waist"), limb=False).times == 2


def test_a_seam_to_a_facing_or_a_lining_is_not_followed():
    front = four_sided("front", 200, 200, 300)
    facing = four_sided("front_facing", 60, 60, 300)
    lining = four_sided("lining", 60, 60, 300, Cut(2, False, True, "lining"))
    back = four_sided("back", 200, 200, 300, HALF)
    seams = [
        SIDE,
        SewnTogether(("front.centre",), ("front_facing.centre",)),
        SewnTogether(("front.centre",), ("lining.centre",)),
    ]
    assert measured([front, back, facing, lining], seams, level("front", 50, 100)) == pytest.approx(800)
    assert is_inside(facing) and not is_inside(front)


# --- what is closed in sewing ----------------------------------------------------------------------------------


@few
@given(floats(10, 40), floats(60, 140), floats(5, 55))
def test_a_dart_takes_at_each_level_what_is_open_there(intake, long, y):
    front = four_sided("front", 250, 250, 300, HALF)
    front = add_dart(front, "waist_dart", "waist", 125, intake, length=long, straight=True)
    girth = only([front], [], level("front", 0, y))
    # Legs of one length lie on a circle, whose chord is a straight mouth: less than nothing is lost by that.
    assert girth.mm == pytest.approx(2 * (250 - intake * (1 - y / long)), abs=0.02)
    assert measured([front], [], level("front", 0, long + 1)) == pytest.approx(500)


def test_a_double_ended_dart_takes_most_where_it_is_widest():
    front = four_sided("front", 250, 250, 400, HALF)
    front = add_double_dart(front, "dart", Point(120, 80), Point(120, 280), Point(120, 160), 24)
    for y, open_there in ((40, 0), (120, 12), (160, 24), (220, 12), (300, 0)):
        assert measured([front], [], level("front", 0, y + 0.001)) == pytest.approx(
            2 * (250 - open_there), abs=0.01
        )


def test_beyond_a_dart_that_lies_with_it_the_level_turns_as_the_paper_does():
    """Drawn across a side dart, the level has the length it has on the paper folded: both sides of the dart equal."""
    front = four_sided("front", 250, 250, 400, HALF)
    point, middle = Point(100, 150), 150.0
    front = add_dart(front, "side_dart", "side", middle, 40, apex=point, straight=True)
    dart = front.darts[0]
    run = reach(front, Point(0, 149.999), Point(1, 0))
    # From the dart's point the lower part, folded up by the whole angle, lies under the level: to its upright side.
    whole = 2 * math.atan2(20, 150)
    assert run.length == pytest.approx(100 + 150 / math.cos(whole), abs=0.01)
    run = reach(front, Point(0, 140), Point(1, 0))
    met = next(p.end for p in run.parts)
    # Folded: the leg it meets lies on the other, and what was beyond is turned by the angle of the dart.
    turn = dart.legs[1] - point, dart.legs[0] - point
    angle = math.degrees(math.atan2(turn[0].cross(turn[1]), turn[0].dot(turn[1])))
    back = Transform.rotation(angle, point)
    folded = [back.apply(run.parts[1].start), back.apply(run.parts[1].end)]
    assert folded[0].distance(met) < 1e-6
    assert folded[1].y == pytest.approx(140, abs=1e-6), "laid on folded paper the level is one straight line"


@pytest.mark.parametrize(("kind", "takes"), [("knife", 2), ("box", 4), ("inverted", 4)])
def test_pleats_are_folded_from_edge_to_edge(kind, takes):
    back = four_sided("back", 300, 340, 400, HALF)
    made = pleat(back, "fold", Path.line(Point(140, 0), Point(140, 400)), kind, 20, False)
    assert made.outline.bounds().width == pytest.approx(340 + takes * 20)
    for y in (50, 200, 390):
        assert measured([made], [], level("back", 0, y)) == pytest.approx(2 * (300 + 40 * y / 400), abs=0.01)
    assert measured([made], [], GirthPlace("back", edge="waist")) == pytest.approx(600, abs=0.01)


def test_a_pleat_spread_to_nothing_takes_a_wedge_and_gathers_take_nothing_below_the_edge():
    plain = four_sided("front", 300, 300, 400, HALF)
    slash = Slash(Path.line(Point(150, 0), Point(150, 400)), 40, 0)
    loose = spread(plain, [slash], "gathers")
    assert measured([loose], [], GirthPlace("front", edge="waist")) == pytest.approx(600, abs=0.1)
    assert measured([loose], [], level("front", 1, 100)) == pytest.approx(2 * 330, rel=0.01)
    laid = four_sided("front", 300, 300, 400, HALF)
    mouth = Point(140, 0), Point(160, 0)
    laid = folded_wedge(laid, "tuck", "waist", mouth, Point(150, 200), "left")
    assert measured([laid], [], GirthPlace("front", edge="waist")) == pytest.approx(560, abs=0.1)
    assert measured([laid], [], level("front", 1, 100)) == pytest.approx(2 * 290, abs=0.2)
    assert measured([laid], [], level("front", 1, 250)) == pytest.approx(600)


def test_what_laps_beyond_the_centre_line_is_not_counted():
    stand = InnerLine(Path.line(Point(20, 0), Point(20, 300)), "guide", "centre front")
    front = four_sided("front", 220, 220, 300).with_changes(lines=(stand,))
    back = four_sided("back", 200, 200, 300, HALF)
    assert measured([front, back], [SIDE], level("back", 0, 100)) == pytest.approx(800)
    assert measured([front, back], [SIDE], level("front", 20, 100)) == pytest.approx(800)
    assert measured([front, back], [SIDE], GirthPlace("back", edge="waist")) == pytest.approx(800)
    assert measured([front, back], [SIDE], GirthPlace("front", edge="hem")) == pytest.approx(800)


def test_cut_into_panels_the_front_measures_what_its_darts_leave():
    """A princess seam through a dart to the waist: what the dart took has fallen out."""
    front = four_sided("front", 260, 260, 400, HALF)
    dart = add_double_dart(front, "dart", Point(120, 60), Point(120, 340), Point(120, 200), 30)
    parts = cut_through(
        dart,
        [Stop(at=Point(120, 0)), Stop("dart"), Stop(at=Point(120, 400))],
        [("middle", "Middle front"), ("side_front", "Side front")],
        "panel",
    )
    pieces = list(parts)
    seam = [SewnTogether((f"{pieces[0].name}.panel",), (f"{pieces[1].name}.panel",))]
    inner = min(pieces, key=lambda p: p.outline.bounds().left)
    for y, open_there in ((30, 0), (200, 30), (270, 15), (370, 0)):
        got = measured(pieces, seam, level(inner.name, 0, y + 0.001))
        assert got == pytest.approx(2 * (260 - open_there), abs=0.3)


# --- levels that are not straight ------------------------------------------------------------------------------


@pytest.mark.parametrize("degrees", [45.0, 90.0])
def test_a_skirt_cut_from_a_circle_has_the_length_of_the_arc_at_every_level(degrees):
    """Front and back of a half and a full circle, drawn by halves: 2 pi r times the share of the circle."""
    waist, hem = 110.0, 700.0

    def part(name: str, cut: Cut) -> Piece:
        top, foot = Point(0, waist), Point(0, hem)
        side_top, side_foot = top.turned(-degrees), foot.turned(-degrees)
        centre = Point(0, 0)
        edges = {
            "centre": Path.line(top, foot),
            "hem": arc(centre, foot, -degrees),
            "side": Path.line(side_foot, side_top),
            "waist": arc(centre, side_top, degrees),
        }
        return paper(name, edges, cut, "centre" if cut.on_fold else "")

    pieces = [part("front", HALF), part("back", PAIR)]
    share = degrees / 90.0
    for depth in (0.0, 150.0, 400.0):
        got = measured(pieces, [SIDE], GirthPlace("front", edge="waist", depth=depth))
        assert got == pytest.approx(2 * math.pi * (waist + depth) * share, rel=2e-4)
    hem_round = measured(pieces, [SIDE], GirthPlace("front", edge="hem"))
    assert hem_round == pytest.approx(2 * math.pi * hem * share, rel=2e-4)


def test_a_cone_measures_what_its_radius_says():
    """A cone of slant R whose foot has radius r unrolls to an angle of 360 r / R degrees."""
    slant, radius = 500.0, 100.0
    half = 180.0 * radius / slant
    tip = Point(0, 0)
    left, right = Point(0, slant).turned(half), Point(0, slant).turned(-half)
    top_left, top_right = left * 0.3, right * 0.3
    edges = {
        "top": arc(tip, top_left, -2 * half),
        "side": Path.line(top_right, right),
        "foot": arc(tip, right, 2 * half),
        "other_side": Path.line(left, top_left),
    }
    cone = paper("cone", edges, Cut(1))
    seam = [SewnTogether(("cone.side",), ("cone.other_side",))]
    for up in (0.0, 120.0, 300.0):
        got = measured([cone], seam, GirthPlace("cone", edge="foot", depth=up))
        assert got == pytest.approx(2 * math.pi * radius * (slant - up) / slant, rel=2e-4)


def test_a_line_drawn_on_the_piece_is_followed():
    front = four_sided("front", 300, 300, 400, HALF)
    bent = Path.polyline([Point(0, 100), Point(150, 120), Point(300, 100)])
    front = front.with_changes(lines=(InnerLine(bent, "guide", "yoke level"),))
    assert measured([front], [], level("front", 0, 100)) == pytest.approx(2 * bent.length)
    assert measured([front], [], level("front", 0, 140)) == pytest.approx(600)


def test_an_edge_runs_on_through_seams_and_darts_are_left_out():
    front = four_sided("front", 250, 300, 500, HALF)
    front = add_dart(front, "dart", "waist", 120, 30, length=90)
    back = add_dart(four_sided("back", 240, 290, 500), "dart", "waist", 100, 20, length=120)
    for place in (GirthPlace("front", edge="waist"), GirthPlace("back", edge="waist")):
        assert measured([front, back], [SIDE], place) == pytest.approx(2 * (250 - 30 + 240 - 20), abs=0.3)
    both = GirthPlace("front", edge="waist"), GirthPlace("back", edge="waist")
    assert measured([front, back], [SIDE], *both) == pytest.approx(880, abs=0.6), "named twice, counted once"


def test_a_side_that_nothing_is_sewn_to_is_told():
    front = four_sided("front", 250, 300, 500, HALF)
    assert only([front], [], level("front", 0, 100)).loose_ends == ("front.side",)
    assert only([front], [], GirthPlace("front", edge="waist")).loose_ends == ("front.side",)
    back = four_sided("back", 250, 300, 500)
    girth = only([front, back], [SIDE], GirthPlace("back", edge="hem"))
    assert girth.loose_ends == () and set(girth.ends) == {"front.centre", "back.centre"}


# --- lengths ----------------------------------------------------------------------------------------------------


def test_a_length_along_an_edge_is_that_of_the_sewn_edge():
    front = add_dart(four_sided("front", 250, 250, 400, HALF), "dart", "side", 150, 40, length=100)
    side = front.edge("side").path
    assert length_along(front, "side") == pytest.approx(side.length - (side.length - 360), abs=0.5)
    first = length_along(front, "side", Point(250, 0), Point(250, 100))
    assert first == pytest.approx(100, abs=0.01)
    assert length_along(front, "side", Point(250, 100), Point(250, 300)) == pytest.approx(160, abs=0.5)


# --- levels that are none ---------------------------------------------------------------------------------------


def bodice() -> tuple[Piece, Piece]:
    def part(name: str, cut: Cut) -> Piece:
        a, b, c = Point(0, 0), Point(150, 0), Point(240, 200)
        edges = {
            "shoulder": Path.line(a, b),
            "armhole": Path.polyline([b, Point(160, 150), c]),
            "side": Path.line(c, Point(240, 400)),
            "hem": Path.line(Point(240, 400), Point(0, 400)),
            "centre": Path.line(Point(0, 400), a),
        }
        return paper(name, edges, cut, "centre" if cut.on_fold else "")

    return part("front", HALF), part("back", PAIR)


def test_a_level_through_the_armhole_is_refused():
    with pytest.raises(PieceError, match="armhole of “Front”"):
        measured(list(bodice()), [SIDE], level("front", 0, 100))


def test_a_level_at_the_corner_under_the_arm_is_taken_through_it():
    front, back = bodice()
    assert measured([front, back], [SIDE], level("front", 0, 200)) == pytest.approx(960, abs=0.5)
    assert measured([front, back], [SIDE], level("front", 0, 195)) == pytest.approx(960, abs=0.5)


def test_a_level_that_runs_out_at_the_hem_is_refused():
    slanting = paper(
        "front",
        {
            "waist": Path.line(Point(0, 0), Point(300, 0)),
            "side": Path.line(Point(300, 0), Point(300, 250)),
            "hem": Path.line(Point(300, 250), Point(0, 400)),
            "centre": Path.line(Point(0, 400), Point(0, 0)),
        },
        HALF,
        "centre",
    )
    with pytest.raises(PieceError, match="runs out at “hem”"):
        measured([slanting], [], level("front", 0, 320))
    with pytest.raises(PieceError, match="does not lie on"):
        measured([slanting], [], level("front", 0, 500))
    with pytest.raises(PieceError, match="not 50 cm deep"):
        measured([slanting], [], GirthPlace("front", edge="waist", depth=500))


# --- figures from books -----------------------------------------------------------------------------------------


def test_gored_skirt_of_a_book_measures_its_stated_waist_and_hip():
    """Carrie Crane Ingalls, Text-Book on Domestic Art, "Gored Skirt": gores of 1 1/2, 2 2/3 three times and 2 1/2 in
    at the waist make half of 24; at the hip 2 1/4, 4 three times and 5 1/4 make half of 39. The hip is 6 in below the
    waist. (The page's other rule for the back contradicts its own figure of 5 1/4.)"""
    inch = 25.4
    widths = [(1.5, 2.25), (8 / 3, 4.0), (8 / 3, 4.0), (8 / 3, 4.0), (2.5, 5.25)]
    pieces = []
    for n, (waist, hip) in enumerate(widths):
        # Each gore leans alike to both sides, so that its two seams are equally long and the level is straight.
        deep = 6 * inch
        spring = (hip - waist) / 2 * inch
        a, b = Point(-waist / 2 * inch, 0), Point(waist / 2 * inch, 0)
        c, d = b + Point(3 * spring, 3 * deep), a + Point(-3 * spring, 3 * deep)
        edges = {
            "waist": Path.line(a, b),
            "right": Path.line(b, c),
            "hem": Path.line(c, d),
            "left": Path.line(d, a),
        }
        pieces.append(paper(f"gore_{n}", edges, PAIR))
    seams = [SewnTogether((f"gore_{n}.right",), (f"gore_{n + 1}.left",)) for n in range(4)]
    assert measured(pieces, seams, GirthPlace("gore_0", edge="waist")) == pytest.approx(24 * inch, abs=0.01)
    hip = only(pieces, seams, level("gore_2", 0, 6 * inch))
    assert len(hip.widths) == 5
    # The seams lean unlike each other, so shares of their lengths lie within a millimetre of the level.
    assert hip.mm == pytest.approx(39 * inch, abs=2.0)


def test_skirt_block_of_a_handout_measures_its_stated_waist_and_hip():
    """Handout for drafting skirt block (WikiEducator): finished waist = waist + 2.4 cm, finished hip = hips + 5 cm,
    for waist 68 and hips 94 with one dart of 2 cm a quarter, 12 cm long in the back and 10 in the front."""
    waist, hips, deep = 680.0, 940.0, 200.0
    back_hip = (hips / 2 + 25) / 2 + 7.5
    front_hip = hips / 2 + 25 - back_hip

    def part(name: str, top: float, hip: float, dart: float, cut: Cut) -> Piece:
        a, b, c = Point(0, 0), Point(top, 0), Point(hip, deep)
        edges = {
            "waist": Path.line(a, b),
            "side": Path.polyline([b, c, Point(hip, 600)]),
            "hem": Path.line(Point(hip, 600), Point(0, 600)),
            "centre": Path.line(Point(0, 600), a),
        }
        made = paper(name, edges, cut, "centre" if cut.on_fold else "")
        return add_dart(made, "dart", "waist", top / 2 + 10, 20, length=dart)

    front = part("front", waist / 4 + 20, front_hip, 100, HALF)
    back = part("back", waist / 4 + 20 + 12, back_hip, 120, PAIR)
    pieces = [front, back]
    assert measured(pieces, [SIDE], GirthPlace("front", edge="waist")) == pytest.approx(waist + 24, abs=0.6)
    assert measured(pieces, [SIDE], level("front", 0, deep)) == pytest.approx(hips + 50, abs=0.6)
