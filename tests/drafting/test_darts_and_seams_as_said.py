"""Darts as a draft prints them, pleats and seams in the middle, parts of edges, zips, pieces moved, folds that end."""

from __future__ import annotations

import math

import pytest

from catalogue.drafting.model import Draft
from catalogue.drawing.canvas import LineKind
from catalogue.drawing.cutline import cut_and_fold
from catalogue.geometry import Point
from catalogue.handbook import draft_example
from catalogue.handbook.entry import Entry
from catalogue.pattern.joining import unfold
from catalogue.pattern.measure import sewn_length

FRAME = """
side_top = 20 cm right from start
side_hem = 40 cm down from side_top
hem      = 40 cm down from start
bust     = 10 cm right and 18 cm down from start
slit     = 12 cm down from start
vee      = 6 cm right from start
"""
FRONT = (
    FRAME
    + """
piece front "Front", cut 1 on fold
  outline shoulder: start to side_top
          side: side_top to side_hem
          hem: side_hem to hem
          centre: hem to start, fold
"""
)
PAIR = FRONT.replace("cut 1 on fold", "cut 2").replace(", fold", "")
BACK = """
piece back "Back", cut 2
  outline side: (50 cm right from start) to (50 cm right from hem)
          hem: (50 cm right from hem) to (70 cm right from hem)
          centre: (70 cm right from hem) to (70 cm right from start)
          shoulder: (70 cm right from start) to (50 cm right from start)
"""


def drafted(lines: str, notions: str = "") -> Draft:
    return draft_example(Entry("front", "Pieces", "Front", "", "", lines, notions=notions))


def good(lines: str, notions: str = "") -> Draft:
    draft = drafted(lines, notions)
    assert [str(f) for f in draft.findings] == []
    return draft


def told(lines: str) -> tuple[str, str]:
    """The message and hint of the one thing that is wrong."""
    (finding,) = drafted(lines).findings
    return finding.message, finding.hint


# --- darts --------------------------------------------------------------------------------------------------

PRINTED = (
    "foot = 10 cm right from hem\ndart front.hem, at foot, 1/2 in left and 1 1/2 in right, point at bust"
)


def test_a_dart_as_printed_keeps_its_legs_where_they_are_drawn():
    draft = good(FRONT + PRINTED + ", unequal legs\nleft = length of front.hem_dart.left leg")
    (dart,) = draft.pieces["front"].darts
    assert sorted(leg.x for leg in dart.legs) == pytest.approx([100 - 12.7, 100 + 38.1])
    assert {leg.y for leg in dart.legs} == {400.0}
    assert draft.values["left"].value == pytest.approx(math.hypot(12.7, 220))
    (check,) = draft.checks
    assert check.ok
    assert "2.9" in check.detail or "0.3 cm is eased in" in check.detail


def test_without_unequal_legs_the_shorter_is_made_as_long():
    draft = good(FRONT + PRINTED)
    (dart,) = draft.pieces["front"].darts
    first, second = (leg.distance(dart.apex) for leg in dart.legs)
    assert first == pytest.approx(second)
    assert first == pytest.approx(math.hypot(38.1, 220))


def test_legs_that_differ_by_more_than_can_be_eased_fail():
    draft = drafted(FRONT + PRINTED.replace("1 1/2 in", "9 cm") + ", unequal legs")
    (check,) = draft.checks
    assert not check.ok
    assert not draft.ok
    assert drafted(FRONT + PRINTED.replace("1 1/2 in", "9 cm") + ", unequal legs within 2 cm").checks[0].ok


def test_a_leg_lengthened_by_much_is_told():
    message, hint = told(FRONT + PRINTED.replace("1 1/2 in", "9 cm"))
    assert "the shorter is made longer by 1.7 cm" in message
    assert hint.endswith("unequal legs")


def test_a_dart_between_two_points_of_an_upright_edge():
    draft = good(
        FRONT
        + "dart side_dart on front.side, from (16 cm down from side_top) to (20 cm down from side_top), "
        "point at bust, length 8 cm, fold to down\nupper = front.side_dart.upper leg\ntip = end of upper"
    )
    (dart,) = draft.pieces["front"].darts
    assert [leg.y for leg in sorted(dart.legs, key=lambda p: p.y)] == pytest.approx([160, 200])
    assert draft.points["tip"] == pytest.approx((120, 180))


@pytest.mark.parametrize(
    ("clause", "message"),
    [
        ("at foot, 1 cm left and 2 cm left, point at bust", "Both amounts lie to the same side"),
        ("at foot, 1 cm up and 2 cm down, point at bust", "runs level there, so up is not along it"),
        ("at bust, 1 cm left and 2 cm right, point at bust", "is 22 cm away from the edge “hem”"),
        ("at foot, 1 cm left and 2 cm right, intake 3 cm, point at bust", "opens is said twice"),
    ],
)
def test_a_dart_that_cannot_be_so(clause, message):
    assert message in told(FRONT + f"foot = 10 cm right from hem\ndart front.hem, {clause}")[0]


def test_a_leg_is_named_by_how_it_lies():
    message, hint = told(FRONT + PRINTED + "\na = length of front.hem_dart.upper leg")
    assert message == "The legs of “hem_dart” lie beside each other."
    assert "front.hem_dart.left leg" in hint


# --- the middle ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["box", "inverted"])
def test_half_a_pleat_is_added_beyond_the_fold(kind):
    draft = good(FRONT + f"pleat front along front.centre, {kind} pleat, depth 4 cm, free at hem")
    piece = draft.pieces["front"]
    centre = piece.edge("centre")
    assert centre.fold
    assert {centre.path.start.x, centre.path.end.x} == {-80.0}
    # Folded, the shoulder is as long as before; the hem hangs open.
    assert sewn_length(piece, "shoulder") == pytest.approx(200)
    assert sewn_length(piece, "hem") == pytest.approx(280)
    # Opened out, the whole pleat takes four times its depth in cloth.
    whole = unfold(piece, "centre")
    assert whole.outline.bounds().width == pytest.approx(2 * 200 + 4 * 40)
    folds = sorted(round(line.path.start.x, 3) for line in piece.lines if line.kind == "pleat")
    assert folds == [-40.0, 0.0]


def test_half_a_pleat_is_cut_as_its_shoulder_lies_when_folded():
    slope = FRONT.replace("side_top = 20 cm right", "side_top = 20 cm right and 5 cm down")
    piece = good(slope + "pleat front along centre, inverted, depth 4 cm, free at hem").pieces["front"]
    # 4 cm under the cloth beside the middle the slope has fallen by 1 cm; at the new fold it is back at the middle.
    top = piece.edge("shoulder").path
    at = [top.nearest(Point(x, y)) for x, y in ((-80, 0), (-40, 10), (0, 0))]
    assert [off for _, off in at] == pytest.approx([0, 0, 0], abs=1e-6)


def test_a_pleat_in_the_middle_is_folded_where_a_girth_is_measured():
    lines = "pleat front along front.centre, box, depth 4 cm, free at hem\nsew front.side to back.side\n"
    on_fold = BACK.replace("cut 2", "cut 1 on fold").replace(
        "start)\n          shoulder", "start), fold\n          shoulder"
    )
    draft = drafted(FRONT + on_fold + lines + "finished bust girth measured at front.bust")
    assert draft.finished[0].garment == pytest.approx(800)


def test_a_knife_pleat_in_the_middle_is_refused():
    message, hint = told(FRONT + "pleat front along front.centre, knife, depth 4 cm")
    assert "turns to one side" in message
    assert hint.startswith("Write box pleat or inverted pleat")


def test_a_pair_is_sewn_left_to_right():
    draft = good(PAIR + "sew front.centre left to right, smooth")
    (seam,) = draft.seams
    assert seam.ok
    assert (seam.first_length, seam.second_length) == (400, 400)
    assert "left to right" in seam.detail
    assert [b.degrees for b in seam.bends] == pytest.approx([0, 0], abs=1e-9)


def test_left_to_right_shows_a_point_at_the_neck():
    slanting = PAIR.replace("shoulder: start to side_top", "neck: start to side_top").replace(
        "side_top = 20 cm right from start", "side_top = 20 cm right and 9 cm down from start"
    )
    slanting = slanting.replace(
        "side_hem = 40 cm down from side_top", "side_hem = 20 cm right and 40 cm down from start"
    )
    message, hint = told(slanting + "sew front.centre left to right")
    # Twice the slope of the edge beside the seam.
    assert f"bends by {2 * math.degrees(math.atan2(90, 200)):.1f}°" in message
    write = hint.split(". ")[0].removeprefix("Write: ")
    assert write == "square front.neck to centre"
    good(f"{slanting}{write}\nsew front.centre left to right")


def test_only_a_pair_has_a_left_and_a_right():
    assert "is on the fold" in told(FRONT + "sew front.centre left to right")[0]
    _, hint = told(PAIR + "sew front.centre to front.centre")
    assert hint == "To sew the left one to the right write: sew front.centre left to right"


def test_a_fork_of_two_edges_is_sewn_left_to_right():
    draft = good(PAIR + BACK + "sew front.side to back.side\nsew front.hem and back.hem left to right")
    fork = draft.seams[1]
    assert fork.ok
    assert fork.first_length == fork.second_length == pytest.approx(400)


# --- parts of edges, zips -----------------------------------------------------------------------------------


def test_parts_of_edges_are_measured_alone():
    draft = good(
        PAIR + BACK + "sew 15 cm of front.side from hem to 15 cm of back.side from hem\n"
        "sew front.side from side_top to (10 cm down from side_top) to back.side from (50 cm right from start) to "
        "(50 cm right and 10 cm down from start)"
    )
    assert [(s.first_length, s.second_length, s.ok) for s in draft.seams] == [
        (pytest.approx(150), pytest.approx(150), True),
        (pytest.approx(100), pytest.approx(100), True),
    ]


def test_parts_that_differ_do_not_match():
    draft = drafted(PAIR + BACK + "sew 15 cm of front.side from hem to 13 cm of back.side from hem")
    assert not draft.seams[0].ok
    assert "2 cm apart" in draft.seams[0].detail


def test_a_part_leaves_out_the_dart_on_it():
    darted = "dart front.side, middle at (20 cm down from side_top), intake 2 cm, length 8 cm\n"
    draft = drafted(PAIR + BACK + darted + "sew 30 cm of front.side from hem to 30 cm of back.side from hem")
    assert draft.seams[0].first_length == pytest.approx(300, abs=0.01)


def test_a_part_longer_than_its_edge_is_told():
    message, _ = told(PAIR + BACK + "sew 50 cm of front.side from hem to back.side")
    assert "is 40 cm long, so 50 cm of it is more than there is" in message


def test_a_zip_is_marked_at_its_end_and_compared_with_the_notions():
    line = PAIR + "zip 22 cm in front.centre from shoulder"
    draft = good(line, "25 cm zip; thread")
    (mark,) = draft.pieces["front"].marks
    assert (mark.kind, mark.at) == ("end", pytest.approx((0, 220)))
    assert draft.pieces["front"].notches[0].at == pytest.approx((0, 220))
    assert [(c.ok, c.detail) for c in draft.checks] == [(True, "25 cm, to be shortened by 3 cm")]
    assert [(c.ok, c.detail) for c in drafted(line, "18 cm zip").checks] == [
        (False, "the zip among the notions is 18 cm: too short")
    ]
    assert [(c.ok, c.detail) for c in drafted(line, "thread").checks] == [
        (False, "add to the notions: 22 cm zip")
    ]
    assert [c.ok for c in drafted(line, "a zip as long as the centre").checks] == [True]


def test_a_zip_longer_than_its_seam_is_told():
    message, hint = told(PAIR + "zip 50 cm in front.centre from shoulder")
    assert "does not fit in it" in message
    assert hint == "Write at most: zip 40 cm in front.centre from shoulder"


# --- pieces moved -------------------------------------------------------------------------------------------


def test_a_piece_is_moved_and_turned_whole():
    plain = good(PAIR).pieces["front"]
    moved = good(PAIR + "move front 5 cm right and 2 cm up").pieces["front"]
    assert moved.points["bust"] == pytest.approx((plain.points["bust"].x + 50, plain.points["bust"].y - 20))
    turned = good(PAIR + "turn front 90 degrees about start").pieces["front"]
    box = turned.outline.bounds()
    assert (box.left, box.top, box.right, box.bottom) == pytest.approx((-400, 0, 0, 200))
    back = good(PAIR + "turn front 90 degrees anticlockwise about start").pieces["front"]
    assert back.points["side_top"] == pytest.approx((0, -200), abs=1e-9)


def test_a_mirrored_piece_keeps_its_edges():
    made = good(PAIR + "mirror front over front.side").pieces["front"]
    assert made.points["bust"] == pytest.approx((300, 180))
    assert {e.name: round(e.path.length) for e in made.edges} == {
        "shoulder": 200,
        "side": 400,
        "hem": 200,
        "centre": 400,
    }


# --- folds that end -----------------------------------------------------------------------------------------

SLIT = FRONT.replace("start, fold", "start, fold from hem to slit")
VEE = FRONT.replace("hem to start, fold", "hem to slit to vee, fold from hem to slit").replace(
    "shoulder: start to", "shoulder: vee to"
)


def test_a_slit_in_line_with_the_fold_is_cut_and_has_no_allowance():
    draft = good(SLIT + "allow 1.5 cm")
    piece = draft.pieces["front"]
    assert [(e.name, e.fold, e.allowance) for e in piece.edges][-2:] == [
        ("centre", True, 0.0),
        ("centre_2", False, 0.0),
    ]
    parts = cut_and_fold(piece, draft.cut_lines["front"])
    (fold,) = [path for kind, path in parts if kind is LineKind.FOLD]
    # Folded from the end of the slit down, across the hem's allowance; never along the slit.
    assert sorted((fold.start.y, fold.end.y)) == pytest.approx([120, 415])


def test_nothing_is_cut_beyond_the_fold_at_the_foot_of_a_vee():
    draft = good(VEE + "allow 1.5 cm")
    assert min(p.x for p in draft.cut_lines["front"].flatten(0.1)) >= -1e-6
    # The allowance of the slanting edge meets the fold 1.5 cm / sin of the angle between them further up.
    angle = math.atan2(60, 120)
    on_fold = [p.y for p in draft.cut_lines["front"].flatten(0.1) if abs(p.x) < 1e-6]
    assert min(on_fold) == pytest.approx(120 - 15 / math.sin(angle))


@pytest.mark.parametrize(("lines", "edges"), [(SLIT, 4), (VEE, 6)])
def test_a_fold_that_ends_opens_out(lines, edges):
    whole = unfold(good(lines).pieces["front"], "centre")
    assert len(whole.edges) == edges
    assert whole.outline.bounds().width == pytest.approx(400)
    slits = [line for line in whole.lines if "slit" in line.text]
    assert [round(line.path.length) for line in slits] == ([120] if lines is SLIT else [])


def test_a_fold_ends_at_points_of_its_edge():
    assert "away from the edge “centre”" in told(SLIT.replace("from hem to slit", "from hem to bust"))[0]


def test_an_edge_where_a_point_is_meant_is_answered_with_what_to_write():
    waisted = FRONT.replace("shoulder:", "waist:")
    line = "\ndart front.waist, middle at (9 cm along front.waist from {}), intake 2 cm, length 10 cm, fold to left"
    message, hint = told(waisted + line.format("centre"))
    assert message == "“centre” is an edge of “front”; expected a point, a line or a length."
    written = "(corner of front.centre and waist)"
    assert f"or {written} for the point" in hint
    good(waisted + line.format(written))
