"""The map of rooms in DEVELOPERS.md is the one that the code keeps to."""

from __future__ import annotations

import ast
import graphlib
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "catalogue"


def rows() -> dict[str, int]:
    """Each room's row in the map, counted from the top."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = text.partition("\n| room |")[2].partition("\n\n")[0]
    named = [re.findall(r"`(\w+)(?:\.py|/)`", row.split("|")[1]) for row in table.splitlines()[2:]]
    return {room: number for number, names in enumerate(named) for room in names}


@cache
def nodes(path: Path) -> tuple[ast.AST, ...]:
    """All that a module is written with."""
    return tuple(ast.walk(ast.parse(path.read_text(encoding="utf-8"))))


def room_of(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imported(path: Path) -> Iterator[str]:
    """Rooms that a module imports from, at its top or in a function."""
    for node in nodes(path):
        if isinstance(node, ast.ImportFrom) and node.module == "catalogue":
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("catalogue."):
            yield node.module.split(".")[1]
        elif isinstance(node, ast.Import):
            yield from (n.name.split(".")[1] for n in node.names if n.name.startswith("catalogue."))


MODULES = sorted(path for path in PACKAGE.rglob("*.py") if not path.name.startswith("__"))


def test_every_room_is_on_the_map() -> None:
    rooms = {path.name.removesuffix(".py") for path in PACKAGE.iterdir() if (path / "__init__.py").exists()}
    rooms |= {path.stem for path in PACKAGE.glob("*.py") if not path.name.startswith("__")}
    assert rooms == set(rows())


@pytest.mark.parametrize("room", sorted({room_of(path) for path in MODULES}))
def test_a_room_imports_only_from_rooms_below_it(room: str) -> None:
    heights = rows()
    wrong = {
        (path.relative_to(PACKAGE).as_posix(), other)
        for path in PACKAGE.rglob("*.py")
        if room_of(path) == room
        for other in imported(path)
        if other in heights and other != room and heights[other] < heights[room]
    }
    assert wrong == set()


def module_of(path: Path) -> str:
    """The dotted name by which a module of the package is imported."""
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


def names_imported(path: Path) -> Iterator[tuple[str, str]]:
    """What a module imports from the package, also for its types alone: a module, and a name in it or ""."""
    for node in nodes(path):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("catalogue"):
            yield from ((node.module, name.name) for name in node.names)
        elif isinstance(node, ast.Import):
            yield from ((n.name, "") for n in node.names if n.name.startswith("catalogue"))


ROOMS = sorted(
    path.name for path in PACKAGE.iterdir() if (path / "__init__.py").exists() and path.name != "starter"
)


@pytest.mark.parametrize("room", ROOMS)
def test_no_modules_of_a_room_import_each_other_in_a_circle(room: str) -> None:
    paths = {module_of(path): path for path in (PACKAGE / room).rglob("*.py")}
    needs = {
        module: {f"{m}.{name}" if f"{m}.{name}" in paths else m for m, name in names_imported(path)}
        & paths.keys() - {module}
        for module, path in paths.items()
    }
    assert len(needs) > 1
    try:
        tuple(graphlib.TopologicalSorter(needs).static_order())
    except graphlib.CycleError as error:
        raise AssertionError(" imports ".join(reversed(error.args[1]))) from None


def is_private(name: str) -> bool:
    return name.startswith("_") and not name.startswith("__")


def test_no_module_uses_a_private_name_of_another() -> None:
    found = set()
    for path in PACKAGE.rglob("*.py"):
        imported = list(names_imported(path))
        found |= {(module_of(path), f"{module}.{name}") for module, name in imported if is_private(name)}
        modules = {
            name for module, name in imported if (ROOT / module.replace(".", "/") / f"{name}.py").exists()
        }
        for node in nodes(path):
            match node:
                case ast.Attribute(value=ast.Name(id=owner), attr=name) if owner in modules and is_private(
                    name
                ):
                    found.add((module_of(path), f"{owner}.{name}"))
    assert found == set()


def test_code_that_is_spoken_of_is_there() -> None:
    for name in ("DEVELOPERS.md", "README.md"):
        text = (ROOT / name).read_text(encoding="utf-8")
        spoken_of = set(re.findall(r"`((?:\w+/)+\w+\.(?:py|lark|txt))`", text))
        gone = {f for f in spoken_of if not (ROOT / f).exists() and not (PACKAGE / f).exists()}
        assert gone == set(), name


def test_no_two_classes_have_one_name() -> None:
    where: dict[str, list[str]] = {}
    for path in PACKAGE.rglob("*.py"):
        for node in nodes(path):
            if isinstance(node, ast.ClassDef):
                where.setdefault(node.name, []).append(path.relative_to(ROOT).as_posix())
    assert len(where) > 200
    assert {name: paths for name, paths in where.items() if len(paths) > 1} == {}
