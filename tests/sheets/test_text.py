"""Names in many scripts: drawn shaped, copied and searched as they were written, and never a silent box."""

from __future__ import annotations

import io
import os
import re
import shutil
import subprocess
import unicodedata
from datetime import date
from pathlib import Path

import pypdf
import pytest

from catalogue.findings import Severity
from catalogue.sheets import fonts
from catalogue.sheets.fonts import choose_faces, face, font_folder, uncovered
from catalogue.sheets.paper import PAPERS
from catalogue.sheets.pdf import PdfFile
from catalogue.sheets.shaping import _latin_in, _shaped, shape, width
from catalogue.sheets.sheet import SheetSettings, sheet_pdf
from tests.drawing.pieces import draft, skirt_front, tab

SETTINGS = SheetSettings(day=date(2026, 3, 5), studio="Thread and Chalk")

NAMES = {
    "Vietnamese": "Nguyễn Thị Mộng Điệp",
    "Vietnamese, decomposed": unicodedata.normalize("NFD", "Trần Hồng Ệ"),
    "Yoruba": "Ọlábísí Adéṣọlá Ọ́ṣun",
    "Polish, Turkish, Icelandic": "Żółćińska İğdır Þórðr",
    "Cyrillic": "Мария Щербакова",
    "Greek": "Ελένη Παπαδοπούλου",
    "Greek, polytonic": "Εὐγενία ᾠδή",
    "Arabic": "سارة بنت يوسف",
    "Arabic with ligature": "ليلى علاء الدين",
    "Devanagari": "प्रिया शर्मा",
    "Devanagari, reordered": "हिन्दी क्षत्रिय श्रीमती",
    "Hebrew": "שרה כהן",
    "Chinese": "陈婷",
    "Kana": "たなか さくら",
}


def plain(text: str) -> str:
    return " ".join(text.split())


def one_page(*lines: str) -> bytes:
    file = PdfFile(title="t", subject="s", author="a", day=date(2026, 3, 5))
    page = file.page()
    for i, words in enumerate(lines):
        from catalogue.geometry import Point

        page.text(Point(20, 20 + 12 * i), words, 6)
    file.add_page(page, 210, 297, "one")
    return file.getvalue()


@pytest.mark.parametrize("script", NAMES)
def test_names_come_out_of_the_file_as_they_went_in(script: str) -> None:
    name = NAMES[script]
    result = sheet_pdf(draft(skirt_front(), name=name), PAPERS["a4"], SETTINGS)
    reader = pypdf.PdfReader(io.BytesIO(result.data))
    first, tile = (plain(page.extract_text()) for page in reader.pages[:2])
    assert plain(name) in first  # under the title
    assert plain(name) in tile  # on the piece and in the page's own line
    assert not result.findings
    assert reader.metadata is not None
    assert name in (reader.metadata.title or "")


@pytest.mark.parametrize("script", NAMES)
def test_a_second_reader_agrees(script: str) -> None:
    program = shutil.which("pdftotext")
    if program is None:
        if os.environ.get("CI") == "true":
            pytest.fail("pdftotext is missing: install poppler-utils")
        pytest.skip("pdftotext is not installed; install poppler-utils for the second opinion")
    data = one_page(NAMES[script])
    text = subprocess.run([program, "-", "-"], input=data, capture_output=True, check=True).stdout.decode()
    text = re.sub("[\u200e\u200f\u202a-\u202e]", "", text)  # poppler marks right-to-left words
    assert unicodedata.normalize("NFC", plain(NAMES[script])) in unicodedata.normalize("NFC", plain(text))


def test_arabic_letters_are_joined_and_run_from_the_right() -> None:
    (strip,) = shape("سارة").strips
    assert strip.face.name == "arabic"
    nominal = [strip.face.hb_font.get_nominal_glyph(ord(c)) for c in "سارة"]
    wide = [g for g in strip.glyphs if g.advance]
    assert [g.text for g in wide] == list(reversed("سارة"))
    assert wide[-1].id != nominal[0]  # seen at the start of a word: not the lone letter's glyph


def test_devanagari_vowel_sign_stands_before_its_letter() -> None:
    (strip,) = shape("हि").strips
    sign = strip.face.hb_font.get_nominal_glyph(ord("ि"))
    assert len(strip.glyphs) == 2
    assert strip.glyphs[1].id == strip.face.hb_font.get_nominal_glyph(ord("ह"))
    assert strip.glyphs[0].id != strip.glyphs[1].id
    assert abs(strip.face.advance(sign) - strip.glyphs[0].advance) < 60
    assert "".join(g.text for g in strip.glyphs) == "हि"


def test_a_mark_over_a_capital_with_a_dot_below_is_lifted() -> None:
    (strip,) = shape("Ọ́").strips
    assert any(g.dy > 100 for g in strip.glyphs)


def test_widths_are_what_harfbuzz_says() -> None:
    import uharfbuzz

    used = face("sans")
    buffer = uharfbuzz.Buffer()
    buffer.add_str("Waist")
    buffer.guess_segment_properties()
    uharfbuzz.shape(used.hb_font, buffer, {})
    expected = sum(p.x_advance for p in buffer.glyph_positions) / used.units * 10
    assert abs(width("Waist", 10) - expected) < 1e-9


def test_a_sign_no_font_has_is_a_warning_and_a_visible_sign() -> None:
    name = "Ada 🧵 ཨ"
    result = sheet_pdf(draft(tab(), name=name), PAPERS["a4"], SETTINGS)
    findings = [f for f in result.findings if f.code == "no-glyph"]
    assert findings
    assert all(f.severity is Severity.WARNING for f in findings)
    message = findings[0].message
    assert name in message
    assert "U+1F9F5" in message
    assert "U+0F68" in message
    assert uncovered(name) == "🧵ཨ"
    replaced = [g for s in shape(name).strips for g in s.glyphs if g.text == "🧵"]
    sign = face("sans").hb_font.get_nominal_glyph(0xFFFD)
    assert sign != 0
    assert [g.id for g in replaced] == [sign]


def test_joiners_and_selectors_need_no_glyph() -> None:
    assert uncovered("क्\u200dष \u2068a\u2069 x\ufe0f \u200f") == ""


def test_line_ends_and_tabs_become_blanks() -> None:
    assert shape("a\tb\nc").width == shape("a b c").width


def test_digits_and_brackets_beside_arabic_are_set_in_the_plain_face() -> None:
    chosen = [f.name if f else None for f in choose_faces("سارة (12)")]
    assert chosen[0] == "arabic"
    assert chosen[-4:] == ["sans"] * 4


def test_only_the_glyphs_used_are_embedded_and_nothing_is_borrowed() -> None:
    data = sheet_pdf(draft(tab(), name=NAMES["Arabic"]), PAPERS["a4"], SETTINGS).data
    reader = pypdf.PdfReader(io.BytesIO(data))
    found = {}
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():  # type: ignore[union-attr]
            whole = font.get_object()
            part = whole["/DescendantFonts"][0].get_object()
            found[whole["/BaseFont"]] = len(part["/FontDescriptor"]["/FontFile2"].get_object().get_data())
            assert "/ToUnicode" in whole
    assert {name.split("+")[1] for name in found} == {
        "NotoSans-Regular",
        "NotoSans-Bold",
        "NotoSansArabic-Regular",
    }
    assert all(re.match(r"/[A-Z]{6}\+", name) for name in found)
    assert max(found.values()) < 40_000


def test_fonts_are_found_in_a_checkout_and_in_an_installed_package(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here = font_folder()
    assert here.name == "fonts"
    installed = tmp_path / "catalogue"
    (installed / "sheets").mkdir(parents=True)
    monkeypatch.setattr(fonts, "__file__", str(installed / "sheets" / "fonts.py"))
    with pytest.raises(FileNotFoundError, match="fonts of the sheets are missing"):
        font_folder()
    target = installed / "site_template" / "fonts"
    target.mkdir(parents=True)
    shutil.copy(here / "sans.ttf", target)
    assert font_folder() == target


def test_every_font_has_its_licence_and_all_are_small() -> None:
    licence = (font_folder() / "OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in licence
    files = [font_folder() / f"{name}.ttf" for name in dict.fromkeys((*fonts.UPRIGHT, *fonts.BOLD))]
    for file in files:
        assert file.name in licence
    assert sum(file.stat().st_size for file in files) < 2_100_000


def test_the_scripts_we_claim_are_covered() -> None:
    samples = {
        "sans": "ẾẸṢƁƊƘŊĲßæœ½⅜×÷“”…·–—°Ω€",
        "arabic": "ابتثجحخدذرزسشصضطظعغفقكلمنهويءآأؤإئىةپچژگی٠١٢٣",
        "devanagari": "अआइईउऊऋएऐओऔकखगघङचछजझञटठडढणतथदधनपफबभमयरलवशषसह०१२।",
        "hebrew": "אבגדהוזחטיכלמנסעפצקרשתךםןףץ",
        "han": "的一是不了人我在有他王李张刘陈楊黃あいうえおアイウエオ",
    }
    for name, sample in samples.items():
        assert [c for c in sample if not face(name).covers(c)] == [], name


@pytest.mark.parametrize("name", ["sans", "sans-bold"])
def test_a_line_of_latin_words_is_its_words_side_by_side(name: str) -> None:
    """No letter, figure or sign is kerned with a blank, so words may be shaped one by one."""
    used = face(name)
    latin = sorted(_latin_in(used) - {" "})
    assert len(latin) > 400
    line = " ".join(latin)
    whole = _shaped(line, used, rtl=False, script="Latn").glyphs
    blank = _shaped(" ", used, rtl=False).glyphs
    parts = [_shaped(c, used, rtl=False, script="Latn").glyphs for c in latin]
    assert whole == parts[0] + tuple(g for part in parts[1:] for g in (*blank, *part))


@pytest.mark.parametrize("line", ["AV  To fit, 12 ½ in", " “We” – Yard’s end ", "38 × 5/8", "µm 3"])
def test_words_shaped_one_by_one_are_the_line_shaped_at_once(line: str) -> None:
    whole = _shaped(line, face("sans"), rtl=False)
    assert [s.glyphs for s in shape(line).strips] == [whole.glyphs]
    assert width(line, 2.5) == sum(g.advance for g in whole.glyphs) / face("sans").units * 2.5
