"""The build's own part, without drafting: what is left when a draft costs nothing.

    python -m tests.benchmarks.own_part [STYLESxCLIENTS ...] [--jobs COUNT]

Builds studios of the tests' own kind, whose drafts are sums (`tests/building/fakes.py`), with ten small files a draft:
a first build, one with nothing changed, one client measured again, one style changed. Each is a process of its own.
For each it prints seconds, those of the processors, of these the ones of the process that leads, and its memory.
The floor, in the same run: a look at size and time of every file, and a walk through all folders.
"""

from __future__ import annotations

import argparse
import os
import resource
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

from catalogue.building.common import Common
from catalogue.building.report import Request
from catalogue.building.run import build
from catalogue.building.unit import Products, Results, UnitName
from tests.building.fakes import FakePair, fakes, write_studio

ROOT = Path(__file__).parents[2]
SIZES = ("60x83", "60x200")
FILES = 7
"""Files of a draft besides its page, drawing and record."""


@dataclass(frozen=True, eq=False)
class ManyFiles(FakePair):
    """A draft with as many files as a real one."""

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        made = dict(super().make(common, name, results))
        more = {f"{self.folder(name)}draft-{n}.pdf": b"%d" % n + bytes(500) for n in range(FILES)}
        made[name] = type(made[name])(
            {**made[name].files, **more}, made[name].summary, made[name].findings, made[name].records
        )
        return made


def lead(studio: Path, output: Path, jobs: int) -> None:
    """One build, in a process of its own, with what it took."""
    began, spent = time.perf_counter(), time.process_time()
    report = build(Request(studio, output, jobs=jobs), fakes(pair=ManyFiles()))
    seconds = time.perf_counter() - began
    own = time.process_time() - spent
    others = resource.getrusage(resource.RUSAGE_CHILDREN)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(
        f"{seconds:.2f} | {own + others.ru_utime + others.ru_stime:.2f} | {own:.2f} | {peak:.0f} | "
        f"{report.made} | {len(report.changed)}"
    )


def floor(output: Path) -> str:
    """Processor seconds of a look at every file, and of a walk."""
    began = time.process_time()
    paths = [f"{base}/{name}" for base, _, names in os.walk(output) for name in names]
    walked = time.process_time()
    for path in paths:
        os.lstat(path)
    looked = time.process_time()
    return f"{len(paths)} files: a walk {walked - began:.2f} s, size and time of each {looked - walked:.2f} s"


def main() -> None:
    parser = argparse.ArgumentParser(description="Time the build's own part.")
    parser.add_argument("sizes", nargs="*", default=SIZES, metavar="STYLESxCLIENTS")
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--lead", nargs=2, type=Path, help=argparse.SUPPRESS)
    given = parser.parse_args()
    if given.lead:
        studio, output = given.lead
        lead(studio, output, given.jobs)
        return
    print(
        "| drafts | build | s | processor s | of the leading process | its memory, MB | drafts made | files |"
    )
    print("|---|---|---|---|---|---|---|---|")
    for size in given.sizes:
        styles, clients = map(int, size.split("x"))
        with tempfile.TemporaryDirectory() as temporary:
            studio, output = (
                write_studio(Path(temporary) / "studio", styles, clients),
                Path(temporary) / "site",
            )
            client = studio / "clients" / "client1.md"
            style = studio / "styles" / "style1.md"
            for name, path, old, new in (
                ("first build", client, "", ""),
                ("nothing changed", client, "", ""),
                ("one client's measurement", client, "girth = 901", "girth = 902"),
                ("one style", style, "need length1", "need length2"),
            ):
                path.write_text(path.read_text().replace(old, new) if old else path.read_text())
                command = [
                    sys.executable,
                    "-m",
                    "tests.benchmarks.own_part",
                    "--lead",
                    str(studio),
                    str(output),
                ]
                command += ["--jobs", str(given.jobs)]
                told = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout
                print(f"| {size} | {name} | {told.strip()} |", flush=True)
            print(f"\n{floor(output)}\n", flush=True)


if __name__ == "__main__":
    main()
