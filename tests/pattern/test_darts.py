"""Darts: legs of one length, and the paper folded in the test as the cutter folds it, to both sides."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from catalogue.geometry import Path, Point, Transform, contains, signed_area
from catalogue.pattern import Dart, Edge, Piece
from catalogue.pattern.darts import add_dart, add_double_dart
from catalogue.pattern.grain import clear_grain
from catalogue.pattern.lengthening import fold_out
from catalogue.pattern.making import PieceError
from catalogue.pattern.measure import place_on, sewn_length
from tests.pattern.paper import STRAY, bodices, few, floats, quads, shares

LEGS = 1e-6
"""mm that the two legs of a dart may differ by."""


def with_dart(
    piece: Piece, edge: str, share: float, intake: float, length: float, to: str
) -> tuple[Piece, Dart]:
    path = piece.edge(edge).path
    assume(path.length * min(share, 1 - share) > 1.2 * intake)
    try:
        made = add_dart(piece, "dart", edge, path.length * share, intake, length=length, folded_to=to)
    except PieceError as error:
        assume("outside the piece" not in error.message and "crosses itself" not in error.message)
        raise
    return made, made.darts[-1]


def legs(dart: Dart) -> tuple[float, float]:
    return dart.legs[0].distance(dart.apex), dart.legs[1].distance(dart.apex)


def over(a: Point, b: Point, at: Point) -> Point:
    """A point of paper folded over the line through a and b."""
    return Transform.reflection(a, b).apply(at)


@few
@given(
    quads(),
    st.sampled_from(["top", "bottom"]),
    shares(0.3, 0.7),
    floats(10, 50),
    floats(80, 140),
    st.sampled_from(["left", "right"]),
)
def test_a_folded_dart_is_cut_along_the_seam(piece, edge, share, intake, length, to):
    """Pressed to a side the dart lies under it in two layers; unfolded they make the roof over the mouth."""
    made, dart = with_dart(piece, edge, share, intake, length, to)
    first, second = legs(dart)
    assert first == pytest.approx(second, abs=LEGS)
    path = made.edge(edge).path
    s0, s1 = place_on(path, dart.legs[0]), place_on(path, dart.legs[1])
    assert dart.tip is not None
    tip = place_on(path, dart.tip)
    assert s0 < tip < s1
    # The roof is symmetric about the dart's middle line, so both legs of its point are equally long.
    assert tip - s0 == pytest.approx(s1 - tip, abs=1e-4)
    across = dart.legs[1] - dart.legs[0]
    to_first = (across.x > 0) == (to == "left")
    leg = dart.legs[0] if to_first else dart.legs[1]
    seam = path.between(0, s0) if to_first else path.between(s1, path.length)
    # A roof that runs past the end of its edge lies on the line run on straight.
    seam = seam.extended(200, 0) if to_first else seam.extended(0, 200)
    for i in range(1, 20):
        near = (
            path.point_at(s0 + (tip - s0) * i / 20) if to_first else path.point_at(s1 - (s1 - tip) * i / 20)
        )
        far = path.point_at(s1 - (s1 - tip) * i / 20) if to_first else path.point_at(s0 + (tip - s0) * i / 20)
        assert seam.nearest(over(dart.apex, leg, near))[1] < STRAY
        # The far layer is folded over the dart's middle line first, then over the leg.
        middle = dart.legs[0].mix(dart.legs[1], 0.5)
        assert seam.nearest(over(dart.apex, leg, over(dart.apex, middle, far)))[1] < STRAY


@few
@given(quads(), st.sampled_from(["top", "bottom"]), shares(0.3, 0.7), floats(10, 40), floats(80, 140))
def test_closed_the_edge_runs_on_over_the_dart(piece, edge, share, intake, length):
    """With the dart closed the edge has no step, and is the intake shorter but for what truing the legs adds."""
    made, dart = with_dart(piece, edge, share, intake, length, "left")
    path = made.edge(edge).path
    s0, s1 = place_on(path, dart.legs[0]), place_on(path, dart.legs[1])
    a, b = dart.legs[1] - dart.apex, dart.legs[0] - dart.apex
    close = Transform.carrying(dart.apex, dart.legs[1], dart.apex, dart.legs[0])
    rest = path.between(s1, path.length).transformed(close)
    assert rest.start.distance(path.point_at(s0)) < LEGS
    assert a.length == pytest.approx(b.length)
    assert path.between(0, s0).length + rest.length == pytest.approx(sewn_length(made, edge), abs=1e-6)
    assert sewn_length(made, edge) == pytest.approx(piece.edge(edge).path.length - intake, abs=0.15 * intake)


def test_the_habit_is_to_the_fold_and_down():
    """Upright darts are pressed to the centre and level ones down when nothing is said (common practice, no source)."""

    @few
    @given(bodices())
    def check(piece):
        darts = {d.name: d for d in piece.darts}
        for name, towards in (("waist", Point(-1, 0)), ("side", Point(0, 1))):
            dart = darts[name]
            assume(dart.tip is not None)
            path = piece.edge(name).path
            s0, s1 = place_on(path, dart.legs[0]), place_on(path, dart.legs[1])
            to_first = (dart.legs[1] - dart.legs[0]).dot(towards) < 0
            leg = dart.legs[0] if to_first else dart.legs[1]
            seam = (
                path.between(0, s0).extended(200, 0)
                if to_first
                else path.between(s1, path.length).extended(0, 200)
            )
            near = path.point_at(s0 + 1.0) if to_first else path.point_at(s1 - 1.0)
            assert seam.nearest(over(dart.apex, leg, near))[1] < STRAY, name

    check()


@few
@given(quads(), floats(60, 120), floats(5, 30), shares(0.3, 0.7))
def test_a_dart_with_two_ends(piece, length, intake, share):
    """It changes no edge; its four legs are two and two alike; a wedge folded across it leaves them so."""
    box = piece.outline.bounds()
    middle = Point(box.left + box.width / 2, box.top + box.height / 2)
    start, end = middle - Point(0, length / 2), middle + Point(0, length / 2)
    assume(contains(piece.outline, start, 0.0) and contains(piece.outline, end, 0.0))
    widest = start.mix(end, share)
    made = add_double_dart(piece, "waist", start, end, widest, intake)
    (dart,) = made.darts
    assert signed_area(made.outline) == signed_area(piece.outline)
    assert dart.intake == pytest.approx(intake)
    assert dart.far_apex is not None
    for point in (dart.apex, dart.far_apex):
        assert dart.legs[0].distance(point) == pytest.approx(dart.legs[1].distance(point), abs=LEGS)
    left, right = made.edge("left").path, made.edge("right").path
    try:
        bent = fold_out(
            made, left.point_at(left.nearest(middle)[0]), 8.0, right.point_at(right.nearest(middle)[0])
        )
    except PieceError as error:
        assume("does not fit" not in error.message and "leaves the piece" not in error.message)
        raise
    (trued,) = bent.darts
    assert trued.far_apex is not None
    for point in (trued.apex, trued.far_apex):
        assert trued.legs[0].distance(point) == pytest.approx(trued.legs[1].distance(point), abs=LEGS)
    assert trued.intake == pytest.approx(intake, abs=1.5)
    assert trued.apex.distance(trued.far_apex) == pytest.approx(length - 4, abs=4.5)


def test_a_straight_mouth_stays_straight():
    @few
    @given(quads(curved=False), shares(0.4, 0.6))
    def check(piece, share):
        path = piece.edge("top").path
        made = add_dart(piece, "d", "top", path.length * share, 20, length=80, straight=True)
        dart = made.darts[-1]
        s0, s1 = (place_on(made.edge("top").path, leg) for leg in dart.legs)
        assert dart.tip is None
        between = made.edge("top").path.between(s0, s1)
        assert between.length == pytest.approx(20, abs=1e-6)
        assert isinstance(between, Path)

    check()


def test_a_grain_line_moves_beside_a_dart_that_lies_on_it() -> None:
    """Common practice, no source: the line along which a piece is laid is not hidden by a dart."""
    corners = [Point(0, 0), Point(200, 0), Point(200, 600), Point(0, 600)]
    sides = [Path.line(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)]
    plain = Piece("front", "Front", tuple(Edge(f"e{i}", side) for i, side in enumerate(sides)))
    piece = add_dart(plain, "dart", "e0", 100.0, 20.0, length=120.0)
    through, beside = (Point(100, 90), Point(100, 510)), (Point(30, 90), Point(30, 510))
    moved = clear_grain(piece, through)
    assert abs(moved[0].x - 100) > 20 and moved[0].x == moved[1].x
    assert clear_grain(piece, beside) == beside
    assert clear_grain(plain, through) == through
