"""What is asked of the same drafts several times, worked out once."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TYPE_CHECKING, Concatenate, ParamSpec, TypeVar

if TYPE_CHECKING:
    from catalogue.drafting.model import Draft

Found = TypeVar("Found")
More = ParamSpec("More")
OfDraft = Callable[Concatenate["Draft", More], Found]


def once(keep: int) -> Callable[[OfDraft[More, Found]], OfDraft[More, Found]]:
    """Have a function of a draft remember what it gave for the last `keep` drafts; no one may change what it gives.

    Drafts are known by being the same object: to compare all that is in two of them would take longer. What else the
    function takes is compared with what it was given for that draft last.
    """

    def remembering(function: OfDraft[More, Found]) -> OfDraft[More, Found]:
        known: dict[int, tuple[Draft, object, Found]] = {}

        @wraps(function)
        def look_up(draft: Draft, *more: More.args, **named: More.kwargs) -> Found:
            there = known.get(id(draft))  # the draft is kept too, so that no other has its id
            if there is None or there[1] != (more, named):
                there = known[id(draft)] = draft, (more, named), function(draft, *more, **named)
                if len(known) > keep:
                    del known[next(iter(known))]
            return there[2]

        return look_up

    return remembering
