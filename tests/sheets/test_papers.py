"""Papers of every size: plotters, rolls, and sheets that hold whole pieces."""

from __future__ import annotations

import os
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

from catalogue.sheets.paper import PAPERS
from catalogue.sheets.sheet import sheet_pdf
from tests.drawing.pieces import draft, skirt_front, tab
from tests.sheets.slabs import SETTINGS, reader, slab, words_of


def test_a_plotter_gets_one_page_with_everything_on_it() -> None:
    result = sheet_pdf(draft(), PAPERS["a0"], SETTINGS)
    assert result.pages == 1
    words = words_of(result.data, 0)
    for part in ("Print and measure", "Safety", "Map: 1 page", "Bodice front 1 on the fold", "A0, 1 page"):
        assert part in words, part
    assert "Trim" not in words
    assert words.count("100 mm") == 2 + 1  # on two sides of the square, and in the instructions
    file = reader(result.data)
    assert file.page_labels == ["1-1"]
    root = file.trailer["/Root"]
    whole = root["/StructTreeRoot"]["/K"][0].get_object()  # type: ignore[index]
    tags = [e.get_object()["/S"] for e in whole["/K"]]
    assert tags.count("/H1") == 1
    assert tags.count("/Figure") == 2  # map and sheet


def test_a_roll_says_how_long_it_is() -> None:
    result = sheet_pdf(draft(), PAPERS["roll-36in"], SETTINGS)
    tall = float(reader(result.data).pages[0].mediabox.height) * 25.4 / 72
    assert f"36 in roll, {tall / 10:.0f} cm long" in words_of(result.data, 0)


def test_a_piece_too_wide_for_a_roll_is_printed_in_strips_and_said_so() -> None:
    wide = slab("cape", 700, 800)
    result = sheet_pdf(draft(wide, tab()), PAPERS["roll-24in"], SETTINGS)
    (finding,) = result.findings
    assert finding.code == "piece-wider-than-roll"
    assert not finding.is_error
    assert "“Cape” is 70 cm wide and the 24 in roll prints 59 cm" in finding.message
    assert result.tiles == ("1-1", "1-2")
    first = reader(result.data).pages[0].mediabox
    assert (
        abs(float(first.width) - 612) < 0.1
    )  # the first page is for the desk: US Letter beside rolls in inches
    assert abs(float(first.height) - 792) < 0.1
    assert not sheet_pdf(draft(wide), PAPERS["roll-36in"], SETTINGS).findings


def test_large_sheets_with_whole_pieces_are_not_joined() -> None:
    pieces = [replace(skirt_front(430.0, 600.0), name=f"front_{i}") for i in range(3)]
    paper = PAPERS["a1"]
    result = sheet_pdf(draft(*pieces), paper, SETTINGS)
    assert len(result.tiles) > 1
    first = words_of(result.data, 0)
    assert "Trim and tape" not in first
    assert "Trim and tape" in words_of(sheet_pdf(draft(*pieces), PAPERS["a3"], SETTINGS).data, 0)


@pytest.mark.parametrize("paper", PAPERS)
def test_every_paper_can_be_printed_on(paper: str, tmp_path: Path) -> None:
    result = sheet_pdf(draft(), PAPERS[paper], SETTINGS)
    file = reader(result.data)
    single = PAPERS[paper].is_large and len(result.tiles) == 1
    assert len(file.pages) == result.pages == len(result.tiles) + (0 if single else 1)
    assert 1 <= result.lower_bound <= len(result.tiles)
    box = file.pages[-1].mediabox
    sides = {round(float(side) * 25.4 / 72, 2) for side in (box.width, box.height)}
    if PAPERS[paper].roll:
        assert result.pages == 1
        assert abs(float(box.width) * 25.4 / 72 - PAPERS[paper].width) < 0.01
        assert float(box.height) <= 14_400  # ISO 32000-1, annex C.2
        assert max(sides) < 2500
    else:
        assert sides == {round(PAPERS[paper].width, 2), round(PAPERS[paper].height, 2)}
    program = shutil.which("qpdf")
    if program is None:
        if os.environ.get("CI") == "true":
            pytest.fail("qpdf is missing: install qpdf")
        pytest.skip("qpdf is not installed; install it for the check of the file's structure")
    file_name = tmp_path / "sheet.pdf"
    file_name.write_bytes(result.data)
    checked = subprocess.run([program, "--check", str(file_name)], capture_output=True)
    assert checked.returncode == 0, checked.stdout + checked.stderr
