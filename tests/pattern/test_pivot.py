"""Darts closed and opened elsewhere, on bodice fronts for random bodies."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from catalogue.geometry import Path, contains, is_simple, signed_area
from catalogue.pattern import Dart, Mark, Piece
from catalogue.pattern.making import PieceError
from catalogue.pattern.measure import sewn_length
from catalogue.pattern.pivot import Opening, close_dart
from tests.pattern.paper import bodices, few, shares

ROUNDING = 0.02
"""mm that a sewn edge may change by where a dart's legs meet: their ends are brought together."""


def angle(dart: Dart) -> float:
    """Degrees between a dart's legs at its point."""
    a, b = dart.legs[0] - dart.apex, dart.legs[1] - dart.apex
    return abs(math.degrees(math.atan2(a.cross(b), a.dot(b))))


def spot(piece: Piece, edge: str, share: float):
    path = piece.edge(edge).path
    return path.point_at(path.length * share)


def sewn(piece: Piece) -> dict[str, float]:
    return {e.name: sewn_length(piece, e.name) for e in piece.edges}


def closed(piece: Piece, dart: str, openings: tuple[Opening, ...], share: float = 1.0) -> Piece:
    """The dart closed on the bust point; a body whose paper won't go is left out."""
    try:
        return close_dart(piece, dart, piece.points["bust_point"], openings, share)
    except PieceError as error:
        assume("fold over itself" not in error.message and "leaves the piece" not in error.message)
        raise


def seen_marks(piece: Piece, name: str) -> list[Mark]:
    """The marks that do not lie between the legs of a dart, where they are folded away with it."""
    dart = next(d for d in piece.darts if d.name == name)
    wedge = Path.polyline([dart.apex, *dart.legs, dart.apex])
    assume(all(wedge.nearest(m.at)[1] > 0.6 for m in piece.marks))  # on the very leg it is on both sides
    return [m for m in piece.marks if not contains(wedge, m.at, 0.0)]


@few
@given(bodices(), st.sampled_from(["neck", "shoulder", "armhole"]), shares())
def test_closing_a_dart_and_opening_it_elsewhere_keeps_every_edge(piece, edge, share):
    before = sewn(piece)
    made = closed(piece, "side", (Opening(spot(piece, edge, share), edge, name="new"),))
    dart = next(d for d in made.darts if d.name == "new")
    assert {d.name for d in made.darts} == {"waist", "new"}
    after = sewn(made)
    for name, length in before.items():
        assert after[name] == pytest.approx(length, abs=ROUNDING), name
    old = next(d for d in piece.darts if d.name == "side")
    assert angle(dart) == pytest.approx(angle(old), abs=1e-6)
    # The same angle, so at the same distance from the point the same intake.
    legs = [dart.apex.distance(leg) for leg in dart.legs]
    assert legs[0] == pytest.approx(legs[1], abs=1e-6)
    at_old_length = dart.intake * old.apex.distance(old.legs[0]) / legs[0]
    assert at_old_length == pytest.approx(old.intake, abs=1e-6)
    assert is_simple(made.outline)
    assert all(contains(made.outline, d.apex) for d in made.darts)


@few
@given(bodices(), shares())
def test_there_and_back_again_is_the_same_paper(piece, share):
    """A dart moved to the shoulder and back to where it was leaves everything that lay on the paper in its place."""
    dart = next(d for d in piece.darts if d.name == "side")
    made = closed(piece, "side", (Opening(spot(piece, "shoulder", share), "shoulder", name="away"),))
    met = made.edge("side").path
    place = min(dart.legs[0].distance(piece.edge("side").path.start), sewn_length(piece, "side"))
    back = close_dart(
        made, "away", made.points["bust_point"], (Opening(met.point_at(place), "side", name="side"),)
    )
    assert signed_area(back.outline) == pytest.approx(signed_area(piece.outline), abs=2.0)
    for name, length in sewn(piece).items():
        assert sewn_length(back, name) == pytest.approx(length, abs=ROUNDING), name
    for was in seen_marks(piece, "side"):
        now = next(m for m in back.marks if m.text == was.text)
        assert was.at.distance(now.at) < 0.1, was.text


@few
@given(bodices(), shares(0.2, 0.8))
def test_part_of_a_dart_closed(piece, part):
    old = next(d for d in piece.darts if d.name == "side")
    made = closed(piece, "side", (Opening(spot(piece, "shoulder", 0.5), "shoulder", name="new"),), part)
    darts = {d.name: d for d in made.darts}
    assert angle(darts["new"]) == pytest.approx(part * angle(old), abs=1e-6)
    assert angle(darts["side"]) == pytest.approx((1 - part) * angle(old), abs=1e-6)
    for name, length in sewn(piece).items():
        assert sewn_length(made, name) == pytest.approx(length, abs=ROUNDING), name


@few
@given(bodices(), shares(0.2, 0.8))
def test_several_openings_share_one_dart(piece, part):
    old = next(d for d in piece.darts if d.name == "side")
    made = closed(
        piece,
        "side",
        (
            Opening(spot(piece, "armhole", 0.4), "armhole", name="a", share=part),
            Opening(spot(piece, "shoulder", 0.5), "shoulder", name="b", share=1 - part),
        ),
    )
    darts = {d.name: d for d in made.darts}
    assert set(darts) == {"waist", "a", "b"}
    assert angle(darts["a"]) == pytest.approx(part * angle(old), abs=1e-5)
    assert angle(darts["b"]) == pytest.approx((1 - part) * angle(old), abs=1e-5)
    for name, length in sewn(piece).items():
        assert sewn_length(made, name) == pytest.approx(length, abs=2 * ROUNDING), name


@few
@given(bodices(), st.sampled_from(["gathers", "pleats", "ease"]))
def test_opened_as_fullness(piece, kind):
    """The edge grows by the fullness and, gathered or folded, is as long as before."""
    made = closed(piece, "side", (Opening(spot(piece, "shoulder", 0.5), "shoulder", kind, "full"),))
    (full,) = made.pleats
    assert full.kind == ("knife" if kind == "pleats" else kind)
    assert full.edge == "shoulder"
    assert sewn_length(made, "shoulder") == pytest.approx(sewn_length(piece, "shoulder"), abs=ROUNDING)
    assert made.edge("shoulder").path.length > piece.edge("shoulder").path.length + 2
    folds = [line for line in made.lines if line.kind == "pleat"]
    assert len(folds) == (2 if kind == "pleats" else 0)


@few
@given(bodices(), shares())
def test_everything_on_the_paper_keeps_its_place_on_its_part(piece, share):
    """Distances between things on one part of the paper are kept; every notch still lies on its edge."""
    assume(share != 0.37)  # a notch just where the paper opens is left on both sides of it
    made = closed(piece, "side", (Opening(spot(piece, "armhole", share), "armhole", name="new"),))
    seen = seen_marks(piece, "side")
    assert sorted(m.text for m in made.marks) == sorted(m.text for m in seen)
    kept = [n for n in piece.notches if n.edge != "side"]
    assert len([n for n in made.notches if n.edge != "side"]) == len(kept)
    for notch in made.notches:
        assert made.edge(notch.edge).path.nearest(notch.at)[1] < 0.02, notch
    assert {"bust_point", "waist"} <= set(made.points)
    for mark, name in ((m, f"spot_{m.text[-1]}") for m in made.marks):
        assert mark.at.distance(made.points[name]) < 1e-9
    # A mark keeps its distance from the pivot whichever part it lies on.
    for was in seen:
        now = next(m for m in made.marks if m.text == was.text)
        pivot = piece.points["bust_point"]
        assert now.at.distance(made.points["bust_point"]) == pytest.approx(was.at.distance(pivot), abs=1e-6)
