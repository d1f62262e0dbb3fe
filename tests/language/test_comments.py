"""Comments of draft blocks are left out where a block is shown."""

import pytest

from catalogue.language.lines import without_comments


@pytest.mark.parametrize(
    ("source", "shown"),
    [
        ("a = 1 cm\nb = 2 cm", "a = 1 cm\nb = 2 cm"),
        ("# all of it\na = 1 cm", "a = 1 cm"),
        ("a = 1 cm  # for her\n\n  # more\nb = 2 cm", "a = 1 cm\n\nb = 2 cm"),
        ('piece a "No # 3" # mine', 'piece a "No # 3"'),
        ('piece a "open # 3', 'piece a "open'),
    ],
)
def test_comments_are_left_out(source: str, shown: str) -> None:
    assert without_comments(source) == shown
