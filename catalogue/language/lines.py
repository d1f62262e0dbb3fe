"""Draft blocks as lines: which belong under which, and which merely go on from the line above."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from catalogue.language.letters import NAME

BLOCK_WORDS = frozenset({"piece", "outline", "find", "when", "otherwise", "repeat"})
"""First words of the lines that take indented lines of their own; under any other line they continue it."""

TAB = 8
"""A tab goes on to the next multiple of so many columns."""

_COMMENT = re.compile(r'^([^"#]*(?:"[^"]*"[^"#]*)*(?:"(?![^"]*")[^"#]*)?)#.*$')
"""A row with a comment; a sign in a text between quotes begins none."""

_FIRST_WORD = re.compile(rf"\s*({NAME})")


@dataclass(slots=True)
class LogicalLine:
    """A line with those that continue it.

    Attributes:
        rows: its rows as in the file, those left out between them empty, so that places stay true.
        line: number of its first row in the file, from 1.
        indent: leading blanks of its first row, a tab counting to the next multiple of eight.
        first_word: with which it begins; "" when that is no name.
        under: the lines indented below it.
    """

    rows: list[str]
    line: int
    indent: int
    first_word: str
    under: list[LogicalLine] = field(default_factory=list)

    @property
    def text(self) -> str:
        return "\n".join(self.rows)


def is_drawn(row: str) -> bool:
    """Whether a row of a draft block says anything: it is neither empty nor a comment."""
    bare = row.strip()
    return bool(bare) and not bare.startswith("#")


def without_comments(source: str) -> str:
    """A draft block as pages show it: comments in it are for those who write the file."""
    rows = []
    for row in source.split("\n"):
        shown = _COMMENT.sub(r"\1", row).rstrip() if "#" in row else row
        if shown or not row.strip():
            rows.append(shown)
    return "\n".join(rows)


def logical_lines(source: str, first_line: int = 1) -> list[LogicalLine]:
    """The top lines of a draft block; `first_line` is the file's line number of the block's first."""
    top: list[LogicalLine] = []
    open_lines: list[LogicalLine] = []
    for number, row in enumerate(source.split("\n"), first_line):
        if not is_drawn(row):
            continue
        indent = _indent(row)
        while open_lines and open_lines[-1].indent >= indent:
            open_lines.pop()
        owner = open_lines[-1] if open_lines else None
        if owner is not None and owner.first_word not in BLOCK_WORDS:
            owner.rows += [""] * (number - owner.line - len(owner.rows))
            owner.rows.append(row)
            continue
        word = _FIRST_WORD.match(row)
        new = LogicalLine([row], number, indent, word.group(1) if word else "")
        (owner.under if owner else top).append(new)
        open_lines.append(new)
    return top


def _indent(row: str) -> int:
    columns = 0
    for character in row:
        if character == "\t":
            columns += TAB - columns % TAB
        elif character.isspace():
            columns += 1
        else:
            break
    return columns
