"""A client file that names a style the studio doesn't have is reported in its place."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from catalogue.building.checking import check
from catalogue.building.nesting import Asked, nest
from catalogue.building.report import Report, Request
from catalogue.building.run import build
from catalogue.building.studio import Files, UnknownName, unknown_styles
from catalogue.building.units import CATALOGUE
from catalogue.findings import Place
from catalogue.people import read_client
from catalogue.starter import make_studio
from tests.drafting.people_and_styles import style_of

CLIENT = """---
name: Second Client
for: woman
units: cm
measured:
  2026-01-15:
    waist girth: 76
    hip girth: 101
    waist to hip: 20.5
choices:
  {choice}:
    length: 58 cm
garments: [{garments}]
---
"""


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    make_studio(tmp_path / "studio")
    return tmp_path / "studio"


def write(studio: Path, choice: str = "first-skirt", garments: str = "first-skirt") -> None:
    text = CLIENT.format(choice=choice, garments=garments)
    (studio / "clients" / "second.md").write_text(text, encoding="utf-8")


def checked(studio: Path) -> Report:
    return check(Request(studio, studio / "site", jobs=1), CATALOGUE)


def told(report: Report) -> list[tuple[str, str, str]]:
    findings = [each.finding for each in report.findings if each.finding.code == "unknown-style"]
    return [(str(f.place), f.message, f.hint) for f in findings]


def test_known_styles_are_no_matter(studio: Path) -> None:
    write(studio)
    assert checked(studio).findings == ()


def test_a_style_by_another_name_of_the_trade_is_told_by_its_own(tmp_path: Path) -> None:
    """Common practice, no source: a vest is a waistcoat, whatever its file is called."""
    studio = Files(tmp_path, (Path("styles/mens-waistcoat.md"),), (), {})
    path = tmp_path / "clients" / "second.md"
    path.parent.mkdir()
    path.write_text(CLIENT.format(choice="mens-vest", garments="vest"), encoding="utf-8")
    style = replace(style_of("a = 1 cm"), slug="mens-waistcoat", title="Waistcoat")
    found = {f.message: f.hint for f in unknown_styles([read_client(path, tmp_path)], [style], studio)}
    assert found == {
        "this studio has no style “mens-vest”": "“mens-vest” is called “mens-waistcoat” here: write mens-waistcoat.",
        "this studio has no style “vest”": "“vest” is called “mens-waistcoat” here: write mens-waistcoat.",
    }


def test_misspelt_styles_are_told_of_with_the_nearest(studio: Path) -> None:
    write(studio, "frist-skirt", "first-skirt, frist-skirt")
    expected = [
        (
            f"clients/second.md:{place}",
            "this studio has no style “frist-skirt”",
            "Did you mean “first-skirt”?",
        )
        for place in ("11:3", "13:25")
    ]
    assert told(checked(studio)) == expected
    request = Request(studio, studio / "site", jobs=1)
    for _ in range(2):  # The second build has nothing to make.
        report = build(request, CATALOGUE)
        assert told(report) == expected and not report.ok
    assert (studio / "site/styles/first-skirt/second/draft.svg").exists()


def test_a_style_meant_by_its_title_is_found(studio: Path) -> None:
    style = studio / "styles" / "first-skirt.md"
    text = style.read_text(encoding="utf-8")
    (studio / "styles" / "a7.md").write_text(
        "\n".join("title: Windmill gown" if row.startswith("title:") else row for row in text.split("\n")),
        encoding="utf-8",
    )
    write(studio, garments="Windmill gown")
    assert [hint for _, _, hint in told(checked(studio))] == ["Did you mean “a7”?"]


def test_a_style_that_can_not_be_read_is_known_all_the_same(studio: Path) -> None:
    (studio / "styles" / "torn.md").write_bytes(b"---\ntitle: [\n")
    (studio / "styles" / "gone.md").symlink_to(studio.parent / "elsewhere.md")
    write(studio, garments="torn, gone")
    assert told(checked(studio)) == []


def test_a_copy_for_one_client_names_no_style_of_another(studio: Path, tmp_path: Path) -> None:
    text = (studio / "styles" / "first-skirt.md").read_text(encoding="utf-8")
    for_men = "\n".join("for: men" if row.startswith("for:") else row for row in text.split("\n"))
    if "for: men" not in for_men:
        for_men = for_men.replace("title:", "for: men\ntitle:", 1)
    (studio / "styles" / "gossamerine.md").write_text(for_men, encoding="utf-8")
    write(studio, garments="gossamerin, frist-skirt")
    output = tmp_path / "copy"
    report = build(Request(studio, output, jobs=1, recipient="second"), CATALOGUE)
    assert [hint for _, _, hint in told(report)] == ["It has: first-skirt.", "Did you mean “first-skirt”?"]
    for path in output.rglob("*"):
        assert path.is_dir() or b"gossamerine" not in path.read_bytes(), path


def test_a_style_under_another_ending_is_spoken_of_and_still_unknown(studio: Path) -> None:
    (studio / "styles" / "summer-skirt.txt").write_bytes((studio / "styles" / "first-skirt.md").read_bytes())
    write(studio, garments="summer-skirt")
    assert [message for _, message, _ in told(checked(studio))] == ["this studio has no style “summer-skirt”"]


@pytest.mark.parametrize(
    ("name", "better"),
    [
        ("clients/ada.txt", "clients/ada.md"),
        ("clients/ada.md.txt", "clients/ada.md"),
        ("clients/sizes/fair.TXT", "clients/sizes/fair.md"),
        ("styles/summer/skirt.md", "styles/skirt.md"),
    ],
)
def test_a_file_that_was_meant_to_be_read_is_told_of(studio: Path, name: str, better: str) -> None:
    (studio / name).parent.mkdir(exist_ok=True)
    (studio / name).write_text("---\nname: Ada\n---\n")
    report = checked(studio)
    (only,) = [each.finding for each in report.findings]
    assert report.ok and only.place == Place(name) and only.message.startswith("this file is not read")
    assert only.hint == f"If it is meant to be read, rename or move it: {better}"


def test_pictures_and_templates_are_no_styles(studio: Path) -> None:
    (studio / "styles" / "flat.svg").write_text("<svg xmlns='http://www.w3.org/2000/svg'/>")
    (studio / "site_template" / "notes.txt").write_text("ours")
    (studio / "clients" / "letters").mkdir()
    (studio / "clients" / "letters" / "first.txt").write_text("theirs")
    assert checked(studio).findings == ()


def test_a_copy_for_one_client_says_nothing_of_files_of_others(studio: Path, tmp_path: Path) -> None:
    (studio / "clients" / "gossamerine.txt").write_text("---\nname: Ada\n---\n")
    (studio / "clients/sizes" / "gossamerine.txt").write_text("---\nname: Ada\n---\n")
    output = tmp_path / "copy"
    report = build(Request(studio, output, jobs=1, recipient="first-client"), CATALOGUE)
    assert report.findings == ()
    for path in output.rglob("*"):
        assert path.is_dir() or b"gossamerine" not in path.read_bytes(), path


def test_a_client_named_as_a_table_and_a_table_as_a_client(studio: Path) -> None:
    for asked, told in (
        (Asked("first-skirt", tables=("first-client",)), "It is a client: write --client first-client."),
        (
            Asked("first-skirt", clients=("First sizes",)),
            "It is a table of sizes: write --table First sizes.",
        ),
    ):
        with pytest.raises(UnknownName) as caught:
            nest(studio, asked)
        assert str(caught.value).endswith(told)
