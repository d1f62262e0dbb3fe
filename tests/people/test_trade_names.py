"""Other names of the trade, in messages and where a file is read. The names are common practice, no source."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from catalogue.drafting.usual_ease import kind_of
from catalogue.findings import did_you_mean
from catalogue.language.parser import parse_block
from catalogue.lengths import Unit
from catalogue.people import read_client
from catalogue.people.reading import ClientReader
from catalogue.people.register import lookup, suggest
from catalogue.people.suggesting import is_of_a_garment
from catalogue.studio.alterations import known_alterations
from catalogue.studio.fitting_words import NotUnderstood, understand
from catalogue.studio.prices import Prices
from catalogue.studio.reading import AUDIENCES
from catalogue.studio.reading import KEYS as STYLE_KEYS
from catalogue.trade_names import GROUPS, ROWS, called_here, names_for, other_names, trade_hint


@pytest.mark.parametrize(
    ("written", "known", "said"),
    [
        ("muslin", ["Calico", "Tweed"], "“muslin” is called “Calico” here: write Calico."),
        ("muslin", ["measured", "toile", "cut"], "“muslin” is called “toile” here: write toile."),
        ("options", ClientReader.keys, "“options” is called “choices” here: write choices."),
        ("fabric", STYLE_KEYS, "“fabric” is called “cloth” here: write cloth."),
        ("haberdashery", STYLE_KEYS, "“haberdashery” is called “notions” here: write notions."),
        ("ladies", AUDIENCES, "“ladies” is called “women” here: write women."),
        ("vest length", ["waistcoat length"], "“vest length” is called “waistcoat length” here"),
        ("sleeve_head", ["sleeve_cap"], "“sleeve_head” is called “sleeve_cap” here: write sleeve_cap."),
        ("armscye", ["hem", "armhole"], "“armscye” is called “armhole” here: write armhole."),
        ("pencil-skirts", ["straight-skirt"], "“pencil-skirts” is called “straight-skirt” here"),
        ("center_front", ["centre_front"], "Did you mean “centre_front”?"),
        (
            "flared skirt",
            ["gored-skirt", "circle-skirt", "cape"],
            "“flared skirt” is called “gored-skirt” or “circle-skirt” here: write the one that is meant.",
        ),
    ],
)
def test_a_message_says_what_a_thing_is_called_here(written: str, known: list[str], said: str) -> None:
    assert did_you_mean(written, known).startswith(said)


def test_a_name_that_is_known_or_means_nothing_else_is_left_alone() -> None:
    assert called_here("tops", ["top", "bodice"]) == ()  # It is one of them, misspelt.
    assert trade_hint("pocket", ["armhole", "hem"]) == ""
    assert trade_hint("armhole " * 40, ["scye"]) == ""
    assert trade_hint("invest", ["waistcoat"]) == ""  # A part of a word is no name.
    with pytest.raises(KeyError):
        names_for("scye")  # It stands in a row, but not first.


def test_each_row_names_one_thing_and_search_finds_it_by_every_name() -> None:
    assert sum(map(len, GROUPS.values())) == len(ROWS) == len({row[0] for row in ROWS})
    for row in ROWS:
        assert len(set(row)) == len(row) > 1
        for name in row[1:]:
            called = f"“{name}” is called “{row[0]}” here: write {row[0]}."
            assert trade_hint(name, [row[0]]) in (called, f"Did you mean “{row[0]}”?"), name
            assert name in other_names(row[0]) or name.casefold() in row[0].casefold()


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("armsaye", "armscye girth"),
        ("armhole", "armscye girth"),
        ("scye depth", "scye depth"),
        ("pants length", "outside leg length"),
        ("slacks length", "outside leg length"),
        ("center back waist length", "back waist length"),
    ],
)
def test_a_measurement_may_be_written_by_any_of_its_names(written: str, meant: str) -> None:
    found = lookup(written)
    assert found is not None and found.name == meant


def test_what_is_nearly_a_measurement_is_named_and_what_is_of_a_garment_is_told_so() -> None:
    assert suggest("crutch length") == "Did you mean “crotch length”?"
    assert suggest("bottom") == "“bottom” is called “hip girth” here: write hip girth."
    assert suggest("pants waist") == "Did you mean “waist” (waist girth)?"
    for name in ("skirt length", "vest length", "sleeve head height", "finished hem width", "hip ease"):
        assert is_of_a_garment(name), name
    assert not is_of_a_garment("bodice length") and not is_of_a_garment("arm lenth")


def test_a_client_file_with_a_length_of_a_garment_says_where_it_belongs(tmp_path: Path) -> None:
    path = tmp_path / "ada.md"
    path.write_text(
        "---\nname: Ada\nfor: woman\nmeasurements:\n  vest length: 60 cm\n---\n", encoding="utf-8"
    )
    (finding,) = read_client(path, tmp_path).findings
    assert finding.hint.startswith("That is of a garment, not of the body") and "choices:" in finding.hint


@pytest.mark.parametrize(
    ("line", "said", "instead"),
    [
        ("grainline of front along centre", "“grainline” is called “grain”", "grain of front along centre"),
        ("balance mark front.side at a", "“balance mark” is called “notch”", "notch front.side at a"),
        (
            "turn front 3 degrees counterclockwise about A",
            "“counterclockwise” is called “anticlockwise”",
            "turn front 3 degrees anticlockwise about A",
        ),
        (
            "sew front.a to back.a, shirred",
            "“shirred” is called “gathered”",
            "sew front.a to back.a, gathered",
        ),
        (
            "zipper 20 cm in back.centre from waist",
            "“zipper” is called “zip”",
            "zip 20 cm in back.centre from waist",
        ),
    ],
)
def test_a_line_is_mended_by_the_word_that_the_language_has(line: str, said: str, instead: str) -> None:
    nodes, (finding,) = parse_block(line, "styles/a.md", 1)
    assert nodes == () and finding.hint.startswith(said) and finding.instead == instead
    assert parse_block(instead, "styles/a.md", 1)[1] == ()


def test_a_line_may_give_a_name_that_is_another_word_for_something() -> None:
    nodes, findings = parse_block("muslin = 3 cm", "styles/a.md", 1)
    assert len(nodes) == 1 and findings == ()


def test_prices_and_ease_go_by_the_thing_and_not_by_its_name() -> None:
    hours = {"vest": (("", Decimal(9)),), "gored-skirt": (("", Decimal(4)),)}
    assert Prices(hours=hours).hours_for("mens-waistcoat", "Waistcoat") == (("", Decimal(9)),)
    assert Prices(hours=hours).hours_for("gored-skirt", "skirt") == (("", Decimal(4)),)
    assert Prices(hours=hours).hours_for("cape", "cape") == ()
    assert kind_of("vest") == kind_of("waistcoat") == "bodice"
    assert kind_of("pants") == "trousers" and kind_of("hat") == ""


def test_a_stage_of_an_order_is_named(tmp_path: Path) -> None:
    path = tmp_path / "ada.md"
    path.write_text(
        "---\nname: Ada\nfor: woman\norders:\n  one:\n    style: cape\n    muslin: 2026-03-14\n---\n",
        encoding="utf-8",
    )
    (finding,) = [f for f in read_client(path, tmp_path).findings if f.code == "order-unknown-key"]
    assert finding.hint == "“muslin” is called “toile” here: write toile."


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ("deeper armscye 1 cm", "“deeper armscye” is called “armhole deeper” here: write armhole deeper."),
        ("full bicep 1 cm", "“full bicep” is called “full upper arm” here: write full upper arm."),
        (
            "lengthen pants 2 cm",
            "“lengthen pants” is called “trousers lengthened” here: write trousers lengthened.",
        ),
        ("take in center back 1 cm", "Did you mean “take in centre back”?"),
        ("flat behnd 1 cm", "Did you mean “flat seat”?"),
    ],
)
def test_a_line_of_a_fitting_is_told_the_alterations_own_name(line: str, hint: str) -> None:
    with pytest.raises(NotUnderstood) as raised:
        understand(line, Unit.CM, known_alterations())
    assert raised.value.hint == hint
