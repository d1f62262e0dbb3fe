"""The whole file: first page, pages, properties, and the same bytes for the same draft."""

from __future__ import annotations

import hashlib
import io
import os
import re
import shutil
import subprocess
import sys
import zlib
from dataclasses import replace
from datetime import date
from pathlib import Path

import pypdf
import pypdfium2
import pytest

from catalogue.drawing.bounds import Recorder, text_corners
from catalogue.drawing.labels import letters_of
from catalogue.geometry import Point
from catalogue.pattern import Edge, InnerLine, Piece
from catalogue.sheets.assembly import printable_part
from catalogue.sheets.cover import CoverPiece, CoverText, draw_cover, is_for_child
from catalogue.sheets.marks import number_joins, shortened
from catalogue.sheets.packing import pack
from catalogue.sheets.paper import PAPERS
from catalogue.sheets.shaping import width
from catalogue.sheets.sheet import SheetSettings, day_words, sheet_pdf
from catalogue.sheets.tiles import Tile, tile_grid
from catalogue.sheets.wrapping import wrap
from tests.drawing.pieces import collar, draft, line, skirt_front, tab

SETTINGS = SheetSettings(day=date(2026, 3, 5), studio="Thread and Chalk")


def reader(data: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(data), strict=True)


def words_of(data: bytes, page: int) -> str:
    return " ".join(reader(data).pages[page].extract_text().split())


def slab(name: str, w: float, h: float) -> Piece:
    a, b, c, d = Point(0, 0), Point(w, 0), Point(w, h), Point(0, h)
    edges = (
        Edge("top", line(a, b)),
        Edge("right", line(b, c)),
        Edge("low", line(c, d)),
        Edge("left", line(d, a)),
    )
    return Piece(name, name.title(), edges)


def parts_of(pieces: list[Piece]) -> list[CoverPiece]:
    letters = letters_of(pieces)
    return [CoverPiece(p, letters[p.name], (p.outline,)) for p in pieces]


def test_the_first_page_says_what_one_needs_to_know() -> None:
    data = sheet_pdf(draft(), PAPERS["a4"], SETTINGS).data
    words = words_of(data, 0)
    for part in (
        "Thread and Chalk",
        "Fitted bodice",
        "Adaeze Okonjo",
        "5 March 2026",
        "A4, 13 pages including this one",
        "100 mm",
        "4 in",
        "100 %",
        "Measure both squares, across and down, before you cut",
        "Trim the left edge and the top edge",
        "match the halves of the diamonds",
        "Bodice front 1 on the fold, main cloth",
        "Collar 2 on the fold, interfacing",
        "Tab 2 pairs, lining",
        "Scissors, rotary cutters, pins and needles are sharp",
        "Irons and steam burn",
    ):
        assert part in words, part


def test_the_map_shows_every_page_and_every_piece() -> None:
    sample = draft()
    pieces = list(sample.pieces.values())
    grid = tile_grid(PAPERS["a4"])
    layout = pack([p.outline for p in pieces], grid)
    canvas = Recorder()
    text = CoverText("", "Title", "Client", ())
    draw_cover(canvas, text, parts_of(pieces), layout, grid, printable_part(PAPERS["a4"]))
    assert {t.label for t in layout.tiles} <= set(canvas.words)
    letters = [w for w in canvas.words if re.fullmatch(r"[A-F]", w)]
    assert sorted(letters) == sorted("ABCDEF" * 2)  # once on the map, once in the list


@pytest.mark.parametrize(
    ("kind", "audience"), [("child", ()), ("girl", ("women", "girls")), ("woman", ("girls",))]
)
def test_childrens_wear_has_its_own_cautions(kind: str, audience: tuple[str, ...]) -> None:
    sample = draft(tab(), kind=kind)
    sample = replace(sample, style=replace(sample.style, audience=audience))
    words = words_of(sheet_pdf(sample, PAPERS["a4"], SETTINGS).data, 0)
    for part in ("no cords or drawstrings", "buttons, snaps", "catch fire easily", "rules of your country"):
        assert part in words
    assert is_for_child(kind, audience)


def test_grown_ups_are_spared_them() -> None:
    sample = draft(tab(), kind="woman")
    sample = replace(sample, style=replace(sample.style, audience=("women", "girls")))
    assert "drawstrings" not in words_of(sheet_pdf(sample, PAPERS["a4"], SETTINGS).data, 0)


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


@pytest.mark.parametrize("seed", ["1", "2"])
def test_another_process_gives_the_same_bytes(seed: str) -> None:
    code = (
        "import hashlib; from tests.sheets.test_sheet import *; "
        "print(hashlib.sha256(sheet_pdf(draft(), PAPERS['a4'], SETTINGS).data).hexdigest())"
    )
    told = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONHASHSEED": seed, "PATH": ""},
    ).stdout.strip()
    assert told == hashlib.sha256(sheet_pdf(draft(), PAPERS["a4"], SETTINGS).data).hexdigest()


def test_the_date_is_the_one_given() -> None:
    data = sheet_pdf(draft(tab()), PAPERS["a4"], replace(SETTINGS, day=date(2031, 12, 24))).data
    assert b"D:20311224" in data
    assert "24 December 2031" in words_of(data, 0)
    assert day_words(date(2026, 3, 5)) == "5 March 2026"


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


@pytest.mark.parametrize("count", [1, 8, 30])
@pytest.mark.parametrize("paper", ["a4", "letter", "tabloid"])
def test_the_parts_of_the_first_page_do_not_overlap(paper: str, count: int) -> None:
    pieces = [slab(f"piece {i}", 60 + 9 * i, 90 + 11 * i) for i in range(count)]
    grid = tile_grid(PAPERS[paper])
    layout = pack([p.outline for p in pieces], grid)
    canvas = Recorder()
    text = CoverText("Studio", "A title", "A client", ("5 March 2026", "A4"), for_child=True)
    draw_cover(canvas, text, parts_of(pieces), layout, grid, printable_part(PAPERS[paper]))
    parts: dict[str, list[Point]] = {}
    inside = []
    for verb, args, named in canvas.calls:
        if verb == "open_group":
            inside.append(str(args[0]))
        elif verb == "close_group":
            inside.pop()
        elif verb == "text" and inside:
            at, words, size = args
            real = width(str(words), float(size))  # type: ignore[arg-type]
            corners = text_corners(at, str(words), float(size), named["anchor"], named["angle"])  # type: ignore[arg-type]
            x0 = corners[0].x if named["anchor"] != "end" else corners[1].x - real
            points = (
                [corners[0], corners[2]]
                if named["angle"]
                else [Point(x0, corners[0].y), Point(x0 + real, corners[2].y)]
            )
            parts.setdefault(inside[0], []).extend(points)
    boxes = {}
    for name, points in parts.items():
        boxes[name] = (
            min(p.x for p in points), min(p.y for p in points), max(p.x for p in points), max(p.y for p in points)
        )  # fmt: skip
    names = [n for n in boxes if not n.startswith("square")]
    assert {"map", "cut list", "Safety", "title", "facts"} <= set(names)
    assert ("Trim and tape" in names) == (len(layout.tiles) > 1)
    bottom = grid.window_top + grid.window_height + 5
    for i, one in enumerate(names):
        a = boxes[one]
        assert a[3] <= bottom, one
        assert a[2] <= grid.window_left + grid.window_width + 1, one
        for other in names[i + 1 :]:
            b = boxes[other]
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] + 0.6 or b[3] <= a[1] + 0.6
            assert apart, (one, a, other, b)


def test_joins_are_numbered_alike_on_both_sides() -> None:
    tiles = [Tile(0, 0), Tile(1, 0), Tile(0, 1), Tile(2, 0)]
    joins = number_joins(tiles)
    assert joins.right == {Tile(0, 0): 1, Tile(1, 0): 3}
    assert joins.below == {Tile(0, 0): 2}


def test_a_draft_without_pieces_gets_a_first_page_and_a_finding() -> None:
    empty = replace(draft(), pieces={})
    result = sheet_pdf(empty, PAPERS["a4"], SETTINGS)
    assert result.pages == 1
    assert [f.code for f in result.findings] == ["no-pieces"]


def test_a_piece_of_monstrous_size_is_left_out_and_said_so() -> None:
    result = sheet_pdf(draft(tab(), slab("monster", 400_000, 20)), PAPERS["a4"], SETTINGS)
    assert [f.code for f in result.findings] == ["piece-too-large"]
    assert "“Monster” is 400.0 × 0.0 m" in result.findings[0].message
    assert result.findings[0].is_error
    assert result.tiles == ("A1",)
    assert "Tab" in words_of(result.data, 0)


def test_text_is_shortened_to_fit_and_wrapped_by_words() -> None:
    words = "a long line of words that goes on and on"
    cut = shortened(words, 3.0, 30.0)
    assert cut.endswith("…")
    assert width(cut, 3.0) <= 30.0
    assert shortened("short", 3.0, 30.0) == "short"
    assert shortened(words, 3.0, 0.5) == ""
    lines = wrap(words, 3.0, 25.0)
    assert " ".join(lines) == words
    assert all(width(part, 3.0) <= 25.0 for part in lines)


def test_squares_go_on_the_first_page_of_the_pattern_when_there_is_room() -> None:
    roomy = sheet_pdf(draft(collar()), PAPERS["a4"], SETTINGS)
    assert words_of(roomy.data, 1).count("100 mm") == 2
    full = sheet_pdf(draft(slab("whole", 190, 270)), PAPERS["a4"], SETTINGS)
    assert "100 mm" not in words_of(full.data, 1)


def named_outlines(data: bytes) -> dict[str, tuple[int, list[float]]]:
    """Bookmarks of pieces: the page each leads to and, in points, the part of it."""
    file = reader(data)
    found = {}
    for entry in file.outline:
        for item in entry if isinstance(entry, list) else [entry]:
            if item.get("/Type") == "/FitR":
                number = file.get_destination_page_number(item)
                found[str(item["/Title"])] = (
                    number,
                    [float(item[k]) for k in ("/Left", "/Bottom", "/Right", "/Top")],
                )
    return found


@pytest.mark.parametrize("paper", ["a4", "roll-36in"])
def test_bookmarks_lead_to_the_label_of_their_piece(paper: str) -> None:
    result = sheet_pdf(draft(), PAPERS[paper], SETTINGS)
    marks = named_outlines(result.data)
    assert len(marks) == len(draft().pieces)
    document = pypdfium2.PdfDocument(result.data)
    for title, (number, (left, low, right, top)) in marks.items():
        assert left < right
        assert low < top
        wide, tall = document[number].get_size()
        assert 0 <= left < right <= wide
        assert 0 <= low < top <= tall
        if len(document) == 1:  # then the piece is whole, with its label
            text = document[number].get_textpage().get_text_bounded(left - 9, low - 150, right + 150, top + 9)
            assert title in " ".join(text.split())


def test_a_plotter_gets_one_page_with_everything_on_it() -> None:
    result = sheet_pdf(draft(), PAPERS["a0"], SETTINGS)
    assert result.pages == 1
    words = words_of(result.data, 0)
    for part in ("Print and measure", "Safety", "Map: 1 page", "Bodice front 1 on the fold", "A0, 1 page"):
        assert part in words, part
    assert "Trim" not in words
    assert words.count("100 mm") == 2 + 1  # on two sides of the square, and in the instructions
    file = reader(result.data)
    assert file.page_labels == ["A1"]
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
    assert result.tiles == ("A1", "B1")
    first = reader(result.data).pages[0].mediabox
    assert (
        abs(float(first.width) - 612) < 0.1
    )  # the first page is for the desk: US Letter beside rolls in inches
    assert abs(float(first.height) - 792) < 0.1
    assert not sheet_pdf(draft(wide), PAPERS["roll-36in"], SETTINGS).findings


def test_a_small_piece_has_its_label_beside_it_with_a_leader() -> None:
    from tests.sheets.reading import form_content, pdf_strokes

    result = sheet_pdf(draft(tab()), PAPERS["a4"], SETTINGS)
    words = words_of(result.data, 1)
    assert words.count("A Tab") == 1  # beside it in full; on it the letter alone
    assert "A A Tab" in words
    for part in ("Cut 2 pairs · lining", "Adaeze Okonjo · 5 March 2026", "Seam allowance not included"):
        assert part in words
    thin = [s for s in pdf_strokes(form_content(result.data)) if s.width == 0.25 and s.operator == "S"]
    seams = [s for s in pdf_strokes(form_content(result.data)) if s.width == 0.5 and s.dash]
    xs = [x for s in seams for seg in s.segments for x, _ in seg]
    ys = [y for s in seams for seg in s.segments for _, y in seg]
    (leader,) = thin
    inner = leader.segments[-1][-1]
    assert min(xs) < inner[0] < max(xs)
    assert min(ys) < inner[1] < max(ys)
    outer = leader.segments[0][0]
    assert not (min(xs) < outer[0] < max(xs) and min(ys) < outer[1] < max(ys))


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_a_label_beside_is_read_from_the_foot_or_the_right_and_inside_its_room(turn: int) -> None:
    from catalogue.drawing.labels import LabelLine
    from catalogue.geometry import Transform
    from catalogue.sheets.outside import beside

    aside = beside(
        tab().outline, [LabelLine("A  Tab", 8.0, "strong"), LabelLine("A long line of words", 5.0)]
    )
    move = Transform.rotation(turn).then(Transform.translation(Point(500, 300)))
    canvas = Recorder()
    aside.draw(canvas, move)
    room = aside.outline.transformed(move).bounds().grown(0.5)
    for args, named in canvas.of("text"):
        at, words, size = args
        assert named["angle"] in (0, -90) or abs(float(named["angle"])) < 1e-6  # type: ignore[arg-type]
        for corner in text_corners(at, str(words), float(size), "start", float(named["angle"])):  # type: ignore[arg-type]
            assert room.contains(corner), (words, corner, room)


def test_a_label_longer_than_its_piece_and_the_page_is_shortened_not_lost() -> None:
    name = "Wilhelmina-Konstantina " * 12
    result = sheet_pdf(draft(tab(), name=name.strip()), PAPERS["a4"], SETTINGS)
    assert result.tiles == ("A1",)
    assert "Wilhelmina-Konstantina Wilhelmina" in words_of(result.data, 1)


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


def test_large_sheets_with_whole_pieces_are_not_joined() -> None:
    pieces = [replace(skirt_front(430.0, 600.0), name=f"front_{i}") for i in range(3)]
    paper = PAPERS["a1"]
    result = sheet_pdf(draft(*pieces), paper, SETTINGS)
    assert len(result.tiles) > 1
    first = words_of(result.data, 0)
    assert "Trim and tape" not in first
    assert "Trim and tape" in words_of(sheet_pdf(draft(*pieces), PAPERS["a3"], SETTINGS).data, 0)


def test_the_first_page_says_what_the_lines_mean() -> None:
    x = skirt_front().outline.bounds().centre.x
    pleated = skirt_front().with_changes(
        lines=(InnerLine(line(Point(x, 100.0), Point(x, 300.0)), "pleat"),), darts=()
    )
    with_pleat = words_of(sheet_pdf(draft(pleated), PAPERS["a4"], SETTINGS).data, 0)
    assert "fold of a pleat" in with_pleat
    assert "fold of the cloth" in with_pleat
    assert "dart" not in with_pleat
    without = words_of(sheet_pdf(draft(tab()), PAPERS["a4"], SETTINGS).data, 0)
    assert "fold of a pleat" not in without
