"""Walking seams: two edges laid against each other from their start, as they are sewn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from catalogue.pattern.measure import sewn_length
from catalogue.pattern.piece import Piece

TOLERANCE = 1.0
"""mm that two edges sewn together may differ by when nothing else is said: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Walked:
    """Lengths in mm as sewn; `ease` is the first less the second."""

    first_length: float
    second_length: float

    @property
    def ease(self) -> float:
        return self.first_length - self.second_length


def walk(pieces: Mapping[str, Piece], first: Sequence[str], second: Sequence[str]) -> Walked:
    """Walk edges named "piece.edge", each side one or several in a row. Raises KeyError for an unknown one."""

    def total(names: Sequence[str]) -> float:
        return sum(sewn_length(pieces[p], e) for p, _, e in (n.partition(".") for n in names))

    return Walked(total(first), total(second))
