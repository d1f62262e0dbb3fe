"""What someone does who keeps files for the first time: each is reported with what to do, and nothing is silent."""

from __future__ import annotations

from pathlib import Path

import pytest

from catalogue.building.studio import find_files, of_one_name
from catalogue.people import Client, read_client
from catalogue.studio.style import Style
from tests.drafting.people_and_styles import style_of

CLIENT = "---\nname: A\nfor: woman\nunits: cm\nmeasured:\n  2026-01-15:\n    waist girth: 76\n---\n\nNotes.\n"


def client(tmp_path: Path, text: str) -> Client:
    (tmp_path / "clients").mkdir()
    path = tmp_path / "clients/a.md"
    path.write_text(text, encoding="utf-8")
    return read_client(path, tmp_path)


@pytest.mark.parametrize(
    ("name", "data", "hint"),
    [
        ("clients/anna.rtf", b"{\\rtf1 name: Anna}", "save it as clients/anna.md"),
        ("clients/anna.docx", b"PK\x03\x04", "save it as clients/anna.md"),
        ("clients/sizes/fair.DOCX", b"PK\x03\x04", "save it as clients/sizes/fair.md"),
        ("clients/anna", CLIENT.encode(), "rename or move it: clients/anna.md"),
        ("styles/skirt", b"\xef\xbb\xbf---\r\ntitle: Skirt\r\n---\r\n", "rename or move it: styles/skirt.md"),
        ("clients/anna.md.txt", CLIENT.encode(), "rename or move it: clients/anna.md"),
    ],
)
def test_a_file_that_is_not_read_is_named(tmp_path: Path, name: str, data: bytes, hint: str) -> None:
    for folder in ("styles", "clients"):
        (tmp_path / folder).mkdir()
    (tmp_path / name).parent.mkdir(exist_ok=True)
    (tmp_path / name).write_bytes(data)
    (tmp_path / "clients/LICENCE").write_text("Anything else is left alone.\n")
    [finding] = find_files(tmp_path).findings
    assert finding.code == "not-read" and finding.hint.endswith(hint)
    assert finding.place and finding.place.file == name


def test_a_second_client_in_one_file_is_no_note(tmp_path: Path) -> None:
    [finding] = client(tmp_path, CLIENT + "\n---\nname: B\nfor: man\n---\n").findings
    assert (finding.code, finding.place and finding.place.line) == ("second-in-file", 12)


@pytest.mark.parametrize("notes", ["\n---\n\nMore: name: it.\n", "\n---\nHer mother's name: Rosa\n---\n"])
def test_a_rule_in_notes_is_none(tmp_path: Path, notes: str) -> None:
    assert client(tmp_path, CLIENT + notes).findings == ()


def test_quote_marks_round_a_figure_are_named(tmp_path: Path) -> None:
    [finding] = client(tmp_path, CLIENT.replace("76", "“76 1/2”")).findings
    assert finding.hint == "Remove the quote marks: write 76 1/2."


def test_a_colon_left_out_of_a_style_is_told_on_its_own_line() -> None:
    [finding] = style_of("a = start", "garment skirt\n").findings
    assert (finding.code, finding.instead) == ("no-colon", "garment: skirt")
    assert finding.place and finding.place.line == 3


def test_two_of_one_name_or_title_are_told() -> None:
    people = [Client(s, f"clients/{s}.md", n, "woman") for s, n in (("a", "Ann Lee"), ("b", "ann  lee"))]
    styles = [Style(s, f"styles/{s}.md", t) for s, t in (("a", "Skirt"), ("b", "skirt"), ("c", "Ann Lee"))]
    codes = [(f.code, f.place and f.place.file) for f in of_one_name(people, styles)]
    assert codes == [("same-client-name", "clients/b.md"), ("same-style-title", "styles/b.md")]
