"""The trace of a draft in the making: what each step drew, and what it leaves to be read."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from catalogue.drafting.model import Check, Finished, Item, Seam, Shape, Working


@dataclass(slots=True)
class Trace:
    """What was drawn, worked out and found, step by step.

    Attributes:
        step: the number of the step being drafted; workings and operations are its own.
        drawn: how many items there have been, for their ids.
        silent: nobody will read the workings, so they are not kept.
        holding: whether each condition of the prose that was asked for holds, by its index.
    """

    step: int = 0
    items: list[Item] = field(default_factory=list)
    drawn: int = 0
    workings: list[Working] = field(default_factory=list)
    operations: list[str] = field(default_factory=list)
    checks: list[Check] = field(default_factory=list)
    seams: list[Seam] = field(default_factory=list)
    finished: list[Finished] = field(default_factory=list)
    silent: bool = False
    holding: dict[int, bool] = field(default_factory=dict)

    def begin(self, step: int) -> None:
        """Turn to a new step."""
        self.step = step
        self.workings, self.operations = [], []

    def draw(self, name: str, kind: str, shape: Shape, paper: str) -> None:
        """Record something drawn in this step; a guide is seen in this step only."""
        gone = self.step if kind == "guide" else None
        self.drawn += 1
        self.items.append(Item(f"i{self.drawn}", name, kind, shape, paper, self.step, gone))

    def remove_piece(self, name: str) -> None:
        """Record that the piece of this name is there no more; one drawn in this very step is forgotten."""
        for i in range(len(self.items) - 1, -1, -1):
            item = self.items[i]
            if item.kind == "piece" and item.name == name and item.gone is None:
                if item.born == self.step:
                    del self.items[i]
                else:
                    self.items[i] = replace(item, gone=self.step)
                return
