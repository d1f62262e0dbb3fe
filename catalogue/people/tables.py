"""Tables in Markdown, taken out of a text with the place of every cell."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from catalogue.findings import Place

# Word processors make other dashes of hyphens; they are taken as they were meant.
_RULE = re.compile(r"[\s|:\-‐-―−=]*")
_FENCE = re.compile(r"\s{0,3}(```|~~~)")
_OTHER = re.compile(r"\s{0,3}(#|>|```|~~~)")


class Cell(NamedTuple):
    """What stands in a cell, without the spaces at its ends; `place` is where it begins."""

    text: str
    place: Place


class Table(NamedTuple):
    """A table.

    Attributes:
        head: its first line.
        rows: the lines below the line of dashes.
        ruled: whether there is such a line; `rows` begin right below the head where there is none.
    """

    head: tuple[Cell, ...]
    rows: tuple[tuple[Cell, ...], ...]
    ruled: bool


def take_tables(lines: Sequence[str], first: int, file: str) -> tuple[list[Table], list[str]]:
    """The tables in `lines`, of which the first is line `first` of `file`; and the lines with theirs left empty."""
    left = list(lines)
    tables = []
    for begin, end in _spans(lines):
        rows = [(n, lines[n]) for n in range(begin, end)]
        ruled = len(rows) > 1 and _is_rule(rows[1][1])
        cells = [_cells(line, file, first + n) for n, line in rows]
        tables.append(Table(cells[0], tuple(cells[2 if ruled else 1 :]), ruled))
        left[begin:end] = [""] * (end - begin)
    return tables, left


def _spans(lines: Sequence[str]) -> Iterator[tuple[int, int]]:
    """First line of each table and the line after its last: it ends at an empty line or where something else begins."""
    fenced = False
    n = 0
    while n < len(lines):
        line = lines[n]
        if _FENCE.match(line):
            fenced = not fenced
        following = lines[n + 1] if n + 1 < len(lines) else ""
        starts = "|" in line and (_is_rule(following) or line.lstrip().startswith("|"))
        if fenced or not starts or _OTHER.match(line):
            n += 1
            continue
        end = n + 1
        while end < len(lines) and lines[end].strip() and not _OTHER.match(lines[end]):
            end += 1
        yield n, end
        n = end


def _is_rule(line: str) -> bool:
    return "|" in line and bool(_RULE.fullmatch(line)) and bool(line.strip(" \t|:"))


def _cells(line: str, file: str, number: int) -> tuple[Cell, ...]:
    spans = []
    begin = 0
    for found in re.finditer(r"(?<!\\)\|", line):
        spans.append((begin, found.start()))
        begin = found.end()
    spans.append((begin, len(line)))
    if len(spans) > 1 and not line[: spans[0][1]].strip():
        del spans[0]
    if len(spans) > 1 and not line[spans[-1][0] :].strip():
        del spans[-1]
    return tuple(_cell(line, file, number, *span) for span in spans)


def _cell(line: str, file: str, number: int, begin: int, end: int) -> Cell:
    raw = line[begin:end]
    text = raw.strip()
    blanks = len(raw) - len(raw.lstrip()) if text else min(1, max(len(raw) - 1, 0))
    return Cell(text.replace("\\|", "|"), Place(file, number, begin + blanks + 1))
