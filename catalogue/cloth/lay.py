"""A lay: the pieces of one cloth, grain along it, laid flat on a single layer, one after the other.

The cloth is a raster of centimetre cells, of which a piece takes every cell that it touches, so the result is a
little more than the pieces need and never less. It is an estimate for buying: a cutter at the table may do better.
Nothing is timed or left to chance: the same pieces always give the same lay.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from catalogue.geometry import Path, Point, Transform
from catalogue.geometry.arrays import coordinates
from catalogue.pattern import Piece
from catalogue.placing import (
    CellShape,
    Grid,
    Overlaps,
    first_of,
    joined,
    rectangle,
)
from catalogue.placing.outlines import shapes_of_outlines

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

CELL = 10.0
"""mm."""

FLATNESS = 0.2
"""mm that an outline may stray while it is laid."""

MOST_CLOTH = 60_000.0
"""mm: a lay longer than this is not worked out, for that would take too long."""


@dataclass(frozen=True, slots=True)
class LaidCut:
    """One cut of a piece on the cloth: closed lines of corner points, mm, x across the cloth and y along it."""

    name: str
    outline: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Lay:
    """What one cloth takes.

    Attributes:
        cloth: "main", "lining", ... as the pieces say.
        width: mm across the cloth.
        length: mm needed along it.
        pieces: every cut, where it lies.
        too_wide: names of pieces that do not fit across the cloth and are left out.
        too_long: whether it would be longer than `MOST_CLOTH`; then nothing is laid.
    """

    cloth: str
    width: float
    length: float
    pieces: tuple[LaidCut, ...]
    too_wide: tuple[str, ...] = ()
    too_long: bool = False

    @property
    def used(self) -> float:
        """Share of the cloth that lies under pieces."""
        area = sum(abs(_area(p.outline)) for p in self.pieces)
        return area / (self.width * self.length) if self.length else 0.0


def _area(points: Sequence[Point]) -> float:
    return sum(a.cross(b) for a, b in zip(points, (*points[1:], points[0]), strict=True)) / 2


def lays(
    pieces: Iterable[Piece], cut_lines: Mapping[str, Path], widths: Mapping[str, float]
) -> tuple[Lay, ...]:
    """A lay for every cloth whose width is known, in the order of first use."""
    by_cloth: dict[str, list[Piece]] = {}
    for piece in pieces:
        by_cloth.setdefault(piece.cut.cloth, []).append(piece)
    return tuple(
        lay_of(cloth, widths[cloth], of, cut_lines) for cloth, of in by_cloth.items() if cloth in widths
    )


def lay_of(cloth: str, width: float, pieces: Sequence[Piece], cut_lines: Mapping[str, Path]) -> Lay:
    """Lay every cut of the pieces on a cloth of that width (mm)."""
    cuts = [(p.name, shape) for p in pieces for shape in cut_shapes(p, cut_lines.get(p.name, p.outline))]
    fitting = [(n, s) for n, s in cuts if across(s) <= width + 1e-6]
    too_wide = tuple(dict.fromkeys(n for n, s in cuts if across(s) > width + 1e-6))
    if not fitting:
        return Lay(cloth, width, 0.0, (), too_wide)
    too_long = Lay(cloth, width, 0.0, (), too_wide, too_long=True)
    if any(_along(s) > MOST_CLOTH for _, s in fitting):
        return too_long
    columns = int(width / CELL + 1e-6)
    ways = _ways_up(list(dict.fromkeys(s for _, s in fitting)), columns)
    ready = [_cut(name, ways[shape]) for name, shape in fitting]
    first = sorted(ready, key=lambda c: (-c.along, -c.across))
    other = sorted(ready, key=lambda c: -c.along * c.across)
    length, places = _laid(first, columns, MOST_CLOTH)
    if other != first:
        length, places = min((length, places), _laid(other, columns, length), key=lambda found: found[0])
    if length >= MOST_CLOTH:
        return too_long
    return Lay(cloth, width, length, tuple(place.laid() for place in places), too_wide)


def cut_shapes(piece: Piece, line: Path) -> list[tuple[Point, ...]]:
    """The outline of each cut, grain upright: opened out at the fold, every second one of a pair turned over."""
    points = tuple(line.flatten(FLATNESS))
    fold = next((e for e in piece.edges if e.fold), None)
    if piece.cut.on_fold and fold is not None:
        points = _opened(points, fold.path.start, fold.path.end)
    way = piece.grain[1] - piece.grain[0] if piece.grain else Point(0.0, 1.0)
    turn = Transform.rotation(90.0 - way.angle, Point(0.0, 0.0))
    upright = tuple(map(turn.apply, points))
    over = tuple([Point(-x, y) for x, y in reversed(upright)])
    return [over if piece.cut.mirrored and i % 2 else upright for i in range(piece.cut.count)]


def _opened(points: Sequence[Point], start: Point, end: Point) -> tuple[Point, ...]:
    """A half and its mirror image over the fold as one outline; the corners on the fold are left out once each."""
    flip = Transform.reflection(start, end)
    along = (end - start).unit()
    ring = list(points[:-1] if points[0].distance(points[-1]) < 1e-6 else points)
    on_fold = [abs((p - start).cross(along)) < 0.05 for p in ring]
    if sum(on_fold) < 2:
        return tuple(points)
    count = len(ring)
    # Begin after the run of corners that lie on the fold, so that the half is one run from fold to fold.
    first = next((i for i in range(count) if on_fold[i] and not on_fold[(i + 1) % count]), 0)
    half = [ring[(first + i) % count] for i in range(count)]
    last = next(i for i in range(1, count) if on_fold[(first + i) % count])
    half = half[: last + 1]
    return (*half, *(flip.apply(p) for p in reversed(half[1:-1])))


def across(points: Sequence[Point]) -> float:
    """mm that corner points take across the cloth."""
    xs = [x for x, _ in points]
    return max(xs) - min(xs)


def _along(points: Sequence[Point]) -> float:
    ys = [y for _, y in points]
    return max(ys) - min(ys)


class _Way(NamedTuple):
    """A cut one way up, its frame's corner at (0, 0).

    Attributes:
        points: an array of n x 2 of its corner points, mm.
        cells: those it touches.
    """

    points: NDArray[np.float64]
    cells: CellShape


class _CutShape(NamedTuple):
    """A cut of a piece, both ways up the cloth."""

    name: str
    ways: tuple[_Way, _Way]
    along: float
    across: float


class _PlacedCut(NamedTuple):
    """A cut, one way up, with its corner on a cell."""

    cut: _CutShape
    way: _Way
    column: int
    row: int

    def laid(self) -> LaidCut:
        right, down = self.column * CELL, self.row * CELL
        return LaidCut(
            self.cut.name, tuple([Point(x + right, y + down) for x, y in self.way.points.tolist()])
        )


def _cut(name: str, ways: tuple[_Way, _Way]) -> _CutShape:
    wide, deep = ways[0].points.max(axis=0).tolist()
    return _CutShape(name, ways, deep, wide)


def _ways_up(shapes: Sequence[tuple[Point, ...]], columns: int) -> dict[tuple[Point, ...], tuple[_Way, _Way]]:
    """Each shape both ways up; their cells are worked out together, which is quicker than one by one."""
    arrays = [coordinates(shape) for shape in shapes]
    both = [each - each.min(axis=0) for array in arrays for each in (array, -array)]
    cells = shapes_of_outlines(both, CELL, columns)
    ways = [_Way(each, own) for each, own in zip(both, cells, strict=True)]
    return dict(zip(shapes, zip(ways[::2], ways[1::2], strict=True), strict=True))


def _laid(cuts: Sequence[_CutShape], columns: int, limit: float) -> tuple[float, list[_PlacedCut]]:
    """The length, and each cut as near to the cloth's beginning as there is room, either way up.

    The work is broken off where the length comes to `limit`.
    """
    stride = Grid(0.0, 0.0, CELL, columns, 0).stride
    taken, length = 0, 0.0
    laid: list[_PlacedCut] = []
    for cut in cuts:
        overlaps = Overlaps(taken, stride)
        ways = cut.ways if cut.ways[0].cells.rows != cut.ways[1].cells.rows else cut.ways[:1]
        places = [(_first_room(way.cells, overlaps, columns, stride), way) for way in ways]
        at, way = min(places, key=lambda p: (p[0] // stride * CELL + cut.along, p[0] % stride))
        row, column = divmod(at, stride)
        taken |= joined(way.cells.rows, stride) << at
        length = max(length, row * CELL + cut.along)
        laid.append(_PlacedCut(cut, way, column, row))
        if length >= limit:
            break
    return length, laid


def _first_room(cells: CellShape, overlaps: Overlaps, columns: int, stride: int) -> int:
    """The first place of the cloth, row by row, at which the cells do not meet any that are taken."""
    blocked = overlaps.blocked(cells)
    deep = blocked.bit_length() // stride + 2
    return first_of(rectangle(max(columns - cells.wide + 1, 1), deep, stride) & ~blocked)
