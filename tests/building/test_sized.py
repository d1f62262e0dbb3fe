"""Styles in standard sizes in the catalogue: made when a table asks for it, and made again for nothing less."""

from __future__ import annotations

import io
import random
import re
import shutil
import subprocess
from pathlib import Path

import pypdf
import pytest

from catalogue.building.checking import check
from catalogue.building.report import Report, Request
from catalogue.building.run import build
from catalogue.building.units import CATALOGUE
from catalogue.starter import make_studio
from tests.building.fakes import dangling_links, fakes, site_files, write_studio
from tests.building.searching import found_in
from tests.building.test_rooms import SECOND, differing, swap

TABLE = """---
name: Hatbox sizes
for: woman
units: cm
sources: made up for this test
garments: [first-skirt]
---

Take the size by the **hip**.

| size         |    S |     M |    L |
|--------------|-----:|------:|-----:|
| waist girth  |   68 |    74 | 81.9 |
| hip girth    |   94 |   100 |  108 |
| waist to hip |   20 |  20.3 | 20.6 |
| bust girth   |   86 |    92 |  100 |
"""
SHEETS = "styles/first-skirt/sizes/hatbox-a4.pdf"
PAGE = "styles/first-skirt/index.html"


class Desk:
    """A studio and its catalogue in a folder."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.studio, self.output = folder, folder / "studio", folder / "site"
        self.table = self.studio / "clients/sizes" / "hatbox.md"

    def write(self) -> None:
        make_studio(self.studio)
        shutil.rmtree(self.studio / "clients/sizes", ignore_errors=True)
        (self.studio / "clients/sizes").mkdir()
        (self.studio / "styles" / "bag.md").write_text(SECOND, encoding="utf-8")
        self.table.write_text(TABLE, encoding="utf-8")

    def build(self, **asked: object) -> Report:
        return build(Request(self.studio, self.output, **{"jobs": 1} | asked), CATALOGUE)  # type: ignore[arg-type]

    def page(self) -> str:
        return (self.output / PAGE).read_text(encoding="utf-8")

    def is_a_first_build(self) -> bool:
        output = self.folder / "fresh"
        shutil.rmtree(output, ignore_errors=True)
        build(Request(self.studio, output, jobs=1), CATALOGUE)
        return differing(site_files(self.output), site_files(output)) == []


@pytest.fixture(scope="module")
def first_build(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The studio as it is first built, for copying."""
    desk = Desk(tmp_path_factory.mktemp("sized"))
    desk.write()
    assert desk.build().ok
    return desk.folder


@pytest.fixture
def desk(first_build: Path, tmp_path: Path) -> Desk:
    shutil.copytree(first_build, tmp_path, symlinks=True, dirs_exist_ok=True)
    return Desk(tmp_path)


def test_the_page_of_the_style_offers_the_sheets_with_their_count(desk: Desk) -> None:
    pdf = desk.output / SHEETS
    pages = len(pypdf.PdfReader(pdf).pages)
    page = desk.page()
    assert "sizes/hatbox-a4.pdf" in page and f"{pages} pages" in page
    assert "Hatbox sizes" in page and "S, M, L" in page and "Source: made up for this test." in page
    assert "81.9 cm" in page and "Bust girth" not in page.partition("What each size measures")[2]
    assert dangling_links(desk.output) == []
    checked = subprocess.run(["qpdf", "--check", str(pdf)], capture_output=True, text=True)
    assert checked.returncode == 0, checked.stdout
    words = " ".join(pypdf.PdfReader(io.BytesIO(pdf.read_bytes())).pages[0].extract_text().split())
    assert "Hatbox sizes: S, M, L" in words and "Lines size S size M size L" in words
    assert not (desk.output / "styles/bag/sizes").exists()


def test_only_what_a_figure_decides_is_made_again(desk: Desk) -> None:
    swap(desk.table, "81.9", "82.5")
    assert set(desk.build().changed) == {SHEETS, PAGE}
    # A measurement that the style has no use for changes nothing, and a note the page alone.
    swap(desk.table, "|   86 |", "|   87 |")
    assert desk.build().changed == ()
    assert "Take the size by the <strong>hip</strong>." in desk.page()
    swap(desk.table, "**hip**", "**waist**, and nothing else")
    assert desk.build().changed == (PAGE,)
    assert "by the <strong>waist</strong>" in desk.page()
    # A client's measurement is nothing to the sizes.
    swap(desk.studio / "clients/first-client.md", "waist girth: 76", "waist girth: 78")
    assert SHEETS not in desk.build().changed
    assert desk.is_a_first_build()


def test_a_size_more_another_name_and_another_paper(desk: Desk) -> None:
    text = desk.table.read_text(encoding="utf-8")
    rows = ["XL", "---:", "91", "117", "20.9", "109"]
    lines = [f"{line} {rows.pop(0)} |" if line.startswith("|") else line for line in text.split("\n")]
    desk.table.write_text("\n".join(lines).replace("Hatbox sizes", "New sizes"), encoding="utf-8")
    desk.build()
    assert "S, M, L, XL" in desk.page() and "New sizes" in desk.page()
    toml = desk.studio / "site_template/studio.toml"
    toml.write_text(
        re.sub(r"(?m)^papers = .*", 'papers = ["letter", "a3"]', toml.read_text()), encoding="utf-8"
    )
    desk.build()
    found = sorted(p.name for p in (desk.output / "styles/first-skirt/sizes").iterdir())
    assert found == ["hatbox-a3.pdf", "hatbox-letter.pdf"]
    assert desk.is_a_first_build()


def test_what_no_table_asks_for_is_taken_away(desk: Desk) -> None:
    swap(desk.table, "garments: [first-skirt]", "garments: [bag]")
    desk.build()
    assert not (desk.output / SHEETS).exists() and "Hatbox sizes" not in desk.page()
    assert (desk.output / "styles/bag/sizes/hatbox-a4.pdf").is_file()
    shutil.rmtree(desk.studio / "clients/sizes")
    desk.build()
    assert not list(desk.output.glob("styles/*/sizes"))
    assert desk.is_a_first_build()


def test_a_broken_table_is_told_on_the_page_and_by_a_check(desk: Desk) -> None:
    swap(desk.table, "81.9", "81.9 ells")
    report = desk.build()
    assert not report.ok
    assert [str(t.finding.place) for t in report.findings if t.finding.is_error] == [
        "clients/sizes/hatbox.md:13:38"
    ]
    assert not (desk.output / SHEETS).exists()
    assert "There is a mistake in the file with these sizes, clients/sizes/hatbox.md." in desk.page()
    assert "ells" in desk.page(), "what it is"
    assert not check(Request(desk.studio, desk.output, jobs=1), CATALOGUE).ok
    assert desk.is_a_first_build()
    swap(desk.table, "81.9 ells", "81.9")
    assert desk.build().ok and (desk.output / SHEETS).is_file()


def test_a_size_that_cannot_be_drafted_is_told_by_build_and_check_alike(desk: Desk) -> None:
    swap(desk.table, "|  108 |", "|    – |")
    assert told_by_both(desk) == [
        "clients/sizes/hatbox.md:6:12: error: Hatbox sizes, size L is left out: missing hip girth."
    ]
    assert "Left out: L." in desk.page()
    swap(
        desk.table,
        "garments: [first-skirt]",
        "garments: [first-skirt]\nchoices:\n  first-skirt:\n    lenght: 2 cm",
    )
    first, second = told_by_both(desk)
    assert "Hatbox sizes, size L is left out" in first
    assert second.startswith("clients/sizes/hatbox.md:9:5: error: Hatbox sizes, size S, size M: ")
    assert "no choice “lenght”" in second
    assert "not drafted in any of these sizes" in desk.page()
    assert desk.is_a_first_build()


def told_by_both(desk: Desk) -> list[str]:
    """What a build says and a check says: the same."""
    built = {str(t.finding) for t in desk.build().findings}
    checked = {str(t.finding) for t in check(Request(desk.studio, desk.output, jobs=1), CATALOGUE).findings}
    assert built == checked
    return sorted(text.split("\n")[0] for text in built)


def test_more_sizes_than_lines_are_told_where_the_table_asks_for_them(desk: Desk) -> None:
    names = [f"{n}" for n in range(13)]
    rows = [("waist girth", 68, 1.5), ("hip girth", 94, 1.5), ("waist to hip", 20, 0.1)]
    lines = [f"| size | {' | '.join(names)} |", f"|{'---|' * 14}"]
    lines += [
        f"| {key} | {' | '.join(f'{low + step * n:g}' for n in range(13))} |" for key, low, step in rows
    ]
    head = TABLE.partition("Take the size")[0]
    desk.table.write_text(head + "\n".join(lines) + "\n", encoding="utf-8")
    (told,) = told_by_both(desk)
    assert (
        told.startswith("clients/sizes/hatbox.md:6:12: error: 13 sizes are too many") and "at most 12" in told
    )
    assert not (desk.output / SHEETS).exists()


def test_a_template_makes_the_page_again_and_no_sheets(desk: Desk) -> None:
    own = Path(__file__).parents[2] / "site_template" / "style.html"
    text = own.read_text(encoding="utf-8").replace("In standard sizes", "Ready-made sizes")
    (desk.studio / "site_template" / "style.html").write_text(text, encoding="utf-8")
    changed = desk.build().changed
    assert PAGE in changed and SHEETS not in changed
    assert "Ready-made sizes" in desk.page()


def test_a_copy_for_a_client_is_what_a_studio_without_tables_gives(desk: Desk, tmp_path: Path) -> None:
    copy = tmp_path / "copy"
    build(Request(desk.studio, copy, jobs=1, recipient="First Client"), CATALOGUE)
    words = ["Hatbox sizes", "hatbox-a4", "made up for this test"]
    assert found_in(copy, words) == {} and set(found_in(desk.output, words)) == set(words)
    shutil.rmtree(desk.studio / "clients/sizes")
    build(Request(desk.studio, tmp_path / "again", jobs=1, recipient="First Client"), CATALOGUE)
    assert differing(site_files(copy), site_files(tmp_path / "again")) == []


def test_a_client_of_that_name_gets_a_folder_of_another(desk: Desk) -> None:
    text = (desk.studio / "clients/first-client.md").read_text(encoding="utf-8")
    (desk.studio / "clients" / "sizes.md").write_text(text, encoding="utf-8")
    desk.build()
    assert (desk.output / "styles/first-skirt/c-sizes/index.html").is_file()
    assert (desk.output / SHEETS).is_file()


@pytest.mark.parametrize("where", ["clients/sizes", "sizes"])
def test_any_edits_to_tables_give_what_a_first_build_gives(tmp_path: Path, where: str) -> None:
    """Played with drafts that do nothing, so that there can be many."""
    root = write_studio(tmp_path / "studio", 3, 2)
    folder = root / where
    folder.mkdir()
    dice = random.Random(5)
    output = tmp_path / "site"
    for n in range(40):
        path = folder / f"t{dice.randrange(3)}.md"
        if path.exists() and dice.random() < 0.2:
            path.unlink()
        else:
            asks = " ".join(f"for style{dice.randrange(4)}" for _ in range(dice.randrange(3)))
            path.write_text(f"girth = {dice.randrange(900, 904)}\n{asks}\n")
        build(Request(root, output, jobs=1), fakes())
        if n % 5 == 4:
            shutil.rmtree(tmp_path / "fresh", ignore_errors=True)
            build(Request(root, tmp_path / "fresh", jobs=1), fakes())
            assert differing(site_files(output), site_files(tmp_path / "fresh")) == [], n
            assert dangling_links(output) == []


# --- where tables were kept before --------------------------------------------------------------------------


def test_tables_in_their_old_folder_are_read_and_the_report_says_how_to_move_them(desk: Desk) -> None:
    desk.build()
    sheets = (desk.output / SHEETS).read_bytes()
    (desk.studio / "clients/sizes").rename(desk.studio / "sizes")
    report = desk.build()
    [note] = [t.finding for t in report.findings]
    assert report.ok and (note.code, str(note.place)) == ("old-folder", "sizes/:1:1")
    assert "belong in clients/sizes/" in note.message and note.hint == "Move the folder sizes/ into clients/."
    assert (desk.output / SHEETS).read_bytes() == sheets


def test_tables_in_both_folders_are_all_read(desk: Desk) -> None:
    old = desk.studio / "sizes"
    old.mkdir()
    (old / "boater.md").write_text(TABLE.replace("Hatbox", "Boater"), encoding="utf-8")
    report = desk.build()
    assert report.ok and "Hatbox sizes" in desk.page() and "Boater sizes" in desk.page()
    [note] = [t.finding for t in report.findings]
    assert note.hint == "Move the files in sizes/ into clients/sizes/, then delete sizes/."
    copy = desk.folder / "copy"
    copied = build(Request(desk.studio, copy, jobs=1, recipient="First Client"), CATALOGUE)
    assert copied.findings == () and found_in(copy, ["Boater", "Hatbox"]) == {}


def test_of_two_tables_of_one_name_in_both_folders_neither_is_made_and_both_are_named(desk: Desk) -> None:
    old = desk.studio / "sizes"
    old.mkdir()
    (old / "hatbox.md").write_text(TABLE, encoding="utf-8")
    [same] = [t.finding for t in desk.build().findings if t.finding.is_error]
    assert same.code == "same-name"
    assert "“sizes/hatbox.md”" in same.message and "“clients/sizes/hatbox.md”" in same.message
    assert not (desk.output / SHEETS).exists()


def test_an_old_folder_without_tables_needs_no_note(desk: Desk) -> None:
    (desk.studio / "sizes").mkdir()
    assert desk.build().findings == ()
