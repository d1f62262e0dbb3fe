"""The command as people meet it: help, exit status, what is printed, and how fast it starts."""

from __future__ import annotations

import argparse
import io
import re
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

import pytest

import catalogue
from catalogue.cli import main, parser
from catalogue.starter import make_studio

ROOT = Path(__file__).parents[2]
BROKEN = "Half the hip is {hip_girth / 2}.\n\n```draft\nhalf_hip = hip_girth / 2\nline_a = lime top to half_hip\n```\n"

ONE = ("--jobs", "1")
"""No process is started to share the work with, which takes longer than the work."""


@dataclass(frozen=True)
class Told:
    returncode: int
    stdout: str
    stderr: str


def run(*arguments: object) -> Told:
    """The command in this process: what it prints, and its exit status."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        try:
            status = main([*map(str, arguments)])
        except SystemExit as end:
            status = int(end.code or 0)
    return Told(status, out.getvalue(), err.getvalue())


def run_alone(*arguments: object, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """The command as a shell starts it, in a process of its own."""
    command = [sys.executable, "-m", "catalogue", *map(str, arguments)]
    environment = {"PYTHONPATH": str(ROOT), "PATH": "/usr/bin:/bin", "PYTHONIOENCODING": "utf-8"}
    return subprocess.run(
        command, cwd=cwd, env=environment, capture_output=True, encoding="utf-8", timeout=600
    )


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    make_studio(tmp_path / "studio")
    return tmp_path / "studio"


def commands() -> dict[str, argparse.ArgumentParser]:
    [action] = [a for a in parser()._actions if isinstance(a, argparse._SubParsersAction)]
    return dict(action.choices)


def test_every_command_and_option_has_help() -> None:
    top = parser().format_help()
    for name, command in commands().items():
        assert re.search(rf"^ +{name} +\w", top, re.MULTILINE), f"{name} is not explained in the list"
        assert command.description
        for action in command._actions:
            assert action.help and action.help != argparse.SUPPRESS, f"{name} {action.dest} lacks help"


@pytest.mark.parametrize("name", ["", "build", "check", "watch", "new"])
def test_help_is_printed_and_tells_of_the_exit_status(name: str) -> None:
    done = (run if name else run_alone)(*([name] if name else []), "--help")
    assert done.returncode == 0 and "Exit status: 0" in done.stdout and not done.stderr


def test_version() -> None:
    assert run("--version").stdout == f"catalogue {catalogue.__version__}\n"


HEAVY = {
    *("numpy", "shapely", "reportlab", "jinja2", "lark", "markdown_it", "msgspec", "pypdf", "rich"),
    *("watchdog", "yaml"),
}


def loaded_by(*arguments: str) -> set[str]:
    """Modules that a run of the command imports."""
    told = (
        "import sys; from catalogue.cli import main\ntry: main(sys.argv[1:])\nexcept SystemExit: pass\n"
        "print(); print(*sys.modules)"
    )
    command = [sys.executable, "-c", told, *arguments]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    return set(done.stdout.splitlines()[-1].split())


def test_help_imports_nothing_heavy() -> None:
    loaded = loaded_by("--help")
    assert "catalogue.cli" in loaded
    assert not loaded & HEAVY


def test_a_check_in_which_nothing_changed_imports_nothing_heavy(tmp_path: Path) -> None:
    for folder in ("styles", "clients"):
        (tmp_path / folder).mkdir()
    first, second = (loaded_by("check", str(tmp_path)) for _ in range(2))
    assert {"catalogue.building.check_under_way", "catalogue.building.pool", "catalogue.studio"} <= first
    assert "catalogue.building.checking" in second
    assert not second & {*HEAVY, "catalogue.drafting", "catalogue.studio", "catalogue.people"}


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["biuld"], "Did you mean “build”?"),
        (["build", "--stlye", "x"], "Did you mean “--style”?"),
        (["build", "--jobs", "0"], "is not a number from 1 to 256"),
        (["build", "--jobs", "٣"], "is not a number from 1 to 256"),
        (["watch", "--port", "99999"], "is not a port number"),
    ],
)
def test_wrong_usage_is_told_in_a_sentence(arguments: list[str], told: str) -> None:
    done = run(*arguments)
    assert done.returncode == 2 and told in done.stderr and "Traceback" not in done.stderr


def test_a_misspelt_paper_gets_one_hint() -> None:
    told = run("build", "--paper", "letr").stderr.splitlines()[-1]
    assert told.count("Did you mean") == 1 and told.endswith("Did you mean “letter”?")


def test_a_folder_that_is_no_studio(tmp_path: Path) -> None:
    for command in ("build", "check", "watch"):
        done = run(command, tmp_path)
        assert done.returncode == 2
        assert "A studio is a folder with style files in styles/" in done.stderr
        assert "catalogue new" in done.stderr


def test_a_build_from_the_folder_one_stands_in(studio: Path) -> None:
    done = run_alone("build", cwd=studio)
    assert done.returncode == 0, done.stderr
    assert re.fullmatch(r"site/index\.html: 1 draft, 1 made, \d+ files changed \([\d.]+ s\)\.\n", done.stdout)
    for name in ("index.html", "draft.svg", "draft.json", "draft-a4.pdf"):
        assert (studio / "site/styles/first-skirt/first-client" / name).stat().st_size > 200
    again = run_alone("build", cwd=studio)
    assert again.returncode == 0 and "nothing changed" in again.stdout


def test_what_is_wrong_is_told_with_its_line_and_a_caret(studio: Path, tmp_path: Path) -> None:
    (studio / "styles" / "broken.md").write_text(f"---\ntitle: Broken\ngarment: skirt\n---\n\n{BROKEN}")
    done = run("build", studio, "--out", tmp_path / "out", *ONE)
    assert done.returncode == 1
    assert re.search(r"^styles/broken\.md:10:\d+: error: ", done.stderr, re.MULTILINE)
    line = done.stderr.splitlines().index("    line_a = lime top to half_hip")
    assert re.fullmatch(r" +\^", done.stderr.splitlines()[line + 1])
    assert (tmp_path / "out/styles/first-skirt/first-client/draft.svg").exists()
    page = (tmp_path / "out/styles/broken/first-client/index.html").read_text()
    assert "styles/broken.md" in page and "line_a = lime top to half_hip" in page
    checked = run("check", studio, *ONE)
    assert checked.returncode == 1 and "styles/broken.md:10:" in checked.stdout
    assert not (studio / "site").exists()


def test_unknown_names_offer_the_nearest(studio: Path) -> None:
    done = run("build", studio, "--style", "fist-skirt")
    assert done.returncode == 2 and "Did you mean “first-skirt”?" in done.stderr
    done = run("check", studio, "--client", "Frist Client")
    assert done.returncode == 2 and "Did you mean “First Client”?" in done.stderr


def test_an_output_folder_that_is_not_ours_is_refused(studio: Path, tmp_path: Path) -> None:
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "one.jpg").write_bytes(b"jpg")
    done = run("build", studio, "--out", tmp_path / "photos")
    assert done.returncode == 2 and "left alone" in done.stderr
    assert [p.name for p in (tmp_path / "photos").iterdir()] == ["one.jpg"]


def test_characters_that_steer_a_terminal_are_not_passed_on(studio: Path) -> None:
    (studio / "styles" / "evil.md").write_text(
        "---\ntitle: Evil\ngarment: x\n---\n\n```draft\n\x1b[31m\u202e = 3\n```\n"
    )
    done = run("check", studio, *ONE)
    assert done.returncode == 1
    assert "\x1b" not in done.stdout and "\u202e" not in done.stdout


def test_a_terminal_that_knows_no_unicode_stops_nothing(studio: Path) -> None:
    (studio / "clients" / "bich.md").write_text(
        "---\nname: Bích Trâm\nunits: cm\nmeasured:\n  2026-01-15:\n    bust: x\n---\n"
    )
    command = [sys.executable, "-m", "catalogue", "check", str(studio)]
    environment = {"PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "ascii", "LC_ALL": "C"}
    done = subprocess.run(command, env=environment, capture_output=True, timeout=600)
    assert done.returncode == 1 and b"Traceback" not in done.stderr and b"clients/bich.md" in done.stdout


def test_nobody_listening_to_the_output_is_no_traceback(studio: Path) -> None:
    (studio / "clients" / "bad.md").write_text("---\nname: Bad\nunits: furlongs\n---\n")
    command = f'"{sys.executable}" -m catalogue check "{studio}" | true'
    done = subprocess.run(command, shell=True, cwd=ROOT, capture_output=True, text=True, timeout=600)
    assert "Traceback" not in done.stderr and "Broken pipe" not in done.stderr


def test_progress_on_a_terminal_is_a_bar_that_goes_away(studio: Path) -> None:
    pty = pytest.importorskip("pty", reason="only where there are pseudo-terminals")
    import os

    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "catalogue", "build", str(studio), *ONE]
    environment = os.environ | {"TERM": "xterm"}
    process = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=theirs, env=environment)
    os.close(theirs)
    seen = b""
    try:
        while part := os.read(ours, 4096):
            seen += part
    except OSError:
        pass
    assert process.wait(600) == 0
    assert re.search(rb"\d+/\d+", seen) and b"\x1b[2K" in seen


def test_check_says_which_measurement_a_draft_waits_for(studio: Path) -> None:
    client = studio / "clients" / "first-client.md"
    rows = client.read_text(encoding="utf-8").split("\n")
    client.write_text("\n".join(row for row in rows if "hip girth:" not in row), encoding="utf-8")
    done = run("check", studio, *ONE)
    assert done.returncode == 0
    told = done.stdout.splitlines()
    begun, _, hint = told[0].rpartition(": write ")
    assert begun == "clients/first-client.md: no hip girth, which is needed for First skirt"
    assert hint == "“hip girth:” with it under “measured:”"
    assert told[-1].startswith("Checked 1 draft, 1 waiting for measurements (")


def test_a_check_of_one_style_tells_its_own_mistakes_first(studio: Path) -> None:
    client, style = studio / "clients" / "first-client.md", studio / "styles" / "first-skirt.md"
    other = client.read_text(encoding="utf-8").replace("---\n", "---\nnonsense: 3\n", 1)
    client.with_name("another.md").write_text(other, encoding="utf-8")
    style.write_text(style.read_text(encoding="utf-8") + "\n{hip_girthh}\n", encoding="utf-8")
    done = run("check", studio, "--style", "first-skirt", *ONE)
    places = [row.split(":")[0] for row in done.stdout.splitlines() if re.match(r"\w+/[\w-]+\.md:\d", row)]
    assert places[0] == "styles/first-skirt.md" and "clients/another.md" in places[1:]


def test_a_build_says_where_to_learn_what_drafts_wait_for(studio: Path) -> None:
    client = studio / "clients" / "first-client.md"
    rows = client.read_text(encoding="utf-8").split("\n")
    client.write_text("\n".join(row for row in rows if "hip girth:" not in row), encoding="utf-8")
    done = run("build", studio, *ONE)
    assert done.returncode == 0
    assert ", 1 waiting for measurements (“catalogue check” names them) (" in done.stdout


def test_new_says_the_next_command_as_it_can_be_typed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.argv", [".venv/bin/catalogue"])
    monkeypatch.setenv("PATH", str(tmp_path))
    assert main(["new", str(tmp_path / "my studio")]) == 0
    assert capsys.readouterr().out.endswith(f'.venv/bin/catalogue open "{tmp_path / "my studio"}"\n')
    there = tmp_path / "catalogue"
    there.write_text("#!/bin/sh\n")
    there.chmod(0o755)
    assert main(["new", str(tmp_path / "other")]) == 0
    assert capsys.readouterr().out.endswith(f" type: catalogue open {tmp_path / 'other'}\n")


@pytest.mark.skipif(sys.platform != "linux", reason="has a device that is always full")
@pytest.mark.parametrize("where", ["> /dev/full", ">&-", "2>&-", ">&- 2>&-"])
def test_full_or_closed_output_is_no_fault_of_the_program(tmp_path: Path, where: str) -> None:
    make_studio(tmp_path / "studio")
    command = f"{sys.executable} -m catalogue check {tmp_path / 'studio'} --jobs 1 {where}"
    ended = subprocess.run(["sh", "-c", command], cwd=ROOT, capture_output=True, text=True)
    assert ended.returncode == (3 if "full" in where else 0), ended.stderr
    assert "fault" not in ended.stderr and "Traceback" not in ended.stderr and "Exception" not in ended.stderr
    if "full" in where:
        assert "No space left on device" in ended.stderr
