"""The studio's settings."""

import datetime
import pickle
from decimal import Decimal
from pathlib import Path

import pytest

from catalogue.findings import Place, Severity
from catalogue.lengths import Unit, Units
from catalogue.money import Currency
from catalogue.studio.setting_values import PAPERS
from catalogue.studio.settings import Settings, contrast_with_white, read_settings, setting_names

STUDIO = Path(__file__).parents[2]


def read(text: str, tmp_path: Path) -> Settings:
    path = tmp_path / "site_template" / "studio.toml"
    path.parent.mkdir(exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return read_settings(path, tmp_path)


def test_the_demo_studios_own_file_is_right_and_names_every_setting() -> None:
    path = STUDIO / "site_template" / "studio.toml"
    settings = read_settings(path, STUDIO)
    assert settings.findings == ()
    assert settings.name and len(settings.digest) == 64
    text = path.read_text(encoding="utf-8")
    for name in setting_names():
        assert f"\n{name} =" in text or f"\n# {name} =" in text, name
    assert pickle.loads(pickle.dumps(settings)) == settings


def test_without_a_file_the_defaults_hold(tmp_path: Path) -> None:
    assert read_settings(None) == Settings() == read_settings(tmp_path / "none.toml")
    assert Settings().ok
    assert Settings().papers == ("a4",)
    assert contrast_with_white(Settings().accent) > 4.5


def test_reads_every_setting(tmp_path: Path) -> None:
    settings = read(
        'name = "Rosa\'s  Workroom"\nstrapline = "Cut to you"\nlanguage = "en-GB"\nunits = "inches"\n'
        'show_both_units = true\ninch_fraction = 8\npapers = ["A4", "letter", "a4"]\nmargin = "1/2 in"\n'
        'accent = "#A33"\ndate = "2026-03-14"\nseam_allowance = "5/8 in"\nhem = "4 cm"\n',
        tmp_path,
    )
    assert settings.findings == ()
    assert settings.name == "Rosa's Workroom"
    assert settings.units == Units(Unit.IN, 8, True)
    assert settings.papers == ("a4", "letter")
    assert settings.margin == pytest.approx(12.7)
    assert settings.accent == "#aa3333"
    assert settings.date == datetime.date(2026, 3, 14)
    assert (settings.seam_allowance, settings.hem) == (pytest.approx(15.875), 40.0)


@pytest.mark.parametrize("written", ["2026-03-14", "2026-03-14T10:00:00"])
def test_a_date_of_the_files_own_kind(written: str, tmp_path: Path) -> None:
    assert read(f"date = {written}\n", tmp_path).date == datetime.date(2026, 3, 14)


BAD = [
    # text, line and column, code, part of the message, part of the hint
    ('\nnmae = "Rosa"', 2, 1, "unknown-key", "“nmae” is not a setting", "Did you mean “name”?"),
    ("[look]\n", 1, 2, "unknown-key", "“look” is not a setting", "Known: name"),
    ("qqqqq.x = 1", 1, 1, "unknown-key", "“qqqqq” is not a setting", "Known: name"),
    ("name = 3", 1, 1, "bad-setting", "name: a text is expected", "quotes"),
    ('name = " "', 1, 1, "bad-setting", "is empty", ""),
    (f'name = "{"x" * 201}"', 1, 1, "bad-setting", "longer than 200", ""),
    ('units = "ells"', 1, 1, "bad-setting", "“ells” is not a unit", "inches"),
    ('units = "feet"', 1, 1, "bad-setting", "“feet” is not a unit", "inches"),
    ('show_both_units = "yes"', 1, 1, "bad-setting", "true or false", "without quotes"),
    ("inch_fraction = 12", 1, 1, "bad-setting", "8 or 16", ""),
    ("inch_fraction = true", 1, 1, "bad-setting", "8 or 16", ""),
    ('papers = ["a4", "lettre"]', 1, 1, "bad-setting", "“lettre” is not a paper size", "“letter”"),
    ("papers = []", 1, 1, "bad-setting", "a list of paper sizes", "a4"),
    ("papers = [4]", 1, 1, "bad-setting", "a text is expected", ""),
    ("  margin = 10", 1, 3, "bad-setting", "10 alone is not a length", "10 mm"),
    ("margin = 1e400", 1, 1, "bad-setting", "inf is not a length", "1.5 cm"),
    ('margin = "6 cm"', 1, 1, "bad-setting", "0 mm to 50 mm is expected", ""),
    ('seam_allowance = "-1 cm"', 1, 1, "bad-setting", "negative", ""),
    ('hem = "tall"', 1, 1, "bad-setting", "a number is expected", ""),
    ('accent = "rust"', 1, 1, "bad-setting", "“rust” is not a colour", "#8c3b2e"),
    ('accent = "#12345"', 1, 1, "bad-setting", "is not a colour", ""),
    ('date = "14/03/2026"', 1, 1, "bad-setting", "is not a date", "2026-03-14"),
    ('date = "2026-02-30"', 1, 1, "bad-setting", "there is no day 2026-02-30", ""),
    ('language = "British English"', 1, 1, "bad-setting", "not a language code", "en"),
    ('name = "a"\nname = "b"', 2, 11, "toml", "given twice", "Keep one"),
    ("units = inches", 1, 9, "toml", "can't be read as a setting", "quotes"),
    ('name = "a', 1, 10, "toml", "can't be read as a setting", ""),
    ("x = " + "[" * 3000, 1, 1, "toml", "too deep", ""),
    ("hem = " + "9" * 5000, 1, 1, "toml", "too long", ""),
]


@pytest.mark.parametrize(("text", "line", "column", "code", "words", "hint"), BAD)
def test_a_mistake_is_told_with_its_place(
    text: str, line: int, column: int, code: str, words: str, hint: str, tmp_path: Path
) -> None:
    settings = read(text, tmp_path)
    assert len(settings.findings) == 1, settings.findings
    finding = settings.findings[0]
    assert finding.place == Place("site_template/studio.toml", line, column)
    assert finding.code == code
    assert words in finding.message
    assert hint in finding.hint
    assert not settings.ok


def test_one_mistake_leaves_the_other_settings(tmp_path: Path) -> None:
    settings = read('hem = "tall"\nname = "Rosa"\naccent = "x"\n', tmp_path)
    assert settings.name == "Rosa"
    assert settings.hem == Settings().hem
    assert [f.place.line for f in settings.findings if f.place] == [1, 3]


def test_a_pale_accent_is_a_warning(tmp_path: Path) -> None:
    settings = read('accent = "#ffdd00"\n', tmp_path)
    assert settings.ok and settings.accent == "#ffdd00"
    assert [f.severity for f in settings.findings] == [Severity.WARNING]


def test_contrast_is_that_of_wcag() -> None:
    """WCAG 2.2: black on white is 21 to 1; #767676 is known as the palest grey that reaches 4.5 to 1."""
    assert contrast_with_white("#000000") == pytest.approx(21.0)
    assert contrast_with_white("#ffffff") == pytest.approx(1.0)
    assert contrast_with_white("#767676") >= 4.5 > contrast_with_white("#777777")


def test_a_file_in_another_encoding_is_a_finding(tmp_path: Path) -> None:
    path = tmp_path / "studio.toml"
    path.write_bytes('name = "Évora"'.encode("cp1252"))
    settings = read_settings(path, tmp_path)
    assert settings.findings[0].place == Place("studio.toml", 1, 9)


def test_paper_sizes_of_iso_216_and_of_the_inch_sheets() -> None:
    """ISO 216: each size is half the one before, rounded down; letter is 8 1/2 x 11 in."""
    for larger, smaller in (("a0", "a1"), ("a1", "a2"), ("a2", "a3"), ("a3", "a4")):
        assert PAPERS[smaller] == (PAPERS[larger][1] // 2, PAPERS[larger][0])
    assert PAPERS["letter"] == (pytest.approx(8.5 * 25.4), pytest.approx(11 * 25.4))


def test_files_for_other_machines_are_asked_for_by_name(tmp_path: Path) -> None:
    assert Settings().exchange == ()
    assert read('exchange = ["SVG", "dxf", "svg"]\n', tmp_path).exchange == ("svg", "dxf")
    assert read("exchange = []\n", tmp_path).exchange == ()
    (wrong,) = read('exchange = ["dfx"]\n', tmp_path).findings
    assert "“dfx” is not a kind of file known here" in wrong.message and "dxf" in wrong.hint


def test_what_the_studio_charges_is_read(tmp_path: Path) -> None:
    text = (
        'currency = "£"\nhourly_rate = "18.50"\nprofit_margin = "12,5 %"\ntax = 20\nround_prices_to = 5\n'
        'hours = { skirt = 4, "Long coat" = 40.5, dress = { cutting = 1.5, sewing = 6 } }\n'
        'notion_prices = { zip = "2.40", "Bias tape" = "1.20 a metre", elastic = "0.9/yd", button = 0.45 }\n'
    )
    settings = read(text, tmp_path)
    assert settings.findings == ()
    prices = settings.prices
    assert (prices.currency, prices.rate) == (Currency("£", Decimal(5)), Decimal("18.50"))
    assert (prices.margin, prices.tax) == (Decimal("0.125"), Decimal("0.2"))
    assert dict(prices.hours) == {
        "skirt": (("", 4),),
        "long coat": (("", Decimal("40.5")),),
        "dress": (("cutting", Decimal("1.5")), ("sewing", 6)),
    }
    assert {name: tuple(price) for name, price in prices.notions.items()} == {
        "zip": (Decimal("2.40"), 0.0),
        "bias tape": (Decimal("1.20"), 1000.0),
        "elastic": (Decimal("0.9"), 914.4),
        "button": (Decimal("0.45"), 0.0),
    }


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ('currency = "pounds"', 'Write it as in "£" or "EUR".'),
        ('hourly_rate = "dear"', "Write an amount such as 42.50."),
        ("tax = 140", 'Write it as in "20 %".'),
        ("round_prices_to = 0", 'Write it as in "1" or "0.05".'),
        ("hours = 4", "Write { skirt = 4, shirt = 9.5 }."),
        ('hours = { skirt = "long" }', "Write { skirt = 4, shirt = 9.5 }."),
        ("hours = { skirt = { sewing = 0 } }", "Write { skirt = 4, shirt = 9.5 }."),
        ('notion_prices = "2"', 'Write { zip = "2.40", elastic = "1.20 a metre" }.'),
        ('notion_prices = { zip = "dear" }', "Write an amount such as 42.50."),
    ],
)
def test_what_cannot_be_charged_is_refused_with_what_to_write(line: str, hint: str, tmp_path: Path) -> None:
    settings = read(f"{line}\n", tmp_path)
    [finding] = settings.findings
    assert (finding.code, finding.hint) == ("bad-setting", hint)
    assert settings.prices == Settings().prices


def test_a_notions_price_without_its_decimal_point_is_asked_about(tmp_path: Path) -> None:
    rest = 'button = "0.45", thread = "1.90", "bias tape" = "1.20 a metre"'
    (found,) = read(f'notion_prices = {{ zip = "240", {rest} }}\n', tmp_path).findings
    assert (found.code, found.hint, found.is_error) == (
        "high-price",
        "Did you mean 2.40? Then write its decimal point.",
        False,
    )
    assert found.place and found.place.line == 1 and "240 for zip" in found.message
    # What is sold by the metre has no other of its kind here.
    assert read(f'notion_prices = {{ elastic = "240 a metre", {rest} }}\n', tmp_path).findings == ()
