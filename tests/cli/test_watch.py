"""Watching: one rebuild a burst, editors' ways of saving, and a broken save that is told and waited out."""

from __future__ import annotations

import http.client
import os
import re
import shutil
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from catalogue.building.report import Report, Request
from catalogue.building.run import build
from catalogue.preview import News
from catalogue.watch import Builder, Built, Changes, build_and_tell
from tests.building.fakes import FakeWorks, dangling_links, site_files, write_studio

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="ends processes as Unix does")
ROOT = Path(__file__).parents[2]
PROGRAM = """
import sys
from pathlib import Path
from catalogue import watch as watching
from catalogue.building.report import Request
from catalogue.watch import watch
from tests.building.fakes import FakeWorks
start = watching.Builder._start
def told(self):
    start(self)
    print("builder", self._process.pid, flush=True)
watching.Builder._start = told
request = Request(Path(sys.argv[1]), Path(sys.argv[2]), jobs=2)
sys.exit(watch(request, FakeWorks(Path(sys.argv[3])), port=0, poll=sys.argv[4] == "poll"))
"""


class Watching:
    """A watch under way, in a process of its own.

    A fake's drawing shows the sum of girth and length: 977 and 10 for client 1 once its girth is changed.
    """

    def __init__(self, folder: Path, *, poll: bool = False) -> None:
        self.studio = write_studio(folder / "studio")
        self.output = self.studio / "site"
        self.log = folder / "drafts.log"
        arguments = [str(self.studio), str(self.output), str(self.log), "poll" if poll else "told"]
        self.process = subprocess.Popen(
            [sys.executable, "-u", "-c", PROGRAM, *arguments],
            cwd=ROOT,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            start_new_session=True,
        )
        self.said: list[str] = []
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()
        self.port = int(re.findall(r":(\d+)/", self.wait_for(r"http://127\.0\.0\.1:\d+/"))[0])

    def _read(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self.said.append(line)

    def wait_for(self, pattern: str, seconds: float = 60.0) -> str:
        """What was said, once `pattern` was said in it."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            text = "".join(self.said)
            if re.search(pattern, text):
                return text
            time.sleep(0.01)
        raise AssertionError(f"{pattern!r} was not said in {seconds} s, but: {''.join(self.said)}")

    def wait_until(self, holds: Callable[[], bool], seconds: float = 60.0) -> None:
        end = time.monotonic() + seconds
        while not holds():
            assert time.monotonic() < end, f"it never came to hold: {''.join(self.said)}"
            time.sleep(0.01)

    def builds(self) -> int:
        return "".join(self.said).count("index.html: ")

    def settle(self) -> None:
        """Wait until nothing more is said."""
        count = -1
        while count != len(self.said):
            count = len(self.said)
            time.sleep(0.6)

    def get(self, path: str) -> bytes:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        connection.request("GET", path)
        return connection.getresponse().read()

    def stop(self) -> int:
        if self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGINT)
        return self.process.wait(30)


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
    watching.settle()
    before, drafted_before = watching.builds(), watching.log.read_text()
    save(path, path.read_text().replace("girth = 901", "girth = 977"))
    watching.wait_until(lambda: b"987.0" in watching.get("/styles/style0/client1/draft.svg"))
    watching.settle()
    assert watching.builds() == before + 1
    drafted = watching.log.read_text().removeprefix(drafted_before).split()
    assert sorted(drafted) == ["style0/client1", "style1/client1", "style2/client1"]


def test_a_burst_of_saves_is_built_once(watching: Watching) -> None:
    watching.settle()
    before = watching.builds()
    for path in sorted(watching.studio.glob("clients/*.md")):
        path.write_text(path.read_text().replace("girth = 90", "girth = 95"))
    watching.wait_until(lambda: b"972.0" in watching.get("/styles/style0/client2/draft.svg"))
    watching.settle()
    assert watching.builds() == before + 1


def test_what_changes_nothing_builds_nothing(watching: Watching) -> None:
    watching.settle()
    before = watching.builds()
    path = watching.studio / "clients" / "client1.md"
    path.write_text(path.read_text())
    path.touch()
    (watching.studio / "clients" / ".client1.md.swp").write_text("x")
    (watching.studio / "notes.txt").write_text("not read")
    watching.settle()
    assert watching.builds() == before


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
    watching.wait_for("lacks clients/")
    assert b"client0" in watching.get("/index.html")
    shutil.copytree(kept, watching.studio / "clients")
    watching.settle()
    path = watching.studio / "clients" / "client0.md"
    path.write_text(path.read_text().replace("girth = 900", "girth = 933"))
    watching.wait_until(lambda: b"933.0" in watching.get("/styles/style0/client0/draft.svg"))
    assert dangling_links(watching.output) == []


def test_a_builder_that_breaks_off_is_started_again(watching: Watching) -> None:
    [builder] = re.findall(r"builder (\d+)", "".join(watching.said))
    os.kill(int(builder), signal.SIGKILL)
    path = watching.studio / "clients" / "client1.md"
    path.write_text(path.read_text().replace("girth = 901", "girth = 977"))
    watching.wait_for("broke off")
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
        watching.wait_for("lacks styles/")
    finally:
        assert watching.stop() == 0


def open_page(watching: Watching, page: str) -> http.client.HTTPConnection:
    """A page that listens for news, as its script does."""
    connection = http.client.HTTPConnection("127.0.0.1", watching.port, timeout=30)
    connection.request("GET", f"/-/events?{page}")
    assert b"data:" in connection.getresponse().readline()
    return connection


def test_the_draft_that_is_looked_at_is_shown_before_the_others(watching: Watching) -> None:
    watching.settle()
    before = watching.log.read_text()
    page = open_page(watching, "styles%2Fstyle0%2Fclient2%2Findex.html")
    path = watching.studio / "styles" / "style0.md"
    path.write_text(path.read_text() + "need length1\nSLOW\n")
    watching.wait_for("1 made, .* more to follow")
    watching.wait_until(lambda: len(watching.log.read_text().split()) == len(before.split()) + 3)
    watching.settle()
    assert watching.log.read_text().removeprefix(before).split()[0] == "style0/client2"
    assert watching.get("/styles/style0/client0/draft.svg") == b"<svg>901.0</svg>"
    page.close()
    assert dangling_links(watching.output) == []


def test_a_save_breaks_off_what_nobody_is_looking_at(watching: Watching) -> None:
    watching.settle()
    page = open_page(watching, "styles%2Fstyle0%2Fclient2%2Findex.html")
    path = watching.studio / "styles" / "style0.md"
    good = path.read_text()
    path.write_text(good + "SLOW\n" * 3)
    watching.wait_for("more to follow")
    client = watching.studio / "clients" / "client2.md"
    client.write_text(client.read_text().replace("girth = 902", "girth = 990"))
    watching.wait_until(lambda: b"1010.0" in watching.get("/styles/style0/client2/draft.svg"))
    watching.wait_for(r"(?s)(more to follow.*){2}\d+ made, \d+ files changed \(")
    page.close()
    fresh = watching.output.parent.parent / "fresh"
    build(Request(watching.studio, fresh, jobs=1), FakeWorks())
    assert site_files(watching.output) == site_files(fresh)


def test_a_build_that_is_broken_off_leaves_the_catalogue_as_it_was(tmp_path: Path) -> None:
    studio = write_studio(tmp_path / "studio")
    request = Request(studio, tmp_path / "site", jobs=1)
    builder = Builder(request, FakeWorks())
    try:
        assert builder.build() is not None
        before = site_files(request.output)
        for path in studio.glob("styles/*.md"):
            path.write_text(path.read_text() + "SLOW\n")
        assert builder.build(None, lambda: True) is None
        assert site_files(request.output) == before
        built = builder.build()
        assert built is not None and built.report is not None and built.report.made == 9
    finally:
        builder.stop()


def test_what_happens_in_the_output_folder_is_not_a_change(tmp_path: Path) -> None:
    studio = write_studio(tmp_path / "studio")
    output = studio / "site_template" / "made"
    output.mkdir(parents=True)
    changes = Changes(studio, output, poll=False)
    changes.start()
    try:
        (output / "index.html").write_text("x")
        (studio / "clients" / "client0.md~").write_text("x")
        time.sleep(0.3)
        assert not changes._stirred.is_set()
        (studio / "clients" / "client0.md").write_text("x")
        changes.wait()
    finally:
        changes.stop()


class _SlowBuilder(Builder):
    """Takes a fifth of a second, in this process."""

    def __init__(self) -> None:
        pass

    def build(self, first: object = None, interrupted: object = None) -> Built:
        time.sleep(0.2)
        return Built(Report(drafts=1, made=1, changed=("index.html",)))


def test_the_time_told_is_that_of_the_build(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    build_and_tell(_SlowBuilder(), Request(tmp_path, tmp_path / "site"), News())
    told = re.search(r"\(([\d.]+) s\)\.$", capsys.readouterr().out.strip())
    assert told and float(told[1]) >= 0.2
