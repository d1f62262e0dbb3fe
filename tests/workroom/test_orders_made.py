"""Orders of a small studio made: pages, papers, packs and kept lays; and nothing of it in a client's copy."""

from __future__ import annotations

import io
import re
import shutil
from pathlib import Path

import pytest
from pypdf import PdfReader

from catalogue.building.checking import check
from catalogue.building.disk import CannotWrite
from catalogue.building.order_papers import lay_well, pack
from catalogue.building.report import Request
from catalogue.building.run import build
from catalogue.building.studio import UnknownName
from catalogue.building.units import CATALOGUE
from catalogue.cloth.strip import FilledStrip, Stone, StonePlace
from catalogue.geometry import Point
from catalogue.workroom.kept_lays import as_text, kept_or_quick, key_of, read_kept
from tests.building.odd_studio import CLIENT, STYLE

CLOTHS = "---\ncloths:\n  grey tweed:\n    width: 150 cm\n    price: 30 a metre\n---\n"
ORDER = """orders:
  blue one:
    style: {style}
    ordered: 2026-03-02
    due: 2026-03-30
    cloth: {cloth}
    price: 97.31
    measured: 2026-03-02
"""

SEWING = """
# Sewing

1. Snip the corner.

   ```sketch The corner from inside
   wrong side: 0 0, 30 0, 30 20, 0 20
   words: 3 5, this *edge*
   ```
2. Turn it.
"""


def with_orders(client: str, orders: str) -> str:
    head, _, rest = client[4:].partition("\n---")
    return f"---\n{head}\n{orders.rstrip()}\n---{rest}"


@pytest.fixture(scope="module")
def studio(tmp_path_factory):
    root = tmp_path_factory.mktemp("workroom") / "studio"
    for folder, name, text in (
        ("styles", "plain.md", f"{STYLE}{SEWING}"),
        ("clients", "bea.md", with_orders(CLIENT, ORDER.format(style="plain", cloth="Grey Tweed"))),
        ("clients", "cloths.md", CLOTHS),
    ):
        (root / folder).mkdir(parents=True, exist_ok=True)
        (root / folder / name).write_text(text, encoding="utf-8")
    return root


@pytest.fixture(scope="module")
def made(studio):
    report = build(Request(studio, studio / "site", jobs=1), CATALOGUE)
    return studio / "site", report


def test_the_workroom_shows_the_order_with_what_comes_next(made):
    site, report = made
    assert report.ok
    page = (site / "workroom/index.html").read_text(encoding="utf-8")
    for words in (
        "30 March 2026",
        "blue one",
        "draft and print the pattern",
        "£" * 0 + "97.31",
        "grey tweed",
    ):
        assert words in page.casefold() or words in page, words
    assert 'href="../workroom/index.html"' in page.replace('href="../../', 'href="../')
    home = (site / "index.html").read_text(encoding="utf-8")
    assert 'href="workroom/index.html"' in home


def test_the_papers_of_an_order_lie_beside_its_clients_page(made):
    site, _ = made
    folder = site / "workroom/bea/blue-one"
    assert {p.name for p in folder.iterdir()} == {
        "ticket.pdf", "lay-main.svg", "lay-main.pdf", "lay-main-true-size.pdf"
    }  # fmt: skip
    ticket = PdfReader(folder / "ticket.pdf").pages[0].extract_text()
    assert (
        "blue one" in ticket
        and "due 30 March 2026" in ticket
        and "Grey Tweed".casefold() in ticket.casefold()
    )
    plot = PdfReader(folder / "lay-main-true-size.pdf").pages[0].mediabox
    assert float(plot.height) / 72 * 25.4 == pytest.approx(1500, abs=1)


def test_nothing_of_the_workroom_is_in_a_clients_copy(studio, made, tmp_path):
    copy = tmp_path / "copy"
    assert build(Request(studio, copy, jobs=1, recipient="bea"), CATALOGUE).ok
    assert not (copy / "workroom").exists()
    for path in copy.rglob("*"):
        if path.is_file():
            data = path.read_bytes().lower()
            assert not any(word in data for word in (b"workroom/", b"97.31", b"blue one", b"grey tweed")), (
                path
            )


def test_an_edit_to_a_cloth_makes_the_orders_again_and_no_draft(studio, made):
    cloths = studio / "clients/cloths.md"
    cloths.write_text(CLOTHS.replace("30 a", "40 a"), encoding="utf-8")
    report = build(Request(studio, studio / "site", jobs=1), CATALOGUE)
    cloths.write_text(CLOTHS, encoding="utf-8")
    assert report.ok and report.made == 0
    assert set(report.changed) >= {"workroom/bea/index.html"}
    assert not [path for path in report.changed if path.startswith("styles/")]


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        (lambda text: text.replace("Grey Tweed", "Grey Twed"), "order-unknown-cloth"),
        (lambda text: text.replace("due: 2026-03-30", "due: 2026-01-30"), "order-dates"),
        (lambda text: text.replace("price: 97.31", "price: cheap"), "order-money"),
        (lambda text: text.replace("style: plain", "style: plian"), "unknown-style"),
    ],
)
def test_a_mistake_in_an_order_is_reported_and_the_rest_is_made(studio, made, tmp_path, edit, code):
    other = tmp_path / "studio"
    shutil.copytree(studio, other)
    path = other / "clients/bea.md"
    path.write_text(edit(path.read_text(encoding="utf-8")), encoding="utf-8")
    report = build(Request(other, other / "site", jobs=1), CATALOGUE)
    found = [told.finding for told in report.findings if told.finding.code == code]
    assert not report.ok and found and found[0].place and found[0].place.line > 1 and found[0].hint
    assert (other / "site/styles/plain/bea/draft-a4.pdf").exists()


@pytest.mark.parametrize("choice", ["lenght: 70 cm", "length: 9 m"])
def test_a_choice_of_an_order_that_can_not_be_used_is_reported(studio, made, tmp_path, choice):
    # Its draft is nobody's page: without a word it would be cut to the usual length.
    client = with_orders(CLIENT, ORDER.format(style="plain", cloth="Grey Tweed"))
    root = tmp_path / "studio"
    shutil.copytree(studio, root, ignore=shutil.ignore_patterns("site"))
    text = client.replace("    price: 97.31\n", f"    price: 97.31\n    choices:\n      {choice}\n")
    (root / "clients" / "bea.md").write_text(text, encoding="utf-8")
    for look in (check, build):
        told = look(Request(root, root / "site", jobs=1), CATALOGUE)
        assert not told.ok
        [finding] = [each.finding for each in told.findings if "Order “blue one”: " in str(each.finding)]
        assert finding.place and finding.place.file == "clients/bea.md"


def test_what_an_order_gives_beside_the_style_s_own_is_asked_about_where_the_client_has_another(tmp_path):
    own = "\nchoices:\n  plain:\n    length: 64 cm\n"
    order = (
        ORDER.format(style="plain", cloth="x").replace("    cloth: x\n", "")
        + "    choices: {length: 2 cm longer}\n"
    )
    for folder, name, text in (
        ("styles", "plain.md", STYLE),
        ("clients", "bea.md", with_orders(CLIENT, own + order)),
    ):
        (tmp_path / folder).mkdir(parents=True, exist_ok=True)
        (tmp_path / folder / name).write_text(text, encoding="utf-8")
    told = check(Request(tmp_path, tmp_path / "site", jobs=1), CATALOGUE)
    [finding] = [each.finding for each in told.findings if each.finding.code == "order-beside-own"]
    assert "not from the “64 cm”" in finding.message and not finding.is_error


def test_two_orders_that_count_on_one_length_of_cloth_are_named(studio, made, tmp_path):
    root = tmp_path / "studio"
    shutil.copytree(studio, root, ignore=shutil.ignore_patterns("site"))
    page = (made[0] / "workroom" / "index.html").read_text(encoding="utf-8")
    taken = float(re.search(r"(\d\.\d+) m, ", page)[1])
    (root / "clients/cloths.md").write_text(
        CLOTHS.replace("---\n", "---\nunits: cm\n", 1).replace(
            "    price", f"    stock: {taken + 0.1:.2f} m\n    price"
        )
    )
    client = with_orders(CLIENT, ORDER.format(style="plain", cloth="Grey Tweed").replace("03-30", "04-30"))
    (root / "clients/cleo.md").write_text(client.replace("name: A\n", "name: C\n"), encoding="utf-8")
    told = build(Request(root, root / "site", jobs=1), CATALOGUE)
    [finding] = [each.finding for each in told.findings if each.finding.code == "order-cloth-twice"]
    assert finding.place and finding.place.file == "clients/cleo.md" and not finding.is_error
    assert "“A, blue one”, which comes first" in finding.message and "grey tweed" in finding.message


def test_a_pack_writes_over_no_file_of_anyone_else(studio, tmp_path):
    other = tmp_path / "letter.pdf"
    other.write_bytes(b"%PDF-1.7 a letter")
    with pytest.raises(CannotWrite, match="is not a pack"):
        pack(studio, "bea/blue-one", other)
    assert other.read_bytes() == b"%PDF-1.7 a letter"
    other.unlink()
    assert pack(studio, "bea/blue-one", other) == pack(studio, "bea/blue-one", other)


def test_a_pack_has_every_paper_with_bookmarks_and_page_labels(studio, tmp_path):
    path, pages = pack(studio, "bea/blue-one", tmp_path)
    reader = PdfReader(io.BytesIO(path.read_bytes()))
    assert path.name == "bea-blue-one.pdf" and len(reader.pages) == pages
    order, parts = reader.outline[0], reader.outline[1]
    assert order.title == "blue one"
    assert [p.title for p in parts] == ["Job ticket", "Lay: grey tweed", "Sewing notes", "Pattern on A4"]
    assert reader.page_labels[:2] == ["1-1", "1-2"] and reader.page_labels[-1].startswith("4-")
    at_scale = reader.pages[-1].mediabox
    assert (float(at_scale.width), float(at_scale.height)) == pytest.approx((595.28, 841.89), abs=0.1)
    words = [" ".join(page.extract_text().split()) for page in reader.pages[: len(reader.pages) - 1]]
    notes = next(page for page in words if "cutting and sewing" in page)
    assert "Snip the corner. this *edge* The corner from inside 6. Turn it." in notes
    assert "Turn it." in words[1] and "this" not in words[1] and "0 0" not in words[1]


def test_an_order_that_is_not_there_is_told_with_the_nearest_name(studio, tmp_path):
    with pytest.raises(UnknownName, match="blue-one"):
        pack(studio, "blue-on", tmp_path)


def test_a_kept_lay_is_used_until_something_changes(tmp_path):
    stones = [Stone((Point(0, 0), Point(90, 0), Point(90, 50 + n), Point(0, 50 + n))) for n in range(3)]
    places = tuple(StonePlace(False, Point(0, 300.0 * n)) for n in range(3))
    path = tmp_path / "kept.json"
    path.write_text(as_text({key_of(stones, 100, (0, 0)): FilledStrip(652, places)}), encoding="utf-8")
    filler = kept_or_quick(read_kept(path))
    assert filler(stones, 100, (0, 0)) == FilledStrip(652, places)
    changed = filler(stones, 101, (0, 0))
    assert changed is not None and changed.length < 200
    path.write_text("{}", encoding="utf-8")
    assert read_kept(path) == {} == read_kept(tmp_path / "none.json")


def test_good_lays_are_kept_in_the_studio(studio, monkeypatch):
    from catalogue.cloth import solver

    monkeypatch.setattr(solver, "search", lambda *_: None)  # Our own filling is quick enough for a test.
    laid = lay_well(studio, ["bea"])
    assert [(each.order, each.cloth) for each in laid] == [("blue one", "grey tweed")]
    kept = Path(studio) / "clients/lays/bea.json"
    assert read_kept(kept)
    kept.unlink()
