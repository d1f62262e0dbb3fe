"""A piece drawn as the trade draws it, on any canvas, with its label and the names of its parts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from catalogue.drawing.canvas import Canvas
from catalogue.drawing.labels import LabelLine
from catalogue.drawing.lettering import text_width
from catalogue.drawing.piece_lines import LENGTHEN_GAP, LinePainter, Look
from catalogue.drawing.room import LEADING, PLACES, Block, Room, Spot, along_edge, place_label, readable
from catalogue.geometry import Box, Path, Point
from catalogue.pattern import InnerLine, Mark, Piece
from catalogue.pattern.darts import SHORT_OF_POINT, drill_holes

ON_FOLD = "place on fold"
LENGTHEN = "lengthen or shorten here"
PLEAT = "pleat"
# Along the fold that is seen and along the line it is laid on, the first that has room.
PLEAT_FOLD = ("pleat: fold here", "fold")
PLEAT_PLACE = ("pleat: lay the fold here", "to here")
# Where along a line inside its name may stand: between marks that are set along it too.
_PLACES = (*PLACES, 0.42, 0.58, 0.27, 0.73, 0.12, 0.88)
_PLAIN = Look()

# The two ends of a join of the paper, and the distance in mm to keep from it.
Join = tuple[Point, Point, float]


def paint_lines(canvas: Canvas, piece: Piece, look: Look = _PLAIN) -> None:
    """Draw a piece along its seam lines without a word."""
    LinePainter(canvas, piece, None, look).lines()


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
    painter = _Painter(canvas, piece, cut_line, look, avoid)
    painter.lines()
    painter.line_names()
    whole = painter.words(label)
    painter.name_drill_hole()
    canvas.close_group()
    return whole


class RoomPainter(LinePainter):
    """Draws a piece and keeps account of the `room` that is left on it for words."""

    def __init__(self, canvas: Canvas, piece: Piece, cut_line: Path | None, look: Look) -> None:
        super().__init__(canvas, piece, cut_line, look)
        fine = 0.35 * max(look.scale, 1.0)
        around = () if cut_line is None else cut_line.flatten(fine)
        self.room = Room(piece.outline.flatten(fine), around=around)

    def keep_clear(self, line: Path | Sequence[Point], distance: float) -> None:
        self.room.keep_clear(line.flatten(0.5) if isinstance(line, Path) else list(line), distance)

    def label_angle(self) -> float:
        """The direction of the grain, which labels are set square to or along, in degrees."""
        grain = self.piece.grain
        if grain is None or grain[0].distance(grain[1]) <= 1e-6:
            return 90.0
        return (grain[1] - grain[0]).angle


class _Painter(RoomPainter):
    """Draws a piece with its words, each clear of what was drawn before."""

    def __init__(
        self, canvas: Canvas, piece: Piece, cut_line: Path | None, look: Look, avoid: Sequence[Join]
    ) -> None:
        super().__init__(canvas, piece, cut_line, look)
        # Words kept off joins stand on the piece, so that joins further off do not matter.
        near = piece.outline.bounds().grown(12 * self.mm)
        crossing = [join for join in avoid if _comes_near(join, near)]
        self._joins = [strip for join in crossing for strip in _strip(*join)]
        self._avoided = [([a, b], reach) for a, b, reach in crossing]

    def name_fold_mark(self, line: Path) -> None:
        spot = self._beside(line, ON_FOLD, 4 * self.mm, 1.2 * self.mm, self._last_line())
        if spot:
            self._write(ON_FOLD, spot)

    def _last_line(self) -> list[Sequence[Point]]:
        """The line that was drawn last, to write along it."""
        return [points for points, _ in self.room.lines[-1:]]

    def line_names(self) -> None:
        for line in self.piece.lines:
            choices = self._line_words(line)
            points = line.path.flatten(0.5) if choices else []
            own = [kept for kept, _ in self.room.lines if kept == points]
            gap = 1.5 * self.mm
            if line.kind == "lengthen":  # beyond its second line
                gap += LENGTHEN_GAP * max(self.mm, 1.0)
            for words in choices:
                spot = self._beside(line.path, words, 3.4 * self.mm, gap, own, _PLACES)
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
        if any(line.path.nearest(arrow.start, 0.1)[1] < 0.1 for arrow in arrows):
            return PLEAT_FOLD
        if any(line.path.nearest(arrow.end, 0.1)[1] < 0.1 for arrow in arrows):
            return PLEAT_PLACE
        return (PLEAT,)

    def _rooms(self, own: Sequence[Sequence[Point]] = ()) -> Iterator[Room]:
        """The room for words that may stand on lines of their own: first what lies off joins of the paper, then all."""
        if self._joins:
            yield self.room.seen(without=own, more=self._joins)
        yield self.room.seen(without=own)

    def _beside(
        self,
        path: Path,
        words: str,
        size: float,
        gap: float,
        own: Sequence[Sequence[Point]] = (),
        places: Sequence[float] = PLACES,
    ) -> Spot | None:
        """A spot for words along a path, off the joins of the paper where that can be."""
        for room in self._rooms(own):
            spot = along_edge(room, path, words, size, gap=gap, places=places)
            if spot:
                return spot
        return None

    def name_grain(self, start: Point, end: Point) -> None:
        mm = self.mm
        words = "grain"
        size = 3.6 * mm
        wide = text_width(words, size)
        if start.distance(end) <= wide * 1.8:
            return
        angle = readable((end - start).angle)
        up = Point(0.0, -1.0).turned(angle)
        spots = [
            Spot(start.mix(end, share) + up * (1.2 * mm), size, angle)
            for share in (0.5, 0.38, 0.62, 0.26, 0.74)
        ]
        for room in self._rooms(self._last_line()):
            spot = next((s for s in spots if room.is_clear(s, wide, 0.2 * mm)), None)
            if spot:
                self._write(words, spot)
                break

    def name_mark(self, mark: Mark, reach: float) -> None:
        mm, at = self.mm, mark.at
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
            self.room = self.room.with_lines(bare)
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
        for line, spot in block.lines if block else ():
            self.room.occupy(spot, text_width(line.words, spot.size))
        return not lines or (block is not None and len(block.lines) == len(lines))

    def name_drill_hole(self) -> None:
        """What the hole near a dart's point is, beside the first that has room for it."""
        words, mm = self.look.drill, self.mm
        if not words or not self.look.signs:
            return
        size = 3.0 * mm
        wide = text_width(words, size)
        for dart in self.piece.darts:
            on = (dart.apex - dart.legs[0].mix(dart.legs[1], 0.5)).unit()
            for at in drill_holes(dart):
                aside = Point(wide / 2 + 4 * mm, 0.3 * size)
                over = Point(0.0, 0.3 * size) + on * (SHORT_OF_POINT + 3 * mm)
                spots = [at + aside, at + Point(-aside[0], aside[1]), at + over]
                spots += [at + over + Point(side * wide / 2, 0.0) for side in (1, -1)]
                spot = next(
                    (s for s in (Spot(p, size, 0.0) for p in spots) if self.room.is_clear(s, wide, 0.3 * mm)),
                    None,
                )
                if spot:
                    self._write(words, spot, "quiet")
                    return

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
        if self._avoided:
            room = self.room.with_lines([*self.room.lines, *self._avoided])
            block = place_label(room, lines, angle, scale=self.mm, gap=gap, least=0.7)
        return block or place_label(self.room, lines, angle, scale=self.mm, gap=gap)

    def _write(self, words: str, spot: Spot, kind: str = "") -> None:
        self._put(words, spot, kind)
        self.room.occupy(spot, text_width(words, spot.size))

    def _put(self, words: str, spot: Spot, kind: str) -> None:
        self.canvas.text(spot.at, words, spot.size, anchor="middle", angle=spot.angle, kind=kind)


def _comes_near(join: Join, box: Box) -> bool:
    """Whether the box round a join's strip meets another box."""
    (ax, ay), (bx, by), reach = join
    left, top, right, bottom = box
    return (
        max(ax, bx) + reach >= left
        and min(ax, bx) - reach <= right
        and max(ay, by) + reach >= top
        and min(ay, by) - reach <= bottom
    )


def _strip(a: Point, b: Point, reach: float) -> list[tuple[list[Point], float]]:
    """Both sides and the middle of a join's strip, as lines that no words may cross."""
    side = (b - a).unit().normal() * reach
    return [([a + side * share, b + side * share], reach) for share in (-1.0, 0.0, 1.0)]
