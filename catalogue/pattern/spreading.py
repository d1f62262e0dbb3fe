"""Slashing the paper and spreading it, or lapping it: hinged at one edge, parallel, or anything between."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from catalogue.geometry import Path, Point, Transform, contains, crossings, signed_area
from catalogue.lengths import held
from catalogue.pattern.contents import Contents, bridged, dart_probes, fitted
from catalogue.pattern.making import Crossed, PieceError
from catalogue.pattern.measure import ON_EDGE
from catalogue.pattern.parting import PaperPart, bridge, inner_line, rejoin, take, which_moves
from catalogue.pattern.piece import Dart, Piece, Pleat
from catalogue.pattern.pivot import folded_wedge
from catalogue.pattern.ring import closed, met, place, stretches

WIDEST = 2_000.0
"""mm: no slash is opened further."""

WIDEST_STEP = 40.0
"""mm that an edge may be stepped by where paper was taken out askew; it is bent to meet halfway."""


@dataclass(frozen=True, slots=True)
class Slash:
    """One line to slash along, and how far it opens at its two ends, mm; negative where it laps over."""

    line: Path
    at_start: float
    at_end: float


def even_lines(piece: Piece, count: int, from_edge: str, to_edge: str) -> list[Path]:
    """Straight lines that divide two edges evenly. Raises PieceError when the piece lacks an edge."""
    ends = []
    for name in (from_edge, to_edge):
        try:
            ends.append(piece.edge(name).path)
        except KeyError:
            known = ", ".join(e.name for e in piece.edges)
            raise PieceError(
                f"the piece “{piece.name}” has no edge “{name}”", f"Its edges: {known}."
            ) from None
    shares = [(i + 1) / (count + 1) for i in range(count)]
    return [
        Path.line(ends[0].point_at(ends[0].length * t), ends[1].point_at(ends[1].length * (1 - t)))
        for t in shares
    ]


def spread(piece: Piece, slashes: Sequence[Slash], kind: str = "", folded_to: str = "") -> Piece:
    """Slash along the lines and move the parts apart.

    The part with the fold stays, else the one with the grain line, else the largest. Amounts are measured straight
    across the opening. A new bit of edge bridges each opening; it keeps the name of the edge it lies on.

    Args:
        kind: "" for flare, or "gathers" or "pleats": what becomes of the width added at an edge.
        folded_to: direction word or edge name that the seen folds of pleats point to; "" leaves it to habit.

    Raises:
        PieceError: a line misses the piece or runs through a dart, or the paper would fold over itself.
    """
    trimmed = [replace(s, line=_trimmed(piece, s)) for s in slashes]
    try:
        # The outermost part is moved first: lines nearer the part that stays are then still where they were drawn.
        in_order = sorted(trimmed, key=lambda s: _moved_area(piece, s)) if len(trimmed) > 1 else trimmed
        while in_order:
            slash = in_order.pop(0)
            if min(slash.at_start, slash.at_end) < 0:
                # Lapping bends the edge a little, so that a line further in may now end beside it.
                slash = replace(slash, line=_trimmed(piece, slash))
            piece, moving, move = _spread_once(piece, slash, kind, folded_to)
            # Where halves are nearly alike the one with lines still to come may be the one that moves.
            in_order = [_carried_along(s, moving, move) for s in in_order]
    except Crossed as error:
        raise PieceError(
            f"the paper would fold over itself: {error.message}",
            "Spread it by less, or over lines that lie farther apart.",
            error.at,
        ) from None
    return piece


def _carried_along(slash: Slash, moving: Path, move: Transform) -> Slash:
    """A line still to be slashed, moved if it lies on the part that has moved."""
    middle = slash.line.point_at(slash.line.length / 2)
    if not contains(moving, middle, 0.0):
        return slash
    return replace(slash, line=slash.line.transformed(move))


def _trimmed(piece: Piece, slash: Slash) -> Path:
    if max(abs(slash.at_start), abs(slash.at_end)) > WIDEST:
        raise PieceError(
            f"a slash cannot open by {held(max(abs(slash.at_start), abs(slash.at_end)))}",
            f"At most {held(WIDEST)}; spread over more lines.",
        )
    return inner_line(piece, slash.line)


def _halves(piece: Piece, line: Path) -> tuple[PaperPart, PaperPart, float, float]:
    """The part on the right of the line's travel and the one on the left, and the line's places on the ring."""
    a, b = place(piece, line.start), place(piece, line.end)
    return take(piece, b, a, line), take(piece, a, b, line.reversed()), a, b


def _moved_area(piece: Piece, slash: Slash) -> float:
    first, second, _, _ = _halves(piece, slash.line)
    return second.area if which_moves(first, second) else first.area


def _spread_once(piece: Piece, slash: Slash, kind: str, folded_to: str) -> tuple[Piece, Path, Transform]:
    """The piece spread along one line, the region of it that was moved, and how."""
    line = slash.line
    if slash.at_start == slash.at_end == 0:
        return piece, piece.outline, Transform.translation(Point(0.0, 0.0))
    if min(slash.at_start, slash.at_end) < 0:
        return _lap_once(piece, slash)
    first, second, _, _ = _halves(piece, line)
    first_stays = which_moves(first, second)
    fixed, moving = (first, second) if first_stays else (second, first)
    # Clockwise round the paper: `first` runs from the line's end to its start, `second` from its start to its end.
    away = (line.end - line.start).unit().normal() * (-1.0 if first_stays else 1.0)
    move = opening_move(line.start, line.end, slash.at_start, slash.at_end, away)
    contents = bridged(fixed.contents, moving.contents, move)
    fixed, moving = replace(fixed, contents=contents[0]), replace(moving, contents=contents[1])
    moved = moving.moved(move)
    start, end = move.apply(line.start), move.apply(line.end)
    bridges = (
        (bridge(line.start, start), bridge(end, line.end))
        if first_stays
        else (bridge(line.end, end), bridge(start, line.start))
    )
    made = rejoin(piece, fixed, moved, bridges)
    if kind:
        for amount, at, to in ((slash.at_start, line.start, start), (slash.at_end, line.end, end)):
            if amount > 0:
                made = with_fullness(made, kind, at, to, line, folded_to)
    return made, moving.region, move


def opening_move(start: Point, end: Point, at_start: float, at_end: float, away: Point) -> Transform:
    """The rigid move that carries `start` by `at_start` mm and `end` by `at_end` mm, straight across, to `away`."""
    if abs(at_start - at_end) < 1e-9:
        return Transform.translation(away * at_start)
    length = start.distance(end)
    # The paper turns about the point of the line (or of its continuation) where the opening is zero.
    along = (end - start).unit()
    hinge = start + along * (length * at_start / (at_start - at_end))
    far, amount = (start, at_start) if abs(at_start) > abs(at_end) else (end, at_end)
    radius = far.distance(hinge)
    if abs(amount) > 2 * radius:
        raise PieceError(
            "the paper would fold over itself: it can't open so far on so short a line",
            "Spread it by less, or along a longer line.",
        )
    degrees = math.degrees(2 * math.asin(abs(amount) / (2 * radius)))
    sense = (far - hinge).cross(away)
    turn = degrees if (sense > 0) == (amount > 0) else -degrees
    return Transform.rotation(turn, hinge)


def with_fullness(piece: Piece, kind: str, at: Point, to: Point, line: Path, folded_to: str = "") -> Piece:
    """The piece with the stretch of edge between two points marked as gathered or laid in pleats.

    A wedge (the far end of `line` did not open) is cut and folded as a pleat; other pleats are only marked.
    """
    edge = min(piece.edges, key=lambda e: e.path.nearest(at)[1] + e.path.nearest(to)[1])
    s0, s1 = edge.path.nearest(at)[0], edge.path.nearest(to)[0]
    mouth = (at, to) if s0 <= s1 else (to, at)
    count = sum(1 for p in piece.pleats if p.edge == edge.name)
    name = f"{edge.name}_{kind}_{count + 1}"
    hinge = line.end if at.distance(line.start) < 1e-6 else line.start
    if kind == "pleats" and abs(mouth[0].distance(hinge) - mouth[1].distance(hinge)) < 0.01:
        return folded_wedge(piece, name, edge.name, mouth, hinge, folded_to)
    pleat_kind = "knife" if kind == "pleats" else kind
    return piece.with_changes(pleats=(*piece.pleats, Pleat(name, edge.name, mouth, pleat_kind, folded_to)))


def _lap_once(piece: Piece, slash: Slash) -> tuple[Piece, Path, Transform]:
    """Lap the paper along a line: a strip or a wedge of it vanishes. Gives what `_spread_once` does."""
    line, at_start, at_end = slash.line, -slash.at_start, -slash.at_end
    if min(at_start, at_end) < -1e-9:
        raise PieceError("a line can't open at one end and lap at the other", "Do it in two steps.")
    first, second, _, _ = _halves(piece, line)
    first_stays = which_moves(first, second)
    away = (line.end - line.start).unit().normal() * (-1.0 if first_stays else 1.0)
    # The strip that vanishes lies on the side of the part that moves, and is as wide as if it had been spread.
    move = opening_move(line.start, line.end, at_start, at_end, away)
    start = _across_edge(piece, line.start, move.apply(line.start), move.apply(line.end), at_start)
    end = _across_edge(piece, line.end, move.apply(line.end), move.apply(line.start), at_end)
    moving = second.region if first_stays else first.region
    return lap(piece, line, Path.line(start, end), move.inverse(), away), moving, move.inverse()


def _across_edge(piece: Piece, on_edge: Point, moved: Point, towards: Point, amount: float) -> Point:
    """Where the far side of the strip meets the outline: near the place that the line's end would move to."""
    if amount < 1e-9:
        return on_edge
    reach = 4 * amount + 10.0
    unit = (towards - moved).unit()
    found = crossings(Path.line(moved - unit * reach, moved + unit * reach), piece.outline)
    if not found:
        raise PieceError("the piece is too small to take that much out of it", "Take out less.", at=on_edge)
    return min((c.point for c in found), key=moved.distance)


def lap(piece: Piece, line: Path, other: Path, move: Transform, away: Point) -> Piece:
    """Take out the paper between two straight lines from edge to edge, drawn alike.

    Args:
        line: the side of the part that stays.
        other: the side of the part that goes; it lies to `away` from `line`.
        move: carries `other` onto `line`. Where their ends then lie apart (a slanting edge), the edges on both sides
            are bent to meet halfway.

    Raises:
        PieceError: nothing would be left, or the edges lie too far apart to meet.
    """
    a, b = place(piece, line.start), place(piece, line.end)
    c, d = place(piece, other.start), place(piece, other.end)
    first_stays = (line.end - line.start).unit().normal().dot(away) < 0
    if first_stays:
        stays, goes = (b, a, line), (c, d, other.reversed())
    else:
        stays, goes = (a, b, line.reversed()), (d, c, other)
    crossed = _darts_across(
        piece, closed(stretches(piece, *stays[:2]), stays[2]), closed(stretches(piece, *goes[:2]), goes[2])
    )
    names = [d.name for d in crossed]
    fixed, moving = take(piece, *stays, names), take(piece, *goes, names)
    if not fixed.outline or not moving.outline or fixed.area + moving.area > piece_area(piece) + 1.0:
        raise PieceError("nothing would be left of the piece", "Take out less.")
    swallowed = _swallowed(piece, (fixed.region, moving.region), line, other, move)
    moved = moving.moved(move)
    fixed = replace(fixed, contents=fixed.contents.and_also(swallowed))
    made = rejoin(piece, *_meeting(fixed, moved), (None, None))
    redrawn = tuple(_carried(d, moving.region, move) for d in crossed)
    return fitted(made.with_changes(darts=(*made.darts, *redrawn)))


def _swallowed(piece: Piece, kept: tuple[Path, Path], line: Path, other: Path, move: Transform) -> Contents:
    """Points, marks and notches on the paper that vanishes: they stay, on the line where it was folded away."""

    def is_lost(at: Point) -> bool:
        return contains(piece.outline, at, ON_EDGE) and not any(contains(r, at, ON_EDGE) for r in kept)

    def on_fold(at: Point) -> Point:
        near, far = line.nearest(at)[0], other.nearest(at)[0]
        there = line.point_at(near).mix(move.apply(other.point_at(far)), 0.5)
        return line.point_at(line.nearest(there)[0])

    return Contents(
        notches=tuple(replace(n, at=on_fold(n.at)) for n in piece.notches if is_lost(n.at)),
        marks=tuple(replace(m, at=on_fold(m.at)) for m in piece.marks if is_lost(m.at)),
        points={n: on_fold(p) for n, p in piece.points.items() if is_lost(p)},
    )


def piece_area(piece: Piece) -> float:
    return abs(signed_area(piece.outline))


def _meeting(fixed: PaperPart, moved: PaperPart) -> tuple[PaperPart, PaperPart]:
    """Both parts with the ends of their edges brought together."""
    one, other = list(fixed.outline), list(moved.outline)
    for before, after in ((one, other), (other, one)):
        gap = before[-1].path.end.distance(after[0].path.start)
        if gap > WIDEST_STEP:
            raise PieceError(
                f"the edges would no longer meet: they would end {held(gap)} apart",
                "Take out less, or along a line that lies squarer to the edge.",
            )
        if gap > 0:
            before[-1], after[0] = met(before[-1], after[0])
    return replace(fixed, outline=tuple(one)), replace(moved, outline=tuple(other))


def _darts_across(piece: Piece, fixed: Path, moving: Path) -> list[Dart]:
    """Darts that lie neither wholly on the part that stays nor wholly on the one that moves."""
    return [
        d
        for d in piece.darts
        if not any(all(contains(region, p, 0.0) for p in dart_probes(d)) for region in (fixed, moving))
    ]


def _carried(dart: Dart, moving: Path, move: Transform) -> Dart:
    """A dart that paper was taken out of: its points go with their part, and it is trued again."""

    def carry(at: Point) -> Point:
        return move.apply(at) if contains(moving, at, 0.0) else at

    apex, legs = carry(dart.apex), (carry(dart.legs[0]), carry(dart.legs[1]))
    middle = legs[0].mix(legs[1], 0.5)
    if dart.far_apex is None:
        across = (legs[1] - legs[0]).unit().normal()
        return replace(dart, legs=legs, apex=middle + across * (apex - middle).dot(across), tip=None)
    far = carry(dart.far_apex)
    axis = (apex - far).unit()
    centre = far + axis * (middle - far).dot(axis)
    side = axis.normal() * (dart.intake / 2)
    legs = (centre - side, centre + side)
    return replace(dart, legs=legs, apex=apex, far_apex=far)
