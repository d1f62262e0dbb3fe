"""Labels that have no room on their pieces, laid where the sheet is free anyway."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, floor, hypot, inf
from typing import NamedTuple

from catalogue.geometry import Box, Point, Transform
from catalogue.placing import Grid, Window, cells_of_box, first_of, joined, mark, smeared, thinned
from catalogue.sheets.marks import DIAMOND
from catalogue.sheets.outside import Aside
from catalogue.sheets.packing import Layout
from catalogue.sheets.shapes import CELL
from catalogue.sheets.tiles import Tile, TileGrid

_NEAR = (1, 2, 4)  # cells between a label and its piece, at most; the nearest first
_LONGEST = 40.0  # mm of a leader
_MOST = 12  # places looked at closely, spread over all there are
_STEP = 10.0  # mm between points along a piece's line
_OFF = 0.8  # mm between a label and its leader

PlacedLabel = tuple[Aside, Transform]
"""A label, and the movement that takes it to its place on the sheet."""

PieceCells = tuple[int, tuple[int, ...]]
"""The first row, and the cells of each row from there."""


class _Pages(NamedTuple):
    """The cells of the pages' own parts: all of them, and clear of what is laid on them."""

    whole: list[Window]
    clear: list[Window]


def lay_labels(
    asides: Sequence[Aside | None], layout: Layout, grid: TileGrid, squares: Sequence[Box]
) -> list[PlacedLabel | None]:
    """Labels near their pieces, each on one printed page and clear of all pieces, other labels and the squares.

    `asides` holds, for each item of the layout in order, its label, or None where it needs none laid. Returns each
    where it stands on the sheet, None where there is no room for it.
    """
    if not any(asides):
        return [None] * len(asides)
    taken = list(layout.taken)
    if layout.tiles and not grid.paper.roll:  # a roll is cut where the pieces end
        low = floor(grid.extent(layout.columns, layout.rows)[1] / CELL)
        taken += [0] * (low - len(taken))
    for square in squares:
        mark(taken, cells_of_box(square, CELL, outwards=True))
    pages = _Pages(
        [cells_of_box(grid.own(tile), CELL) for tile in layout.tiles],
        [cells_of_box(_off_joins(tile, layout, grid), CELL) for tile in layout.tiles],
    )
    found: list[PlacedLabel | None] = []
    for aside, move, own in zip(asides, layout.moves, layout.cells, strict=False):
        found.append(aside and _laid(aside, move, own, taken, pages))
    return found


def _off_joins(tile: Tile, layout: Layout, grid: TileGrid) -> Box:
    """A page's own part of the sheet without what other pages are laid on."""
    own, window = grid.own(tile), grid.window(tile)
    if Tile(tile.column + 1, tile.row) in layout.tiles:
        own = own._replace(right=window.left + grid.step_x - DIAMOND)
    if Tile(tile.column, tile.row + 1) in layout.tiles:
        own = own._replace(bottom=window.top + grid.step_y - DIAMOND)
    return own


def _laid(
    aside: Aside, move: Transform, own: PieceCells, taken: list[int], pages: _Pages
) -> PlacedLabel | None:
    """One label, level or read from the right, its cells taken; None where it has no room."""
    box = aside.box
    ways = (0.0, (box.width, box.height)), (-90.0, (box.height, box.width))
    places = [(turn, _Beside(aside, size, move, own, taken)) for turn, size in ways]
    for parts in (pages.clear, pages.whole):
        for turn, place in places:
            found = place.on_one(parts)
            if found is None:
                continue
            mark(taken, cells_of_box(found[0], CELL, outwards=True))
            back = Transform.rotation(-turn)
            corners = Box.around(back.apply(corner) for corner in found[0].corners)
            start, end = found[1]
            return aside._replace(
                box=corners, leader=(back.apply(start), back.apply(end))
            ), Transform.rotation(turn)
    return None


_Spot = tuple[Box, tuple[Point, Point]]
"""The room a label takes on the sheet, and its leader."""


class _Beside:
    """Where a label may stand beside a piece that lies on the sheet."""

    def __init__(
        self, aside: Aside, size: tuple[float, float], move: Transform, own: PieceCells, taken: Sequence[int]
    ) -> None:
        self._size, self._own, self._taken = size, own, taken
        self._wide, self._tall = ceil(size[0] / CELL), ceil(size[1] / CELL)
        self._points = list(_along([move.apply(p) for p in aside.piece.flatten(0.5)]))
        self._room = Box.around(self._points)
        (top, rows), grown = own, _NEAR[-1]
        whole = 0
        for row in rows:
            whole |= row
        # The part of the sheet to look at.
        self._left = max(first_of(whole) - self._wide - grown, 0)
        self._top = max(top - self._tall - grown, 0)
        self._low = min(top + len(rows) + self._tall + grown, len(taken))
        self._across = whole.bit_length() + self._wide + grown - self._left
        self._stride = Grid(0.0, 0.0, CELL, self._across, 0).stride
        self._mine = joined(
            [
                rows[r - top] >> self._left if 0 <= r - top < len(rows) else 0
                for r in range(self._top, self._low)
            ],
            self._stride,
        )

    def on_one(self, pages: Sequence[Window]) -> _Spot | None:
        """Wholly on one of the pages, where its leader is shortest; or None."""
        spots = 0
        for page in pages:
            spots |= self._on_page(page)
        return self._near(spots)

    def _fitting(self, free: Sequence[int]) -> int:
        """Every place from which the label lies on free cells alone."""
        return thinned(thinned(joined(free, self._stride), self._wide, 1), self._tall, self._stride)

    def _near(self, spots: int) -> _Spot | None:
        for near in _NEAR if spots else ():
            reach = smeared(self._mine, self._wide + 2 * near, 1) << near
            reach = smeared(reach, self._tall + 2 * near, self._stride) << near * self._stride
            found = self._shortest(spots & reach)
            if found:
                return found
        return None

    def _on_page(self, page: Window) -> int:
        """Every place where the label would lie on nothing and wholly on a page."""
        left, right, top, bottom = page
        first, last = max(left - self._left, 0), min(right + 1 - self._left, self._across)
        low = min(bottom + 1, self._low)
        if last - first < self._wide or low - max(top, self._top) < self._tall:
            return 0
        part = (1 << last) - (1 << first)
        rows = range(self._top, self._low)
        return self._fitting([part & ~(self._taken[r] >> self._left) if top <= r < low else 0 for r in rows])

    def _shortest(self, spots: int) -> _Spot | None:
        found: list[tuple[float, int, _Spot]] = []
        step = max(spots.bit_count() // _MOST, 1)
        for number in range(spots.bit_count()):
            at = first_of(spots)
            spots &= spots - 1
            if number % step:
                continue
            row, column = divmod(at, self._stride)
            label = self._label((column + self._left) * CELL, (row + self._top) * CELL)
            length = label[1][0].distance(label[1][1])
            if length <= _LONGEST:
                found.append((length, at, label))
        return next((label for _, _, label in sorted(found) if self._is_clear(label[1])), None)

    def _label(self, left: float, top: float) -> _Spot:
        """The label with its cells' corner there, as near to the piece as they let it be, and its leader."""
        room, (wide, tall) = self._room, self._size
        spare_x, spare_y = self._wide * CELL - wide, self._tall * CELL - tall
        if room.centre.x > left + self._wide * CELL / 2:
            left += spare_x
        if room.centre.y > top + self._tall * CELL / 2:
            top += spare_y
        box = Box(left, top, left + wide, top + tall)
        foot = _nearest(self._points, box)
        start = Point(
            min(max(foot.x, box.left - _OFF), box.right + _OFF),
            min(max(foot.y, box.top - _OFF), box.bottom + _OFF),
        )
        inward = room.centre - foot
        way = hypot(*inward) or 1.0
        end = foot + inward * (min(3.0, 0.3 * min(room.width, room.height)) / way)
        return box, (start, end)

    def _is_clear(self, leader: tuple[Point, Point]) -> bool:
        """Whether a leader crosses nothing but its own piece."""
        (top, rows), (a, b) = self._own, leader
        count = ceil(a.distance(b) / 2.0) + 1
        for i in range(count + 1):
            x, y = a.mix(b, i / count)
            column, row = floor(x / CELL), floor(y / CELL)
            if not (0 <= row < len(self._taken) and column >= 0):
                return False
            mine = rows[row - top] if 0 <= row - top < len(rows) else 0
            if self._taken[row] & ~mine & 1 << column:
                return False
        return True


def _nearest(points: Sequence[Point], box: Box) -> Point:
    """The point nearest to a box."""
    left, top, right, low = box
    best, found = inf, points[0]
    for point in points:
        x, y = point
        across = left - x if x < left else x - right if x > right else 0.0
        down = top - y if y < top else y - low if y > low else 0.0
        apart = across * across + down * down
        if apart < best:
            best, found = apart, point
    return found


def _along(points: Sequence[Point]) -> Iterator[Point]:
    """The points of a line, and more where they are far apart."""
    yield points[0]
    for a, b in pairwise(points):
        count = ceil(a.distance(b) / _STEP)
        yield from (a.mix(b, i / count) for i in range(1, count + 1))
