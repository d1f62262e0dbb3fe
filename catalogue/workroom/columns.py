"""Words set in columns on a sheet of A4 of the workroom, in mm."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from catalogue.drawing.canvas import LineKind
from catalogue.drawing.sketch import paint_sketch, sketch_box
from catalogue.geometry import Box, Path, Point
from catalogue.sheets.ink import PdfCanvas
from catalogue.sheets.shaping import width
from catalogue.studio.sketches import Sketch

WIDE, TALL, MARGIN, GAP = 210.0, 297.0, 12.0, 6.0
SIZE, LINE = 3.2, 4.3


class Flow:
    """Words set one under the other in a column; what does not fit is left out, and `more` says where it is."""

    def __init__(self, page: PdfCanvas, room: Box, more: str = "… more on the page of the draft") -> None:
        self.page, self.room, self.y, self.more = page, room, room.top, more
        self.full = False

    def head(self, words: str) -> None:
        self.y += 2.5
        self.line(words, strong=True, size=3.8)
        self.y += 0.6

    def line(self, words: str, *, strong: bool = False, box: bool = False, size: float = SIZE) -> None:
        indent = 5.0 if box else 0.0
        rows = wrapped(words, size, self.room.width - indent, strong)
        if not self._has_room(LINE * len(rows)):
            return
        for number, row in enumerate(rows):
            self.y += LINE * size / SIZE
            if box and not number:
                x, y = self.room.left, self.y - 2.6
                corners = [Point(x, y), Point(x + 3, y), Point(x + 3, y + 3), Point(x, y + 3), Point(x, y)]
                self.page.stroke(Path.polyline(corners), LineKind.MARK, closed=True)
            self.page.text(Point(self.room.left + indent, self.y), row, size, kind="strong" if strong else "")

    def sketch(self, sketch: Sketch) -> None:
        """A sketch in its true size, its caption below it."""
        box = sketch_box(sketch)
        if not self._has_room(3 + box.height + 2 * LINE):
            return
        paint_sketch(self.page, sketch, Point(self.room.left + 6 - box.left, self.y + 3 - box.top))
        self.y += 3 + box.height
        self.line(sketch.caption)
        self.y += 2

    def _has_room(self, height: float) -> bool:
        """Whether so much goes below what is set already; from the first time it does not, the column is full."""
        if not self.full and self.y + height > self.room.bottom:
            self.page.text(Point(self.room.left, self.room.bottom), self.more, SIZE)
            self.full = True
        return not self.full

    def lines(self, every: Iterable[str], *, box: bool = False) -> None:
        for words in every:
            self.line(words, box=box)


@lru_cache(maxsize=4096)
def _word_width(word: str, strong: bool) -> float:
    return width(word, 1.0, bold=strong)


def wrapped(words: str, size: float, room: float, strong: bool = False) -> list[str]:
    """Lines of at most `room` mm, measured word by word: a ticket has hundreds of words, many of them the same."""
    lines: list[str] = []
    line: list[str] = []
    used = 0.0
    space = _word_width("n n", strong) - 2 * _word_width("n", strong)
    for word in words.split():
        wide = _word_width(word, strong) * size
        if line and used + space * size + wide > room:
            lines.append(" ".join(line))
            line, used = [], 0.0
        used += wide + (space * size if line else 0.0)
        line.append(word)
    return [*lines, " ".join(line)] if line else lines
