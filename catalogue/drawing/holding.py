"""Whether a piece has room for its label, told without writing a word on it."""

from __future__ import annotations

from collections.abc import Sequence

from catalogue.drawing.bounds import Recorder
from catalogue.drawing.labels import LabelLine
from catalogue.drawing.paint import RoomPainter
from catalogue.drawing.piece_lines import Look
from catalogue.drawing.room import place_label
from catalogue.geometry import Path
from catalogue.pattern import Piece


def may_hold(piece: Piece, label: Sequence[LabelLine], cut_line: Path | None = None) -> bool:
    """Whether the whole label would find room on a piece at full scale that had no other words on it.

    Other words may leave none even so: `paint_piece` tells, and takes three times as long.
    """
    painter = RoomPainter(Recorder(), piece, cut_line, Look())
    painter.lines()
    block = place_label(painter.room, label, painter.label_angle(), scale=1.0, gap=5.0, least=0.01)
    return block is not None
