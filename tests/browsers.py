"""A browser for tests, and the demo studio built once for all of them.

An installed Chromium or Chrome is taken; else one is got by the machine's package manager or by the browser
library's own download. Debian's headless shell comes first: it shows pages with the same engine and without a browser
around it, in half the time. Another is named with --browser-program. Tests that use the `browser` fixture can be left
out on purpose with --no-browser.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[1]
NAMES = (
    "chromium-headless-shell",
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
)
PLACES = (
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    r"C:\Program Files\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files (x86)\Google\Chrome\Application\chrome.exe",
    r"C:\Program Files\Chromium\Application\chrome.exe",
)
ARGUMENTS = (
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-gpu",
)
VIEWPORT = {"width": 1440, "height": 400}
"""As wide as a laptop's; what is seen at once is drawn again and again, and takes a tenth less than in 900 pixels."""
NONE_TO_BE_HAD = (
    "No browser was found and none could be installed: install Chromium or Chrome, or leave out these tests "
    "with --no-browser."
)


def installed() -> Path | None:
    """An installed Chromium or Chrome."""
    own = Path(os.environ.get("LOCALAPPDATA", ""), "Google", "Chrome", "Application", "chrome.exe")
    found = [shutil.which(name) for name in NAMES]
    return next((Path(p) for p in (*found, *PLACES, own) if p and Path(p).is_file()), None)


def from_package_manager() -> Path | None:
    """Debian's headless shell, or else Debian's and Ubuntu's Chromium, when we may install it."""
    if not shutil.which("apt-get") or not hasattr(os, "geteuid") or os.geteuid() != 0:
        return None
    _quietly("apt-get", "update")
    for package in ("chromium-headless-shell", "chromium"):
        _quietly("apt-get", "install", "-y", "--no-install-recommends", package)
        if found := installed():
            return found
    return None


def from_library() -> Path | None:
    """The browser library's own download."""
    _quietly(sys.executable, "-m", "playwright", "install", "chromium")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as library:
        path = Path(library.chromium.executable_path)
    return path if path.is_file() else None


def _quietly(*command: str) -> None:
    environment = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    # Whether it worked is seen by looking for the browser.
    with suppress(OSError, subprocess.TimeoutExpired):
        subprocess.run(command, env=environment, stdin=subprocess.DEVNULL, capture_output=True, timeout=600)


def find_browser(
    ways: tuple[Callable[[], Path | None], ...] = (installed, from_package_manager, from_library),
) -> Path:
    """A browser's program. Fails the test with a sentence when none is to be had."""
    for way in ways:
        if (path := way()) is not None:
            return path
    raise pytest.fail.Exception(NONE_TO_BE_HAD, pytrace=False)


@contextmanager
def alone(place: Path, seconds: float = 900.0) -> Iterator[None]:
    """Only one process at a time is in here, for the same `place`."""
    end = time.monotonic() + seconds
    while True:
        try:
            place.mkdir()
            break
        except FileExistsError:
            assert time.monotonic() < end, f"another process has held {place} for {seconds:g} seconds"
            time.sleep(0.05)
    try:
        yield
    finally:
        place.rmdir()


def shared_folder(factory: pytest.TempPathFactory) -> Path:
    """A folder that all workers of this run share."""
    base = factory.getbasetemp()
    return base.parent if os.environ.get("PYTEST_XDIST_WORKER") else base


@pytest.fixture(scope="session")
def browser_program(tmp_path_factory: pytest.TempPathFactory, pytestconfig: pytest.Config) -> Path:
    """The program of the browser; got once, whatever the number of workers."""
    if named := pytestconfig.getoption("--browser-program"):
        return Path(named)
    with alone(shared_folder(tmp_path_factory) / "getting-a-browser"):
        return find_browser()


@pytest.fixture(scope="session")
def browser(browser_program: Path) -> Iterator[Any]:
    """A headless browser (Playwright's `Browser`), one for all tests of a worker."""
    from playwright.sync_api import sync_playwright

    as_root = hasattr(os, "geteuid") and os.geteuid() == 0
    with sync_playwright() as library:
        browser = library.chromium.launch(
            executable_path=browser_program, args=list(ARGUMENTS), chromium_sandbox=not as_root
        )
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def tab(browser: Any) -> Iterator[Any]:
    """The page that is emptied for each test, one for all of a worker: to open one takes longer than most tests."""
    context = browser.new_context(viewport=VIEWPORT)
    yield context.new_page()
    context.close()


@pytest.fixture(scope="session")
def blank(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The address of a page with nothing on it; pages on the disk share what they store."""
    file = tmp_path_factory.mktemp("blank") / "blank.html"
    file.write_text('<!doctype html><html lang="en"><title>Blank</title></html>')
    return file.as_uri()


@pytest.fixture
def emptied_tab(tab: Any, blank: str) -> Any:
    """The page as if it were new: nothing stored, no other page open, of the usual size and colours."""
    for other in tab.context.pages:
        if other is not tab:
            other.close()
    tab.context.clear_cookies()
    tab.goto(blank)  # by now all is stored that a page stores when it is left
    tab.evaluate("() => { localStorage.clear(); sessionStorage.clear(); }")
    tab.set_viewport_size(VIEWPORT)
    tab.emulate_media(media="null", color_scheme="null", reduced_motion="null")
    return tab


@contextmanager
def without_complaint(page: Any) -> Iterator[Any]:
    """The page; it is a failure if it reports an error meanwhile."""
    complaints: list[str] = []
    told = {
        "pageerror": lambda error: complaints.append(str(error)),
        "console": lambda said: complaints.append(said.text) if said.type == "error" else None,
    }
    for event, listener in told.items():
        page.on(event, listener)
    yield page
    for event, listener in told.items():
        page.remove_listener(event, listener)
    assert not complaints, f"the page complained: {complaints}"


@pytest.fixture
def page(emptied_tab: Any, blank: str) -> Iterator[Any]:
    """An empty page (Playwright's `Page`) with nothing stored. The test fails if the page reports an error."""
    with without_complaint(emptied_tab):
        yield emptied_tab
        emptied_tab.goto(blank)


@pytest.fixture
def quiet_page(emptied_tab: Any) -> Any:
    """An empty page that may complain: of a refusal, or of axe reading style sheets that the policy keeps from it."""
    return emptied_tab


@pytest.fixture(scope="session")
def demo_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo studio's catalogue, built once for all workers. For looking at only.

    Where it was built in its place already, a copy of that is brought up to date: what comes from other files, or
    another program, is made again.
    """
    from catalogue.building.report import Request
    from catalogue.building.run import build
    from catalogue.building.units import CATALOGUE

    folder = shared_folder(tmp_path_factory)
    site = folder / "demo-site"
    with alone(folder / "building-the-demo"):
        if not (folder / "demo-built").exists():
            if (ROOT / "site" / ".catalogue.json").exists():
                shutil.copytree(ROOT / "site", site, symlinks=True)
            build(Request(ROOT, site), CATALOGUE)
            (folder / "demo-built").touch()
    return site


def leave_out_browser_tests(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Deselect what needs a browser, when that was asked for."""
    if not config.getoption("--no-browser"):
        return
    needing = [item for item in items if "browser_program" in getattr(item, "fixturenames", ())]
    config.hook.pytest_deselected(items=needing)
    items[:] = [item for item in items if item not in needing]
