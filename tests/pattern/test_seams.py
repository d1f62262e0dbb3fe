"""Seams walked: lengths, notches in order, ease by sections, and lines that run on across them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given

from catalogue.geometry import Path, Point, Transform
from catalogue.pattern import Cut, Edge, Notch, Piece, Pleat
from catalogue.pattern.darts import add_dart
from catalogue.pattern.making import make_piece
from catalogue.pattern.measure import sewn_length
from catalogue.pattern.seams import TOLERANCE, Allowed, walk
from tests.pattern.paper import bodices, few, moves, quads


def panel(name: str, corners: list[tuple[float, float]], names: str, **notches: list[float]) -> Piece:
    """A straight-edged piece; notches by edge, mm from its start as the outline runs, clockwise."""
    ends = [Point(*c) for c in corners]
    edges = [
        Edge(n, Path.line(a, b)) for n, a, b in zip(names.split(), ends, [*ends[1:], ends[0]], strict=True)
    ]
    piece = make_piece(name, name.capitalize(), edges, Cut(), {})
    marks = [
        Notch(edge, piece.edge(edge).path.point_at(s), 1 if s > 0 else 2)
        for edge, places in notches.items()
        for s in places
    ]
    return piece.with_changes(notches=tuple(marks))


def halves(**notches: list[float]) -> dict[str, Piece]:
    """A front and a back that meet at the side: both have the centre at the left, 200 wide and 600 long."""
    corners = [(0, 0), (200, 0), (200, 600), (0, 600)]
    names = "waist side hem centre"
    return {
        "front": panel("front", corners, names, side=notches.get("front", [])),
        "back": panel("back", corners, names, side=notches.get("back", [])),
    }


def test_two_sides_of_one_length_meet():
    walked = walk(halves(front=[150, 400], back=[150, 400]), ["front.side"], ["back.side"])
    assert walked.first_length == walked.second_length == pytest.approx(600)
    assert [(m.first.at, m.second.at) for m in walked.matches] == [(150, 150), (400, 400)]
    assert all(m.ok for m in walked.matches)
    assert [s.first_length for s in walked.sections] == [150, 250, 200]


def test_a_notch_that_misses_is_told_with_both_places():
    walked = walk(halves(front=[150, 400], back=[150, 404]), ["front.side"], ["back.side"])
    near, far = walked.matches
    assert near.ok and not far.ok
    assert far.miss == pytest.approx(-4)
    assert far.first.point == Point(200, 400)
    assert far.second.point == Point(200, 404)
    assert far.second.edge == "back.side"


@pytest.mark.parametrize("miss, ok", [(0.9, True), (TOLERANCE, True), (1.1, False), (-1.1, False)])
def test_notches_are_held_to_the_tolerance(miss, ok):
    walked = walk(halves(front=[300], back=[300 + miss]), ["front.side"], ["back.side"])
    assert walked.matches[0].ok is ok


def test_one_side_may_be_drawn_the_other_way_round():
    """A front drawn with its centre at the right has its side run up; the walk starts at the hem on both."""
    pieces = halves(front=[150], back=[150])
    flip = Transform.reflection(Point(0, 0), Point(0, 1))
    front = pieces["front"]
    edges = [replace(e, path=e.path.transformed(flip).reversed()) for e in reversed(front.edges)]
    notches = tuple(replace(n, at=flip.apply(n.at)) for n in front.notches)
    pieces["front"] = make_piece("front", "Front", edges, Cut(), {}).with_changes(notches=notches)
    walked = walk(pieces, ["front.side"], ["back.side"])
    assert [(m.first.at, m.second.at) for m in walked.matches] == [(450, 450)]
    assert {(b.first, b.second) for b in walked.bends} == {
        ("front.waist", "back.waist"),
        ("front.hem", "back.hem"),
    }


def test_notches_tell_the_direction_where_names_do_not():
    a = panel("a", [(0, 0), (200, 0), (200, 600), (0, 600)], "p seam q r", seam=[100, 250])
    b = panel("b", [(0, 0), (200, 0), (200, 600), (0, 600)], "s t u seam", seam=[100, 250])
    straight = walk({"a": a, "b": b}, ["a.seam"], ["b.seam"])
    assert [m.miss for m in straight.matches] == pytest.approx([0, 0])
    c = panel("c", [(0, 0), (200, 0), (200, 600), (0, 600)], "s t u seam", seam=[350, 500])
    turned = walk({"a": a, "c": c}, ["a.seam"], ["c.seam"])
    assert [m.miss for m in turned.matches] == pytest.approx([0, 0])


def test_where_it_starts_can_be_said():
    pieces = halves(front=[100], back=[500])
    # From the waist on both the notches lie too far apart to be partners.
    assert [m.miss for m in walk(pieces, ["front.side"], ["back.side"]).matches] == [None, None]
    walked = walk(pieces, ["front.side"], ["back.side"], start=("waist", "hem"))
    assert [m.miss for m in walked.matches] == pytest.approx([0])
    with pytest.raises(KeyError):
        walk(pieces, ["front.side"], ["back.side"], start=("waist", "side"))


def test_a_dart_between_is_stepped_over():
    pieces = halves(back=[100, 450])
    front = panel("front", [(0, 0), (200, 0), (200, 630), (0, 630)], "waist side hem centre", side=[100, 480])
    pieces["front"] = add_dart(front, "dart", "side", 250, 30, length=100, straight=True)
    walked = walk(pieces, ["front.side"], ["back.side"])
    assert walked.ease == pytest.approx(0, abs=1e-6)
    assert [m.miss for m in walked.matches] == pytest.approx([0, 0], abs=1e-6)


def test_a_pleat_between_is_stepped_over():
    pieces = halves(back=[100, 450])
    front = panel("front", [(0, 0), (200, 0), (200, 660), (0, 660)], "waist side hem centre", side=[100, 510])
    pieces["front"] = front.with_changes(pleats=(Pleat("p", "side", (Point(200, 200), Point(200, 260))),))
    assert [m.miss for m in walk(pieces, ["front.side"], ["back.side"]).matches] == pytest.approx([0, 0])


def test_a_notch_without_partner_is_told_and_holds():
    walked = walk(halves(front=[150, 400], back=[150]), ["front.side"], ["back.side"])
    assert [m.miss is None for m in walked.matches] == [False, True]
    assert walked.matches[1].first.at == 400
    assert all(m.ok for m in walked.matches)


def test_an_edge_that_is_not_there():
    with pytest.raises(KeyError, match=r"front\.sid'"):
        walk(halves(), ["front.sid"], ["back.side"])
    with pytest.raises(KeyError, match=r"yoke\.side"):
        walk(halves(), ["front.side"], ["yoke.side"])


# --- ease ---------------------------------------------------------------------------------------------------


def cap_and_armholes(
    cap_notches: list[float], ease: float = 20
) -> tuple[dict[str, Piece], list[str], list[str]]:
    """A straight cap 400 + ease long; a back armhole of 210 and a front one of 190, notched 80 and 70 from below."""
    names = "cap front_seam hem back_seam"
    sleeve = panel("sleeve", [(0, 0), (400 + ease, 0), (400 + ease, 500), (0, 500)], names, cap=cap_notches)
    back = panel(
        "back", [(0, 0), (210, 0), (210, 300), (0, 300)], "armhole side waist shoulder", armhole=[130]
    )
    front = panel(
        "front", [(0, 0), (190, 0), (190, 300), (0, 300)], "armhole side waist shoulder", armhole=[120]
    )
    pieces = {"sleeve": sleeve, "back": back, "front": front}
    sewn = [(("front.shoulder",), ("back.shoulder",)), (("front.side",), ("back.side",))]
    return pieces, ["sleeve.cap"], ["back.armhole", "front.armhole"], sewn  # type: ignore[return-value]


def test_ease_of_a_cap_lies_between_its_notches():
    """From the back's underarm: nothing to the notch, 10 to the shoulder, 10 to the front notch, nothing below it.

    About 2 cm over the top and none under the arm: common practice; 3/8 in each for front and back, 3/4 in all, in
    McCunn's notes to How to Make Sewing Patterns.
    """
    pieces, cap, armholes, sewn = cap_and_armholes([80, 220, 350])
    walked = walk(pieces, cap, armholes, sewn, Allowed(10, 30))
    assert walked.ease == pytest.approx(20)
    assert [s.ease for s in walked.sections] == pytest.approx([0, 10, 10, 0])
    assert all(s.ok for s in walked.sections) and all(m.ok for m in walked.matches)
    # The notch at the top of the cap meets the shoulder seam.
    assert walked.matches[1].second.count == 0
    assert walked.matches[1].second.at == pytest.approx(210)


def test_a_cap_stretched_in_one_part_fails_though_its_length_is_right():
    pieces, cap, armholes, sewn = cap_and_armholes([75, 220, 350])
    walked = walk(pieces, cap, armholes, sewn, Allowed(10, 30))
    assert walked.ease == pytest.approx(20)
    assert [s.ok for s in walked.sections] == [False, True, True, True]
    assert [m.ok for m in walked.matches] == [False, True, True]


def test_all_the_ease_of_a_cap_and_more_in_one_part_fails():
    pieces, cap, armholes, sewn = cap_and_armholes([80, 245, 350])
    walked = walk(pieces, cap, armholes, sewn, Allowed(10, 30))
    assert [s.ease for s in walked.sections] == pytest.approx([0, 35, -15, 0])
    assert [s.ok for s in walked.sections] == [True, False, False, True]


def test_gathers_may_lie_anywhere():
    pieces, cap, armholes, sewn = cap_and_armholes([80, 320, 350 + 180], ease=200)
    walked = walk(pieces, cap, armholes, sewn, Allowed(gathered=True))
    assert all(s.ok for s in walked.sections)


# --- lines that run on --------------------------------------------------------------------------------------


def slanted(slope: float) -> dict[str, Piece]:
    """A front and a back whose hems rise to the side by `slope` mm on 100."""
    corners = [(0, 0), (100, 0), (100, 300 - slope), (0, 300)]
    return {n: panel(n, corners, "waist side hem centre") for n in ("front", "back")}


@pytest.mark.parametrize("slope", [0.0, 5.0, 10.0, -10.0])
def test_hems_that_rise_to_the_side_bend_there(slope):
    """Each hem leaves the side at 90 degrees and its slope, so together they bend by twice the slope."""
    from math import atan2, degrees

    walked = walk(slanted(slope), ["front.side"], ["back.side"])
    bends = {b.first: b.degrees for b in walked.bends}
    assert bends["front.waist"] == pytest.approx(0)
    # Rising hems meet in a hollow, falling ones in a point.
    assert bends["front.hem"] == pytest.approx(-2 * degrees(atan2(slope, 100)))


def test_a_kink_is_told_at_hems_and_not_at_other_corners():
    pieces = slanted(30.0)
    assert {b.first: b.kinked for b in walk(pieces, ["front.side"], ["back.side"]).bends} == {
        "front.waist": False,
        "front.hem": True,
    }
    renamed = {
        n: p.with_changes(edges=tuple(replace(e, name="edge") if e.name == "hem" else e for e in p.edges))
        for n, p in pieces.items()
    }
    assert not any(b.kinked for b in walk(renamed, ["front.side"], ["back.side"]).bends)


def test_edges_that_are_sewn_to_each_other_do_not_run_on():
    pieces, cap, armholes, sewn = cap_and_armholes([80, 220, 350])
    assert walk(pieces, cap, armholes, sewn, Allowed(10, 30)).bends == ()


@few
@given(quads(), moves)
def test_a_piece_cut_in_two_meets_itself_wherever_it_lies(piece, move):
    """Both sides of a cut are one line: no ease, all bends at its ends are those of the outline there."""
    from catalogue.pattern.parting import cut

    top, bottom = piece.edge("top").path, piece.edge("bottom").path
    line = Path.line(top.point_at(top.length * 0.4), bottom.point_at(bottom.length * 0.55))
    try:
        first, second = cut(piece, line, [("a", "A"), ("b", "B")], "cut")
    except ValueError:
        return
    moved = second.with_changes(
        edges=tuple(replace(e, path=e.path.transformed(move)) for e in second.edges),
        notches=tuple(replace(n, at=move.apply(n.at)) for n in second.notches),
    )
    walked = walk({"a": first, "b": moved}, ["a.cut"], ["b.cut"])
    assert walked.ease == pytest.approx(0, abs=1e-6)
    assert {b.first.partition(".")[2] for b in walked.bends} == {"top", "bottom"}
    assert all(abs(b.degrees) < 0.01 for b in walked.bends)


@few
@given(bodices())
def test_ease_is_the_first_less_the_second(piece):
    """Walked the other way about, ease changes its sign; both lengths are those of the edges with darts closed."""
    pieces = {"front": piece, "other": piece.with_changes(name="other")}
    there, back = (
        walk(pieces, [a], [b]) for a, b in (("front.side", "other.waist"), ("other.waist", "front.side"))
    )
    assert there.ease == pytest.approx(-back.ease)
    assert there.first_length == pytest.approx(sewn_length(piece, "side"))
    assert there.second_length == pytest.approx(sewn_length(piece, "waist"))
    assert abs(there.first_length - piece.edge("side").path.length) > 5
