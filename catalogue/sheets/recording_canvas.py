"""Canvases that pass on what is drawn: one without its words, one that notes where words stand."""

from __future__ import annotations

from typing import Unpack

from catalogue.drawing.canvas import Canvas, Lettering, LineKind, PassingCanvas
from catalogue.drawing.lettering import text_width
from catalogue.drawing.room import Spot
from catalogue.geometry import Path, Point


class WordlessCanvas(PassingCanvas):
    """Passes everything on to another canvas but words."""

    def text(self, *_: object, **__: object) -> None:
        pass


class RecordingCanvas(PassingCanvas):
    """Passes everything on and notes where words stand, by the middle of their baselines, and grain and fold marks."""

    def __init__(self, canvas: Canvas) -> None:
        super().__init__(canvas)
        self.words: list[tuple[str, Spot]] = []
        self.marks: list[list[Point]] = []

    def stroke(self, path: Path, line: LineKind, *, closed: bool = False) -> None:
        if line is LineKind.GRAIN:
            self.marks.append(path.flatten(0.5))
        super().stroke(path, line, closed=closed)

    def text(self, at: Point, words: str, size: float, **lettering: Unpack[Lettering]) -> None:
        anchor, angle = lettering.get("anchor", "start"), lettering.get("angle", 0.0)
        shift = {"start": 0.5, "middle": 0.0, "end": -0.5}[anchor] * text_width(words, size)
        self.words.append((words, Spot(at + Point(shift, 0.0).turned(angle), size, angle)))
        super().text(at, words, size, **lettering)
