"""Pleats folded in the test as paper is folded: the edge then lies on the seam line, and unfolds to where it was."""

from __future__ import annotations

from bisect import bisect_right
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from catalogue.geometry import Path, Point, signed_area
from catalogue.pattern import Piece
from catalogue.pattern.making import PieceError
from catalogue.pattern.measure import sewn_length
from catalogue.pattern.pleating import pleat
from catalogue.pattern.spreading import Slash, spread
from tests.pattern.paper import STRAY, apart, few, floats, quads, shares


def pleated(piece: Piece, line: Path, kind: str, depth: float, to_left: bool) -> Piece:
    try:
        return pleat(piece, "fold", line, kind, depth, to_left)
    except PieceError as error:
        assume("narrower" not in error.message and "leaves the piece" not in error.message)
        raise


def across(piece: Piece, s: float, t: float) -> Path:
    top, bottom = piece.edge("top").path, piece.edge("bottom").path
    return Path.line(top.point_at(top.length * s), bottom.point_at(bottom.length * (1 - t)))


def the_way_it_opens(made: Piece) -> tuple[Point, float]:
    """Unit vector across the pleat, from the part that stays, and the width of cloth it takes."""
    mouth = next(p for p in made.pleats if p.name == "fold").mouth
    return (mouth[1] - mouth[0]).unit(), mouth[0].distance(mouth[1])


@few
@given(
    quads(),
    shares(0.35, 0.65),
    shares(0.35, 0.65),
    st.sampled_from(["knife", "box", "inverted"]),
    floats(4, 30),
    st.booleans(),
)
def test_folded_again_its_edge_lies_on_the_seam(piece, s, t, kind, depth, to_left):
    line = across(piece, s, t)
    made = pleated(piece, line, kind, depth, to_left)
    mouth = next(p for p in made.pleats if p.name == "fold").mouth
    # Whichever end of the mouth has not moved is where the line was drawn.
    still, moved = (mouth[0], mouth[1]) if mouth[0].distance(line.start) < 1e-6 else (mouth[1], mouth[0])
    assert still.distance(line.start) < 1e-6
    away, width = (moved - still).unit(), still.distance(moved)
    assert width == pytest.approx((2 if kind == "knife" else 4) * depth, abs=1e-6)
    assert abs(away.dot((line.end - line.start).unit())) < 1e-9
    folds = sorted({round((f.path.start - line.start).dot(away), 6) for f in made.lines if f.kind == "pleat"})
    assert len(folds) == (3 if kind == "knife" else 4)

    def folded(at: Point) -> Point:
        """Where a point of the flat paper lies once every fold behind it is laid: turned over at each one."""
        u = (at - line.start).dot(away)
        if u <= 0:
            return at
        place, sense = 0.0, -1.0 if turns_back_first(kind, made, line, away) else 1.0
        for a, b in pairwise([*folds, float("inf")]):
            step = min(u, b) - a
            place += sense * step
            if u <= b:
                break
            sense = -sense
        return at + away * (place - u)

    def turns_back_first(kind: str, made: Piece, line: Path, away: Point) -> bool:
        if kind != "knife":
            return True
        left = -(line.end - line.start).normal()
        return (left.dot(away) < 0) == to_left

    checked = 0
    for name in ("top", "bottom"):
        path = made.edge(name).path
        for i in range(200):
            at = path.point_at(path.length * i / 199)
            u = (at - line.start).dot(away)
            # Past the last fold the folded paper lies where the moved part came from.
            back = at - away * width if u >= width - 1e-9 else folded(at)
            if -1e-6 <= u <= width + 1e-6:
                checked += 1
            assert piece.edge(name).path.nearest(back)[1] < STRAY, (name, u)
    assert checked > 4
    for name in ("top", "bottom"):
        assert sewn_length(made, name) == pytest.approx(piece.edge(name).path.length, abs=STRAY)
    assert bisect_right(folds, width + 1e-3) == len(folds)


@few
@given(quads(), shares(0.35, 0.65), st.sampled_from(["knife", "box"]), floats(4, 25), st.booleans())
def test_a_pleat_taken_out_again_leaves_the_piece(piece, s, kind, depth, to_left):
    line = across(piece, s, s)
    made = pleated(piece, line, kind, depth, to_left)
    away, width = the_way_it_opens(made)
    here = next(p for p in made.pleats if p.name == "fold").mouth
    start = here[0] if here[0].distance(line.start) < 1e-6 else here[1]
    assert start.distance(line.start) < 1e-6
    for where in (line, Path.line(line.start + away * width, line.end + away * width)):
        bare = made.with_changes(pleats=(), lines=())
        try:
            again = spread(bare, [Slash(where, -width, -width)])
        except PieceError:
            continue
        if abs(signed_area(again.outline) - signed_area(piece.outline)) < 1:
            break
    else:
        assume(False)
    shift = piece.edges[0].path.start - again.edges[0].path.start
    assert shift.length < STRAY or abs(shift.length - width) < STRAY
    from catalogue.geometry import Transform

    assert apart(again.outline.transformed(Transform.translation(shift)), piece.outline) < 2 * STRAY


def test_too_deep_a_pleat_is_refused():
    from catalogue.pattern import Cut, Edge
    from catalogue.pattern.making import make_piece

    corners = [Point(0, 0), Point(100, 0), Point(100, 300), Point(0, 300), Point(0, 0)]
    names = ("top", "right", "bottom", "left")
    sheet = make_piece(
        "sheet",
        "Sheet",
        [Edge(n, Path.line(a, b)) for n, (a, b) in zip(names, pairwise(corners), strict=True)],
        Cut(),
        {},
    )
    with pytest.raises(PieceError, match="narrower than the pleat is deep"):
        pleat(sheet, "fold", Path.line(Point(30, 0), Point(30, 300)), "box", 40.0, True)
