"""Files whose names try to escape, are the same somewhere, or can't be shown; folders that are no folders."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest

from tests.building.odd_studio import CLIENT, Desk, pages_of_clients
from tests.building.test_rooms import SECOND

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="makes files that Windows does not have")


@pytest.fixture
def desk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Desk:
    return Desk(tmp_path, capsys)


NAMES = (
    "a.. ..",
    "a..%2f..%2fetc",
    "con",
    "NUL",
    "Com1",
    "lpt9.x",
    "index",
    "draft",
    "site",
    "-rf",
    "a b",
    "a'b\"`c",
    "<b>x",
    "$(touch x)",
    "x" * 240,
    "y" * 250,
    "💃🏽",
    "ليلى",
    "ab\u202egnp",
    "Đặng Thùy",
    "аnnа",  # Cyrillic letters among Latin ones
    "ａｎｎ",
    "é",
    "e\u0301e",
    "陈",
    "trailing.",
    "a;b|c&d",
    "%00",
    "\\\\server\\share",
    "C:x",
)


def test_names_that_try_to_escape_are_plain_folders(desk: Desk) -> None:
    """Traversal, absolute, reserved on Windows, very long, mixed scripts, emoji, right-to-left, quotes, wildcards."""
    for name in NAMES:
        written = "Q" if "'" in name or len(name) > 200 else f"'{name}'"
        desk.write(f"clients/{name}.md", CLIENT.replace("name: A", f"name: {written}"))
    told = desk.run()
    assert told.status == 0, told.printed
    assert len(pages_of_clients(desk.output)) == len(NAMES)


def test_names_of_styles_that_try_to_escape(desk: Desk) -> None:
    for name in NAMES[::3]:
        desk.write(f"styles/{name}.md", SECOND)
    told = desk.run()
    assert told.status == 0, told.printed
    assert len(list((desk.output / "styles").glob("*/first-client/draft.json"))) == len(NAMES[::3]) + 1


@pytest.mark.parametrize(
    "names",
    [("Anna", "anna"), ("Anna", "ANNA", "anna "), ("é", "e\u0301"), ("a b", "a-b", "a_b"), ("ǅ", "ǆ")],
)
def test_names_that_are_the_same_somewhere_are_told_and_not_mixed_up(
    desk: Desk, names: tuple[str, ...]
) -> None:
    for name in names:
        desk.write(f"clients/{name}.md", CLIENT)
    told = desk.run()
    if len(pages_of_clients(desk.output)) < len(names):
        assert told.status == 1 and len(told.findings()) == len(names) - 1
        assert "would both be called" in told.printed and pages_of_clients(desk.output) == []


UNSHOWN = ("a\nb", "c\td", "\x1b[31m", "e\udcff", "f\x7f", "g\u2028h")


@pytest.mark.parametrize("folder", ["clients", "styles", "site_template"])
def test_names_that_can_not_be_shown_are_not_read(desk: Desk, folder: str) -> None:
    for name in UNSHOWN:
        desk.write(f"{folder}/{name}.md", SECOND if folder == "styles" else CLIENT)
    told = desk.run()
    assert told.status == 1 and told.printed.count("cannot be shown") == len(UNSHOWN)
    assert len(told.findings()) == len(UNSHOWN) and all("\ufffd" in m["file"] for m in told.findings())
    assert pages_of_clients(desk.output) == []


def test_folders_that_are_links_out_of_the_studio(desk: Desk, tmp_path: Path) -> None:
    shutil.copytree(desk.studio / "clients", tmp_path / "elsewhere")
    (tmp_path / "elsewhere" / "private.md").write_text(CLIENT)
    (desk.studio / "clients" / "more").symlink_to(tmp_path / "elsewhere")
    (desk.studio / "styles" / "more").symlink_to("/")
    run = desk.run()
    assert run.status == 1 and run.printed.count("this folder is a link, so nothing in it is read") == 2
    assert pages_of_clients(desk.output) == []


def test_a_folder_named_as_a_file_is_no_file(desk: Desk) -> None:
    for file in ("clients/a.md", "styles/b.md", "site_template/draft.html", "site_template/catalogue.css"):
        (desk.studio / file).mkdir()
    assert desk.run().status == 0
