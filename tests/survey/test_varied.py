"""Varied bodies vary as the published surveys say that bodies do."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from catalogue.people import Client
from catalogue.people.exchanged import exchanged
from catalogue.people.relations import clashes
from catalogue.studio.suiting import suits
from tests.extent import THOROUGH
from tests.survey.bodies import heinz_rows
from tests.survey.drafting import demo_styles, people_asked, survey
from tests.survey.options import options_drawn
from tests.survey.regressions import MEN, NATION, WOMEN
from tests.survey.varied import children, varied


@cache
def people(kind: str) -> tuple[Client, ...]:
    if kind == "child":
        return tuple(children(400, seed=7))
    rows = heinz_rows(kind)
    return tuple(varied([rows[i % len(rows)] for i in range(1000)], kind, seed=7))


def figures(kind: str, key: str) -> np.ndarray:
    return np.array([c.measurements[key].mm for c in people(kind)])


@pytest.mark.parametrize("kind", ["woman", "man"])
def test_girths_and_stature_are_spread_as_the_nation_is(kind):
    for key, spread in NATION[kind].items():
        found = figures(kind, key)
        assert abs(found.mean() - spread.mean) < 0.15 * spread.sd, key
        assert 0.85 * spread.sd < found.std() < 1.05 * spread.sd, key


@pytest.mark.parametrize(("kind", "lines"), [("woman", WOMEN), ("man", MEN)])
def test_every_measurement_lies_about_its_line_as_far_as_its_spread_says(kind, lines):
    for key, line in lines.items():
        if key == "slope":
            continue
        off = np.array(
            [
                c.measurements[key].mm - line.at({k: m.mm for k, m in c.measurements.items()})
                for c in people(kind)
            ]
        )
        assert abs(off.mean()) < 0.12 * line.spread, key
        assert 0.9 * line.spread < off.std() < 1.06 * line.spread, key


def test_shoulders_slope_as_published_and_have_nothing_to_do_with_size():
    """Size Korea 2015: a woman's slope is 19.4 degrees, SD 3.8; r with the bust -0.14."""
    slope = np.degrees(np.arcsin(figures("woman", "shoulder_drop") / figures("woman", "shoulder_length")))
    assert abs(slope.mean() - 19.4) < 2.0
    assert abs(slope.std() - 3.8) < 0.4
    assert abs(np.corrcoef(slope, figures("woman", "bust_girth"))[0, 1]) < 0.25


def test_front_and_back_lengths_go_together_beyond_what_size_explains():
    """Size Korea 2015: what is left of front and back waist length correlates by 0.39."""
    keys = ("front_waist_length", "back_waist_length")
    off = [
        [c.measurements[k].mm - WOMEN[k].at({n: m.mm for n, m in c.measurements.items()}) for k in keys]
        for c in people("woman")
    ]
    assert abs(np.corrcoef(np.array(off).T)[0, 1] - 0.39) < 0.1


def test_a_child_weighs_and_measures_what_children_do():
    """Snyder 1977: girls of six are 1,178 mm tall, chest 586 SD 48, hip 608 SD 53."""
    near = [c for c in people("child") if c.kind == "girl" and abs(c.measurements["height"].mm - 1178) < 60]
    assert len(near) > 15
    for key, mean, sd in (("chest_girth", 586, 48), ("hip_girth", 608, 53)):
        found = np.array([c.measurements[key].mm for c in near])
        assert abs(found.mean() - mean) < 3 * sd / math.sqrt(len(found)) + 12, key


@pytest.mark.parametrize("kind", ["woman", "man", "child"])
def test_few_varied_bodies_are_unusual_and_hardly_any_could_not_be(kind):
    found = [list(clashes({k: m.mm for k, m in c.measurements.items()}, kind)) for c in people(kind)]
    impossible = sum(any(clash.impossible for clash in one) for one in found)
    assert impossible <= 0.01 * len(found)


@pytest.mark.parametrize(
    ("kind", "larger", "smaller", "caught"),
    [
        ("woman", "hip_girth", "bust_girth", 0.8),
        ("woman", "back_width", "chest_width", 0.95),
        ("man", "back_width", "chest_width", 0.65),
        ("child", "back_width", "chest_width", 0.95),
    ],
)
def test_exchanged_figures_are_asked_about_and_fewer_than_one_in_two_hundred_in_vain(
    kind, larger, smaller, caught
):
    """Of the exchanged, those count that lie as far apart as cloth shows: girths by 4 cm, widths by 1.5 cm."""

    def asks(values):
        return any(found.exchange.larger == larger for found in exchanged(values, kind))

    bodies = [{key: m.mm for key, m in c.measurements.items()} for c in people(kind)]
    assert sum(map(asks, bodies)) < len(bodies) / 200
    apart = [b for b in bodies if b[larger] - b[smaller] >= (40 if larger == "hip_girth" else 15)]
    other_way = [b | {larger: b[smaller], smaller: b[larger]} for b in apart]
    assert len(apart) > 100 and sum(map(asks, other_way)) > caught * len(apart)


def test_one_seed_gives_one_body_and_another_seed_another():
    rows = heinz_rows("woman")[:5]
    first, again = list(varied(rows, "woman", 3)), list(varied(rows, "woman", 3))
    assert [c.measurements for c in first] == [c.measurements for c in again]
    assert [c.measurements for c in first] != [c.measurements for c in varied(rows, "woman", 4)]


def test_options_are_drawn_over_their_whole_ranges():
    style = next(s for s in demo_styles() if s.slug == "circle-skirt")
    drawn = [options_drawn(style, 1, number) for number in range(60)]
    for choice in style.choices:
        defaults = {c.default for s in drawn for c in s.choices if c.key == choice.key}
        assert len(defaults) == (len(choice.options) or 9), choice.name


@pytest.mark.parametrize("kind", ["woman", "man", "child"])
def test_a_few_varied_people_have_every_style_drafted(kind):
    """The whole survey is a command; here a few people of each kind, so that a style that stops working is seen."""
    group = people_asked(kind, None, 11, 30 if THOROUGH else 4)
    assert len(group) >= 2
    for style in demo_styles():
        if suits(style, group[0]):
            report = survey(style, group, 11)
            assert report.drafted == len(group)
            assert report.right >= len(group) // 2, (style.slug, report.faults)
