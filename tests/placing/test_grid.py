"""Cells of a grid against shapely, and room-finding against trying every place."""

from __future__ import annotations

from math import floor
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon, box
from shapely.geometry import Point as ShapelyPoint

from catalogue.geometry import Box, Point
from catalogue.placing import (
    Grid,
    Window,
    any_room,
    cells_inside,
    cells_of_box,
    cells_stepped,
    cells_touched,
    free_in,
    joined,
    mark,
    nearest_room,
    row_runs,
    smeared,
    thinned,
    touch_cells,
    window_round,
)
from tests.extent import examples

GRID = Grid(-7.0, 3.0, 5.0, 24, 18)
coordinates = st.tuples(st.floats(-20, 130), st.floats(-10, 110)).map(lambda p: Point(*p))


def cell_box(column: int, row: int) -> Polygon:
    x, y = GRID.left + column * GRID.cell, GRID.top + row * GRID.cell
    return box(x, y, x + GRID.cell, y + GRID.cell)


@settings(max_examples=examples(20))
@given(st.lists(coordinates, min_size=2, max_size=6), st.sampled_from([0.0, 2.5]))
def test_touched_cells_are_never_too_few(points: list[Point], grown: float) -> None:
    rows = cells_touched(points, GRID, grown)
    line = LineString(points)
    for row in range(GRID.rows):
        for column in range(GRID.columns):
            distance = line.distance(cell_box(column, row))
            if distance < grown - 1e-6 or (grown == 0 and line.crosses(cell_box(column, row).buffer(-1e-6))):
                assert rows[row] >> column & 1
            if distance > grown * 2**0.5 + 1e-6:
                assert not rows[row] >> column & 1


@settings(max_examples=examples(20))
@given(st.lists(coordinates, min_size=2, max_size=6), st.sampled_from([0.0, 2.5, 7.0]))
def test_cells_in_a_window_are_those_touched_there(points: list[Point], grown: float) -> None:
    window = Window(5, 17, 3, 12)
    whole, some = cells_touched(points, GRID, grown), [1] * GRID.rows
    touch_cells(some, points, GRID, grown, window)
    assert all(bits & 1 for bits in some)  # what was there before stays
    mask = (2 << window.right) - (1 << window.left)
    for row in range(window.top, window.bottom + 1):
        assert some[row] & mask == whole[row] & mask


def test_a_window_round_cells_is_no_larger_than_they_need() -> None:
    assert window_round([0, 0b0110, 0, 0b1100, 0]) == Window(1, 3, 1, 3)
    left, right, top, bottom = window_round([0, 0])
    assert right < left and bottom < top


@settings(max_examples=examples(20))
@given(st.lists(coordinates, min_size=3, max_size=7, unique=True))
def test_inside_cells_have_their_middle_inside(points: list[Point]) -> None:
    polygon = Polygon(points)
    if not polygon.is_valid:
        return
    rows = cells_inside(points, GRID)
    for row in range(GRID.rows):
        for column in range(GRID.columns):
            x, y = GRID.left + (column + 0.5) * GRID.cell, GRID.top + (row + 0.5) * GRID.cell
            middle = ShapelyPoint(x, y)
            if polygon.exterior.distance(middle) > 1e-6:
                assert bool(rows[row] >> column & 1) == polygon.contains(middle)


def test_runs_of_a_row() -> None:
    assert list(row_runs(0b1101100)) == [(2, 2), (5, 2)]
    assert list(row_runs(0)) == []


@given(st.integers(0, 2**40 - 1), st.integers(1, 9), st.integers(1, 4))
def test_smearing_and_thinning(bits: int, count: int, step: int) -> None:
    for place in range(40):
        cells = [bits >> (place + i * step) & 1 for i in range(count)]
        assert smeared(bits, count, step) >> place & 1 == max(cells)
        assert thinned(bits, count, step) >> place & 1 == min(cells)


def test_the_nearest_room_is_the_nearest_of_all() -> None:
    random = Random(7)
    grid = Grid(0.0, 0.0, 1.0, 14, 11)
    for _ in range(200):
        free = [random.getrandbits(14) | random.getrandbits(14) for _ in range(11)]
        wide, tall = random.randint(1, 4), random.randint(1, 4)
        near = Point(random.uniform(0, 14), random.uniform(0, 11))
        places = [
            (c, r)
            for r in range(11 - tall + 1)
            for c in range(14 - wide + 1)
            if all(free[r + j] >> (c + i) & 1 for i in range(wide) for j in range(tall))
        ]
        found = nearest_room(joined(free, grid.stride), grid, wide, tall, near)
        assert (found is not None) == bool(places)
        assert any_room(joined(free, grid.stride), grid, wide, tall) == bool(places)
        if found is not None:
            assert found in places

            def distance(
                place: tuple[int, int], near: Point = near, size: tuple[int, int] = (wide, tall)
            ) -> float:
                return (place[0] + size[0] / 2 - near.x) ** 2 + (place[1] + size[1] / 2 - near.y) ** 2

            best = min(distance(p) for p in places)
            assert distance(found) <= (best**0.5 + 1.0) ** 2  # columns are rounded to whole cells


def test_joined_rows_lie_a_stride_apart() -> None:
    assert joined([0b1, 0b10, 0b11], 8) == 0b1 | 0b10 << 8 | 0b11 << 16


def test_cells_of_a_box_lie_in_it_or_touch_it() -> None:
    box = Box(4.0, 10.0, 31.0, 20.0)
    assert cells_of_box(box, 10.0) == Window(1, 2, 1, 1)
    assert cells_of_box(box, 10.0, outwards=True) == Window(0, 3, 1, 1)


def test_marked_cells_are_no_longer_free() -> None:
    rows = [0, 0, 0b1]
    mark(rows, Window(2, 4, 1, 9))
    assert rows == [0, 0b11100, 0b11101]
    assert free_in(rows, Window(1, 3, 0, 3)) == [0b111, 0b001, 0b001, 0b111]


# None lies where cells meet, so that rounding does not tell in which of two it is.
in_cells = st.integers(-200, 900).map(lambda n: (n + 0.5) / 64)


@given(st.lists(st.tuples(in_cells, in_cells), min_size=2, max_size=5))
def test_cells_stepped_are_some_of_those_touched_and_join_the_ends(points: list[tuple[float, float]]) -> None:
    rows = [0] * 10
    inside = cells_stepped(points, rows, 12)
    touched = cells_touched(points, Grid(0.0, 0.0, 1.0, 12, 10), 1e-9)
    assert all(bits & ~near == 0 for bits, near in zip(rows, touched, strict=True))
    ends = [(floor(x), floor(y)) for x, y in points]
    within = [(x, y) for x, y in ends if 0 <= x < 12 and 0 <= y < 10]
    assert all(rows[y] >> x & 1 for x, y in within)
    if len(within) < len(ends):
        assert not inside
