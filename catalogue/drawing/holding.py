"""Whether a piece has room for its label, told without painting it."""

from __future__ import annotations

from collections.abc import Sequence

from catalogue.drawing.bounds import Recorder
from catalogue.drawing.labels import LabelLine
from catalogue.drawing.paint import Look, Painter
from catalogue.drawing.room import Room, Spot, place_label
from catalogue.geometry import Path, Point
from catalogue.pattern import Piece


def may_hold(piece: Piece, label: Sequence[LabelLine], cut_line: Path | None = None) -> bool:
    """Whether the whole label would find room on a piece at full scale that had no other words on it.

    Other words may leave none even so: `paint_piece` tells, and takes three times as long.
    """
    painter = _Wordless(Recorder(), piece, cut_line, Look(), ())
    painter.outline()
    painter.darts()
    painter.inner_lines()
    painter.grain()
    painter.fold_marks()
    painter.notches()
    painter.marks()
    block = place_label(painter.room, label, painter.label_angle(), scale=1.0, gap=5.0, least=0.01)
    return block is not None


class _Wordless(Painter):
    """Puts down what is drawn, and no words."""

    def _rooms(self, lines: Sequence[tuple[list[Point], float]] | None = None) -> list[Room]:
        return []

    def _write(self, words: str, spot: Spot, kind: str = "") -> None:
        pass
