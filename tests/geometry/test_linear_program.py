"""The best values under straight limits, beside scipy's solver (HiGHS)."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linprog

from catalogue.geometry.linear_program import improved


@pytest.mark.parametrize("seed", range(12))
def test_as_much_is_gained_as_by_another_solver_and_no_limit_is_broken(seed):
    chance = np.random.default_rng(seed)
    values, limits = int(chance.integers(2, 14)), int(chance.integers(3, 60))
    table = np.vstack([chance.normal(size=(limits, values)), np.eye(values), -np.eye(values)])
    # Some limits leave no room at all to begin with, as where pieces touch.
    room = np.concatenate(
        [chance.random(limits) * 9 * (chance.random(limits) > 0.2), np.full(2 * values, 6.0)]
    )
    gain = chance.normal(size=values)
    found = improved(table, room, gain)
    best = linprog(-gain, A_ub=table, b_ub=room, bounds=(None, None), method="highs")
    assert (table @ found <= room + 2e-5).all()
    assert gain @ found == pytest.approx(-best.fun, abs=1e-3)


def test_the_sides_of_a_square_are_reached_forwards_and_backwards():
    square = np.array([[1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]])
    found = improved(square, np.array([3.0, 2.0, 5.0, 7.0]), np.array([1.0, -1.0]))
    assert found == pytest.approx([3.0, -7.0], abs=1e-4)
