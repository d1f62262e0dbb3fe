"""Cloths, orders, fittings and kept garments that are wrong, all in one studio: each is told at its line, and what is
right beside them is made.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from catalogue.workroom.kept_garments import kept_garments
from catalogue.workroom.kept_lays import read_kept
from tests.building.odd_studio import CLIENT, PLAIN, Desk, captured
from tests.building.sound import Run

BAD_CLOTHS: dict[str, tuple[str, int, str]] = {
    "no width": ("price: 12 a metre", 0, "the width is missing"),
    "no lines": ("", 0, "must be names with values"),
    "a width in metres": ("width: 1.4", 1, "Did you mean 140 cm?"),
    "a width in inches": ("width: 55", 1, "Did you mean 55 in?"),
    "both widths in inches": ("width: 60\nusable width: 54", 1, "Did you mean 60 in?"),
    "a bolt in inches with its unit": ("width: 55 cm", 1, "write 55 cm and its usable width"),
    "a width of a road": ("width: 14 m", 1, "out of range"),
    "a width that is none": ("width: wide", 1, "wide"),
    "usable width on the fold": ("width: 145\nusable width: 72", 2, "Measure from selvedge to selvedge"),
    "wider within": ("width: 140\nusable width: 150", 2, "more than the width"),
    "no price": ("width: 140\nprice: dear", 2, "price"),
    "shrinkage as a length": ("width: 140\nshrinkage along: 4 cm", 2, "must be a percentage"),
    "shrinkage of a half": ("width: 140\nshrinkage across: 50 %", 2, "out of range"),
    "shrinkage twice": ("width: 140\nabout: preshrunk\nshrinkage along: 4 %", 3, "does not shrink again"),
    "a direction unheard of": ("width: 140\ndirection: sideways", 2, "not a direction of cloth"),
    "a velvet without direction": ("width: 140\nfibre: velvet", 0, "may lie either way up"),
    "a plaid without repeat": ("width: 140\nfibre: wool plaid", 0, "nothing is matched"),
    "a repeat without its evenness": ("width: 140\nrepeat along: 8 cm", 2, "taken to be uneven"),
    "a repeat too wide": ("width: 140\nrepeat across: 180 cm\npattern: even", 2, "wider than the cloth"),
    "stock without unit": ("width: 140\nstock: 2.4", 2, "Write 2.4 m or 2.4 yd."),
    "a stock of crumbs": ("width: 140\nstock: 6.80 cm", 2, "Did you mean 6.80 m?"),
    "a part unheard of": ("width: 140\ncolour: green", 2, "not known of a cloth"),
}
"""What stands below a cloth's name, the line of the mistake below that name, and words of the message."""

BAD_ORDERS: dict[str, tuple[str, int, str]] = {
    "no style": ("due: 2026-09-01", 0, "names no style"),
    "a style unheard of": ("style: first-skrit", 1, "first-skrit"),
    "no lines": ("", 0, "must be names with values"),
    "due before": (
        "style: first-skirt\nordered: 2026-03-02\ndue: 2026-03-01",
        3,
        "due before it was ordered",
    ),
    "no such day": ("style: first-skirt\nordered: 2026-02-30", 2, "there is no day 2026-02-30"),
    "no day": ("style: first-skirt\ndue: Easter", 2, "is not a date"),
    "cut in the future": ("style: first-skirt\ncut: 2999-01-01", 2, "in the future"),
    "cut before drafted": ("style: first-skirt\ndrafted: 2026-02-02\ncut: 2026-02-01", 3, "is dated before"),
    "another century": ("style: first-skirt\nordered: 2016-02-02\ndue: 2026-03-01", 3, "Check the year"),
    "a price of words": ("style: first-skirt\nprice: a lot", 2, "price"),
    "a deposit too large": ("style: first-skirt\nprice: 9\ndeposit: 90", 3, "more than the price"),
    "hours of words": ("style: first-skirt\nhours: many", 2, "not a number of hours"),
    "extras without a price": ("style: first-skirt\nextras: buttons", 2, "has no amount"),
    "a cloth unheard of": ("style: first-skirt\ncloth: Moonlight", 2, "Moonlight"),
    "a choice unheard of": ("style: first-skirt\nchoices:\n  lenght: 60 cm", 3, "lenght"),
    "a choice out of range": ("style: first-skirt\nchoices:\n  length: 3 m", 3, "outside the range of"),
    "a way to spread unheard of": ("style: first-skirt\nlay: crumpled", 2, "not a way to spread cloth"),
    "a stage unheard of": ("style: first-skirt\nironed: 2026-02-01", 2, "not a stage or a part"),
    "as cut of nothing": ("style: first-skirt\nas cut: 2026-02-01", 0, "no garment of this style was kept"),
}

BAD_HEADS: dict[str, tuple[str, int, str]] = {
    "no day": ("skirt:\n  - hip let out 4 mm", 0, "should be a day and a garment"),
    "no garment": ("2026-02-01:\n  - hip let out 4 mm", 0, "the garment that was fitted is missing"),
    "no such day": ("2026-02-30 first-skirt:\n  - hip let out 4 mm", 0, "there is no day 2026-02-30"),
    "a day to come": ("2999-02-03 first-skirt:\n  - hip let out 4 mm", 0, "in the future"),
    "nothing changed": ("2026-02-05 first-skirt:", 0, "what was changed is missing"),
    "a group": ("2026-02-17 first-skirt:\n  - {a: 1, b: 2}", 1, "should be one line"),
}
"""Fittings that can't be read: they stop the drafts of their client, since nobody knows what was changed."""

BAD_FITTINGS: dict[str, tuple[str, int, str]] = {
    "a garment unheard of": ("2026-02-02 no-skirt:\n  - hip let out 4 mm", 0, "no-skirt"),
    "before the first measuring": (
        "1999-02-03 first-skirt:\n  - hip let out 4 mm",
        1,
        "earlier than the first",
    ),
    "no amount": ("2026-02-06 first-skirt:\n  - hip let out", 1, "how much is missing"),
    "centimetres for millimetres": ("2026-02-07 first-skirt:\n  - hip let out 4", 1, "If you meant 4 mm"),
    "less than a pencil line": (
        "2026-02-08 first-skirt:\n  - hip let out 0.4 mm",
        1,
        "less than can be drawn",
    ),
    "two amounts": ("2026-02-09 first-skirt:\n  - hip let out 4 mm 5 mm", 1, "two amounts stand here"),
    "taken off": ("2026-02-10 first-skirt:\n  - hip let out -4 mm", 1, "can't stand in a change"),
    "words unheard of": ("2026-02-11 first-skirt:\n  - more swish 4 mm", 1, "names no alteration"),
    "either of two": ("2026-02-12 first-skirt:\n  - skirt too long 4 cm", 1, "too"),
    "twice": ("2026-02-13 first-skirt:\n  - hip let out 4 mm\n  - hip let out 4 mm", 2, "once more"),
    "whole and by sides": (
        "2026-02-14 first-skirt:\n  - right hip let out 4 mm\n  - hip let out 4 mm",
        1,
        "which is for both sides",
    ),
    "there and back": (
        "2026-02-15 first-skirt:\n  - hip let out 4 mm\n  - hip taken in 3 mm",
        1,
        "undo each other",
    ),
    "dropped before": (
        "2026-02-16 first-skirt:\n  - hip let out 4 mm, dropped 2025-01-01",
        1,
        "Check both years",
    ),
}

KEPT = {
    "format": 1,
    "date": "2026-02-01",
    "style": "first-skirt",
    "title": "First skirt",
    "client": "Kay",
    "order": "",
    "cloth": [],
    "outlines": {
        "units": ["cm", 16],
        "pieces": {"front": {"title": "Front", "path": "M 0 0 L 9 9 Z", "box": [0, 0, 9, 9], "edges": []}},
    },
}


def kept(**other: object) -> str:
    return json.dumps(KEPT | other)


def piece(**other: object) -> str:
    outlines = {"units": ["cm", 16], "pieces": {"front": KEPT["outlines"]["pieces"]["front"] | other}}  # type: ignore[index]
    return kept(outlines=outlines)


BAD_KEPT: dict[str, tuple[str, str]] = {
    "nothing": ("", "can't be shown"),
    "no JSON": ("{", "can't be shown"),
    "cut off": (kept()[:90], "can't be shown"),
    "another format": (kept(format=2), "can't be shown"),
    "no such day": (kept(date="2026-02-30"), "can't be shown"),
    "another's": (kept(client="Somebody"), "kept for another name than “Kay”"),
    "a part unheard of": (kept(colour="green"), "can't be shown"),
    "a title of a book": (kept(title="x" * 5000), "can't be shown"),
    "script for an outline": (piece(path='M 0 0"/><script>alert(1)</script>'), "can't be shown"),
    "an infinite piece": (piece(box=[0, 0, 9, 9]).replace("9]", "1e999]", 1), "can't be shown"),
    "brackets without end": ("[" * 100_000, "can't be shown"),
    "another script's figures": (kept(date="٢٠٢٦-٠٢-٠١"), "can't be shown"),
}


def grouped(title: str, cases: Mapping[str, tuple[str, int, str]], indent: int) -> tuple[str, dict[str, int]]:
    """The cases below a heading as lines, and the line in them, from 1, at which each has its mistake."""
    rows, lines = [f"{title}:"], {}
    for number, (kind, (text, line, _)) in enumerate(cases.items(), 1):
        below = text.split("\n") if text else []
        if indent:
            rows.append(f"  {title[:-1]} {number}:")
            lines[kind] = len(rows) + line
            rows += [f"    {row}" for row in below]
        else:
            lines[kind] = len(rows) + 1 + line
            rows += [f"  {row}" for row in below]
    return "\n".join(rows) + "\n", lines


CLOTHS, AT_CLOTH = grouped("cloths", BAD_CLOTHS, 2)
ORDERS, AT_ORDER = grouped("orders", BAD_ORDERS, 2)
FITTINGS, AT_FITTING = grouped("fittings", BAD_FITTINGS, 0)
HEADS, AT_HEAD = grouped("fittings", BAD_HEADS, 0)
FOLDERS = {kind: f"clients/kay/2026-02-01 first-skirt {n}" for n, kind in enumerate(BAD_KEPT, 2)}


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Run, Path]]:
    """What a build of all of them says, and the catalogue; it is checked as every bad input is."""
    with captured() as printed:
        desk = Desk(tmp_path_factory.mktemp("bad"), printed, PLAIN)
        desk.write("clients/cloths.md", f"---\nunits: cm\n{CLOTHS}---\n")
        desk.write("clients/ora.md", CLIENT.replace("name: A", f"name: Ora\n{ORDERS[:-1]}"))
        desk.write("clients/fay.md", CLIENT.replace("name: A", f"name: Fay\n{FITTINGS[:-1]}"))
        desk.write("clients/joy.md", CLIENT.replace("name: A", f"name: Joy\n{HEADS[:-1]}"))
        desk.write("clients/kay.md", CLIENT.replace("name: A", "name: Kay"))
        desk.write("clients/kay/2026-02-01 first-skirt/outlines.json", kept())
        for kind, folder in FOLDERS.items():
            desk.write(f"{folder}/outlines.json", BAD_KEPT[kind][0])
        yield desk.run(), desk.output


def said(told: Run, file: str, line: int) -> str:
    """All that was said at a line."""
    rows, ours = [], False
    for row in told.printed.split("\n"):
        ours = ours or not row.startswith(" ") if row.startswith((f"{file}:{line}:", "    ")) else False
        if ours:
            rows.append(row)
    return "\n".join(rows)


@pytest.mark.parametrize("kind", BAD_CLOTHS)
def test_a_cloth_that_is_wrong(told: tuple[Run, Path], kind: str) -> None:
    assert BAD_CLOTHS[kind][2] in said(told[0], "clients/cloths.md", 2 + AT_CLOTH[kind])


@pytest.mark.parametrize("kind", BAD_ORDERS)
def test_an_order_that_is_wrong(told: tuple[Run, Path], kind: str) -> None:
    assert BAD_ORDERS[kind][2] in said(told[0], "clients/ora.md", 2 + AT_ORDER[kind])


@pytest.mark.parametrize("kind", BAD_FITTINGS)
def test_a_fitting_that_is_wrong(told: tuple[Run, Path], kind: str) -> None:
    assert BAD_FITTINGS[kind][2] in said(told[0], "clients/fay.md", 2 + AT_FITTING[kind])


@pytest.mark.skipif(sys.platform == "win32", reason="has other links and pipes")
def test_a_link_or_pipe_among_what_was_kept_is_not_followed(tmp_path: Path) -> None:
    folder = tmp_path / "clients/kay/2026-02-01 first-skirt"
    folder.mkdir(parents=True)
    (folder / "outlines.json").symlink_to("/dev/zero")
    garments, [finding] = kept_garments(tmp_path, ["clients/kay/2026-02-01 first-skirt/outlines.json"], "Kay")
    assert garments == () and "not a plain file" in finding.message
    os.mkfifo(tmp_path / "lays.json")
    (tmp_path / "deep.json").write_text("[" * 100_000)
    assert read_kept(tmp_path / "lays.json") == read_kept(tmp_path / "deep.json") == {}


@pytest.mark.parametrize("kind", BAD_HEADS)
def test_a_fitting_that_can_not_be_read(told: tuple[Run, Path], kind: str) -> None:
    assert BAD_HEADS[kind][2] in said(told[0], "clients/joy.md", 2 + AT_HEAD[kind])


@pytest.mark.parametrize("kind", BAD_KEPT)
def test_a_kept_garment_that_is_wrong(told: tuple[Run, Path], kind: str) -> None:
    assert BAD_KEPT[kind][1] in said(told[0], f"{FOLDERS[kind]}/outlines.json", 1)


def test_what_is_right_beside_them_is_made(told: tuple[Run, Path]) -> None:
    assert told[0].status == 1
    for client in ("first-client", "ora", "fay", "kay"):
        assert (told[1] / f"styles/first-skirt/{client}/draft-a4.pdf").is_file()
    assert not (told[1] / "styles/first-skirt/joy/draft-a4.pdf").exists()
    page = (told[1] / "clients/kay/index.html").read_text(encoding="utf-8")
    assert page.count("2026-02-01--first-skirt") and "first-skirt-2" not in page
