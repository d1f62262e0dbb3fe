"""How bad it is for something to lie on each cell of a grid."""

from __future__ import annotations

from catalogue.placing.bits import add_to


class Costs:
    """A cost for each cell, at first 0: whole numbers, kept as bit planes (see `bits.counts`)."""

    def __init__(self) -> None:
        self._planes: list[int] = []

    def add(self, cells: int, cost: int) -> None:
        """Make each of the cells (rows joined) worse by `cost`, which is at least 0."""
        for i in range(cost.bit_length()):
            if cost >> i & 1:
                add_to(self._planes, cells, i)

    def of(self, cells: int, at: int = 0) -> int:
        """The costs of all the cells together, each `at` bits further on than it is set."""
        total = 0
        for i, plane in enumerate(self._planes):
            total += ((plane >> at) & cells).bit_count() << i
        return total
