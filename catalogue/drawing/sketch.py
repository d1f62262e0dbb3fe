"""A sketch of a detail: painted on any canvas, and as a drawing in a page."""

from __future__ import annotations

from html import escape
from itertools import pairwise
from typing import Unpack

from catalogue.drawing.canvas import Canvas, Lettering, LineKind
from catalogue.drawing.lettering import text_width
from catalogue.drawing.markup import page_path_data, tenths, view_box
from catalogue.geometry import Box, Path, Point, Transform
from catalogue.studio.sketches import AREAS, Sketch, Stroke

LETTER = 3.6
"""Size of the letters, mm."""
BESIDE = 1.5
"""White round a sketch, mm."""
SHOWN = 3.8
"""Pixels that a millimetre of a sketch takes on the page: about its true size."""
HATCH = 3.0
"""Between the hatching lines of the wrong side, mm along the edge of the drawing."""
HEAD = 2.4
"""Length of an arrow's head, mm."""

_CORNER = Point(0.0, 0.0)
_LINES = {
    "edge": LineKind.MARK,
    "hidden": LineKind.PLACEMENT,
    "stitch": LineKind.STITCH,
    "fold": LineKind.FOLD,
    "cut": LineKind.CUT,
    "arrow": LineKind.GUIDE,
}
_TONES = {"right side": "paper", "wrong side": "light", "lining": "light"}
_CLASSES = {
    LineKind.MARK: "line",
    LineKind.PLACEMENT: "inner placement",
    LineKind.STITCH: "inner stitch",
    LineKind.FOLD: "fold",
    LineKind.CUT: "line snip",
    LineKind.GUIDE: "inner",
    LineKind.FRAME: "inner hatch",
    "paper": "area right-side",
    "light": "area wrong-side",
    "ink": "head",
}


def sketch_box(sketch: Sketch) -> Box:
    """What a sketch takes, its letters and the white round it included; its corner is at the origin."""
    right = max((_reach(s) for s in sketch.strokes), default=40.0)
    down = max((p.y for s in sketch.strokes for p in s.points), default=10.0)
    return Box(-BESIDE, -BESIDE, right + BESIDE, down + BESIDE)


def _reach(stroke: Stroke) -> float:
    share = {"start": 1.0, "middle": 0.5, "end": 0.0}[stroke.anchor]
    return max(p.x for p in stroke.points) + share * text_width(stroke.words, LETTER)


def paint_sketch(canvas: Canvas, sketch: Sketch, at: Point = _CORNER) -> None:
    """Draw the sketch on a canvas, its corner at `at`, in mm."""
    by = Transform.translation(at)
    for stroke in sketch.strokes:
        if stroke.kind == "words":
            canvas.text(stroke.points[0] + at, stroke.words, LETTER, anchor=stroke.anchor)
        elif stroke.path is None:
            for point in stroke.points:
                canvas.dot(point + at, 0.7)
        elif stroke.kind in AREAS:
            area = stroke.path.transformed(by)
            canvas.fill(area, _TONES[stroke.kind])
            if stroke.kind == "wrong side":
                for line in _hatching(area):
                    canvas.stroke(line, LineKind.FRAME)
            canvas.stroke(area, LineKind.MARK, closed=True)
        else:
            path = stroke.path.transformed(by)
            canvas.stroke(path, _LINES[stroke.kind])
            if stroke.kind == "arrow":
                canvas.fill(_head(path), "ink")


def _hatching(area: Path) -> list[Path]:
    """Slanting lines inside a closed path."""
    corners = [*area.flatten(0.1), area.start]
    sums = [p.x + p.y for p in corners]
    lines: list[Path] = []
    level = (min(sums) // HATCH + 0.5) * HATCH
    while level < max(sums):
        met = sorted(
            p.x + (q.x - p.x) * (level - a) / (b - a)
            for (p, q), (a, b) in zip(pairwise(corners), pairwise(sums), strict=True)
            if (a < level) != (b < level)
        )
        for x0, x1 in zip(met[::2], met[1::2], strict=False):
            if x1 > x0:
                lines.append(Path.line(Point(x0, level - x0), Point(x1, level - x1)))
        level += HATCH
    return lines


def _head(path: Path) -> Path:
    tip, along = path.end, path.arriving
    aside = Point(-along.y, along.x) * (HEAD * 0.3)
    back = tip - along * HEAD
    return Path.polyline((tip, back + aside, back - aside, tip))


class _PageSketch:
    """A canvas that writes elements for a page, whose style sheet gives them their look."""

    def __init__(self) -> None:
        self.elements: list[str] = []

    def open_group(self, name: str, *, kind: str = "", title: str = "") -> None: ...

    def close_group(self) -> None: ...

    def stroke(self, path: Path, line: LineKind, *, closed: bool = False) -> None:
        data = page_path_data(path, closed=closed)
        start = f'<path class="{_CLASSES[line]}" d="'
        if line is LineKind.FRAME and self.elements[-1].startswith(start):  # all hatching of an area in one
            self.elements[-1] = self.elements[-1].removesuffix('"/>') + f'{data}"/>'
        else:
            self.elements.append(f'{start}{data}"/>')

    def fill(self, path: Path, tone: str) -> None:
        self.elements.append(f'<path class="{_CLASSES[tone]}" d="{page_path_data(path, closed=True)}"/>')

    def dot(self, at: Point, radius: float, *, filled: bool = True, line: LineKind = LineKind.MARK) -> None:
        self.elements.append(
            f'<circle class="dot" cx="{tenths(at.x)}" cy="{tenths(at.y)}" r="{tenths(radius)}"/>'
        )

    def text(self, at: Point, words: str, size: float, **lettering: Unpack[Lettering]) -> None:
        anchor = lettering.get("anchor", "start")
        more = f' text-anchor="{anchor}"' if anchor != "start" else ""
        self.elements.append(f'<text x="{tenths(at.x)}" y="{tenths(at.y)}"{more}>{escape(words)}</text>')


def sketch_svg(sketch: Sketch) -> str:
    """The sketch as an SVG element that says its caption to who cannot see it."""
    box = sketch_box(sketch)
    canvas = _PageSketch()
    paint_sketch(canvas, sketch)
    size = f'width="{SHOWN * box.width:.0f}" height="{SHOWN * box.height:.0f}" font-size="{tenths(LETTER)}"'
    said = f'role="img" aria-label="{escape(sketch.caption)}"'
    return f'<svg class="paper" viewBox="{view_box(box)}" {size} {said}>{"".join(canvas.elements)}</svg>'
