"""Files for other machines beside each draft, when the studio asks for them."""

from __future__ import annotations

import re
from pathlib import Path

from catalogue.building.report import Request
from catalogue.building.run import build
from catalogue.building.units import CATALOGUE
from catalogue.starter import make_studio
from tests.building.fakes import site_files


def built(folder: Path, asked: str) -> dict[str, bytes]:
    studio = folder / "studio"
    make_studio(studio)
    settings = studio / "site_template" / "studio.toml"
    settings.write_text(f"{settings.read_text(encoding='utf-8')}\n{asked}\n", encoding="utf-8")
    report = build(Request(studio, folder / "site", jobs=1), CATALOGUE)
    assert not [f for f in report.findings if f.is_error]
    return site_files(folder / "site")


def test_every_piece_has_its_file_and_the_page_leads_to_it(tmp_path: Path) -> None:
    files = built(tmp_path, 'exchange = ["dxf", "svg"]')
    pages = [path.replace("draft.json", "index.html") for path in files if path.endswith("/draft.json")]
    assert pages
    for page in pages:
        folder = page.removesuffix("index.html")
        made = [
            path for path in files if path.startswith(folder) and re.search(r"\.dxf$|exchange/.*\.svg$", path)
        ]
        pieces = files[f"{folder}draft.json"].count(b'"cut_outline"')
        assert len(made) == pieces + 1 > 1
        for path in made:
            assert f'href="{path.removeprefix(folder)}"'.encode() in files[page]


def test_without_being_asked_for_there_are_none(tmp_path: Path) -> None:
    files = built(tmp_path, "")
    assert not [path for path in files if path.endswith(".dxf") or "/exchange/" in path]


def test_two_builds_give_the_same_bytes(tmp_path: Path) -> None:
    (tmp_path / "one").mkdir()
    (tmp_path / "other").mkdir()
    one, other = (built(tmp_path / name, 'exchange = ["dxf", "svg"]') for name in ("one", "other"))
    assert {k: v for k, v in one.items() if "exchange" in k or ".dxf" in k} == {
        k: v for k, v in other.items() if "exchange" in k or ".dxf" in k
    }
