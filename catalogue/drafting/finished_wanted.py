"""Finished measurements as a style asks for them, before they are taken off the pieces."""

from __future__ import annotations

from dataclasses import dataclass

from catalogue.findings import Place
from catalogue.geometry import Path, Point
from catalogue.people.measurements import Measurement


@dataclass(frozen=True, slots=True)
class Level:
    """Where a girth is measured, as the style says it: a point's name, a point, a line, or an edge and a depth (mm)."""

    text: str
    place: Place
    piece: str = ""
    at: Point | None = None
    line: Path | None = None
    edge: str = ""
    depth: float = 0.0


@dataclass(frozen=True, slots=True)
class EdgeStretch:
    """An edge that a length is measured along ("piece", "edge"), whole or between two points."""

    piece: str
    edge: str
    start: Point | None = None
    end: Point | None = None


@dataclass(frozen=True, slots=True)
class FinishedWanted:
    """A finished measurement that is asked for, lengths in mm.

    Attributes:
        claimed: what the formula says; None without one.
        levels, stretches: where it is measured, round the garment or along edges; neither for a formula alone.
        overlap: what laps over where it is closed.
        least, most: the ease that the style wants; None where it does not say.
        block: the title of the block that asks for it, "" for the style itself.
        fitted: the pieces were altered at a fitting since; more ease than usual is then meant.
        meant: the style stated both limits of the ease before that.
    """

    name: str
    place: Place
    claimed: float | None = None
    levels: tuple[Level, ...] = ()
    stretches: tuple[EdgeStretch, ...] = ()
    overlap: float = 0.0
    body: float | None = None
    measurement: Measurement | None = None
    least: float | None = None
    most: float | None = None
    block: str = ""
    fitted: bool = False
    meant: bool = False
