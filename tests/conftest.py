"""Settings shared by every test."""

import gc
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from contextlib import suppress
from importlib import import_module
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from catalogue import between_runs
from tests.browsers import (
    ROOT,
    blank,
    browser,
    browser_program,
    demo_site,
    emptied_tab,
    leave_out_browser_tests,
    page,
    quiet_page,
    tab,
)

__all__ = ["blank", "browser", "browser_program", "demo_site", "emptied_tab", "page", "quiet_page", "tab"]


def pytest_configure(config: pytest.Config) -> None:
    thorough = config.getoption("--thorough")
    if thorough:
        os.environ["THOROUGH_TESTS"] = "yes"  # for `tests.extent`
    # The same examples on every run, and no deadline: a slow machine must not turn a right answer into a failure.
    settings.register_profile(
        "steady",
        derandomize=True,
        deadline=None,
        max_examples=400 if thorough else 40,
        suppress_health_check=[HealthCheck.too_slow],
    )
    settings.load_profile("steady")
    # Commands are started by the hundred, and without kept bytecode each would compile the whole program again. What
    # is started from here, workers too, takes over the environment.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    sys.dont_write_bytecode = False
    # Likewise what the program keeps between runs: it is shared by all tests of a run, and gone after it. What the very
    # same program has kept already, when it built the demo, need not be worked out again.
    if not hasattr(config, "workerinput"):
        shared, already = Path(tempfile.mkdtemp(prefix="catalogue-kept-")), between_runs._folder()
        if already is not None:
            shutil.copytree(already, shared / already.name)
        os.environ[between_runs.VARIABLE] = str(shared)


@pytest.hookimpl(tryfirst=True)
def pytest_collection(session: pytest.Session) -> None:
    """In a new checkout, preparing the modules' `assert`s takes each worker twice as long as finding all tests.

    So each but the first begins with a share of its own: what it has prepared by the time that another comes to it is
    found ready.
    """
    workers = getattr(session.config, "workerinput", None)
    folders = [Path(given) for given in session.config.args if Path(given).is_dir()]
    if workers is None or workers["workerid"] == "gw0":
        return
    files = sorted(file.resolve() for folder in folders for file in folder.rglob("test_*.py"))
    count, own = workers["workercount"], int(workers["workerid"].removeprefix("gw"))
    for file in files[len(files) * own // count : len(files) * (own + 1) // count]:
        name = ".".join(file.relative_to(ROOT).with_suffix("").parts)
        with suppress(Exception, pytest.skip.Exception):  # said when its tests are looked for
            import_module(name)


def pytest_collection_finish(session: pytest.Session) -> None:
    # Thousands of tests and the libraries stay to the end: to look through them for garbage again and again is in vain.
    gc.collect()
    gc.freeze()
    gc.set_threshold(100_000, 50, 100)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--no-browser", action="store_true", help="leave out the tests that need a browser")
    parser.addoption("--browser-program", metavar="FILE", help="the browser that tests open pages in")
    parser.addoption(
        "--thorough",
        action="store_true",
        help="ten times as many made-up examples, every pair of a style and a client, everybody of the surveys",
    )


SOON_KNOWN = {"packaging"}
"""Folders of what is forgotten most easily: they come first."""

SOON_DONE = {"geometry", "handbook", "lengths", "pattern", "people", "placing", "language"}
"""Folders of whose files none takes long: they come last, so that all workers end together."""


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    leave_out_browser_tests(config, items)
    folders = {item: item.path.parent.name for item in items}
    items.sort(key=lambda item: (folders[item] not in SOON_KNOWN, folders[item] in SOON_DONE))


def pytest_unconfigure(config: pytest.Config) -> None:
    if not hasattr(config, "workerinput"):
        shutil.rmtree(os.environ.pop(between_runs.VARIABLE), ignore_errors=True)
    # Said last, so that a run without them is never taken for a whole one.
    if config.getoption("--no-browser", False) and not hasattr(config, "workerinput"):
        print("Left out on purpose, by --no-browser: all tests in a browser.")


@pytest.fixture(scope="session", autouse=True)
def _no_waiting_for_the_disk() -> Iterator[None]:
    """Builds of the tests don't wait until what they write is on the disk itself; those that try it say so."""
    from catalogue.building import disk

    disk.SYNCS = False
    yield
    disk.SYNCS = True
