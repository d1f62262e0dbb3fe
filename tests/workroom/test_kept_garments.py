"""A garment kept as it was cut: its files stay as they were, are shown with the client, and go with it alone."""

from __future__ import annotations

import datetime
import json
import re
import sys

import pytest
from pypdf import PdfReader

from catalogue.building.disk import CannotWrite
from catalogue.building.keeping_cut import keep
from catalogue.building.report import Request
from catalogue.building.run import build
from catalogue.building.studio import UnknownName, find_files
from catalogue.building.units import CATALOGUE
from catalogue.cli import main
from tests.building.odd_studio import CLIENT, STYLE
from tests.workroom.test_orders_made import ORDER, with_orders

DAY = datetime.date(2026, 3, 21)
FOLDER = "clients/bea/2026-03-21 plain"


@pytest.fixture
def studio(tmp_path):
    root = tmp_path / "studio"
    for folder, name, text in (
        ("styles", "plain.md", STYLE),
        ("clients", "bea.md", CLIENT.replace("name: A", "name: Bea")),
        ("clients", "zoe.md", CLIENT.replace("name: A", "name: Zoe")),
    ):
        (root / folder).mkdir(parents=True, exist_ok=True)
        (root / folder / name).write_text(text, encoding="utf-8")
    return root


def made(root, **asked):
    report = build(Request(root, root.parent / asked.pop("out", "site"), jobs=1, **asked), CATALOGUE)
    return root.parent / "site", report


def files_of(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_all_of_it_is_kept_and_nothing_is_replaced(studio):
    first = keep(studio, "plain", "bea", DAY)
    assert first.folder == studio / FOLDER
    before = files_of(first.folder)
    assert sorted(before) == ["as-cut.md", "draft-a4.pdf", "draft.json", "outlines.json"]
    assert PdfReader(first.folder / "draft-a4.pdf").pages
    assert json.loads(before["draft.json"])["style"] == "plain"
    second = keep(studio, "plain", "bea", DAY)
    assert second.folder == studio / f"{FOLDER} 2"
    assert files_of(second.folder) == before == files_of(first.folder)
    assert sorted(p.name for p in (studio / "clients" / "bea").iterdir()) == [
        "2026-03-21 plain",
        "2026-03-21 plain 2",
    ]


def test_it_is_no_client_file_and_nobody_is_warned_of_it(studio):
    keep(studio, "plain", "bea", DAY)
    found = find_files(studio)
    assert found.findings == () and len(found.clients) == 2
    stray = studio / "clients" / "bea" / "notes"
    stray.mkdir()
    (stray / "as-cut.md").write_text("x")
    assert [f.code for f in find_files(studio).findings] == ["not-read"]


def test_it_is_listed_with_its_print_and_compared_as_it_was(studio):
    keep(studio, "plain", "bea", DAY)
    kept = files_of(studio / FOLDER)
    site, report = made(studio)
    assert report.ok
    # The client is measured again: the draft changes, what was cut does not.
    path = studio / "clients" / "bea.md"
    path.write_text(path.read_text().replace("waist girth: 76", "waist girth: 79"))
    old = (site / "styles/plain/bea/outline.js").read_text()
    site, report = made(studio)
    page = (site / "clients/bea/index.html").read_text()
    assert "21 March 2026" in page and "clients/bea/kept/2026-03-21--plain/draft-a4.pdf" in page
    copied = site / "clients/bea/kept/2026-03-21--plain"
    assert (copied / "draft-a4.pdf").read_bytes() == kept["draft-a4.pdf"]
    assert (copied / "as-cut.txt").read_bytes() == kept["as-cut.md"]
    assert 'value="bea@2026-03-21--plain"' in (site / "styles/plain/compare/index.html").read_text()

    def outlines(script):
        return json.loads(script[script.index(",") + 1 : -3])

    then, now = outlines(old), outlines((site / "styles/plain/bea/outline.js").read_text())
    assert then["2026-03-21--plain"] == then[""] == now["2026-03-21--plain"] != now[""]
    assert "What was cut" not in (site / "clients/zoe/index.html").read_text()
    # Taken away, it is gone from the site.
    for file in (studio / FOLDER).iterdir():
        file.unlink()
    made(studio)
    assert not (site / "clients/bea/kept").exists()
    assert "2026-03-21--plain" not in (site / "styles/plain/bea/outline.js").read_text()


def test_a_copy_has_what_was_cut_for_its_own_client_alone(studio):
    keep(studio, "plain", "bea", DAY)
    keep(studio, "plain", "zoe", DAY)
    _, report = made(studio, out="copy", recipient="bea")
    copy = studio.parent / "copy"
    assert report.ok and (copy / "clients/bea/kept/2026-03-21--plain/draft-a4.pdf").is_file()
    assert not (copy / "clients/zoe").exists()
    (studio / "clients/zoe.md").unlink()
    for file in (studio / "clients/zoe/2026-03-21 plain").iterdir():
        file.unlink()
    made(studio, out="alone", recipient="bea")
    paths = [
        {p.relative_to(d): p for d in (top,) for p in d.rglob("*.*")}
        for top in (copy, studio.parent / "alone")
    ]
    assert paths[0].keys() == paths[1].keys()


def test_a_spoilt_one_is_reported_and_shown_nowhere(studio):
    keep(studio, "plain", "bea", DAY)
    outlines = studio / FOLDER / "outlines.json"
    for wrong in ("{", outlines.read_text().replace('"path": "M', '"path": "url(x)M')):
        outlines.write_text(wrong)
        site, report = made(studio)
        assert [told.finding.code for told in report.findings if told.finding.code == "kept-spoilt"] == [
            "kept-spoilt"
        ]
        assert "What was cut" not in (site / "clients/bea/index.html").read_text()


def test_one_put_into_the_folder_of_someone_else_is_shown_to_nobody(studio):
    keep(studio, "plain", "zoe", DAY)
    (studio / "clients/zoe").rename(studio / "clients/bea")
    for asked in ({}, {"out": "copy", "recipient": "bea"}):
        _, report = made(studio, **asked)
        [told] = [told.finding for told in report.findings if told.finding.code == "kept-for-another"]
        assert "another name than “Bea”" in told.message
    assert not any(b"Zoe" in path.read_bytes() for path in (studio.parent / "copy").rglob("*.*"))


def test_the_sheet_tells_order_cloth_and_measurements(studio):
    path = studio / "clients" / "bea.md"
    path.write_text(with_orders(CLIENT, ORDER.format(style="plain", cloth="Grey Tweed")))
    (studio / "clients" / "cloths.md").write_text("---\ncloths:\n  grey tweed:\n    width: 150 cm\n---\n")
    text = (keep(studio, "plain", "bea", DAY).folder / "as-cut.md").read_text()
    assert "Order: blue one." in text and "main: Grey Tweed" in text
    assert re.search(r"- [a-z ]+: [\d.]+ cm, taken \d{4}-\d\d-\d\d", text)
    assert "97.31" not in text
    with pytest.raises(UnknownName, match="Did you mean “blue one”"):
        keep(studio, "plain", "bea", DAY, "red one")


def test_a_draft_that_is_not_whole_is_not_kept(studio, capsys):
    (studio / "styles/plain.md").write_text(STYLE + "\n## Wrong\n\n```draft\nno such word here\n```\n")
    assert main(["keep", "plain", "bea", str(studio), "--date", "2026-03-21"]) == 1
    assert "nothing to keep" in capsys.readouterr().err
    assert not (studio / "clients/bea").exists()


def test_the_command_says_what_it_wrote(studio, capsys):
    assert main(["keep", "plain", "Bea", str(studio), "--date", "2026-03-21"]) == 0
    assert f"{FOLDER}/as-cut.md" in capsys.readouterr().out
    with pytest.raises(SystemExit):
        main(["keep", "plain", "Bea", str(studio), "--date", "21 March"])
    assert "not a date" in capsys.readouterr().err
    for year in ("2206", "0206"):
        assert main(["keep", "plain", "Bea", str(studio), "--date", f"{year}-03-21"]) == 2
        assert "check the year" in capsys.readouterr().err


def test_a_folder_that_can_t_be_written_is_said(studio):
    (studio / "clients" / "bea").write_text("in the way")
    with pytest.raises(CannotWrite, match="can't be written"):
        keep(studio, "plain", "bea", DAY)


AGAIN = """
orders:
  once more:
    style: plain
    ordered: 2026-09-01
    due: 2026-10-01
    as cut: 2026-03-21
"""


@pytest.mark.skipif(sys.platform == "win32", reason="makes links that Windows does not have")
def test_nothing_is_kept_behind_a_link_where_no_build_reads_it(studio, tmp_path):
    (tmp_path / "elsewhere").mkdir()
    (studio / "clients/bea").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(CannotWrite, match="is a link"):
        keep(studio, "plain", "bea", DAY)
    assert not list((tmp_path / "elsewhere").iterdir())


def test_an_order_makes_a_garment_again_as_it_was_cut(studio):
    """What was measured since counts for the ordinary draft alone; the order's page says whether anything differs."""
    client = studio / "clients" / "bea.md"
    text = client.read_text(encoding="utf-8")
    head, rest = text.split("\n---\n", 1)
    client.write_text(f"{head}{AGAIN}---\n{rest}", encoding="utf-8")
    site, report = made(studio)
    page = (site / "workroom" / "bea" / "index.html").read_text(encoding="utf-8")
    assert "nothing of this style was kept on 2026-03-21" in page
    assert [t.finding.code for t in report.findings] == ["order-not-kept"]
    keep(studio, "plain", "bea", DAY)
    site, report = made(studio)
    assert [t.finding.code for t in report.findings] == []
    page = (site / "workroom" / "bea" / "index.html").read_text(encoding="utf-8")
    assert "Made again as cut on 21 March 2026" in page and "Every edge is as it was cut." in page
    outlines = studio / FOLDER / "outlines.json"
    told = json.loads(outlines.read_text(encoding="utf-8"))
    [piece] = list(told["outlines"]["pieces"].values())[:1]
    piece["edges"][0][1] += 7.0
    outlines.write_text(json.dumps(told), encoding="utf-8")
    site, _ = made(studio)
    page = (site / "workroom" / "bea" / "index.html").read_text(encoding="utf-8")
    assert "What differs from what was cut" in page and "Every edge" not in page
