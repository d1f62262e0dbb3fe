"""Grain lines: where on a piece one is drawn."""

from __future__ import annotations

from catalogue.geometry import Path, Point, contains, crossings
from catalogue.pattern.piece import Piece

INSET = 0.15
"""Share of the paper's length along the grain that is left free at each end of the line."""

SHORTEST = 20.0
"""mm: a stretch of paper shorter than this holds no grain line."""


FOLD_APART = 12.0
"""mm that a grain line keeps from the folds of pleats, where there is room."""

DART_APART = 8.0
"""mm that a grain line keeps from the point of a dart, where there is room."""

_SHIFTS = (0.0, 0.15, -0.15, 0.3, -0.3, 0.4, -0.4)


def grain_through(piece: Piece, way: Point) -> tuple[Point, Point]:
    """A grain line in direction `way` (a unit vector) through the middle of the paper, inside it.

    Where the middle is hollow, or darts or folds of pleats lie there, the line moves sideways to clear paper.
    """
    box = piece.outline.bounds()
    middle = Point(box.left + box.width / 2, box.top + box.height / 2)
    reach = box.width + box.height
    across = box.width if abs(way.y) > 0.7 else box.height
    first: tuple[Point, Point] | None = None
    for shift in _SHIFTS:
        through = middle + way.normal() * (shift * across)
        line = Path.line(through - way * reach, through + way * reach)
        marks = [c.on_first for c in crossings(line, piece.outline)]
        spans = sorted(zip(marks[::2], marks[1::2], strict=False), key=lambda s: s[0] - s[1])
        if spans and spans[0][1] - spans[0][0] > SHORTEST:
            s0, s1 = spans[0]
            inset = (s1 - s0) * INSET
            found = line.point_at(s0 + inset), line.point_at(s1 - inset)
            if is_clear(piece, found):
                return found
            first = first or found
    if first:
        return first
    return middle - way * (SHORTEST / 2), middle + way * (SHORTEST / 2)


def is_clear(piece: Piece, grain: tuple[Point, Point]) -> bool:
    """Whether a grain line lies off the darts and the folds of the piece's pleats."""
    return _is_clear_of_darts(piece, grain) and _is_clear_of_folds(piece, grain)


def _is_clear_of_darts(piece: Piece, grain: tuple[Point, Point]) -> bool:
    line = Path.line(*grain)
    for dart in piece.darts:
        first, second = dart.legs
        ends = [dart.apex] if dart.far_apex is None else [dart.apex, dart.far_apex]
        if any(line.passes(end, DART_APART) for end in ends):
            return False
        if any(crossings(line, Path.polyline([first, end, second])) for end in ends):
            return False
    return True


def _is_clear_of_folds(piece: Piece, grain: tuple[Point, Point]) -> bool:
    """Whether a grain line lies off the folds of the piece's pleats, and between no two of one pleat.

    Where there are pleats, it keeps off the places drawn beside them too (a slit).
    """
    if all(each.kind != "pleat" for each in piece.lines):
        return True
    line = Path.line(*grain)
    for each in piece.lines:
        if each.kind not in (
            "pleat",
            "arrow",
            "placement",
        ):  # the arrow runs across from one fold of a pleat to the other
            continue
        if crossings(line, each.path):
            return False
        ends = (*grain, each.path.start, each.path.end)
        if any(each.path.passes(p, FOLD_APART) for p in ends[:2]):
            return False
        if any(line.passes(p, FOLD_APART) for p in ends[2:]):
            return False
    return True


def kept_grain(before: Piece, after: Piece, own: tuple[Point, Point] | None) -> tuple[Point, Point] | None:
    """The grain of paper that was worked on: `own` where it still lies on it, otherwise redrawn as it ran before.

    It leaves its place for one beside darts and the folds of pleats where there is one.
    """
    if own is not None and all(contains(after.outline, p, 0.5) for p in own):
        return clear_grain(after, own)
    if before.grain is None:
        return upright(after)
    return grain_through(after, (before.grain[1] - before.grain[0]).unit())


def upright(piece: Piece) -> tuple[Point, Point]:
    """The grain of a piece that says none: straight down."""
    return grain_through(piece, Point(0.0, 1.0))


def clear_grain(piece: Piece, own: tuple[Point, Point]) -> tuple[Point, Point]:
    """A grain line, moved sideways to clear paper where it lies on darts or folds of pleats and there is some."""
    if is_clear(piece, own) or own[0].distance(own[1]) < SHORTEST:
        return own
    moved = grain_through(piece, (own[1] - own[0]).unit())
    return moved if is_clear(piece, moved) else own
