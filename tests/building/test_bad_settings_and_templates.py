"""Settings and templates that are wrong: the usual stands in, and a page costs no drawing."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.building.fakes import site_files
from tests.building.odd_studio import Desk


@pytest.fixture
def desk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Desk:
    return Desk(tmp_path, capsys)


BAD_SETTINGS = {
    "no TOML": ("name = ", 1),
    "a key twice": ('name = "a"\nname = "b"', 2),
    "an unknown key": ('nmae = "a"', 1),
    "a number for a name": ("name = 3", 1),
    "a name too long": (f'name = "{"x" * 5000}"', 1),
    "a paper that is none": ('papers = ["a9"]', 1),
    "a margin wider than paper": ('\nmargin = "3 m"', 2),
    "a colour that is none": ('accent = "url(http://example.org)"', 1),
    "a date that is none": ('date = "2026-02-30"', 1),
    "an infinite length": ("hem = inf", 1),
    "a number of 5,000 figures": (f"hem = {'9' * 5000}", 1),
    "deep lists": (f"papers = {'[' * 5000}", 1),
    "another encoding": ("name = 'José'".encode("latin-1"), 1),
    "a list of a thousand": (f"papers = {['a4'] * 1000}".replace("'", '"') + "\nlanguage = '<b>'", 2),
    "a key of 100,000 parts": ("a." * 100_000 + "b = 1", 1),
    "a control character by its code": ('name = "a\\u0000b"\nstrapline = "می\u200cدوزیم"', 1),
    "a control character": ('name = "a\x01b"', 1),
}


@pytest.mark.parametrize("kind", BAD_SETTINGS)
def test_settings_that_are_wrong(desk: Desk, kind: str) -> None:
    text, line = BAD_SETTINGS[kind]
    desk.write("site_template/studio.toml", text)
    told = desk.run()
    assert told.status == 1, told.printed
    assert [(m["file"], int(m["line"])) for m in told.findings()] == [("site_template/studio.toml", line)]
    assert (desk.output / "styles/first-skirt/first-client/draft-a4.pdf").is_file(), "the usual stands in"


BAD_TEMPLATES: dict[str, tuple[str, str | bytes, int, str]] = {
    "a brace too few": ("draft.html", "{% extends 'base.html' %}\n{{ client.name }", 2, "can't be read"),
    "a block left open": ("style.html", "\n{% block x %}", 2, "can't be read"),
    "an unknown tag": ("index.html", "\n\n{% nonsense %}", 3, "can't be read"),
    "an unknown filter": ("index.html", "\n{{ cards|nofilter }}", 2, "nofilter"),
    "an unknown name": ("draft.html", "a\nb\n  {{ nonsense.x }}", 3, "there is no “nonsense”"),
    "a part that is not there": ("client.html", "\n{{ client.no_such }}", 2, "no “no_such” in a client"),
    "a template that is not there": (
        "draft.html",
        "{% include 'pats.html' %}",
        1,
        "Did you mean “parts.html”?",
    ),
    "a way out of the folder": ("draft.html", "{% include '../studio.toml' %}", 1, "there is no template"),
    "an absolute path": ("draft.html", "{% include '/etc/passwd' %}", 1, "there is no template"),
    "a circle": ("base.html", "{% extends 'base.html' %}", 1, "circle"),
    "a division by nothing": ("card.html", "\n{{ 1/0 }}", 2, "can't be worked out"),
    "another encoding": ("draft.html", "<p>José".encode("latin-1"), 1, "not in UTF-8"),
    "UTF-16 cut off": ("draft.html", b"\xff\xfe\x00", 1, "broken"),
    "parts missing": ("parts.html", "nothing", 1, "cannot use this"),
    "a handbook page": ("handbook/chapter.html", "\n{{ chapter.x.y }}", 2, "no “x” in a chapter"),
}


@pytest.mark.parametrize("kind", BAD_TEMPLATES)
def test_a_template_that_is_wrong_names_its_file_and_line(desk: Desk, kind: str) -> None:
    name, text, line, words = BAD_TEMPLATES[kind]
    desk.write(f"site_template/{name}", text)
    told = desk.run()
    assert told.status == 1 and words in told.printed, told.printed
    assert {(m["file"], int(m["line"])) for m in told.findings()} == {(f"site_template/{name}", line)}
    folder = desk.output / "styles/first-skirt/first-client"
    assert (folder / "draft-a4.pdf").is_file() and (folder / "index.html").is_file(), (
        "a page costs no drawing"
    )
    pages = [p.read_text(encoding="utf-8") for p in desk.output.rglob("*.html")]
    assert any(f"site_template/{name}:{line}:" in page for page in pages), (
        "the page says what is wrong with it"
    )


def test_templates_behind_a_link_that_leads_out_are_not_followed(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "outside.html").write_text("from outside")
    (tmp_path / "outside.css").write_text("from outside")
    (desk.studio / "site_template" / "draft.html").symlink_to(tmp_path / "outside.html")
    (desk.studio / "site_template" / "catalogue.css").symlink_to(tmp_path / "outside.css")
    told = desk.run()
    assert told.status == 1 and told.printed.count("leads out") == 2
    assert b"from outside" not in b"".join(site_files(desk.output).values())
