"""Many outlines as cells in one stroke, against each by itself, and against shapely."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from shapely import Point, Polygon, box

from catalogue.geometry.arrays import coordinates
from catalogue.placing import Grid, cells_inside, cells_touched, shape_of
from catalogue.placing.outlines import shapes_of_outlines

CELL = 10.0
COLUMNS = 12

on_cells = st.integers(0, 20).map(lambda n: 5.0 * n)
anywhere = st.floats(0, 110, allow_nan=False).map(lambda v: round(v, 3))


def outlines_of(at: st.SearchStrategy[float]) -> st.SearchStrategy[list[tuple[float, float]]]:
    points = st.lists(st.tuples(at, at), min_size=3, max_size=9).filter(
        lambda found: all(max(p[n] for p in found) > min(p[n] for p in found) for n in (0, 1))
    )
    return points.map(
        lambda found: [(x - min(p[0] for p in found), y - min(p[1] for p in found)) for x, y in found]
    )


@given(st.lists(outlines_of(on_cells) | outlines_of(anywhere), min_size=1, max_size=4))
def test_each_outline_has_the_cells_it_has_alone(outlines: list[list[tuple[float, float]]]) -> None:
    made = shapes_of_outlines([coordinates(points) for points in outlines], CELL, COLUMNS)
    for points, shape in zip(outlines, made, strict=True):
        grid = Grid(0.0, 0.0, CELL, COLUMNS, int(max(y for _, y in points) / CELL - 1e-9) + 1)
        touched = cells_touched([*points, points[0]], grid)
        rows = [a | b for a, b in zip(touched, cells_inside(points, grid), strict=True)]
        alone = shape_of(rows, max(bits.bit_length() for bits in rows))
        assert shape.rows == alone.rows
        assert sorted(shape.bars) == sorted(alone.bars)
        assert (shape.lengths, shape.wide, shape.tall) == (alone.lengths, alone.wide, alone.tall)


def test_a_slanting_piece_has_the_cells_that_shapely_finds_it_in() -> None:
    points = [(13.0, 0.0), (97.0, 31.0), (64.0, 88.0), (41.0, 52.0), (0.0, 71.0)]
    [shape] = shapes_of_outlines([coordinates(points)], CELL, COLUMNS)
    piece = Polygon(points)
    for row, bits in enumerate(shape.rows):
        for column in range(COLUMNS):
            cell = box(CELL * column, CELL * row, CELL * (column + 1), CELL * (row + 1))
            assert bool(bits >> column & 1) == (cell.intersects(piece) and not cell.touches(piece))
    middle = Point(50.0, 40.0)
    assert piece.contains(middle)
    assert shape.rows[4] >> 5 & 1


def test_what_lies_beyond_the_last_column_is_left_out() -> None:
    [shape] = shapes_of_outlines([coordinates([(0.0, 0.0), (95.0, 0.0), (95.0, 9.0), (0.0, 9.0)])], CELL, 6)
    assert shape.rows == (0b111111,)
