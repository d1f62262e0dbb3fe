"""Landmarks: pieces under the names that alterations know, laid upright, and given back as they were.

In an alteration every piece lies with its grain upright and its middle (centre, crotch) to the left, whatever way round
a style has drawn it; a sleeve lies with the seam of the back to the left.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from catalogue.drafting.once import once
from catalogue.geometry import Line, Point, Transform
from catalogue.pattern import Edge, Piece
from catalogue.pattern.measure import mouth
from catalogue.pattern.moving import moved

if TYPE_CHECKING:
    from catalogue.drafting.model import Draft

CORNERS = (
    ("neck_point", "neck", "shoulder"),
    ("shoulder_tip", "shoulder", "armhole"),
    ("underarm", "armhole", "side"),
    ("waist_side", "side", "waist"),
    ("centre_neck", "neck", "centre"),
    ("centre_waist", "centre", "waist"),
    ("centre_waist", "crotch", "waist"),
    ("hem_side", "side", "hem"),
    ("hem_centre", "centre", "hem"),
    ("hem_inside", "inside", "hem"),
    ("crotch_point", "crotch", "inside"),
    ("back_underarm", "cap", "back_seam"),
    ("front_underarm", "cap", "front_seam"),
    ("back_wrist", "back_seam", "hem"),
    ("front_wrist", "front_seam", "hem"),
)
"""Points that an alteration can name wherever two edges of these names meet."""

_MIDDLES = ("centre", "crotch", "inside")
UPRIGHT = 0.5
"""Degrees within which a grain line counts as upright."""


@dataclass(frozen=True, slots=True)
class Landmarked:
    """A piece under its landmarks, and the way back.

    Attributes:
        piece: as an alteration sees it.
        own: the name it has in the style.
        edges: of each edge that has another name there, that name.
        points: names of the points that were put on it for the alteration.
        back: the move that lays it where it was; `turned_over` where that is a reflection.
    """

    piece: Piece
    own: Piece
    edges: Mapping[str, str]
    points: frozenset[str]
    back: Transform
    turned_over: bool

    def given_back(self, altered: Piece) -> Piece:
        """An altered piece as the style has it."""
        points = {n: p for n, p in altered.points.items() if n not in self.points}
        plain = replace_names(altered.with_changes(points=points), self.own.name, self.edges)
        if self.back != _STILL:
            plain = moved(plain, self.back, turns_over=self.turned_over)
            if self.turned_over:
                plain = _beginning_with(plain, self.own.edges[0].name)
        return plain


_STILL = Transform.translation(Point(0.0, 0.0))


def landmarked(pieces: Mapping[str, Piece], names: Mapping[str, str]) -> dict[str, Landmarked]:
    """The pieces by the names that alterations know.

    Args:
        names: what the style calls a landmark otherwise: "front" to "skirt_front", "front.side" to "skirt_front.outer".
    """
    found = {}
    renamed = {own: standard for standard, own in names.items() if "." not in standard}
    for own, piece in pieces.items():
        name = renamed.get(own, own)
        if name in found or (own not in renamed and name in names):
            continue
        parts = {
            other.partition(".")[2]: standard.partition(".")[2]
            for standard, other in names.items()
            if "." in standard and standard.partition(".")[0] == name and other.partition(".")[0] == own
        }
        found[name] = _landmarked(piece, name, parts)
    return found


@once(48)  # as many as there are blocks kept: a client's styles are cut from the same
def landmarks_of(draft: Draft) -> Mapping[str, Landmarked]:
    """The pieces of a draft by the names that alterations know."""
    return landmarked(draft.pieces, draft.style.landmarks)


def _landmarked(piece: Piece, name: str, parts: Mapping[str, str]) -> Landmarked:
    made = replace_names(piece, name, parts)
    points = {parts.get(n, n): p for n, p in made.points.items()}
    made = made.with_changes(points={**made.points, **points, **_corners(made)})
    there, back, over = _upright(made)
    if there != _STILL:
        made = moved(made, there, turns_over=over)
    return Landmarked(
        made,
        piece,
        {standard: own for own, standard in parts.items() if any(e.name == own for e in piece.edges)},
        frozenset(made.points) - frozenset(piece.points),
        back,
        over,
    )


def replace_names(piece: Piece, name: str, edges: Mapping[str, str]) -> Piece:
    """The piece under another name, with other names for some of its edges."""

    def called(edge: str) -> str:
        return edges.get(edge, edge)

    return piece.with_changes(
        name=name,
        edges=tuple(replace(e, name=called(e.name)) for e in piece.edges),
        darts=tuple(replace(d, edge=called(d.edge), folded_to=called(d.folded_to)) for d in piece.darts),
        pleats=tuple(replace(p, edge=called(p.edge), folded_to=called(p.folded_to)) for p in piece.pleats),
        notches=tuple(replace(n, edge=called(n.edge)) for n in piece.notches),
    )


def _beginning_with(piece: Piece, name: str) -> Piece:
    """The same ring of edges, beginning with one of them."""
    at = next((i for i, e in enumerate(piece.edges) if e.name == name), 0)
    return piece.with_changes(edges=(*piece.edges[at:], *piece.edges[:at]))


def _corners(piece: Piece) -> dict[str, Point]:
    found: dict[str, Point] = {}
    for point, one, other in CORNERS:
        for before, after in _neighbours(piece):
            if {before.name, after.name} == {one, other}:
                found.setdefault(point, after.path.start)
    for edge in piece.edges:
        if edge.fold:
            found.setdefault(f"{edge.name}_fold", edge.path.point_at(edge.path.length / 2))
    for dart in piece.darts:
        if dart.edge and dart.far_apex is None:
            a, b = mouth(piece, dart)
            found[f"{dart.name}_mouth"] = piece.edge(dart.edge).path.point_at((a + b) / 2)
    cap = next((e for e in piece.edges if e.name == "cap"), None)
    if cap is not None:
        marks = [n.at for n in piece.notches if n.edge == "cap"]
        highest = min(cap.path.flatten(1.0), key=lambda p: p.y)
        found["cap_top"] = min(marks, key=highest.distance, default=highest)
        beside = [at for at in marks if at != found["cap_top"]]
        for side in ("back", "front"):
            if beside and f"{side}_underarm" in found:
                found[f"{side}_cap_notch"] = min(beside, key=found[f"{side}_underarm"].distance)
    shoulder = next((e for e in piece.edges if e.name == "shoulder"), None)
    if shoulder is not None and "neck_point" in found:
        ends = (shoulder.path.start, shoulder.path.end)
        found["shoulder_end"] = max(ends, key=found["neck_point"].distance)
    for notch in piece.notches:
        # The first along the edge; an armhole's is its pitch.
        found.setdefault(f"{notch.edge}_notch", notch.at)
    return found


def _neighbours(piece: Piece) -> Iterator[tuple[Edge, Edge]]:
    for n, edge in enumerate(piece.edges):
        yield piece.edges[n - 1], edge


def _upright(piece: Piece) -> tuple[Transform, Transform, bool]:
    """The move that lays a piece upright with its middle to the left, the way back, and whether it is turned over."""
    there, back, over = _STILL, _STILL, False
    way = _grain_of(piece)
    if way is not None:
        turn = 90.0 - math.degrees(math.atan2(way.y, way.x))
        if abs(turn) > UPRIGHT:
            there, back = Transform.rotation(turn), Transform.rotation(-turn)
    left, right = _left_and_right(piece)
    if left is not None and right is not None and there.apply(left).x > there.apply(right).x:
        flip = Transform.reflection(Point(0.0, 0.0), Point(0.0, 1.0))
        there, back, over = there.then(flip), flip.then(back), True
    return there, back, over


def _grain_of(piece: Piece) -> Point | None:
    """The way down along the fold, else along the grain line."""
    fold = next(
        (e.path for e in piece.edges if e.fold and all(isinstance(s, Line) for s in e.path.segments)), None
    )
    ends = (fold.start, fold.end) if fold is not None else piece.grain
    if ends is None or ends[0].distance(ends[1]) < 1.0:
        return None
    way = ends[1] - ends[0]
    return way if way.y > 0 else -way


def _left_and_right(piece: Piece) -> tuple[Point | None, Point | None]:
    """A point that belongs to the left, and one to the right of it."""
    middles = {e.name: e.path.point_at(e.path.length / 2) for e in piece.edges}
    if "back_seam" in middles and "front_seam" in middles:
        return middles["back_seam"], middles["front_seam"]
    middle = next((middles[name] for name in _MIDDLES if name in middles), None)
    return middle, middles.get("side")


def missing(landmarks: Iterable[str], pieces: Mapping[str, Landmarked]) -> tuple[str, ...]:
    """Those of the landmarks ("back", "back.centre") that are not there."""
    return tuple([name for name in landmarks if not is_there(name, pieces)])


def is_there(landmark: str, pieces: Mapping[str, Landmarked]) -> bool:
    """Whether a landmark ("back", "back.centre") is there."""
    name, _, part = landmark.partition(".")
    known = pieces.get(name)
    if known is None or not part:
        return known is not None
    piece = known.piece
    return (
        part in piece.points
        or part in [edge.name for edge in piece.edges]
        or part in [dart.name for dart in piece.darts]
    )
