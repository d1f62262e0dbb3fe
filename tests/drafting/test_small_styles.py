"""Small garments of our own, each of which shows one thing that a draft asks for, said without a detour.

Figures are invented; what is expected of them is worked out here, beside the drafting, from the paper alone.
"""

from __future__ import annotations

import itertools
import math
from pathlib import Path as File

import pytest

from catalogue.drafting.model import Draft
from catalogue.geometry import Path, Point
from catalogue.pattern import Piece
from catalogue.pattern.measure import sewn_length
from catalogue.people import Client
from catalogue.studio.reading import read_style
from tests.drafting.people_and_styles import draft, person, with_choices

SMALL = File(__file__).parent / "small"


def drafted(slug: str, client: Client) -> Draft:
    """The style drafted; nothing may be wrong with it, nor any seam off."""
    style = read_style(SMALL / f"{slug}.md", SMALL)
    assert [str(f) for f in style.findings] == []
    made = draft(style, client)
    assert [str(f) for f in made.findings] == []
    assert all(seam.ok for seam in made.seams), [seam.detail for seam in made.seams]
    assert made.pieces
    return made


def heading(path: Path, at: Point) -> Point:
    """The direction of a path where it passes a point, as a chord of a tenth of a millimetre."""
    s = path.nearest(at)[0]
    before, after = max(s - 0.05, 0.0), min(s + 0.05, path.length)
    return (path.point_at(after) - path.point_at(before)).unit()


def distance(path: Path, at: Point) -> float:
    return path.nearest(at)[1]


# --- a frame of guide lines, and the armhole in it ----------------------------------------------------------


@pytest.mark.parametrize(("bust", "depth", "width"), [(80, 220, 165), (92, 235, 180), (112, 260, 205)])
def test_guide_lines_and_armhole_from_girths(bust, depth, width):
    made = drafted("waistcoat-frame", person(bust_girth=str(bust), back_waist_length="40"))
    chest, waist, upright = (made.paths[n] for n in ("chest_line", "waist_line", "back_line"))
    half = bust * 10 / 2 + 50
    assert (chest.start, chest.end) == (Point(0, depth), Point(half, depth))
    assert (waist.start, waist.end) == (Point(0, 400), Point(half, 400))
    assert (upright.start, upright.end) == (Point(width, depth), Point(width, 0))
    armhole = made.pieces["back"].edge("armhole").path
    pitch, side, shoulder = made.points["pitch"], made.points["side"], made.paths["shoulder"]
    # It touches the upright a third up from the chest line, and runs out level under the arm.
    assert pitch == pytest.approx((width, depth * 2 / 3))
    assert distance(armhole, pitch) == pytest.approx(0, abs=1e-6)
    assert heading(armhole, pitch) == pytest.approx((0, 1), abs=2e-3)
    assert side == pytest.approx((half / 2, depth))
    assert heading(armhole, side) == pytest.approx((1, 0), abs=2e-3)
    along = (shoulder.end - shoulder.start).unit()
    assert heading(armhole, shoulder.end).dot(along) == pytest.approx(0, abs=2e-3)


# --- intake from a table ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("waist", "hip", "intake"),
    [("80", "98", 20), ("78", "98", 20), ("72", "98", 30), ("71.9", "98", 40), ("66", "98", 40)],
)
def test_intake_of_a_dart_from_a_table(waist, hip, intake):
    made = drafted("skirt-table", person(waist_girth=waist, hip_girth=hip))
    front = made.pieces["front"]
    (dart,) = front.darts
    assert dart.legs[0].distance(dart.legs[1]) == pytest.approx(intake, abs=0.01)
    assert dart.legs[0].distance(dart.apex) == pytest.approx(dart.legs[1].distance(dart.apex))
    # What is left of the waist is what was asked of it, whatever the dart takes.
    assert sewn_length(front, "waist") == pytest.approx(float(waist) * 10 / 4 + 5, abs=0.05)


# --- a side dart from the difference of the waist lengths ---------------------------------------------------


@pytest.mark.parametrize("front_length", ["42", "43.5", "45"])
def test_side_dart_from_the_difference_of_the_waist_lengths(front_length):
    client = person(bust_girth="92", back_waist_length="40", front_waist_length=front_length)
    made = drafted("shirt-side-dart", client)
    front, back = made.pieces["front"], made.pieces["back"]
    difference = float(front_length) * 10 - 400
    (dart,) = front.darts
    assert dart.legs[0].distance(dart.legs[1]) == pytest.approx(difference, abs=0.01)
    assert dart.apex == pytest.approx(made.points["bust_point"] + Point(30, 0), abs=0.01)
    # Before the dart is sewn the front is longer at the side by it, afterwards as long as the back.
    side = front.edge("side").path
    assert side.start.distance(side.end) - back.edge("side").path.length == pytest.approx(difference)
    assert sewn_length(front, "side") == pytest.approx(back.edge("side").path.length, abs=0.05)


# --- a neckline is shaped and the other piece follows -------------------------------------------------------


@pytest.mark.parametrize("left", [60, 80, 95])
def test_the_back_follows_the_shaped_neckline_of_the_front(left):
    client = with_choices(person(), "boat-neck", shoulder_left=f"{left} mm", neck_depth="13 cm")
    made = drafted("boat-neck", client)
    front, back = made.pieces["body"], made.pieces["back_body"]
    assert set(made.pieces) == {"body", "back_body"}
    for piece, low in ((front, 60 + 130), (back, 30)):
        neck, shoulder = piece.edge("neckline").path, piece.edge("shoulder").path
        assert shoulder.length == pytest.approx(left, abs=0.01)
        on_fold, at_shoulder = sorted((neck.start, neck.end), key=lambda p: p.x)
        assert on_fold == pytest.approx((0, low), abs=0.01)
        # Level at the fold, so that it shows no point there, and square at the shoulder, so that both run on.
        assert abs(heading(neck, on_fold).x) == pytest.approx(1, abs=1e-3)
        along = (shoulder.end - shoulder.start).unit()
        assert heading(neck, at_shoulder).dot(along) == pytest.approx(0, abs=5e-3)


# --- a part is cut off, slashed, spread and pleated ---------------------------------------------------------


def corners(piece: Piece, edge: str) -> list[float]:
    """Angles by which an edge of straight runs turns at its corners, degrees."""
    runs = [s for s in piece.edge(edge).path.segments if s.start.distance(s.end) > 1e-6]
    headings = [(s.end - s.start).unit() for s in runs]
    turns = [math.degrees(math.atan2(a.cross(b), a.dot(b))) for a, b in itertools.pairwise(headings)]
    return [abs(t) for t in turns if abs(t) > 1e-6]


@pytest.mark.parametrize("opening", [12, 18, 24])
def test_a_part_cut_off_is_slashed_spread_and_pleated(opening):
    client = with_choices(person(), "fanned-front", opening=f"{opening} mm")
    made = drafted("fanned-front", client)
    chest, lower = made.pieces["upper"], made.pieces["lower"]
    assert len(chest.pleats) == 3
    assert {p.edge for p in chest.pleats} == {"shoulder"}
    # Nothing opens at the bust line: it is as long as before and fits the part below.
    bust_line = chest.edge("bust_line").path.length
    assert bust_line == pytest.approx(made.values["bust_before"].value, abs=1e-6)
    assert bust_line == pytest.approx(lower.edge("bust_line").path.length, abs=1e-6)
    # Each slash opens by what was said at the shoulder; with the pleats folded the shoulder is as before.
    for pleat in chest.pleats:
        assert pleat.mouth[0].distance(pleat.mouth[1]) == pytest.approx(opening, abs=0.01)
    assert sewn_length(chest, "shoulder") == pytest.approx(made.values["shoulder_before"].value, abs=0.05)
    # The paper hinges where each slash ends: the cut turns there by the angle of the wedge.
    places = [(i / 4, (4 - i) / 4) for i in (1, 2, 3)]
    neck, tip = made.points["neck"], made.points["tip"]
    end = Point(made.values["bust_before"].value, 250)
    slashes = [neck.mix(tip, t).distance(Point(0, 250).mix(end, t)) for t, _ in places]
    expected = [math.degrees(2 * math.asin(opening / 2 / length)) for length in slashes]
    assert sorted(corners(chest, "bust_line")) == pytest.approx(sorted(expected), abs=0.01)


def test_slashes_that_end_inside_hinge_there_where_the_paper_is_lapped_below():
    made = drafted("shoulder-pleats", person())
    assert set(made.pieces) == {"blouse"}
    blouse, point = made.pieces["blouse"], made.points
    # The angle that opens above a slash's end closes below it, so that both parts bend alike and are taped.
    laps = []
    for i in (1, 2, 3):
        end = point[f"end_{i}"]
        angle = 2 * math.asin(6 / end.distance(point[f"top_{i}"]))
        laps.append(2 * math.sin(angle / 2) * end.distance(point[f"foot_{i}"]))
    assert [made.values[f"lap_{i}"].value for i in (1, 2, 3)] == pytest.approx(laps)
    before, after = made.values["waist_before"].value, blouse.edge("waistline").path.length
    assert after == pytest.approx(before - sum(laps), abs=0.2)
    assert sewn_length(blouse, "shoulder") == pytest.approx(made.values["shoulder_before"].value, abs=0.05)
    assert [p.mouth[0].distance(p.mouth[1]) for p in blouse.pleats] == pytest.approx([12] * 3, abs=0.01)
    # What was drawn in one line is in one line again.
    for name in ("centre", "side"):
        edge = blouse.edge(name).path
        assert edge.length == pytest.approx(edge.start.distance(edge.end), abs=0.01), name


def test_a_part_spread_like_a_fan_is_not_taped_to_one_that_is_not_lapped():
    style = (SMALL / "shoulder-pleats.md").read_text().split("```draft\n")[1].split("```")[0]
    block = "".join(s for s in style.splitlines(keepends=True) if not s.startswith("overlap"))
    made = draft(block, person(), "choices:\n  opening: 1.2 cm (6 mm to 1.5 cm) - of each slash\n")
    assert ["curved differently" in f.message for f in made.findings] == [True]


@pytest.mark.parametrize("word", ["spread", "overlap"])
def test_a_slash_that_ends_inside_is_not_run_on_in_silence(word):
    block = """
side   = 40 cm right from start
foot   = 40 cm down from side
hem    = 40 cm down from start
middle = 20 cm right from start
inside = 25 cm down from middle
piece panel "Panel", cut 2
  outline top: start to side
          side: side to foot
          hem: foot to hem
          centre: hem to start
"""
    clauses = "1 cm at top, nothing at hem"
    made = draft(f"{block}{word} panel, along line middle to inside, {clauses}", person())
    (found,) = made.findings
    assert found.message == "The slash ends inside “Panel”, 15 cm from its edge, and is run on to it."
    assert "write: along (line middle to inside) extended. If it should end there, cut" in found.hint
    made = draft(f"{block}{word} panel, along (line middle to inside) extended, {clauses}", person())
    assert made.findings == ()
    assert made.pieces["panel"].edge("top").path.length == pytest.approx(
        410 if word == "spread" else 390, abs=0.1
    )


# --- a hem is shaped and level at the side ------------------------------------------------------------------


@pytest.mark.parametrize("hip", ["88", "98", "120"])
def test_a_shaped_hem_is_level_at_the_side(hip):
    made = drafted("shaped-hem", person(hip_girth=hip))
    front, back = made.pieces["front"], made.pieces["back"]
    # Sides are of one length; the back dips in the middle by what was said, the front stays there.
    assert front.edge("side").path.length == pytest.approx(back.edge("side").path.length, abs=0.01)
    assert front.edge("centre").path.length == pytest.approx(300, abs=0.01)
    assert back.edge("centre").path.length == pytest.approx(350, abs=0.01)
    # Both were drawn 6 cm up at the side, where the back was 2 cm longer: they meet halfway.
    for piece, rise in ((front, 60 - 10), (back, 60 + 10)):
        hem, side = piece.edge("hem").path, piece.edge("side").path
        at_centre, at_side = sorted((hem.start, hem.end), key=lambda p: p.x)
        assert distance(side, at_side) == pytest.approx(0, abs=1e-6)
        assert 300 - at_side.y == pytest.approx(rise, abs=1)
        assert abs(heading(hem, at_centre).x) == pytest.approx(1, abs=2e-3)
    # With the side seam closed the hem runs on: the angles on both sides make a straight one.
    assert sum(corner(p) for p in (front, back)) == pytest.approx(180, abs=0.5)


def corner(piece: Piece) -> float:
    """Angle between hem and side seam, degrees."""
    hem, side = piece.edge("hem").path, piece.edge("side").path
    at = max((hem.start, hem.end), key=lambda p: p.x)
    inward, up = near(hem, at) - at, near(side, at) - at
    return math.degrees(math.acos(inward.unit().dot(up.unit())))


def near(path: Path, at: Point) -> Point:
    """A tenth of a millimetre along the path from its end that lies at a point."""
    from_start = path.start.distance(at) < path.end.distance(at)
    return path.point_at(0.1 if from_start else path.length - 0.1)


# --- a sleeve is solved to the armhole ----------------------------------------------------------------------


@pytest.mark.parametrize(("bust", "arm", "ease"), [("84", "26", 0), ("92", "28", 20), ("110", "34", 35)])
def test_a_sleeve_solved_to_the_armhole(bust, arm, ease):
    client = with_choices(
        person(bust_girth=bust, back_waist_length="40", upper_arm_girth=arm),
        "sleeve-to-armhole",
        cap_ease=f"{ease} mm",
    )
    made = drafted("sleeve-to-armhole", client)
    armhole = sum(made.pieces[n].edge("armhole").path.length for n in ("back", "front"))
    cap = made.pieces["sleeve"].edge("cap").path
    assert cap.length == pytest.approx(armhole + ease, abs=0.01)
    assert cap.start.distance(cap.end) == pytest.approx(float(arm) * 10 + 60)
    assert cap.bounds().height == pytest.approx(made.values["cap_height"].value, abs=0.01)
    (seam,) = [s for s in made.seams if s.first == "sleeve.cap"]
    assert seam.ease == pytest.approx(ease, abs=0.01)
