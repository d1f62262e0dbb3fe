"""Pivoting: a dart folded shut on its point, and the paper opened elsewhere."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from catalogue.geometry import Path, Point, Transform, contains, crossings
from catalogue.lengths import held
from catalogue.pattern.contents import direction_word, fitted
from catalogue.pattern.darts import folded_side, roof_of
from catalogue.pattern.grain import clear_grain, kept_grain
from catalogue.pattern.making import Crossed, PieceError, check_simple
from catalogue.pattern.measure import ON_EDGE, mouth
from catalogue.pattern.parting import PaperPart, take, which_moves
from catalogue.pattern.piece import Dart, Edge, InnerLine, Piece, Pleat
from catalogue.pattern.ring import Stretch, assemble, edge_at, met, place

UNEQUAL = 5.0
"""mm that a dart's legs may differ by, measured from the pivot, before the pivot is refused."""


@dataclass(frozen=True, slots=True)
class Opening:
    """Where the paper opens when a dart is closed.

    Attributes:
        at: a point on the outline.
        edge: the edge it lies on; "" for the nearest.
        kind: "dart", or "gathers", "pleats" or "ease" for fullness without a dart.
        name: of the new dart or fullness.
        short: mm by which the new dart stops short of the pivot.
        share: part of the closed amount that opens here.
        folded_to: which way the new dart is pressed; "" for the trade's habit.
    """

    at: Point
    edge: str = ""
    kind: str = "dart"
    name: str = ""
    short: float = 0.0
    share: float = 1.0
    folded_to: str = ""


def close_dart(
    piece: Piece, dart_name: str, pivot: Point, openings: tuple[Opening, ...], share: float = 1.0
) -> Piece:
    """Close a dart (or `share` of it) by pivoting on `pivot`, opening the paper at one place or several.

    Every edge keeps its length but the ones opened; the angle closed is the angle opened. What was drawn between the
    dart's legs is folded away with it.

    Raises:
        PieceError: there is no such dart, the pivot is off the paper or beside the dart, or an opening lies on it.
    """
    dart = next(d for d in piece.darts if d.name == dart_name)
    if not dart.edge:
        raise PieceError(
            f"the dart “{dart_name}” has two ends and can't be pivoted shut", "Cut the piece through it."
        )
    total = sum(o.share for o in openings)
    if not openings or abs(total - 1) > 1e-6:
        raise PieceError(
            "the shares of the openings must add up to the whole", "For two: taking 0.4 and taking 0.6."
        )
    if not 0 < share <= 1 + 1e-9:
        raise PieceError(
            "a dart can be closed by more than 0 and at most completely",
            "Leave out “by” to close it completely, or give a part of it such as by 1/2.",
        )
    angle = _angle(pivot, dart)
    left = 1.0
    waiting = list(openings)
    while waiting:
        opening = waiting.pop(0)
        part = share * opening.share
        piece, region, turn = _pivot_once(piece, dart_name, pivot, opening, angle * part, left - part < 1e-9)
        left -= part
        # Openings still to come go with the paper that has turned, so that they may be named in any order.
        waiting = [replace(o, at=turn.apply(o.at)) if contains(region, o.at, ON_EDGE) else o for o in waiting]
    return piece


def _angle(pivot: Point, dart: Dart) -> float:
    """Degrees that the second leg turns about the pivot to meet the first, clockwise."""
    a, b = dart.legs[0] - pivot, dart.legs[1] - pivot
    if min(a.length, b.length) < 1.0:
        raise PieceError(
            f"the pivot lies on the mouth of the dart “{dart.name}”", "Pivot on the dart's point."
        )
    if abs(a.length - b.length) > UNEQUAL:
        raise PieceError(
            f"the pivot lies beside the dart “{dart.name}”: its legs are {a.length / 10:.1f} and "
            f"{held(b.length)} from there",
            "Pivot on a point of the line through the middle of the dart.",
            pivot,
        )
    return math.degrees(math.atan2(b.cross(a), b.dot(a)))


def _pivot_once(
    piece: Piece, dart_name: str, pivot: Point, opening: Opening, degrees: float, closes: bool
) -> tuple[Piece, Path, Transform]:
    """One opening: the piece, the region of it that was turned, and how.

    `degrees` is the turn of the paper after the second leg.
    """
    dart = next(d for d in piece.darts if d.name == dart_name)
    s0, s1 = (place(piece, leg, dart.edge) for leg in dart.legs)
    if mouth(piece, dart)[0] > mouth(piece, dart)[1]:
        s0, s1 = s1, s0
    s_open = place(piece, opening.at, opening.edge)
    if min(s0, s1) - 0.5 < s_open < max(s0, s1) + 0.5:
        raise PieceError("the new opening lies on the dart itself", "Open it somewhere else on the outline.")
    opened_at = piece.outline.point_at(min(s_open, piece.outline.length))
    _check_slash(piece, pivot, opened_at, dart_name)
    after = take(piece, s1, s_open, Path.polyline([opened_at, pivot, dart.legs[1]]), {dart_name})
    before = take(piece, s_open, s0, Path.polyline([dart.legs[0], pivot, opened_at]), {dart_name})
    if which_moves(before, after):
        turn = Transform.rotation(degrees, pivot)
        fixed, moved, region = before, after.moved(turn), after.region
        new_open = (turn.apply(opened_at), opened_at)
        legs = (dart.legs[0], turn.apply(dart.legs[1]))
    else:
        turn = Transform.rotation(-degrees, pivot)
        fixed, moved, region = after, before.moved(turn), before.region
        new_open = (opened_at, turn.apply(opened_at))
        legs = (turn.apply(dart.legs[0]), dart.legs[1])
    # In the ring the opening comes between the end of `after` and the start of `before`.
    follow, lead = (moved, fixed) if fixed is before else (fixed, moved)
    edge = edge_at(piece, s_open - 0.01) if not opening.edge else piece.edge(opening.edge)
    mouth_path = Path.line(*new_open)
    ring: list[Stretch] = [*follow.outline, Stretch(edge, mouth_path), *lead.outline]
    if not closes:
        dart_edge = piece.edge(dart.edge)
        ring.append(Stretch(dart_edge, Path.line(*legs)))
    else:
        ring[-1], ring[0] = met(ring[-1], ring[0])
    made = _put_together(piece, fixed, moved, ring)
    if not closes:
        # What is left of the dart ends at the pivot: the paper turned about it, not about the dart's own point.
        made = made.with_changes(darts=(*made.darts, replace(dart, legs=legs, apex=pivot, tip=None)))
    made = _with_opening(made, opening, new_open, pivot, edge)
    made = fitted(made)
    try:
        check_simple(made)
    except Crossed as error:
        raise PieceError(
            f"the paper would fold over itself: {error.message}",
            "Close less of the dart, or open it somewhere else.",
            error.at,
        ) from None
    return made, region, turn


def _check_slash(piece: Piece, pivot: Point, to: Point, dart_name: str) -> None:
    """The paper is slashed straight from the opening to the pivot: that line must lie on it all the way."""
    if not contains(piece.outline, pivot):
        raise PieceError(
            f"the pivot lies outside the piece “{piece.name}”", "Pivot on a point of the paper.", pivot
        )
    line = Path.line(to, pivot)
    # Within a ruler's error of its ends the line may touch the outline.
    touched = [c for c in crossings(line, piece.outline) if ON_EDGE < c.on_first < line.length - ON_EDGE]
    if touched:
        raise PieceError(
            f"the straight line from the opening to the pivot leaves the piece “{piece.name}”, so the dart "
            f"“{dart_name}” can't be opened there",
            "Open it where a straight line to the pivot stays on the paper.",
            touched[0].point,
        )


def _put_together(piece: Piece, fixed: PaperPart, moved: PaperPart, ring: list[Stretch]) -> Piece:
    edges = assemble(ring)
    name = piece.edges[0].name
    start = next((i for i, e in enumerate(edges) if e.name == name), 0)
    made = fixed.contents.and_also(moved.contents).on(piece, (*edges[start:], *edges[:start]))
    return made.with_changes(grain=kept_grain(piece, made, fixed.contents.grain))


def _with_opening(
    piece: Piece, opening: Opening, legs: tuple[Point, Point], pivot: Point, edge: Edge
) -> Piece:
    """The opened wedge as a dart with its mouth shaped, or as fullness."""
    if legs[0].distance(legs[1]) < 1e-6:
        return piece
    if opening.kind == "pleats":
        return folded_wedge(
            piece,
            opening.name or _free(piece, f"{edge.name}_pleat"),
            edge.name,
            legs,
            pivot,
            opening.folded_to,
        )
    if opening.kind != "dart":
        name = opening.name or _free(piece, f"{edge.name}_{opening.kind}")
        return piece.with_changes(
            pleats=(*piece.pleats, Pleat(name, edge.name, legs, opening.kind, opening.folded_to))
        )
    middle = legs[0].mix(legs[1], 0.5)
    if opening.short >= pivot.distance(middle) - 1:
        raise PieceError(
            f"the new dart would stop short by more than its length, {held(pivot.distance(middle))}",
            "Stop it less far short.",
        )
    apex = pivot.toward(middle, opening.short) if opening.short else pivot
    name = opening.name or _free(piece, f"{edge.name}_dart")
    dart = Dart(name, edge.name, apex, legs, None, opening.folded_to)
    shaped = roof_of(piece, dart)
    points = {**piece.points, name: apex}
    return shaped.with_changes(points=points)


def folded_wedge(
    piece: Piece, name: str, edge: str, legs: tuple[Point, Point], point: Point, folded_to: str
) -> Piece:
    """A wedge of fullness laid in one pleat: its edge cut as the folded paper is, its folds and arrows drawn.

    The fold that is seen points to `folded_to`, so what the pleat takes lies on the other side, unlike a dart's; when
    that is not said it lies where a dart's would.
    """
    dart = Dart(name, edge, point, legs, None, folded_to)
    under = folded_side(piece, dart)
    under = 1 - under if folded_to else under
    shaped = roof_of(piece, dart, under)
    on = shaped.darts[-1].edge
    folds = [Path.line(leg, point) for leg in legs]
    seen, place = folds[under], folds[1 - under]
    arrow = InnerLine(
        Path.line(seen.point_at(seen.length * 0.3), place.point_at(place.length * 0.3)), "arrow"
    )
    made = shaped.with_changes(
        darts=piece.darts,
        pleats=(
            *piece.pleats,
            Pleat(name, on, legs, "knife", folded_to or direction_word(legs[1 - under] - legs[under])),
        ),
        lines=(*piece.lines, *(InnerLine(f, "pleat") for f in folds), arrow),
    )
    return made.with_changes(grain=clear_grain(made, made.grain)) if made.grain else made


def _free(piece: Piece, wanted: str) -> str:
    names = {d.name for d in piece.darts} | {p.name for p in piece.pleats}
    return next(n for n in (wanted, *(f"{wanted}_{i}" for i in range(2, 99))) if n not in names)
