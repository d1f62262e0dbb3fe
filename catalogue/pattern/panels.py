"""Panel seams: a piece cut through the points of its darts, so that the darts vanish into the seam."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from catalogue.geometry import Knot, Path, Point, contains, smooth
from catalogue.pattern.contents import contents_within
from catalogue.pattern.making import PieceError, check_simple
from catalogue.pattern.measure import ON_EDGE, mouth
from catalogue.pattern.parting import PaperPart, part_as_piece
from catalogue.pattern.piece import Dart, Edge, Piece
from catalogue.pattern.ring import Stretch, assemble, closed, place, stretches


@dataclass(frozen=True, slots=True)
class Stop:
    """A place the seam passes: a dart's name, or a point (on the outline at either end, on the paper between)."""

    dart: str = ""
    at: Point | None = None


def cut_through(
    piece: Piece,
    stops: Sequence[Stop],
    names: Sequence[tuple[str, str]],
    edge_name: str,
    *,
    smoothly: bool = False,
    first_holds: Point | None = None,
) -> tuple[Piece, Piece]:
    """Cut a piece in two from one dart (or point of the outline) to another, through their points.

    What the darts take in is cut away. With `smoothly` each side is drawn as one curve through the darts' points
    instead of with corners.

    Raises:
        PieceError: fewer than two stops, an end that is neither a dart nor on the outline, or another dart in the way.
    """
    if len(stops) < 2:
        raise PieceError("a panel seam needs two ends")
    darts = {d.name: d for d in piece.darts}
    taken = {s.dart for s in stops if s.dart}
    ends = []
    for stop in (stops[0], stops[-1]):
        if stop.dart:
            dart = darts[stop.dart]
            if not dart.edge:
                raise PieceError(f"the dart “{dart.name}” does not reach an edge")
            s0, s1 = (place(piece, leg, dart.edge) for leg in dart.legs)
            flip = mouth(piece, dart)[0] > mouth(piece, dart)[1]
            ends.append((s1, s0) if flip else (s0, s1))
        else:
            assert stop.at is not None
            s = place(piece, stop.at)
            ends.append((s, s))
    parts = []
    # One part runs from behind the first stop round to the second, the other from behind the second to the first.
    for (_, s_from), (s_to, _), row in ((ends[0], ends[1], stops[::-1]), (ends[1], ends[0], stops)):
        outline = stretches(piece, s_from, s_to)
        start, end = outline[-1].path.end, outline[0].path.start
        seam = _seam([start, *_route(row, darts, start), end], smoothly)
        region = closed(outline, seam)
        parts.append((PaperPart(tuple(outline), contents_within(piece, region, taken), region), seam))
    mark = first_holds or piece.edges[0].path.point_at(min(1.0, piece.edges[0].path.length / 2))
    if not contains(parts[0][0].region, mark, ON_EDGE):
        parts.reverse()
    made = []
    for (part, seam), (name, title) in zip(parts, names, strict=True):
        edges = assemble([*part.outline, Stretch(Edge(edge_name, seam), seam)])
        new = part_as_piece(piece, name, title, edges, part)
        check_simple(new)
        made.append(new)
    return made[0], made[1]


def _route(stops: Sequence[Stop], darts: Mapping[str, Dart], start: Point) -> list[Point]:
    """The points inside the paper that a part's seam passes, from the first stop to the last.

    The way begins at `start` and has the part on its right. A dart with two ends is passed along the legs on that
    side, so that what it takes in is cut away.
    """
    way: list[Point] = []
    for i, stop in enumerate(stops):
        if not stop.dart:
            assert stop.at is not None
            inner = [stop.at] if 0 < i < len(stops) - 1 else []
        else:
            inner = _past(darts[stop.dart], way[-1] if way else start)
        way += [p for p in inner if not way or way[-1].distance(p) > 0.01]
    return way


def _past(dart: Dart, came_from: Point) -> list[Point]:
    """The points of one dart that a seam passes, the paper being on the right of its way."""
    if dart.far_apex is None:
        return [dart.apex]
    tips = sorted((dart.far_apex, dart.apex), key=came_from.distance)
    along = tips[1] - tips[0]
    leg = max(dart.legs, key=lambda at: along.cross(at - tips[0]))
    return [tips[0], leg, tips[1]]


def _seam(points: list[Point], smoothly: bool) -> Path:
    kept = [p for i, p in enumerate(points) if i == 0 or p.distance(points[i - 1]) > 0.01]
    if smoothly and len(kept) > 2:
        return smooth([Knot(p) for p in kept])
    return Path.polyline(kept)
