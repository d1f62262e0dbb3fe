"""What a block's page says of the corrections made on it, over clients."""

from __future__ import annotations

import datetime
from dataclasses import replace

from catalogue.findings import Place
from catalogue.lengths import Unit, Units
from catalogue.people import Client
from catalogue.people.fittings import FittingLine
from catalogue.site.block_fittings import block_fittings
from catalogue.studio.alterations import library
from tests.demo import demo_client
from tests.drafting.people_and_styles import demo_style

DAY = datetime.date(2026, 3, 21)


def fitted(slug: str, *texts: str, garment: str = "bodice-block", **more: str) -> Client:
    lines = tuple(FittingLine(DAY, garment, text, Place("x", n), **more) for n, text in enumerate(texts, 1))
    return replace(demo_client("ines"), slug=slug, fittings=lines)


def test_count_median_and_spread_and_the_line_that_most_needed() -> None:
    clients = [
        fitted("a", "swayed back 4 mm"),
        fitted("b", "swayed back 6 mm", "right shoulder 5 mm lower"),
        fitted("c", "swayed back 11 mm"),
        fitted("d", "shoulder lower 10 mm"),
        fitted("e"),
    ]
    found = block_fittings(demo_style("bodice-block"), clients, library(), Units(Unit.MM))
    assert found is not None and found.clients == 4
    sway, slope = found.rows
    assert (sway.slug, sway.clients, sway.median, sway.least, sway.largest) == (
        "swayed-back",
        3,
        "6 mm",
        "4 mm",
        "11 mm",
    )
    assert (slope.clients, slope.median) == (2, "7.5 mm") or slope.median == "8 mm"
    assert sway.most and not slope.most
    row = demo_style("bodice-block").source_line(sway.line).strip()
    assert row.startswith("centre:")


def test_what_was_dropped_or_concerns_another_garment_is_not_counted() -> None:
    style = demo_style("bodice-block")
    assert (
        block_fittings(style, [fitted("a", "swayed back 4 mm", decided="dropped")], library(), Units())
        is None
    )
    assert (
        block_fittings(style, [fitted("a", "swayed back 4 mm", garment="skirt-block")], library(), Units())
        is None
    )
    assert block_fittings(demo_style("circle-skirt"), [fitted("a")], library(), Units()) is None
