"""The tests themselves: none lies where it is not looked for."""

from fnmatch import fnmatch
from pathlib import Path

import pytest

TESTS = Path(__file__).parents[1]


def test_every_folder_with_tests_is_gone_into(request: pytest.FixtureRequest) -> None:
    left_out = request.config.getini("norecursedirs")
    folders = {folder for path in TESTS.rglob("test_*.py") for folder in path.relative_to(TESTS).parts[:-1]}
    assert len(folders) > 10
    assert [f for f in folders if any(fnmatch(f, pattern) for pattern in left_out)] == []
