"""Lists in the order people expect, against the browser's own collation (ECMA-402, `Intl.Collator`)."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from catalogue.building.reading import read_studio
from catalogue.building.studio import find_files
from catalogue.building.units import CATALOGUE
from catalogue.site.pages import Site
from catalogue.sorting import folded, in_order, sort_key
from tests.site import sample

NAMES = (
    *(
        "Number 10",
        "number 4",
        "Number 4b",
        "Size 38",
        "size 6",
        "Size 006 tall",
        "10 gores",
        "4 gores",
        "٣ gores",
    ),
    *("Ọmọlará", "Osric", "Ómar", "Omar", "Oz", "Adébáyọ̀", "Adeola", "Ṣadé", "Sade", "Ẹniọlá", "Enitan"),
    *("Đặng Thùy", "Dang Thu", "Dũng", "Do", "Thuỷ", "Thu", "thu 2", "Ưng", "Ung Văn", "Ùng"),
    *(
        "T-shirt",
        "T shirt",
        "Tshirt",
        "O’Neil",
        "Oakes",
        "Zoë",
        "zoe",
        "Łucja",
        "Lutz",
    ),
    *(
        "أمل",
        "بدر",
        "سلمى",
        "ندى",
        "مها",
        "Ægir",
        "Aelfric",
        "Straße",
        "Strasse 2",
        "Åse",
        "Asta",
        "e",
        "E",
        "é",
        "É",
    ),
)


def test_names_stand_in_the_order_of_a_browsers_collation(page: Any) -> None:
    theirs = page.evaluate(
        "names => names.sort(new Intl.Collator('en', {numeric: true}).compare)", list(NAMES)
    )
    assert in_order(NAMES) == theirs
    assert in_order(reversed(NAMES)) == theirs


def test_what_is_neither_letter_nor_digit_is_a_blank() -> None:
    """The collation puts every hyphen after every blank and quotation marks before all letters; a list reads on."""
    assert in_order(["T shirts", "“Quoted”", "T-shirt", "T shirt", "Robe"]) == [
        *("“Quoted”", "Robe", "T shirt", "T-shirt", "T shirts"),
    ]


def test_numbers_of_any_length_and_script_are_numbers() -> None:
    long = "9" * 5000
    assert in_order([f"Skirt 1{long}", "Skirt ١٠", f"Skirt {long}", "Skirt 9", "Skirt 0010 b", "Skirt"]) == [
        *("Skirt", "Skirt 9", "Skirt ١٠", "Skirt 0010 b", f"Skirt {long}", f"Skirt 1{long}"),
    ]
    assert sort_key("") < sort_key("…") < sort_key("1") < sort_key("a")


def test_search_in_the_pages_folds_words_as_lists_do(visit: Any) -> None:
    page = visit("index.html")
    words = [*NAMES, "ÅNGSTRÖM", "Œuvre", "ΣΟΦΟΣ", "İpek", "ı", "ﬁtted", "مُحَمَّد", "مـحمد", "शिल्पा", "½ in"]
    assert page.evaluate("words => words.map(catalogue.plain)", words) == [folded(word) for word in words]
    page.get_by_label("Search").fill("dang")
    assert page.locator(".results a").all_inner_texts() == ["Đặng Thùy Miên"]


@pytest.mark.parametrize("script", sorted(Path("site_template").glob("*.js")), ids=lambda path: path.name)
def test_no_script_has_an_order_of_its_own(script: Path) -> None:
    text = script.read_text(encoding="utf-8")
    assert ".sort(" not in text and "localeCompare" not in text and "Collator" not in text


def test_styles_and_filters_stand_in_that_order() -> None:
    titles = ["Skirt number 10", "Skirt number 4", "skirt Number 5"]
    styles = [
        replace(
            sample.style(), slug=f"s{n}", title=title, tags=(f"look {title.split()[-1]}", "Ẹ̀wà", "evening")
        )
        for n, title in enumerate(titles)
    ]
    site = Site(sample.settings(), styles, [sample.person()])
    assert [style.title for style in site.styles] == [titles[1], titles[2], titles[0]]
    page = site.home_pages({})["index.html"]
    choices = page.partition('name="tags"')[2].partition("</select>")[0]
    order = [choices.index(f">{tag}<") for tag in ("evening", "Ẹ̀wà", "look 4", "look 5", "look 10")]
    assert order == sorted(order)


def test_clients_tables_and_orders_are_read_in_that_order(tmp_path: Path) -> None:
    clients = tmp_path / "clients"
    (clients / "sizes").mkdir(parents=True)
    (tmp_path / "styles").mkdir()
    (tmp_path / "styles" / "skirt.md").write_text("---\ntitle: Skirt\n---\n")
    names = ["Number 10", "number 4", "Zoë", "Đặng Thùy", "أمل", "Ọmọlará", "Osric"]
    orders = "orders: {fitting 10: {style: skirt}, fitting 9: {style: skirt}}"
    for n, name in enumerate(names):
        (clients / f"{9 - n}.md").write_text(
            f"---\nname: {name}\nfor: woman\n{orders}\n---\n", encoding="utf-8"
        )
        table = (
            f"---\nname: {name}\nfor: woman\nunits: cm\n---\n\n| size | 8 |\n|---|---|\n| hip girth | 94 |\n"
        )
        (clients / "sizes" / f"{9 - n}.md").write_text(table, encoding="utf-8")
    studio = read_studio(find_files(tmp_path), CATALOGUE.readers)
    expected = ["Đặng Thùy", "number 4", "Number 10", "Ọmọlará", "Osric", "Zoë", "أمل"]
    assert [client.name for client in studio.clients] == expected
    assert [table.name for table in studio.sizes] == expected
    assert [order.name for order in studio.clients[0].orders] == ["fitting 9", "fitting 10"]
