"""Upright boxes around shapes."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import NamedTuple

from catalogue.geometry.point import GeometryError, Point


class Box(NamedTuple):
    """An upright box, mm; `top` is the smaller y, since y runs down."""

    left: float
    top: float
    right: float
    bottom: float

    @staticmethod
    def around(points: Iterable[Point]) -> Box:
        """The smallest box around some points. Raises GeometryError when there are none."""
        found = list(points)
        if not found:
            raise GeometryError("no points to put a box around")
        xs = [p[0] for p in found]
        ys = [p[1] for p in found]
        return Box(min(xs), min(ys), max(xs), max(ys))

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.bottom - self.top

    @property
    def centre(self) -> Point:
        return Point((self.left + self.right) / 2, (self.top + self.bottom) / 2)

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Clockwise on paper from the top left."""
        left, top, right, bottom = self
        return Point(left, top), Point(right, top), Point(right, bottom), Point(left, bottom)

    def union(self, other: Box) -> Box:
        return Box(
            min(self.left, other.left),
            min(self.top, other.top),
            max(self.right, other.right),
            max(self.bottom, other.bottom),
        )

    def grown(self, mm: float) -> Box:
        """The box with each side moved out by `mm`."""
        return Box(self.left - mm, self.top - mm, self.right + mm, self.bottom + mm)

    def contains(self, other: Point | Box) -> bool:  # borders count as inside
        if isinstance(other, Box):
            return (
                self.left <= other.left
                and other.right <= self.right
                and self.top <= other.top
                and other.bottom <= self.bottom
            )
        return self.left <= other[0] <= self.right and self.top <= other[1] <= self.bottom

    def overlaps(self, other: Box) -> bool:
        """Whether the boxes share at least a border point."""
        return self[0] <= other[2] and other[0] <= self[2] and self[1] <= other[3] and other[1] <= self[3]

    def distance(self, point: Point) -> float:
        """How far outside the box a point lies, mm; 0 inside."""
        across = max(self.left - point[0], 0.0, point[0] - self.right)
        down = max(self.top - point[1], 0.0, point[1] - self.bottom)
        return math.hypot(across, down)


def union(boxes: Iterable[Box]) -> Box | None:
    """The box around boxes; None for none."""
    whole: Box | None = None
    for box in boxes:
        whole = box if whole is None else whole.union(box)
    return whole
