"""Watching: one rebuild a burst, editors' ways of saving, and a broken save that is told and waited out."""

from __future__ import annotations

import http.client
import os
import re
import shutil
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

import catalogue.building.studio as studio_files
import catalogue.watch as watching_module
from catalogue.building import disk
from catalogue.building.folder import OutputFolder
from catalogue.building.report import Report, Request
from catalogue.building.run import build
from catalogue.preview import News
from catalogue.watch import Builder, Built, Changes, build_and_tell, watch
from tests.building.fakes import dangling_links, fakes, site_files, write_studio
from tests.forked import Forked

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="ends processes as Unix does")


def watch_and_tell(studio: Path, output: Path, log: Path, held: Path, poll: bool) -> int:
    """Watch a studio of the fakes, and say which process builds, when changes are waited for and when one has come."""
    start, wait = Builder._start, Changes.wait

    def told(self: Builder) -> None:
        start(self)
        print("builder", self._process.pid, flush=True)  # type: ignore[union-attr]

    def told_of_waiting(self: Changes) -> None:
        print("waiting", flush=True)
        wait(self)
        print("stirred", flush=True)
        while held.exists():
            time.sleep(0.01)

    disk.SYNCS = True
    Builder._start = told  # type: ignore[method-assign]
    Changes.wait = told_of_waiting  # type: ignore[method-assign]
    return watch(Request(studio, output, jobs=2), fakes(log), port=0, poll=poll)


DEADLINE = 600.0
"""Seconds after which what has not come is taken never to come, on a machine with other things to do."""


def wait_until(holds: Callable[[], bool], otherwise: Callable[[], str]) -> None:
    end = time.monotonic() + DEADLINE
    while not holds():
        assert time.monotonic() < end, otherwise()
        time.sleep(0.01)


class Watching:
    """A watch under way, in a process of its own.

    A fake's drawing shows the sum of girth and length: 977 and 10 for client 1 once its girth is changed. It says when
    it begins to wait for changes, and as long as the file `held` is there, takes a burst of saves to be going on.
    """

    def __init__(self, folder: Path, *, poll: bool = False) -> None:
        self.studio = write_studio(folder / "studio")
        self.output = self.studio / "site"
        self.log = folder / "drafts.log"
        self.held = folder / "held"
        asked = (self.studio, self.output, self.log, self.held, poll)
        self.process = Forked(lambda: watch_and_tell(*asked), new_session=True)
        self.said: list[str] = []
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()
        said = self.wait_for(r"http://127\.0\.0\.1:\d+/\?key=\S+ ")
        [(port, token)] = re.findall(r":(\d+)/\?key=(\S+) ", said)
        self.port, self.headers = int(port), {"Cookie": f"catalogue-{port}={token}"}

    def _read(self) -> None:
        for line in self.process.stdout:
            self.said.append(line)

    def wait_for(self, pattern: str) -> str:
        """What was said, once `pattern` was said in it."""
        self.wait_until(lambda: re.search(pattern, "".join(self.said)) is not None, pattern)
        return "".join(self.said)

    def wait_until(self, holds: Callable[[], bool], what: str = "it") -> None:
        wait_until(holds, lambda: f"{what} never came to hold: {''.join(self.said)}")

    def builds(self) -> int:
        return "".join(self.said).count("index.html: ")

    def idle(self) -> None:
        """Wait until it waits for changes."""
        self.wait_until(lambda: self.said[-1:] == ["waiting\n"])

    @contextmanager
    def in_one_burst(self) -> Iterator[None]:
        """What is saved meanwhile is saved in one burst, however long that takes."""
        self.idle()
        self.held.touch()
        yield
        self.held.unlink()

    def save_another(self) -> None:
        """Save one thing more, and wait until it is shown: what was to come of earlier saves has come by then."""
        path, drawing = self.studio / "clients" / "client0.md", "/styles/style0/client0/draft.svg"
        with self.in_one_burst():
            before = self.get(drawing)
            path.write_text(path.read_text().replace("length0 = 0", "length0 = 40"))
        self.wait_until(lambda: self.get(drawing) != before)
        self.idle()

    def get(self, path: str) -> bytes:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=DEADLINE)
        with closing(connection):
            connection.request("GET", path, headers=self.headers)
            return connection.getresponse().read()

    def stop(self) -> int:
        if self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGINT)
        return self.process.wait(DEADLINE)


@pytest.fixture
def watching(tmp_path: Path) -> Iterator[Watching]:
    watching = Watching(tmp_path)
    yield watching
    watching.stop()


def save_in_place(path: Path, text: str) -> None:
    path.write_text(text)


def save_by_renaming(path: Path, text: str) -> None:
    other = path.with_name(f".{path.name}.new")
    other.write_text(text)
    other.replace(path)


def save_with_backup(path: Path, text: str) -> None:
    (path.parent / "4913").write_text("")
    (path.parent / "4913").unlink()
    path.rename(path.with_name(f"{path.name}~"))
    path.write_text(text)
    path.with_name(f"{path.name}~").unlink()


def save_in_two_goes(path: Path, text: str) -> None:
    with path.open("w") as file:
        file.flush()
        time.sleep(0.03)
        file.write(text)


@pytest.mark.parametrize("save", [save_in_place, save_by_renaming, save_with_backup, save_in_two_goes])
def test_each_way_of_saving_is_noticed_once(watching: Watching, save: Callable[[Path, str], None]) -> None:
    path = watching.studio / "clients" / "client1.md"
    watching.idle()
    before, drafted_before = watching.builds(), watching.log.read_text()
    with watching.in_one_burst():
        save(path, path.read_text().replace("girth = 901", "girth = 977"))
    watching.wait_until(lambda: b"987.0" in watching.get("/styles/style0/client1/draft.svg"))
    watching.save_another()
    assert watching.builds() == before + 2
    drafted = watching.log.read_text().removeprefix(drafted_before).split()
    assert sorted(drafted) == ["style0/client0", "style0/client1", "style1/client1", "style2/client1"]


def test_a_burst_of_saves_is_built_once(watching: Watching) -> None:
    watching.idle()
    before = watching.builds()
    with watching.in_one_burst():
        for path in sorted(watching.studio.glob("clients/*.md")):
            path.write_text(path.read_text().replace("girth = 90", "girth = 95"))
    watching.wait_until(lambda: b"972.0" in watching.get("/styles/style0/client2/draft.svg"))
    watching.save_another()
    assert watching.builds() == before + 2


def test_what_changes_nothing_builds_nothing(watching: Watching) -> None:
    watching.idle()
    before, drafted_before = watching.builds(), watching.log.read_text()
    path = watching.studio / "clients" / "client1.md"
    with watching.in_one_burst():
        path.write_text(path.read_text())
        path.touch()
        (watching.studio / "clients" / ".client1.md.swp").write_text("x")
        (watching.studio / "notes.txt").write_text("not read")
    watching.save_another()
    assert watching.builds() == before + 1
    assert watching.log.read_text().removeprefix(drafted_before).split() == ["style0/client0"]


def test_a_broken_save_is_told_and_the_next_one_mends_it(watching: Watching) -> None:
    path = watching.studio / "styles" / "style1.md"
    good = path.read_text()
    path.write_text("need girth\nBAD\n")
    watching.wait_for(r"styles/style1\.md:2:1: error: this word is not known\n    BAD\n    \^")
    watching.wait_until(lambda: "style1" in watching.get("/index.html").decode())
    path.write_text(good)
    watching.wait_until(lambda: (watching.output / "styles/style1/client0/draft.svg").exists())
    assert watching.process.poll() is None


def test_new_and_removed_files_and_folders(watching: Watching) -> None:
    (watching.studio / "styles" / "fresh.md").write_text("need girth\n")
    watching.wait_until(lambda: (watching.output / "styles/fresh/client0/draft.svg").exists())
    (watching.studio / "styles" / "fresh.md").unlink()
    watching.wait_until(lambda: not (watching.output / "styles/fresh").exists())
    (watching.studio / "site_template").mkdir()
    (watching.studio / "site_template" / "studio.toml").write_text("name = 1")
    watching.wait_until(lambda: b"name = 1" in watching.get("/index.html"))
    (watching.studio / "clients/sizes").mkdir()
    (watching.studio / "clients/sizes" / "ours.md").write_text("girth = 944\nfor style0\n")
    watching.wait_until(lambda: b"944.0" in watching.get("/styles/style0/sizes/ours.pdf"))
    # A whole folder is moved away and put back, as a version control program may do it.
    kept = watching.studio / "kept"
    (watching.studio / "clients").rename(kept)
    watching.wait_for("has no clients/")
    assert b"client0" in watching.get("/index.html")
    shutil.copytree(kept, watching.studio / "clients")
    path = watching.studio / "clients" / "client0.md"
    path.write_text(path.read_text().replace("girth = 900", "girth = 933"))
    watching.wait_until(lambda: b"933.0" in watching.get("/styles/style0/client0/draft.svg"))
    assert dangling_links(watching.output) == []


def test_a_builder_that_breaks_off_is_started_again(watching: Watching) -> None:
    [builder] = re.findall(r"builder (\d+)", "".join(watching.said))
    os.kill(int(builder), signal.SIGKILL)
    path = watching.studio / "clients" / "client1.md"
    path.write_text(path.read_text().replace("girth = 901", "girth = 977"))
    watching.wait_for("program that builds stopped")
    path.write_text(path.read_text().replace("girth = 977", "girth = 988"))
    watching.wait_until(lambda: b"998.0" in watching.get("/styles/style0/client1/draft.svg"))


def test_stopping_leaves_no_process_and_no_script_in_the_pages(watching: Watching) -> None:
    assert b"watch.js" in watching.get("/index.html")
    assert watching.stop() == 0
    assert b"watch.js" not in b"".join(site_files(watching.output).values())
    with pytest.raises(ProcessLookupError):
        os.killpg(watching.process.pid, 0)


def test_polling_notices_without_being_told(tmp_path: Path) -> None:
    watching = Watching(tmp_path, poll=True)
    try:
        path = watching.studio / "clients" / "client1.md"
        path.write_text(path.read_text().replace("girth = 901", "girth = 977"))
        watching.wait_until(lambda: b"987.0" in watching.get("/styles/style0/client1/draft.svg"))
        shutil.rmtree(watching.studio / "styles")
        watching.wait_for("has no styles/")
    finally:
        assert watching.stop() == 0


def open_page(watching: Watching, page: str) -> http.client.HTTPConnection:
    """A page that listens for news, as its script does."""
    connection = http.client.HTTPConnection("127.0.0.1", watching.port, timeout=DEADLINE)
    connection.request("GET", f"/-/events?{page}", headers=watching.headers)
    assert b"data:" in connection.getresponse().readline()
    return connection


def test_the_draft_that_is_looked_at_is_shown_before_the_others(watching: Watching) -> None:
    watching.idle()
    before = watching.log.read_text()
    page = open_page(watching, "styles%2Fstyle0%2Fclient2%2Findex.html")
    path = watching.studio / "styles" / "style0.md"
    with watching.in_one_burst():
        path.write_text(path.read_text() + "need length1\nSLOW\n")
    watching.wait_for("1 made, .* more to follow")
    watching.wait_until(lambda: watching.get("/styles/style0/client0/draft.svg") == b"<svg>901.0</svg>")
    drafted = watching.log.read_text().removeprefix(before).split()
    assert len(drafted) == 3 and drafted[0] == "style0/client2"
    page.close()
    assert dangling_links(watching.output) == []


def test_a_save_breaks_off_what_nobody_is_looking_at(watching: Watching) -> None:
    page = open_page(watching, "styles%2Fstyle0%2Fclient2%2Findex.html")
    path = watching.studio / "styles" / "style0.md"
    with watching.in_one_burst():
        path.write_text(path.read_text() + "SLOW\n" * 3)
    watching.wait_for("more to follow")
    client = watching.studio / "clients" / "client2.md"
    beside = client.with_name(".client2.md.new")
    beside.write_text(client.read_text().replace("girth = 902", "girth = 990"))
    beside.replace(client)
    watching.wait_until(lambda: b"1010.0" in watching.get("/styles/style0/client2/draft.svg"))
    watching.wait_for(r"(?s)(more to follow.*){2}\d+ made, \d+ files changed \(")
    page.close()
    fresh = watching.output.parent.parent / "fresh"
    build(Request(watching.studio, fresh, jobs=1), fakes())
    assert site_files(watching.output) == site_files(fresh)


def test_a_build_that_is_broken_off_leaves_the_catalogue_as_it_was(tmp_path: Path) -> None:
    studio = write_studio(tmp_path / "studio")
    request = Request(studio, tmp_path / "site", jobs=1)
    builder = Builder(request, fakes())
    try:
        far: list[tuple[int, int, str]] = []
        assert builder.build(progress=lambda *each: far.append(each)) is not None
        assert far and all(0 < done <= total for done, total, _ in far)
        before = site_files(request.output)
        for path in studio.glob("styles/*.md"):
            path.write_text(path.read_text() + "SLOW\n")
        assert builder.build(None, lambda: True) is None
        assert site_files(request.output) == before
        built = builder.build()
        assert built is not None and built.report is not None and built.report.made == 9
    finally:
        builder.stop()


def test_another_build_of_the_catalogue_is_waited_for(tmp_path: Path) -> None:
    request = Request(write_studio(tmp_path / "studio"), tmp_path / "site", jobs=1)
    builder = Builder(request, fakes())
    other = OutputFolder(request.output)
    other.claim()
    waited: list[str] = []

    def progress(done: int, total: int, what: str) -> None:
        waited.append(what)
        other.release()

    try:
        built = builder.build(progress=progress)
        assert built is not None and built.report is not None and built.report.made == 9
        assert waited[0] == "waiting for another build"
    finally:
        other.release()
        builder.stop()


def test_what_happens_in_the_output_folder_is_not_a_change(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    heard: list[str] = []

    def is_passing(name: str) -> bool:
        heard.append(name)
        return studio_files.is_passing(name)

    def is_heard(*paths: Path) -> None:
        for path in paths:
            path.write_text("x")
            wait_until(lambda p=path: p.name in heard, lambda: f"{heard} were heard of")

    monkeypatch.setattr(watching_module, "is_passing", is_passing)
    studio = write_studio(tmp_path / "studio")
    output = studio / "site_template" / "made"
    output.mkdir(parents=True)
    changes = Changes(studio, output, poll=False)
    changes.start()
    try:
        # Of each folder one thing is heard after the other, so the first has been dealt with when the second is.
        is_heard(output / "index.html", output / "more.html")
        is_heard(studio / "clients" / "client0.md~", studio / "clients" / "client1.md~")
        assert not changes.has_stirred()
        (studio / "clients" / "client0.md").write_text("x")
        changes.wait()
    finally:
        changes.stop()


class _SlowBuilder(Builder):
    """Takes a fifth of a second, in this process."""

    def __init__(self) -> None:
        pass

    def build(self, first: object = None, interrupted: object = None, progress: object = None) -> Built:
        time.sleep(0.2)
        return Built(Report(drafts=1, made=1, changed=("index.html",)))


def test_the_time_told_is_that_of_the_build(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    build_and_tell(_SlowBuilder(), Request(tmp_path, tmp_path / "site"), News())
    told = re.search(r"\(([\d.]+) s\)\.$", capsys.readouterr().out.strip())
    assert told and float(told[1]) >= 0.2
