"""Random edits, with builds killed at any step and disks that fill up in between: it ends in a first build's catalogue.

    python -m tests.building.test_siege COUNT [SEED]

plays more of them than a run of the tests has time for.
"""

from __future__ import annotations

import errno
import shutil
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest

from catalogue.building import disk, manifest
from catalogue.building.disk import CannotWrite
from catalogue.building.folder import STAGING
from catalogue.building.published import verify
from catalogue.building.report import Request
from catalogue.building.run import build
from catalogue.cli import main as command
from tests.building.fakes import dangling_links, fakes, site_files, write_studio
from tests.building.test_publish import Faults, Killed, kill_at, mixed_drafts

OWN, MINE = "set-aside", b"a file of someone else's"


class Siege:
    """A studio and its catalogue, and what happens to them."""

    def __init__(self, folder: Path, seed: int) -> None:
        self.chance = Random(seed)
        self.folder, self.output = folder, folder / "site"
        self.studio = write_studio(folder / "studio", 3, 3)
        self.done: Counter[str] = Counter()
        self.begun: list[dict[str, bytes]] = []
        self.build()

    def build(self) -> None:
        build(Request(self.studio, self.output, jobs=1, allow_removal=True), fakes())

    def fresh(self) -> dict[str, bytes]:
        shutil.rmtree(self.folder / "fresh", ignore_errors=True)
        build(Request(self.studio, self.folder / "fresh", jobs=1), fakes())
        return site_files(self.folder / "fresh")

    def play(self) -> None:
        """One edit, or a few, and a build that may not come to its end."""
        for _ in range(self.chance.choice([1, 1, 1, 2, 4])):
            edit = self.chance.choice(EDITS)
            edit(self)
            self.done[edit.__name__] += 1
        disturbed = self.chance.choice([self.undisturbed, self.killed, self.killed, self.full])
        disturbed()
        self.done[disturbed.__name__] += 1

    def undisturbed(self) -> None:
        self.build()
        self.begun.clear()

    def killed(self) -> None:
        old, new = self.seen(), self.fresh()
        with pytest.MonkeyPatch.context() as patch:
            kill_at(self.chance.randint(1, 90), patch)
            try:
                self.build()
                self.begun.clear()
            except Killed:
                self.done["broken off"] += 1
        # A build first goes on with what the last one had begun to move.
        if disk.can_exchange(self.folder):
            assert mixed_drafts(self.seen(), old, *self.begun, new) == []
        self.begun.append(new)

    def full(self) -> None:
        old = self.seen()
        with pytest.MonkeyPatch.context() as patch:
            faults = Faults(patch, self.chance.choice([errno.ENOSPC, errno.EIO]))
            faults.fatal = self.chance.randint(1, 90)
            try:
                self.build()
            except CannotWrite:
                self.done["refused by the disk"] += 1
                if not self.unfinished:
                    assert self.seen() == old, "what a build that fails leaves is what was there"
        self.unfinished = any(self.output.glob(f"{STAGING}*"))

    unfinished = False

    def seen(self) -> dict[str, bytes]:
        self.unfinished = any(self.output.glob(f"{STAGING}*"))
        files = site_files(self.output)
        return {path: data for path, data in files.items() if not path.startswith(STAGING)}

    def check(self) -> None:
        """After one more build all is as it should be, and `catalogue verify` says so."""
        self.build()
        kept = [path for path, data in site_files(self.output).items() if OWN in path or data == MINE]
        for path in kept:
            (self.output / path).unlink()
        assert site_files(self.output) == self.fresh()
        assert verify(self.output).ok and verify(self.output).others == ()
        assert command(["verify", str(self.studio), "--out", str(self.output)]) == 0
        assert dangling_links(self.output) == []

    def file(self, folder: str) -> Path:
        return self.studio / folder / f"{folder[:-1]}{self.chance.randrange(5)}.md"

    def published(self) -> Path | None:
        """A file of the catalogue."""
        files = [p for p in sorted(self.output.rglob("*.*")) if p.is_file() and STAGING not in str(p)]
        files = [p for p in files if not p.name.startswith(".catalogue")]
        files = [p for p in files if self.output / manifest.PARTS not in p.parents]
        return self.chance.choice(files) if files else None


def a_client(siege: Siege) -> None:
    values = "".join(f"length{n} = {siege.chance.randrange(99)}\n" for n in range(3))
    girth = siege.chance.randrange(800, 999)
    siege.file("clients").write_text(f"name: C {siege.chance.randrange(9)}\ngirth = {girth}\n{values}")


def a_style(siege: Siege) -> None:
    needs = siege.chance.sample(["girth", "length0", "length1"], siege.chance.randint(1, 3))
    siege.file("styles").write_text("".join(f"need {need}\n" for need in needs))


def a_file_less(siege: Siege) -> None:
    siege.file(siege.chance.choice(["clients", "styles"])).unlink(missing_ok=True)


def back_to_an_earlier_studio(siege: Siege) -> None:
    earlier = siege.folder / "earlier"
    if earlier.exists() and siege.chance.random() < 0.5:
        shutil.rmtree(siege.studio)
        shutil.copytree(earlier, siege.studio)
    else:
        shutil.rmtree(earlier, ignore_errors=True)
        shutil.copytree(siege.studio, earlier)


def a_published_file_gone(siege: Siege) -> None:
    if path := siege.published():
        path.unlink()


def a_published_file_spoilt(siege: Siege) -> None:
    if path := siege.published():
        path.write_bytes(bytes(path.stat().st_size))


def a_published_file_written_over(siege: Siege) -> None:
    if path := siege.published():
        path.write_bytes(b"my own notes")


def something_in_the_way(siege: Siege) -> None:
    place = siege.output / "styles" / f"style{siege.chance.randrange(5)}"
    if not place.exists():
        place.parent.mkdir(exist_ok=True)
        place.write_bytes(MINE)


EDITS: tuple[Callable[[Siege], None], ...] = (
    *(a_client, a_client, a_client, a_style, a_style, a_file_less, back_to_an_earlier_studio),
    *(a_published_file_gone, a_published_file_spoilt, a_published_file_written_over, something_in_the_way),
)


def play(folder: Path, count: int, seed: int) -> Siege:
    with pytest.MonkeyPatch.context() as patch:
        # As if the studio were so large that its manifest stands in parts.
        patch.setattr(manifest, "FEW", 4)
        patch.setattr(manifest, "PART", 8)
        siege = Siege(folder, seed)
        for number in range(1, count + 1):
            siege.play()
            if number % 10 == 0 or number == count:
                siege.check()
    return siege


def test_a_siege_ends_in_the_catalogue_of_a_first_build(tmp_path: Path) -> None:
    done = play(tmp_path, 10, 3).done
    assert done["broken off"] and done["refused by the disk"]


def main() -> None:
    count, seed = int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 1
    began = time.monotonic()
    disk.SYNCS = False
    with tempfile.TemporaryDirectory() as folder:
        done = play(Path(folder), count, seed).done
    print(f"{count} rounds in {time.monotonic() - began:.0f} s")
    print(", ".join(f"{name} {number}" for name, number in done.most_common()))


if __name__ == "__main__":
    main()
