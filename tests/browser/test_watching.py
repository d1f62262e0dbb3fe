"""Pages under `catalogue watch`, in a real browser: they reload in place and show what is wrong."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Error

from catalogue.starter import make_studio

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="ends processes as Unix does")
ROOT = Path(__file__).parents[2]
DEADLINE = 600.0
"""Seconds after which what has not come is taken never to come, on a machine with other things to do."""
DRAFT = "styles/first-skirt/first-client/index.html"


@pytest.fixture(scope="module")
def watched(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, str]]:
    """A studio that is watched, and the address that lets a browser in; one for all tests."""
    studio = tmp_path_factory.mktemp("watched") / "studio"
    make_studio(studio)
    process = subprocess.Popen(
        [sys.executable, "-u", "-m", "catalogue", "watch", str(studio), "--port", "0"],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        start_new_session=True,
    )
    assert process.stdout is not None
    said = ""
    while not (found := re.search(r"http://127\.0\.0\.1:\d+/\?key=\S+", said)):
        line = process.stdout.readline()
        assert line, f"watching ended: {said}"
        said += line
    yield studio, found[0]
    os.killpg(process.pid, signal.SIGINT)
    process.wait(DEADLINE)


@pytest.fixture
def studio(watched: tuple[Path, str]) -> Iterator[Path]:
    """The watched studio; what a test changes in its files is taken back."""
    studio, _ = watched
    before = {path: path.read_bytes() for path in studio.rglob("*.md")}
    yield studio
    for path, data in before.items():
        if path.read_bytes() != data:
            path.write_bytes(data)


@pytest.fixture
def address(watched: tuple[Path, str], page: Any) -> str:
    _, address = watched
    page.goto(address)
    return address.partition("?")[0]


def change(path: Path, old: str, new: str) -> None:
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new))


def until(page: Any, holds: str) -> None:
    """Wait for an expression to hold. (The library's own way needs `eval`, which the pages forbid.)"""
    end = time.monotonic() + DEADLINE
    while True:
        # A page that is just being loaded again answers nothing.
        with suppress(Error):
            if page.evaluate("document.readyState === 'complete'") and page.evaluate(holds):
                return
        assert time.monotonic() < end, (
            f"{holds} never came to hold; {page.locator('main').inner_text()[:600]}"
        )
        page.wait_for_timeout(20)


def test_a_saved_measurement_shows_in_the_open_page_at_the_same_place(
    studio: Path, address: str, page: Any
) -> None:
    page.goto(address + DRAFT)
    # Workings of the first step: a quarter of the hip girth of 101.5 cm and of 4 cm of ease.
    until(page, "document.querySelector('.workings')?.textContent.includes('26.4 cm')")
    step = page.locator("#at-step")
    step.fill("3")
    page.evaluate("scrollTo(0, 700)")
    until(page, "scrollY === 700")
    page.evaluate("window.before = true")
    change(studio / "clients" / "first-client.md", "hip girth: 101.5", "hip girth: 109.5")
    until(page, "window.before === undefined && document.readyState === 'complete'")
    until(page, "document.querySelector('.workings')?.textContent.includes('28.4 cm')")
    until(page, "scrollY === 700")
    assert page.locator("#at-step").input_value() == "3"


def test_a_page_that_shows_nothing_of_the_change_stays(studio: Path, address: str, page: Any) -> None:
    page.goto(address + "handbook/index.html")
    page.evaluate("window.before = true")
    with page.expect_response("**/-/watch.js"):
        other = page.context.new_page()
        other.goto(address + DRAFT)
        page.reload()
    page.evaluate("window.before = true")
    change(studio / "clients" / "first-client.md", "hip girth: 101.5", "hip girth: 109.5")
    other.locator(".workings td", has_text="28.4 cm").first.wait_for(
        state="attached", timeout=1000 * DEADLINE
    )
    assert page.evaluate("window.before") is True


def test_a_broken_save_shows_a_banner_until_it_is_mended(studio: Path, address: str, page: Any) -> None:
    page.goto(address + "handbook/index.html")
    style = studio / "styles" / "first-skirt.md"
    good = style.read_text()
    change(style, "quarter_hip = hip_girth / 4", "quarter_hip = hip_grith / 4")
    banner = page.locator("#catalogue-banner")
    banner.wait_for(timeout=1000 * DEADLINE)
    assert "styles/first-skirt.md:" in banner.inner_text() and "hip_girth" in banner.inner_text()
    style.write_text(good)
    banner.wait_for(state="detached", timeout=1000 * DEADLINE)
