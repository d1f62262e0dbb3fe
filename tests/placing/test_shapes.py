"""Shapes as cells, against trying every cell one by one."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from catalogue.placing import (
    Overlaps,
    first_of,
    half_turned,
    joined,
    quarter_turned,
    rectangle,
    repeated,
    shape_of,
    shifted,
    spread,
)

WIDE = 7
STRIDE = 24
rows = st.lists(st.integers(1, 2**WIDE - 1), min_size=1, max_size=6)


def cells(found: tuple[int, ...] | list[int]) -> set[tuple[int, int]]:
    return {(c, r) for r, bits in enumerate(found) for c in range(bits.bit_length()) if bits >> c & 1}


@given(rows)
def test_bars_are_the_cells_each_once(given_rows: list[int]) -> None:
    shape = shape_of(given_rows, WIDE)
    covered = [
        (c, r)
        for row, first, count, tall in shape.bars
        for r in range(row, row + tall)
        for c in range(first, first + count)
    ]
    assert len(covered) == len(set(covered))
    assert set(covered) == cells(given_rows)
    assert shape.lengths == tuple(sorted({count for _, _, count, _ in shape.bars}))


@given(rows)
def test_turning_moves_every_cell(given_rows: list[int]) -> None:
    shape, tall = shape_of(given_rows, WIDE), len(given_rows)
    # Clockwise with y down: what was at the top is at the right.
    quarter = quarter_turned(shape)
    assert cells(quarter.rows) == {(tall - 1 - r, c) for c, r in cells(given_rows)}
    assert (quarter.wide, quarter.tall) == (tall, WIDE)
    half = half_turned(shape)
    assert cells(half.rows) == {(WIDE - 1 - c, tall - 1 - r) for c, r in cells(given_rows)}
    assert sorted(half.bars) == sorted(shape_of(half.rows, WIDE).bars)
    assert quarter_turned(quarter).rows == half.rows


@given(rows, rows, st.lists(st.integers(0, 2**20 - 1), min_size=12, max_size=12))
def test_blocked_places_are_those_where_a_cell_is_taken(a: list[int], b: list[int], taken: list[int]) -> None:
    overlaps = Overlaps(joined(taken, STRIDE), STRIDE)
    for given_rows in (a, b):  # the second look uses what the first found out
        blocked = overlaps.blocked(shape_of(given_rows, WIDE))
        for y in range(12):
            for x in range(20 - WIDE + 1):
                meets = any(bits << x & taken[y + r] for r, bits in enumerate(given_rows) if y + r < 12)
                assert bool(blocked >> (y * STRIDE + x) & 1) == meets


def test_rows_and_rectangles() -> None:
    assert rectangle(3, 2, 8) == 0b111 | 0b111 << 8 == repeated(0b111, 2, 8)
    assert first_of(0b101000) == 3
    assert first_of(0) == -1
    assert shifted(0b100, 2) == 0b10000
    assert shifted(0b100, -2) == 0b1
    assert spread(0b1, 3, 2) == 0b10101
