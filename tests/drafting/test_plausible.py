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
