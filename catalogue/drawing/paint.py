"""A piece drawn as the trade draws it, on any canvas."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from catalogue.drawing.canvas import Canvas, LineKind
from catalogue.drawing.cutline import cut_and_fold
from catalogue.drawing.labels import LabelLine
from catalogue.drawing.lettering import text_width
from catalogue.drawing.room import LEADING, PLACES, Block, Room, Spot, along_edge, place_label, readable
from catalogue.geometry import Line, Path, Point
from catalogue.pattern import Dart, Edge, InnerLine, Mark, Notch, Piece

ON_FOLD = "place on fold"
LENGTHEN = "lengthen or shorten here"
LENGTHEN_GAP = 3.0
PLEAT = "pleat"
# Along the fold that is seen and along the line it is laid on, the first that has room.
PLEAT_FOLD = ("pleat: fold here", "fold")
PLEAT_PLACE = ("pleat: lay the fold here", "to here")
# Where along a line inside its name may stand: between marks that are set along it too.
_PLACES = (*PLACES, 0.42, 0.58, 0.27, 0.73, 0.12, 0.88)
_INNER = {
    "fold": LineKind.FOLD,
    "stitch": LineKind.SEAM,
    "pleat": LineKind.PLEAT,
    "arrow": LineKind.GRAIN,
    "placement": LineKind.BEFORE,
}


@dataclass(frozen=True, slots=True)
class Look:
    """What to show, and how large.

    Attributes:
        scale: factor on letters and marks, for drawings shown smaller than life.
        show_seam: draw the seam line (a cutting line without it suits a plotter).
        edge_names: write each edge's name along it.
        filled: lay a sheet of paper tone under the piece.
        fold_marks: draw a bracket at each edge that lies on a fold.
        label_below: write a label that finds no room inside under the piece.
    """

    scale: float = 1.0
    show_seam: bool = True
    edge_names: bool = True
    filled: bool = False
    label_below: bool = False
    fold_marks: bool = True


_PLAIN = Look()

# The two ends of a join of the paper, and the distance in mm to keep from it.
Join = tuple[Point, Point, float]


def paint_piece(
    canvas: Canvas,
    piece: Piece,
    *,
    label: Sequence[LabelLine] = (),
    cut_line: Path | None = None,
    look: Look = _PLAIN,
    avoid: Sequence[Join] = (),
) -> bool:
    """Draw one piece in a group of its own; returns whether the whole label found room on it.

    Args:
        label: the words on the piece, most important first; left out from the end where there is no room.
        cut_line: the cutting line, allowances included, as a closed path; None where none is worked out.
        avoid: joins of the paper that the label keeps off where it can.
    """
    canvas.open_group(piece.name, kind="piece", title=piece.title)
    if look.filled:
        canvas.fill(cut_line or piece.outline, "paper")
    painter = Painter(canvas, piece, cut_line, look, avoid)
    painter.outline()
    painter.darts()
    painter.inner_lines()
    painter.grain()
    if look.fold_marks:
        painter.fold_marks()
    painter.notches()
    painter.marks()
    painter.line_names()
    whole = painter.words(label)
    canvas.close_group()
    return whole


class Painter:
    """Draws one part of a piece after the other, each clear of those before."""

    def __init__(
        self, canvas: Canvas, piece: Piece, cut_line: Path | None, look: Look, avoid: Sequence[Join]
    ) -> None:
        self.canvas = canvas
        self.avoid = avoid
        self.piece = piece
        self.cut_line = cut_line
        self.look = look
        self._joins = [strip for join in avoid for strip in _strip(*join)]
        self._avoided = [([a, b], reach) for a, b, reach in avoid]
        self._points: dict[int, list[Point]] = {}
        self.mm = look.scale  # one millimetre of lettering
        fine = 0.35 * max(look.scale, 1.0)
        self.room = Room(piece.outline.flatten(fine))
        if cut_line is not None:
            self.room.keep_clear(cut_line.flatten(fine), 0.5)

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

    def fold_marks(self) -> None:
        for edge in self.piece.edges:
            if edge.fold:
                self._fold_mark(edge)

    def _fold_mark(self, edge: Edge) -> None:
        """A bracket whose arrow heads point at the fold, and the words along it."""
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
            self._arrow(foot, end)
        self.room.keep_clear([a, c, d, b], 2.5 * mm)
        spot = self._beside(Path((Line(c, d),)), ON_FOLD, 4 * mm, 1.2 * mm, self.room.lines[:-1])
        if spot:
            self._write(ON_FOLD, spot)

    def darts(self) -> None:
        for dart in self.piece.darts:
            self.canvas.open_group(f"{self.piece.name}-{dart.name}", kind="dart")
            self._dart(dart)
            self.canvas.close_group()

    def _dart(self, dart: Dart) -> None:
        mm = self.mm
        first, last = dart.legs
        ends = [dart.apex] if dart.far_apex is None else [dart.apex, dart.far_apex]
        middle = first.mix(last, 0.5)
        for end in ends:
            for leg in dart.legs:
                self.canvas.stroke(Path.polyline([leg, end]), LineKind.DART)
            rays = max(2, ceil(dart.intake / (8 * mm)))
            fan: list[Point] = []
            for i in range(rays + 1):
                fan += [first.mix(last, i / rays), end]
            self.room.keep_clear(fan, 3 * mm)
        fold_from = dart.tip or middle
        if dart.far_apex is not None:
            fold_from = dart.far_apex
        self.canvas.stroke(Path.polyline([fold_from, dart.apex]), LineKind.GUIDE)
        for end in ends:
            length = end.distance(middle)
            if length > 1.0:
                at = end.toward(middle, min(10.0, 0.15 * length))
                self._drill(at)

    def inner_lines(self) -> None:
        for line in self.piece.lines:
            self._inner(line)

    def _inner(self, line: InnerLine) -> None:
        self.canvas.stroke(line.path, _INNER.get(line.kind, LineKind.GUIDE))
        if line.kind == "lengthen":  # two lines, to be cut or folded between
            self.canvas.stroke(line.path.offset(LENGTHEN_GAP), LineKind.GUIDE)
        points = line.path.flatten(0.5)
        self._points[id(line)] = points
        self.room.keep_clear(points, 2.5 * self.mm)
        if line.kind == "arrow":
            self._arrow(line.path.start, line.path.end)

    def line_names(self) -> None:
        for line in self.piece.lines:
            for words in self._line_words(line):
                others = [kept for kept in self.room.lines if kept[0] != self._points[id(line)]]
                spot = self._beside(line.path, words, 3.4 * self.mm, 1.5 * self.mm, others, _PLACES)
                if spot:
                    self._write(words, spot)
                    break

    def _line_words(self, line: InnerLine) -> Sequence[str]:
        """What may be written along a line inside, the best first."""
        if line.text:
            return (line.text,)
        if line.kind == "lengthen":
            return (LENGTHEN,)
        if line.kind != "pleat":
            return ()
        arrows = [each.path for each in self.piece.lines if each.kind == "arrow"]
        if any(line.path.nearest(arrow.start)[1] < 0.1 for arrow in arrows):
            return PLEAT_FOLD
        if any(line.path.nearest(arrow.end)[1] < 0.1 for arrow in arrows):
            return PLEAT_PLACE
        return (PLEAT,)

    def _rooms(self, lines: Sequence[tuple[list[Point], float]] | None = None) -> list[Room]:
        """The room for words: first without what lies on joins of the paper, then all of it."""
        kept = list(self.room.lines if lines is None else lines)
        whole = self.room.with_lines(kept)
        return [whole.with_lines(kept + self._joins), whole] if self._joins else [whole]

    def _beside(
        self,
        path: Path,
        words: str,
        size: float,
        gap: float,
        lines: Sequence[tuple[list[Point], float]] | None = None,
        places: Sequence[float] = PLACES,
    ) -> Spot | None:
        """A spot for words along a path, off the joins of the paper where that can be."""
        for room in self._rooms(lines):
            spot = along_edge(room, path, words, size, gap=gap, places=places)
            if spot:
                return spot
        return None

    def grain(self) -> None:
        grain = self.piece.grain
        if grain is None or grain[0].distance(grain[1]) < 1e-6:
            return
        mm = self.mm
        a, b = grain
        self.canvas.stroke(Path.polyline([a, b]), LineKind.GRAIN)
        self._arrow(a, b)
        self._arrow(b, a)
        self.room.keep_clear([a, b], 4 * mm)
        words = "grain"
        size = 3.6 * mm
        if a.distance(b) > text_width(words, size) * 1.8:
            angle = readable((b - a).angle)
            up = Point(0.0, -1.0).turned(angle)
            spots = [
                Spot(a.mix(b, share) + up * (1.2 * mm), size, angle)
                for share in (0.5, 0.38, 0.62, 0.26, 0.74)
            ]
            wide = text_width(words, size)
            for room in self._rooms(self.room.lines[:-1]):
                spot = next((s for s in spots if room.is_clear(s, wide, 0.2 * mm)), None)
                if spot:
                    self._write(words, spot)
                    break

    def notches(self) -> None:
        for notch in self.piece.notches:
            self._notch(notch)

    def _notch(self, notch: Notch) -> None:
        """Ticks across the seam line, from the cutting line where there is one."""
        try:
            path = self.piece.edge(notch.edge).path
        except KeyError:
            path = self.piece.outline
        s, _ = path.nearest(notch.at)
        mm = min(self.mm, 2.0)
        inside = 4 * mm
        outside = 2 * mm if self.cut_line is None else max(self.cut_line.nearest(notch.at)[1], 0.0)
        apart = 3.0 * mm
        for i in range(notch.count):
            at = min(max(s + (i - (notch.count - 1) / 2) * apart, 0.0), path.length)
            foot, inward = path.point_at(at), _inward(path, at)
            ends = [foot - inward * outside, foot + inward * inside]
            self.canvas.stroke(Path.polyline(ends), LineKind.NOTCH)
            self.room.keep_clear(ends, 1.5 * mm)

    def marks(self) -> None:
        for mark in self.piece.marks:
            self._mark(mark)

    def _mark(self, mark: Mark) -> None:
        mm, at = self.mm, mark.at
        along = Point(1.0, 0.0).turned(mark.angle)
        reach = 2.0 * mm
        if mark.kind == "drill":
            self._drill(at)
        elif mark.kind == "button":
            self.canvas.dot(at, 5.0, filled=False)
            self._cross(at, 2.0, along)
            reach = 5.0
        elif mark.kind == "buttonhole":
            reach = mark.length / 2
            a, b = at - along * reach, at + along * reach
            self.canvas.stroke(Path.polyline([a, b]), LineKind.MARK)
            for end in (a, b):
                bar = along.turned(90) * 2.5
                self.canvas.stroke(Path.polyline([end - bar, end + bar]), LineKind.MARK)
        elif mark.kind == "end":
            bar = along.turned(90) * (3 * mm)
            self.canvas.stroke(Path.polyline([at - bar, at + bar]), LineKind.MARK)
        elif mark.kind != "label":
            self.canvas.dot(at, 0.8 * mm)
        side = along.turned(90) * (5.0 if mark.kind == "button" else 2.5)
        a, b = at - along * reach, at + along * reach
        self.room.keep_clear([a - side, b - side, b + side, a + side, a - side, b + side], 1.0 * mm)
        if mark.text:
            size = 3.4 * mm
            half = text_width(mark.text, size) / 2
            beside = Point(reach + 1.5 * mm + half, 0.3 * size)
            spots = [
                at + beside,
                at + Point(-beside[0], beside[1]),
                at + Point(0, -reach - 2 * mm),
                at + Point(0, reach + 2 * mm + size),
            ]
            for spot in (Spot(p, size, 0.0) for p in spots):
                if self.room.is_clear(spot, 2 * half, 0.3 * mm) or mark.kind == "label":
                    self._write(mark.text, spot)
                    break

    def words(self, lines: Sequence[LabelLine]) -> bool:
        """The names of the edges and the label; where both have no room, the label matters more.

        Returns whether the whole label is there.
        """
        bare = list(self.room.lines)
        names = self._edge_names() if self.look.edge_names else []
        for words, spot in names:
            self.room.occupy(spot, text_width(words, spot.size))
        block = self._label(lines)
        if names and lines and (block is None or len(block.lines) < len(lines)):
            self.room.lines = bare
            alone = self._label(lines)
            if alone and (block is None or len(alone.lines) > len(block.lines)):
                block = alone
                for line, spot in block.lines:
                    self.room.occupy(spot, text_width(line.words, spot.size))
                names = [n for n in names if self.room.is_clear(n[1], text_width(n[0], n[1].size), 0.0)]
        for words, spot in names:
            self._put(words, spot, "quiet")
        if self.look.label_below and lines and (block is None or len(block.lines) == 1 < len(lines)):
            self._label_below(lines[:2])
        elif block:
            self.canvas.open_group(f"{self.piece.name}-label", kind="label")
            for line, spot in block.lines:
                self._put(line.words, spot, line.kind)
            self.canvas.close_group()
        return not lines or (block is not None and len(block.lines) == len(lines))

    def _label_below(self, lines: Sequence[LabelLine]) -> None:
        """The first lines of a label that has no room inside, under the piece."""
        box = (self.cut_line or self.piece.outline).bounds()
        y = box.bottom + 2 * self.mm
        self.canvas.open_group(f"{self.piece.name}-label", kind="label")
        for line in lines:
            size = 0.7 * line.size * self.mm
            y += size * LEADING
            self.canvas.text(Point(box.left, y - 0.3 * size), line.words, size, kind=line.kind)
        self.canvas.close_group()

    def _edge_names(self) -> list[tuple[str, Spot]]:
        found = []
        for edge in self.piece.edges:
            words = edge.name.replace("_", " ")
            spot = self._beside(edge.path, words, 3.4 * self.mm, 1.4 * self.mm)
            if spot:
                found.append((words, spot))
        return found

    def _label(self, lines: Sequence[LabelLine]) -> Block | None:
        if not lines:
            return None
        angle = self.label_angle()
        gap = 5 * self.mm
        block: Block | None = None
        if self.avoid:
            room = self.room.with_lines([*self.room.lines, *self._avoided])
            block = place_label(room, lines, angle, scale=self.mm, gap=gap, least=0.7)
        return block or place_label(self.room, lines, angle, scale=self.mm, gap=gap)

    def label_angle(self) -> float:
        """The direction of the grain, which labels are set square to or along, in degrees."""
        grain = self.piece.grain
        if grain is None or grain[0].distance(grain[1]) <= 1e-6:
            return 90.0
        return (grain[1] - grain[0]).angle

    def _write(self, words: str, spot: Spot, kind: str = "") -> None:
        self._put(words, spot, kind)
        self.room.occupy(spot, text_width(words, spot.size))

    def _put(self, words: str, spot: Spot, kind: str) -> None:
        self.canvas.text(spot.at, words, spot.size, anchor="middle", angle=spot.angle, kind=kind)

    def _arrow(self, tail: Point, head: Point) -> None:
        """A slim filled head at the end of a line, at most a third of its length."""
        way = head - tail
        if way.length < 1e-6:
            return
        length = min(5.0 * self.mm, way.length / 3)
        back = head - way.unit() * length
        side = way.unit().normal() * (0.3 * length)
        self.canvas.fill(Path.polyline([head, back + side, back - side, head]), "ink")

    def _drill(self, at: Point) -> None:
        """A small ring with a cross through it: where an awl or a tailor's tack goes."""
        r = 1.6 * self.mm
        self.canvas.dot(at, r, filled=False)
        self._cross(at, 1.6 * r, Point(1.0, 0.0))

    def _cross(self, at: Point, reach: float, along: Point) -> None:
        for way in (along, along.turned(90)):
            self.canvas.stroke(Path.polyline([at - way * reach, at + way * reach]), LineKind.MARK)


def _strip(a: Point, b: Point, reach: float) -> list[tuple[list[Point], float]]:
    """Both sides and the middle of a join's strip, as lines that no words may cross."""
    side = (b - a).unit().normal() * reach
    return [([a + side * share, b + side * share], reach) for share in (-1.0, 0.0, 1.0)]


def _inward(path: Path, s: float) -> Point:
    """The unit direction into the piece: to the right of travel along its outline."""
    return path.tangent_at(s).normal()
