"""Nothing is erased, overwritten or kept stale unnoticed: sources that vanish, links, spoilt files, a lost journal."""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path

import pytest

from catalogue.building import disk, manifest, publish, published
from catalogue.building.checking import check
from catalogue.building.folder import JOURNAL, STAGING, OutputFolder, Refused
from catalogue.building.published import verify
from catalogue.building.report import Report, Request
from catalogue.building.run import build
from catalogue.building.studio import CannotRead, find_files
from catalogue.cli import main
from tests.building.fakes import fakes, site_files, write_studio
from tests.building.test_publish import Killed, kill_at

LINKS = pytest.mark.skipif(sys.platform == "win32", reason="makes links")


class Desk:
    """A studio of fakes with its catalogue."""

    def __init__(self, folder: Path, styles: int = 2, clients: int = 2) -> None:
        self.folder = folder
        self.studio, self.output = write_studio(folder / "studio", styles, clients), folder / "site"

    def build(self, **asked: object) -> Report:
        return build(Request(self.studio, self.output, jobs=1, **asked), fakes())  # type: ignore[arg-type]

    def fresh(self) -> dict[str, bytes]:
        fresh = self.folder / "fresh"
        shutil.rmtree(fresh, ignore_errors=True)
        build(Request(self.studio, fresh, jobs=1), fakes())
        return site_files(fresh)


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Desk:
    # As if the studio were so large that its manifest stands in parts.
    monkeypatch.setattr(manifest, "FEW", 4)
    monkeypatch.setattr(manifest, "PART", 12)
    return Desk(tmp_path)


# ---- sources that vanish ----


@LINKS
@pytest.mark.parametrize("file", ["clients/measurements.md", "clients/zoe.md", "styles/new.md"])
def test_what_is_not_read_is_told_as_long_as_it_is_there(desk: Desk, file: str) -> None:
    """A pipe has no contents to compare, so nothing else differs from the last build."""
    desk.build()
    os.mkfifo(desk.studio / file)
    told = [t.finding.place and t.finding.place.file for t in desk.build().findings]
    assert told == [file]
    (desk.studio / file).unlink()
    assert desk.build().findings == ()


def test_a_folder_that_cannot_be_listed_stops_build_and_check(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk.build()
    before = site_files(desk.output)
    real = os.scandir

    def scandir(path: str) -> object:
        # Tests may run as one who may read everything, so that taking away the permission does nothing.
        if Path(path).name == "clients" and Path(path).parent == desk.studio:
            raise PermissionError(13, "Permission denied", str(path))
        return real(path)

    monkeypatch.setattr(os, "scandir", scandir)
    with pytest.raises(CannotRead, match=r"“clients” can't be read: Permission denied"):
        desk.build()
    with pytest.raises(CannotRead):
        check(Request(desk.studio, desk.output, jobs=1), fakes())
    monkeypatch.undo()
    assert site_files(desk.output) == before


def test_a_file_that_cannot_be_read_stops_the_build(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    from catalogue.building import fingerprint

    desk.build()
    before = site_files(desk.output)
    real = fingerprint.of_file

    def of_file(path: Path) -> str:
        if path.name == "client1.md":
            raise OSError(5, "Input/output error", str(path))
        return real(path)

    monkeypatch.setattr(fingerprint, "of_file", of_file)
    with pytest.raises(CannotRead, match=r"“clients/client1\.md” can't be read: Input/output error"):
        desk.build()
    monkeypatch.undo()
    assert site_files(desk.output) == before


def test_a_file_taken_away_while_files_are_looked_at_is_simply_gone(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    from catalogue.building import fingerprint

    real = fingerprint.of_file

    def of_file(path: Path) -> str:
        if path.name == "client1.md":
            raise FileNotFoundError(2, "No such file", str(path))
        return real(path)

    monkeypatch.setattr(fingerprint, "of_file", of_file)
    assert [path.name for path in find_files(desk.studio).clients] == ["client0.md"]


@pytest.mark.parametrize("folder", ["clients", "styles"])
def test_when_all_are_gone_the_build_asks_first(desk: Desk, folder: str) -> None:
    desk.build()
    before = site_files(desk.output)
    for path in (desk.studio / folder).iterdir():
        path.unlink()
    with pytest.raises(
        Refused, match=rf"All 2 {folder[:-1]} files .* no longer in {folder}/.*--allow-removal"
    ):
        desk.build()
    with pytest.raises(Refused):
        desk.build(force=True)
    assert site_files(desk.output) == before
    told = check(Request(desk.studio, desk.output, jobs=1), fakes())
    assert not told.ok and "--allow-removal" in str(told.findings[0].finding)
    assert desk.build(allow_removal=True).drafts == 0
    assert site_files(desk.output) == desk.fresh()
    assert desk.build().changed == (), "what was confirmed is not asked again"


def test_more_than_half_of_ten_is_asked_and_less_is_not(tmp_path: Path) -> None:
    desk = Desk(tmp_path, 1, 10)
    desk.build()
    clients = sorted((desk.studio / "clients").iterdir())
    for path in clients[:5]:
        path.unlink()
    kept = [path.read_text() for path in clients[5:]]
    desk.build()
    for path in clients[5:9]:
        path.unlink()
    desk.build()
    assert desk.fresh() == site_files(desk.output), "of five, four may go unasked"
    for number, text in enumerate(kept * 2):
        (desk.studio / "clients" / f"new{number}.md").write_text(text)
    desk.build()
    for number in range(7):
        (desk.studio / "clients" / f"new{number}.md").unlink()
    with pytest.raises(Refused, match="7 of the 11 client files"):
        desk.build()


def test_the_command_confirms_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from catalogue.starter import make_studio

    studio = tmp_path / "studio"
    make_studio(studio)
    assert main(["build", str(studio), "--jobs", "1"]) == 0
    (studio / "clients" / "first-client.md").unlink()
    assert main(["build", str(studio), "--jobs", "1"]) == 2
    assert "All 1 client files" in capsys.readouterr().err
    assert main(["check", str(studio), "--jobs", "1"]) == 1
    assert main(["build", str(studio), "--jobs", "1", "--allow-removal"]) == 0


# ---- a first build that is killed ----


def test_a_first_build_killed_at_any_step_is_taken_up_again(tmp_path: Path) -> None:
    desk = Desk(tmp_path, 2, 2)
    good = desk.fresh()
    for nth in range(1, 400, 3):
        desk.output = tmp_path / f"site{nth}"
        with pytest.MonkeyPatch.context() as patch:
            kill_at(nth, patch)
            try:
                desk.build()
                finished = True
            except Killed:
                finished = False
        desk.build()
        assert site_files(desk.output) == good, nth
        shutil.rmtree(desk.output)
        if finished:
            break
    assert finished and nth > 60


def test_a_strangers_folder_is_not_taken_for_a_broken_build(desk: Desk) -> None:
    left = desk.output / f"{STAGING}1"
    left.mkdir(parents=True)
    (desk.output / "holiday.jpg").write_bytes(b"jpg")
    with pytest.raises(Refused, match="did not write"):
        desk.build()
    assert (desk.output / "holiday.jpg").exists()


# ---- links inside the output ----


@LINKS
@pytest.mark.parametrize("place", ["styles", "styles/style0", "styles/style0/client0", "clients"])
def test_a_link_to_elsewhere_is_refused_and_nothing_behind_it_changes(desk: Desk, place: str) -> None:
    desk.build()
    elsewhere = desk.folder / "elsewhere"
    shutil.move(desk.output / place, elsewhere)
    (elsewhere / "private.txt").write_text("private")
    (desk.output / place).symlink_to(elsewhere)
    before = site_files(elsewhere)
    for path in (desk.studio / "clients").iterdir():
        path.write_text(path.read_text().replace("girth = 9", "girth = 8"))
    (desk.studio / "styles" / "style1.md").unlink()
    with pytest.raises(Refused, match="is a link to another place"):
        desk.build(force=True)
    assert site_files(elsewhere) == before


@LINKS
def test_moves_of_a_killed_build_follow_no_link(desk: Desk) -> None:
    desk.build()
    elsewhere = desk.folder / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "x.html").write_text("theirs")
    (desk.output / "behind").symlink_to(elsewhere)
    left = desk.output / f"{STAGING}1"
    left.mkdir()
    (left / "0").write_text("ours")
    (left / JOURNAL).write_text('[["behind/x.html", "0", 0, ""]]')
    with pytest.raises(Refused, match="is a link"):
        desk.build()
    assert (elsewhere / "x.html").read_text() == "theirs"


@LINKS
def test_what_is_written_is_not_written_through_a_link(tmp_path: Path) -> None:
    (tmp_path / "theirs").write_text("theirs")
    (tmp_path / "link").symlink_to(tmp_path / "theirs")
    with pytest.raises(FileExistsError):
        disk.write(tmp_path / "link", b"ours")
    assert (tmp_path / "theirs").read_text() == "theirs"
    other = tmp_path / "site"
    (tmp_path / "folder").mkdir()
    (tmp_path / "folder" / "kept").write_text("theirs")
    other.mkdir()
    (other / f"{STAGING}1").symlink_to(tmp_path / "folder")
    build(Request(write_studio(tmp_path / "studio"), other, jobs=1), fakes())
    assert (tmp_path / "folder" / "kept").exists() and not (other / f"{STAGING}1").is_symlink()


# ---- files that were spoilt, or written over ----

PRINT = "styles/style0/client0/draft.svg"


def test_a_file_overwritten_with_noughts_of_its_length_is_made_again(desk: Desk) -> None:
    desk.build()
    good = site_files(desk.output)
    (desk.output / PRINT).write_bytes(bytes(len(good[PRINT])))
    report = desk.build()
    assert report.changed == (PRINT,) and site_files(desk.output) == good
    assert desk.build().made == 0


def test_some_files_are_looked_into_though_nothing_speaks_against_them(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk.build()
    good = site_files(desk.output)
    (desk.output / PRINT).write_bytes(bytes(len(good[PRINT])))
    # As if the disk had gone wrong: no time has changed.
    monkeypatch.setattr(published, "PICKED", 0)
    os.utime(desk.output / manifest.NAME)
    assert desk.build().changed == ()
    monkeypatch.setattr(published, "PICKED", 1000)
    for _ in range(200):  # one file of each unit is picked
        if desk.build().changed:
            break
    assert site_files(desk.output) == good


def test_what_was_merely_touched_is_looked_into_once(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    desk.build()
    monkeypatch.setattr(published, "PICKED", 0)
    looked: list[str] = []
    real = published.digest_of
    monkeypatch.setattr(published, "digest_of", lambda path: looked.append(str(path)) or real(path))
    assert desk.build().changed == () and looked == []
    shutil.copytree(desk.output, desk.folder / "copy", copy_function=shutil.copyfile)
    desk.output = desk.folder / "copy"
    for path in desk.output.rglob("*.svg"):
        path.touch()
    assert desk.build().changed == () and looked
    looked.clear()
    assert desk.build().changed == () and looked == []


def test_verify_names_what_is_missing_changed_and_foreign(
    desk: Desk, capsys: pytest.CaptureFixture[str]
) -> None:
    desk.build()
    assert verify(desk.output).ok and verify(desk.output).files == len(site_files(desk.output)) - 1
    (desk.output / PRINT).write_bytes(bytes((desk.output / PRINT).stat().st_size))
    os.utime(desk.output / manifest.NAME)
    (desk.output / "index.html").unlink()
    (desk.output / "mine.txt").write_text("mine")
    found = verify(desk.output)
    assert (found.missing, found.changed, found.others) == (("index.html",), (PRINT,), ("mine.txt",))
    assert main(["verify", str(desk.studio), "--out", str(desk.output)]) == 1
    told = capsys.readouterr().out
    assert f"changed: {PRINT}" in told and "missing: index.html" in told and "1 missing, 1 changed" in told
    assert main(["verify", str(desk.studio)]) == 1
    assert "no catalogue" in capsys.readouterr().err
    desk.build(force=True)
    assert main(["verify", str(desk.studio), "--out", str(desk.output)]) == 0
    (desk.output / manifest.NAME).write_text("{}")
    assert "damaged" in verify(desk.output).trouble


@pytest.mark.skipif(sys.platform == "win32", reason="makes files that Windows does not have")
@pytest.mark.parametrize("path", [manifest.NAME, "index.html", PRINT])
def test_a_pipe_in_the_catalogue_is_not_waited_for(desk: Desk, path: str) -> None:
    desk.build()
    good = site_files(desk.output)
    (desk.output / path).unlink()
    os.mkfifo(desk.output / path)
    assert not verify(desk.output).ok
    desk.build()
    assert verify(desk.output).ok and (desk.output / path).read_bytes() == good[path]


def test_verify_does_not_blame_what_a_build_is_writing(desk: Desk) -> None:
    desk.build()
    (desk.output / ".catalogue-new-a1").mkdir()
    (desk.output / ".catalogue-new-a1/moves.json").write_text("{}")
    assert verify(desk.output).ok and verify(desk.output).others == ()
    (desk.output / "index.html").unlink()
    assert verify(desk.output).missing == ("index.html",)
    folder = OutputFolder(desk.output)
    folder.claim()
    try:
        assert "A build was writing" in verify(desk.output).trouble
    finally:
        folder.release()


def test_ones_own_annotated_print_is_set_aside_and_named(desk: Desk) -> None:
    desk.build()
    (desk.output / PRINT).write_text("with my own notes, and longer")
    report = desk.build()
    [told] = report.findings
    assert PRINT in told.finding.message and report.ok and PRINT in report.changed
    files = site_files(desk.output)
    assert files.pop("styles/style0/client0/draft.set-aside.svg") == b"with my own notes, and longer"
    assert files == desk.fresh()
    (desk.output / PRINT).write_text("other notes")
    desk.build(force=True)
    assert (desk.output / "styles/style0/client0/draft.set-aside-2.svg").read_text() == "other notes"
    assert desk.build().findings == ()


def test_of_a_client_who_goes_nothing_stays_unmentioned(desk: Desk) -> None:
    desk.build()
    (desk.output / PRINT).write_text("my notes")
    (desk.studio / "clients" / "client0.md").unlink()
    report = desk.build()
    assert [told.finding.code for told in report.findings] == ["set-aside"]
    left = [path for path in site_files(desk.output) if "client0" in path]
    assert left == ["styles/style0/client0/draft.set-aside.svg"]


def test_files_of_others_in_the_folder_of_records_survive(desk: Desk) -> None:
    desk.build()
    mine = desk.output / manifest.RECORDS / "mine.txt"
    mine.write_text("mine")
    (desk.output / manifest.NAME).unlink()
    (desk.studio / "styles" / "style1.md").unlink()
    desk.build()
    assert mine.read_text() == "mine"
    assert not (desk.output / manifest.RECORDS / "style1").exists()


def test_a_file_where_a_folder_is_wanted_is_set_aside(desk: Desk) -> None:
    desk.build()
    (desk.output / "styles" / "new").write_text("mine")
    (desk.studio / "styles" / "new.md").write_text("need girth\n")
    assert [told.finding.code for told in desk.build().findings] == ["set-aside"]
    files = site_files(desk.output)
    assert files.pop("styles/new.set-aside") == b"mine" and files == desk.fresh()


def test_what_lies_in_a_drafts_folder_stays_when_the_folder_is_exchanged(desk: Desk) -> None:
    desk.build()
    draft = desk.output / "styles/style0/client0"
    (draft / "mine").mkdir()
    (draft / "mine" / "note.txt").write_text("mine")
    kept = (draft / "mine" / "note.txt").stat().st_ino
    client = desk.studio / "clients" / "client0.md"
    client.write_text(client.read_text().replace("girth = 900", "girth = 901"))
    before = draft.stat().st_ino
    desk.build()
    assert (draft / "mine" / "note.txt").stat().st_ino == kept
    assert (draft.stat().st_ino != before) == disk.can_exchange(desk.folder)


# ---- losses of power ----


def test_things_are_written_out_in_the_order_that_a_loss_of_power_asks_for(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The order is that of https://sqlite.org/atomiccommit.html, 3.7 to 3.11."""
    desk.build()
    for path in (desk.studio / "clients").iterdir():
        path.write_text(path.read_text().replace("girth = 9", "girth = 8"))
    done: list[tuple[str, str]] = []
    moved: list[str] = []
    real = {word: getattr(disk, word) for word in ("sync", "replace", "exchange", "remove_tree")}

    def name(path: Path) -> str:
        return path.relative_to(desk.output).as_posix()

    def sync(paths: list[Path]) -> None:
        done.extend(("sync", name(path)) for path in paths)

    def replace(source: Path, target: Path) -> None:
        done.append(("list" if target.name == JOURNAL else "move", name(target)))
        real["replace"](source, target)

    def exchange(one: Path, other: Path) -> None:
        if other.name != "b":  # a trial
            done.append(("move", name(other)))
        real["exchange"](one, other)

    def remove_tree(path: Path) -> None:
        done.append(("discard", name(path)))
        real["remove_tree"](path)

    for word, stand_in in (
        ("sync", sync),
        ("replace", replace),
        ("exchange", exchange),
        ("remove_tree", remove_tree),
    ):
        monkeypatch.setattr(disk, word, stand_in)
    desk.build()
    words = [word for word, _ in done]
    listed, thrown = words.index("list"), words.index("discard")
    before = {path for word, path in done[:listed] if word == "sync"}
    made = {path for word, path in done[:listed] if word == "move"}
    assert made <= before, "contents first"
    stage = done[thrown][1]
    assert f"{stage}/{manifest.NAME}" in before and f"{stage}/{JOURNAL}.part" in before
    moved = [path for word, path in done[listed + 1 : thrown] if word == "move"]
    first = next(n for n, (word, _) in enumerate(done) if n > listed and word == "move")
    assert {path for word, path in done[listed:first] if word == "sync"} == {stage, "."}
    last = max(n for n, (word, _) in enumerate(done) if word == "move")
    after = {path for word, path in done[last:thrown] if word == "sync"}
    assert moved and {Path(path).parent.as_posix() for path in moved} <= after


def test_syncing_reaches_the_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(disk, "SYNCS", True)
    calls: list[int] = []
    real = os.fsync
    monkeypatch.setattr(os, "fsync", lambda handle: calls.append(handle) or real(handle))
    (tmp_path / "a").write_bytes(b"a")
    disk.sync([tmp_path / "a", tmp_path, tmp_path / "gone"])
    assert len(calls) == 2
    disk.sync([tmp_path / "a"] * (disk.FEW + 1))


@pytest.mark.parametrize("emptied", [True, False])
def test_a_lost_journal_ends_in_a_whole_catalogue_though_the_studio_is_as_it_was(
    desk: Desk, emptied: bool
) -> None:
    desk.build()
    good = site_files(desk.output)
    client = desk.studio / "clients" / "client0.md"
    text = client.read_text()
    client.write_text(text.replace("girth = 900", "girth = 901"))
    with pytest.MonkeyPatch.context() as patch:
        done = 0
        real = disk.exchange if disk.can_exchange(desk.folder) else disk.replace

        def move(one: Path, other: Path) -> None:
            nonlocal done
            done += desk.output in other.parents and STAGING not in str(other)
            if done > 1:
                raise Killed
            real(one, other)

        patch.setattr(disk, "exchange" if disk.can_exchange(desk.folder) else "replace", move)
        patch.setattr(publish, "_undo", lambda *_: None)
        patch.setattr(disk, "remove_tree", lambda _: None)
        with pytest.raises(Killed):
            desk.build()
    assert site_files(desk.output) != good
    [journal] = desk.output.glob(f"{STAGING}*/{JOURNAL}")
    if emptied:
        journal.write_bytes(b"")
    else:
        journal.unlink()
    # Put back with times that tell nothing, as a copy of the whole disk would be.
    client.write_text(text)
    os.utime(desk.output / manifest.NAME)
    desk.build()
    assert site_files(desk.output) == good and verify(desk.output).ok
