"""How long it takes from saving a file to the page that shows it again, in a browser.

    python -m tests.benchmarks.watching [--times N] [--browser PROGRAM]

Copies the demo, starts `catalogue watch` on it, opens the page of one draft and one of a style in a browser and saves
files: a measurement that the draft uses, the client's notes, the style's drafting, its prose. The time is taken from
the save to the moment the page has loaded again.
"""

from __future__ import annotations

import argparse
import re
import shutil
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
STYLE, CLIENT = "straight-skirt", "hester-pellow"
DRAFT, GARMENT = f"styles/{STYLE}/{CLIENT}/index.html", f"styles/{STYLE}/index.html"


def a_measurement(studio: Path, number: int) -> None:
    change(studio / "clients" / f"{CLIENT}.md", r"^( +hip girth: ).+$", rf"\g<1>{40 + number % 8 / 4}")


def a_note(studio: Path, number: int) -> None:
    add(studio / "clients" / f"{CLIENT}.md", f"\nA note, the {number}th.\n")


def prose(studio: Path, number: int) -> None:
    add(studio / "styles" / f"{STYLE}.md", f"\nA sentence, the {number}th.\n")


def drafting(studio: Path, number: int) -> None:
    path = studio / "styles" / f"{STYLE}.md"
    change(path, r"(```draft\n)(?:note_\d+ = .*\n)?", rf"\g<1>note_{number} = {number} cm\n")


def summary(studio: Path, number: int) -> None:
    change(
        studio / "styles" / f"{STYLE}.md",
        r"^summary: .*$",
        f"summary: A skirt told of in few words, the {number}th.",
    )


def change(path: Path, pattern: str, new: str) -> None:
    text, count = re.subn(pattern, new, path.read_text(encoding="utf-8"), count=1, flags=re.MULTILINE)
    assert count, f"{pattern} is not in {path}"
    path.write_text(text, encoding="utf-8")


def add(path: Path, words: str) -> None:
    path.write_text(path.read_text(encoding="utf-8") + words, encoding="utf-8")


EDITS: tuple[tuple[str, str, Callable[[Path, int], None]], ...] = (
    ("one measurement, the draft's page", DRAFT, a_measurement),
    ("a note, the draft's page", DRAFT, a_note),
    ("a style's drafting, the draft's page", DRAFT, drafting),
    ("a style's prose, the draft's page", DRAFT, prose),
    ("a style's summary, the style's page", GARMENT, summary),
)


def timed(page: Any, save: Callable[[], None]) -> float:
    """Seconds from `save` until the open page has loaded again."""
    with page.expect_event("load"):
        began = time.perf_counter()
        save()
    return time.perf_counter() - began


def main() -> None:
    from playwright.sync_api import sync_playwright

    parser = argparse.ArgumentParser(description="Time from a save to the reloaded page.")
    parser.add_argument("--times", type=int, default=5)
    parser.add_argument("--browser", default=shutil.which("chromium"))
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as play:
        studio, site = Path(folder, "studio"), Path(folder, "site")
        for name in ("styles", "clients"):
            shutil.copytree(ROOT / name, studio / name)
        (studio / "site_template").mkdir()
        shutil.copy(ROOT / "site_template" / "studio.toml", studio / "site_template")
        command = [
            sys.executable,
            "-m",
            "catalogue",
            "watch",
            str(studio),
            "--out",
            str(site),
            "--port",
            "8551",
        ]
        watcher = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True)
        assert watcher.stdout is not None
        while not (said := watcher.stdout.readline()).startswith("The catalogue is at"):
            pass
        browser = play.chromium.launch(executable_path=given.browser, args=["--no-sandbox"])
        try:
            page = browser.new_page()
            page.goto(said.split()[4])  # lets this browser in
            number = 0
            print("| saved, and seen on | median s | slowest s |\n|---|---|---|")
            for words, path, edit in EDITS:
                page.goto(f"http://127.0.0.1:8551/{path}", wait_until="load")
                time.sleep(6)
                taken = []
                for _ in range(given.times):
                    number += 1
                    taken.append(timed(page, lambda n=number, edit=edit: edit(studio, n)))  # type: ignore[misc]
                    time.sleep(6)  # until what follows is done too
                print(f"| {words} | {statistics.median(taken):.2f} | {max(taken):.2f} |", flush=True)
        finally:
            browser.close()
            watcher.send_signal(signal.SIGINT)
            watcher.wait(30)


if __name__ == "__main__":
    main()
