"""What is laid: the pieces of one cloth as plain outlines, upright on their grain, with how often they are cut."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from catalogue.cloth.lay import FLATNESS, cut_shapes
from catalogue.geometry import Path, Point, Transform
from catalogue.pattern import Piece

UPRIGHT = 0.05
"""mm per mm: a fold edge that leans no more than this against the grain lies along it."""

Outline = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Form:
    """The paper of one piece, its grain upright.

    Attributes:
        outline: of one cut, opened out where the piece lies on a fold; mm, x across the cloth, y along it.
        half: of a piece on the fold, the paper alone, its fold at x = 0 and the rest to the right; else ().
        count: how often it is cut.
        mirrored: every second cut is turned over.
        alike: the outline is its own mirror image, so that it may be cut from either layer.
        anchor: a point of `outline` (in its own place) that must meet the cloth's pattern.
        phase_along: mm along the cloth from a main bar at which the anchor lies; None where any place will do.
        phases_across: the same across it, for each cut in turn.
    """

    name: str
    outline: Outline
    half: Outline = ()
    count: int = 1
    mirrored: bool = False
    alike: bool = False
    anchor: Point | None = None
    phase_along: float | None = None
    phases_across: tuple[float, ...] = (0.0,)

    @property
    def across(self) -> float:
        """mm that one cut takes across the cloth."""
        return max(p.x for p in self.outline) - min(p.x for p in self.outline)

    @property
    def along(self) -> float:
        """mm that one cut takes along the cloth."""
        return max(p.y for p in self.outline) - min(p.y for p in self.outline)

    @property
    def pairs(self) -> int:
        """How many times it can be cut from two layers at once that lie face to face."""
        return self.count // 2 if self.mirrored or self.alike else 0


def forms_of(pieces: Iterable[Piece], cut_lines: Mapping[str, Path]) -> tuple[Form, ...]:
    """The forms of these pieces in their order; `cut_lines` by the pieces' names."""
    return tuple(form_of(piece, cut_lines.get(piece.name, piece.outline)) for piece in pieces)


def form_of(piece: Piece, line: Path) -> Form:
    """The form of one piece; `line` is its cutting line, closed."""
    turn = to_grain(piece)
    [drawn, *_] = cut_shapes(piece.with_changes(cut=replace(piece.cut, count=1), grain=None), line)
    outline = tuple(turn.apply(p) for p in drawn)
    half = _half(piece, line)
    cut = piece.cut
    return Form(piece.name, outline, half, cut.count, cut.mirrored, bool(half) or _is_alike(outline))


def to_grain(piece: Piece) -> Transform:
    """The turn that brings the piece's grain upright, what is the upper end on paper still the upper one."""
    way = piece.grain[1] - piece.grain[0] if piece.grain else Point(0.0, 1.0)
    if (
        way.y < -1e-6 * way.length
    ):  # A grain line is an arrow with two heads: which end is first means nothing.
        way = -way
    return Transform.rotation(90.0 - way.angle, Point(0.0, 0.0))


def _half(piece: Piece, line: Path) -> Outline:
    """The paper with its fold at x = 0; () when it does not lie on a fold that runs along the grain."""
    fold = next((e for e in piece.edges if e.fold), None)
    if fold is None or not piece.cut.on_fold:
        return ()
    turn = to_grain(piece)
    start, end = turn.apply(fold.path.start), turn.apply(fold.path.end)
    if abs(end.x - start.x) > UPRIGHT * abs(end.y - start.y):
        return ()
    points = [turn.apply(p) - Point(start.x, 0.0) for p in line.flatten(FLATNESS)]
    left = sum(p.x for p in points) < 0
    points = [Point(-p.x, p.y) for p in points] if left else points
    # What strays over the fold by rounding lies on it.
    return tuple(Point(max(p.x, 0.0), p.y) for p in points)


def _is_alike(outline: Outline) -> bool:
    """Whether an outline is its own mirror image about an upright line, to half a millimetre."""
    from shapely.geometry import Polygon

    middle = (max(p.x for p in outline) + min(p.x for p in outline)) / 2
    shape = Polygon(outline).buffer(0)
    over = Polygon([(2 * middle - x, y) for x, y in outline]).buffer(0)
    return bool(shape.symmetric_difference(over).area < 0.5 * shape.length)
