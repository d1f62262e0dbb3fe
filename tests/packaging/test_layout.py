"""What lies at the top of the project, and nothing else."""

from __future__ import annotations

from fnmatch import fnmatch
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TOP = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "catalogue",
    "styles",
    "clients",
    "site_template",
    "tests",
}
"""Besides .ci, .gitignore and other names with a dot."""


def test_the_top_level_holds_what_the_map_says_and_nothing_else() -> None:
    ignored = [line.strip("/") for line in (ROOT / ".gitignore").read_text(encoding="utf-8").split()]
    names = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    made = {name for name in names for pattern in ignored if fnmatch(name, pattern)}
    assert names - made == TOP


def test_only_what_is_made_is_ignored_at_the_top() -> None:
    ignored = [line.strip("/") for line in (ROOT / ".gitignore").read_text(encoding="utf-8").split()]
    assert [name for name in TOP for pattern in ignored if fnmatch(name, pattern)] == []


def test_no_program_lies_among_the_fonts_of_a_site() -> None:
    from catalogue.site.assets import assets
    from catalogue.site.templates import Templates

    assert (ROOT / "site_template/fonts/make_fonts.py").is_file()
    made = assets(Templates(), "#8a3b2a")
    assert any("/fonts/" in path for path in made) and [path for path in made if path.endswith(".py")] == []
