"""One draft printed on another paper by a command: true scale, the catalogue left alone, no other file written over."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from catalogue.building.disk import CannotWrite
from catalogue.building.order_papers import pack
from catalogue.building.prints import print_draft
from catalogue.building.studio import UnknownName
from catalogue.cli import main
from tests.building.odd_studio import CLIENT, PLAIN
from tests.workroom.test_orders_made import with_orders

PAPERS = {"letter": (8.5 * 72, 11 * 72), "a4": (210 / 25.4 * 72, 297 / 25.4 * 72)}
"""Points: ASME Y14.1 and ISO 216."""

OTHER = """compare:
  first-skirt:
    at the fair: {length: 66 cm}
orders:
  red one: {style: first-skirt, ordered: 2026-03-03, choices: {length: 70 cm}}
  lost one: {style: nowhere, ordered: 2026-03-03}
"""


@pytest.fixture(scope="module")
def studio(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("prints") / "studio"
    for folder, name, text in (
        ("styles", "first-skirt.md", PLAIN),
        ("clients", "ada.md", CLIENT.replace("name: A", "name: Ada")),
        ("clients", "cleo.md", with_orders(CLIENT.replace("name: A", "name: Cleo"), OTHER)),
        ("clients", "bea.md", CLIENT.replace("name: A", "name: Bea").replace("    waist girth: 76\n", "")),
    ):
        (root / folder).mkdir(parents=True, exist_ok=True)
        (root / folder / name).write_text(text, encoding="utf-8")
    return root


def test_one_draft_on_two_papers(studio: Path, tmp_path: Path) -> None:
    before = sorted(studio.rglob("*"))
    printed = print_draft(studio, "First skirt", "Ada", ("letter", "a4"), tmp_path)
    assert [path.name for path, _ in printed.files] == [
        "first-skirt-ada-letter.pdf",
        "first-skirt-ada-a4.pdf",
    ]
    for (path, pages), size in zip(printed.files, PAPERS.values(), strict=True):
        read = PdfReader(path).pages
        assert len(read) == pages > 1
        box = read[0].mediabox
        assert sorted((float(box.width), float(box.height))) == pytest.approx(sorted(size), abs=0.5)
    assert sorted(studio.rglob("*")) == before


@pytest.mark.parametrize(
    ("options", "file", "words", "length"),
    [
        (
            "",
            "first-skirt-cleo-a3.pdf",
            "The order “red one” has other options (length 70 cm)",
            "length 60 cm",
        ),
        (
            "Red one",
            "first-skirt-cleo-red-one-a3.pdf",
            "Pattern for the order “red one”, which has other options (length 70 cm).",
            "length 70 cm",
        ),
        (
            "at the fair",
            "first-skirt-cleo-at-the-fair-a3.pdf",
            "Pattern with the options “at the fair”: length 66 cm.",
            "length 66 cm",
        ),
    ],
)
def test_the_options_of_an_order_or_of_a_set_are_printed_and_named(
    studio: Path, tmp_path: Path, options: str, file: str, words: str, length: str
) -> None:
    [(path, _)] = print_draft(studio, "first-skirt", "cleo", ("a3",), tmp_path, options).files
    assert path.name == file
    first = " ".join(PdfReader(path).pages[0].extract_text().split())
    assert words in first and length in first


def test_options_that_nobody_has_are_refused_with_those_there_are(
    studio: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = ["print", "first-skirt", "cleo", str(studio), "--options"]
    assert main([*asked, "rde one"]) == 2
    assert "Did you mean “red one”?" in capsys.readouterr().err
    with pytest.raises(UnknownName, match="There are none yet"):
        print_draft(studio, "first-skirt", "ada", options="red one")


def test_an_order_without_its_style_is_not_left_out_of_a_pack_in_silence(
    studio: Path, tmp_path: Path
) -> None:
    with pytest.raises(UnknownName, match="“lost one” can't be packed"):
        pack(studio, "lost one", tmp_path / "lost.pdf")
    told: list[str] = []
    path, pages = pack(studio, "cleo", tmp_path / "a new folder", ("a3",), told.append)
    assert path.parent.name == "a new folder" and pages > 1
    assert [words for words in told if "“lost one” is not in this pack" in words]


def test_only_a_print_of_ours_is_written_over(studio: Path, tmp_path: Path) -> None:
    mine = tmp_path / "letter.pdf"
    mine.write_bytes(b"%PDF-1.7 a letter to my aunt")
    with pytest.raises(CannotWrite, match="is not a print that this program wrote"):
        print_draft(studio, "first-skirt", "ada", ("letter",), mine)
    assert mine.read_bytes() == b"%PDF-1.7 a letter to my aunt"
    again = tmp_path / "again.pdf"
    for paper in ("letter", "a4"):
        [(path, _)] = print_draft(studio, "first-skirt", "ada", (paper,), again).files
        assert path == again
    again.write_bytes(again.read_bytes() + b"a note\n%%EOF\n")
    with pytest.raises(CannotWrite):
        print_draft(studio, "first-skirt", "ada", ("a4",), again)


def test_a_draft_that_waits_is_not_printed(
    studio: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["print", "first-skirt", "bea", str(studio), "--paper", "letter"]) == 1
    assert "Bea needs waist girth for this style." in capsys.readouterr().err
    assert not list(tmp_path.iterdir())
    assert main(["print", "first-skirt", "ada", str(studio), "--paper", "letter"]) == 0
    assert capsys.readouterr().out.startswith("first-skirt-ada-letter.pdf: ")
    with pytest.raises(UnknownName, match="Did you mean “Ada”"):
        print_draft(studio, "first-skirt", "adda", ("letter",))
