"""What of a client's fittings a draft is made from: its own and its blocks', and nothing of other garments."""

from __future__ import annotations

import datetime
from dataclasses import replace

from catalogue.building.common import what_counts
from catalogue.findings import Place
from catalogue.people import Client
from catalogue.people.fittings import FittingLine, FreeCorrection
from tests.demo import demo_client
from tests.drafting.people_and_styles import demo_style

DAY = datetime.date(2026, 3, 21)


def client(*garments: str) -> Client:
    lines = tuple(
        FittingLine(DAY, slug, "swayed back 6 mm", Place("x", n)) for n, slug in enumerate(garments, 1)
    )
    own = tuple(FreeCorrection(DAY, slug, "", "", n, Place("x", n)) for n, slug in enumerate(garments, 20))
    return replace(demo_client("ines"), fittings=lines, corrections=own)


def test_a_draft_knows_the_fittings_of_its_own_garment_and_of_its_blocks() -> None:
    style = demo_style("straight-skirt")
    assert [block.slug for block in style.chain] == ["skirt-block"]
    counted = what_counts(style, client("straight-skirt", "skirt-block", "yoked-shirt"), set(style.uses))
    assert [line.garment for line in counted.fittings] == ["straight-skirt", "skirt-block"]
    assert [each.garment for each in counted.corrections] == ["straight-skirt", "skirt-block"]
    assert not what_counts(demo_style("circle-skirt"), client("yoked-shirt"), set()).fittings


def test_measurements_of_other_garments_do_not_come_with_the_fittings() -> None:
    style = demo_style("straight-skirt")
    counted = what_counts(style, client("straight-skirt"), set(style.uses))
    assert all(key in style.uses for one in counted.sets for key in one.values)
    assert all(not one.note and one.weight_kg is None for one in counted.sets)
