"""Allowances, hems and eases of the demo styles against rules of the trade; beside each rule its source.

Sources disagree among themselves, so each value is held against a range.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from catalogue.drafting import draft_style
from catalogue.drafting.model import Draft
from catalogue.people import Client
from catalogue.studio.joining import read_with_blocks
from catalogue.studio.settings import Settings
from catalogue.studio.suiting import suits
from tests.demo import demo_clients, demo_styles
from tests.extent import few_of

ROOT = Path(__file__).parents[2]
INCH = 25.4

CWU = 'Costume text, ch. 16 "Ease in Clothing" (S. Robinson, Central Washington University)'
NMSU = "Guide C-228, table 1 (W. Hamilton, New Mexico State University)"
BLOCK = "Handout for drafting skirt block (WikiEducator)"
TABLES = "Ease for woven garments (monsterkonstruktion.se), a commercial page"

# style, finished measurement, least and most ease in mm, who says the least and who the most
EASES = (
    ("bodice-block", "bust girth", 1.5 * INCH, 4 * INCH, CWU, NMSU),
    ("bodice-block", "waist girth", 0.75 * INCH, 40, CWU, TABLES),
    ("princess-dress", "bust girth", 1.5 * INCH, 4 * INCH, CWU, NMSU),
    ("princess-dress", "hip girth", 40, 2.75 * INCH, TABLES, CWU),
    ("gored-skirt", "waist girth", 0.5 * INCH, 24, CWU, BLOCK),
    ("gored-skirt", "hip girth", 40, 2.75 * INCH, TABLES, CWU),
    ("womens-trousers", "waist girth", 0.5 * INCH, 0.75 * INCH, CWU, CWU),
    ("womens-trousers", "hip girth", 40, 2.75 * INCH, TABLES, CWU),
    # 4 to 7 in of looseness in a coat (TM 10-227), 8 in round the chest of an overcoat (Vincent).
    (
        "notched-coat",
        "bust girth",
        4 * INCH,
        8 * INCH,
        "US Army TM 10-227, p. 3-11",
        "Vincent, Systems, p. 152",
    ),
    ("straight-skirt", "waist girth", 0.5 * INCH, 24, CWU, BLOCK),
    ("straight-skirt", "hip girth", 40, 2.75 * INCH, TABLES, CWU),
    # A full skirt hangs from its waist; half an inch and a little less (common practice, no source).
    ("circle-skirt", "waist girth", 0, 0.75 * INCH, "common practice, no source", CWU),
    # Wearing ease is a floor and design ease comes on top of it (the same chapter): no upper bound for a loose shirt.
    ("yoked-shirt", "round the chest", 1.5 * INCH, None, CWU, ""),
    ("yoked-shirt", "hip girth", 2 * INCH, None, CWU, ""),
    ("mens-shirt", "round the chest", 1.5 * INCH, None, CWU, ""),
    # Trousers for men: waist 3/4 to 1 in.
    ("mens-trousers", "waist girth", 0.75 * INCH - 1, INCH, CWU, CWU),
    # Half the breast and 1 1/2 in, half the waist and 1 1/2 in: 3 in round; the strap draws in what is over.
    ("mens-waistcoat", "chest girth", 2.5 * INCH, 3.5 * INCH, "The Cutter's Practical Guide, part 1", TABLES),
    (
        "childs-body-block",
        "chest girth",
        60,
        75,
        "drafting a children's bodice block (moonlightpatterns.com)",
        BLOCK,
    ),
)

SHIRT_WAIST = "Ingalls, on the shirt waist"
GORED = "Ingalls, on laying paper patterns on cloth"
ASDP = "Standards of Quality for Custom Clothing, p. 19"
ROSENFELD = "Rosenfeld 1918, pp. 130 and 132: 1 in for two seams of a collar"
PRACTICE = "common practice, no source"

# edges, least and most allowance in mm, who says so
ALLOWANCES = (
    # 3/4 in at shoulder and underarm in 1900s patterns; 3/8 in is each edge of a French seam (Rosenfeld).
    ({"side", "shoulder", "front_seam", "back_seam", "panel"}, 0.375 * INCH, 0.75 * INCH, SHIRT_WAIST),
    ({"neck"}, 0.25 * INCH, 0.625 * INCH, SHIRT_WAIST),
    ({"armhole", "cap"}, 0.25 * INCH, 0.625 * INCH, f"{SHIRT_WAIST}; {ASDP}"),
    ({"outer"}, 0.25 * INCH, 0.5 * INCH, ROSENFELD),
    # 1/4 in at the top of a gored skirt, 3/4 in at the waist edge of a shirt waist.
    ({"waist"}, 0.25 * INCH, 0.75 * INCH, f"{GORED}; {SHIRT_WAIST}"),
    # Where a zip is set in there is more (2 cm), never less than a seam.
    ({"centre_back"}, 0.375 * INCH, 1 * INCH, PRACTICE),
)

# style, piece, least and most hem in mm, who says so
HEMS = (
    (
        "straight-skirt",
        "front",
        25,
        4 * INCH,
        "Baldt, fig. 51: 2 to 4 in for a walking skirt; 1 in for a short one: " + PRACTICE,
    ),
    ("circle-skirt", "front", 5, 30, PRACTICE + ": a round hem can only be narrow"),
    ("bodice-block", "sleeve", 20, 50, PRACTICE),
    ("yoked-shirt", "back", 6, 15, PRACTICE + ": a shirt tail has a narrow hem turned twice"),
    ("mens-shirt", "back", 6, 15, PRACTICE + ": a shirt tail has a narrow hem turned twice"),
)


def size(person: Client) -> float:
    """What clients are sorted by, mm: the hip girth, or what is measured nearest to it."""
    girths = ("hip_girth", "waist_girth", "bust_girth", "chest_girth", "head_girth")
    return next(person.measurements[key].mm for key in girths if key in person.measurements)


@cache
def drafts(style: str) -> tuple[Draft, ...]:
    """The style as it is, without anyone's choices, for demo clients whom it suits: small, middling and large."""
    read = read_with_blocks(ROOT / f"styles/{style}.md", ROOT)
    people = [replace(client, choices={}) for client in demo_clients()]
    suited = sorted((person for person in people if suits(read, person)), key=size)
    made = [draft_style(read, person, Settings()) for person in few_of(suited)]
    found = tuple(d for d in made if d.pieces)
    assert found
    return found


STYLES = [style.slug for style in demo_styles() if not style.receives]
"""A part, such as a collar, is judged in the garments that it is put into."""


@pytest.mark.parametrize(("style", "what", "least", "most", "from_whom", "up_to_whom"), EASES)
def test_eases_lie_where_the_books_put_them(
    style: str, what: str, least: float, most: float | None, from_whom: str, up_to_whom: str
) -> None:
    for draft in drafts(style):
        (told,) = [f for f in draft.finished if f.name == what]
        assert told.body is not None
        ease = told.garment - told.body
        assert ease >= least - 0.6, f"{draft.client.name}: {ease:.0f} mm; {from_whom}"
        assert most is None or ease <= most + 0.6, f"{draft.client.name}: {ease:.0f} mm; {up_to_whom}"


@pytest.mark.parametrize("style", STYLES)
def test_no_woven_garment_is_smaller_than_its_wearer(style: str) -> None:
    # Only patterns for knits may have little or no ease (CWU).
    for draft in drafts(style):
        if draft.style.garment == "apron":  # It does not go round.
            continue
        judged = [f for f in draft.finished if f.body is not None and f.name.endswith("girth")]
        assert judged, draft.style.title
        assert all(f.garment >= f.body and f.ok for f in judged if f.body is not None)


@pytest.mark.parametrize("style", STYLES)
def test_seam_allowances_lie_where_the_books_put_them(style: str) -> None:
    seen = 0
    for draft in drafts(style):
        for piece in draft.pieces.values():
            if piece.cut.cloth == "interfacing":  # fused inside the seam lines (common practice, no source)
                assert not any(e.allowance for e in piece.edges), piece.name
                continue
            for edge in piece.edges:
                for names, least, most, who in ALLOWANCES:
                    if edge.name in names and not edge.fold:
                        assert edge.allowance is not None
                        assert least <= edge.allowance <= most, f"{piece.name}.{edge.name}: {who}"
                        seen += 1
    assert seen


@pytest.mark.parametrize(("style", "piece", "least", "most", "who"), HEMS)
def test_hems_are_as_deep_as_the_garment_asks(
    style: str, piece: str, least: float, most: float, who: str
) -> None:
    for draft in drafts(style):
        hem = draft.pieces[piece].edge("hem").allowance
        assert hem is not None and least <= hem <= most, who


@pytest.mark.parametrize("style", STYLES)
def test_nothing_is_allowed_on_a_fold_and_interfacing_has_no_allowance(style: str) -> None:
    # Interfacing is fused without the seam allowance, which would be thick (common practice, no source).
    for draft in drafts(style):
        for piece in draft.pieces.values():
            assert all(e.allowance == 0 for e in piece.edges if e.fold)
            if piece.cut.cloth == "interfacing":
                assert all(e.allowance == 0 for e in piece.edges)


@pytest.mark.parametrize("style", STYLES)
def test_edges_that_are_sewn_together_have_the_same_allowance(style: str) -> None:
    # Else the cut edges do not meet when the seam is pinned (common practice, no source).
    for draft in drafts(style):
        for seam in draft.seams:
            widths = set()
            for name in (*seam.first.split(" and "), *seam.second.split(" and ")):
                piece, _, edge = name.partition(".")
                widths.add(draft.pieces[piece].edge(edge).allowance)
            assert len(widths) == 1, f"{draft.style.slug}: {seam.first} and {seam.second}: {widths}"


def test_double_notches_mark_the_back_armhole_and_single_ones_the_front() -> None:
    # Single for the front, double for the back (common practice, no source).
    halves = (half for draft in drafts("bodice-block") for half in draft.halves or (draft,))
    for draft in halves:
        counts = {
            name: {n.count for n in draft.pieces[name].notches if n.edge == "armhole"}
            for name in ("front", "back")
        }
        assert counts == {"front": {1}, "back": {2}}


def test_a_hem_sewn_into_a_cuff_is_not_turned_up() -> None:
    from catalogue.pattern.allowance import turned_up

    for draft in drafts("yoked-shirt"):
        sewn = {n for s in draft.seams for n in (*s.first.split(" and "), *s.second.split(" and "))}
        assert "sleeve.hem" in sewn
        assert not turned_up(draft.pieces["sleeve"].edge("hem"))
        assert turned_up(draft.pieces["back"].edge("hem"))
