"""What is asked of the same drafts several times, worked out once."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from catalogue.drafting.model import Draft

Found = TypeVar("Found")


def once(keep: int) -> Callable[[Callable[[Draft], Found]], Callable[[Draft], Found]]:
    """Have a function of a draft remember what it gave for the last `keep` drafts; no one may change what it gives.

    Drafts are known by being the same object: to compare all that is in two of them would take longer.
    """

    def remembering(function: Callable[[Draft], Found]) -> Callable[[Draft], Found]:
        known: dict[int, tuple[Draft, Found]] = {}

        @wraps(function)
        def look_up(draft: Draft) -> Found:
            there = known.get(id(draft))  # the draft is kept too, so that no other has its id
            if there is None:
                there = known[id(draft)] = draft, function(draft)
                if len(known) > keep:
                    del known[next(iter(known))]
            return there[1]

        return look_up

    return remembering
