"""The first minutes: what `catalogue` alone says, and the files to double-click."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest

from catalogue.cli import main
from catalogue.starter import make_studio, starters


def said(capsys: pytest.CaptureFixture[str], folder: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.chdir(folder)
    assert main([]) == 0
    return capsys.readouterr().out


def test_alone_it_says_how_to_make_a_studio_and_then_how_to_open_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert re.search(
        r"no studio in this folder yet.* new my-studio", said(capsys, tmp_path, monkeypatch), re.S
    )
    make_studio(tmp_path / "my studio")
    assert 'open "my studio"' in said(capsys, tmp_path, monkeypatch)
    told = said(capsys, tmp_path / "my studio", monkeypatch)
    assert "1 style file and 1 client file" in told and "build its catalogue" in told
    (tmp_path / "my studio" / "site").mkdir()
    (tmp_path / "my studio" / "site" / "index.html").touch()
    assert "up to date" in said(capsys, tmp_path / "my studio", monkeypatch)


def test_open_builds_and_shows_the_first_page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    studio = tmp_path / "Schneiderei Ünal"
    for folder in ("styles", "clients"):
        (studio / folder).mkdir(parents=True)
    shown: list[str] = []
    monkeypatch.setattr("webbrowser.open", lambda address: shown.append(address) or True)
    monkeypatch.setattr("catalogue.commands.build.run", lambda given: _pretend(given.studio / "site"))
    assert main(["open", str(studio)]) == 0
    assert shown == [(studio / "site" / "index.html").as_uri()]


def _pretend(site: Path) -> int:
    site.mkdir()
    (site / "index.html").touch()
    return 0


def test_without_a_browser_the_address_is_said(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from catalogue.welcome import show

    monkeypatch.setattr("webbrowser.open", lambda address: False)
    show("file:///x/index.html")
    assert "file:///x/index.html" in capsys.readouterr().err


def test_the_starters_are_fit_for_their_systems(tmp_path: Path) -> None:
    files = starters("/opt/it's here/%USER%/python")
    windows = files["Open catalogue.cmd"].decode()
    assert windows.count("\r\n") == windows.count("\n") and "%%USER%%" in windows
    assert 'cd /d "%~dp0"' in windows
    for name in ("Open catalogue.command", "Open catalogue.sh"):
        assert b"\r" not in files[name]
        script = tmp_path / name
        script.write_bytes(files[name])
        assert subprocess.run(["sh", "-n", script]).returncode == 0  # the shell can read it


@pytest.mark.skipif(sys.platform == "win32", reason="the starter of Windows is run by hand")
def test_a_double_click_shows_the_catalogue(tmp_path: Path) -> None:
    studio = tmp_path / "xưởng may 1"
    make_studio(studio)
    for path in studio.rglob("*.md"):
        path.unlink()  # what is built does not matter here
    log = tmp_path / "opened"
    browser = tmp_path / "browser"
    browser.write_text(f'#!/bin/sh\necho "$1" > "{log}"\n')
    browser.chmod(0o755)
    environment = os.environ | {"BROWSER": f"{browser} %s", "PYTHONPATH": str(Path(__file__).parents[2])}
    process = subprocess.Popen(
        [studio / "Open catalogue.sh"],
        cwd="/",
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        env=environment,
        start_new_session=True,
    )
    try:
        end = time.monotonic() + 120
        while not (log.exists() and log.read_text().strip()):
            assert time.monotonic() < end and process.poll() is None
            time.sleep(0.1)
        browser_with_cookies = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
        with browser_with_cookies.open(log.read_text().strip()) as page:
            assert b"There are no clients yet" in page.read()
    finally:
        os.killpg(process.pid, signal.SIGTERM)
        process.communicate(timeout=60)
