"""Draft blocks as lines: which belong under which, and which merely go on from the line above."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

BLOCK_WORDS = frozenset({"piece", "outline", "find", "when", "otherwise"})
"""First words of the lines that take indented lines of their own; under any other line they continue it."""

_FIRST_WORD = re.compile(r"\s*([^\W\d_]\w*)")


@dataclass(slots=True)
class LogicalLine:
    """A line with those that continue it.

    Attributes:
        text: the source, line breaks and leading blanks kept, so that columns stay true.
        line: number of its first line in the file, from 1.
        indent: leading blanks of its first line, a tab counting to the next multiple of eight.
        under: the lines indented below it.
    """

    text: str
    line: int
    indent: int
    under: list[LogicalLine] = field(default_factory=list)

    @property
    def first_word(self) -> str:
        found = _FIRST_WORD.match(self.text)
        return found.group(1) if found else ""


def logical_lines(source: str, first_line: int = 1) -> list[LogicalLine]:
    """The top lines of a draft block; `first_line` is the file's line number of the block's first."""
    top: list[LogicalLine] = []
    open_lines: list[LogicalLine] = []
    for offset, raw in enumerate(source.split("\n")):
        bare = raw.strip()
        if not bare or bare.startswith("#"):
            continue
        indent = len(raw.expandtabs(8)) - len(raw.expandtabs(8).lstrip())
        number = first_line + offset
        while open_lines and open_lines[-1].indent >= indent:
            open_lines.pop()
        owner = open_lines[-1] if open_lines else None
        if owner is not None and owner.first_word not in BLOCK_WORDS:
            gap = number - (owner.line + owner.text.count("\n"))
            owner.text += "\n" * gap + raw
            continue
        new = LogicalLine(raw, number, indent)
        (owner.under if owner else top).append(new)
        open_lines.append(new)
    return top
