"""What a piece consists of for other machines: lines and points by what they are for, without lettering."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from catalogue.geometry import Path, Point, crossings
from catalogue.pattern import Dart, Mark, Piece
from catalogue.pattern.darts import drill_holes

NOTCH_APART = 3.0
"""mm between the ticks of a double or triple notch."""
_SAME = 1.0  # mm from a dart's leg within which a notch marks it
_FURTHEST = 150.0  # mm beyond a seam that a cutting line is looked for


@dataclass(frozen=True, slots=True)
class Tick:
    """One tick of a notch: from the cutting line to the seam line (the same point where there is no allowance).

    `inward` is the unit direction in which it may go on into the piece.
    """

    at_cut: Point
    at_seam: Point
    inward: Point


@dataclass(frozen=True, slots=True)
class Parts:
    """The lines and points of a piece, as drafted, in mm, y down.

    Attributes:
        cut: closed; the seam line itself where there is no allowance.
        seam: the whole seam line, closed.
        folds: edges that lie on the fold of the cloth.
        inner: fold, stitch, placement and guide lines, dart legs, buttonholes, each with its kind.
        drills: places to pierce: near dart points (as `pattern.darts.drill_holes`), drill holes, ends of zips, buttons,
            each with its kind.
    """

    cut: Path
    seam: Path
    folds: tuple[Path, ...]
    ticks: tuple[Tick, ...]
    grain: Path | None
    inner: tuple[tuple[str, Path], ...]
    drills: tuple[tuple[str, Point], ...]


def parts_of(piece: Piece, cut_line: Path | None) -> Parts:
    """A piece taken apart; `cut_line` is its cutting line, None where there is none."""
    seam = piece.outline
    cut = cut_line or seam
    inner = [(line.kind, line.path) for line in piece.lines]
    drills: list[tuple[str, Point]] = []
    for dart in piece.darts:
        inner += [("dart", path) for path in _legs(dart)]
        drills += [("dart", at) for at in drill_holes(dart)]
    for mark in piece.marks:
        if mark.kind == "buttonhole":
            inner.append(("buttonhole", _buttonhole(mark)))
        elif mark.kind != "label":
            drills.append((mark.kind, mark.at))
    grain = piece.grain if piece.grain and piece.grain[0].distance(piece.grain[1]) > 1e-6 else None
    return Parts(
        cut,
        seam,
        tuple(e.path for e in piece.edges if e.fold),
        (*_ticks(piece, cut), *leg_ticks(piece, cut_line)),
        Path.line(*grain) if grain else None,
        tuple(inner),
        tuple(drills),
    )


def nearest_within(distance: float, path: Path, point: Point) -> tuple[float, float]:
    """The place on a path nearest to a point (see `Path.nearest`), looked for within `distance` mm first: quicker."""
    found = path.nearest(point, distance)
    return found if isfinite(found[1]) else path.nearest(point)


def distance_within(distance: float, path: Path, point: Point) -> float:
    """How far a point lies from a path, looked for within `distance` mm first."""
    found = path.distance(point, distance)
    return found if isfinite(found) else path.distance(point)


def _legs(dart: Dart) -> list[Path]:
    if dart.far_apex is None:
        return [Path.polyline([dart.legs[0], dart.apex, dart.legs[1]])]
    return [
        Path.polyline([dart.far_apex, dart.legs[0], dart.apex, dart.legs[1], dart.far_apex]),
    ]


def _buttonhole(mark: Mark) -> Path:
    along = Point(1.0, 0.0).turned(mark.angle) * (mark.length / 2)
    return Path.line(mark.at - along, mark.at + along)


def _ticks(piece: Piece, cut: Path) -> list[Tick]:
    found = []
    for notch in piece.notches:
        try:
            edge = piece.edge(notch.edge)
            path, allowance = edge.path, edge.allowance or 0.0
        except KeyError:
            path, allowance = piece.outline, 0.0
        s, _ = nearest_within(1.0, path, notch.at)
        for i in range(notch.count):
            at = s + (i - (notch.count - 1) / 2) * NOTCH_APART
            at = min(max(at, 0.0), path.length)
            foot, along = path.point_and_tangent_at(at)
            at_cut = cut.point_at(nearest_within(allowance + 1.0, cut, foot)[0])
            found.append(Tick(at_cut, foot, along.normal()))
    return found


def leg_ticks(piece: Piece, cut_line: Path | None) -> list[Tick]:
    """Ticks for the legs of darts that open at an edge: in line with the leg, from the cutting line if there is one.

    A leg that has a notch of the style's own, or that lies on a fold, gets none.
    """
    found = []
    folds = {e.name for e in piece.edges if e.fold}
    for dart in piece.darts:
        if not dart.edge or dart.edge in folds:
            continue
        for leg in dart.legs:
            if any(notch.at.distance(leg) < _SAME for notch in piece.notches):
                continue
            inward = (dart.apex - leg).unit()
            found.append(Tick(_outward(leg, inward, cut_line) if cut_line else leg, leg, inward))
    return found


def _outward(leg: Point, inward: Point, cut_line: Path) -> Point:
    """Where a dart's leg, drawn on, comes to the cutting line."""
    line = Path.line(leg, leg - inward * _FURTHEST)
    met = crossings(line, cut_line)
    return met[0].point if met else cut_line.point_at(cut_line.nearest(leg)[0])
