"""The fitting sheet: one page with what can be altered on this garment, what was altered, and what it measures."""

from __future__ import annotations

import io
from dataclasses import replace

import pytest
from pypdf import PdfReader

from catalogue.drafting import draft_style
from catalogue.drafting.landmarks import landmarked
from catalogue.drafting.possible_alterations import possible_alterations
from catalogue.studio.alterations import TURNS, library
from catalogue.studio.settings import Settings
from catalogue.workroom.fitting_sheet import both_titles, fitting_sheet_pdf
from tests.demo import demo_client
from tests.survey.drafting import demo_styles


def demo_draft(style, client):
    [meant] = [each for each in demo_styles() if each.slug == style]
    return draft_style(meant, demo_client(client), Settings())


@pytest.fixture(scope="module")
def bodice():
    return demo_draft("bodice-block", "hester-pellow")


def words_of(data: bytes) -> str:
    [page] = PdfReader(io.BytesIO(data)).pages
    assert [round(float(v) / 72 * 25.4) for v in page.mediabox[2:]] == [210, 297]
    return " ".join(page.extract_text().split())


def test_a_bodice_is_altered_at_its_shoulders_and_not_at_its_crotch(bodice):
    slugs = [each.slug for each in possible_alterations(bodice)]
    # Common practice, no source: what is pinned on a bodice, and what only trousers have.
    assert {"swayed-back", "sloping-shoulder", "lengthen-bodice", "full-upper-arm"} <= set(slugs)
    assert not {"longer-crotch", "full-thigh", "lengthen-leg", "wide-hip-curve"} & set(slugs)
    turns = [TURNS.index(library()[slug].turn) for slug in slugs]
    assert turns == sorted(turns)


def test_the_studios_own_alterations_are_offered_though_the_draft_was_asked_about_before(bodice):
    usual = possible_alterations(bodice)
    [swayed] = [each for each in usual if each.slug == "swayed-back"]
    own = replace(swayed, slug="our-swayed-back")
    assert [each.slug for each in possible_alterations(bodice, (own,))].count("our-swayed-back") == 1
    assert possible_alterations(bodice) == usual


def test_without_its_landmarks_nothing_is_offered(bodice):
    bare = replace(bodice, pieces={f"x_{n}": p for n, p in bodice.pieces.items()}, blocks=())
    assert possible_alterations(bare) == []
    assert set(landmarked(bare.pieces, {})) == set(bare.pieces)


def test_it_is_one_page_with_what_there_is_to_compare(bodice):
    data = fitting_sheet_pdf(bodice, "A studio", ease=("2 cm short over the seat.",))
    words = words_of(data)
    for part in (
        "Front",
        "Back",
        "Side",
        "Swayed back",
        "bust girth:",
        "2 cm short over the seat.",
        "L R both",
    ):
        assert part in words
    assert fitting_sheet_pdf(bodice, "A studio", ease=("2 cm short over the seat.",)) == data


def test_an_alteration_and_its_opposite_share_a_row():
    assert both_titles("Sleeve lengthened", "Sleeve shortened") == "Sleeve lengthened / shortened"
    assert both_titles("Full bust", "Small bust") == "Full / small bust"
    assert both_titles("Bodice", "Bodice") == "Bodice / bodice"


def test_what_is_in_the_draft_already_is_told():
    draft = demo_draft("straight-skirt", "thuy-mien")
    assert draft.fittings
    words = words_of(fitting_sheet_pdf(draft))
    for done in draft.fittings:
        assert f"{done.date.isoformat()}" in words and done.text.split()[0] in words
