"""Builds made with a small trade of their own in place of drafting: what is made again, and what is left
alone.
"""

from __future__ import annotations

import os
import random
import shutil
import sys
from pathlib import Path

import pytest

from catalogue.building.checking import check
from catalogue.building.common import Common
from catalogue.building.report import Request
from catalogue.building.run import build
from catalogue.building.studio import NotAStudio, UnknownName
from catalogue.building.unit import Source, SourcesOf, UnitName
from tests.building.desk import Desk, change
from tests.building.fakes import FakePair, dangling_links, fakes, site_files
from tests.extent import THOROUGH

LINKS = pytest.mark.skipif(sys.platform == "win32", reason="where anyone may make symbolic links and pipes")


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(tmp_path)


def test_a_first_build_makes_the_whole_layout(desk: Desk) -> None:
    report = desk.build()
    assert report.ok and report.drafts == report.made == 9
    files = site_files(desk.output)
    assert {"index.html", "assets/page.css", ".catalogue.json"} < set(files)
    assert {"styles/style0/index.html", "clients/client2/index.html"} < set(files)
    assert {f"styles/style1/client1/{n}" for n in ("index.html", "draft.svg", "draft.json")} < set(files)
    assert dangling_links(desk.output) == []


def test_a_second_build_touches_nothing(desk: Desk) -> None:
    desk.build()
    before = {p: p.stat() for p in [desk.output, *desk.output.rglob("*")]}
    report = desk.build()
    assert report.changed == () and report.made == 0 and desk.drafts() == []
    after = {p: p.stat() for p in [desk.output, *desk.output.rglob("*")]}
    assert {p: (s.st_mtime_ns, s.st_ctime_ns, s.st_ino) for p, s in before.items()} == {
        p: (s.st_mtime_ns, s.st_ctime_ns, s.st_ino) for p, s in after.items()
    }


def test_times_of_files_mean_nothing(desk: Desk) -> None:
    desk.build()
    for path in desk.studio.rglob("*.md"):
        os.utime(path, (1_000_000_000, 1_000_000_000))
    assert desk.build().changed == ()
    # The same length at the same time, yet another figure.
    path = desk.client(0)
    status = path.stat()
    change(path, "girth = 900", "girth = 950")
    os.utime(path, ns=(status.st_atime_ns, status.st_mtime_ns))
    assert desk.build().made == 3


def test_a_clients_notes_make_no_draft_again(desk: Desk) -> None:
    desk.build()
    change(desk.client(1), "notes", "a high left shoulder")
    report = desk.build()
    assert desk.drafts() == []
    pages = {f"styles/style{n}/client1/index.html" for n in range(3)}
    assert set(report.changed) == pages | {"clients/client1/index.html", "clients/client1/card/index.html"}
    assert site_files(desk.output) == desk.fresh()


def test_one_measurement_makes_only_the_drafts_that_use_it(desk: Desk) -> None:
    desk.build()
    change(desk.client(1), "length2 = 12", "length2 = 17")
    desk.build()
    assert desk.drafts() == ["style2/client1"]
    change(desk.client(1), "girth = 901", "girth = 907")
    desk.build()
    assert desk.drafts() == ["style0/client1", "style1/client1", "style2/client1"]
    assert site_files(desk.output) == desk.fresh()


def test_when_one_client_changes_nothing_is_asked_of_the_others_drafts(desk: Desk) -> None:
    desk.build()
    asked: list[str] = []

    class Asked(FakePair):
        def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
            asked.append(name.client)
            return super().comes_from(common, name, sources)

    change(desk.client(1), "girth = 901", "girth = 907")
    assert build(Request(desk.studio, desk.output, jobs=1), fakes(pair=Asked())).made == 3
    assert asked == ["client1"] * 3
    assert site_files(desk.output) == desk.fresh()


def test_one_style_makes_only_its_own_drafts(desk: Desk) -> None:
    desk.build()
    change(desk.style(0), "need girth\n", "need girth\nneed length1\n")
    desk.build()
    assert desk.drafts() == ["style0/client0", "style0/client1", "style0/client2"]
    assert site_files(desk.output) == desk.fresh()


def test_a_template_makes_pages_again_and_no_draft(desk: Desk) -> None:
    desk.build()
    (desk.studio / "site_template" / "pages").mkdir(parents=True)
    (desk.studio / "site_template" / "pages" / "draft.txt").write_text("our own words")
    report = desk.build()
    assert desk.drafts() == []
    assert set(report.changed) == {
        f"styles/style{s}/client{c}/index.html" for s in range(3) for c in range(3)
    }
    assert site_files(desk.output) == desk.fresh()


def test_settings_and_the_programs_own_version_make_everything_again(desk: Desk) -> None:
    desk.build()
    (desk.studio / "site_template").mkdir()
    (desk.studio / "site_template" / "studio.toml").write_text('name = "Workroom"\n')
    assert desk.build().made == 9
    change(desk.client(0), "notes", "other notes")
    assert desk.build(version="2").made == 9
    assert site_files(desk.output) == desk.fresh("2")


def test_force_makes_everything_but_rewrites_nothing_that_is_the_same(desk: Desk) -> None:
    desk.build()
    page = desk.output / "styles/style0/client0/draft.svg"
    number = page.stat().st_ino
    report = desk.build(force=True)
    assert report.made == 9 and len(desk.drafts()) == 9 and report.changed == ()
    assert page.stat().st_ino == number


def test_a_bad_style_and_a_bad_client_do_not_stop_the_others(desk: Desk) -> None:
    desk.style(1).write_text("need girth\n  BAD word\n")
    desk.client(2).write_text("name: Client 2\ngirth = 900\nBAD\n")
    report = desk.build()
    assert not report.ok and report.drafts == 9
    told = {str(t.finding.place): t for t in report.findings}
    assert set(told) == {"styles/style1.md:2:3", "clients/client2.md:3:1"}
    assert told["styles/style1.md:2:3"].clients == (), "it is about the file, whoever it is drafted for"
    assert (desk.output / "styles/style0/client0/draft.svg").exists()
    again = desk.build()
    assert again.changed == () and again.findings == report.findings, "what is wrong must be said every time"
    assert dangling_links(desk.output) == []


def test_a_missing_measurement_waits_and_is_no_error(desk: Desk) -> None:
    change(desk.client(0), "length1 = 1\n", "")
    report = desk.build()
    assert report.ok and report.waiting == 1
    assert not (desk.output / "styles/style1/client0/draft.svg").exists()


def test_a_style_is_drafted_only_for_whom_it_is_meant(desk: Desk) -> None:
    desk.build()
    desk.style(1).write_text("need girth\nnot for client0\n")
    report = desk.build()
    assert report.drafts == 8 and not (desk.output / "styles/style1/client0").exists()
    assert site_files(desk.output) == desk.fresh() and dangling_links(desk.output) == []
    with pytest.raises(UnknownName, match="nothing to draft"):
        desk.build(styles=("style1",), clients=("client0",))


@pytest.mark.skipif(sys.platform != "linux", reason="where names differ by case alone")
def test_two_files_for_one_name_are_both_named_and_neither_is_made(desk: Desk) -> None:
    (desk.studio / "clients" / "CLIENT1.md").write_text("name: Another\ngirth = 700\n")
    report = desk.build()
    [told] = report.findings
    assert "clients/client1.md" in told.finding.message and "clients/CLIENT1.md" in told.finding.message
    assert not report.ok and report.drafts == 6
    assert not (desk.output / "clients/client1").exists()


def test_a_fault_of_the_program_shows_on_the_page_and_is_tried_again(desk: Desk) -> None:
    desk.style(1).write_text("need girth\nRAISE\n")
    report = desk.build()
    assert not report.ok and "a wheel came off" in report.findings[0].finding.message
    assert b"a wheel came off" in (desk.output / "styles/style1/client0/index.html").read_bytes()
    assert (desk.output / "styles/style0/client0/draft.svg").exists()
    desk.build()
    assert desk.drafts() == ["style1/client0", "style1/client1", "style1/client2"]


def test_a_process_that_dies_takes_only_its_own_draft_with_it(desk: Desk) -> None:
    desk.style(1).write_text("need girth\nCRASH\n")
    report = desk.build(jobs=3)
    assert not report.ok and report.drafts == 9
    assert b"stopped" in (desk.output / "styles/style1/client0/index.html").read_bytes()
    for client in range(3):
        for style in (0, 2):
            assert (desk.output / f"styles/style{style}/client{client}/draft.svg").exists()
    assert dangling_links(desk.output) == []


def test_the_number_of_workers_changes_no_byte(desk: Desk) -> None:
    desk.build(jobs=1)
    one = site_files(desk.output)
    shutil.rmtree(desk.output)
    desk.build(jobs=4)
    assert site_files(desk.output) == one


def test_a_line_that_moves_matters_only_where_something_is_found(desk: Desk) -> None:
    change(desk.client(1), "girth = 901", "girth = 1901")
    report = desk.build()
    assert [(str(t.finding.place), t.clients) for t in report.findings] == [
        ("clients/client1.md:2:1", ("Client 1",))
    ]
    for number in range(3):
        change(desk.client(number), "girth", "hello\ngirth")
    report = desk.build()
    assert desk.drafts() == ["style0/client1", "style1/client1", "style2/client1"]
    assert [str(t.finding.place) for t in report.findings] == ["clients/client1.md:3:1"]
    assert site_files(desk.output) == desk.fresh()


def test_a_folder_that_is_no_studio_is_told_what_one_is(tmp_path: Path) -> None:
    with pytest.raises(NotAStudio, match="has no styles/ and no clients/"):
        build(Request(tmp_path, tmp_path / "site"), fakes())
    with pytest.raises(NotAStudio, match="There is no folder"):
        build(Request(tmp_path / "none", tmp_path / "site"), fakes())


@LINKS
def test_links_out_of_the_studio_and_what_is_no_plain_file_are_not_read(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "secret.md").write_text("name: Secret\ngirth = 1\n")
    (desk.studio / "clients" / "linked.md").symlink_to(tmp_path / "secret.md")
    os.mkfifo(desk.studio / "styles" / "pipe.md")
    (desk.studio / "styles" / "here.md").symlink_to(desk.style(0))
    report = desk.build()
    assert {t.finding.code for t in report.findings} == {"link-outside", "not-a-file"}
    assert b"Secret" not in b"".join(site_files(desk.output).values())
    assert (desk.output / "styles/here/client0/draft.svg").exists()


def test_editors_own_files_are_not_read(desk: Desk) -> None:
    desk.build()
    for name in (".style0.md.swp", "style0.md~", "#style0.md#", ".#style0.md", "4913", "style9.md.tmp"):
        (desk.studio / "styles" / name).write_text("BAD")
    report = desk.build()
    assert report.ok and report.changed == ()


def test_checking_writes_nothing(desk: Desk) -> None:
    desk.style(1).write_text("need girth\nBAD\n")
    before = site_files(desk.folder)
    report = check(Request(desk.studio, desk.output, jobs=2), fakes())
    assert not report.ok and report.drafts == 9
    assert site_files(desk.folder) == before


@pytest.mark.parametrize("seed", range(60 if THOROUGH else 6))
def test_after_any_edits_a_build_equals_a_first_build(desk: Desk, seed: int) -> None:
    chance = random.Random(seed)
    for _ in range(12):
        for _ in range(chance.randint(1, 4)):
            edit(desk, chance)
        if chance.random() < 0.2:
            names = [p.stem for p in (desk.studio / "styles").glob("style*.md")]
            if len({n.casefold() for n in names}) == len(names) and names:
                desk.build(styles=(chance.choice(names),), jobs=chance.choice([1, 2]))
                assert dangling_links(desk.output) == []
                continue
        if chance.random() < 0.3:
            names = chance.choices(["style0", "style1", "style3"], k=2)
            desk.build(first=frozenset((name, f"client{chance.randrange(4)}") for name in names))
            assert dangling_links(desk.output) == []
            if chance.random() < 0.5:
                continue
        desk.build(jobs=chance.choice([1, 2]), force=chance.random() < 0.1)
        assert site_files(desk.output) == desk.fresh()
        assert dangling_links(desk.output) == []


def edit(desk: Desk, chance: random.Random) -> None:
    """One thing that a person may do to a studio between two builds."""
    styles = sorted((desk.studio / "styles").glob("*.md"))
    clients = sorted((desk.studio / "clients").glob("*.md"))
    kind = chance.randrange(9)
    if kind == 0 and clients:
        path = chance.choice(clients)
        path.write_text(path.read_text() + f"a remark {chance.randrange(100)}\n")
    elif kind == 1 and clients:
        path = chance.choice(clients)
        name = f"length{chance.randrange(4)}"
        line = f"{name} = {chance.choice([7, 12, 30, 2000])}\n"
        lines = [w for w in path.read_text().splitlines(keepends=True) if not w.startswith(name)]
        lines.insert(chance.randint(1, len(lines)), line)
        path.write_text("".join(lines))
    elif kind == 2 and styles:
        path = chance.choice(styles)
        path.write_text(f"need girth\nneed length{chance.randrange(5)}\n{chance.choice(['', 'BAD'])}\n")
    elif kind == 3:
        (desk.studio / "styles" / f"style{chance.randrange(5)}.md").write_text("need girth\n")
    elif kind == 4:
        client = desk.studio / "clients" / f"client{chance.randrange(6)}.md"
        client.write_text(f"name: N{chance.randrange(9)}\ngirth = {chance.randrange(9)}\n")
    elif kind == 5 and len(styles) > 1:
        chance.choice(styles).unlink()
    elif kind == 6 and len(clients) > 1:
        chance.choice(clients).rename(desk.studio / "clients" / f"client{chance.randrange(9)}.md")
    elif kind == 7:
        (desk.studio / "site_template").mkdir(exist_ok=True)
        (desk.studio / "site_template" / "studio.toml").write_text(f"name = {chance.randrange(3)}\n")
    elif kind == 8 and desk.output.exists():
        files = [p for p in sorted(desk.output.rglob("*")) if p.is_file()]
        chance.choice(files).unlink()
