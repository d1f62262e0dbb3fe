"""Commands that messages name are named as they can be typed where the program was started."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from catalogue.building import as_called as module
from catalogue.building.as_called import COMMANDS, as_called, to_be_typed
from catalogue.cli import parser

POSIX = pytest.mark.skipif(sys.platform == "win32", reason="paths as a POSIX shell writes them")


@pytest.fixture(autouse=True)
def _plain(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("UV", "UV_RUN_RECURSION_DEPTH"):
        monkeypatch.delenv(name, raising=False)


def started(monkeypatch: pytest.MonkeyPatch, typed: str, found: dict[str, str] | None = None) -> str:
    """What the command is called when it was started by `typed`, where the shell finds the programs `found`."""
    monkeypatch.setattr(sys, "argv", [typed, "check"])
    monkeypatch.setattr(module, "which", lambda name: (found or {}).get(name))
    return as_called()


@POSIX
def test_the_command_is_named_by_its_path_where_the_shell_does_not_find_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    assert started(monkeypatch, ".venv/bin/catalogue") == ".venv/bin/catalogue"
    assert started(monkeypatch, "/opt/My Tools/catalogue") == "'/opt/My Tools/catalogue'"
    here = str(Path(".venv/bin/catalogue").absolute())
    assert started(monkeypatch, ".venv/bin/catalogue", {"catalogue": here}) == "catalogue"


@POSIX
def test_a_module_is_named_with_its_interpreter(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    main = "/x/site-packages/catalogue/__main__.py"
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "executable", "/opt/py/bin/python3")
    assert started(monkeypatch, main) == "/opt/py/bin/python3 -m catalogue"
    assert started(monkeypatch, main, {"python3": "/opt/py/bin/python3"}) == "python3 -m catalogue"
    assert started(monkeypatch, main, {"python3": "/usr/bin/python3"}) == "/opt/py/bin/python3 -m catalogue"
    monkeypatch.setattr(sys, "executable", str(tmp_path / ".venv" / "bin" / "python"))
    assert started(monkeypatch, main) == ".venv/bin/python -m catalogue"


@POSIX
def test_uv_is_named_though_it_puts_the_command_on_the_path_of_what_it_starts(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # What uv 0.x sets for `uv run` and `uvx`, seen by printing it.
    monkeypatch.setenv("UV", "/usr/bin/uv")
    cached = "/home/a/.cache/uv/archive-v0/eUlQ/bin/catalogue"
    called = started(monkeypatch, cached, {"catalogue": cached})
    assert called.startswith("uvx --from ") and called.endswith(" catalogue")
    assert started(monkeypatch, "/usr/bin/catalogue", {"catalogue": "/usr/bin/catalogue"}) == "catalogue"
    monkeypatch.setenv("UV_RUN_RECURSION_DEPTH", "1")
    assert (
        started(monkeypatch, "/p/.venv/bin/catalogue", {"catalogue": "/p/.venv/bin/catalogue"})
        == "uv run catalogue"
    )


def test_only_commands_in_quotes_are_put_as_they_can_be_typed(monkeypatch: pytest.MonkeyPatch) -> None:
    assert started(monkeypatch, "/nowhere/catalogue") != "catalogue"
    typed = as_called()
    assert (
        to_be_typed("1 waiting (“catalogue check” names them)") == f"1 waiting (“{typed} check” names them)"
    )
    for text in ("the catalogue check", "“catalogue of all clients”", "“the catalogue open”"):
        assert to_be_typed(text) == text
    [commands] = [each for each in parser()._actions if each.dest == "command"]
    assert commands.choices is not None and set(COMMANDS) == set(commands.choices)


def test_the_terminal_names_the_command_as_it_was_started(tmp_path: Path) -> None:
    run = subprocess.run(
        [sys.executable, "-m", "catalogue", "check", str(tmp_path)],
        capture_output=True, text=True, env={**os.environ, "PATH": ""}, cwd=tmp_path, timeout=60, check=False,
    )  # fmt: skip
    assert run.returncode == 2
    assert f"“{sys.executable} -m catalogue new " in run.stderr.replace("'", "")
    usage = subprocess.run(
        [sys.executable, "-m", "catalogue", "chekc"],
        capture_output=True, text=True, env={**os.environ, "PATH": ""}, cwd=tmp_path, timeout=60, check=False,
    )  # fmt: skip
    assert "usage: " in usage.stderr and "-m catalogue" in usage.stderr and "check" in usage.stderr
