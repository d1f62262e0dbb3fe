"""Girths level by level agree with the finished measurements that the styles state for themselves."""

from __future__ import annotations

import pytest

from catalogue.drafting.body_lengths import lengths_beside
from catalogue.drafting.girth_profile import GirthLevel, girth_profile
from catalogue.pattern.measure import sewn_length
from catalogue.site.ease_chart import ease_view, ease_words, length_words
from tests.workroom.test_fitting_sheet import demo_draft


@pytest.fixture(scope="module")
def skirt():
    return demo_draft("straight-skirt", "hester-pellow")


def test_without_the_styles_own_figures_the_pieces_give_the_same_hip(skirt):
    from dataclasses import replace

    own = next(f for f in skirt.finished if f.name == "hip girth")
    hip = next(each for each in girth_profile(replace(skirt, finished=())) if each.name == "hip")
    assert hip.garment == pytest.approx(own.garment, abs=0.5)
    assert hip.body == own.body


def test_levels_go_down_and_the_body_between_them_lies_between(skirt):
    levels = girth_profile(skirt)
    assert [each.name for each in levels] == ["waist", "below waist", "above hip", "hip", "hem"]
    assert [each.down for each in levels] == sorted(each.down for each in levels)
    waist, *between, hip, hem = levels
    assert hem.ease is None  # Below the hip the body has no figure.
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
        GirthLevel("hem", 960, None, 500),
    )
    assert ease_words(levels, show) == (
        "1.5 cm short above the hip, where the body is estimated.",
        "2 cm short at the hip.",
        "Loosest at the waist, with 2 cm.",
        "The hem is 96 cm round.",
    )
    assert ease_words((), show) == ()


def test_below_the_hip_a_level_and_the_hem_are_measured_round():
    block = demo_draft("skirt-block", "hester-pellow")
    *_, hip, below, hem = girth_profile(block)
    assert [each.name for each in (hip, below, hem)] == ["hip", "below hip", "hem"]
    around = 2 * sum(sewn_length(block.pieces[piece], "hem") for piece in ("front", "back"))
    assert hem.garment == pytest.approx(around, abs=2.0)
    assert below.body is None and hip.down < below.down < hem.down


def test_widths_and_lengths_of_a_block_lie_beside_the_body():
    """The block is drafted to these lengths itself: shoulder, centre front and sleeve are the body's own."""
    bodice = demo_draft("bodice-block", "hester-pellow")
    found = {each.name: each for each in lengths_beside(bodice)}
    assert list(found) == [
        "shoulder",
        "across the back",
        "across the chest",
        "nape to waist",
        "front neck to waist",
        "sleeve, from the top of the cap",
    ]
    assert found["shoulder"].ease == pytest.approx(0.0, abs=0.5)
    for name in ("nape to waist", "front neck to waist"):
        assert found[name].ease == pytest.approx(0.0, abs=6.0)
    for name in ("across the back", "across the chest"):
        assert 0 < found[name].ease < 30.0
    assert found["across the back"].body == bodice.client.measurements["back_width"].mm


def test_legs_are_measured_round_and_the_crotch_along_its_seam():
    legs = demo_draft("trousers-block", "hester-pellow")
    found = {each.name: each for each in lengths_beside(legs)}
    assert list(found) == ["rise at the side", "crotch length", "round the thigh", "round the knee"]
    along = sum(sewn_length(legs.pieces[piece], "crotch") for piece in ("front", "back"))
    assert found["crotch length"].garment == pytest.approx(along)
    assert found["round the thigh"].ease > 0
    # With a band above them, the legs' own rise says nothing.
    banded = {each.name for each in lengths_beside(demo_draft("womens-trousers", "hester-pellow"))}
    assert banded == {"round the thigh", "round the knee"}


def test_short_and_narrow_places_are_told_and_much_longer_ones():
    from catalogue.drafting.body_lengths import LengthBeside

    told = length_words(
        (
            LengthBeside("across the back", 340, 352),
            LengthBeside("shoulder", 112, 113, True),
            LengthBeside("sleeve", 540, 560, True),
            LengthBeside("crotch length", 700, 660, True),
        ),
        lambda mm: f"{mm:g} mm",
    )
    assert told == (
        "Across the back: 12 mm too narrow.",
        "Sleeve: 20 mm shorter than the body.",
        "Crotch length: 40 mm longer than the body.",
    )


def test_the_page_shows_lengths_where_there_are_no_levels():
    view = ease_view(demo_draft("trousers-block", "hester-pellow"), lambda mm: f"{mm:.0f}")
    assert view.lengths and all(row.body and row.garment for row in view.lengths)
