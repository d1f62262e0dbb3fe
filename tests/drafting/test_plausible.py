"""Sizes that no garment has are doubted, so that a check says what a build would find."""

import pytest

from tests.drafting.people_and_styles import draft, person

SQUARE = """a = start
b = {0} right from a
c = {0} down from b
d = {0} down from a
piece p "Square", cut 1
  outline top: a to b
          right: b to c
          bottom: c to d
          left: d to a
"""


@pytest.mark.parametrize(
    ("side", "expected"),
    [("3 m", []), ("5 m", [("piece-size", False)]), ("99 m", [("piece-size", True)])],
)
def test_the_size_of_a_piece_is_doubted(side: str, expected: list[tuple[str, bool]]) -> None:
    made = draft(SQUARE.format(side), person(bust_girth="90 cm"))
    assert [(f.code, f.is_error) for f in made.findings if f.code == "piece-size"] == expected
    if expected:
        assert "Square" in made.findings[-1].message and side[:-2] in made.findings[-1].message


@pytest.mark.parametrize(
    ("line", "doubted"),
    [
        ("allow 1.5 cm, top 4 cm", []),
        ("allow 0 cm, top 10 cm, left 3 mm", []),
        ("allow 15 cm", ["15 cm"]),  # a seam of a tenth of it was meant
        ("allow 1.5 mm, top 1 mm", ["1.5 mm", "1 mm"]),
        ("allow 1 cm, top 18 cm", ["18 cm"]),
    ],
)
def test_an_allowance_that_no_seam_or_hem_has_is_doubted(line: str, doubted: list[str]) -> None:
    """3 mm to 5 cm at a seam, and up to 15 cm at a hem: common practice, no source."""
    made = draft(f"{SQUARE.format('1 m')}{line}\n", person(bust_girth="90 cm"))
    told = [f for f in made.findings if f.code == "doubted-allowance"]
    assert [f.message for f in told] == [f"An allowance of {text} is unusual." for text in doubted]
    assert not any(f.is_error for f in made.findings)


@pytest.mark.parametrize(("intake", "long", "doubted"), [("9 cm", "10 cm", 0), ("11 cm", "10 cm", 1)])
def test_a_dart_that_is_wider_than_long_is_doubted(intake: str, long: str, doubted: int) -> None:
    """Common practice, no source; the widest of the demo is seven tenths as wide as long."""
    dart = f"dart p.top, middle at halfway, intake {intake}, length {long}, fold to right\n"
    made = draft(f"{SQUARE.format('1 m')}{dart}", person(bust_girth="90 cm"))
    told = [f for f in made.findings if f.code == "wide-dart"]
    assert len(told) == doubted and not any(f.is_error for f in made.findings)
    assert not doubted or "takes in 11 cm and is 10 cm long" in told[0].message
