"""Canvases that pass on what is drawn: one without its words, one that notes where words stand."""

from __future__ import annotations

from catalogue.drawing.canvas import Anchor, LineKind
from catalogue.drawing.lettering import text_width
from catalogue.drawing.room import Spot
from catalogue.geometry import Path, Point
from catalogue.sheets.ink import PdfCanvas


class Wordless:
    """Passes everything on to another canvas but words."""

    def __init__(self, canvas: PdfCanvas) -> None:
        self.canvas = canvas

    def open_group(self, name: str, *, kind: str = "", title: str = "") -> None:
        self.canvas.open_group(name, kind=kind, title=title)

    def close_group(self) -> None:
        self.canvas.close_group()

    def stroke(self, path: Path, line: LineKind, *, closed: bool = False) -> None:
        self.canvas.stroke(path, line, closed=closed)

    def fill(self, path: Path, tone: str) -> None:
        self.canvas.fill(path, tone)

    def dot(self, at: Point, radius: float, *, filled: bool = True, line: LineKind = LineKind.MARK) -> None:
        self.canvas.dot(at, radius, filled=filled, line=line)

    def text(
        self,
        at: Point,
        words: str,
        size: float,
        *,
        anchor: Anchor = "start",
        angle: float = 0.0,
        kind: str = "",
    ) -> None:
        pass


class Heard(Wordless):
    """Passes everything on and notes where words stand, by the middle of their baselines, and grain and fold marks."""

    def __init__(self, canvas: PdfCanvas) -> None:
        super().__init__(canvas)
        self.words: list[tuple[str, Spot]] = []
        self.marks: list[list[Point]] = []

    def stroke(self, path: Path, line: LineKind, *, closed: bool = False) -> None:
        if line is LineKind.GRAIN:
            self.marks.append(path.flatten(0.5))
        self.canvas.stroke(path, line, closed=closed)

    def text(
        self,
        at: Point,
        words: str,
        size: float,
        *,
        anchor: Anchor = "start",
        angle: float = 0.0,
        kind: str = "",
    ) -> None:
        shift = {"start": 0.5, "middle": 0.0, "end": -0.5}[anchor] * text_width(words, size)
        self.words.append((words, Spot(at + Point(shift, 0.0).turned(angle), size, angle)))
        self.canvas.text(at, words, size, anchor=anchor, angle=angle, kind=kind)
