"""The wheel carries all that the program needs, and nothing of the studio or the tests."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True, timeout=600)
    [wheel] = folder.glob("*.whl")
    return wheel


def test_it_carries_templates_fonts_grammar_and_starter(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    carried = {
        "catalogue/site_template/base.html",
        "catalogue/site_template/catalogue.css",
        "catalogue/language/grammar.lark",
        "catalogue/preview.js",
        "catalogue/handbook/what-is-new.md",
        "catalogue/starter/studio/styles/first-skirt.md",
        "catalogue/starter/studio/clients/first-client.md",
        "catalogue/starter/studio/site_template/studio.toml",
    }
    assert carried <= names
    for path in (ROOT / "site_template").rglob("*"):
        if path.is_file() and not path.name.startswith(".") and path.suffix not in (".py", ".pyc"):
            assert f"catalogue/site_template/{path.relative_to(ROOT / 'site_template').as_posix()}" in names
    assert [n for n in names if "site_template" in n and n.endswith(".py")] == []
    outside = [n for n in names if not n.startswith(("catalogue/", "pattern_catalogue-"))]
    assert outside == [] and not [n for n in names if "__pycache__" in n or "/tests/" in n]


def test_what_is_in_it_builds_a_new_studio_without_the_checkout(wheel: Path, tmp_path: Path) -> None:
    zipfile.ZipFile(wheel).extractall(tmp_path / "lib")
    environment = os.environ | {"PYTHONPATH": str(tmp_path / "lib")}
    told = "import sys, catalogue as c, catalogue.cli; print(c.__file__); sys.exit(c.cli.main(sys.argv[1:]))"
    for arguments in (["new", "x"], ["build", "x"]):
        done = subprocess.run(
            [sys.executable, "-c", told, *arguments],
            cwd=tmp_path,
            env=environment,
            capture_output=True,
            text=True,
            timeout=600,
        )
        assert done.returncode == 0, done.stdout + done.stderr
        assert done.stdout.startswith(str(tmp_path / "lib" / "catalogue")), "it ran the checkout's program"
    assert (tmp_path / "x/site/styles/first-skirt/first-client/draft-a4.pdf").stat().st_size > 1000


def test_the_readme_says_what_the_program_says() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    from catalogue.cli import parser

    for name in ("build", "check", "watch", "new"):
        assert f"`catalogue {name} [STUDIO]`" in readme and f"{name} " in parser().format_help()


def test_the_readmes_examples_are_read_without_complaint(tmp_path: Path) -> None:
    import re

    from catalogue.building.checking import check
    from catalogue.building.report import Request
    from catalogue.building.units import CATALOGUE

    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    [style] = re.findall(r"^````markdown\n(.*?)^````$", readme, re.DOTALL | re.MULTILINE)
    [client, sizes] = re.findall(r"^```markdown\n(---\nname.*?)^```$", readme, re.DOTALL | re.MULTILINE)
    examples = {
        "styles/everyday-skirt.md": style,
        "clients/first.md": client,
        "clients/sizes/counter-sizes.md": sizes,
    }
    for name, text in examples.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    report = check(Request(tmp_path, tmp_path / "site", jobs=1), CATALOGUE)
    assert report.findings == () and report.drafts == 1


def test_every_library_that_is_installed_with_it_is_used_by_it() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    called = {"markdown-it-py": "markdown_it", "mdit-py-plugins": "mdit_py_plugins", "pyyaml": "yaml"}
    code = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "catalogue").rglob("*.py"))
    imported = set(re.findall(r"^\s*(?:import|from) (\w+)", code, re.MULTILINE))
    names = [re.split(r"[^\w-]", wanted)[0] for wanted in project["dependencies"]]
    assert [name for name in names if called.get(name, name) not in imported] == []
    told = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert [name for name in names if name not in told] == []
