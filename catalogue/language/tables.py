"""The grammar's parsing tables, worked out beforehand: reading them is ten times quicker than compiling the grammar.

`python -m catalogue.language.tables` writes them anew after a change of grammar.lark. Tables that do not fit the
grammar, or the parsing library that is installed, are passed over and the grammar is compiled: slower, never wrong.
"""

from __future__ import annotations

import hashlib
import json
import sys
import zlib
from importlib import resources
from pathlib import Path
from typing import Any

import lark
from lark import Lark
from lark.grammar import Rule
from lark.lexer import TerminalDef

from catalogue.language.naming import grammar_text, without_names

STARTS = ("statement", "value", "piece_line", "edge_line")
"""Rules that a text may be parsed by."""

TABLES = "grammar.tables"


def compiled() -> Lark:
    """The grammar, compiled from its text."""
    return Lark(
        without_names(grammar_text()),
        parser="lalr",
        start=list(STARTS),
        propagate_positions=True,
        maybe_placeholders=True,
    )


def stamp() -> str:
    """What tables must have been made from to be used: this grammar, and this release line of the library."""
    made_from = "\n".join((*lark.__version__.split(".")[:2], *STARTS, grammar_text()))
    return hashlib.sha256(made_from.encode()).hexdigest()


def loaded(data: bytes | None = None) -> Lark | None:
    """The grammar from its tables (those in the package, or `data`); None when they are not there or do not fit."""
    try:
        if data is None:
            data = resources.files(__package__).joinpath(TABLES).read_bytes()
        kept = json.loads(zlib.decompress(data))
        if kept["stamp"] != stamp():
            return None
        return Lark.load(_with_numbers(kept))
    except (OSError, zlib.error, ValueError, LookupError, TypeError, AttributeError, AssertionError):
        return None


def packed(grammar: Lark) -> bytes:
    """The tables of a compiled grammar as they are kept: the same bytes each time."""
    data, memo = grammar.memo_serialize([TerminalDef, Rule])
    data["parser"]["parser"] = _numbered(data["parser"]["parser"])
    text = json.dumps({"stamp": stamp(), "data": data, "memo": memo}, sort_keys=True, separators=(",", ":"))
    return zlib.compress(text.encode(), 9)


def _with_numbers(kept: dict[str, Any]) -> dict[str, Any]:
    """JSON writes every key as text; the tables number their states and tokens."""
    kept["memo"] = {int(n): entry for n, entry in kept["memo"].items()}
    table = kept["data"]["parser"]["parser"]
    table["tokens"] = {int(n): token for n, token in table["tokens"].items()}
    table["states"] = {
        int(state): {int(token): action for token, action in row.items()}
        for state, row in table["states"].items()
    }
    return kept


def _numbered(table: dict[str, Any]) -> dict[str, Any]:
    """The parser's table with its tokens numbered by name, and its states as they are reached from the starts.

    The library numbers them in the order of sets, which is another in every process.
    """
    names = sorted(table["tokens"].values())
    token_of = {old: names.index(name) for old, name in table["tokens"].items()}
    reached = [table["start_states"][start] for start in STARTS]
    state_of = {old: new for new, old in enumerate(reached)}
    rows = {}
    for old in reached:
        row = {}
        for token, (action, argument) in sorted(
            table["states"][old].items(), key=lambda item: token_of[item[0]]
        ):
            # A state to go to is a number; a rule to reduce by is a reference to it.
            if isinstance(argument, int):
                if argument not in state_of:
                    state_of[argument] = len(reached)
                    reached.append(argument)
                argument = state_of[argument]
            row[token_of[token]] = (action, argument)
        rows[state_of[old]] = row
    return {
        **table,
        "tokens": dict(enumerate(names)),
        "states": rows,
        "start_states": {start: state_of[old] for start, old in table["start_states"].items()},
        "end_states": {start: state_of[old] for start, old in table["end_states"].items()},
    }


def main(path: Path | None = None) -> None:
    """Write the tables, to `path` or where they are kept."""
    (path or Path(__file__).with_name(TABLES)).write_bytes(packed(compiled()))


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else None)
