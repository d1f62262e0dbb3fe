"""Arc length of cubics, and what hangs on it. Checked against scipy's quad (QUADPACK's adaptive rules)."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from catalogue.geometry import Cubic, GeometryError, Line, Point, Transform
from catalogue.geometry.arclength import KRONROD, KRONROD_CENTRE
from tests.geometry.measures import curvature_at

MM = st.floats(-1500, 1500).map(lambda v: round(v, 3))
POINTS = st.builds(Point, MM, MM)
CUBICS = st.builds(Cubic, POINTS, POINTS, POINTS, POINTS)
PART = st.floats(0, 1)

AWKWARD = {
    "no handles": Cubic(Point(0, 0), Point(0, 0), Point(300, 40), Point(300, 40)),
    "no first handle": Cubic(Point(0, 0), Point(0, 0), Point(100, 200), Point(300, 0)),
    "cusp": Cubic(Point(0, 0), Point(100, 100), Point(0, 100), Point(100, 0)),
    "there and back": Cubic(Point(0, 0), Point(400, 0), Point(-300, 0), Point(100, 0)),
    "loop": Cubic(Point(0, 0), Point(300, 200), Point(-200, 200), Point(100, 0)),
    "closed": Cubic(Point(0, 0), Point(200, 100), Point(-200, 100), Point(0, 0)),
    "tiny": Cubic(Point(0, 0), Point(1e-4, 0), Point(1e-4, 1e-4), Point(0, 1e-4)),
    "one handle far out": Cubic(Point(0, 0), Point(3000, 1), Point(1, 0), Point(2, 0)),
    "nearly a cusp": Cubic(Point(0, 0), Point(100, 100), Point(0.001, 100), Point(100, 0)),
}


def reference_length(c: Cubic, low: float = 0.0, high: float = 1.0) -> float:
    # Places of least speed are where the integrand may have a kink: tell QUADPACK about them.
    rates = []
    for s, a, b, e in zip(c.start, c.c1, c.c2, c.end, strict=True):
        rates.append(np.poly1d([e - 3 * b + 3 * a - s, 3 * (b - 2 * a + s), 3 * (a - s), s]).deriv())
    slowest = (rates[0] * rates[0] + rates[1] * rates[1]).deriv().roots
    dips = sorted(t.real for t in slowest if abs(t.imag) < 1e-6 and low < t.real < high)
    return sum(
        quad(lambda t: math.hypot(rates[0](t), rates[1](t)), a, b, limit=200, epsabs=1e-9, epsrel=1e-12)[0]
        for a, b in pairwise([low, *dips, high])
    )


def test_the_gauss_nodes_and_weights_are_numpys():
    nodes, weights = np.polynomial.legendre.leggauss(7)
    ours = sorted([(n, g) for n, _, g in KRONROD if g] + [(0.0, KRONROD_CENTRE[1])])
    theirs = sorted((n, w) for n, w in zip(nodes, weights, strict=True) if n > -1e-9)
    assert np.allclose(ours, theirs, atol=1e-14)


def test_the_kronrod_rule_is_exact_to_degree_22():
    """A (7, 15) Kronrod pair integrates polynomials of degree 3 n + 1 = 22 exactly (QUADPACK, 1983, section 2.2)."""
    for degree in range(0, 24, 2):
        total = KRONROD_CENTRE[0] * (1.0 if degree == 0 else 0.0)
        total += sum(2 * w * n**degree for n, w, _ in KRONROD)
        assert total == pytest.approx(2 / (degree + 1), abs=1e-14)


@pytest.mark.parametrize("name", AWKWARD)
def test_length_of_awkward_curves(name):
    c = AWKWARD[name]
    assert c.length() == pytest.approx(reference_length(c), abs=1e-5)


@pytest.mark.filterwarnings("ignore::scipy.integrate.IntegrationWarning")  # at curves that shrink to a point
@given(CUBICS)
def test_length_agrees_with_quad(c):
    assert c.length() == pytest.approx(reference_length(c), abs=1e-4)


def test_there_and_back_is_measured_both_ways():
    """x runs from 0 to 300 t-wise out and back: by hand from x(t) = 1200 t (1-t)² - 900 t² (1-t) + 100 t³."""
    c = AWKWARD["there and back"]
    roots = np.roots([2200 * 3, -3300 * 2, 1200])
    xs = [0.0, *(2200 * t**3 - 3300 * t**2 + 1200 * t for t in sorted(roots.real)), 100.0]
    assert c.length() == pytest.approx(sum(abs(b - a) for a, b in pairwise(xs)), abs=1e-6)


@given(CUBICS, PART)
def test_parts_add_up(c, t):
    a, b = c.split(t)
    assert a.length() + b.length() == pytest.approx(c.length(), abs=1e-4)
    assert c.length_to(t) == pytest.approx(a.length(), abs=1e-4)
    assert c.reversed().length() == pytest.approx(c.length(), abs=1e-6)


@given(CUBICS, PART)
def test_parameter_at_length_is_the_inverse_of_length(c, part):
    s = part * c.length()
    assert c.length_to(c.parameter_at_length(s)) == pytest.approx(s, abs=1e-5)


@pytest.mark.parametrize("name", AWKWARD)
def test_parameter_at_length_of_awkward_curves(name):
    c = AWKWARD[name]
    for i in range(21):
        s = c.length() * i / 20
        assert c.length_to(c.parameter_at_length(s)) == pytest.approx(s, abs=1e-6)


@given(CUBICS, PART, PART)
def test_between_is_the_same_curve(c, t0, t1):
    part = c.between(t0, t1)
    for u in (0.0, 0.3, 0.7, 1.0):
        assert part.point_at(u).distance(c.point_at(t0 + (t1 - t0) * u)) < 1e-6


@given(CUBICS)
def test_bounds_are_tight(c):
    box = c.bounds()
    points = [c.point_at(i / 500) for i in range(501)]
    assert all(box.grown(1e-6).contains(p) for p in points)
    assert c.hull().grown(1e-6).contains(box)
    # Between samples the curve can only stray by its bend.
    assert box.left >= min(p.x for p in points) - 0.05
    assert box.bottom <= max(p.y for p in points) + 0.05


@given(CUBICS, PART, st.floats(-180, 180), POINTS)
def test_a_move_changes_no_length_and_a_mirror_turns_the_bend(c, t, degrees, about):
    turned = c.transformed(Transform.rotation(degrees, about))
    assert turned.length() == pytest.approx(c.length(), abs=1e-4)
    mirrored = c.transformed(Transform.reflection(Point(0, 0), Point(0, 1)))
    if 1e-6 < abs(curvature_at(c, t)) < 1:
        assert curvature_at(mirrored, t) == pytest.approx(-curvature_at(c, t), rel=1e-3)


def test_curvature_of_a_quarter_circle():
    """At the end of a cubic it is 2/3 of the second handle's height over the first handle, divided by that handle."""
    k = 4 / 3 * math.tan(math.pi / 8)
    clockwise = Cubic(Point(100, 0), Point(100, 100 * k), Point(100 * k, 100), Point(0, 100))
    for t in (0, 1):
        assert curvature_at(clockwise, t) == pytest.approx(2 / 3 * (1 - k) / k**2 / 100, rel=1e-9)
        assert curvature_at(clockwise.reversed(), t) == pytest.approx(-2 / 3 * (1 - k) / k**2 / 100, rel=1e-9)
    for i in range(11):
        assert curvature_at(clockwise, i / 10) == pytest.approx(0.01, rel=0.03)


def test_tangents_where_handles_have_no_length():
    c = AWKWARD["no first handle"]
    assert c.tangent_at(0).distance(Point(100, 200).unit()) < 1e-9
    straight = AWKWARD["no handles"]
    for t in (0, 0.5, 1):
        assert straight.tangent_at(t).distance(Point(300, 40).unit()) < 1e-9
    three_together = Cubic(Point(0, 0), Point(0, 0), Point(0, 0), Point(3, 4))
    for t in (0, 1e-12, 0.5, 1):
        assert three_together.tangent_at(t).distance(Point(0.6, 0.8)) < 1e-9
    last_together = three_together.reversed()
    for t in (0, 0.5, 1 - 1e-12, 1):
        assert last_together.tangent_at(t).distance(Point(-0.6, -0.8)) < 1e-9
    cusp = AWKWARD["cusp"].tangent_at(0.5)
    assert cusp.length == pytest.approx(1) and abs(cusp.x) < 1e-9  # it turns back down the middle


def test_a_single_point_has_no_direction():
    p = Point(7, 7)
    assert Line(p, p).length() == 0 and Cubic(p, p, p, p).length() == 0
    for segment in (Line(p, p), Cubic(p, p, p, p)):
        assert segment.parameter_at_length(0) == 0
        with pytest.raises(GeometryError):
            segment.tangent_at(0.5)
