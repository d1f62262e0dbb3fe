"""Where the time of a style-client pair goes, and how long each command takes to start.

    python -m tests.benchmarks.pairs [--times N]

Times every demo pair warm, in one process, and prints the median of each part beside the floor: the same amount of
drawing with the libraries alone (own measurement on two cores, Python 3.11: draft 5.6, SVG 0.7, page 0.2, PDF of 21
tiles 15.8 ms). Aim: within twice the floor, alarm at three times. Then the commands, as whole processes.
"""

from __future__ import annotations

import argparse
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path

from catalogue.building.common import Common
from catalogue.building.outputs import lay_pictures
from catalogue.building.readers import StudioReaders
from catalogue.building.reading import read_studio
from catalogue.building.studio import find_files
from catalogue.drafting import Draft, draft_style
from catalogue.drafting.record import draft_record
from catalogue.drawing.overview import draft_svg
from catalogue.sheets import SheetSettings, paper_named, sheet_pdf
from catalogue.site.pages import Site
from catalogue.site.pictures import draft_picture
from catalogue.studio.settings import Settings
from catalogue.studio.suiting import suits

ROOT = Path(__file__).parents[2]
FLOOR_MS = {"draft": 5.6, "svg": 0.7, "page": 0.2, "pdf": 15.8}
COMMANDS = (["--help"], ["--version"], ["check", str(ROOT)])


def milliseconds(
    work: Callable[[], object], times: int, clock: Callable[[], float] = time.process_time
) -> float:
    """Median of some runs after one to warm up; by the processor's time, so that a busy machine matters less."""
    work()
    taken = []
    for _ in range(times):
        began = clock()
        work()
        taken.append(1000 * (clock() - began))
    return statistics.median(taken)


def draft_page(site: Site, draft: Draft) -> object:
    return site.draft_page(site.view(draft), draft.style, draft.client)


def drawn_lays(settings: Settings, draft: Draft) -> object:
    return list(lay_pictures(settings, draft))


def main() -> None:
    parser = argparse.ArgumentParser(description="Time the parts of the demo studio's pairs.")
    parser.add_argument("--times", type=int, default=7, help="runs of each part of each pair")
    times = parser.parse_args().times
    studio = read_studio(find_files(ROOT), StudioReaders())
    site = Common(studio).site
    paper, said = paper_named("a4"), SheetSettings(date(2026, 1, 1), "Benchmark")
    parts: dict[str, list[float]] = {}
    tiles = 0
    for style in studio.styles:
        for client in studio.clients:
            if not suits(style, client):
                continue
            draft: Draft = draft_style(style, client, studio.settings)
            if not draft.ok:
                continue
            tiles += sheet_pdf(draft, paper, said).pages - 1
            works_of: dict[str, Callable[[], object]] = {
                "draft": partial(draft_style, style, client, studio.settings),
                "svg": partial(draft_svg, draft),
                "page": partial(draft_page, site, draft),
                "picture": partial(draft_picture, draft),
                "lays": partial(drawn_lays, studio.settings, draft),
                "json": partial(draft_record, draft),
                "pdf": partial(sheet_pdf, draft, paper, said),
            }
            for name, work in works_of.items():
                parts.setdefault(name, []).append(milliseconds(work, times))
    pairs = len(parts["draft"])
    total = sum(statistics.mean(v) for v in parts.values())
    print(f"{pairs} pairs, {tiles / pairs:.1f} tiles each; {total:.1f} ms a pair")
    for name, each in parts.items():
        mean = statistics.mean(each)
        floor = FLOOR_MS.get(name)
        beside = f"   {mean / floor:4.1f} times the floor of {floor} ms" if floor else ""
        print(f"  {name:8} {mean:6.1f} ms{beside}")
    floor = sum(FLOOR_MS.values())
    print(f"  in all   {total:6.1f} ms   {total / floor:4.1f} times the floor of {floor:.1f} ms")
    for arguments in COMMANDS:
        command = [sys.executable, "-m", "catalogue", *arguments]
        run = partial(subprocess.run, command, capture_output=True, check=False)
        taken = milliseconds(run, 5, time.perf_counter)
        print(f"  catalogue {arguments[0]:10} {taken:6.0f} ms")


if __name__ == "__main__":
    main()
