"""Published drafts that go on with scissors after the outline: their numbers come out."""

from __future__ import annotations

from pathlib import Path

import pytest

from catalogue.drafting.drafter import draft_style
from catalogue.findings import Place
from catalogue.geometry import Point, signed_area
from catalogue.lengths import Unit, Units, parse_length
from catalogue.people import Client, Measured
from catalogue.people.client import Chosen
from catalogue.studio.reading import read_style

WORKED = Path(__file__).parent / "worked"
INCH = 25.4
HERE = Place("clients/one.md")


def client(height: str, **measured: str) -> Client:
    values = {key: Measured(parse_length(text, Unit.IN), text, None, HERE) for key, text in measured.items()}
    choices = {"french-lining": {"dart height": Chosen(height, HERE, HERE)}}
    return Client("one", HERE.file, "One", "woman", Units(Unit.IN), measurements=values, choices=choices)


BODIES = {
    "small": {
        "bust_girth": "32",
        "waist_girth": "23",
        "neck_base_girth": "12 1/2",
        "back_width": "12",
        "shoulder_length": "4 3/4",
    },
    "book's example waist": {
        "bust_girth": "34",
        "waist_girth": "24",
        "neck_base_girth": "13",
        "back_width": "12 1/2",
        "shoulder_length": "5",
    },
    "full": {
        "bust_girth": "44",
        "waist_girth": "34",
        "neck_base_girth": "15",
        "back_width": "15",
        "shoulder_length": "5 1/4",
    },
}


@pytest.mark.parametrize("height", ["4 in", "6 in"])
@pytest.mark.parametrize("body", BODIES)
def test_french_lining(body, height):
    """Carrie Crane Ingalls, Text-Book on Domestic Art, "French Lining Draft".

    For any dart height the finished front waist is a quarter of the waist, and front bust line and half the back
    width make half the bust. For a neck of 13 in the first dot lies 2.85 in down, and for a waist of 24 in the dart's
    second leg 3 1/2 in from the side.
    """
    style = read_style(WORKED / "french-lining.md", WORKED)
    made = draft_style(style, client(height, **BODIES[body]), None)
    assert [str(f) for f in made.findings] == []
    assert len(made.checks) == 3 and all(c.ok for c in made.checks)
    waist = parse_length(BODIES[body]["waist_girth"], Unit.IN)
    middle, side = made.pieces["middle"], made.pieces["side"]
    assert middle.edge("waist").path.length + side.edge("waist").path.length == pytest.approx(waist / 4)
    if body == "book's example waist":
        assert made.points["p1"].y == pytest.approx(2.85 * INCH)
        assert made.points["leg"].distance(made.points["p12"]) == pytest.approx(3.5 * INCH)
    # The wedge that is cut away is the triangle between the dart's point and its legs.
    a, b, c = (made.points[n] for n in ("p19", "p17", "leg"))
    wedge = abs((b - a).cross(c - a)) / 2
    whole = next(i.shape for i in made.items if i.kind == "piece" and i.name == "front")
    assert signed_area(middle.outline) + signed_area(side.outline) + wedge == pytest.approx(
        signed_area(whole.outline)
    )
    assert set(made.pieces) == {"middle", "side"}
    # Up to the dart's point both sides of its seam are one line.
    assert side.edge("dart_seam").path.length == pytest.approx(made.points["p16"].distance(Point(*a)))
