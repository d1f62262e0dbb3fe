"""How much cloth garments take, beside what tailors and shops say: within a fifth, as such tables are rough.

Such a table counts on cloth folded lengthwise as is usual (Conover, A Complete Course in Dressmaking, 1921) or, where
that wastes much, on a single layer; for which size, it does not say. Its blouse takes more of 45 in than of 36 in, so
there the two ways alone are held beside it; its overcoat is longer than any here, and is left out.
"""

from __future__ import annotations

from functools import cache

import pytest

from catalogue.cloth.cloth_lay import ClothLay, How
from catalogue.cloth.cloths import Cloth
from catalogue.cloth.filling import fill
from catalogue.cloth.forms import forms_of
from catalogue.cloth.laying import lay_cloth
from catalogue.findings import Place
from tests.drafting.people_and_styles import demo_draft

YARD = 914.4


def filler(stones, width, repeats):
    return fill(stones, width, repeats=repeats, tries=3)


@cache
def forms(style: str, client: str):
    made = demo_draft(style, client)
    return forms_of([p for p in made.pieces.values() if p.cut.cloth == "main"], made.cut_lines)


def length(style: str, client: str, width: float, how: How | None) -> float:
    cloth = Cloth("plain", "plain", Place(""), width, width)
    lay: ClothLay | None = lay_cloth(cloth, "main", forms(style, client), how=how, filler=filler)
    assert lay is not None and lay.problems == ()
    return lay.length


@pytest.mark.parametrize(
    ("style", "client", "width", "usual", "how"),
    [
        # Man's shirt with long sleeves: 2.5 m of 36 in (airbergen.com), 1.6 m of 58-60 in (ritacharitabletrust.org).
        ("mens-shirt", "nadim", 915, 2500, None),
        ("mens-shirt", "nadim", 1500, 1600, None),
        ("yoked-shirt", "nadim", 1500, 1600, None),
        # Full trousers: 1.3 m of 58-60 in, 2 5/8 yd of 50 in, 3 1/4 yd of 36 in (nofly90.com).
        ("womens-trousers", "ines", 1500, 1300, None),
        ("mens-trousers", "nadim", 1500, 1300, None),
        ("mens-trousers", "nadim", 1270, 2.625 * YARD, "lengthwise"),
        ("mens-trousers", "nadim", 915, 3.25 * YARD, "lengthwise"),
        # Straight skirt: 1 1/2 yd of 50 in (nofly90.com).
        ("straight-skirt", "ines", 1270, 1.5 * YARD, None),
        # Blouse with long sleeves: 2 1/2 yd of 36 in, 1 5/8 yd of 58-60 in (boutiqueloffice.com).
        ("yoked-blouse", "ines", 915, 2.5 * YARD, None),
        ("yoked-blouse", "ines", 1500, 1.625 * YARD, "lengthwise"),
        # Waistcoat: 0.8 m of 58-60 in (ora.it.com), for a stout man; a slight one's is cut from a single length, 0.6 m.
        ("mens-waistcoat", "osric-tamblyn", 1500, 800, None),
    ],
)
def test_a_garment_takes_what_is_usual(style, client, width, usual, how):
    assert length(style, client, width, how) == pytest.approx(usual, rel=0.2)


@pytest.mark.parametrize(
    ("style", "client", "width", "usual"),
    [
        (
            "straight-skirt",
            "ines",
            915,
            2 * YARD,
        ),  # 2 yd of 36 in (nofly90.com): a single layer saves a fifth of it
        ("yoked-blouse", "ines", 1143, 2.75 * YARD),  # 2 3/4 yd of 45 in (boutiqueloffice.com)
    ],
)
def test_what_is_usual_lies_between_a_single_layer_and_a_fold(style, client, width, usual):
    assert length(style, client, width, None) < usual < 1.2 * length(style, client, width, "lengthwise")
