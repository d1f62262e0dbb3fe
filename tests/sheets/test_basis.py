"""The first page of a print says what it was drafted from, and every warning that stands."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date
from functools import cache

import pypdf
import pytest

from catalogue.drawing.svg import SvgCanvas
from catalogue.geometry import Box, Point
from catalogue.sheets import SheetSettings, paper_named, sheet_pdf
from catalogue.sheets.basis import MORE, basis_height, draw_basis
from tests.drafting.people_and_styles import draft, person
from tests.drafting.test_plausible import SQUARE


@cache
def first_page(*warnings: str, paper: str = "a4") -> str:
    made = draft("girth = bust_girth / 4\n" + SQUARE.format("20 cm"), person(bust_girth="91.3 cm"))
    settings = SheetSettings(date(2026, 3, 14), warnings=warnings)
    data = sheet_pdf(replace(made, choices={"skirt_length": "58 cm"}), paper_named(paper), settings).data
    return " ".join(pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text().split())


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_measurements_options_and_warnings_are_on_the_first_page(paper: str) -> None:
    words = first_page(
        "the waist girth (104) is unusually large compared with the hip girth (78)", paper=paper
    )
    assert "Drafted from" in words and "bust girth 91.3 cm" in words
    assert "Options: skirt length 58 cm." in words
    assert "Warning: the waist girth (104) is unusually large" in words.replace("- ", "-")


def test_without_warnings_none_is_spoken_of() -> None:
    assert "Warning" not in first_page()


def test_what_does_not_fit_says_where_it_stands() -> None:
    basis = tuple((f"Warning {n}:", "a long sentence that goes on for a while. " * 3) for n in range(30))
    assert basis_height(basis, 80, 60) <= 60
    canvas = SvgCanvas(Box(0, 0, 80, 60))
    draw_basis(canvas, Point(0, 0), basis, 80, 60)
    drawn = canvas.tostring()
    assert "Warning 0:" in drawn and MORE.strip().split()[-1] in drawn and "Warning 29" not in drawn
