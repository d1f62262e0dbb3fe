"""What is worked out once of a draft, and again for another that looks the same."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from catalogue.drafting.once import once


@dataclass(frozen=True)
class _Draft:
    name: str


def test_the_last_few_drafts_are_remembered_each_as_itself() -> None:
    asked: list[Any] = []

    @once(2)
    def letters(draft: Any) -> int:
        asked.append(draft)
        return len(draft.name)

    first, twin, other = _Draft("coat"), _Draft("coat"), _Draft("robe")
    assert [letters(first), letters(first), letters(twin)] == [4, 4, 4]
    assert len(asked) == 2  # equal drafts are not taken for one another
    letters(other)
    letters(twin)
    assert len(asked) == 3
    letters(first)
    assert len(asked) == 4  # only two are kept


def test_what_else_was_asked_is_not_passed_over() -> None:
    asked: list[Any] = []

    @once(2)
    def letters(draft: Any, more: str = "", *, twice: bool = False) -> int:
        asked.append(more)
        return len(draft.name + more) * (2 if twice else 1)

    coat = _Draft("coat")
    assert [letters(coat), letters(coat, "s"), letters(coat, "s"), letters(coat, "s", twice=True)] == [
        4,
        5,
        5,
        10,
    ]
    assert len(asked) == 3
