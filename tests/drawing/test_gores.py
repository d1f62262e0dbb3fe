"""Skirts of gores and of parts of a circle: every seam where its share of the round lies, as wide as the pieces are."""

from __future__ import annotations

import math
from functools import cache

import pytest

from catalogue.drafting import Draft, draft_style
from catalogue.drawing.body_outline import BREADTH
from catalogue.drawing.flat import flat
from catalogue.drawing.view import View
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from tests.demo import demo_client

HEAD = """---
title: Gores
---
# Drafting
```draft
"""
GORE = """
new paper "{name}"
{name}_1 = start
{name}_2 = {waist} right from {name}_1
{name}_3 = {hem} right and 60 cm down from {name}_1
{name}_4 = 60 cm down from {name}_1
piece {name} "{name} gore", {cut}
  outline waist: {name}_1 to {name}_2
          {right}: {name}_2 to {name}_3
          hem: {name}_3 to {name}_4
          {left}: {name}_4 to {name}_1{fold}
"""
SIX = (
    HEAD
    + GORE.format(
        name="front",
        waist="9 cm",
        hem="16 cm",
        cut="cut 1 on fold",
        left="centre",
        right="panel",
        fold=", fold",
    )
    + GORE.format(
        name="side_front", waist="10 cm", hem="20 cm", cut="cut 2", left="panel", right="side", fold=""
    )
    + GORE.format(
        name="side_back", waist="10 cm", hem="20 cm", cut="cut 2", left="panel", right="side", fold=""
    )
    + GORE.format(name="back", waist="9 cm", hem="16 cm", cut="cut 2", left="centre", right="panel", fold="")
    + "{more}sew front.panel to side_front.panel\nsew side_front.side to side_back.side\n"
    "sew side_back.panel to back.panel\n```\n"
)
ALIKE = HEAD + GORE.format(
    name="gore", waist="9 cm", hem="18 cm", cut="cut {count}", left="left", right="right", fold=""
)


@cache
def drafted(source: str) -> Draft:
    draft = draft_style(style_from(source.encode(), "gores", "gores.md"), demo_client("ines"), Settings())
    assert draft.pieces and not draft.findings, [str(f) for f in draft.findings]
    return draft


def seams(view: View) -> list[float]:
    """Where the lines from the waist down to the hem end there, from left to right."""
    return sorted(line[-1].x for kind, line, closed in view.strokes if kind == "seam" and not closed)


def breadths(view: View) -> tuple[float, float]:
    """Half of the breadth at the waist and at the hem."""
    top = min(p.y for p in view.outline)
    return max(p.x for p in view.outline if p.y < top + 2), max(p.x for p in view.outline)


def test_every_seam_between_gores_is_seen_once_on_its_side() -> None:
    made = flat(drafted(SIX.replace("{more}", "")))
    assert made is not None
    half = breadths(made.front)[1]
    front, back = seams(made.front), seams(made.back)
    # The gore in the middle has sixteen parts of the thirty-six that a quarter of the hem measures.
    assert front == pytest.approx([-half * 16 / 36, half * 16 / 36], abs=1.0)
    assert back == pytest.approx([-half * 16 / 36, 0.0, half * 16 / 36], abs=1.0)


def test_as_wide_as_the_pieces_at_waist_and_hem() -> None:
    made = flat(drafted(SIX.replace("{more}", "")))
    assert made is not None
    for view in (made.front, made.back):
        waist, hem = breadths(view)
        assert waist == pytest.approx(190 * BREADTH, rel=0.01)
        assert hem == pytest.approx(360 * BREADTH, rel=0.01)


def test_a_pleat_in_the_middle_of_the_back_adds_nothing_to_the_width() -> None:
    pleat = "pleat back along back.centre, inverted, depth 5 cm, free at hem, named middle_pleat\n"
    plain, pleated = (flat(drafted(SIX.replace("{more}", more))) for more in ("", pleat))
    assert plain is not None and pleated is not None
    for one, other in ((plain.front, pleated.front), (plain.back, pleated.back)):
        assert breadths(other) == pytest.approx(breadths(one), abs=1.0)
        assert seams(other) == pytest.approx(seams(one), abs=1.0)


@pytest.mark.parametrize(
    ("count", "front"),
    [(4, [0]), (6, [-1 / 3, 1 / 3]), (8, [-0.5, 0, 0.5]), (12, [-2 / 3, -1 / 3, 0, 1 / 3, 2 / 3])],
)
def test_gores_that_are_all_alike_share_the_round_evenly(count: int, front: list[float]) -> None:
    made = flat(drafted(ALIKE.replace("{count}", str(count)) + "sew gore.left to gore.right\n```\n"))
    assert made is not None
    half = breadths(made.front)[1]
    assert seams(made.front) == pytest.approx([half * at for at in front], abs=1.0)


def test_sides_of_a_full_skirt_hang_at_most_at_the_angle_of_the_fullest() -> None:
    source = ALIKE.replace("{count}", "8").replace("18 cm", "80 cm")
    made = flat(drafted(source + "sew gore.left to gore.right\n```\n"))
    assert made is not None
    waist, hem = breadths(made.front)
    side = max(made.front.outline, key=lambda p: p.x)
    assert math.degrees(math.atan2(hem - waist, side.y)) == pytest.approx(36, abs=1)
    # What is too much for the width falls in folds: lines that begin below the waist.
    folds = [
        line for kind, line, closed in made.front.strokes if kind == "seam" and not closed and line[0].y > 100
    ]
    assert len(folds) >= 3
