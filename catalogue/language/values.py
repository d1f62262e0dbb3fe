"""Values of the drafting language: numbers with a unit, and the shapes drawn on paper."""

from __future__ import annotations

from dataclasses import dataclass

from catalogue.geometry import Path, Point


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its dimension.

    Attributes:
        value: in millimetres to the `power`, in degrees for an angle, plain for a number.
        power: 0 for numbers and angles, 1 for lengths, 2 for areas (areas appear only inside a formula).
        angle: True for an angle in degrees.
    """

    value: float
    power: int = 0
    angle: bool = False

    @property
    def is_length(self) -> bool:
        return self.power == 1

    @property
    def is_number(self) -> bool:
        return self.power == 0 and not self.angle

    @property
    def kind(self) -> str:
        """In the reader's words: "a length", "a number", "an angle", "an area"."""
        if self.angle:
            return "an angle"
        return {0: "a number", 1: "a length", 2: "an area"}.get(self.power, "a power of a length")


@dataclass(frozen=True, slots=True)
class Word:
    """A choice of words ("full"), or yes and no."""

    text: str


Value = Quantity | Point | Path | Word


def length(mm: float) -> Quantity:
    return Quantity(mm, 1)


def number(value: float) -> Quantity:
    return Quantity(value)


def angle(degrees: float) -> Quantity:
    return Quantity(degrees, 0, True)
