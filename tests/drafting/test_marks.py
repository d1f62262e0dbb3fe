"""Rows of buttons, balance marks and lengthen lines as a style file asks for them."""

from __future__ import annotations

import pytest

from catalogue.drafting.model import Draft
from catalogue.handbook import draft_example
from catalogue.handbook.entry import Entry

PAPER = """
corner = 40 cm down from start
right  = 20 cm right from start
low    = 40 cm down from right
piece front "Front", cut 2
  outline centre: corner to start
          top: start to right
          side: right to low
          hem: low to corner
"""


def drafted(lines: str) -> Draft:
    return draft_example(Entry("mark_row_on", "Pieces", "Rows", "", "", PAPER + lines))


def marks(lines: str) -> list[tuple[float, float, str, str, float]]:
    draft = drafted(lines)
    assert [str(f) for f in draft.findings] == []
    return [
        (round(m.at.x, 6), round(m.at.y, 6), m.kind, m.text, m.angle) for m in draft.pieces["front"].marks
    ]


def test_buttons_are_spread_evenly_with_one_at_each_end() -> None:
    found = marks(
        "a = 2 cm down from start\nb = 32 cm down from a\nmark 5 buttons along (line a to b) on front"
    )
    assert found == [(0, 20 + 80 * i, "button", str(i + 1), 0) for i in range(5)]


def test_part_of_a_line_is_named_by_its_ends() -> None:
    lines = "a = 5 cm down from start\nmark 3 drill holes along front.centre from corner to a on front"
    assert [m[:3] for m in marks(lines)] == [(0, 400 - 175 * i, "drill") for i in range(3)]


@pytest.mark.parametrize(("apart", "count"), [("9 cm", 5), ("10 cm", 5), ("12 cm", 4), ("90 cm", 2)])
def test_buttons_so_far_apart_come_as_near_to_it_as_whole_ones_can(apart: str, count: int) -> None:
    assert len(marks(f"mark buttons {apart} apart along front.side on front")) == count


@pytest.mark.parametrize(("words", "angle"), [("", 0), (", lying across", 0), (", lying along", -90)])
def test_buttonholes_lie_across_the_line_or_along_it(words: str, angle: float) -> None:
    # Across at the front of a coat, along on the band of a shirt (common practice, no source).
    found = marks(f"mark 2 buttonholes along front.side{words} on front")
    assert [abs(m[4]) for m in found] == [abs(angle)] * 2


def test_one_button_lies_where_the_row_begins() -> None:
    assert [m[:2] for m in marks("mark 1 buttons along front.top from right to start on front")] == [(200, 0)]


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("mark 0 buttons along front.top on front", "A whole number from 1 to 60 is needed here; this is 0."),
        (
            "mark 2.5 buttons along front.top on front",
            "A whole number from 1 to 60 is needed here; this is 2.5.",
        ),
        ("mark buttons 1 mm apart along front.top on front", "Marks 0.1 cm apart on 20 cm is out of range."),
        (
            "mark 3 buttons of 18 mm along front.top on front",
            "Only a buttonhole has a length; other marks are points.",
        ),
        (
            "mark 3 buttonholes of 18 cm along front.top on front",
            "A buttonhole is 0.6 cm to 8 cm long; this is 18 cm.",
        ),
        (
            "far = 60 cm right from start\nmark 3 buttons along (line start to far) on front",
            "Number 2 of the 3 buttons does not lie on “front”.",
        ),
        (
            "notch front.side and front.centre, 50 cm from right and start",
            "“front.side” is 40 cm long: 50 cm from there runs off it.",
        ),
        (
            "notch front.side and front.top, 2 cm from right and low",
            "“low” is 40 cm away from the edge “front.top”.",
        ),
    ],
)
def test_what_can_not_be_is_said_in_words(line: str, words: str) -> None:
    assert [f.message for f in drafted(line).findings] == [words]


def test_a_balance_mark_lies_as_far_along_both_edges() -> None:
    draft = drafted("double notch front.side and front.centre, 12 cm from right and start")
    notches = draft.pieces["front"].notches
    assert [(n.edge, round(n.at.y, 6), n.count) for n in notches] == [("side", 120, 2), ("centre", 120, 2)]


def test_a_buttonhole_turns_with_the_paper() -> None:
    from catalogue.geometry import Point, Transform
    from catalogue.pattern import Mark
    from catalogue.pattern.contents import Contents

    moved = Contents(marks=(Mark(Point(10, 0), "buttonhole", "", 30.0),)).moved(Transform.rotation(40))
    assert moved.marks[0].angle == pytest.approx(70)


def test_a_lengthen_line_is_drawn_twice_and_says_what_it_is_for() -> None:
    from catalogue.drawing.paint import paint_piece
    from catalogue.drawing.svg import SvgCanvas

    draft = drafted(
        "belly = line from (20 cm down from start) right 20 cm\ndraw belly as lengthen line on front"
    )
    piece = draft.pieces["front"]
    canvas = SvgCanvas(piece.outline.bounds())
    paint_piece(canvas, piece)
    svg = canvas.tostring()
    assert "lengthen or shorten here" in svg
    assert svg.count('class="guide"') >= 2


@pytest.mark.parametrize(
    ("line", "long"),
    [
        ("mark 2 buttonholes of 18 mm along front.side on front", 18),
        ("mark buttonholes of 3/4 in, 9 cm apart along front.side on front", 19.05),
        ("mark 2 buttonholes along front.side on front", 14),
        ('mark (3 cm right and 3 cm down from start) buttonhole of 26 mm "cuff" on front', 26),
        ('mark (3 cm right and 3 cm down from start) buttonhole "cuff" on front', 14),
    ],
)
def test_a_buttonhole_is_as_long_as_the_style_says(line: str, long: float) -> None:
    found = drafted(line)
    assert [str(f) for f in found.findings] == []
    assert {round(m.length, 6) for m in found.pieces["front"].marks} == {long}
