"""Orders with options of their own: a draft and a print of their own, and a word wherever the usual one is offered."""

from __future__ import annotations

import io
import json
import shutil

import pytest
from pypdf import PdfReader

from catalogue.building.order_papers import pack
from catalogue.building.report import Request
from catalogue.building.run import build
from catalogue.building.units import CATALOGUE
from catalogue.findings import Place
from catalogue.people import Client
from catalogue.people.client import Chosen, Order
from catalogue.studio.style import Style
from catalogue.workroom.own_drafts import chosen_otherwise
from tests.building.odd_studio import CLIENT, PLAIN
from tests.workroom.test_orders_made import with_orders

OWN = "choices: {first-skirt: {length: 62 cm}}\n"
ORDERS = """orders:
  blue one:
    style: first-skirt
    ordered: 2026-03-02
  red one:
    style: first-skirt
    ordered: 2026-03-03
    price: 97.31
    note: a surprise
    choices: {length: 70 cm}
  same again:
    style: first-skirt
    ordered: 2026-03-04
    choices: {length: 62 cm}
  worn out:
    style: first-skirt
    ordered: 2025-03-03
    choices: {length: 51 cm}
    delivered: 2025-04-01
    paid: 2025-04-01
"""
USUAL, RED = "styles/first-skirt/bea", "orders/bea/red-one"


@pytest.fixture(scope="module")
def studio(tmp_path_factory):
    root = tmp_path_factory.mktemp("own") / "studio"
    for folder, name, text in (
        ("styles", "first-skirt.md", PLAIN),
        ("clients", "bea.md", with_orders(CLIENT, OWN + ORDERS)),
    ):
        (root / folder).mkdir(parents=True, exist_ok=True)
        (root / folder / name).write_text(text, encoding="utf-8")
    return root


@pytest.fixture(scope="module")
def site(studio):
    assert build(Request(studio, studio / "site", jobs=1), CATALOGUE).ok
    return studio / "site"


def first_sheet(path) -> str:
    return " ".join(PdfReader(io.BytesIO(path.read_bytes())).pages[0].extract_text().split())


def page(site, path: str) -> str:
    return " ".join((site / path / "index.html").read_text(encoding="utf-8").split())


def centre(site, path: str) -> float:
    """The finished length down the centre front, mm, as the figures beside a draft have it."""
    edges = json.loads((site / path / "draft.json").read_text(encoding="utf-8"))["pieces"]["front"]["edges"]
    return edges["centre"]["length"]


def test_only_an_order_with_other_options_has_a_draft_of_its_own(site):
    assert sorted(p.name for p in (site / "orders/bea").iterdir()) == ["red-one"]
    assert centre(site, RED) == pytest.approx(700) and centre(site, USUAL) == pytest.approx(620)


@pytest.mark.parametrize(
    ("usual", "ordered", "is_other"),
    [
        ("65 cm", "650 mm", False),
        ("65", "65 cm", False),
        ("5 cm", "+5 cm", True),
        ("5 cm more", "5 cm longer", True),
        ("65 cm", "65.2 cm", True),
        ("full", "slim", True),
        ("full", "full", False),
    ],
)
def test_options_are_compared_by_what_they_come_to(usual, ordered, is_other):
    nowhere = Place("a.md")
    chosen = {name: Chosen(text, nowhere, nowhere) for name, text in (("usual", usual), ("other", ordered))}
    client = Client("a", "a.md", "A", choices={"skirt": {"length": chosen["usual"]}})
    order = Order("b", "b", "skirt", nowhere, nowhere, choices={"length": chosen["other"]})
    style = Style("skirt", "skirt.md", "Skirt")
    assert bool(chosen_otherwise(client, order, style)) is is_other


def test_print_ticket_and_pack_of_an_order_have_one_length(studio, site, tmp_path):
    red, usual = first_sheet(site / RED / "draft-a4.pdf"), first_sheet(site / USUAL / "draft-a4.pdf")
    assert "length 70 cm" in red and "length 62 cm" not in red
    assert "length 62 cm" in usual
    assert "length: 70 cm" in first_sheet(site / "workroom/bea/red-one/ticket.pdf")
    packed, _ = pack(studio, "bea/red-one", tmp_path)
    pages = [" ".join(p.extract_text().split()) for p in PdfReader(packed).pages]
    assert any("Pattern for the order “red one”" in words and "length 70 cm" in words for words in pages)


def test_the_usual_draft_says_at_its_top_which_order_it_is_not_for(site):
    words = "The order “red one” has other options (length 70 cm):"
    told = page(site, USUAL)
    assert words in told and told.index(words) < told.index('class="verdict')
    assert f'href="../../../{RED}/index.html"' in told
    assert "blue one" not in told and "same again" not in told and "worn out" not in told
    sheet = first_sheet(site / USUAL / "draft-a4.pdf")
    assert f"{words} print it from the order, not this." in sheet
    assert sheet.index(words) < sheet.index("Print and measure")


def test_the_orders_own_print_names_the_order_on_each_page_and_piece(site):
    pages = PdfReader(site / RED / "draft-a4.pdf").pages
    assert all("order “red one”" in each.extract_text() for each in pages)
    assert "print it from the order" not in first_sheet(site / RED / "draft-a4.pdf")
    assert "Pattern for the order “red one”, which has other options (length 70 cm)." in page(site, RED)


@pytest.mark.parametrize(
    ("path", "root"), [("workroom", "../"), ("workroom/bea", "../../"), ("clients/bea", "../../")]
)
def test_lists_of_orders_lead_to_the_draft_that_is_meant(site, path, root):
    told = page(site, path)
    red, blue = told.index("red one"), told.index("blue one")
    own, usual = f'href="{root}{RED}/index.html', f'href="{root}{USUAL}/index.html'
    assert told.count(f"{own}") >= 1
    assert abs(told.index(own) - red) < abs(told.index(own) - blue) and usual in told


def test_the_menu_marks_where_one_is(site):
    marked = 'aria-current="true">{}</a>'.format
    own, usual = page(site, RED), page(site, USUAL)
    assert marked("Workroom") in own and marked("Styles") not in own
    assert marked("Styles") in usual and marked("Workroom") not in usual


def test_a_finished_order_leads_to_no_draft_with_other_options(site):
    told = page(site, "workroom/bea")
    [own] = [part for part in told.split("<section ") if "worn out" in part]
    assert "It has other options (length 51 cm)." in own
    assert "Pattern and sewing steps" not in own and USUAL not in own


def test_a_copy_holds_the_pattern_that_was_ordered_and_nothing_of_the_workroom(studio, site, tmp_path):
    copy = tmp_path / "copy"
    assert build(Request(studio, copy, jobs=1, recipient="bea"), CATALOGUE).ok
    [ordered] = (copy / "orders/bea").iterdir()
    assert centre(copy, f"orders/bea/{ordered.name}") == pytest.approx(700)
    told = page(copy, USUAL)
    assert "What was ordered has other options (length 70 cm):" in told
    assert 'aria-current="true">Styles</a>' in page(copy, f"orders/bea/{ordered.name}")
    assert f'href="../../../orders/bea/{ordered.name}/index.html"' in told
    assert "print it from its own page, not this." in first_sheet(copy / USUAL / "draft-a4.pdf")
    assert f"orders/bea/{ordered.name}/index.html" in page(copy, "clients/bea")
    secret = (b"workroom/", b"97.31", b"red one", b"red-one", b"surprise", b"blue one", b"worn out")
    for path in copy.rglob("*"):
        if path.is_file():
            data = path.read_bytes().lower()
            if path.suffix == ".pdf":
                data += b" ".join(p.extract_text().lower().encode() for p in PdfReader(path).pages)
            assert not [word for word in secret if word in data], path


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("length: 70 cm", "length: 71 cm"),
        ("  red one", "  crimson one"),
        ("    note: a surprise", "    delivered: 2026-04-01\n    paid: 2026-04-01"),
        ("choices: {first-skirt: {length: 62 cm}}", "choices: {first-skirt: {length: 70 cm}}"),
        ("    waist girth: 76", "    waist girth: 77"),
    ],
)
def test_after_an_edit_all_is_as_a_first_build_gives_it(studio, site, tmp_path, old, new):
    again, fresh = tmp_path / "studio", tmp_path / "fresh"
    shutil.copytree(studio, again)
    client = again / "clients/bea.md"
    text = client.read_text(encoding="utf-8")
    assert old in text
    client.write_text(text.replace(old, new, 1), encoding="utf-8")
    build(Request(again, again / "site", jobs=1), CATALOGUE)
    build(Request(again, fresh, jobs=1), CATALOGUE)

    def files(folder):
        return {
            p.relative_to(folder).as_posix(): p.read_bytes()
            for p in folder.rglob("*")
            if p.is_file() and ".catalogue" not in p.relative_to(folder).parts[0]
        }

    assert files(again / "site") == files(fresh)


def test_cloth_that_is_not_chosen_is_not_told_as_at_hand(site):
    told = page(site, "workroom")
    assert "All cloth for open orders is at hand" not in told
    settled = told.split("To be settled first")[1].split("</ul>")[0]
    assert "red one" in settled and "main cloth is not chosen" in settled and "worn out" not in settled
