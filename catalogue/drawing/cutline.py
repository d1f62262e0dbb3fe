"""The cutting line taken apart: where scissors go, and where the piece lies on a fold and must not be cut."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from catalogue.drawing.canvas import LineKind
from catalogue.geometry import Line, Path, Point
from catalogue.pattern import Piece

_ON_FOLD = 0.05  # mm


def cut_and_fold(piece: Piece, cut_line: Path) -> list[tuple[LineKind, Path]]:
    """The parts of a cutting line in order, as lines to cut and folds of the cloth.

    A part is on the fold when it runs along a straight fold edge or along that edge's line produced, as it does
    across the allowances at both ends of the fold; a slit in line with the fold is cut.
    """
    folds = [e.path for e in piece.edges if e.fold and _is_straight(e.path)]
    slits = [
        e.path for e in piece.edges if not e.fold and any(_all_along(e.path.flatten(0.5), f) for f in folds)
    ]
    segments = list(cut_line.segments)
    on_fold = [
        isinstance(s, Line)
        and any(_along(s.start, f) and _along(s.end, f) and not _in_slit(s, f, slits) for f in folds)
        for s in segments
    ]
    if not any(on_fold):
        return [(LineKind.CUT, cut_line)]
    if all(on_fold):
        return [(LineKind.FOLD, cut_line)]
    first = next(i for i in range(len(segments)) if on_fold[i] != on_fold[i - 1])  # where one kind begins
    turned = list(zip(on_fold, segments, strict=True))
    turned = turned[first:] + turned[:first]
    return [
        (LineKind.FOLD if fold else LineKind.CUT, Path(tuple(s for _, s in group)))
        for fold, group in groupby(turned, key=lambda pair: pair[0])
    ]


def _in_slit(segment: Line, fold: Path, slits: list[Path]) -> bool:
    """Whether a segment in line with a fold lies at that end of it where a slit goes on."""
    way, long = (fold.end - fold.start).unit(), fold.length
    here = (segment.point_at(0.5) - fold.start).dot(way)
    if 0.0 <= here <= long:
        return False
    there = [(slit.point_at(slit.length / 2) - fold.start).dot(way) for slit in slits]
    return any((here < 0 and t < 0) or (here > long and t > long) for t in there)


def _is_straight(path: Path) -> bool:
    return path.start.distance(path.end) > 1e-6 and _all_along(path.flatten(0.5), path)


def _all_along(points: Iterable[Point], line: Path) -> bool:
    return all(_along(p, line) for p in points)


def _along(point: Point, line: Path) -> bool:
    """Whether a point lies on the straight line through the ends of `line`, produced both ways."""
    way = (line.end - line.start).unit()
    return abs((point - line.start).cross(way)) <= _ON_FOLD
