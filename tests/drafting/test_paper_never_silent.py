"""What is drawn otherwise than it was meant is said, with the line to write instead."""

from __future__ import annotations

import pytest

from catalogue.handbook import draft_example
from catalogue.handbook.entry import Entry

FRAME = """
side_top  = 20 cm right from start
side_hem  = 40 cm down from side_top
hem       = 40 cm down from start
slit      = 12 cm down from start
hollow    = 10 cm right and 44 cm down from start
hip       = 24 cm right and 20 cm down from start
hem_line  = curve side_hem, hollow, hem arriving left
side_line = curve side_top leaving down, hip arriving down and 10 degrees right
"""


def front(
    shoulder="start to side_top",
    side="side_top to side_hem",
    hem="side_hem to hem",
    centre="hem to start, fold",
):
    return (
        f'{FRAME}piece front "Front", cut 1 on fold\n  outline shoulder: {shoulder}\n          side: {side}\n'
        f"          hem: {hem}\n          centre: {centre}\n"
    )


def warnings(lines: str) -> list[tuple[str, str, str]]:
    """Code, message and hint of each warning; there must be no error."""
    draft = draft_example(Entry("front", "Pieces", "Front", "", "", lines))
    assert not [f for f in draft.findings if f.is_error]
    return [(f.code, f.message, f.hint) for f in draft.findings]


def told(lines: str) -> tuple[str, str, str]:
    (found,) = warnings(lines)
    return found


def test_nothing_is_said_of_a_plain_piece():
    assert warnings(front() + "allow 1.5 cm, hem 4 cm") == []


SHORT_CUT = "(10 cm down from start) to (12 cm right and 10 cm down from start)"


@pytest.mark.parametrize("way", [f"along (line {SHORT_CUT})", f"from {SHORT_CUT}"])
def test_a_cut_that_had_to_be_run_on_to_the_edge(way):
    code, message, hint = told(front() + f"cut front {way} into upper, lower")
    assert code == "cut-extended"
    assert message == "The cut ends inside “Front”, 8 cm from its edge, and is run on to it."
    line = hint.removeprefix("Write: ").removesuffix("…") + "upper, lower"
    # What it says to write cuts the same and is silent.
    assert warnings(front() + line) == []


def test_an_edge_beyond_the_fold():
    code, message, hint = told(front(shoulder="start to (5 cm left and 6 cm up from start) to side_top"))
    assert (code, message) == (
        "beyond-fold",
        "The edge “shoulder” of “Front” runs 5 cm beyond the fold “centre”.",
    )
    assert "fold from A to B" in hint


@pytest.mark.parametrize(
    "centre", ["hem to (2 cm right from slit) to start, fold", "hem to (2 cm left from slit) to start, fold"]
)
def test_a_corner_in_the_middle_of_a_fold(centre):
    code, message, hint = told(front(centre=centre))
    assert (code, message) == (
        "beyond-fold",
        "The fold “centre” of “Front” is not straight: it strays by 2 cm.",
    )
    (write,) = [part for part in hint.split(". ") if part.startswith("Write: ")]
    assert warnings(front(centre=centre) + write.removeprefix("Write: ")) == []


def test_a_cutting_line_beyond_a_fold():
    slit = front(centre="hem to start, fold from hem to slit")
    assert warnings(slit + "allow 1.5 cm") == []
    code, message, hint = told(slit + "allow 1.5 cm, centre_2 1 cm")
    assert code == "beyond-fold"
    assert (
        message == "The cutting line of “Front” runs 1 cm beyond the fold “centre”, where nothing can be cut."
    )
    write = hint.removeprefix("Give the edge beside it no allowance: ").removesuffix(".")
    assert warnings(slit + write) == []


def test_a_run_left_straight_beside_one_along_the_line():
    code, message, hint = told(front(hem="side_hem to hollow to hem along hem_line"))
    assert code == "left-straight"
    assert message.startswith("side_hem to hollow is drawn straight, though both lie on “hem_line”")
    assert hint == "Write: hem: side_hem to hollow along hem_line"
    assert warnings(front(hem="side_hem to hollow along hem_line to hem along hem_line")) == []
    # Where the line is straight too there is nothing to say.
    level = front(hem="side_hem to (10 cm right from hem) to hem along level_line").replace(
        "piece front", "level_line = line side_hem to hem\npiece front"
    )
    assert warnings(level) == []


def test_a_slight_corner_where_a_curve_ends():
    code, message, hint = told(front(side="side_top to hip along side_line to side_hem"))
    assert code == "slight-corner"
    # The curve arrives 10 degrees to the right of down; the side goes on 4 cm to the left in 20 cm: 11.3 degrees.
    assert message == "The edge “side” has a corner of 21 degrees at hip, where a curve meets the next line."
    smooth = front(side="side_top to hip along side_line to side_hem").replace(
        "arriving down and 10 degrees right", "arriving along (line hip to side_hem)"
    )
    assert warnings(smooth) == []
    assert "arriving along" in hint


def test_a_corner_that_is_plainly_meant_is_left():
    vent = front(
        side="side_top to hip along side_line to (24 cm right and 30 cm down from start) to side_hem"
    ).replace("arriving down and 10 degrees right", "arriving down")
    assert warnings(vent) == []


@pytest.mark.parametrize(("gap", "fits"), [("1 cm", False), ("4 cm", False), ("6.5 cm", True)])
def test_a_pleat_in_the_cloth_of_another_is_refused_and_none_is_lost(gap, fits):
    """A knife pleat of 3 cm takes up 6 cm beside its line; a second line there would lie inside it."""
    lines = (
        f"{front()}first = 14 cm right from start\nsecond = {gap} right from first\n"
        "pleat front along (line from first down 50 cm), knife pleat, depth 3 cm, fold to left, named one\n"
        "pleat front along (line from second down 50 cm), knife pleat, depth 5 mm, fold to left, named two"
    )
    draft = draft_example(Entry("front", "Pieces", "Front", "", "", lines))
    errors = [f for f in draft.findings if f.is_error]
    assert {p.name for p in draft.pieces["front"].pleats if "_" not in p.name} == (
        {"one", "two"} if fits else {"one"}
    )
    assert [f.message for f in errors] == (
        [] if fits else ["The line lies in the cloth that the pleat “one” takes up."]
    )
    assert fits or ("6 cm wide" in errors[0].hint and errors[0].place.line > 1)
