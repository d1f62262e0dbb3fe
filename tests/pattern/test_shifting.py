"""Points of the outline shifted: what moves, what stays, and that it can be taken back."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalogue.geometry import Knot, Path, Point, smooth
from catalogue.pattern import Cut, Dart, Edge, Notch, Piece
from catalogue.pattern.making import PieceError, make_piece
from catalogue.pattern.measure import sewn_length
from catalogue.pattern.shifting import Shift, shifted
from tests.extent import examples

NECK, TIP, UNDER, WAIST, CENTRE, NAPE = (
    Point(70, 0),
    Point(180, 40),
    Point(230, 220),
    Point(220, 400),
    Point(0, 400),
    Point(0, 20),
)
STILL = Point(0.0, 0.0)


def bodice() -> Piece:
    """A back with a curved armhole, a notch on it, one on the side, and a dart at the waist."""
    armhole = smooth([Knot(TIP), Knot(Point(175, 140)), Knot(UNDER)])
    edges = [
        Edge("shoulder", Path.line(NECK, TIP)),
        Edge("armhole", armhole),
        Edge("side", Path.line(UNDER, WAIST)),
        Edge("waist", Path.line(WAIST, CENTRE)),
        Edge("centre", Path.line(CENTRE, NAPE)),
        Edge("neck", Path.line(NAPE, NECK)),
    ]
    piece = make_piece(
        "back", "Back", edges, Cut(2, mirrored=True), {"underarm": UNDER, "inside": Point(100, 200)}
    )
    return piece.with_changes(
        notches=(Notch("armhole", armhole.point_at(80.0)), Notch("side", Point(225, 310))),
        darts=(Dart("waist_dart", "waist", Point(100, 260), (Point(110, 400), Point(90, 400))),),
    )


def test_an_armhole_moved_whole_keeps_its_shape_and_its_notch() -> None:
    before, by = bodice(), Point(0.0, 8.0)
    after = shifted(before, [Shift(TIP, by), Shift(UNDER, by)])
    old, new = before.edge("armhole").path, after.edge("armhole").path
    for share in (0.0, 0.3, 0.6, 1.0):
        assert new.point_at(new.length * share).distance(old.point_at(old.length * share) + by) < 1e-6
    assert after.notches[0].at.distance(before.notches[0].at + by) < 1e-6
    assert after.edge("side").path.length == pytest.approx(before.edge("side").path.length - 8.0, abs=0.05)
    assert after.points["underarm"] == UNDER + by
    assert after.points["inside"] == Point(100, 200)


def test_a_seam_let_out_by_one_amount_keeps_its_shape() -> None:
    # The whole seam is shifted by one fixed amount (T. Kozorovitsky, corset-dress course, tutorial 6).
    before, by = bodice(), Point(5.0, 0.0)
    after = shifted(before, [Shift(UNDER, by), Shift(WAIST, by)])
    assert after.edge("side").path.length == pytest.approx(before.edge("side").path.length, abs=1e-9)
    assert after.edge("waist").path.length == pytest.approx(before.edge("waist").path.length + 5.0, abs=1e-9)
    assert sewn_length(after, "waist") - sewn_length(before, "waist") == pytest.approx(5.0, abs=1e-9)
    assert after.darts[0].intake == pytest.approx(20.0)


def test_a_notch_keeps_its_distance_from_the_end_that_stays() -> None:
    before = bodice()
    after = shifted(before, [Shift(UNDER, Point(0.0, 10.0))])
    assert after.notches[1].at.distance(WAIST) == pytest.approx(before.notches[1].at.distance(WAIST), abs=0.3)


def test_the_mouth_of_a_dart_moves_as_a_whole() -> None:
    before = bodice()
    after = shifted(before, [Shift(CENTRE, Point(0.0, 12.0))])
    dart = after.darts[0]
    assert dart.intake == pytest.approx(before.darts[0].intake)
    assert dart.legs[0].distance(dart.apex) == pytest.approx(dart.legs[1].distance(dart.apex), abs=0.05)
    assert all(after.edge("waist").path.nearest(leg)[1] < 1e-6 for leg in dart.legs)


@given(
    st.floats(-12, 12).map(lambda v: round(v, 1)),
    st.floats(-12, 12).map(lambda v: round(v, 1)),
    st.sampled_from([TIP, UNDER, WAIST, CENTRE, NAPE, NECK]),
)
@settings(max_examples=examples(25), deadline=None)
def test_shifted_back_the_outline_returns(across: float, down: float, at: Point) -> None:
    before, by = bodice().with_changes(darts=()), Point(across, down)
    after = shifted(before, [Shift(at, by)])
    again = shifted(after, [Shift(at + by, -by)])
    for old, new in zip(before.edges, again.edges, strict=True):
        for share in (0.0, 0.2, 0.5, 0.8, 1.0):
            there = old.path.point_at(old.path.length * share)
            assert new.path.nearest(there)[1] < 0.1


def test_nothing_moves_beyond_a_point_that_stays() -> None:
    before = bodice()
    middle = before.edge("armhole").path.point_at(before.edge("armhole").path.length / 2)
    after = shifted(before, [Shift(UNDER, Point(6.0, 0.0)), Shift(middle, STILL)])
    upper = before.edge("armhole").path.between(0.0, before.edge("armhole").path.length / 2 - 1.0)
    assert all(after.edge("armhole").path.nearest(p)[1] < 1e-6 for p in upper.flatten(0.5))


@pytest.mark.parametrize(
    ("shifts", "words"),
    [
        ([Shift(Point(100, 200), Point(1, 0))], "off the outline"),
        ([Shift(TIP, Point(1, 0)), Shift(TIP, Point(2, 0))], "twice"),
        ([Shift(TIP, Point(900, 0))], "cannot be shifted by"),
        ([Shift(WAIST, Point(0, -380))], "crosses itself"),
    ],
)
def test_what_paper_refuses(shifts: list[Shift], words: str) -> None:
    with pytest.raises(PieceError, match=words):
        shifted(bodice(), shifts)
