"""A view put together of two halves: each side shows what its own half shows, and nothing is drawn down the middle."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from catalogue.drafting.drafter import draft_style
from catalogue.drawing.flat import Flat, flat
from catalogue.drawing.view import View
from catalogue.drawing.view_halves import cut, filled, of_two_halves
from catalogue.findings import Place
from catalogue.geometry import Point
from catalogue.people.fittings import FittingLine
from catalogue.studio.settings import Settings
from tests.demo import demo_client
from tests.drafting.people_and_styles import demo_style
from tests.drafting.test_fitting_follow import DAY


def box(half: float, low: float) -> View:
    view = View()
    view.shape([Point(-half, 0.0), Point(half, 0.0), Point(half, low), Point(-half, low)])
    view.line([Point(0.0, 0.0), Point(0.0, low)])
    view.buttons = [Point(0.0, 5.0), Point(-half, 5.0), Point(half, 5.0)]
    return view


@pytest.mark.parametrize(("from_behind", "sign"), [(False, -1), (True, 1)])
def test_each_side_is_that_of_its_own_half(from_behind: bool, sign: int) -> None:
    made = of_two_halves(box(10.0, 50.0), box(30.0, 50.0), from_behind)
    for shape in made.shapes:
        far = max(shape, key=lambda p: abs(p.x))
        assert abs(far.x) == (10.0 if far.x * sign > 0 else 30.0)
    # One line down the middle, of the right half; no edge of a shape is drawn there.
    middle = [line for kind, line, _ in made.strokes if kind == "seam" and all(abs(p.x) < 0.1 for p in line)]
    assert len(middle) == 1
    assert sorted(b.x for b in made.buttons) == sorted([0.0, 10.0 * sign, -30.0 * sign])


def test_a_shape_and_a_line_are_cut_at_the_middle() -> None:
    ring = [Point(-4.0, 0.0), Point(4.0, 4.0), Point(4.0, 8.0), Point(-4.0, 8.0)]
    assert filled(ring, 1.0) == [Point(0.0, 2.0), Point(4.0, 4.0), Point(4.0, 8.0), Point(0.0, 8.0)]
    zigzag = [Point(-2.0, 0.0), Point(2.0, 2.0), Point(-2.0, 4.0), Point(2.0, 6.0)]
    assert cut(zigzag, 1.0) == [
        [Point(0.0, 1.0), Point(2.0, 2.0), Point(0.0, 3.0)],
        [Point(0.0, 5.0), Point(2.0, 6.0)],
    ]


@cache
def skirt(text: str) -> Flat:
    lines = (FittingLine(DAY, "gored-skirt", text, Place("x", 1)),) if text else ()
    body = replace(demo_client("hester-pellow"), fittings=lines)
    made = flat(draft_style(demo_style("gored-skirt"), body, Settings()))
    assert made is not None
    return made


def test_a_gored_skirt_let_out_at_the_left_hip_is_wider_there_alone() -> None:
    plain, made = skirt("").front, skirt("left hip let out 12 mm").front
    right, left = (min(p.x for p in made.outline), max(p.x for p in made.outline))
    assert right == pytest.approx(min(p.x for p in plain.outline), abs=0.5)
    assert left > max(p.x for p in plain.outline) + 3.0
    behind = skirt("left hip let out 12 mm").back
    assert -min(p.x for p in behind.outline) == pytest.approx(left, abs=0.5)
