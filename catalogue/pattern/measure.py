"""Measuring a piece: edges as they are sewn, with darts closed and pleats folded."""

from __future__ import annotations

from collections.abc import Iterable

from catalogue.geometry import Path, Point
from catalogue.pattern.piece import Dart, Piece

ON_EDGE = 0.5
"""mm a point may lie off an edge and still count as on it: half a pencil line and a ruler's error."""


def mouth(piece: Piece, dart: Dart) -> tuple[float, float]:
    """Where a dart opens at its edge: mm from the edge's start to its first and second leg."""
    path = piece.edge(dart.edge).path
    first = place_on(path, dart.legs[0])
    second = place_on(path, dart.legs[1])
    return (first, second) if first <= second else (second, first)


def place_on(path: Path, at: Point) -> float:
    """mm from the path's start to the place nearest to `at`."""
    joint = joint_at(path, at)
    return path.nearest(at)[0] if joint is None else joint


def joint_at(path: Path, at: Point) -> float | None:
    """mm from the path's start to the first joint that is exactly `at`; looking there first saves a search."""
    for i, segment in enumerate(path.segments):
        if segment.start == at:
            return path.marks[i]
    return path.length if path.end == at else None


def gaps(piece: Piece, edge: str) -> list[tuple[float, float]]:
    """Stretches of an edge that vanish in sewing (dart mouths, folded pleats), in order along it."""
    found = [mouth(piece, d) for d in piece.darts if d.edge == edge and d.far_apex is None]
    path = piece.edge(edge).path
    for pleat in piece.pleats:
        if pleat.edge == edge:
            s0, s1 = place_on(path, pleat.mouth[0]), place_on(path, pleat.mouth[1])
            found.append((min(s0, s1), max(s0, s1)))
    return sorted(found)


def sewn_parts(piece: Piece, edge: str) -> list[Path]:
    """The parts of an edge that are seen once its darts are sewn and its pleats folded, in order."""
    return parts_outside(piece.edge(edge).path, gaps(piece, edge))


def parts_outside(path: Path, spans: Iterable[tuple[float, float]]) -> list[Path]:
    """What is left of a path without some stretches of it, in order; the stretches, mm along it, are sorted."""
    parts, at = [], 0.0
    for s0, s1 in spans:
        if s0 - at > 1e-6:
            parts.append(path.between(at, s0))
        at = max(at, s1)
    if path.length - at > 1e-6:
        parts.append(path.between(at, path.length))
    return parts


def sewn_length(piece: Piece, edge: str) -> float:
    """Length of an edge in mm with its darts closed and its pleats folded. Raises KeyError for no such edge."""
    return sum(p.length for p in sewn_parts(piece, edge))
