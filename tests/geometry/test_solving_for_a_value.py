"""Finding the value for which something holds. Checked against scipy's brentq."""

import math
import pickle

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from catalogue.geometry import GeometryError, Knot, NoSolution, Point, smooth, solve

FUNCTIONS = {
    "square root of two": (lambda x: x * x - 2, 0, 2),
    "steep": (lambda x: math.exp(x) - 1000, 0, 20),
    "flat at the root": (lambda x: (x - 1) ** 3, -3, 4),
    "one side nearly straight": (lambda x: x**9 - 0.5, 0, 1.5),
    "cosine": (lambda x: math.cos(x) - x, 0, 1),
    "far out": (lambda x: x - 9999.25, -1e4, 1e4),
    "pole-like": (lambda x: 1 / (x + 0.01) - 5, 0, 10),
}


@pytest.mark.parametrize("name", FUNCTIONS)
def test_agrees_with_brentq(name):
    function, low, high = FUNCTIONS[name]
    x = solve(function, low, high)
    assert abs(function(x)) <= 1e-6
    if name == "flat at the root":  # any x that near will do, and brentq does not settle
        assert x == pytest.approx(1, abs=0.011)
    else:
        assert x == pytest.approx(brentq(function, low, high, xtol=1e-12), abs=1e-5)


@pytest.mark.parametrize("name", FUNCTIONS)
def test_few_evaluations(name):
    function, low, high = FUNCTIONS[name]
    calls = []
    solve(lambda x: calls.append(x) or function(x), low, high)
    assert len(calls) <= 60
    assert all(low <= x <= high for x in calls)


@given(st.floats(-50, 50), st.floats(0.01, 100), st.floats(0, 3))
def test_finds_the_root_of_a_rising_function(root, slope, bend):
    x = solve(lambda x: slope * (x - root) + bend * (x - root) ** 3, -60, 70)
    assert abs(slope * (x - root) + bend * (x - root) ** 3) <= 1e-6


def test_ends_may_be_the_answer():
    assert solve(lambda x: x, 0, 5) == 0
    assert solve(lambda x: x - 5, 0, 5) == 5
    assert solve(lambda x: x - 2, 2, 2) == 2
    assert solve(lambda x: x - 1, 3, 0) == pytest.approx(1, abs=1e-6)


def test_the_first_of_two_roots_is_taken():
    assert solve(lambda x: (x - 2) * (x - 7), 0, 10) == pytest.approx(2, abs=1e-6)


def test_no_solution_says_what_came_nearest():
    with pytest.raises(NoSolution) as caught:
        solve(lambda x: x * x + 1, -3, 5)
    e = caught.value
    assert (e.low, e.high, e.at_low, e.at_high) == (-3, 5, 10, 26)
    assert e.best == pytest.approx(0, abs=0.2) and e.at_best == pytest.approx(1, abs=0.05)
    copy = pickle.loads(pickle.dumps(e))
    assert str(copy) == str(e) and copy.best == e.best
    assert isinstance(e, GeometryError)


def test_a_jump_over_zero_is_no_solution():
    """A table that steps from too short to too long holds no value that fits."""
    with pytest.raises(NoSolution):
        solve(lambda x: -1.0 if x < 3 else 2.0, 0, 10)


def test_places_without_a_value_are_passed_over():
    def log(x: float) -> float:
        return math.log(x) - 1 if x > 0 else math.nan

    assert solve(log, -5, 10) == pytest.approx(math.e, abs=1e-5)
    with pytest.raises(NoSolution):
        solve(lambda x: math.nan, 0, 1)


def test_bad_bounds():
    for low, high in ((math.nan, 1), (0, math.inf)):
        with pytest.raises(GeometryError):
            solve(lambda x: x, low, high)


def test_a_cap_is_solved_to_a_length():
    """The height of a sleeve cap whose half measures 240 mm, the curve as a drafter draws it."""

    def half_cap(height: float):
        return smooth(
            [
                Knot(Point(0, height), leaving=Point(1, 0)),
                Knot(Point(85, 0.55 * height)),
                Knot(Point(170, 0), arriving=Point(1, 0)),
            ]
        )

    height = solve(lambda h: half_cap(h).length - 240, 60, 220)
    assert half_cap(height).length == pytest.approx(240, abs=1e-5)
    reference = brentq(lambda h: half_cap(h).length - 240, 60, 220, xtol=1e-10)
    assert height == pytest.approx(reference, abs=1e-5)
