"""Costs and counts of cells, against adding them up one by one."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from catalogue.placing import Costs, counts, fewest

CELLS = 30
sets = st.lists(st.tuples(st.integers(0, 2**CELLS - 1), st.integers(0, 40)), max_size=12)


@given(sets, st.integers(0, 2**CELLS - 1), st.integers(0, 8))
def test_costs_add_up(added: list[tuple[int, int]], asked: int, at: int) -> None:
    costs, each = Costs(), [0] * CELLS
    for cells, cost in added:
        costs.add(cells, cost)
        each = [old + cost * (cells >> i & 1) for i, old in enumerate(each)]
    assert costs.of(asked) == sum(cost for i, cost in enumerate(each) if asked >> i & 1)
    assert costs.of(asked >> at, at) == sum(c for i, c in enumerate(each) if i >= at and asked >> i & 1)


@given(st.lists(st.integers(0, 2**CELLS - 1), max_size=9), st.integers(1, 2**CELLS - 1))
def test_the_fewest_of_counts(given_sets: list[int], asked: int) -> None:
    each = [sum(bits >> i & 1 for bits in given_sets) for i in range(CELLS)]
    lowest = min(n for i, n in enumerate(each) if asked >> i & 1)
    there = sum(1 << i for i, n in enumerate(each) if asked >> i & 1 and n == lowest)
    assert fewest(counts(given_sets), asked) == (lowest, there)
