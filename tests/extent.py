"""How much is tried: what a run of a few minutes can take, or with `pytest --thorough` all of it.

Read when test modules are imported; `tests.conftest` has set the environment by then, in workers too.
"""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import TypeVar

Each = TypeVar("Each")
THOROUGH = bool(os.environ.get("THOROUGH_TESTS"))


def examples(usual: int) -> int:
    """How many made-up examples to try: the usual number, or ten times as many."""
    return usual * (10 if THOROUGH else 1)


def few_of(all_of_them: Sequence[Each]) -> list[Each]:
    """The first, the middle and the last of what is sorted. With --thorough, all."""
    if THOROUGH or len(all_of_them) <= 3:
        return list(all_of_them)
    return [all_of_them[0], all_of_them[len(all_of_them) // 2], all_of_them[-1]]


def one_each(pairs: Iterable[tuple[str, str]]) -> list[tuple[str, str]]:
    """Of styles and clients, sorted by style: each style with one client. With --thorough, all.

    A style gets the one of its clients whom the styles before it were given least, so that each comes in.
    """
    if THOROUGH:
        return list(pairs)
    given: Counter[str] = Counter()
    chosen = []
    for style, group in groupby(pairs, lambda pair: pair[0]):
        client = min((client for _, client in group), key=given.__getitem__)
        given[client] += 1
        chosen.append((style, client))
    return chosen
