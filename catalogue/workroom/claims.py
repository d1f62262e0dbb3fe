"""Which orders count on one length of cloth at hand that is not enough for all of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from catalogue.sorting import sort_key

SAME = 1e-6
"""mm by which lengths may differ and be the same."""


class Claim(NamedTuple):
    """A cloth that an order has yet to be cut from: mm that it takes, and the lengths of that cloth at hand."""

    order: str
    due: str
    cloth: str
    needs: float
    at_hand: tuple[float, ...]


class Short(NamedTuple):
    """A claim for which nothing is left at hand once those that are due earlier are cut, and who has the length."""

    claim: Claim
    others: tuple[str, ...]


def left_short(claims: Iterable[Claim]) -> Iterator[Short]:
    """The claims that a length at hand is enough for, but not together with what is cut from it before.

    Orders are cut by the day they are due; each from the shortest length that is enough, and what is left of it stays.
    """
    by_cloth: dict[str, list[Claim]] = {}
    for claim in claims:
        by_cloth.setdefault(claim.cloth, []).append(claim)
    for group in by_cloth.values():
        whole = group[0].at_hand
        left, cut = list(whole), list[tuple[str, int]]()
        for claim in sorted(group, key=lambda each: (each.due or "9999", sort_key(each.order))):
            fitting = [at for at, length in enumerate(left) if length >= claim.needs - SAME]
            if fitting:
                shortest = min(fitting, key=lambda at: left[at])
                left[shortest] -= claim.needs
                cut.append((claim.order, shortest))
            elif others := tuple(order for order, at in cut if whole[at] >= claim.needs - SAME):
                yield Short(claim, others)
