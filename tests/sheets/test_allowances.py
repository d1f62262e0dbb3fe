"""What the first page says of seam allowances."""

from __future__ import annotations

import io
from dataclasses import replace

import pypdf
import pytest

from catalogue.lengths import Unit, Units
from catalogue.pattern import Piece
from catalogue.sheets import PAPERS, nested_pdf
from catalogue.sheets.allowances import allowance_facts
from tests.drawing.pieces import bodice_back, tab
from tests.sheets.every_print import SETTINGS, drafts

CM, INCH = Units(Unit.CM), Units(Unit.IN)


def with_allowance(piece: Piece, *widths: float, hem: float = 0.0) -> Piece:
    """A piece with allowances on its edges, in order and over again; `hem` on its last edge, as a hem."""
    edges = [replace(e, fold=False, allowance=widths[i % len(widths)]) for i, e in enumerate(piece.edges)]
    if hem:
        edges[-1] = replace(edges[-1], allowance=hem, corners="turned up")
    return replace(piece, edges=tuple(edges))


@pytest.mark.parametrize(
    ("pieces", "units", "words"),
    [
        ({"A": [with_allowance(tab(), 0.0)]}, CM, "Seam allowance not included"),
        ({"A": [with_allowance(tab(), 10.0)]}, CM, "Seam allowance included: 1 cm"),
        ({"A": [with_allowance(tab(), 10.0, 15.0)]}, CM, "Seam allowance included: 1 cm to 1.5 cm"),
        (
            {"A": [with_allowance(bodice_back(), 15.0, hem=40.0)], "B": [with_allowance(tab(), 0.0)]},
            CM,
            "Seam allowance included: 1.5 cm, hems 4 cm; none on B",
        ),
        (
            {
                "A": [with_allowance(bodice_back(), 15.875)],
                "B": [with_allowance(tab(), 0.0)],
                "C": [with_allowance(tab(), 0.0)],
                "D": [with_allowance(tab(), 0.0)],
            },
            INCH,
            "Seam allowance included: 5/8 in; none on B, C and D",
        ),
        (
            {"A": [with_allowance(tab(), 10.0), with_allowance(tab(), 0.0)]},
            CM,
            "Seam allowance included: 1 cm; not for all on A",
        ),
    ],
)
def test_words(pieces: dict[str, list[Piece]], units: Units, words: str) -> None:
    assert allowance_facts(pieces, units) == words


def test_a_nested_print_names_the_pieces_without_any() -> None:
    nested = nested_pdf(list(drafts(["yoked-shirt"]))[:2], PAPERS["a4"], SETTINGS)
    cover = pypdf.PdfReader(io.BytesIO(nested.data)).pages[0].extract_text()
    assert "none on H, I, J and K" in cover  # the binding of the slit, and the interfacings
