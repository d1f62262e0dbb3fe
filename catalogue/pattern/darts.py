"""Darts as real things: legs of equal length, and a mouth shaped so that the folded dart runs smooth."""

from __future__ import annotations

from dataclasses import replace

from catalogue.geometry import GeometryError, Path, Point, Transform, contains, crossings
from catalogue.lengths import held
from catalogue.pattern.making import PieceError, check_simple, with_ends
from catalogue.pattern.measure import gaps
from catalogue.pattern.piece import Dart, Piece

SHORT_OF_POINT = 10.0
"""mm from a dart's point back to its drill hole, so that the stitching covers it (common practice, no source)."""

DIRECTION_WORDS = {"up": Point(0, -1), "down": Point(0, 1), "left": Point(-1, 0), "right": Point(1, 0)}


def add_dart(
    piece: Piece,
    name: str,
    edge: str,
    middle: float,
    intake: float,
    *,
    length: float | None = None,
    apex: Point | None = None,
    folded_to: str = "",
    straight: bool = False,
    unequal: bool = False,
) -> Piece:
    """The piece with a dart drawn on an edge.

    Args:
        middle: mm along the edge to the middle of the mouth.
        intake: mm of the edge that the dart takes up. Zero or less draws no dart.
        length: mm from the mouth to the apex, square to the edge; or give `apex` itself.
        folded_to: edge name or direction the dart is pressed to; "" picks the trade's habit: upright darts to the
            fold edge, level ones down (common practice, no source).
        straight: leave the mouth straight.
        unequal: keep the legs as they are drawn, of different length if they are so, and the mouth straight.

    Raises:
        PieceError: the mouth runs off the edge or into another dart, or the apex lies outside the paper.
    """
    if intake <= 1e-6:
        return piece
    path = piece.edge(edge).path
    s0, s1 = middle - intake / 2, middle + intake / 2
    if s0 < -1e-6 or s1 > path.length + 1e-6:
        raise PieceError(
            f"the dart “{name}” is wider than the room on “{edge}”: it takes {held(intake)}, "
            f"and its middle lies {held(middle)} along an edge of {held(path.length)}",
            "Move its middle or let it take in less.",
        )
    for a, b in gaps(piece, edge):
        if s0 < b - 1e-6 and s1 > a + 1e-6:
            raise PieceError(f"the dart “{name}” runs into another one on “{edge}”", "Move its middle.")
    s0, s1 = max(s0, 0.0), min(s1, path.length)
    legs = (path.point_at(s0), path.point_at(s1))
    if apex is None:
        if length is None:
            raise PieceError(f"the dart “{name}” has neither a length nor a point", "Add: length 10 cm.")
        apex = legs[0].mix(legs[1], 0.5) + (legs[1] - legs[0]).normal() * length
    before = path.between(0, s0) if s0 > 1e-6 else None
    after = path.between(s1, path.length) if path.length - s1 > 1e-6 else None
    if not unequal:
        legs, before, after = _trued(apex, legs, before, after)
    side = _folded_side(piece, apex, legs, folded_to, name)
    roof = None if straight or unequal else _roof(apex, legs, before, after, side)
    middle_part = roof or Path.line(*legs)
    segments = tuple(s for p in (before, middle_part, after) if p for s in p.segments)
    tip = roof.segments[len(roof.segments) // 2].start if roof else None
    dart = Dart(name, edge, apex, legs, tip, folded_to)
    edges = tuple(replace(e, path=Path(segments)) if e.name == edge else e for e in piece.edges)
    redrawn = Path(segments)
    # A notch that the mouth swallows stays on the edge as it now runs.
    notches = tuple(
        replace(n, at=redrawn.point_at(redrawn.nearest(n.at)[0])) if n.edge == edge else n
        for n in piece.notches
    )
    made = piece.with_changes(
        edges=edges, darts=(*piece.darts, dart), notches=notches, points={**piece.points, name: apex}
    )
    check_apex(made, dart)
    check_simple(made)
    return made


def check_apex(piece: Piece, dart: Dart) -> None:
    """Raise PieceError when a dart's point lies off the paper."""
    for at in (dart.apex, dart.far_apex):
        if at is not None and not contains(piece.outline, at, 0.5):
            raise PieceError(
                f"the point of the dart “{dart.name}” lies outside the piece “{piece.name}”",
                "Shorten the dart or move its middle.",
                at,
            )


def drill_holes(dart: Dart) -> tuple[Point, ...]:
    """Where a dart is pierced: on its middle line, `SHORT_OF_POINT` from each point; none on one too short for it."""
    middle = dart.legs[0].mix(dart.legs[1], 0.5)
    points = [dart.apex] if dart.far_apex is None else [dart.apex, dart.far_apex]
    return tuple(p.toward(middle, SHORT_OF_POINT) for p in points if p.distance(middle) >= 2 * SHORT_OF_POINT)


def add_double_dart(piece: Piece, name: str, start: Point, end: Point, widest: Point, intake: float) -> Piece:
    """The piece with a double-ended dart from `start` to `end`, `intake` mm wide at `widest`. Raises PieceError."""
    if intake <= 1e-6:
        return piece
    axis = (end - start).unit()
    side = axis.normal() * (intake / 2)
    dart = Dart(name, "", end, (widest - side, widest + side), None, "", start)
    made = piece.with_changes(darts=(*piece.darts, dart), points={**piece.points, name: end})
    check_apex(made, dart)
    return made


def folded_side(piece: Piece, dart: Dart) -> int:
    """0 when what a dart takes lies under the paper before its first leg, 1 when under that after its second."""
    return _folded_side(piece, dart.apex, dart.legs, dart.folded_to, dart.name)


def roof_of(piece: Piece, dart: Dart, side: int | None = None) -> Piece:
    """The piece with a new dart whose mouth, straight on its edge so far, is shaped for the folded dart.

    `side` is as `folded_side` gives it, for a fold that does not lie where the dart's habit is.
    """
    edge = piece.edge(dart.edge) if any(e.name == dart.edge for e in piece.edges) else None
    if edge is None:
        edge = min(
            piece.edges, key=lambda e: e.path.nearest(dart.legs[0])[1] + e.path.nearest(dart.legs[1])[1]
        )
    path = edge.path
    s0, s1 = path.nearest(dart.legs[0])[0], path.nearest(dart.legs[1])[0]
    before = path.between(0, s0) if s0 > 1e-6 else None
    after = path.between(s1, path.length) if path.length - s1 > 1e-6 else None
    side = folded_side(piece, dart) if side is None else side
    roof = _roof(dart.apex, dart.legs, before, after, side)
    dart = replace(dart, edge=edge.name)
    if roof is None:
        return piece.with_changes(darts=(*piece.darts, dart))
    segments = tuple(s for p in (before, roof, after) if p for s in p.segments)
    edges = tuple(replace(e, path=Path(segments)) if e.name == edge.name else e for e in piece.edges)
    dart = replace(dart, tip=roof.segments[len(roof.segments) // 2].start)
    return piece.with_changes(edges=edges, darts=(*piece.darts, dart))


def _trued(
    apex: Point, legs: tuple[Point, Point], before: Path | None, after: Path | None
) -> tuple[tuple[Point, Point], Path | None, Path | None]:
    """Legs made equal by lengthening the shorter one, the edge beside it redrawn to meet it."""
    first, second = legs[0].distance(apex), legs[1].distance(apex)
    if min(first, second) < 1e-6:
        raise PieceError("the dart's point lies on its own mouth", "Give it a length.")
    longer = max(first, second)
    new = (apex.toward(legs[0], longer), apex.toward(legs[1], longer))
    if before is not None:
        before = with_ends(before, before.start, new[0])
    if after is not None:
        after = with_ends(after, new[1], after.end)
    return new, before, after


def _folded_side(piece: Piece, apex: Point, legs: tuple[Point, Point], folded_to: str, name: str) -> int:
    """0 when the dart is pressed over its first leg, 1 over its second."""
    across = legs[1] - legs[0]
    if folded_to in DIRECTION_WORDS:
        return 0 if across.dot(DIRECTION_WORDS[folded_to]) < 0 else 1
    target = folded_to
    if not target:
        axis = legs[0].mix(legs[1], 0.5) - apex
        if abs(axis.x) > abs(axis.y):
            return 0 if across.y < 0 else 1
        target = next((e.name for e in piece.edges if e.fold), piece.edges[0].name)
    try:
        towards = piece.edge(target).path
    except KeyError:
        known = ", ".join(e.name for e in piece.edges)
        raise PieceError(
            f"the dart “{name}” is folded to “{target}”, which is not an edge of the piece",
            f"Its edges: {known}.",
        ) from None
    return 0 if towards.nearest(legs[0])[1] <= towards.nearest(legs[1])[1] else 1


def _roof(
    apex: Point, legs: tuple[Point, Point], before: Path | None, after: Path | None, side: int
) -> Path | None:
    """The edge across the mouth: what the scissors leave when the dart is folded and the seam line cut through.

    Folded to one side, the dart's underlay lies under that side; its edge is the seam line there, mirrored over the
    leg, as far as the dart's middle, and mirrored again from there. None when the seam line never meets the middle.
    """
    seam = before.reversed() if side == 0 and before else after if side == 1 else None
    if seam is None:
        return None
    leg, other = (legs[0], legs[1]) if side == 0 else (legs[1], legs[0])
    middle = legs[0].mix(legs[1], 0.5)
    width = legs[0].distance(legs[1])
    if seam.length < width:
        seam = seam.extended(0, 2 * width)
    mirrored = seam.between(0, min(seam.length, 4 * width)).transformed(Transform.reflection(apex, leg))
    try:
        axis = Path.line(apex, apex + (middle - apex).unit() * (apex.distance(middle) + 2 * width))
        found = crossings(mirrored, axis)
    except GeometryError:
        return None
    if not found or found[0].on_first < 1e-6 or found[0].point.distance(middle) > 1.5 * width:
        return None
    half = mirrored.between(0, found[0].on_first)
    back = half.transformed(Transform.reflection(apex, middle)).reversed()
    half = with_ends(half, leg, half.end)
    back = with_ends(back, half.end, other)
    roof = half.joined(back)
    return roof if side == 0 else roof.reversed()
