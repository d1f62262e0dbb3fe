"""A level across one piece: the straight way square to the grain, a line drawn on the paper, or an edge.

Darts are closed and pleats folded: where the level meets one side of what vanishes, it goes on from the other side.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from catalogue.geometry import Path, Point, contains, crossings, parallel
from catalogue.lengths import held
from catalogue.pattern.making import PieceError
from catalogue.pattern.measure import gaps, parts_outside, place_on
from catalogue.pattern.piece import Edge, InnerLine, Piece

MOST_TILT = 30.0
"""Degrees by which a level may lie off the grain's square and still be meant to be square to it. A piece on the bias
lies farther off."""

ON_LINE = 2.0
"""mm within which a place is on a line drawn on the paper."""

TOUCHING = 0.01
"""mm within which two corners are one."""

_CLEAR = 0.05  # mm from its start within which a level meets nothing: it starts there
_AT_CORNER = 1.0  # mm from a corner within which a level may be taken to end on either edge
_UPRIGHT = math.cos(math.radians(45.0))


@dataclass(frozen=True, slots=True)
class Closing:
    """Two straight lines on the paper that are laid on each other in sewing: legs of a dart, folds of a pleat."""

    first: tuple[Point, Point]
    second: tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class Reach:
    """The way along a level from a place on a piece to its outline.

    Attributes:
        parts: what is seen of it once darts are closed and pleats folded, in order.
        edge: the edge it ends on.
        at: where it ends.
        way: unit vector in which it arrives there.
    """

    parts: tuple[Path, ...]
    edge: str
    at: Point
    way: Point

    @property
    def length(self) -> float:
        """mm, as sewn."""
        return sum(p.length for p in self.parts)


def closings_of(piece: Piece) -> list[Closing]:
    """Everything on a piece that is laid together in sewing, away from its edges. Gathers and ease are not."""
    found = []
    for dart in piece.darts:
        ends = [dart.apex] if dart.far_apex is None else [dart.apex, dart.far_apex]
        found += [Closing((end, dart.legs[0]), (end, dart.legs[1])) for end in ends]
    done: list[Point] = []
    for pleat in piece.pleats:
        if pleat.kind in ("gathers", "ease") or any(pleat.mouth[0].distance(p) < 1.0 for p in done):
            continue
        folds = [_fold_from(piece, mouth, pleat.edge) for mouth in pleat.mouth]
        if folds[0] is not None and folds[1] is not None:
            found.append(Closing(folds[0], folds[1]))
            done += [folds[0][1], folds[1][1]]
    return found


def _fold_from(piece: Piece, mouth: Point, edge: str) -> tuple[Point, Point] | None:
    """The fold line of a pleat that begins at a point of its mouth on `edge`, from there.

    Of a pleat in the middle of the garment it is the fold or centre edge of the half piece.
    """
    for line in piece.lines:
        if line.kind == "pleat":
            start, end = line.path.start, line.path.end
            for here, there in ((start, end), (end, start)):
                if here.distance(mouth) < 1.0:
                    return here, there
    for other in piece.edges:
        if other.name != edge:
            for here, there in (
                (other.path.start, other.path.end),
                (other.path.end, other.path.start),
            ):
                if here.distance(mouth) < TOUCHING:
                    return here, there
    return None


def squared(piece: Piece, about: Point) -> Point:
    """The direction of a level near to `about` (a unit vector): square to the grain or along it, whichever is near.

    On the bias, and without a grain line, what is level on the paper is taken.
    """
    along = Point(0.0, 1.0)
    if piece.grain is not None and piece.grain[0].distance(piece.grain[1]) > 1e-6:
        grain = (piece.grain[1] - piece.grain[0]).unit()
        if max(abs(grain.x), abs(grain.y)) > math.cos(math.radians(MOST_TILT)) or not _is_oblique(
            grain, about
        ):
            along = grain
    across = along.normal()
    return max((along, -along, across, -across), key=about.dot)


def _is_oblique(grain: Point, about: Point) -> bool:
    """Whether a grain lies as far off a direction as it lies off that direction's square: the bias."""
    return max(abs(grain.dot(about)), abs(grain.cross(about))) < math.cos(math.radians(MOST_TILT))


def reach(piece: Piece, start: Point, way: Point, follow: bool = True) -> Reach:
    """The way along a level from a place on the paper to the outline, darts closed and pleats folded.

    A line drawn on the piece through `start` that runs about that way is followed to its end; else, and after it,
    the level is straight.

    Args:
        way: unit vector.
        follow: whether drawn lines are followed.

    Raises:
        PieceError: the place lies off the paper.
    """
    if not contains(piece.outline, start, 1.0):
        raise PieceError(f"the level does not lie on “{piece.title}”", "Name a place on the piece.", start)
    parts: list[Path] = []
    drawn = _line_at(piece, start, way) if follow else None
    if drawn is not None:
        parts += seen_of(piece, drawn)
        start, way = drawn.end, drawn.arriving
    left = closings_of(piece)
    outline = piece.outline
    box = outline.bounds()
    far = box.width + box.height + 10.0
    while contains(outline, start + way * 0.5, 0.0):
        ray = Path.line(start, start + way * far)
        ends = [c.on_first for c in crossings(ray, outline) if c.on_first > _CLEAR]
        if not ends:
            break
        to = min(ends)
        met = [(m[0], n, m[1], m[2]) for n, c in enumerate(left) if (m := _meets(start, way, c)) is not None]
        first = min(met, default=None, key=lambda m: m[0])
        if first is None or first[0] >= to:
            at = start + way * to
            parts.append(Path.line(start, at))
            return Reach(tuple(parts), edge_met(piece, at, way).name, at, way)
        distance, n, there, turn = first
        if distance > 1e-9:
            parts.append(Path.line(start, start + way * distance))
        here = start + way * distance
        gone = left.pop(n)
        axis = (gone.first[1] - gone.first[0]).unit()
        # Across an upright dart the level stays level; one that lies with the level turns what is beyond it.
        if abs(axis.dot(way)) > _UPRIGHT:
            way = way.turned(turn)
        start = there if here.distance(there) > 1e-9 else here
    return Reach(tuple(parts), edge_met(piece, start, way).name, start, way)


def _meets(start: Point, way: Point, closing: Closing) -> tuple[float, Point, float] | None:
    """How far along a level it meets one side of what is closed, where it goes on, and the turn between the sides."""
    found = []
    for here, other in ((closing.first, closing.second), (closing.second, closing.first)):
        line = here[1] - here[0]
        across = way.cross(line)
        if abs(across) < 1e-9:
            continue
        gap = here[0] - start
        distance, share = gap.cross(line) / across, gap.cross(way) / across
        if distance > -1e-6 and -1e-9 <= share <= 1.0 + 1e-9:
            onto = other[1] - other[0]
            step = onto.unit() * min(share * line.length, onto.length)
            turn = math.degrees(math.atan2(line.cross(onto), line.dot(onto)))
            found.append((max(distance, 0.0), other[0] + step, turn))
    return min(found, default=None, key=lambda f: f[0])


def _line_at(piece: Piece, start: Point, way: Point) -> Path | None:
    """What is ahead of a line drawn on the piece through a place, about the way of the level; None without one."""
    for line in piece.lines:
        if line.kind != "guide" or is_middle(line):
            continue
        s, off = line.path.nearest(start)
        if off > ON_LINE:
            continue
        ahead = line.path.tangent_at(s).dot(way)
        if abs(ahead) < math.cos(math.radians(MOST_TILT)):
            continue
        path = line.path.between(s, line.path.length) if ahead > 0 else line.path.between(s, 0.0)
        if path.length > ON_LINE:
            return path
    return None


def seen_of(piece: Piece, path: Path) -> list[Path]:
    """The parts of a line on the paper that are seen once the darts and pleats that it runs through are closed."""
    spans = []
    for closing in closings_of(piece):
        met = [
            c.on_first for side in (closing.first, closing.second) for c in crossings(path, Path.line(*side))
        ]
        if len(met) > 1:
            spans.append((min(met), max(met)))
    return parts_outside(path, sorted(spans))


def below(piece: Piece, edge: str, depth: float) -> list[Path]:
    """The line so many mm inside an edge and parallel to it, from border to border of the piece, as sewn.

    Raises:
        PieceError: the piece is not so deep there.
    """
    path = piece.edge(edge).path
    # Roofs of darts would spoil the parallel: over a mouth it is ruled straight.
    plain = _ruled_over_mouths(piece, edge)
    line = parallel(plain, depth).extended(path.length + depth, path.length + depth)
    marks = sorted({0.0, line.length, *(c.on_first for c in crossings(line, piece.outline))})
    middle = line.nearest(
        plain.point_at(plain.length / 2) + plain.tangent_at(plain.length / 2).normal() * depth
    )[0]
    inner = [
        (a, b)
        for a, b in pairwise(marks)
        if b - a > 1e-6 and contains(piece.outline, line.point_at((a + b) / 2), 0.01)
    ]
    if not inner:
        raise PieceError(
            f"“{piece.title}” is not {held(depth)} deep below its edge “{edge}”", "Measure it higher."
        )
    a, b = min(inner, key=lambda s: max(s[0] - middle, middle - s[1], 0.0))
    return seen_of(piece, line.between(a, b))


def _ruled_over_mouths(piece: Piece, edge: str) -> Path:
    path = piece.edge(edge).path
    made: Path | None = None
    at = 0.0
    for s0, s1 in gaps(piece, edge):
        parts = [path.between(at, s0)] if s0 - at > 1e-6 else []
        parts.append(Path.line(path.point_at(s0), path.point_at(s1)))
        for part in parts:
            made = part if made is None else made.joined(part)
        at = s1
    if path.length - at > 1e-6 or made is None:
        rest = path.between(at, path.length)
        made = rest if made is None else made.joined(rest)
    return made


def trimmed(piece: Piece, parts: Sequence[Path]) -> tuple[Path, ...]:
    """A level that ends at an opening, as far as the middle of the body where that is drawn on the piece.

    What lies beyond the middle laps over or under the other side: the stand of buttons, the lap of a vent.
    """
    kept: list[Path] = []
    for part in parts:
        met = [c.on_first for line in piece.lines if is_middle(line) for c in crossings(part, line.path)]
        if met:
            if min(met) > 1e-6:
                kept.append(part.between(0.0, min(met)))
            return tuple(kept)
        kept.append(part)
    return tuple(kept)


def is_middle(line: InnerLine) -> bool:
    """Whether a line drawn on a piece is the middle of the body, by its words."""
    return bool({"centre", "center", "middle"} & set(line.text.lower().split()))


def edge_met(piece: Piece, at: Point, way: Point) -> Edge:
    """The edge that a level arrives at; at a corner the one that lies more square to it."""

    def rank(edge: Edge) -> tuple[bool, float]:
        s, off = edge.path.nearest(at)
        return (off <= _AT_CORNER, abs(edge.path.tangent_at(s).cross(way)) if off <= _AT_CORNER else -off)

    return max(piece.edges, key=rank)


def sewn_place(piece: Piece, edge: str, at: Point) -> float:
    """How far along an edge a point lies, from its start, darts closed and pleats folded; mm."""
    s = place_on(piece.edge(edge).path, at)
    taken, reached = 0.0, 0.0
    for s0, s1 in gaps(piece, edge):
        taken += max(min(s, s1) - max(s0, reached), 0.0)
        reached = max(reached, s1)
    return s - taken


def point_sewn(piece: Piece, edge: str, along: float) -> Point:
    """The point so far along an edge as it is sewn."""
    path = piece.edge(edge).path
    s = along
    for s0, s1 in gaps(piece, edge):
        if s0 <= s + 1e-9:
            s += s1 - s0
    return path.point_at(min(max(s, 0.0), path.length))
