"""Putting a catalogue in place: wholly old or wholly new, whatever fails, and whenever the build is killed."""

from __future__ import annotations

import errno
import itertools
import json
import os
import random
import re
import shutil
import signal
import sys
import time
from functools import partial
from pathlib import Path

import pytest

from catalogue.building import disk, manifest, publish, switching
from catalogue.building.common import Common
from catalogue.building.disk import CannotWrite
from catalogue.building.folder import Busy, OutputFolder
from catalogue.building.made_units import MadeUnit, Written, safe
from catalogue.building.manifest import Head, Manifest
from catalogue.building.publish import changes, commit
from catalogue.building.published import Published
from catalogue.building.recovering import recover
from catalogue.building.report import Request
from catalogue.building.run import build
from catalogue.building.setting_aside import to_set_aside
from catalogue.building.stage import Made, Move, Stage
from catalogue.building.unit import Products, Results, UnitName
from tests.building.fakes import FakePair, dangling_links, fakes, site_files, write_studio
from tests.extent import THOROUGH
from tests.forked import Forked

UNIX = pytest.mark.skipif(sys.platform == "win32", reason="ends processes as Unix does")


class Faults:
    """Lets the nth thing done to the disk fail, and all after it until it is told to stop."""

    WORDS = ("make_folder", "write", "replace", "exchange", "keep", "remove")

    def __init__(self, monkeypatch: pytest.MonkeyPatch, error: int) -> None:
        self.count = 0
        self.fatal: int | None = None
        self.error = error
        for word in self.WORDS:
            monkeypatch.setattr(disk, word, self.wrapped(getattr(disk, word)))

    def wrapped(self, real: object) -> object:
        def done(*arguments: object) -> object:
            self.count += 1
            if self.fatal is not None and self.count >= self.fatal:
                raise OSError(self.error, os.strerror(self.error))
            return real(*arguments)  # type: ignore[operator]

        return done


def edited(studio: Path) -> None:
    """A change of every sort: files that change, come, go, and whose folders come and go."""
    (studio / "clients" / "client0.md").write_text("name: Client 0\ngirth = 955\nlength0 = 3\n")
    (studio / "clients" / "client1.md").unlink()
    (studio / "styles" / "new.md").write_text("need girth\n")
    (studio / "styles" / "style2.md").unlink()


# Each write fails in one of the three ways, with --thorough in all of them.
@pytest.mark.parametrize(
    ("error", "first"),
    [(errno.ENOSPC, 1), (errno.EACCES, 2), (errno.EROFS, 3)],
    ids=["full", "forbidden", "read-only"],
)
def test_whichever_write_fails_the_old_catalogue_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: int, first: int
) -> None:
    studio, output = write_studio(tmp_path / "studio", 3, 2), tmp_path / "site"
    request = Request(studio, output, jobs=1)
    build(request, fakes())
    (output / "mine.txt").write_text("mine")
    old = site_files(output)
    edited(studio)
    fresh = tmp_path / "fresh"
    build(Request(studio, fresh, jobs=1), fakes())
    new = site_files(fresh) | {"mine.txt": b"mine"}
    faults = Faults(monkeypatch, error)
    for nth in itertools.count(1) if THOROUGH else itertools.count(first, 3):
        faults.count, faults.fatal = 0, nth
        try:
            build(request, fakes())
        except CannotWrite as trouble:
            assert os.strerror(error) in str(trouble)
            assert site_files(output) == old, f"write {nth} failed and left something else behind"
        else:
            break
    assert nth > 40, "the loop has to have met every kind of write"
    assert site_files(output) == new


def test_one_failing_write_is_undone_even_when_later_ones_succeed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    studio, output = write_studio(tmp_path / "studio", 2, 2), tmp_path / "site"
    build(Request(studio, output, jobs=1), fakes())
    old = site_files(output)
    (studio / "clients" / "client0.md").write_text("name: Client 0\ngirth = 955\nlength0 = 3\n")
    real, count, fatal = disk.replace, 0, 0

    def replace(source: Path, target: Path) -> None:
        nonlocal count
        count += 1
        if count == fatal:
            raise PermissionError(errno.EACCES, "open in another program", str(target))
        real(source, target)

    monkeypatch.setattr(disk, "replace", replace)
    for nth in itertools.count(1):
        count, fatal = 0, nth
        try:
            build(Request(studio, output, jobs=1), fakes())
        except CannotWrite:
            assert site_files(output) == old
        else:
            break
    assert nth > 5 and site_files(output) != old


def test_an_interruption_while_moving_is_undone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    studio, output = write_studio(tmp_path / "studio", 2, 2), tmp_path / "site"
    build(Request(studio, output, jobs=1), fakes())
    old = site_files(output)
    edited_client = studio / "clients" / "client0.md"
    edited_client.write_text("name: Client 0\ngirth = 955\nlength0 = 3\n")
    real = disk.replace

    def replace(source: Path, target: Path) -> None:
        if target.name == "draft.svg":
            raise KeyboardInterrupt
        real(source, target)

    monkeypatch.setattr(disk, "replace", replace)
    with pytest.raises(KeyboardInterrupt):
        build(Request(studio, output, jobs=1), fakes())
    assert site_files(output) == old


def published(output: Path) -> dict[str, bytes]:
    """The files of a catalogue without what a killed build left beside them."""
    return {path: data for path, data in site_files(output).items() if not path.startswith(".catalogue-new-")}


class Killed(BaseException):
    """Stands for the end of the process: nothing that runs after it may touch the disk."""


def kill_at(nth: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """From the nth thing done to the disk on, nothing is done any more, not even tidying up."""
    count = 0

    def wrapped(real: object) -> object:
        def done(*arguments: object) -> object:
            nonlocal count
            count += 1
            if count >= nth:
                raise Killed
            return real(*arguments)  # type: ignore[operator]

        return done

    for word in (*Faults.WORDS, "remove_tree", "remove_empty_folders"):
        monkeypatch.setattr(disk, word, wrapped(getattr(disk, word)))
    monkeypatch.setattr(publish, "_undo", lambda *_: None)


def mixed_drafts(seen: dict[str, bytes], *generations: dict[str, bytes]) -> list[str]:
    """Folders of drafts that are of no one build, of these in their order.

    What a later build no longer has may still be there from an earlier one.
    """

    def is_of(number: int, inside: list[str]) -> bool:
        files, earlier = generations[number], generations[:number]
        return all(
            seen[path] == files[path] if path in files else any(e.get(path) == seen[path] for e in earlier)
            for path in inside
        )

    mixed = []
    drafts = {path.rpartition("/")[0] for path in seen if path.startswith("styles/") and path.count("/") == 3}
    for draft in sorted(drafts):
        # What no build has is somebody else's.
        every = {path for files in generations for path in files}
        inside = [path for path in seen if path.startswith(f"{draft}/") and path in every]
        # Of a draft that goes, the page goes first; what is left of it is reached from nowhere.
        if f"{draft}/index.html" in seen and not any(is_of(n, inside) for n in range(len(generations))):
            mixed.append(draft)
    return mixed


def test_killed_at_any_step_no_link_dangles_and_the_next_build_completes_it(tmp_path: Path) -> None:
    studio = write_studio(tmp_path / "studio", 3, 2)
    first = tmp_path / "first"
    build(Request(studio, first, jobs=1), fakes())
    old = site_files(first)
    edited(studio)
    fresh = tmp_path / "fresh"
    build(Request(studio, fresh, jobs=1), fakes())
    new = site_files(fresh)
    # Every third step: a build makes and moves file after file in the same way.
    for nth in itertools.count(1, 1 if THOROUGH else 3):
        output = tmp_path / f"site{nth}"
        shutil.copytree(first, output)
        with pytest.MonkeyPatch.context() as patch:
            kill_at(nth, patch)
            try:
                build(Request(studio, output, jobs=1), fakes())
                finished = True
            except Killed:
                finished = False
        seen = {
            path: data for path, data in site_files(output).items() if not path.startswith(".catalogue-new-")
        }
        for path, data in seen.items():
            assert data in (old.get(path), new.get(path)), f"{path} is neither old nor new after {nth} steps"
        assert dangling_links(output) == [], f"a link leads nowhere after {nth} steps"
        if disk.can_exchange(tmp_path):
            assert mixed_drafts(seen, old, new) == [], f"drafts of two builds after {nth} steps"
        build(Request(studio, output, jobs=1), fakes())
        assert site_files(output) == new
        if finished:
            break
    assert nth > 40


def test_killed_while_undoing_the_next_build_undoes_the_rest(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    studio, output = write_studio(tmp_path / "studio", 2, 2), tmp_path / "site"
    build(Request(studio, output, jobs=1), fakes())
    old = site_files(output)
    kept_client = (studio / "clients" / "client0.md").read_text()
    (studio / "clients" / "client0.md").write_text("name: Client 0\ngirth = 955\nlength0 = 3\n")
    with pytest.MonkeyPatch.context() as patch:
        real = disk.replace

        def replace(source: Path, target: Path) -> None:
            if target.name == ".catalogue.json":
                raise OSError(errno.ENOSPC, "full")
            real(source, target)

        def go_back(stage: Stage, back: list[Move]) -> None:
            real_go_back(stage, back[:2])
            raise Killed

        real_go_back = publish.go_back
        patch.setattr(disk, "replace", replace)
        patch.setattr(publish, "go_back", go_back)
        patch.setattr(disk, "remove_tree", lambda _: None)
        with pytest.raises(Killed):
            build(Request(studio, output, jobs=1), fakes())
    assert site_files(output) != old
    (studio / "clients" / "client0.md").write_text(kept_client)
    build(Request(studio, output, jobs=1), fakes())
    assert site_files(output) == old


def told_of_build(studio: Path, output: Path, few: int) -> None:
    """Build, and print a line for each thing that is made, moved or removed."""

    def told(word: str) -> None:
        real = getattr(disk, word)

        def done(*arguments: object) -> object:
            print(word, flush=True)
            return real(*arguments)

        setattr(disk, word, done)

    for word in ("replace", "remove"):
        told(word)
    manifest.FEW, manifest.PART, disk.SYNCS = few, 20, True
    build(Request(studio, output, jobs=2), fakes(), lambda *_: print("made", flush=True))
    print("done", flush=True)


def without_manifest(files: dict[str, bytes]) -> dict[str, bytes]:
    """Another process's manifest names its own version of the program."""
    ours = (manifest.NAME, f"{manifest.PARTS}/")
    return {path: data for path, data in files.items() if not path.startswith(ours)}


@UNIX
@pytest.mark.parametrize("seed", range(12 if THOROUGH else 3))
def test_kill_9_at_any_moment_leaves_a_catalogue_that_works(
    tmp_path: Path, seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    chance = random.Random(seed)
    few = chance.choice([4, 1000])  # units that stand in one file
    monkeypatch.setattr(manifest, "FEW", few)
    monkeypatch.setattr(manifest, "PART", 20)
    studio, output = write_studio(tmp_path / "studio", 6, 6), tmp_path / "site"
    build(Request(studio, output, jobs=1), fakes())
    generations = [published(output)]
    for turn in range(4):
        before = published(output)
        for client in (studio / "clients").iterdir():
            client.write_text(re.sub("girth = .*", f"girth = {seed + 1}{turn}9", client.read_text()))
        build(Request(studio, tmp_path / "fresh", jobs=1), fakes())
        new = site_files(tmp_path / "fresh")
        generations.append(new)
        process = Forked(partial(told_of_build, studio, output, few))
        # Some 80 things are made, and then as many moved; it goes on while it is being killed.
        said = [process.stdout.readline() for _ in range(chance.randint(1, 170))]
        process.send_signal(signal.SIGKILL)
        finished = "done" in "".join(said) + process.stdout.read()
        process.wait()
        process.stdout.close()
        after = published(output)
        assert dangling_links(output) == []
        assert set(without_manifest(after)) == set(without_manifest(before))
        for path, data in without_manifest(after).items():
            whole = [new] if finished else generations
            assert data in [generation[path] for generation in whole], path
    build(Request(studio, output, jobs=2), fakes())
    assert site_files(output) == site_files(tmp_path / "fresh")


class Endless(FakePair):
    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        os.write(1, b"drafting\n")  # at one go, whoever else says so
        time.sleep(3600)
        raise AssertionError("an hour was waited for")


@UNIX
def test_ctrl_c_stops_at_once_and_leaves_no_process(tmp_path: Path) -> None:
    studio, output = write_studio(tmp_path / "studio", 6, 6), tmp_path / "site"
    build(Request(studio, output, jobs=1), fakes())
    before = site_files(output)
    for client in (studio / "clients").iterdir():
        client.write_text(client.read_text().replace("girth = 9", "girth = 19"))
    asked = Request(studio, output, jobs=2)
    process = Forked(lambda: build(asked, fakes(pair=Endless())) and None, new_session=True)
    assert [process.stdout.readline() for _ in range(2)] == ["drafting\n"] * 2
    # As a terminal does: the signal goes to every process of the group.
    os.killpg(process.pid, signal.SIGINT)
    assert process.wait(timeout=600) != 0, "drafts that take an hour were waited for"
    assert site_files(output) == before
    with pytest.raises(ProcessLookupError):
        os.killpg(process.pid, 0)


def test_only_one_build_writes_at_a_time(tmp_path: Path) -> None:
    studio, output = write_studio(tmp_path / "studio"), tmp_path / "site"
    folder = OutputFolder(output)
    folder.claim()
    with pytest.raises(Busy, match="Another build"):
        build(Request(studio, output, jobs=1), fakes())
    folder.release()
    assert build(Request(studio, output, jobs=2), fakes()).ok


def test_rubbish_of_killed_builds_is_thrown_away(tmp_path: Path) -> None:
    studio, output = write_studio(tmp_path / "studio"), tmp_path / "site"
    for name, journal in (
        ("a", None),
        ("b", b"[[1"),
        ("c", json.dumps([["../escaped.txt", "0-0"]]).encode()),
    ):
        left = output / f".catalogue-new-{name}"
        left.mkdir(parents=True)
        (left / "0-0").write_text("half made")
        if journal is not None:
            (left / "moves.json").write_bytes(journal)
    assert build(Request(studio, output, jobs=1), fakes()).ok
    assert not list(output.glob(".catalogue-new-*"))
    assert not (tmp_path / "escaped.txt").exists()


def made(path: str, data: bytes, staged: str = "") -> Made:
    from catalogue.building import fingerprint

    return Made(Written(path, fingerprint.of_bytes(data), len(data)), staged)


def test_moves_bring_in_first_and_take_away_last(tmp_path: Path) -> None:
    output = tmp_path / "site"
    for path in ("index.html", "styles/a/index.html", "styles/gone/index.html"):
        (output / path).parent.mkdir(parents=True, exist_ok=True)
        (output / path).write_bytes(b"old")
    old = [made(p, b"old").written for p in ("index.html", "styles/a/index.html", "styles/gone/index.html")]
    wanted = [
        made("index.html", b"new", "0"),
        made("styles/a/index.html", b"old"),
        made("styles/b/c/index.html", b"new", "1"),
        made("styles/b/c/draft.svg", b"new", "2"),
        made("styles/b/index.html", b"new", "3"),
        made("assets/page.css", b"new", "4"),
    ]
    assert changes(old, wanted, output) == [
        Move("assets/page.css", "4"),
        Move("styles/b/c/draft.svg", "2"),
        Move("styles/b/c/index.html", "1"),
        Move("styles/b/index.html", "3"),
        Move("index.html", "0"),
        Move("styles/gone/index.html"),
    ]


@pytest.mark.parametrize("forth", [True, False])
def test_a_file_may_become_a_folder_and_a_folder_a_file(tmp_path: Path, forth: bool) -> None:
    output = tmp_path / "site"
    before, after = (
        ("assets/mark", "assets/mark/one.svg") if forth else ("assets/mark/one.svg", "assets/mark")
    )
    (output / before).parent.mkdir(parents=True)
    (output / before).write_bytes(b"old")
    old = made(before, b"old").written
    stage = Stage(output)
    wanted = stage.put(after, b"new", "0-0")
    assert to_set_aside([wanted], {before: old}, {before}, Published(output, Head()), stage) == []
    commit(
        stage,
        changes([old], [wanted], output),
        Manifest({"others": MadeUnit("", (wanted.written,))}).packed(),
    )
    assert (output / after).read_bytes() == b"new"
    assert sorted(site_files(output)) == [".catalogue.json", after]


def test_recovering_an_untouched_folder_does_nothing(tmp_path: Path) -> None:
    folder = OutputFolder(tmp_path)
    assert recover(folder) == (False, False)


@pytest.mark.parametrize(
    "path",
    [
        "",
        "/",
        "/etc",
        "..",
        "../a",
        "a/..",
        "a/../b",
        "a//b",
        "./a",
        "a/.",
        "a/",
        "a\\b",
        "c:a",
        "a\0b",
        "a\n../b",
        "a\n/b",
    ],
)
def test_a_path_that_may_lead_elsewhere_is_not_safe(path: str) -> None:
    assert not safe(path) and not safe(f"a\n{path}")


@pytest.mark.parametrize("path", ["a", ".catalogue/a/b.z", "styles/a..b/...", "assets/é.css", ".a/..b"])
def test_other_paths_are_safe(path: str) -> None:
    assert safe(path)


def test_the_work_of_putting_folders_in_place_grows_with_their_number_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In a catalogue of 12,000 drafts there are 100,000 moves: none may be compared with all the others."""
    compared = []
    plain = Move.__eq__
    monkeypatch.setattr(Move, "__eq__", lambda one, other: compared.append(1) or plain(one, other))
    monkeypatch.setattr(switching, "_put_together", lambda *given: True)
    monkeypatch.setattr(switching, "number_of", lambda path: 7)
    stage = Stage(tmp_path / "site")
    names = ("draft.svg", "draft.json", "draft.pdf", "index.html")
    moves = [Move(f"styles/s/c{n}/{name}", f"{n}-{name}") for n in range(200) for name in names]
    whole = switching.whole_folders(stage, moves)
    stage.discard()
    assert [move.path for move in whole] == [f"styles/s/c{n}" for n in range(200)]
    assert len(compared) <= 2 * len(moves)
