"""Several clients on one sheet, and papers named for one build, as people ask for them."""

from __future__ import annotations

import io
from pathlib import Path

import pypdf
import pytest

from catalogue.cli import main
from catalogue.starter import make_studio

SECOND = """---
name: Bea Tallow
for: woman
units: cm
measurements:
  waist girth: 84
  hip girth: 109
  waist to hip: 21
---
"""


@pytest.fixture(scope="module")
def studio(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("nest") / "mine"
    make_studio(folder)
    (folder / "clients" / "bea.md").write_text(SECOND, encoding="utf-8")
    return folder


def style_of(studio: Path) -> str:
    return next(p.stem for p in sorted((studio / "styles").glob("*.md")))


def test_one_style_for_all_it_suits_on_the_papers_of_the_studio(
    studio: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    style = style_of(studio)
    assert main(["nest", style, str(studio), "--out", str(tmp_path)]) == 0
    file = tmp_path / f"{style}-nested-a4.pdf"
    assert str(file) in capsys.readouterr().out
    words = " ".join(pypdf.PdfReader(file).pages[0].extract_text().split())
    assert "Bea Tallow" in words
    assert "Lines" in words


def test_papers_and_clients_may_be_named(studio: Path, tmp_path: Path) -> None:
    style = style_of(studio)
    out = tmp_path / "one.pdf"
    given = ["nest", style, str(studio), "--client", "Bea Tallow", "--paper", "Roll 36in", "--out", str(out)]
    assert main(given) == 0
    (page,) = pypdf.PdfReader(io.BytesIO(out.read_bytes())).pages
    assert abs(float(page.mediabox.width) - 36 * 72) < 0.1
    several = tmp_path / "several"
    assert main(["nest", style, str(studio), "--paper", "a3", "letter", "--out", str(several)]) == 0
    assert sorted(p.name for p in several.iterdir()) == [f"{style}-nested-{n}.pdf" for n in ("a3", "letter")]


def test_what_is_not_there_is_said_with_the_nearest_name(
    studio: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    style = style_of(studio)
    assert main(["nest", style, str(studio), "--client", "bee", "--out", str(tmp_path)]) == 2
    assert "no client “bee”. Did you mean “bea”?" in capsys.readouterr().err
    assert main(["nest", style[:-1], str(studio), "--out", str(tmp_path)]) == 2
    assert f"Did you mean “{style}”?" in capsys.readouterr().err
    with pytest.raises(SystemExit) as stop:
        main(["nest", style, str(studio), "--paper", "tabliod"])
    assert stop.value.code == 2
    assert "“tabliod”" in (said := capsys.readouterr().err)
    assert "“tabloid”" in said
    assert not list(tmp_path.iterdir())


def test_a_client_without_a_measurement_is_left_out_and_the_rest_are_nested(
    studio: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    style = style_of(studio)
    bare = studio / "clients" / "bare.md"
    bare.write_text(
        "---\nname: Bare\nfor: woman\nunits: cm\nmeasurements:\n  waist girth: 80\n---\n", encoding="utf-8"
    )
    try:
        status = main(["nest", style, str(studio), "--out", str(tmp_path)])
    finally:
        bare.unlink()
    assert status == 1
    assert "Bare is left out" in capsys.readouterr().err
    assert (tmp_path / f"{style}-nested-a4.pdf").is_file()


def test_a_build_on_other_papers_this_once(studio: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    style = style_of(studio)
    client = next(p.stem for p in sorted((studio / "clients").glob("*.md")) if p.stem != "bea")
    folder = site / "styles" / style / client

    def printed() -> list[str]:
        return sorted(p.name for p in folder.glob("draft-*.pdf"))

    common = [str(studio), "--out", str(site), "--jobs", "1"]
    assert main(["build", *common]) == 0
    assert printed() == ["draft-a4.pdf"]
    assert main(["build", *common, "--paper", "a3", "--paper", "letter"]) == 0
    assert printed() == ["draft-a3.pdf", "draft-letter.pdf"]
    assert "draft-a3.pdf" in (folder / "index.html").read_text(encoding="utf-8")
    assert main(["build", *common]) == 0
    assert printed() == ["draft-a4.pdf"]


def test_a_file_that_is_no_nest_of_ours_is_left(
    studio: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    style, out = style_of(studio), tmp_path / "mine.pdf"
    given = ["nest", style, str(studio), "--client", "Bea Tallow", "--out", str(out)]
    assert main(given) == 0 and main(given) == 0
    noted = out.read_bytes() + b"\n1 0 obj <<>> endobj\n%%EOF\n"  # as one who writes notes into it adds to it
    for mine in (b"mine", noted):
        out.write_bytes(mine)
        assert main(given) == 3
        assert "is not a nest that this program wrote" in capsys.readouterr().err
        assert out.read_bytes() == mine
