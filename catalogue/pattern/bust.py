"""Fronts made fuller or flatter over the bust, and darts moved where they lie."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from catalogue.geometry import Line, Path, Point, Transform, contains
from catalogue.lengths import held
from catalogue.pattern.contents import fitted, moved_dart
from catalogue.pattern.darts import check_apex, roof_of
from catalogue.pattern.making import PieceError, check_simple, with_ends
from catalogue.pattern.measure import ON_EDGE, mouth, sewn_length
from catalogue.pattern.piece import Dart, Edge, Piece
from catalogue.pattern.ring import Stretch, assemble, place, stretches
from catalogue.pattern.shifting import Shift, shifted

STOP = 25.0
"""mm that a new dart stops before the bust point (1 to 2 in from it: thedailysew.com)."""

CLOSE = 0.05
"""mm within which the side is as long as it was."""

STEEPEST = 35.0
"""Degrees that the upper side of a front is turned at most."""


def widened(piece: Piece, bust: Point, amount: float, hinge: Point, side: Point, waist: Point) -> Piece:
    """A half front that is fuller by `amount` mm over the bust (negative: flatter), its armhole and its seams as long.

    The paper is slashed from the waist over the bust point to the armhole, hinged there, and from the bust point to the
    side; the side opens into a dart, or its dart widens; the part below the bust moves out by the amount and the middle
    goes down with it, so that the waist is level. A dart at the waist takes the width; without one the waist gets it.
    The piece lies with its centre to the left, so that its outline runs from the armhole down the side to the waist.

    Args:
        hinge: on the armhole. side, waist: where the outline opens; darts whose mouths lie there open and close.

    Raises:
        PieceError: a point lies off the outline, or a dart has less to give than is asked.
    """
    turn = _turn(bust - hinge, amount)
    swing = Transform.rotation(turn, hinge)
    by = swing.apply(bust) - bust
    out, down = Transform.translation(by), Transform.translation(Point(0.0, by.y))
    side_dart, waist_dart = _dart_at(piece, side), _dart_at(piece, waist)
    s_hinge = place(piece, hinge)
    s_side = _ends(piece, side_dart, side)
    s_waist = _ends(piece, waist_dart, waist)
    waist_edge = _edge_of(piece, s_waist[1])
    s_centre = _end_of(piece, waist_edge)
    parts = (
        _MovedStretch(stretches(piece, s_hinge, s_side[0]), swing),
        _MovedStretch(stretches(piece, s_side[1], s_waist[0]), out),
        _MovedStretch(stretches(piece, s_waist[1], s_centre), down),
        _MovedStretch(stretches(piece, s_centre, s_hinge), Transform.translation(Point(0.0, 0.0))),
    )
    middle = bust + by * 0.5
    _refuse_lost(side_dart, parts, amount)
    _refuse_lost(waist_dart, parts, amount, of_waist=True)
    ring: list[Stretch] = []
    bridges = {0: _edge_of(piece, s_side[0]), 1: _edge_of(piece, s_waist[0])}
    for n, part in enumerate(parts):
        moved = part.moved()
        if n == 3 and ring:
            moved[0] = replace(moved[0], path=with_ends(moved[0].path, ring[-1].path.end, moved[0].path.end))
        ring += moved
        if n in bridges:
            following = parts[n + 1].moved()[0].path.start
            if ring[-1].path.end.distance(following) > 1e-6:
                ring.append(Stretch(bridges[n], Path.line(ring[-1].path.end, following)))
    edges = assemble(ring)
    begins = next((i for i, e in enumerate(edges) if e.name == piece.edges[0].name), 0)
    edges = (*edges[begins:], *edges[:begins])
    regions = [(part, _region(part, bust)) for part in parts[:2]]

    def carried(at: Point) -> Point:
        if at.distance(bust) < ON_EDGE:
            return middle
        s = place(piece, at) if piece.outline.nearest(at)[1] < ON_EDGE else None
        for part in parts:
            if s is not None and any(p.path.nearest(at)[1] < ON_EDGE / 5 for p in part.runs):
                return part.by.apply(at)
        for part, region in regions:
            if contains(region, at, 0.0):
                return part.by.apply(at)
        return at

    kept: list[Dart] = []
    redrawn: list[Dart] = []
    for dart in piece.darts:
        if dart in (side_dart, waist_dart):
            first, second = (parts[0], parts[1]) if dart is side_dart else (parts[1], parts[2])
            legs = (first.by.apply(dart.legs[0]), second.by.apply(dart.legs[1]))
            redrawn.append(_even(replace(dart, legs=legs, apex=dart.apex + by * 0.5, tip=None)))
        else:
            part = next(
                (p for p in parts if any(r.path.nearest(dart.legs[0])[1] < ON_EDGE for r in p.runs)), parts[3]
            )
            kept.append(moved_dart(dart, part.by))
    if side_dart is None and amount > 0:
        legs = (parts[0].moved()[-1].path.end, parts[1].moved()[0].path.start)
        between = legs[0].mix(legs[1], 0.5)
        new = Dart("bust_dart", bridges[0].name, middle.toward(between, STOP), legs, None, "down")
        redrawn.append(_even(new))
    made = piece.with_changes(
        edges=edges,
        darts=tuple(kept),
        notches=tuple(replace(n, at=carried(n.at)) for n in piece.notches),
        marks=tuple(replace(m, at=carried(m.at)) for m in piece.marks),
        points={n: carried(p) for n, p in piece.points.items()},
        grain=piece.grain,
    )
    for n, dart in enumerate(redrawn):
        if dart.edge == bridges[0].name:
            made, legs = _levelled(made, dart, middle, sewn_length(piece, dart.edge))
            redrawn[n] = _even(replace(dart, legs=legs))
    for dart in redrawn:
        made = roof_of(made, dart)
        check_apex(made, dart)
        made = made.with_changes(points={**made.points, dart.name: dart.apex})
    made = fitted(made)
    check_simple(made)
    return made


@dataclass(frozen=True, slots=True)
class _MovedStretch:
    """A stretch of the outline that moves as a whole."""

    runs: Sequence[Stretch]
    by: Transform

    def moved(self) -> list[Stretch]:
        return [replace(r, path=r.path.transformed(self.by)) for r in self.runs]


def _turn(arm: Point, amount: float) -> float:
    """Degrees about the hinge that carry the bust point outwards by an amount."""
    low, high = -STEEPEST, STEEPEST

    def moved(degrees: float) -> float:
        angle = math.radians(degrees)
        return arm.x * math.cos(angle) - arm.y * math.sin(angle) - arm.x

    if arm.y <= 0 or not moved(high) <= amount <= moved(low):
        raise PieceError(f"the front can't be made wider by {held(amount)} there", "Give a smaller amount.")
    for _ in range(60):
        middle = (low + high) / 2
        if moved(middle) > amount:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _dart_at(piece: Piece, at: Point) -> Dart | None:
    """The dart whose mouth a point of the outline lies in."""
    for dart in piece.darts:
        if dart.far_apex is not None or not dart.edge:
            continue
        path = piece.edge(dart.edge).path
        s, off = path.nearest(at)
        a, b = mouth(piece, dart)
        if off < ON_EDGE and a - ON_EDGE <= s <= b + ON_EDGE:
            return dart
    return None


def _ends(piece: Piece, dart: Dart | None, at: Point) -> tuple[float, float]:
    if dart is None:
        s = place(piece, at)
        return s, s
    return place(piece, dart.legs[0], dart.edge), place(piece, dart.legs[1], dart.edge)


def _edge_of(piece: Piece, s: float) -> Edge:
    start = 0.0
    for edge in piece.edges:
        if s <= start + edge.path.length + 1e-6:
            return edge
        start += edge.path.length
    return piece.edges[-1]


def _end_of(piece: Piece, edge: Edge) -> float:
    start = 0.0
    for each in piece.edges:
        start += each.path.length
        if each.name == edge.name:
            return start
    return start


def _region(part: _MovedStretch, bust: Point) -> Path:
    path = part.runs[0].path
    for run in part.runs[1:]:
        path = path.joined(with_ends(run.path, path.end, run.path.end))
    return Path((*path.segments, Line(path.end, bust), Line(bust, path.start)))


def _refuse_lost(
    dart: Dart | None, parts: Sequence[_MovedStretch], amount: float, *, of_waist: bool = False
) -> None:
    """Raise PieceError where a dart would have to take less than nothing."""
    if dart is None or amount > 0:
        return
    first, second = (parts[1], parts[2]) if of_waist else (parts[0], parts[1])
    was = dart.legs[1] - dart.legs[0]
    now = second.by.apply(dart.legs[1]) - first.by.apply(dart.legs[0])
    if now.dot(was) <= 0:
        raise PieceError(
            f"the dart “{dart.name}” takes only {held(dart.intake)}, less than is to be taken out",
            "Take out less, or draft it again.",
        )


def _levelled(piece: Piece, dart: Dart, bust: Point, length: float) -> tuple[Piece, tuple[Point, Point]]:
    """The piece with the legs of its dart ending as far from the bust point, and the edge as long as it was.

    Folded from the bust point, both legs then end on one line of the side.
    """

    radius = sum(bust.distance(leg) for leg in dart.legs) / 2
    legs = bust.toward(dart.legs[0], radius), bust.toward(dart.legs[1], radius)
    away = 1.0 if (legs[0] - bust).cross(legs[1] - bust) > 0 else -1.0
    for _ in range(4):
        made = shifted(piece, [Shift(a, b - a) for a, b in zip(dart.legs, legs, strict=True)])
        off = made.edge(dart.edge).path.length - legs[0].distance(legs[1]) - length
        if abs(off) < CLOSE:
            return made, legs
        turn = Transform.rotation(away * math.degrees(off / radius), bust)
        legs = legs[0], turn.apply(legs[1])
    return shifted(piece, [Shift(a, b - a) for a, b in zip(dart.legs, legs, strict=True)]), legs


def _even(dart: Dart) -> Dart:
    """The dart with its point square over the middle of its mouth, so that both legs are of one length."""
    middle = dart.legs[0].mix(dart.legs[1], 0.5)
    length = dart.apex.distance(middle)
    across = (dart.legs[1] - dart.legs[0]).unit().normal()
    if across.dot(dart.apex - middle) < 0:
        across = -across
    return replace(dart, apex=middle + across * length)


def dart_shifted(piece: Piece, name: str, by: Point, carrying: Sequence[str] = ()) -> Piece:
    """The piece with a dart moved as in a box cut round it: its point by so much, its mouth along its edge.

    Args:
        carrying: named points that go with it, and the marks that lie on them.

    Raises:
        PieceError: there is no such dart, or its mouth would leave its edge.
    """
    dart = next((d for d in piece.darts if d.name == name and d.far_apex is None), None)
    if dart is None:
        known = ", ".join(d.name for d in piece.darts) or "none"
        raise PieceError(f"the piece “{piece.name}” has no dart “{name}”", f"Its darts: {known}.")
    path = piece.edge(dart.edge).path
    a, b = mouth(piece, dart)
    along = (dart.legs[1] - dart.legs[0]).unit()
    slide = along * by.dot(along)
    legs = (dart.legs[0] + slide, dart.legs[1] + slide)
    step = by.dot(along)
    if a + step < 1.0 or b + step > path.length - 1.0:
        raise PieceError(f"the dart “{name}” would leave the edge “{dart.edge}”", "Move it by less.")
    before = with_ends(path.between(0.0, a), path.start, legs[0])
    after = with_ends(path.between(b, path.length), legs[1], path.end)
    edge = Path((*before.segments, Line(*legs), *after.segments))
    still = {n: p for n, p in piece.points.items() if n in carrying}
    points = {n: p + by if n in carrying or n == name else p for n, p in piece.points.items()}
    made = piece.with_changes(
        edges=tuple(replace(e, path=edge) if e.name == dart.edge else e for e in piece.edges),
        darts=tuple(d for d in piece.darts if d.name != name),
        points=points,
        marks=tuple(
            replace(m, at=m.at + by) if any(m.at.distance(p) < ON_EDGE for p in still.values()) else m
            for m in piece.marks
        ),
    )
    moved = replace(dart, legs=legs, apex=dart.apex + by, tip=None)
    made = roof_of(made, moved)
    check_apex(made, moved)
    made = fitted(
        made.with_changes(
            notches=tuple(
                replace(n, at=made.edge(n.edge).path.point_at(made.edge(n.edge).path.nearest(n.at)[0]))
                if n.edge == dart.edge
                else n
                for n in made.notches
            )
        )
    )
    check_simple(made)
    return made


def notch_shifted(piece: Piece, edge: str, at: Point, amount: float, toward: Point) -> Piece:
    """The piece with the notch of an edge that is nearest to a point moved along it, toward another point.

    Raises:
        PieceError: there is no notch on the edge, or it would leave it.
    """
    notches = [n for n in piece.notches if n.edge == edge]
    if not notches:
        raise PieceError(f"there is no notch on “{edge}”", "Name an edge with a notch.")
    notch = min(notches, key=lambda n: n.at.distance(at))
    path = piece.edge(edge).path
    s, aim = path.nearest(notch.at)[0], path.nearest(toward)[0]
    to = s + (amount if aim >= s else -amount)
    if not 0.0 < to < path.length:
        raise PieceError(f"the notch would leave the edge “{edge}”", "Move it by less.", notch.at)
    return piece.with_changes(
        notches=tuple(replace(n, at=path.point_at(to)) if n is notch else n for n in piece.notches)
    )
