"""The handbook is made when a template or a setting changes, not with every style that is saved."""

from pathlib import Path

import pytest

from catalogue.building.report import Request
from catalogue.building.run import build
from catalogue.building.units import CATALOGUE
from catalogue.site.pages import Site
from catalogue.starter import make_studio


def test_saving_a_style_leaves_the_handbook_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    root, output = tmp_path / "studio", tmp_path / "site"
    make_studio(root)
    made: list[str] = []
    real = Site.handbook_pages

    def counted(self: Site) -> dict[str, str]:
        made.append("handbook")
        return real(self)

    monkeypatch.setattr(Site, "handbook_pages", counted)

    def again() -> int:
        made.clear()
        build(Request(root, output, jobs=1), CATALOGUE)
        return len(made)

    assert again() == 1 and (output / "handbook/language/index.html").is_file()
    style = next((root / "styles").glob("*.md"))
    style.write_text(style.read_text(encoding="utf-8") + "\nOne more line.\n", encoding="utf-8")
    assert again() == 0
    assert (output / "handbook/language/index.html").is_file()
    settings = root / "site_template" / "studio.toml"
    settings.parent.mkdir(exist_ok=True)
    settings.write_text('name = "Another name"\n', encoding="utf-8")
    assert again() == 1
