"""What words for lines, and words for what lies on a piece, draw: against school geometry (from memory)."""

from __future__ import annotations

import math

import pytest

from catalogue.drafting.model import Draft
from tests.drafting.people_and_styles import draft, person

FRAME = """
a = 10 cm right from start
b = 10 cm down from start
c = 10 cm right and 10 cm down from start
top = line start to a
"""

PIECE = """
piece square "Square"
  outline top: start to a
    side: a to c
    hem: c to b
    middle: b to start
"""


def drawn(lines: str) -> Draft:
    made = draft(FRAME + lines, person(bust_girth="96"))
    assert [str(f) for f in made.findings] == []
    return made


@pytest.mark.parametrize(
    ("line", "mm"),
    [
        ("arc about start from a to b", 100 * math.pi / 2),
        ("arc about start from a to c", 100 * math.pi / 4),
        ("part of top from (2 cm right from start) to (7 cm right from start)", 50),
        ("top then (line c to a)", 200),
        ("parallel to top, 3 cm down", 100),
        ("mirror of top over (line a to c)", 100),
    ],
)
def test_length_of_a_line(line, mm):
    """An arc is its radius times its turn in radians; what is moved or mirrored keeps its length."""
    assert drawn(f"x = {line}").paths["x"].length == pytest.approx(mm, abs=0.01)


@pytest.mark.parametrize(
    ("lines", "at"),
    [
        ("x = mirror of start over (line a to c)", (200, 0)),
        ("x = 1/4 of the way from start to c", (25, 25)),
        ("way = line start to a to c\nx = 3/4 of the way from start to c along way", (100, 50)),
        ("x = c moved 2 cm up and 3 cm left", (70, 80)),
        ("down_there = parallel to top, 3 cm down\nx = start of down_there", (0, 30)),
        ("joined = top then (line c to a)\nx = end of joined", (100, 100)),
    ],
)
def test_place_of_a_point(lines, at):
    assert drawn(lines).points["x"] == pytest.approx(at, abs=1e-6)


def test_intake_of_a_dart_is_the_width_of_its_mouth():
    made = drawn(
        f"{PIECE}dart square.top, middle at halfway, intake 2 cm, length 6 cm\nx = intake of square.top_dart"
    )
    assert made.values["x"].value == pytest.approx(20)
    (dart,) = made.pieces["square"].darts
    assert dart.legs[0].distance(dart.legs[1]) == pytest.approx(20)


@pytest.mark.parametrize(
    ("under", "after", "way"),
    [
        ("grain along side", "grain of square along square.side", (0, 1)),
        ("grain start to c", "grain of square start to c", (1, 1)),
        ("grain right", "grain of square right", (1, 0)),
        ("grain a to b", "grain of square a to b", (-1, 1)),
    ],
)
def test_grain_lies_as_it_is_asked_for(under, after, way):
    """A grain line has no head and no foot: either direction is right. Under the piece or after it, it is the same."""
    lines = [drawn(f"{PIECE}  {under}\n"), drawn(f"{PIECE}{after}\n")]
    for start, end in (made.pieces["square"].grain for made in lines):
        run = (end - start).unit()
        assert abs(run.x * way[1] - run.y * way[0]) < 1e-6
        assert all(0 <= p.x <= 100 and 0 <= p.y <= 100 for p in (start, end))


def test_marks_lie_where_they_are_put():
    (mark,) = drawn(f'{PIECE}  mark (midway start to c) drill hole "Here"\n').pieces["square"].marks
    assert (mark.at, mark.kind, mark.text) == (pytest.approx((50, 50)), "drill", "Here")
