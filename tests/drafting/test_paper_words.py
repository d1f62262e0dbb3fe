"""Places on pieces by name, darts that a body does not need, halves sewn whole: as a style file says it."""

from __future__ import annotations

import math

import pytest

from catalogue.drafting.model import Draft
from catalogue.geometry import Path, Point
from catalogue.handbook import draft_example
from catalogue.handbook.entry import Entry

FRONT = """
side_top = 20 cm right from start
side_hem = 40 cm down from side_top
hem      = 40 cm down from start
bust     = 10 cm right and 18 cm down from start
piece front "Front", cut 1 on fold
  outline shoulder: start to side_top
          side: side_top to side_hem
          hem: side_hem to hem
          centre: hem to start, fold
"""


def drafted(lines: str) -> Draft:
    return draft_example(Entry("front", "Pieces", "Front", "", "", FRONT + lines))


def good(lines: str) -> Draft:
    draft = drafted(lines)
    assert [str(f) for f in draft.findings] == []
    return draft


def told(lines: str) -> tuple[str, str]:
    """The message and hint of the one thing that is wrong."""
    (finding,) = drafted(lines).findings
    return finding.message, finding.hint


def point(draft: Draft, name: str) -> Point:
    found = next(item.shape for item in draft.items if item.name == name and item.kind == "point")
    assert isinstance(found, Point)
    return found


# --- ends of edges, ways along them ---------------------------------------------------------------------------


@pytest.mark.parametrize(("words", "y"), [("toward side_hem", 250), ("toward side_top", 150), ("", 250)])
def test_along_a_line_from_its_middle_the_way_is_said(words: str, y: float) -> None:
    draft = good(f"m = 20 cm down from side_top\na = 5 cm along front.side from m {words}")
    assert point(draft, "a") == pytest.approx((200, y))


def test_along_runs_off_the_end_that_it_goes_toward() -> None:
    message, _ = told("m = 10 cm down from side_top\na = 15 cm along front.side from m toward side_top")
    assert "runs past its end: from there it is 10 cm long" in message


def test_there_is_no_way_toward_the_point_one_stands_on() -> None:
    message, _ = told("a = 5 cm along front.side from side_top toward side_top")
    assert message.startswith("It starts at that point")


def test_round_a_closed_line_the_shorter_way_is_meant() -> None:
    ring = "ring = circle about start radius 10 cm\neast = 10 cm right from start\n"
    for dy, sign in (("5 cm down", 1), ("5 cm up", -1)):
        draft = good(
            f"{ring}aim = (where ring crosses (line from ({dy} from start) right 20 cm))\n"
            "a = 2 cm along ring from east toward aim"
        )
        assert point(draft, "a").y * sign > 0
        assert point(draft, "a").distance(Point(100, 0)) == pytest.approx(20, abs=0.1)


def test_ends_and_corners_by_name() -> None:
    draft = good(
        "way = line hem to bust\na = start of way\nb = end of way\n"
        "c = corner of front.side and hem\nd = corner of front.hem and side\ne = corner of front.centre and shoulder"
    )
    assert [point(draft, n) for n in "abcde"] == [(0, 400), (100, 180), (200, 400), (200, 400), (0, 0)]


def test_the_corner_is_where_it_lies_now() -> None:
    draft = good(
        "lengthen front at (line from (20 cm down from start) right 30 cm) by 4 cm\n"
        "a = distance (corner of front.side and hem) to (corner of front.side and shoulder)"
    )
    assert draft.values["a"].value == pytest.approx(440)


def test_edges_that_do_not_meet_have_no_corner() -> None:
    message, hint = told("a = corner of front.side and centre")
    assert message == "The edges “side” and “centre” do not meet."
    assert hint == "“side” meets “shoulder” and “hem”."


# --- points added later ------------------------------------------------------------------------------------


def test_a_point_added_later_travels_with_the_paper() -> None:
    draft = good(
        "point pocket at (5 cm right and 30 cm down from start) on front\n"
        "lengthen front at (line from (20 cm down from start) right 30 cm) by 4 cm\n"
        "a = distance front.pocket to front.hem\n"
        "b = distance front.pocket to (corner of front.shoulder and centre)\n".replace(
            "to front.hem", "to front.bust"
        )
    )
    assert draft.values["a"].value == pytest.approx(((50) ** 2 + (120 + 40) ** 2) ** 0.5)
    assert draft.values["b"].value == pytest.approx((50**2 + 340**2) ** 0.5)


def test_a_point_is_placed_by_those_of_the_piece_as_they_are_now() -> None:
    draft = good(
        "lengthen front at (line from (20 cm down from start) right 30 cm) by 4 cm\n"
        "point vent at 6 cm along front.side from side_hem on front\n"
        "a = distance front.vent to front.side_hem"
    )
    assert draft.values["a"].value == pytest.approx(60)


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("point far at (90 cm right from start) on front", "does not lie on “front”"),
        ("point side_top at bust on front", "has a point or an edge “side_top” already"),
        ("point hem at bust on front", "has a point or an edge “hem” already"),
        ("point waist_girth at bust on front", "is the body measurement"),
    ],
)
def test_points_that_can_not_be_added(line: str, words: str) -> None:
    assert words in told(line)[0]


def test_point_may_still_be_a_name() -> None:
    assert point(good("point = 3 cm down from start"), "point") == (0, 30)


# --- redrawn through points --------------------------------------------------------------------------------


def test_a_smooth_edge_keeps_to_chosen_points() -> None:
    draft = good(
        "kept = 12 cm along front.side from side_top\nbeside = 1 cm left and 26 cm down from side_top\n"
        "redraw front.side smooth, through beside and kept"
    )
    side = draft.pieces["front"].edge("side").path
    assert side.corners() == ()
    for at in (Point(200, 120), Point(190, 260), Point(200, 0), Point(200, 400)):
        assert side.nearest(at)[1] < 1e-6


@pytest.mark.parametrize(
    ("at", "words"),
    [("bust", "10 cm off the edge “side”"), ("side_hem", "is an end of the edge “side”")],
)
def test_points_that_no_edge_is_drawn_through(at: str, words: str) -> None:
    assert words in told(f"redraw front.side smooth, through {at}")[0]


# --- darts not needed, tucks -------------------------------------------------------------------------------

PANELS = """
foot  = 15 cm along front.side from side_top
mid   = 8 cm along front.shoulder from start
dart front.side, middle at foot, intake INTAKE, point at bust
dart waist_dart inside front, from bust, point at (15 cm down from bust), widest at (8 cm down from bust), intake WIDE
close front.side_dart, pivoting on bust, opening shoulder at mid named shoulder_dart
low   = 10 cm right from (corner of front.hem and centre)
cut front through shoulder_dart and bust and waist_dart and low into middle, side_front with side_hem, edge panel
sew middle.panel to side_front.panel, ease -1 cm to 1 cm
"""


@pytest.mark.parametrize("intake", ["3 cm", "0 cm"])
@pytest.mark.parametrize("wide", ["2 cm", "0 cm"])
def test_a_cut_through_a_dart_needs_no_other_line_for_a_body_without_it(intake: str, wide: str) -> None:
    draft = good(PANELS.replace("INTAKE", intake).replace("WIDE", wide).replace("bust and waist", "waist"))
    assert set(draft.pieces) == {"middle", "side_front"}
    panel = draft.pieces["middle"].edge("panel").path
    assert panel.nearest(Point(100, 400))[1] < 1e-6
    if intake == "0 cm":
        # Where the dart would have opened: its place on the shoulder.
        assert panel.nearest(Point(80, 0))[1] < 1e-6
        area = sum(abs(_area(p.outline)) for p in draft.pieces.values())
        assert area == pytest.approx(200 * 400 - (20 * 150 / 2 if wide == "2 cm" else 0), rel=1e-6)


def _area(path: Path) -> float:
    from catalogue.geometry import signed_area

    return signed_area(path)


def test_a_dart_not_needed_is_known_on_the_part_it_would_lie_on() -> None:
    draft = good(
        "foot = 15 cm along front.side from side_top\n"
        "dart front.side, middle at foot, intake 0 cm, point at bust\n"
        "cut front from (30 cm down from start) to (30 cm down from side_top) into top with start, low\n"
        "close top.side_dart, pivoting on bust, opening shoulder at (8 cm right from start)"
    )
    assert draft.pieces["top"].darts == ()
    assert draft.pieces["top"].points["side_dart"] == (200, 150)


@pytest.mark.parametrize("way", ["left", "right"])
def test_a_tuck_is_folded_and_not_stitched(way: str) -> None:
    draft = good(
        "foot = 8 cm right from hem\n"
        f"dart tuck_1 on front.hem, middle at foot, intake 3 cm, length 9 cm, fold to {way}, as pleat"
    )
    front = draft.pieces["front"]
    assert front.darts == ()
    (tuck,) = front.pleats
    assert (tuck.name, tuck.kind, tuck.folded_to) == ("tuck_1", "knife", way)
    assert tuck.mouth[0].distance(tuck.mouth[1]) == pytest.approx(30)
    (arrow,) = (line.path for line in front.lines if line.kind == "arrow")
    assert (arrow.end.x < arrow.start.x) == (way == "left")
    assert sum(line.kind == "pleat" for line in front.lines) == 2


# --- halves sewn whole -------------------------------------------------------------------------------------

BAND = """
new paper "Band"
band_right = WIDTH right from start
band_low   = 4 cm down from band_right
band_left  = 4 cm down from start
piece band "Band", cut 1
  outline seam: start to band_right
          end: band_right to band_low
          low: band_low to band_left
          other: band_left to start
"""


def band(lines: str, width: str = "40 cm") -> Draft:
    return good(BAND.replace("WIDTH", width) + lines)


def test_both_halves_of_an_edge_on_the_fold_are_sewn_to_a_whole_one() -> None:
    (seam,) = band("sew both halves of front.shoulder to band.seam").seams
    assert seam.ok and seam.detail == "40 cm and 40 cm"
    assert (seam.first, seam.second) == ("front.shoulder", "band.seam")


def test_notches_of_both_halves_meet_those_of_the_whole() -> None:
    lines = (
        "notch front.shoulder at (5 cm right from start)\n"
        "notch band.seam at (15 cm right from start)\nnotch band.seam at (25 cm right from start)\n"
        "sew both halves of front.shoulder to band.seam"
    )
    (seam,) = band(lines).seams
    assert seam.ok and [round(m.miss, 6) for m in seam.matches] == [0, 0]
    # Both are shown on the half that is drawn.
    assert [m.first.point for m in seam.matches] == [(50, 0), (50, 0)]
    (seam,) = band(lines.replace("25 cm right from start)", "27 cm right from start)")).seams
    assert not seam.ok


def test_halves_on_one_side_of_a_seam_follow_each_other() -> None:
    back = FRONT.replace("piece front", "piece back").split("piece back")[1]
    lines = (
        f'new paper "Back"\npiece back{back}'
        "sew both halves of front.shoulder and both halves of back.shoulder to band.seam"
    )
    (seam,) = band(lines, "80 cm").seams
    assert seam.ok and seam.detail == "80 cm and 80 cm"


def test_a_half_sewn_to_a_whole_is_told_what_to_write() -> None:
    (seam,) = band("sew front.shoulder to band.seam").seams
    assert not seam.ok
    assert seam.detail.endswith("write both halves of front.shoulder")
    # Two halves that differ are a fault of the draft, and nothing is guessed.
    (seam,) = band("sew front.shoulder to band.seam", "20.5 cm").seams
    assert not seam.ok and "both halves" not in seam.detail


def test_only_an_edge_on_a_fold_has_another_half() -> None:
    message, hint = told(BAND.replace("WIDTH", "40 cm") + "sew both halves of front.side to band.seam")
    assert message == "“front.side” does not end on a fold, so it has no other half."
    assert hint == "Write front.side alone."


# --- how often a taped piece is cut -------------------------------------------------------------------------

TAPED = (
    "cut front from (15 cm down from start) to (15 cm down and 30 cm right from start) into upper, lower\n"
)


@pytest.mark.parametrize(
    ("clause", "count", "on_fold", "cloth"),
    [
        ("", 1, True, "main"),
        (' "Yoke"', 1, True, "main"),
        (' "Yoke", cut 2 on fold', 2, True, "main"),
        (", cut 4 on fold of lining", 4, True, "lining"),
    ],
)
def test_a_taped_piece_says_how_often_it_is_cut(clause: str, count: int, on_fold: bool, cloth: str) -> None:
    cut = good(f"{TAPED}tape lower.cut to upper.cut as whole{clause}").pieces["whole"].cut
    assert (cut.count, cut.on_fold, cut.cloth) == (count, on_fold, cloth)


def test_how_often_a_taped_piece_is_cut_is_said_once() -> None:
    message, _ = told(f"{TAPED}tape lower.cut to upper.cut as whole, cut 2, cut 4")
    assert message == "How often the piece is cut is given twice."


# --- spread until an edge is so long ---------------------------------------------------------------------------

CIRCLE = """
waist   = start
top     = 15 cm down from waist
bottom  = 50 cm down from top
top_end = top turned -60 degrees about waist
low_end = bottom turned -60 degrees about waist
piece panel, cut 2
  outline waist: top to top_end along (arc about waist from top to top_end)
          side: top_end to low_end
          hem: low_end to bottom along (arc about waist from bottom to low_end)
          centre: bottom to top
"""


@pytest.mark.parametrize("lines", [1, 3, 7])
@pytest.mark.parametrize(("word", "wanted"), [("spread", "1.2 m"), ("spread", "70 cm"), ("overlap", "60 cm")])
def test_a_piece_is_spread_as_far_as_an_edge_has_a_length(word: str, wanted: str, lines: int) -> None:
    along = f"{lines} line{'s' if lines > 1 else ''} from waist to hem"
    draft = good(f"{CIRCLE}{word} panel, {along}, nothing at waist, as far as {wanted} at hem")
    panel = draft.pieces["panel"]
    mm = float(wanted.split()[0]) * (1000 if wanted.endswith(" m") else 10)
    assert panel.edge("hem").path.length == pytest.approx(mm, abs=0.01)
    # The other ends of the slashes are hinges: the waist keeps its length (150 mm through 60 degrees).
    assert panel.edge("waist").path.length == pytest.approx(math.pi / 3 * 150, abs=0.01)


def test_one_end_opens_by_a_length_while_the_other_is_spread_as_far_as_one() -> None:
    draft = good(
        "spread front, 3 lines from shoulder to hem, 1 cm at shoulder, as far as 35 cm at hem, as gathers"
    )
    edges = {edge.name: edge.path.length for edge in draft.pieces["front"].edges}
    assert edges["hem"] == pytest.approx(350, abs=0.01)
    assert edges["shoulder"] == pytest.approx(230, abs=0.01)


def test_a_length_that_no_opening_gives_is_told_with_the_nearest() -> None:
    message, hint = told(
        "spread front, along (line start to side_hem), 1 cm at shoulder, as far as 35 cm at hem"
    )
    assert "can't be made 35 cm long so; the nearest is 20 cm" in message
    assert hint == "Slash along more lines."
