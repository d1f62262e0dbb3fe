"""Published tables of sizes as a studio would write them down: they draft every demo style that they suit, and what is
finished grows from size to size where the body does.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import pytest

from catalogue.building.outputs import wrong
from catalogue.drafting.drafter import draft_style
from catalogue.drafting.model import Draft
from catalogue.frontmatter import split
from catalogue.lengths import Units
from catalogue.people import REGISTER, Client, SizeTable
from catalogue.people.size_reading import SizeReader
from catalogue.studio.settings import Settings
from catalogue.studio.suiting import suits
from tests.drafting.people_and_styles import DEMO_STYLES, demo_style
from tests.extent import few_of
from tests.people.published import ASTM_MISSES, TRADE_MISSES, TRADE_PETITE, TRADE_WOMEN, Published
from tests.survey.bodies import INCH, completed

TABLES = {
    # With the height in inches. The trade's misses are 5'5" to 5'6", its petites 5'2" to 5'4" (the same source as their
    # figures); the others as the misses, our own judgement.
    "astm": (ASTM_MISSES, 65.5),
    "misses": (TRADE_MISSES, 65.5),
    "petite": (TRADE_PETITE, 63.0),
    "women": (TRADE_WOMEN, 65.5),
}
# What a finished measurement of a style follows from: it grows with it from size to size.
GROWS = {
    ("circle-skirt", "waist girth"): "waist_girth",
    ("bodice-block", "bust girth"): "bust_girth",
    ("bodice-block", "upper arm girth"): "upper_arm_girth",
    ("princess-dress", "bust girth"): "bust_girth",
    ("princess-dress", "hip girth"): "hip_girth",
    ("gored-skirt", "hip girth"): "hip_girth",
    ("straight-skirt", "hip girth"): "hip_girth",
    ("womens-trousers", "hip girth"): "hip_girth",
    ("womens-trousers", "waist girth"): "waist_girth",
    ("yoked-blouse", "bust girth"): "bust_girth",
    ("straight-skirt", "waist girth"): "waist_girth",
    ("yoked-shirt", "round the chest"): "bust_girth",
    ("yoked-shirt", "hip girth"): "hip_girth",
}


def whole(published: Published, height: float) -> str:
    """The table with what it leaves out.

    By the women of the US Army survey of 2012 (NATICK/TR-15/007): through the mean with slope r * SD / SD by bust girth
    where it has a correlation, else their mean; the wrist's slope is our own judgement; the rest as bodies of surveys
    are completed.
    """
    columns = []
    for n in range(len(published.sizes)):
        body = {key: row[n] * INCH for key, row in published.rows.items()}
        over = body["bust_girth"] - 94.7
        body.setdefault("hip_girth", 102.1 + 0.74 * 7.6 / 8.3 * over)
        body.setdefault("upper_arm_girth", 30.6 + 0.75 * 3.1 / 8.3 * over)
        body |= {"height": height * INCH, "biacromial": 36.5, "wrist_girth": 15.5 + 0.05 * over}
        columns.append(completed(body, "woman"))
    lines = [
        f'---\nname: "{published.name}"\nfor: woman\nunits: cm\n---\n',
        f"| size | {' | '.join(published.sizes)} |",
        f"|{'---|' * (len(published.sizes) + 1)}",
    ]
    lines += [
        f"| {measurement.name} | {' | '.join(f'{column[key]:.3f}' for column in columns)} |"
        for key, measurement in REGISTER.items()
        if key in columns[0]
    ]
    return "\n".join(lines) + "\n"


@cache
def table_of(name: str) -> SizeTable:
    text = whole(*TABLES[name])
    return SizeReader(split(text, f"sizes/{name}.md"), name, name, "", Units()).table()


@cache
def clients_of(name: str) -> tuple[Client, ...]:
    """The smallest, a middle and the largest size; with --thorough every one."""
    table = table_of(name)
    return tuple(table.client(size) for size in few_of(table.sizes))


@cache
def drafts_of(name: str, style: str) -> tuple[Draft, ...]:
    return tuple(draft_style(demo_style(style), client, Settings()) for client in clients_of(name))


@pytest.mark.parametrize("name", TABLES)
def test_the_completed_table_is_read_without_an_error(name: str) -> None:
    table = table_of(name)
    assert [str(f) for f in table.findings if f.is_error] == []
    assert len(table.sizes) == len(TABLES[name][0].sizes) >= 6


SUITED = [
    (name, style)
    for name in TABLES
    for style in DEMO_STYLES
    if all(suits(demo_style(style), client) for client in clients_of(name))
]


@pytest.mark.parametrize(("name", "style"), SUITED)
def test_sizes_draft_every_style_they_suit(name: str, style: str) -> None:
    for draft in drafts_of(name, style):
        assert draft.missing == () and draft.pieces, draft.client.name
        assert [str(f) for f in wrong(draft) if f.is_error] == [], draft.client.name


@pytest.mark.parametrize(("style", "what"), GROWS)
@pytest.mark.parametrize("name", TABLES)
def test_what_is_finished_grows_with_the_body(name: str, style: str, what: str) -> None:
    body = [client.measurements[GROWS[style, what]].mm for client in clients_of(name)]
    finished = [
        next(f.garment for f in draft.finished if f.name.replace("_", " ") == what)
        for draft in drafts_of(name, style)
    ]
    assert all(a < b for a, b in pairwise(body)), "the table itself"
    assert all(a < b for a, b in pairwise(finished))
    # Never smaller than the body in it.
    assert all(f > b for f, b in zip(finished, body, strict=True))


@pytest.mark.parametrize("style", ["straight-skirt", "circle-skirt"])
def test_pieces_of_a_larger_size_hold_those_of_a_smaller_one(style: str) -> None:
    """By the area of each skirt's pieces, worked out by shapely from the outline drawn as a polygon."""
    from shapely import Polygon

    for small, large in pairwise(drafts_of("misses", style)):
        for key, piece in small.pieces.items():
            areas = [Polygon(p.outline.flatten(0.05)).area for p in (piece, large.pieces[key])]
            assert areas[0] < areas[1], (key, large.client.name)
