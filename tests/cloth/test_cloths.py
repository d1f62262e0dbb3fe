"""The studio's cloths: read as they are written, and each mistake with its place and what to write instead."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from catalogue.cloth.cloths import Cloth
from catalogue.cloth.reading import FILE, read_cloths
from catalogue.findings import Place
from catalogue.money import Currency, MoneyError, parse_amount
from tests.demo import ROOT

DEMO = read_cloths(ROOT)


def read(folder: Path, *lines: str) -> tuple[dict[str, Cloth], list[tuple[str, int, str]]]:
    """The cloths of a file with a cloth of these lines, and code, line and hint of each finding."""
    path = folder / FILE
    path.parent.mkdir(exist_ok=True)
    text = "\n".join(
        ["---", "units: cm", "cloths:", "  green tweed:", *(f"    {line}" for line in lines), "---", ""]
    )
    path.write_text(text, encoding="utf-8")
    cloths = read_cloths(folder)
    return dict(cloths.by_slug), [(f.code, (f.place or Place("")).line, f.hint) for f in cloths.findings]


def test_the_demo_studio_has_eight_cloths_of_every_kind():
    assert DEMO.findings == () and len(DEMO.by_slug) == 8
    cloths = DEMO.by_slug.values()
    assert [c.name for c in cloths if "velvet" in c.fibre and c.direction == "nap up"]
    assert [c.name for c in cloths if c.repeat_along and c.repeat_across and not c.even]
    assert [c.name for c in cloths if c.repeat_across and not c.repeat_along]
    assert [c.name for c in cloths if c.width < 900]


def test_everything_said_of_a_cloth_is_read(tmp_path):
    cloths, findings = read(
        tmp_path,
        "width: 60 in",
        "usable width: 148",
        "price: £24.50 a yard",
        "direction: Nap down",
        "repeat across: 4 cm",
        "repeat along: 60 mm",
        "pattern: uneven",
        "first bar: 9 cm",
        "shrinkage along: 3,5 %",
        "shrinkage across: 2 per cent",
        "stock: 1 3/4 yd, 2,40 m",
    )
    cloth = cloths["green-tweed"]
    assert findings == []
    assert (cloth.width, cloth.usable) == (pytest.approx(1524), 1480)
    assert (cloth.price, cloth.price_for) == (Decimal("24.50"), 914.4)
    assert cloth.direction == "nap down" and cloth.is_one_way and cloth.is_matched
    assert (cloth.repeat_across, cloth.repeat_along, cloth.first_bar, cloth.even) == (40, 60, 10, False)
    assert (cloth.shrinks_along, cloth.shrinks_across) == (0.035, 0.02)
    assert cloth.stock == (pytest.approx(2400), pytest.approx(1600.2))


@pytest.mark.parametrize(
    ("lines", "code", "line", "hint"),
    [
        (["width: 1.4"], "width-out-of-range", 5, "Did you mean 140 cm? Write width: 140 cm."),
        (["width: 15 mm"], "width-out-of-range", 5, "Did you mean 150 cm? Write width: 150 cm."),
        (["width: 14 m"], "width-out-of-range", 5, "Write it as in 140 cm or 55 in."),
        (["price: 12 a metre"], "no-width", 4, "Write width: 140 cm."),
        (["width: 140", "price: dear"], "not-a-price", 6, "Write an amount such as 42.50."),
        (
            ["width: 140", "repeat across: 180 cm"],
            "repeat-too-large",
            6,
            "Measure from one bar to the next like it.",
        ),
        (["width: 140", "usable width: 150"], "usable-width", 6, "Leave it out or mend one."),
        (
            ["width: 140", "direction: up"],
            "unknown-direction",
            6,
            "Write either way, one way, nap up or nap down.",
        ),
        (["width: 140", "shrinkage along: 4 cm"], "not-a-share", 6, "Write it as in 3 %."),
        (["width: 140", "shrinkage along: 40 %"], "share-out-of-range", 6, "Write 0 % to 25 %."),
        (["width: 140", "stock: plenty"], "not-a-length", 6, None),
        (["width: 140", "stock: 2.4"], "not-a-length", 6, "Write 2.4 m or 2.4 yd."),
        (["width: 140", "colour: green"], "unknown-key", 6, None),
        (["width: 140", "repeat along: 8 cm"], "no-pattern", 6, None),
    ],
)
def test_what_is_wrong_with_a_cloth_is_said_with_its_place(tmp_path, lines, code, line, hint):
    _, findings = read(tmp_path, *lines)
    assert [f[:2] for f in findings] == [(code, line)]
    assert hint is None or findings[0][2] == hint
    assert findings[0][2]


@pytest.mark.parametrize(
    ("lines", "line"),
    [
        (["width: 140 in"], 5),
        (["width: 55"], 5),
        (["width: 145", "usable width: 72"], 6),
        (["width: 145", "stock: 6.80 cm"], 6),
    ],
)
def test_a_length_that_is_hardly_meant_is_asked_about(tmp_path, lines, line):
    cloths, [(code, where, hint)] = read(tmp_path, *lines)
    assert where == line and "?" in hint and "green-tweed" in cloths, code


@pytest.mark.parametrize(
    ("lines", "code", "silenced"),
    [
        (["width: 140", "fibre: cotton velvet"], "no-direction", "direction: either way"),
        (["width: 140", "fibre: Corduroy"], "no-direction", "direction: nap up"),
        (["width: 140", "fibre: wool tartan"], "no-repeat", "repeat across: none"),
        (["width: 140", "fibre: striped lawn"], "no-repeat", "repeat along: none"),
        (["width: 140", "about: already washed", "shrinkage along: 3 %"], "shrinks-twice", None),
    ],
)
def test_what_the_words_of_a_cloth_tell_and_its_lines_do_not_is_asked(tmp_path, lines, code, silenced):
    """A nap that is cut both ways, a plaid that is not matched, cloth bought for a second shrinking."""
    cloths, findings = read(tmp_path, *lines)
    assert [f[0] for f in findings] == [code] and "green-tweed" in cloths
    assert read(tmp_path, *lines[:2], silenced or "stock: 2 m")[1] == []
    assert read(tmp_path, "width: 140", "fibre: wool", "about: fill the napkins")[1] == []


def test_cloth_that_is_used_up_is_no_mistake(tmp_path):
    cloths, findings = read(tmp_path, "width: 140", "stock: 0 m, 2 m")
    assert (findings, cloths["green-tweed"].stock) == ([], (2000,))


def test_centimetres_under_inches_are_asked_about(tmp_path):
    (tmp_path / "clients").mkdir()

    def told(*lines):
        rows = "".join(f"    {line}\n" for line in lines)
        (tmp_path / FILE).write_text(f"---\nunits: inches\ncloths:\n  tweed:\n{rows}---\n", encoding="utf-8")
        return [(f.code, f.hint) for f in read_cloths(tmp_path).findings]

    [(code, hint)] = told("width: 114")
    assert code == "unusual-width" and hint.startswith("Did you mean 114 cm?")
    assert told("width: 45") == told("width: 108 in") == told("width: 108 in", "usable width: 107") == []
    # Both may have been typed in the other unit.
    assert told("width: 114", "usable width: 112") == told("width: 114")


@pytest.mark.parametrize(
    ("price", "amount", "mm"),
    [
        ("38 yd", "38", 914.4),
        ("38 a Yard", "38", 914.4),
        ("£38/m", "38", 1000),
        ("38 a bolt", None, 1000),
        ("38 a half metre", None, 1000),
    ],
)
def test_a_price_is_of_the_length_it_says(tmp_path, price, amount, mm):
    cloths, findings = read(tmp_path, "width: 140", f"price: {price}")
    cloth = cloths["green-tweed"]
    assert (cloth.price, cloth.price_for) == (amount and Decimal(amount), mm)
    assert [code for code, *_ in findings] == ([] if amount else ["not-a-price"])


def test_one_wrong_cloth_stops_no_other(tmp_path):
    text = (
        "---\ncloths:\n  one:\n    width: 1.4 cm\n  two:\n    width: 140 cm\n  Two:\n    width: 90 cm\n---\n"
    )
    (tmp_path / "clients").mkdir()
    (tmp_path / FILE).write_text(text, encoding="utf-8")
    cloths = read_cloths(tmp_path)
    assert list(cloths.by_slug) == ["two"]
    assert [f.code for f in cloths.findings] == ["width-out-of-range", "twice"]


def test_shrinkage_is_added_to_the_length_and_taken_off_the_width():
    """4 % of warp and 3 % of weft, as of a cotton twill: 2.88 m are left of 3 m, 1.455 m of 1.5 m."""
    cloth = Cloth("twill", "twill", Place(""), 1500, 1500, shrinks_along=0.04, shrinks_across=0.03)
    assert cloth.bought(2880) == pytest.approx(3000)
    assert cloth.ready_width == pytest.approx(1455)


def test_the_shortest_remnant_that_suffices_is_taken():
    cloth = Cloth("twill", "twill", Place(""), 1500, 1500, stock=(6800, 1200, 900))
    assert [cloth.stock_for(length) for length in (900, 901, 1500, 7000)] == [900, 1200, 6800, None]


@pytest.mark.parametrize(
    ("text", "amount"),
    [("42.50", "42.50"), ("42,5", "42.5"), ("£1,200", "1200"), ("85 EUR", "85"), ("1 250.00 kr", "1250.00")],
)
def test_amounts_are_read_as_people_write_them(text, amount):
    assert parse_amount(text) == Decimal(amount)


@pytest.mark.parametrize("text", ["a lot", "", "-5", "12.345.6", "99999999", "3 yd", "3/m", "2.40 in"])
def test_what_is_no_amount_is_refused(text):
    with pytest.raises(MoneyError):
        parse_amount(text)


def test_amounts_are_shown_with_their_sign_and_rounded_up_by_steps():
    pounds = Currency("£", Decimal("5"))
    assert pounds.shown(Decimal("1234.5")) == "£1,234.50"
    assert pounds.shown(pounds.rounded_up(Decimal("231.20"))) == "£235.00"
    assert Currency("EUR").shown(Decimal("8")) == "8.00 EUR"


def test_all_that_is_wrong_with_a_cloth_is_reported_at_once_and_the_cloth_is_known_by_name(tmp_path):
    cloths, findings = read(tmp_path, "width: 1.4", "price: dear", "stock: plenty")
    assert [f[0] for f in findings] == ["width-out-of-range", "not-a-price", "not-a-length"]
    assert cloths == {} and read_cloths(tmp_path).broken == {"green-tweed"}


def test_a_price_without_its_decimal_point_is_asked_about(tmp_path):
    def told(*prices: str) -> list[tuple[str, int, str]]:
        rows = (f"  cloth {n}:\n    width: 140 cm\n    price: {price}" for n, price in enumerate(prices))
        path = tmp_path / FILE
        path.parent.mkdir(exist_ok=True)
        path.write_text("\n".join(["---", "cloths:", *rows, "---", ""]), encoding="utf-8")
        return [(f.code, (f.place or Place("")).line, f.hint) for f in read_cloths(tmp_path).findings]

    assert told("1250", "12.50", "18", "24.00") == [
        ("high-price", 5, "Did you mean 12.50? Then write its decimal point.")
    ]
    # A dear cloth, one with a decimal point, and one that is compared with a single other are not doubted.
    assert (
        told("850", "12.50", "18", "24.00") == told("1249.50", "24.00", "24") == told("1250", "12.50") == []
    )
    # Yards and metres are compared as lengths: 20 a yard is 21.87 a metre, and 50 times that is 1094.
    assert [code for code, _, _ in told("1094 a metre", "20 a yard", "20 a yard")] == ["high-price"]
    assert told("1093 a metre", "20 a yard", "20 a yard") == []
