"""Girths level by level agree with the finished measurements that the styles state for themselves."""

from __future__ import annotations

import pytest

from catalogue.drafting.girth_profile import GirthLevel, girth_profile
from catalogue.site.ease_chart import ease_words
from tests.workroom.test_fitting_sheet import demo_draft


@pytest.fixture(scope="module")
def skirt():
    return demo_draft("straight-skirt", "hester-pellow")


def test_without_the_styles_own_figures_the_pieces_give_the_same_hip(skirt):
    from dataclasses import replace

    own = next(f for f in skirt.finished if f.name == "hip girth")
    hip = girth_profile(replace(skirt, finished=()))[-1]
    assert hip.name == "hip" and hip.garment == pytest.approx(own.garment, abs=0.5)
    assert hip.body == own.body


def test_levels_go_down_and_the_body_between_them_lies_between(skirt):
    levels = girth_profile(skirt)
    assert [each.name for each in levels] == ["waist", "below waist", "above hip", "hip"]
    assert [each.down for each in levels] == sorted(each.down for each in levels)
    waist, *between, hip = levels
    assert hip.down - waist.down == pytest.approx(skirt.client.measurements["waist_to_hip"].mm, abs=10.0)
    assert all(each.estimated and waist.body < each.body < hip.body for each in between)
    assert all(waist.garment < each.garment < hip.garment for each in between)


def test_a_garment_without_such_points_has_no_levels():
    assert girth_profile(demo_draft("circle-skirt", "hester-pellow")) == ()


def test_tight_and_loose_places_are_told():
    def show(mm: float) -> str:
        return f"{mm / 10:g} cm"

    levels = (
        GirthLevel("waist", 720, 700, 0),
        GirthLevel("above hip", 885, 900, 100, True),
        GirthLevel("hip", 980, 1000, 200),
    )
    assert ease_words(levels, show) == (
        "1.5 cm short above the hip, where the body is estimated.",
        "2 cm short at the hip.",
        "Loosest at the waist, with 2 cm.",
    )
    assert ease_words((), show) == ()
