"""Sets of cells as whole numbers, one bit for each cell, so that every place is looked at in one stroke.

A row is a number whose bit x is the cell in column x. Rows joined are one number: row y begins at bit y * stride. A
stride is a multiple of eight, so that rows are joined as bytes, and larger than the row is wide, so that what is
shifted beyond a row's end meets a free bit before the next row begins.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence


def joined(rows: Sequence[int], stride: int) -> int:
    """Rows as one number."""
    width = stride // 8
    return int.from_bytes(b"".join([row.to_bytes(width, "little") for row in rows]), "little")


def repeated(bits: int, times: int, stride: int) -> int:
    """The same bits again and again, `stride` apart."""
    return int.from_bytes(bits.to_bytes(stride // 8, "little") * times, "little")


def rectangle(wide: int, tall: int, stride: int) -> int:
    """The first `wide` cells of each of the first `tall` rows, rows joined."""
    return repeated((1 << wide) - 1, tall, stride)


def shifted(bits: int, by: int) -> int:
    """The bits further up, or down where `by` is negative."""
    return bits << by if by >= 0 else bits >> -by


def first_of(bits: int) -> int:
    """The number of the lowest bit set; -1 for none."""
    return (bits & -bits).bit_length() - 1


def row_runs(bits: int) -> Iterator[tuple[int, int]]:
    """(first, count) of each run of cells set in one row."""
    at = 0
    while bits:
        skip = (bits & -bits).bit_length() - 1
        bits >>= skip
        at += skip
        count = (~bits & (bits + 1)).bit_length() - 1
        yield at, count
        bits >>= count
        at += count


def smeared(bits: int, count: int, step: int) -> int:
    """Every cell from which one of the `count` cells at 0, step, 2 step ... further on is set."""
    have = 1
    while have < count:
        more = min(have, count - have)
        bits |= bits >> (more * step)
        have += more
    return bits


def thinned(bits: int, count: int, step: int) -> int:
    """Every cell from which all of the `count` cells at 0, step, 2 step ... further on are set."""
    have = 1
    while have < count:
        more = min(have, count - have)
        bits &= bits >> (more * step)
        have += more
    return bits


def spread(bits: int, count: int, step: int) -> int:
    """Every cell that lies 0, step, 2 step ... further on than one set, `count` in all."""
    have = 1
    while have < count:
        more = min(have, count - have)
        bits |= bits << (more * step)
        have += more
    return bits


def add_to(planes: list[int], bits: int, first: int = 0) -> None:
    """Add 2 ** `first` to the counts of the cells set; plane i of the counts holds bit i of each."""
    if bits and first > len(planes):
        planes += [0] * (first - len(planes))
    for i in range(first, len(planes)):
        plane = planes[i]
        planes[i] = plane ^ bits
        bits &= plane
        if not bits:
            return
    if bits:
        planes.append(bits)


def counts(sets: Sequence[int]) -> list[int]:
    """In how many of the sets each cell is: number i of the answer holds bit i of the counts."""
    planes: list[int] = []
    for bits in sets:
        add_to(planes, bits)
    return planes


def fewest(planes: Sequence[int], cells: int) -> tuple[int, int]:
    """The lowest count at any of the cells, and the cells that have it."""
    lowest = 0
    for i in range(len(planes) - 1, -1, -1):
        without = cells ^ (cells & planes[i])
        if without:
            cells = without
        else:
            lowest |= 1 << i
    return lowest, cells
