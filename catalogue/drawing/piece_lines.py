"""The lines and signs of a piece as the trade draws them, on any canvas, without a word; `paint` adds the words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from catalogue.drawing.canvas import Canvas, LineKind
from catalogue.drawing.cutline import cut_and_fold
from catalogue.drawing.parts import Tick, distance_within, leg_ticks, nearest_within
from catalogue.geometry import Path, Point, parallel
from catalogue.pattern import Dart, Edge, InnerLine, Mark, Notch, Piece
from catalogue.pattern.darts import drill_holes

LENGTHEN_GAP = 3.0
_INNER = {
    "fold": LineKind.FOLD,
    "stitch": LineKind.STITCH,
    "pleat": LineKind.PLEAT,
    "arrow": LineKind.GRAIN,
    "placement": LineKind.PLACEMENT,
}


@dataclass(frozen=True, slots=True)
class Look:
    """What to show, and how large.

    Attributes:
        scale: factor on letters and marks, for drawings shown smaller than life.
        show_seam: draw the seam line (a cutting line without it suits a plotter).
        edge_names: write each edge's name along it.
        filled: lay a sheet of paper tone under the piece.
        label_below: write a label that finds no room inside under the piece.
        fold_marks: draw a bracket at each edge that lies on a fold.
        grain: draw the grain line.
        signs: draw what is marked on the piece: notches, drill holes, buttons and the like.
        largest_notch: factor that notches grow to at most.
        drill: what is written beside the drill hole of a dart, where there is room; "" for nothing.
    """

    scale: float = 1.0
    show_seam: bool = True
    edge_names: bool = True
    filled: bool = False
    label_below: bool = False
    fold_marks: bool = True
    grain: bool = True
    signs: bool = True
    largest_notch: float = 2.0
    drill: str = ""


class LinePainter:
    """Draws one part of a piece after the other.

    What must stand clear of words is handed to `keep_clear`, and what may have a name to the methods after it; they
    do nothing here.
    """

    def __init__(self, canvas: Canvas, piece: Piece, cut_line: Path | None, look: Look) -> None:
        self.canvas = canvas
        self.piece = piece
        self.cut_line = cut_line
        self.look = look
        self.mm = look.scale  # one millimetre of lettering

    def keep_clear(self, line: Path | Sequence[Point], distance: float) -> None:
        """Called with each line that words must keep `distance` mm away from."""

    def name_fold_mark(self, line: Path) -> None:
        """Called with the straight line of a fold's bracket, just drawn."""

    def name_grain(self, start: Point, end: Point) -> None:
        """Called with the grain line, just drawn."""

    def name_mark(self, mark: Mark, reach: float) -> None:
        """Called with a mark, just drawn, that has words; its sign is `reach` mm long each way."""

    def lines(self) -> None:
        """Draw everything that the look asks for."""
        if self.look.filled:
            self.canvas.fill(self.cut_line or self.piece.outline, "paper")
        self.outline()
        for dart in self.piece.darts:
            self.canvas.open_group(f"{self.piece.name}-{dart.name}", kind="dart")
            self.dart(dart)
            self.canvas.close_group()
        for line in self.piece.lines:
            self.inner(line)
        if self.look.grain:
            self.grain()
        if self.look.fold_marks:
            for edge in self.piece.edges:
                if edge.fold:
                    self.fold_mark(edge)
        if self.look.signs:
            for notch in self.piece.notches:
                self.notch(notch)
            for tick in leg_ticks(self.piece, self.cut_line):
                self.leg_notch(tick)
            for mark in self.piece.marks:
                self.mark(mark)

    def outline(self) -> None:
        folded = False
        if self.cut_line is not None:
            parts = cut_and_fold(self.piece, self.cut_line)
            folded = any(kind is LineKind.FOLD for kind, _ in parts)
            for kind, path in parts:
                self.canvas.stroke(path, kind, closed=len(parts) == 1)
        for edge in self.piece.edges:
            if edge.fold:
                if not folded:  # drawn once: dashes over dashes would close the gaps
                    self.canvas.stroke(edge.path, LineKind.FOLD)
            elif self.look.show_seam or self.cut_line is None:
                self.canvas.stroke(edge.path, LineKind.SEAM)

    def fold_mark(self, edge: Edge) -> None:
        """A bracket whose arrow heads point at the fold."""
        path, mm = edge.path, self.mm
        length = path.length
        reach, depth = min(0.3 * length, 70 * mm), min(8 * mm, 0.12 * length)
        a, b = path.point_at(length / 2 - reach), path.point_at(length / 2 + reach)
        inward = _inward(path, length / 2)
        grain = self.piece.grain
        if grain is not None:
            apart = min(abs((end - a).dot(inward)) for end in grain)
            depth = min(depth, max(0.6 * apart, 3.0))
        c, d = a + inward * depth, b + inward * depth
        self.canvas.stroke(Path.polyline([a, c, d, b]), LineKind.GRAIN)
        for foot, end in ((c, a), (d, b)):
            self.arrow(foot, end)
        self.keep_clear([a, c, d, b], 2.5 * mm)
        self.name_fold_mark(Path.line(c, d))

    def dart(self, dart: Dart) -> None:
        """Legs, the line it is folded on, and a drill hole a little short of each point."""
        mm = self.mm
        first, last = dart.legs
        ends = [dart.apex] if dart.far_apex is None else [dart.apex, dart.far_apex]
        middle = first.mix(last, 0.5)
        for end in ends:
            for leg in dart.legs:
                self.canvas.stroke(Path.line(leg, end), LineKind.DART)
            rays = max(2, ceil(dart.intake / (8 * mm)))
            fan: list[Point] = []
            for i in range(rays + 1):
                fan += [first.mix(last, i / rays), end]
            self.keep_clear(fan, 3 * mm)
        fold_from = dart.tip or middle
        if dart.far_apex is not None:
            fold_from = dart.far_apex
        self.canvas.stroke(Path.line(fold_from, dart.apex), LineKind.GUIDE)
        if self.look.signs:
            for at in drill_holes(dart):
                self.drill(at)

    def inner(self, line: InnerLine) -> None:
        self.canvas.stroke(line.path, _INNER.get(line.kind, LineKind.GUIDE))
        if line.kind == "lengthen":  # two lines, to be cut or folded between
            self.canvas.stroke(parallel(line.path, LENGTHEN_GAP * max(self.mm, 1.0)), LineKind.GUIDE)
        self.keep_clear(line.path, 2.5 * self.mm)
        if line.kind == "arrow":
            self.arrow(line.path.start, line.path.end)

    def grain(self) -> None:
        grain = self.piece.grain
        if grain is None or grain[0].distance(grain[1]) < 1e-6:
            return
        a, b = grain
        self.canvas.stroke(Path.line(a, b), LineKind.GRAIN)
        self.arrow(a, b)
        self.arrow(b, a)
        self.keep_clear([a, b], 4 * self.mm)
        self.name_grain(a, b)

    def notch(self, notch: Notch) -> None:
        """Ticks across the seam line, from the cutting line where there is one."""
        try:
            edge = self.piece.edge(notch.edge)
            path, allowance = edge.path, edge.allowance or 0.0
        except KeyError:
            path, allowance = self.piece.outline, 0.0
        s, _ = nearest_within(1.0, path, notch.at)
        mm = min(self.mm, self.look.largest_notch)
        inside = 4 * mm
        outside = 2 * mm
        if self.cut_line is not None:
            outside = distance_within(allowance + 1.0, self.cut_line, notch.at)
        apart = 3.0 * mm
        for i in range(notch.count):
            at = min(max(s + (i - (notch.count - 1) / 2) * apart, 0.0), path.length)
            foot, along = path.point_and_tangent_at(at)
            inward = along.normal()
            ends = [foot - inward * outside, foot + inward * inside]
            self.canvas.stroke(Path.polyline(ends), LineKind.NOTCH)
            self.keep_clear(ends, 1.5 * mm)

    def leg_notch(self, tick: Tick) -> None:
        """A tick in line with a dart's leg, across the seam line, from the cutting line where there is one."""
        mm = min(self.mm, self.look.largest_notch)
        start = tick.at_cut if self.cut_line is not None else tick.at_seam - tick.inward * (2 * mm)
        ends = [start, tick.at_seam + tick.inward * (4 * mm)]
        self.canvas.stroke(Path.polyline(ends), LineKind.NOTCH)
        self.keep_clear(ends, 1.5 * mm)

    def mark(self, mark: Mark) -> None:
        mm, at = self.mm, mark.at
        along = Point(1.0, 0.0).turned(mark.angle)
        reach = 2.0 * mm
        if mark.kind == "drill":
            self.drill(at)
        elif mark.kind == "button":
            reach = max(5.0, 1.6 * mm)
            self.canvas.dot(at, reach, filled=False)
            _cross(self.canvas, at, 0.4 * reach, along)
        elif mark.kind == "buttonhole":
            reach = mark.length / 2
            a, b = at - along * reach, at + along * reach
            self.canvas.stroke(Path.line(a, b), LineKind.MARK)
            for end in (a, b):
                bar = along.turned(90) * 2.5
                self.canvas.stroke(Path.line(end - bar, end + bar), LineKind.MARK)
        elif mark.kind == "end":
            bar = along.turned(90) * (3 * mm)
            self.canvas.stroke(Path.line(at - bar, at + bar), LineKind.MARK)
        elif mark.kind != "label":
            self.canvas.dot(at, 0.8 * mm)
        side = along.turned(90) * (reach if mark.kind == "button" else 2.5)
        a, b = at - along * reach, at + along * reach
        self.keep_clear([a - side, b - side, b + side, a + side, a - side, b + side], 1.0 * mm)
        if mark.text:
            self.name_mark(mark, reach)

    def arrow(self, tail: Point, head: Point) -> None:
        """A slim filled head at the end of a line, at most a third of its length."""
        way = head - tail
        if way.length < 1e-6:
            return
        length = min(5.0 * self.mm, way.length / 3)
        back = head - way.unit() * length
        side = way.unit().normal() * (0.3 * length)
        self.canvas.fill(Path.polyline([head, back + side, back - side, head]), "ink")

    def drill(self, at: Point) -> None:
        drill_sign(self.canvas, at, self.mm)


def drill_sign(canvas: Canvas, at: Point, scale: float = 1.0) -> None:
    """A small ring with a cross through it: where an awl or a tailor's tack goes."""
    r = 1.6 * scale
    canvas.dot(at, r, filled=False)
    _cross(canvas, at, 1.6 * r, Point(1.0, 0.0))


def _cross(canvas: Canvas, at: Point, reach: float, along: Point) -> None:
    for way in (along, along.turned(90)):
        canvas.stroke(Path.line(at - way * reach, at + way * reach), LineKind.MARK)


def _inward(path: Path, s: float) -> Point:
    """The unit direction into the piece: to the right of travel along its outline."""
    return path.tangent_at(s).normal()
