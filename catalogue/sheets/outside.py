"""A label that has no room on its piece: beside it on the sheet, with a line that leads to the piece."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import NamedTuple

from catalogue.drawing.canvas import Canvas, LineKind
from catalogue.drawing.holding import may_hold
from catalogue.drawing.labels import LabelLine
from catalogue.drawing.lettering import text_width
from catalogue.drawing.room import LEADING, readable
from catalogue.geometry import Box, Path, Point, Transform
from catalogue.pattern import Piece
from catalogue.sheets.marks import shortened

_SHARE = 0.68  # of full size: at the table these are read from near by
_WIDEST = 110.0  # mm; longer lines are cut off with an ellipsis
_AWAY = 4.0  # mm from the piece
_ROOMY = 150.0  # mm: nearly every piece at least as large both ways holds its label


class Aside(NamedTuple):
    """A label beside a piece, where the piece was drafted.

    Attributes:
        box: the room it takes.
        leader: from the label to a point on the piece.
        piece: the line of the piece, where it was drafted.
    """

    lines: tuple[LabelLine, ...]
    box: Box
    leader: tuple[Point, Point]
    piece: Path

    @property
    def outline(self) -> Path:
        """The room it takes, as a closed path."""
        corners = self.box.corners
        return Path.polyline([*corners, corners[0]])

    def draw(self, canvas: Canvas, move: Transform) -> None:
        """Draw it where `move` takes the piece, to be read from the foot of the sheet or from its right."""
        turned = move.apply_vector(Point(1.0, 0.0)).angle
        angle = readable(turned)
        straight = abs((angle - turned + 180.0) % 360.0 - 180.0) < 1.0
        corners = [move.apply(c) for c in self.box.corners]
        corner = corners[0] if straight else corners[2]
        canvas.open_group("label beside", kind="leader")
        y = 0.0
        for line in self.lines:
            y += line.size * LEADING
            at = corner + Point(0.0, y - 0.32 * line.size).turned(angle)
            canvas.text(at, line.words, line.size, angle=angle, kind=line.kind)
        a, b = (move.apply(p) for p in self.leader)
        canvas.stroke(Path.polyline([a, b]), LineKind.GUIDE)
        canvas.dot(b, 0.6, line=LineKind.GUIDE)
        canvas.close_group()


def beside(outline: Path, lines: Sequence[LabelLine], around: Box | None = None) -> Aside:
    """A label under a piece or to its right, wherever both together take less room.

    `around` is the room of all that lies there, where that is more than the piece.
    """
    small = tuple(_small(line) for line in lines)
    wide = max(text_width(line.words, line.size) for line in small) + 1.0
    tall = sum(line.size for line in small) * LEADING
    room = around or outline.bounds()
    under = Box(room.left, room.bottom + _AWAY, room.left + wide, room.bottom + _AWAY + tall)
    right = Box(room.right + _AWAY, room.top, room.right + _AWAY + wide, room.top + tall)
    box = min(under, right, key=lambda b: room.union(b).width * room.union(b).height)
    # The line begins at the middle of the label's near side and ends a little way inside the piece.
    start = (
        Point(box.left + min(6.0, wide / 2), box.top) if box is under else Point(box.left, box.top + tall / 2)
    )
    foot = min((p for p in outline.flatten(0.5)), key=lambda p: p.distance(start))
    inward = room.centre - foot
    way = hypot(*inward) or 1.0
    end = foot + inward * (min(3.0, 0.3 * min(room.width, room.height)) / way)
    return Aside(small, box, (start, end), outline)


def _small(line: LabelLine) -> LabelLine:
    size = line.size * _SHARE
    return line._replace(words=shortened(line.words, size, _WIDEST, bold=line.kind == "strong"), size=size)


def seems_to_hold(piece: Piece, cut_line: Path | None, lines: Sequence[LabelLine]) -> bool:
    """Whether every line of a piece's label should find room on it; whether it does, painting it tells."""
    box = piece.outline.bounds()
    return min(box.width, box.height) >= _ROOMY or may_hold(piece, lines, cut_line)
