"""Trousers as they hang: as broad as their girths, legs straight down, front and back alike."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path as File

import pytest

from catalogue.drafting import Draft, draft_style
from catalogue.drawing.body_outline import BREADTH
from catalogue.drawing.flat import Flat, flat
from catalogue.drawing.view import View
from catalogue.studio.reading import read_style
from catalogue.studio.settings import Settings
from tests.demo import demo_client

ROOT = File(__file__).parents[2]


@pytest.fixture(scope="module", params=["ines", "omolara"])
def trousers(request: pytest.FixtureRequest) -> tuple[Draft, Flat]:
    style = read_style(ROOT / "styles" / "trousers-block.md", ROOT)
    draft = draft_style(style, demo_client(request.param), Settings())
    made = flat(draft)
    assert made is not None
    return draft, made


def crossings(view: View, level: float) -> list[float]:
    """Where the outline crosses a level, from left to right."""
    line = [*view.outline, view.outline[0]]
    return sorted(
        a.x + (b.x - a.x) * (level - a.y) / (b.y - a.y)
        for a, b in pairwise(line)
        if (a.y <= level) != (b.y <= level)
    )


def length(draft: Draft, name: str) -> float:
    return draft.values[name].value


def test_a_leg_is_as_broad_as_its_girth_at_knee_and_hem(trousers: tuple[Draft, Flat]) -> None:
    draft, made = trousers
    for view in (made.front, made.back):
        hem = max(p.y for p in view.outline)
        knee = hem - (length(draft, "leg_length") - length(draft, "knee_down"))
        for level, girth in ((hem - 1.0, "hem_round"), (knee, "knee_round")):
            left_out, left_in, right_in, right_out = crossings(view, level)
            for broad in (left_in - left_out, right_out - right_in):
                assert broad == pytest.approx(length(draft, girth) / 2 * BREADTH, rel=0.02)


def test_hip_is_as_broad_as_its_girth(trousers: tuple[Draft, Flat]) -> None:
    draft, made = trousers
    for view in (made.front, made.back):
        hem = max(p.y for p in view.outline)
        left, right = crossings(view, hem - (length(draft, "leg_length") - length(draft, "hip_down")))
        assert right - left == pytest.approx(length(draft, "hip_round") / 2 * BREADTH, rel=0.02)


def test_legs_hang_straight_and_apart(trousers: tuple[Draft, Flat]) -> None:
    draft, made = trousers
    for view in (made.front, made.back):
        hem = max(p.y for p in view.outline)
        knee = hem - (length(draft, "leg_length") - length(draft, "knee_down"))
        creases = []
        for level in (hem - 1.0, (hem + knee) / 2, knee):
            left_out, left_in, right_in, right_out = crossings(view, level)
            assert left_in < 0 < right_in
            assert right_out == pytest.approx(-left_out, abs=0.5) and right_in == pytest.approx(
                -left_in, abs=0.5
            )
            creases.append((right_in + right_out) / 2)
        assert max(creases) - min(creases) < 2.0


def test_front_and_back_have_one_outline_below_the_waist(trousers: tuple[Draft, Flat]) -> None:
    _, made = trousers
    hem = max(p.y for p in made.front.outline)
    assert max(p.y for p in made.back.outline) == pytest.approx(hem, abs=0.5)
    for up in range(50, 900, 50):
        front, back = crossings(made.front, hem - up), crossings(made.back, hem - up)
        assert front[-1] == pytest.approx(back[-1], abs=3.0)


def test_seams_of_the_middle_and_darts_are_drawn(trousers: tuple[Draft, Flat]) -> None:
    draft, made = trousers
    for name, view in (("front", made.front), ("back", made.back)):
        middle = [
            line for kind, line, _ in view.strokes if kind == "seam" and max(abs(p.x) for p in line) < 2
        ]
        assert any(max(p.y for p in line) - min(p.y for p in line) > 180 for line in middle)
        darts = [line for kind, line, _ in view.strokes if kind == "dart"]
        assert len(darts) == 2 * len(draft.pieces[name].darts)
