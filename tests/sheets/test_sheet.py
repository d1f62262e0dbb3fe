"""The whole file: first page, pages, properties, and the same bytes for the same draft."""

from __future__ import annotations

import hashlib
import re
import subprocess
import sys
import zlib
from dataclasses import replace
from datetime import date

import pypdfium2
import pytest

from catalogue.days import day_words
from catalogue.sheets.marks import number_joins
from catalogue.sheets.paper import PAPERS
from catalogue.sheets.sheet import sheet_pdf
from catalogue.sheets.tiles import Tile
from tests.drawing.pieces import collar, draft, skirt_front, tab
from tests.sheets.slabs import SETTINGS, reader, slab, words_of


def test_every_page_names_itself_its_style_client_date_and_number() -> None:
    result = sheet_pdf(draft(), PAPERS["a4"], SETTINGS)
    for number, label in enumerate(result.tiles, 2):
        words = words_of(result.data, number - 1)
        assert f"page {number} of {result.pages}" in words
        assert "Fitted bodice · Adaeze Okonjo · 5 March 2026" in words
        assert label in words


def test_page_labels_bookmarks_and_properties() -> None:
    result = sheet_pdf(draft(), PAPERS["a4"], SETTINGS)
    file = reader(result.data)
    assert file.page_labels == ["cover", *result.tiles]
    first, pieces, of_pieces, pages, of_pages = file.outline
    assert [e["/Title"] for e in (first, pieces, pages)] == ["First page", "Pieces", "Pages"]  # type: ignore[call-overload, index]
    assert [e["/Title"] for e in of_pages] == list(result.tiles)  # type: ignore[union-attr, call-overload, index]
    titles = [p.title for p in draft().pieces.values()]
    assert [e["/Title"] for e in of_pieces] == [f"{a} {t}" for a, t in zip("ABCDEF", titles, strict=True)]  # type: ignore[union-attr, call-overload, index]
    root = file.trailer["/Root"]
    assert root["/Lang"] == "en-GB"  # type: ignore[index]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"] is not None  # type: ignore[index]
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"  # type: ignore[index]
    assert file.metadata is not None
    assert file.metadata.title == "Fitted bodice, Adaeze Okonjo"
    assert file.metadata.author == "Thread and Chalk"
    assert file.metadata.creation_date.date() == SETTINGS.day  # type: ignore[union-attr]


def test_reading_programmes_find_a_title_and_a_text_for_every_drawing() -> None:
    result = sheet_pdf(draft(), PAPERS["a4"], SETTINGS)
    file = reader(result.data)
    root = file.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]  # type: ignore[index]
    whole = root["/StructTreeRoot"]["/K"][0].get_object()  # type: ignore[index]
    elements = [e.get_object() for e in whole["/K"]]
    assert [e["/S"] for e in elements if e["/S"] == "/H1"] == ["/H1"]
    figures = [e["/Alt"] for e in elements if e["/S"] == "/Figure"]
    assert figures == ["Map of the pages", *(f"Page {t} of the pattern" for t in result.tiles)]
    for page in file.pages:  # marks open and close, and every number is in the tree
        content = page.get_contents().get_data().decode("latin-1")  # type: ignore[union-attr]
        assert len(re.findall(r"\bB[DM]C\b", content)) == len(re.findall(r"\bEMC\b", content))
        numbers = [int(n) for n in re.findall(r"/MCID (\d+)", content)]
        parents = root["/StructTreeRoot"]["/ParentTree"]["/Nums"]  # type: ignore[index]
        at = list(parents)[::2].index(page["/StructParents"])
        assert len(parents[2 * at + 1].get_object()) == len(numbers)
        assert numbers == list(range(len(numbers)))


def test_the_sheet_is_held_once_and_shared_by_all_pages() -> None:
    result = sheet_pdf(draft(), PAPERS["a4"], SETTINGS)
    sheets = []
    frames = set()
    for page in reader(result.data).pages[1:]:
        forms = page["/Resources"]["/XObject"]
        sheets.append(forms["/sheet"].indirect_reference.idnum)  # type: ignore[index]
        frames |= {form.indirect_reference.idnum for form in forms.values()} - set(sheets)  # type: ignore[union-attr]
        own = page.get_contents().get_data()  # type: ignore[union-attr]
        assert own.count(b" Do") == 2
        assert len(own) < 3000  # nothing of the pattern is repeated on the page
    assert len(set(sheets)) == 1
    assert len(sheets) == len(result.tiles)
    assert len(frames) < len(result.tiles)


def test_two_runs_give_the_same_bytes() -> None:
    one = sheet_pdf(draft(), PAPERS["a4"], SETTINGS).data
    sheet_pdf(draft(tab(), name="سارة 陈婷 Ọ́"), PAPERS["letter"], SETTINGS)  # must leave no trace
    assert sheet_pdf(draft(), PAPERS["a4"], SETTINGS).data == one


def test_another_process_gives_the_same_bytes() -> None:
    code = (
        "import hashlib; from catalogue.sheets.paper import PAPERS; from catalogue.sheets.sheet import sheet_pdf; "
        "from tests.drawing.pieces import draft; from tests.sheets.slabs import SETTINGS; "
        "print(hashlib.sha256(sheet_pdf(draft(), PAPERS['a4'], SETTINGS).data).hexdigest())"
    )
    told = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONHASHSEED": "1", "PATH": ""},
    ).stdout.strip()
    assert told == hashlib.sha256(sheet_pdf(draft(), PAPERS["a4"], SETTINGS).data).hexdigest()


def test_the_date_is_the_one_given() -> None:
    data = sheet_pdf(draft(tab()), PAPERS["a4"], replace(SETTINGS, day=date(2031, 12, 24))).data
    assert b"D:20311224" in data
    assert "24 December 2031" in words_of(data, 0)
    assert day_words(date(2026, 3, 5)) == "5 March 2026"


def test_45_pages_stay_under_100_kb_before_fonts() -> None:
    pieces = [slab(f"panel {i}", 560, 790) for i in range(5)]
    result = sheet_pdf(draft(*pieces), PAPERS["a4"], replace(SETTINGS, may_turn=False))
    assert len(result.tiles) >= 45
    fonts = set()
    for page in reader(result.data).pages:
        for font in page["/Resources"]["/Font"].values():  # type: ignore[union-attr]
            part = font.get_object()["/DescendantFonts"][0].get_object()["/FontDescriptor"]["/FontFile2"]
            stored = part.get_object()
            fonts.add((part["/Length1"], len(zlib.compress(stored.get_data()))))
    assert sum(size for _, size in fonts) > 5_000
    assert len(result.data) - sum(size for _, size in fonts) < 100_000


def test_nothing_is_written_beyond_the_page() -> None:
    long = "Wilhelmina-Konstantina von und zu Oberunterammergau-Niederhausen the younger, of the hill"
    result = sheet_pdf(draft(skirt_front(), title=f"{long} skirt", name=long), PAPERS["letter"], SETTINGS)
    document = pypdfium2.PdfDocument(result.data)
    page = document[0]
    text = page.get_textpage()
    wide, tall = page.get_size()
    for i in range(text.count_chars()):
        left, low, right, top = text.get_charbox(i)
        assert left >= 10
        assert right <= wide - 10
        assert low >= 10
        assert top <= tall - 10
    assert "…" in words_of(result.data, 1)


def test_joins_are_numbered_alike_on_both_sides() -> None:
    tiles = [Tile(0, 0), Tile(1, 0), Tile(0, 1), Tile(2, 0)]
    joins = number_joins(tiles)
    assert joins.right == {Tile(0, 0): 1, Tile(1, 0): 3}
    assert joins.below == {Tile(0, 0): 2}


def test_a_piece_of_monstrous_size_is_left_out_and_said_so() -> None:
    result = sheet_pdf(draft(tab(), slab("monster", 400_000, 20)), PAPERS["a4"], SETTINGS)
    assert [f.code for f in result.findings] == ["piece-too-large"]
    assert "“Monster” is 400.0 × 0.0 m" in result.findings[0].message
    assert result.findings[0].is_error
    assert result.tiles == ("1-1",)
    assert "Tab" in words_of(result.data, 0)


def test_a_faint_grid_of_5_cm_on_request() -> None:
    from tests.sheets.reading import form_content, pdf_strokes

    plain = sheet_pdf(draft(), PAPERS["a4"], SETTINGS)
    lined = sheet_pdf(draft(), PAPERS["a4"], replace(SETTINGS, grid=True))
    faint = [s for s in pdf_strokes(form_content(lined.data)) if s.width == 0.13]
    assert not [s for s in pdf_strokes(form_content(plain.data)) if s.width == 0.13]
    upright = sorted(s.segments[0][0][0] for s in faint if s.segments[0][0][0] == s.segments[0][1][0])
    assert upright
    assert all(abs(x - 50 * (i + 1)) < 0.01 for i, x in enumerate(upright))


def test_pieces_are_in_layers_but_squares_always_show() -> None:
    from tests.sheets.reading import form_content, pdf_strokes

    data = sheet_pdf(draft(collar()), PAPERS["a4"], SETTINGS).data
    strokes = list(pdf_strokes(form_content(data)))
    squares = [s for s in strokes if not s.layers]
    assert len(squares) == 2
    assert {s.width for s in squares} == {0.35}
    assert all(s.layers for s in strokes if s not in squares)


@pytest.mark.parametrize("paper", ["a4", "roll-24in"])
def test_a_sample_of_the_demo_prints_without_trouble(paper: str) -> None:
    """All of it by python -m tests.sheets.every_print."""
    from tests.sheets.every_print import drafts, troubles

    (sample,) = drafts(["bodice-block"], ["omolara"])
    assert troubles(sample, paper) == []
