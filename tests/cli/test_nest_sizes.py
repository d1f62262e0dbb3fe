"""A style nested in the sizes of a table, as people ask for it."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
import pytest

from catalogue.cli import main
from catalogue.starter import make_studio

TABLE = """---
name: Counter sizes
for: woman
units: cm
---

| size         |    S |    M |    L | Extra |
|--------------|-----:|-----:|-----:|------:|
| waist girth  |   68 |   74 |   82 |    91 |
| hip girth    |   94 |  100 |  108 |   117 |
| waist to hip |   20 | 20.3 | 20.6 |  20.9 |
"""
INCHES = """---
name: Inches
for: woman
units: inches
---

| size         |  10 |     12 |
|--------------|----:|-------:|
| waist girth  |  27 | 28 1/2 |
| hip girth    |  37 | 38 1/2 |
| waist to hip |   8 |  8 1/8 |
"""


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    folder = tmp_path / "studio"
    make_studio(folder)
    (folder / "clients/sizes").mkdir(exist_ok=True)
    for old in (folder / "clients/sizes").iterdir():
        old.unlink()
    (folder / "clients/sizes" / "counter.md").write_text(TABLE, encoding="utf-8")
    return folder


def nest(studio: Path, *more: str) -> int:
    return main(["nest", "first-skirt", str(studio), "--paper", "a0", "--out", str(studio / "n.pdf"), *more])


def layers(studio: Path) -> list[str]:
    """Titles of the layers that clients and sizes have of their own, in the order a viewer lists them."""
    root = pypdf.PdfReader(io.BytesIO((studio / "n.pdf").read_bytes())).trailer["/Root"]
    group = next(g for g in root["/OCProperties"]["/D"]["/Order"] if isinstance(g, list))  # type: ignore[index]
    return [str(each.get_object()["/Name"]) for each in group[1:]]


def cover(studio: Path) -> str:
    page = pypdf.PdfReader(io.BytesIO((studio / "n.pdf").read_bytes())).pages[0]
    return " ".join(page.extract_text().split())


def test_all_sizes_of_a_table_in_its_order(studio: Path) -> None:
    assert nest(studio, "--table", "Counter sizes") == 0
    assert layers(studio) == ["size S", "size M", "size L", "size Extra"]
    words = cover(studio)
    assert "Counter sizes: S, M, L, Extra" in words
    assert "Lines size S size M size L size Extra" in words


def test_some_sizes_and_clients_beside_them(studio: Path) -> None:
    assert nest(studio, "--size", "extra", "m", "--client", "First Client") == 0
    assert layers(studio) == ["First Client", "size M", "size Extra"]
    assert "Counter sizes: M, Extra; First Client" in cover(studio)


def test_sizes_of_two_tables_bear_the_names_of_both(studio: Path) -> None:
    (studio / "clients/sizes" / "inches.md").write_text(INCHES, encoding="utf-8")
    assert nest(studio, "--table", "counter", "inches", "--size", "L", "size 12") == 0
    assert layers(studio) == ["Counter sizes, size L", "Inches, size 12"]


def test_what_is_not_there_is_said_with_the_nearest_name(
    studio: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert nest(studio, "--table", "countre") == 2
    assert "no table of sizes “countre”. Did you mean “counter”?" in capsys.readouterr().err
    assert nest(studio, "--table", "counter", "--size", "Extar") == 2
    assert "There is no size “Extar” in “Counter sizes”. Did you mean “Extra”?" in capsys.readouterr().err
    (studio / "clients/sizes" / "counter.md").unlink()
    assert nest(studio, "--size", "M") == 2
    assert "has no tables of sizes" in capsys.readouterr().err
    assert not (studio / "n.pdf").exists()


def test_more_sizes_than_lines_are_refused_before_anything_is_drawn(
    studio: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wide = TABLE.replace("| Extra |", "| XL |" + "".join(f" {n}XL |" for n in range(2, 11)))
    wide = "\n".join(
        line + " – |" * 9 if (line.startswith("| ") and "girth" in line) or "to hip" in line else line
        for line in wide.split("\n")
    )
    (studio / "clients/sizes" / "counter.md").write_text(wide, encoding="utf-8")
    assert nest(studio, "--table", "counter") == 2
    assert "13 are too many for one sheet (at most 12)" in capsys.readouterr().err


def test_a_size_without_a_measurement_is_left_out_and_said(
    studio: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (studio / "clients/sizes" / "counter.md").write_text(TABLE.replace("|  108 |", "| – |"), encoding="utf-8")
    assert nest(studio, "--table", "counter") == 1
    assert "size L is left out: missing hip girth" in capsys.readouterr().err
    assert layers(studio) == ["size S", "size M", "size Extra"]


def test_a_mistake_in_a_table_is_told_and_nothing_is_made_of_it(
    studio: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (studio / "clients/sizes" / "counter.md").write_text(
        TABLE.replace("|  108 |", "| 108 ells |"), encoding="utf-8"
    )
    assert nest(studio, "--table", "counter") == 1
    said = capsys.readouterr().err
    assert "clients/sizes/counter.md:10:" in said and "ells" in said
    assert said.count("ells") == 2, "once, with the line of the file"
    assert main(["check", str(studio)]) == 1
    assert "clients/sizes/counter.md:10:" in capsys.readouterr().out
    # The clients' catalogue is made all the same.
    assert main(["build", str(studio), "--jobs", "1", "--out", str(studio.parent / "site")]) == 1
    assert (studio.parent / "site/styles/first-skirt/first-client/draft-a4.pdf").is_file()


def test_a_style_the_studio_does_not_have_is_told_with_its_place(
    studio: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = TABLE.replace("units: cm", "units: cm\ngarments: [first-skrit]")
    (studio / "clients/sizes" / "counter.md").write_text(text, encoding="utf-8")
    assert main(["check", str(studio)]) == 1
    said = capsys.readouterr().out
    assert "clients/sizes/counter.md:5:12" in said and "first-skirt" in said.lower()


def test_two_runs_give_the_same_bytes(studio: Path) -> None:
    assert nest(studio, "--table", "counter") == 0
    first = (studio / "n.pdf").read_bytes()
    assert nest(studio, "--table", "counter") == 0
    assert (studio / "n.pdf").read_bytes() == first
