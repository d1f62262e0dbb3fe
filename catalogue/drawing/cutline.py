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
    across the allowances at both ends of the fold.
    """
    folds = [e.path for e in piece.edges if e.fold and _is_straight(e.path)]
    segments = list(cut_line.segments)
    on_fold = [
        isinstance(s, Line) and any(_along(s.start, f) and _along(s.end, f) for f in folds) for s in segments
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


def _is_straight(path: Path) -> bool:
    return path.start.distance(path.end) > 1e-6 and _all_along(path.flatten(0.5), path)


def _all_along(points: Iterable[Point], line: Path) -> bool:
    return all(_along(p, line) for p in points)


def _along(point: Point, line: Path) -> bool:
    """Whether a point lies on the straight line through the ends of `line`, produced both ways."""
    way = (line.end - line.start).unit()
    return abs((point - line.start).cross(way)) <= _ON_FOLD
