"""How much cloth garments take, beside what tailors and shops say: within a fifth, as such tables are rough."""

from __future__ import annotations

import pytest

from catalogue.cloth.cloths import Cloth
from catalogue.cloth.forms import forms_of
from catalogue.cloth.laying import lay_cloth
from catalogue.findings import Place
from tests.drafting.people_and_styles import demo_client, demo_style, draft


@pytest.mark.parametrize(
    ("style", "client", "width", "length"),
    [
        (
            "yoked-shirt",
            "nadim",
            1500,
            1600,
        ),  # man's shirt, long sleeve, 58-60 in: 1.6 m (ritacharitabletrust.org)
        ("trousers-block", "ines", 1500, 1300),  # full trousers, 58-60 in: 1.3 m (nofly90.com)
    ],
)
def test_a_garment_takes_what_is_usual(style, client, width, length):
    made = draft(demo_style(style), demo_client(client))
    pieces = [p for p in made.pieces.values() if p.cut.cloth == "main"]
    cloth = Cloth("plain", "plain", Place(""), width, width)
    lay = lay_cloth(cloth, "main", forms_of(pieces, made.cut_lines))
    assert lay is not None and lay.problems == ()
    assert lay.length == pytest.approx(length, rel=0.2)
