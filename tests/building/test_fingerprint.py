"""A fingerprint changes with what it was taken of, and with nothing else."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from enum import Enum
from pathlib import Path, PurePosixPath
from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as some

from catalogue.building import fingerprint


class Colour(Enum):
    RED = 1
    BLUE = 2


@dataclass(frozen=True)
class Pair:
    one: object
    two: object


class Tuple(NamedTuple):
    one: object


DIFFERENT = [
    None,
    True,
    False,
    0,
    1,
    -1,
    1.0,
    1.5,
    "",
    "1",
    "None",
    b"1",
    "ab",
    ["a", "b"],
    ["ab"],
    [],
    {},
    [[]],
    {"a": "b"},
    {"a": {"b": None}},
    [["a", "b"]],
    frozenset({"a"}),
    frozenset({"a", "b"}),
    Colour.RED,
    Colour.BLUE,
    datetime.date(2026, 1, 2),
    PurePosixPath("a/b"),
    "a/b",
    Pair("a", "b"),
    Pair("ab", ""),
    Pair("b", "a"),
    Tuple("b"),
    float("inf"),
    "\ud800",
]


def test_different_values_have_different_fingerprints() -> None:
    taken = [fingerprint.of(value) for value in DIFFERENT]
    assert len(set(taken)) == len(taken)
    assert all(len(digest) == 32 for digest in taken)


plain = some.recursive(
    some.none() | some.booleans() | some.integers() | some.floats(allow_nan=False) | some.text(max_size=5),
    lambda inner: some.lists(inner, max_size=4) | some.dictionaries(some.text(max_size=3), inner, max_size=4),
    max_leaves=10,
)


@given(plain, plain)
def test_only_equal_values_share_a_fingerprint(one: object, other: object) -> None:
    assert (fingerprint.of(one) == fingerprint.of(other)) == (repr(one) == repr(other))


def test_an_iterator_or_object_is_refused() -> None:
    for value in (object(), iter([]), open):
        with pytest.raises(TypeError, match="no fingerprint"):
            fingerprint.of(value)


def test_sets_have_no_order() -> None:
    names = [str(n) for n in range(50)]
    assert fingerprint.of(set(names)) == fingerprint.of({*names[::-1]})


def test_folders_are_their_names_and_contents(tmp_path: Path) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "a" / "one.txt").write_text("1")
    first = fingerprint.of_folders([tmp_path])
    (tmp_path / "a" / "one.txt").touch()
    (tmp_path / "a" / "__pycache__").mkdir()
    (tmp_path / "a" / "__pycache__" / "x.pyc").write_text("x")
    assert (
        fingerprint.of_folders([tmp_path]) == first == fingerprint.of_folders([tmp_path, tmp_path / "none"])
    )
    (tmp_path / "a" / "one.txt").rename(tmp_path / "a" / "two.txt")
    assert fingerprint.of_folders([tmp_path]) != first


def test_the_program_is_part_of_its_own_fingerprint() -> None:
    assert len(fingerprint.of_the_tool()) == 32
    assert fingerprint.of_the_tool() == fingerprint.of_the_tool()
