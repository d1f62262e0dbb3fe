"""The body of a style file cut into headings, prose and draft blocks. Every row is looked at once or twice."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

DRAFT = "draft"


class Part(NamedTuple):
    """A part of the body: "heading" (text is its words), "prose", "block" or "open block" (its fence never closed).

    `line` is the number of the first row of `text` in the file.
    """

    kind: str
    text: str
    line: int
    level: int = 0


@dataclass(frozen=True, slots=True)
class Fence:
    """What a row is as a fence: its `ticks` ("" when it is none) and the word after them."""

    ticks: str = ""
    word: str = ""
    bare: bool = True

    def closes(self, opened: str) -> bool:
        """Whether it ends the fence that was opened with these ticks."""
        return bool(self.ticks) and self.bare and self.ticks.startswith(opened)


NO_FENCE = Fence()


def fence_of(row: str) -> Fence:
    """The row as a fence: three or more backticks or tildes, indented by at most three spaces."""
    bare = row.strip()
    sign = bare[:1]
    if sign not in ("`", "~") or len(row) - len(row.lstrip()) > 3:
        return NO_FENCE
    after = bare.lstrip(sign)
    count = len(bare) - len(after)
    if count < 3 or (sign == "`" and "`" in after):
        return NO_FENCE
    return Fence(bare[:count], after.split(maxsplit=1)[0] if after.strip() else "", not after)


def heading_of(row: str) -> tuple[int, str] | None:
    """Level and words of a heading (`## Back`), None for another row."""
    bare = row.lstrip(" ")
    after = bare.lstrip("#")
    level = len(bare) - len(after)
    if not 1 <= level <= 6 or len(row) - len(bare) > 3 or not after[:1].isspace():
        return None
    words = after.strip()
    open_end = words.rstrip("#")
    if open_end != words and (not open_end or open_end[-1].isspace()):
        words = open_end.rstrip()
    return (level, words) if words else None


def code_spans(row: str) -> Iterator[tuple[int, int]]:
    """Where a row holds code between backticks, as many on both sides: start and end of each span."""
    runs: list[tuple[int, int]] = []
    at = row.find("`")
    while at >= 0:
        end = at
        while end < len(row) and row[end] == "`":
            end += 1
        runs.append((at, end))
        at = row.find("`", end)
    following: dict[int, list[int]] = {}
    for index in range(len(runs) - 1, -1, -1):
        following.setdefault(runs[index][1] - runs[index][0], []).append(index)
    index = 0
    while index < len(runs):
        start, end = runs[index]
        same = following[end - start]
        while same and same[-1] <= index:
            same.pop()
        if same:
            index = same[-1]
            yield start, runs[index][1]
        index += 1


def cut_up(body: str, first_line: int) -> Iterator[Part]:
    """The parts of the body in their order; `first_line` is the file's number of its first row."""
    prose: list[str] = []
    block: list[str] = []
    prose_line = first_line
    opened, is_draft, block_line = "", False, 0

    def text() -> Iterator[Part]:
        if any(row.strip() for row in prose):
            yield Part("prose", "\n".join(prose), prose_line)
        prose.clear()

    for number, row in enumerate(body.split("\n"), first_line):
        fence = fence_of(row)
        if opened and is_draft:
            if fence.closes(opened):
                yield Part("block", "\n".join(block), block_line)
                opened, block = "", []
            else:
                block.append(row)
            continue
        if not opened and fence.ticks and fence.word == DRAFT:
            yield from text()
            opened, is_draft, block_line = fence.ticks, True, number + 1
            continue
        heading = heading_of(row) if not opened and not fence.ticks else None
        if heading:
            yield from text()
            yield Part("heading", heading[1], number, heading[0])
            continue
        if opened:
            opened = "" if fence.closes(opened) else opened
        elif fence.ticks:
            opened, is_draft = fence.ticks, False
        if not prose:
            prose_line = number
        prose.append(row)
    if opened and is_draft:
        yield Part("open block", "\n".join(block), block_line)
    yield from text()
