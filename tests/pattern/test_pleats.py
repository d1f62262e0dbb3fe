"""Pleats folded in the test as paper is folded: the edge then lies on the seam line, and unfolds to where it was."""

from __future__ import annotations

from bisect import bisect_right
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from catalogue.geometry import Path, Point, Transform, signed_area
from catalogue.pattern import Cut, Edge, Piece
from catalogue.pattern.making import PieceError, make_piece
from catalogue.pattern.measure import sewn_length
from catalogue.pattern.pleating import pleat
from catalogue.pattern.spreading import Slash, spread
from catalogue.pattern.truing import shape_edge
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
        # The fold that is seen points to the left, so what it takes lies under the paper on the right.
        return (left.dot(away) > 0) == to_left

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
    assert apart(again.outline.transformed(Transform.translation(shift)), piece.outline) < 2 * STRAY


def oblong(width: float = 200, height: float = 300, drop: float = 0) -> Piece:
    corners = [Point(0, 0), Point(width, 0), Point(width, height + drop), Point(0, height), Point(0, 0)]
    names = ("top", "right", "bottom", "left")
    edges = [Edge(n, Path.line(a, b)) for n, (a, b) in zip(names, pairwise(corners), strict=True)]
    return make_piece("sheet", "Sheet", edges, Cut(), {})


def arrows(made: Piece) -> list[Path]:
    return [line.path for line in made.lines if line.kind == "arrow"]


@pytest.mark.parametrize("grain_left", [True, False], ids=["left part stays", "right part stays"])
@pytest.mark.parametrize("downwards", [True, False])
@pytest.mark.parametrize("way", ["left", "right"])
def test_the_fold_that_is_seen_points_where_it_was_said(grain_left, downwards, way):
    """Paper folded: the cloth that carries the seen fold is brought over, fold first, to the line it is laid on.

    A knife pleat is named by the way its folded edge points on the right side; a pressed dart is named by where its
    bulk lies (common practice, no source).
    """
    grain = 30.0 if grain_left else 170.0
    sheet = oblong().with_changes(grain=(Point(grain, 40), Point(grain, 260)))
    line = Path.line(Point(100, 0), Point(100, 300))
    line = line if downwards else line.reversed()
    # Going down the paper, paper left is on the right hand.
    made = pleat(sheet, "fold", line, "knife", 15.0, (way == "left") != downwards)
    assert {p.folded_to for p in made.pleats} == {way}
    xs = sorted({round(f.path.start.x, 6) for f in made.lines if f.kind == "pleat"})
    assert len(xs) == 3 and xs[2] - xs[0] == pytest.approx(30)
    fold, onto = (xs[2], xs[0]) if way == "left" else (xs[0], xs[2])
    assert len(arrows(made)) == 2
    for arrow in arrows(made):
        assert (arrow.start.x, arrow.end.x) == pytest.approx((fold, onto))


@pytest.mark.parametrize("kind", ["box", "inverted"])
def test_two_folds_are_seen_of_box_and_inverted_pleats(kind):
    """Of an inverted pleat they meet in the middle, of a box pleat they lie a depth outside where they were."""
    made = pleat(
        oblong(400).with_changes(grain=(Point(20, 40), Point(20, 260))),
        "fold",
        Path.line(Point(200, 0), Point(200, 300)),
        kind,
        15.0,
        True,
    )
    found = sorted({(round(a.start.x), round(a.end.x)) for a in arrows(made)})
    # Flat, the folds lie at 200, 215, 245 and 260.
    assert found == ([(200, 230), (260, 230)] if kind == "inverted" else [(215, 185), (245, 275)])
    places = sorted(round(f.path.start.x) for f in made.lines if f.kind == "guide")
    assert places == ([230] if kind == "inverted" else [185, 275])
    assert all(f.path.length == pytest.approx(300) for f in made.lines if f.kind == "guide")


def test_turned_over_the_pleat_points_the_other_way():
    from catalogue.pattern.joining import turned_over

    made = pleat(oblong(), "fold", Path.line(Point(100, 0), Point(100, 300)), "knife", 15.0, True)
    before, after = made.pleats[0].folded_to, turned_over(made).pleats[0].folded_to
    assert {before, after} == {"left", "right"}
    for piece, word in ((made, before), (turned_over(made), after)):
        ways = {1 if a.end.x > a.start.x else -1 for a in arrows(piece)}
        assert ways == {1 if word == "right" else -1}


@few
@given(quads(), shares(0.35, 0.65), floats(4, 25), st.booleans())
def test_free_at_the_hem_the_edge_runs_through(piece, s, depth, to_left):
    line = across(piece, s, s)
    try:
        made = pleat(piece, "fold", line, "knife", depth, to_left, ["bottom"])
    except PieceError as error:
        assume("narrower" not in error.message and "leaves the piece" not in error.message)
        raise
    assert [p.edge for p in made.pleats] == ["top"]
    # Nothing is folded away at the hem: it is as long as before and what the pleat takes (a little more aslant).
    way = piece.edge("bottom").path
    tilt = way.tangent_at(way.nearest(line.end)[0])
    taken = sewn_length(made, "bottom") - way.length
    straight = abs(tilt.dot((line.end - line.start).unit()))
    assert taken >= 2 * depth - 1e-6
    assert taken <= 2 * depth / max(0.3, (1 - straight**2) ** 0.5) * 1.3
    for corner in made.edge("bottom").path.corners():
        assert any(abs(corner - c) < 3 * depth + 1 for c in way.corners()), (
            "a corner that was not there before"
        )
    assert sewn_length(made, "top") == pytest.approx(piece.edge("top").path.length, abs=STRAY)


def test_a_level_hem_stays_one_straight_line_and_can_be_shaped():
    made = pleat(oblong(), "fold", Path.line(Point(100, 0), Point(100, 300)), "knife", 15.0, True, ["bottom"])
    (segment,) = made.edge("bottom").path.segments
    assert segment.length() == pytest.approx(230)
    assert shape_edge(made, "bottom", {"left": 20.0}).edge("bottom").path.length > 230


def test_fold_lines_run_to_the_hem_when_it_is_shaped_after_the_pleat():
    made = pleat(oblong(), "fold", Path.line(Point(100, 0), Point(100, 300)), "knife", 15.0, True, ["bottom"])
    for shift in (20.0, -30.0):
        shaped = shape_edge(made, "bottom", {"left": shift})
        hem, top = shaped.edge("bottom").path, shaped.edge("top").path
        folds = [line.path for line in shaped.lines if line.kind == "pleat"]
        assert len(folds) == 3
        for fold in folds:
            low, high = (
                max(fold.start, fold.end, key=lambda p: p.y),
                min(fold.start, fold.end, key=lambda p: p.y),
            )
            assert hem.nearest(low)[1] < 1e-6 and top.nearest(high)[1] < 1e-6


def test_it_must_reach_the_edge_where_it_hangs_free():
    with pytest.raises(PieceError, match="does not reach the edge “left”"):
        pleat(oblong(), "fold", Path.line(Point(100, 0), Point(100, 300)), "knife", 15.0, True, ["left"])


@pytest.mark.parametrize("way", ["left", "right", ""])
def test_wedges_laid_in_pleats_point_where_it_was_said(way):
    """The seen fold lies uppermost: mirrored in it, the edge under it lies on the seam line of the cloth above."""
    sheet = oblong(drop=40).with_changes(grain=(Point(10, 40), Point(10, 260)))
    made = spread(sheet, [Slash(Path.line(Point(120, 0), Point(120, 324)), 0.0, 24.0)], "pleats", way)
    (laid,) = made.pleats
    assert laid.folded_to == (way or laid.folded_to) and laid.folded_to in ("left", "right")
    (arrow,) = arrows(made)
    assert (arrow.end.x > arrow.start.x) == (laid.folded_to == "right")
    folds = [line.path for line in made.lines if line.kind == "pleat"]
    seen = min(folds, key=lambda f: f.nearest(arrow.start)[1])
    leg = max((seen.start, seen.end), key=lambda p: p.y)
    hinge = min((seen.start, seen.end), key=lambda p: p.y)
    path = made.edge("bottom").path
    # The hem runs from right to left; the cloth that lies uppermost is on the side that the fold does not point to.
    uppermost = path.point_at(path.nearest(leg)[0] + (4.0 if laid.folded_to == "right" else -4.0))
    assert path.nearest(Transform.reflection(hinge, leg).apply(uppermost))[1] < 0.05


def test_the_grain_line_keeps_off_the_folds_of_pleats():
    """Two lines close together are mistaken for one another at the table (common practice, no source)."""
    sheet = oblong(drop=40).with_changes(grain=(Point(118, 40), Point(118, 260)))
    made = spread(sheet, [Slash(Path.line(Point(120, 0), Point(120, 324)), 0.0, 24.0)], "pleats", "left")
    line = Path.line(*made.grain)
    assert abs((line.end - line.start).unit().cross(Point(0, 1))) < 0.2
    for each in made.lines:
        if each.kind in ("pleat", "arrow"):
            apart = min(line.nearest(each.path.point_at(each.path.length * i / 50))[1] for i in range(51))
            assert apart >= 12.0 - 1e-6


def test_too_deep_a_pleat_is_refused():
    sheet = oblong(100)
    with pytest.raises(PieceError, match="narrower than the pleat is deep"):
        pleat(sheet, "fold", Path.line(Point(30, 0), Point(30, 300)), "box", 40.0, True)
