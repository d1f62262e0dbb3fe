"""A day of work played through: edits of every kind while the studio is watched, and at its end the catalogue is,
byte for byte, the one that a first build gives.

    python -m tests.building.test_day COUNT [SEED]

plays longer days than a run of the tests has time for.
"""

from __future__ import annotations

import contextlib
import os
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
import urllib.error
import urllib.request
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest

from catalogue.building import manifest
from catalogue.building.report import Request
from catalogue.building.run import build
from catalogue.building.studio import NotAStudio, find_files
from catalogue.building.units import CATALOGUE
from catalogue.starter import make_studio
from tests.building.fakes import dangling_links, site_files
from tests.building.test_rooms import CLIENT, SECOND, differing
from tests.building.test_sized import TABLE
from tests.extent import THOROUGH

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="ends processes as Unix does")
ROOT = Path(__file__).parents[2]
STYLE = (ROOT / "catalogue/starter/studio/styles/first-skirt.md").read_text(encoding="utf-8")
POUCH = """---
title: {title}
garment: bag
cut from:
  whole: {block}
---

It is {{whole.right_corner}} away. {{when stretch is more than 55 cm}} It is wide. {{otherwise}} It takes {{stretch}}.

```draft
take bag from whole
stretch = {times} * length of bag.top
```
"""
"""A style cut from the bag, or from another that is cut from it."""

PATIENCE = 900.0
"""Seconds that the watcher may take to catch up, on a machine with other things to do."""


class Day:
    """A studio that is watched, and someone who works in it."""

    def __init__(self, folder: Path, seed: int) -> None:
        self.chance = Random(seed)
        self.folder, self.studio, self.output = folder, folder / "studio", folder / "studio" / "site"
        make_studio(self.studio)
        (self.studio / "styles" / "bag.md").write_text(SECOND)
        for file, block in (("pouch", "bag"), ("pouch-lining", "pouch, room = 1 cm")):
            self.save(self.studio / "styles" / f"{file}.md", pouch(file, block))
        self.done: Counter[str] = Counter()
        self.said: list[str] = []
        self.process = subprocess.Popen(
            [
                sys.executable,
                "-u",
                "-m",
                "catalogue",
                "watch",
                str(self.studio),
                "--port",
                "0",
                "--jobs",
                "2",
            ],
            cwd=ROOT,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            start_new_session=True,
        )
        threading.Thread(target=self._read, daemon=True).start()
        self.wait_until(lambda: "Ctrl-C" in "".join(self.said), "the watcher did not start")
        [(self.address, port, token)] = re.findall(
            r"(http://127\.0\.0\.1:(\d+)/)\?key=(\S+)", "".join(self.said)
        )
        self.headers = {"Cookie": f"catalogue-{port}={token}"}
        threading.Thread(target=self._look_on, daemon=True).start()

    def _look_on(self) -> None:
        """Have a draft's page open, so that it comes first."""
        page = self.asked("-/events?styles%2Ffirst-skirt%2Ffirst-client%2Findex.html")
        with contextlib.suppress(OSError), urllib.request.urlopen(page) as events:
            while events.readline():
                pass

    def asked(self, path: str) -> urllib.request.Request:
        return urllib.request.Request(f"{self.address}{path}", headers=self.headers)

    def _read(self) -> None:
        assert self.process.stdout is not None
        self.said.extend(self.process.stdout)

    def wait_until(self, holds: Callable[[], bool], otherwise: str) -> None:
        end = time.monotonic() + PATIENCE
        while not holds():
            assert self.process.poll() is None, f"the watcher ended: {''.join(self.said[-20:])}"
            assert time.monotonic() < end, f"{otherwise}: {''.join(self.said[-20:])}"
            time.sleep(0.1)

    def play(self, edits: int) -> None:
        """Make that many edits, a moment apart or at once."""
        for _ in range(edits):
            edit = self.chance.choice(EDITS)
            edit(self)
            self.done[edit.__name__] += 1
            if self.chance.random() < 0.3:
                self.look()
            time.sleep(self.chance.choice([0.0, 0.0, 0.01, 0.1, 0.4]))

    def look(self) -> None:
        """Read a page as a browser does; there is always a whole one."""
        path = self.chance.choice(
            ["index.html", "flip/index.html", "handbook/index.html", "assets/search.js"]
        )
        with urllib.request.urlopen(self.asked(path), timeout=PATIENCE) as answer:
            assert answer.status == 200 and len(answer.read()) > 200

    def is_caught_up(self) -> bool:
        try:
            return manifest.read(self.output).studio == find_files(self.studio).fingerprint
        except (NotAStudio, OSError):
            return False

    def check(self) -> None:
        """Wait until the watcher has caught up; the catalogue is then what a first build gives."""
        self.wait_until(self.is_caught_up, "the catalogue did not catch up")
        fresh = self.folder / "fresh"
        shutil.rmtree(fresh, ignore_errors=True)
        build(Request(self.studio, fresh, jobs=2), CATALOGUE)
        assert differing(site_files(self.output), site_files(fresh)) == []
        assert dangling_links(self.output) == []
        told = "".join(self.said)
        assert "Traceback" not in told and "fault of this program" not in told, told[-3000:]

    def stop(self) -> int:
        if self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGINT)
        try:
            return self.process.wait(PATIENCE)
        except subprocess.TimeoutExpired:
            os.killpg(self.process.pid, signal.SIGKILL)
            raise

    # ---- how a file is saved ----

    def save(self, path: Path, data: str | bytes) -> None:
        data = data if isinstance(data, bytes) else data.encode()
        path.parent.mkdir(parents=True, exist_ok=True)
        way = self.chance.randrange(5)
        if way == 0:
            path.write_bytes(data)
        elif way == 1:  # a new file moved over the old one
            beside = path.with_name(f".{path.name}.{self.chance.randrange(1000)}.tmp")
            beside.write_bytes(data)
            beside.replace(path)
        elif way == 2:  # the old one kept as a backup, and a trial file to see whether one may write
            (path.parent / "4913").write_bytes(b"")
            (path.parent / "4913").unlink()
            if path.exists():
                path.rename(path.with_name(f"{path.name}~"))
            path.write_bytes(data)
        elif way == 3:  # emptied, and written a moment later
            with path.open("wb") as file:
                file.flush()
                time.sleep(self.chance.choice([0.0, 0.05, 0.3]))
                file.write(data)
        else:  # piece by piece
            with path.open("wb", buffering=0) as file:
                for start in range(0, len(data), 700):
                    file.write(data[start : start + 700])
                    time.sleep(0.002)


def a_client(day: Day) -> None:
    chance = day.chance
    name = chance.choice(["ada", "bo", "chi", "first-client"])
    data = CLIENT.format(
        name=chance.choice(["Ada", "Bích Trâm", "ليلى"]),
        units=chance.choice(["inches", "cm", "inches"]),
        day=chance.randint(1, 5),
        more=chance.choice(["waist to hip: 8 1/4", "waist to hip: 8 1/2", "", "neck girth: 14"]),
        notes=chance.choice(["", "a note", "* one\n* two", "a note " * 200]),
    )
    day.save(day.studio / "clients" / f"{name}.md", data)


def pouch(file: str, block: str, times: int = 2) -> str:
    text = POUCH.format(title=file.capitalize(), block=block, times=times)
    own = "choices:\n  room: 2 cm (1 cm to 5 cm)\n---\n"
    if file == "pouch":
        text = text.replace("---\n\nIt", f"{own}\nIt").replace(
            "top\n", "top + room\nright_corner = whole.right_corner\n"
        )
    return text


def what_a_style_is_cut_from(day: Day) -> None:
    """Another block, other choices stated for it, a block that there is not, a circle."""
    chance = day.chance
    if chance.random() < 0.5:
        block = chance.choice(
            ["bag", "bag, depth = 32 cm", "bag, depth = 90 cm", "bag, dpth = 3 cm", "no-bag"]
        )
        day.save(day.studio / "styles/pouch.md", pouch("pouch", chance.choice([block, "pouch-lining"])))
    else:
        block = chance.choice(["pouch", "pouch, room = 3 cm", "bag", "pouch-lining", "first-skirt"])
        day.save(day.studio / "styles/pouch-lining.md", pouch("pouch-lining", block, chance.randint(1, 3)))


def a_choice_for_a_block(day: Day) -> None:
    chance = day.chance
    depth, room = chance.choice(["12", "13 1/2", "99"]), chance.choice(["1", "1 1/2"])
    choices = f"waist to hip: 8 1/4\nchoices:\n  bag:\n    depth: {depth}\n  pouch:\n    room: {room}"
    file, name = chance.choice([("ada", "Ada"), ("first-client", "Bích Trâm")])
    text = CLIENT.format(name=name, units="inches", day=1, more=choices, notes="")
    day.save(day.studio / "clients" / f"{file}.md", text)


def a_block_away_and_back(day: Day) -> None:
    path = day.studio / "styles" / day.chance.choice(["bag.md", "pouch.md"])
    if path.exists():
        away = day.folder / "away.md"
        path.rename(away)
        time.sleep(day.chance.choice([0.0, 0.3, 0.8]))
        away.rename(path)


def a_table(day: Day) -> None:
    chance = day.chance
    table = TABLE.replace("81.9", chance.choice(["81.9", "82.4", "83", "83 ells", "–"]))
    table = table.replace("first-skirt", chance.choice(["first-skirt", "first-skirt", "bag", "nothing"]))
    day.save(day.studio / "clients/sizes" / f"{chance.choice(['hatbox', 'other'])}.md", table.encode())


def a_style(day: Day) -> None:
    depth = day.chance.choice([22, 25, 30, 35])
    day.save(day.studio / "styles" / "bag.md", SECOND.replace("30 cm (20", f"{depth} cm (20"))


def prose_of_a_style(day: Day) -> None:
    words = day.chance.choice(["Press well.", "Hang it for a night.", "{hip_girth} round.", ""])
    day.save(day.studio / "styles" / "first-skirt.md", f"{STYLE}\n{words}\n")


def a_mistake(day: Day) -> None:
    chance = day.chance
    file, text = chance.choice(
        [("styles/first-skirt.md", STYLE), ("styles/bag.md", SECOND), ("clients/bo.md", CLIENT)]
    )
    at = chance.randrange(len(text))
    spoilt = chance.choice(
        [text[:at], text[:at] + "§" + text[at:], text.replace("girth", "grith"), "", "---\n"]
    )
    day.save(day.studio / file, spoilt)


def garbage(day: Day) -> None:
    day.save(
        day.studio / day.chance.choice(["styles", "clients", "clients/sizes"]) / "odd.md",
        day.chance.randbytes(2000),
    )


def files_of_editors(day: Day) -> None:
    for name in (".bag.md.swp", "bag.md~", "#bag.md#", "bag.md.bak", ".DS_Store"):
        (day.studio / "styles" / name).write_bytes(day.chance.randbytes(20))


def several_at_once(day: Day) -> None:
    for _ in range(day.chance.randint(2, 5)):
        day.chance.choice([a_client, a_style, prose_of_a_style])(day)


def nothing_new(day: Day) -> None:
    for path in (*day.studio.glob("styles/*.md"), *day.studio.glob("clients/*.md")):
        if path.is_file():
            data = path.read_bytes()
            path.write_bytes(data)
            path.touch()


def a_deletion(day: Day) -> None:
    name = day.chance.choice(
        [
            *("clients/ada.md", "clients/bo.md", "clients/odd.md"),
            *(
                "styles/odd.md",
                "styles/bag.md",
                "styles/pouch.md",
                "clients/sizes/hatbox.md",
                "clients/sizes/odd.md",
            ),
        ]
    )
    (day.studio / name).unlink(missing_ok=True)


def a_new_name(day: Day) -> None:
    path = day.studio / "clients" / day.chance.choice(["ada.md", "bo.md", "chi.md"])
    if path.exists():
        path.rename(path.with_name(day.chance.choice(["ada.md", "bo.md", "chi.md", "Ada Two.md", "é.md"])))


def a_copy(day: Day) -> None:
    shutil.copy(day.studio / "styles" / "first-skirt.md", day.studio / "styles" / "second-skirt.md")


def settings(day: Day) -> None:
    lines = [
        'name = "One"',
        'name = "Two"\nunits = "inches"',
        "name = 3",
        'date = "2026-03-01"',
        "papers = [",
    ]
    day.save(day.studio / "site_template" / "studio.toml", day.chance.choice(lines))


def a_template(day: Day) -> None:
    text = (ROOT / "site_template" / "card.html").read_text(encoding="utf-8")
    more = day.chance.choice(["<!-- ours -->", "{{ nothing }}", "{% if %}", ""])
    day.save(day.studio / "site_template" / "card.html", text + more)


def a_style_sheet(day: Day) -> None:
    day.save(day.studio / "site_template" / "catalogue.css", f"p {{ margin: {day.chance.randrange(9)}px }}")


def no_template(day: Day) -> None:
    for name in ("card.html", "catalogue.css"):
        (day.studio / "site_template" / name).unlink(missing_ok=True)


def a_folder_away_and_back(day: Day) -> None:
    folder = day.studio / day.chance.choice(["clients", "styles", "clients/sizes", "site_template"])
    if folder.exists():
        folder.rename(day.folder / "away")
        time.sleep(day.chance.choice([0.0, 0.2, 0.6]))
        if day.chance.random() < 0.5:
            (day.folder / "away").rename(folder)
        else:
            shutil.copytree(day.folder / "away", folder)
            shutil.rmtree(day.folder / "away")


def a_new_folder(day: Day) -> None:
    folder = day.studio / "styles" / "pictures"
    if folder.exists():
        shutil.rmtree(folder)
    else:
        folder.mkdir()
        (folder / "a.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg"/>')


def a_hand_in_the_catalogue(day: Day) -> None:
    """A file of the catalogue is deleted, or spoilt: the next build puts it right."""
    pages = sorted(day.output.glob("styles/*/*/index.html"))
    if pages:
        day.chance.choice(pages).unlink(missing_ok=True)
    a_client(day)


def the_builder_killed(day: Day) -> None:
    """The building program dies in the middle of whatever it is at."""
    if day.done["the_builder_killed"] < 3:
        children = Path(f"/proc/{day.process.pid}/task/{day.process.pid}/children").read_text().split()
        for child in children:
            os.kill(int(child), signal.SIGKILL)
        a_style(day)


EDITS = (
    *(
        a_client,
        a_client,
        a_client,
        a_style,
        a_style,
        what_a_style_is_cut_from,
        what_a_style_is_cut_from,
        a_choice_for_a_block,
        a_block_away_and_back,
        a_table,
        prose_of_a_style,
        a_mistake,
        a_mistake,
        several_at_once,
    ),
    *(
        nothing_new,
        files_of_editors,
        garbage,
        a_deletion,
        a_deletion,
        a_new_name,
        a_copy,
        settings,
        a_template,
    ),
    *(a_style_sheet, no_template, a_folder_away_and_back, a_new_folder, a_hand_in_the_catalogue),
    *((the_builder_killed,) if sys.platform == "linux" else ()),
)


@pytest.mark.timeout(2000)
def test_a_day_of_work(tmp_path: Path) -> None:
    day = Day(tmp_path, seed=6)
    try:
        day.play(200 if THOROUGH else 18)
        what_a_style_is_cut_from(day)
        a_choice_for_a_block(day)
        day.check()
    finally:
        status = day.stop()
    assert status == 0


def main() -> None:
    count, seed = int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 1
    with tempfile.TemporaryDirectory() as folder:
        day = Day(Path(folder), seed)
        began = time.monotonic()
        try:
            for played in range(0, count, 25):
                day.play(min(25, count - played))
                day.check()
        finally:
            status = day.stop()
        builds = "".join(day.said).count("index.html: ")
        print(f"{count} edits, {builds} builds, {time.monotonic() - began:.0f} s, ended with {status}")
        print(", ".join(f"{name} {number}" for name, number in day.done.most_common()))


if __name__ == "__main__":
    main()
