"""Whose line is whose, written where several lie on one another: along the lines, at darts, notches and other marks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import ceil
from typing import NamedTuple

from catalogue.drawing.lettering import text_width
from catalogue.drawing.paint import Join
from catalogue.drawing.room import Room, Spot, along_edge, readable
from catalogue.geometry import Path, Point
from catalogue.pattern import Piece
from catalogue.sheets.marks import shortened

LINE_SIZE = 4.0  # mm: to be read standing at the table
MARK_SIZE = 3.0
APART = 1.5  # mm: nearer than this to another's line a name would not say which of the two it is
_GAP = 1.0  # mm between a name and its line; more to those of others
_SAME = 0.5  # mm: marks of all that lie this near together are one mark
_EACH = 3  # names along one outline, at most
_BETWEEN = 150.0  # mm between two of them
_PLACES = (0.5, 0.2, 0.35, 0.65, 0.8, 0.1, 0.9)
_NOTCH = 4.0  # mm that a notch reaches into the piece


class NestedPiece(NamedTuple):
    """One client's or size's piece where it lies on the others': its name, and the line it is cut along."""

    name: str
    piece: Piece
    outline: Path


class PlacedName(NamedTuple):
    """A name and where it goes."""

    words: str
    spot: Spot


class Crowd(Room):
    """Room among very many lines: looked up in a tree, for going through all of them would take too long."""

    def __init__(self, drawn: Iterable[Sequence[Point]]) -> None:
        from shapely import LineString, STRtree

        super().__init__([])
        self._tree = STRtree([LineString(points) for points in drawn if len(points) > 1])
        self._words: list[object] = []

    def is_clear(self, spot: Spot, width: float, margin: float) -> bool:
        box = _box(spot, width, margin)
        return not len(self._tree.query(box, "intersects")) and not any(
            box.intersects(w) for w in self._words
        )

    def occupy(self, spot: Spot, width: float) -> None:
        self._words.append(_box(spot, width, 0.3))


def names_on(
    sheets: Sequence[NestedPiece],
    taken: Iterable[tuple[str, Spot]],
    joins: Iterable[Join] = (),
    marks: Iterable[Sequence[Point]] = (),
) -> list[list[PlacedName]]:
    """For each sheet, its name wherever one may ask whose a line or a mark is; clear of all that is drawn.

    Args:
        sheets: those that lie on one another.
        taken: words that stand there already.
        joins: of the paper, which are kept off.
        marks: lines drawn besides, which no name may cross.
    """
    if len(sheets) < 2:
        return [[] for _ in sheets]
    lines = (line for sheet in sheets for line in _drawn(sheet))
    crowd = Crowd([*lines, *marks, *(side for join in joins for side in _sides(join))])
    for words, spot in taken:
        crowd.occupy(spot, text_width(words, spot.size))
    found: list[list[PlacedName]] = [[] for _ in sheets]
    others = [_Others(sheets, n) for n in range(len(sheets))]
    for place in (_at_darts, _at_notches, _at_marks):
        for n, sheet in enumerate(sheets):
            for name in place(sheet, others[n], crowd):
                crowd.occupy(name.spot, text_width(name.words, name.spot.size))
                found[n].append(name)
    # One name along each line first, so that none goes without; then more of them.
    along = [_along(sheet, others[n], crowd, (n + 0.5) / len(sheets)) for n, sheet in enumerate(sheets)]
    for _ in range(_EACH):
        for n, names in enumerate(along):
            written = next(names, None)
            if written:
                crowd.occupy(written.spot, text_width(written.words, written.spot.size))
                found[n].append(written)
    return found


class _Others:
    """The sheets that lie with one: how far their lines are, and whether they have a mark where it has one."""

    def __init__(self, sheets: Sequence[NestedPiece], own: int) -> None:
        from shapely import MultiLineString

        self.sheets = [sheet for n, sheet in enumerate(sheets) if n != own]
        self.lines = MultiLineString([_closed(sheet.outline) for sheet in self.sheets])

    def distance(self, point: Point) -> float:
        from shapely import Point as ShapelyPoint

        return float(self.lines.distance(ShapelyPoint(point)))

    def share(self, at: Point, marks: Sequence[Sequence[Point]]) -> bool:
        """Whether all the others have a mark at `at`; `marks` are theirs."""
        return all(any(at.distance(mark) < _SAME for mark in their) for their in marks)


class _Lane(Room):
    """The room beside one sheet's line: nearer to it than to the lines of the others."""

    def __init__(self, crowd: Crowd, others: _Others) -> None:
        super().__init__([])
        self._crowd = crowd
        self._others = others

    def is_clear(self, spot: Spot, width: float, margin: float) -> bool:
        away = self._others.lines.distance(_box(spot, width, 0.0))
        return away > _GAP + 0.7 and self._crowd.is_clear(spot, width, _GAP)


def _along(sheet: NestedPiece, others: _Others, crowd: Crowd, start: float) -> Iterator[PlacedName]:
    """Its name along its outline where that runs apart from the others', the longest stretches first."""
    words = shortened(sheet.name, LINE_SIZE, 60.0)
    places = sorted(_PLACES, key=lambda p: abs(p - start))  # names on lines side by side begin apart
    stretches = sorted((Path((s,)) for s in sheet.outline.segments), key=lambda p: -p.length)
    lane = _Lane(crowd, others)
    last: list[Point] = []
    for path in stretches[:16]:
        length = path.length
        free = [p for p in places if others.distance(path.point_at(p * length)) > APART]
        free = [p for p in free if all(path.point_at(p * length).distance(q) > _BETWEEN for q in last)]
        spot = (
            along_edge(lane, path, words, LINE_SIZE, gap=_GAP + 0.1 * LINE_SIZE, places=free)
            if free
            else None
        )
        if spot:
            last.append(spot.at)
            yield PlacedName(words, spot)


def _at_darts(sheet: NestedPiece, others: _Others, crowd: Crowd) -> Iterator[PlacedName]:
    theirs = [[dart.apex for dart in other.piece.darts] for other in others.sheets]
    for dart in sheet.piece.darts:
        middle = dart.legs[0].mix(dart.legs[1], 0.5)
        if dart.apex.distance(middle) > 1.0 and not others.share(dart.apex, theirs):
            yield from _beyond(sheet.name, dart.apex, (dart.apex - middle).unit(), crowd)


def _at_notches(sheet: NestedPiece, others: _Others, crowd: Crowd) -> Iterator[PlacedName]:
    """At notches on lines that others have too; elsewhere a notch stands at the line of its own."""
    theirs = [[notch.at for notch in other.piece.notches] for other in others.sheets]
    for notch in sheet.piece.notches:
        at, _ = sheet.outline.nearest(notch.at)
        if others.distance(sheet.outline.point_at(at)) > APART or others.share(notch.at, theirs):
            continue
        try:
            path = sheet.piece.edge(notch.edge).path
        except KeyError:
            path = sheet.piece.outline
        inward = path.tangent_at(path.nearest(notch.at)[0]).normal()
        yield from _beyond(sheet.name, notch.at + inward * _NOTCH, inward, crowd)


def _at_marks(sheet: NestedPiece, others: _Others, crowd: Crowd) -> Iterator[PlacedName]:
    theirs = [[mark.at for mark in other.piece.marks] for other in others.sheets]
    for mark in sheet.piece.marks:
        if mark.kind == "label" or others.share(mark.at, theirs):
            continue
        words = shortened(sheet.name, MARK_SIZE, 30.0)
        half = text_width(words, MARK_SIZE) / 2
        reach = 9.0 if mark.kind == "buttonhole" else 6.5
        for side in (Point(1.0, 0.0), Point(-1.0, 0.0), Point(0.0, 1.0), Point(0.0, -1.0)):
            away = reach + (half if side[0] else 0.5 * MARK_SIZE)
            spot = Spot(mark.at + side * away + Point(0.0, 0.35 * MARK_SIZE), MARK_SIZE, 0.0)
            if crowd.is_clear(spot, 2 * half, 0.3):
                yield PlacedName(words, spot)
                break


def _beyond(name: str, end: Point, way: Point, crowd: Crowd) -> Iterator[PlacedName]:
    """A name on from `end` in the direction `way`, at the first of a few distances where it is clear."""
    words = shortened(name, MARK_SIZE, 30.0)
    width = text_width(words, MARK_SIZE)
    angle = readable(way.angle)
    low = Point(0.0, 0.35 * MARK_SIZE).turned(angle)
    for gap in (1.5, 4.0, 8.0, 13.0):
        spot = Spot(end + way * (gap + width / 2) + low, MARK_SIZE, angle)
        if crowd.is_clear(spot, width, 0.3):
            yield PlacedName(words, spot)
            return


def _drawn(sheet: NestedPiece) -> Iterator[Sequence[Point]]:
    """Lines that no name may cross."""
    piece = sheet.piece
    yield _closed(sheet.outline)
    for dart in piece.darts:
        for end in (dart.apex, dart.far_apex or dart.apex):
            yield [dart.legs[0], end, dart.legs[1]]
    for line in piece.lines:
        yield line.path.flatten(0.5)
    for mark in piece.marks:
        reach = 6.0 if mark.kind in ("button", "buttonhole") else 2.0
        yield [mark.at - Point(reach, 0.0), mark.at + Point(reach, 0.0)]
    for edge in piece.edges:
        if edge.fold:
            yield edge.path.flatten(0.5)
    if piece.grain and piece.grain[0].distance(piece.grain[1]) > 1e-6:
        yield list(piece.grain)


def _sides(join: Join) -> Iterator[list[Point]]:
    """A join's strip as lines along it, closer together than letters are tall."""
    a, b, reach = join
    way = (b - a).unit().normal()
    steps = ceil(reach / 2.0) or 1
    for step in range(-steps, steps + 1):
        away = way * (reach * step / steps)
        yield [a + away, b + away]


def _closed(path: Path) -> list[Point]:
    points = path.flatten(0.3)
    return [*points, points[0]]


def _box(spot: Spot, width: float, margin: float):  # type: ignore[no-untyped-def]
    from shapely import Polygon

    half, top, bottom = width / 2 + margin, -0.78 * spot.size - margin, 0.2 * spot.size + margin
    corners = ((-half, top), (half, top), (half, bottom), (-half, bottom))
    return Polygon([spot.at + Point(x, y).turned(spot.angle) for x, y in corners])
