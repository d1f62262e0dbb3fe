"""The parsing tables that are kept: made from this grammar, right, and passed over when they are not."""

import json
import os
import subprocess
import sys
import zlib
from pathlib import Path

import pytest

from catalogue.language import tables
from catalogue.language.parser import grammar
from tests.work import calls

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def compiling():
    """The compiled grammar, and how many calls it took."""
    return calls(tables.compiled)


@pytest.fixture(scope="module")
def compiled(compiling):
    return compiling[0]


def kept() -> bytes:
    return (ROOT / "catalogue" / "language" / tables.TABLES).read_bytes()


def test_tables_are_made_from_the_grammar_as_it_is():
    made_from = json.loads(zlib.decompress(kept()))["stamp"]
    assert made_from == tables.stamp(), "write them anew: python -m catalogue.language.tables"


def test_tables_are_used():
    assert tables.loaded() is not None


def test_tables_parse_as_the_compiled_grammar_does(compiled):
    from catalogue.handbook import entries
    from catalogue.language.lines import logical_lines

    loaded = tables.loaded()
    count = 0
    blocks = [block for entry in entries() for block in entry.steps()]
    for block in blocks:
        for line in logical_lines(block):
            count += 1
            assert loaded.parse(line.text, start="statement") == compiled.parse(line.text, start="statement")
    assert count > 200


def test_tables_refuse_as_the_compiled_grammar_does(compiled):
    from lark.exceptions import UnexpectedInput

    from tests.language.hint_lines import LINES

    loaded = tables.loaded()
    for line in LINES.values():
        said = []
        for parser in (loaded, compiled):
            with pytest.raises(UnexpectedInput) as raised:
                parser.parse(line, start="statement")
            said.append((type(raised.value), raised.value.line, raised.value.column))
        assert said[0] == said[1]


def test_tables_made_anew_are_read(compiled):
    again = tables.loaded(tables.packed(compiled))
    assert again is not None
    assert again.parse("a = 3 cm", start="statement") == compiled.parse("a = 3 cm", start="statement")


def damaged():
    whole = kept()
    yield "nothing", b""
    yield "no such form", b"hello"
    yield "half", whole[: len(whole) // 2]
    yield "a byte changed", whole[:500] + bytes([whole[500] ^ 1]) + whole[501:]
    inside = json.loads(zlib.decompress(whole))
    for label, change in (
        ("another grammar", {"stamp": "0"}),
        ("no data", {"data": None}),
        ("no memo", {"memo": {}}),
        ("a list", []),
        ("memo of words", {"memo": {"a": 1}}),
    ):
        other = change if isinstance(change, list) else {**inside, **change}
        yield label, zlib.compress(json.dumps(other).encode())


@pytest.mark.parametrize("data", [d for _, d in damaged()], ids=[label for label, _ in damaged()])
def test_damaged_tables_are_passed_over(data):
    assert tables.loaded(data) is None


def test_without_tables_the_grammar_is_compiled(monkeypatch):
    monkeypatch.setattr(tables, "TABLES", "no.such.tables")
    assert tables.loaded() is None
    grammar.cache_clear()
    try:
        assert grammar().parse("a = 3 cm", start="statement").data == "define"
    finally:
        grammar.cache_clear()


def test_another_release_line_of_the_library_does_not_use_them(monkeypatch):
    monkeypatch.setattr(tables.lark, "__version__", "0.9.0")
    assert tables.loaded() is None


def test_reading_tables_is_much_less_work_than_compiling(compiling):
    _, compiling_calls = compiling
    _, reading_calls = calls(tables.loaded)
    assert 1000 < reading_calls < compiling_calls / 10  # measured: 79,000 and 3,600,000 calls


def test_tables_are_the_same_whenever_they_are_written(compiled, tmp_path):
    """Here with the order of sets that this process happens to have, and in another with another."""
    command = [sys.executable, "-m", "catalogue.language.tables", str(tmp_path / "tables")]
    subprocess.run(command, cwd=ROOT, env={**os.environ, "PYTHONHASHSEED": "1"}, check=True)
    assert (tmp_path / "tables").read_bytes() == tables.packed(compiled)
