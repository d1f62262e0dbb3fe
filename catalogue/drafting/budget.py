"""The bound on the work of one draft: a style from a stranger ends soon, whatever it says."""

from __future__ import annotations

from dataclasses import dataclass, field

from catalogue.drafting.messages import Messages
from catalogue.findings import Finding, Place, Trouble
from catalogue.pattern import Piece

BUDGET = 200_000
"""Work in one draft, a plain phrase counting as one and geometry by its size (5 to 10 µs each). A style of forty steps
with solved values needs a fiftieth; one with thirty cuts, darts moved, facings and a lining an eighth."""

MOST_SEGMENTS = 300
"""Straight and curved parts of one line: more than the longest frill has."""


class OutOfBudget(Trouble):
    """The style asked for more work than any draft needs; nothing after it is tried."""


@dataclass(slots=True)
class Budget:
    """Work done so far, and the place of the phrase it was last done for."""

    messages: Messages
    spent: int = 0
    last: Place = field(default_factory=lambda: Place(""))

    def spend(self, place: Place, work: int = 1) -> None:
        """Count work about to be done. Raises OutOfBudget for a style that asks for too much."""
        self.spent += work
        self.last = place
        if self.spent > BUDGET:
            raise OutOfBudget(
                Finding(
                    "too-much-work",
                    "This style asks for more work than any draft needs.",
                    place,
                    "Are there very long curves, or more lines under a “find” than it needs?",
                    source=self.messages.source_line(place),
                )
            )

    def spend_on(self, piece: Piece, times: float = 1.0) -> None:
        """Count the work of cutting a piece of paper apart and putting it together again, `times` over."""
        size = len(piece.outline.segments)
        drawn = len(piece.points) + len(piece.marks) + len(piece.lines) + len(piece.notches)
        both = size * drawn
        work = 400 + 5 * size + 40 * len(piece.lines) + 2 * both * (1 + both / 3000)
        self.spend(self.last, int(times * work))
