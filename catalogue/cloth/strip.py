"""A strip of cloth that shapes are placed on: what is placed, and where it lies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from catalogue.geometry import Point


@dataclass(frozen=True, slots=True)
class Stone:
    """A shape to place.

    Attributes:
        points: its outline, mm, with the room that it needs about it.
        turned: the same after half a turn, or () where it must not be turned.
        first_column: it must lie at the very left of the strip, unturned.
        anchor: the point of `points` that must lie on a whole repeat; `turned_anchor` the one of `turned`.
        anchored_along: whether along the strip too, not across it alone.
    """

    points: tuple[Point, ...]
    turned: tuple[Point, ...] = ()
    first_column: bool = False
    anchor: Point | None = None
    turned_anchor: Point | None = None
    anchored_along: bool = True


class StonePlace(NamedTuple):
    """Where a shape was placed: whether turned, and what to add to its points."""

    turned: bool
    by: Point


class FilledStrip(NamedTuple):
    """Where each shape lies, in the order they were given in, and the length of strip that they take.

    The spot of a shape that has no place across the strip is None.
    """

    length: float
    spots: tuple[StonePlace | None, ...]
