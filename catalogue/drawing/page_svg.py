"""The back end for drawings inside a page: elements whose kinds of line get their look from the page's style sheet."""

from __future__ import annotations

import re
from collections.abc import Container, Sequence

from catalogue.drawing.canvas import LineKind
from catalogue.drawing.markup import page_path_data, tenths
from catalogue.drawing.paint import paint_lines
from catalogue.drawing.piece_lines import Look
from catalogue.geometry import Path, Point
from catalogue.pattern import Piece

# Classes of the style sheet. A pleat is a fold too, so that a sheet that knows no pleats shows it.
_CLASSES = {line: line.value for line in LineKind} | {
    LineKind.PLEAT: "fold pleat",
    LineKind.GUIDE: "inner",
    LineKind.STITCH: "inner stitch",
    LineKind.PLACEMENT: "inner placement",
}

_START = re.compile(r"M([-\d.]+ [-\d.]+)")
_END = re.compile(r"([-\d.]+ [-\d.]+)$")
_LONGEST = 24
"""Characters at the end of path data in which its last point surely lies."""

Stroke = tuple[str, str]
"""Classes and path data of one line."""


class PageCanvas:
    """Gathers what is drawn, to a tenth of a millimetre; words are left out, for a page places its own.

    Attributes:
        strokes: in the order drawn, the face of a piece as "face", arrow heads as "head".
    """

    def __init__(self) -> None:
        self.strokes: list[Stroke] = []

    def open_group(self, name: str, *, kind: str = "", title: str = "") -> None:
        pass

    def close_group(self) -> None:
        pass

    def stroke(self, path: Path, line: LineKind, *, closed: bool = False) -> None:
        self.strokes.append((_CLASSES[line], page_path_data(path, closed=closed)))

    def fill(self, path: Path, tone: str) -> None:
        kind = "face" if tone == "paper" else "head"
        self.strokes.append((kind, page_path_data(path, closed=True)))

    def dot(self, at: Point, radius: float, *, filled: bool = True, line: LineKind = LineKind.MARK) -> None:
        n, r = tenths, tenths(radius)
        across = tenths(2 * radius)
        ring = f"M{n(at[0] - radius)} {n(at[1])}a{r} {r} 0 1 1 {across} 0a{r} {r} 0 1 1 -{across} 0Z"
        self.strokes.append(("head" if filled else _CLASSES[line], ring))

    def text(self, *_: object, **__: object) -> None:
        pass


def piece_strokes(piece: Piece, look: Look) -> list[Stroke]:
    """The lines of a piece, as it is painted, for `elements`."""
    canvas = PageCanvas()
    paint_lines(canvas, piece, look)
    return canvas.strokes


def elements(strokes: Sequence[Stroke], before: Container[Stroke] = ()) -> str:
    """SVG elements: one for the lines of each kind, those that are in `before` in one marked "kept"."""
    gathered: dict[str, list[str]] = {}
    for stroke in strokes:
        kind, data = stroke
        if kind != "face" and stroke in before:
            kind += " kept"
        gathered.setdefault(kind, []).append(data)
    return "".join(f'<path class="{kind}" d="{_joined(data)}"/>' for kind, data in gathered.items())


def _joined(lines: list[str]) -> str:
    """Lines as one path; one that begins where the one before it ended goes on from there."""
    whole = end = ""
    for data in lines:
        start = _START.match(data)
        whole += data[start.end() :] if start is not None and start[1] == end else data
        last = _END.search(data, max(len(data) - _LONGEST, 0))
        end = last[1] if last is not None else ""
    return whole
