"""Making a piece from its edges: the chain is closed, turned clockwise, and what lies on the paper goes with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from catalogue.geometry import Cubic, Line, Path, Point, contains, self_crossings, signed_area
from catalogue.lengths import Units, held, with_lengths
from catalogue.pattern.measure import ON_EDGE
from catalogue.pattern.piece import Cut, Edge, Piece

BENT = 20.0
"""mm at the end of an edge that are bent at least when it is trued or moved, for a shorter bend shows as a hook."""

NOTHING_LEFT = 2.0
"""mm from the end of an edge within which a corner is a slip of the scissors, and trued away with it."""

SMALLEST_AREA = 25.0
"""mm²: less than a quarter of a square centimetre is no pattern piece."""


class PieceError(ValueError):
    """Paper that can't be so. `message` is a sentence, `hint` what would help; lengths are `held` in them."""

    def __init__(self, message: str, hint: str = "", at: Point | None = None) -> None:
        super().__init__(with_lengths(message, Units()))
        self.message = message
        self.hint = hint
        self.at = at


class Crossed(PieceError):
    """An outline that crosses itself."""


def with_ends(path: Path, start: Point, end: Point) -> Path:
    """The path with its ends moved to the given points, the segment at each end bent to follow.

    A straight segment stays straight; a curve keeps its direction at the moved end. Of a curve that a cut or a slash
    has left a stub of, what lies before the stub is bent with it.
    """
    if path.start == start and path.end == end:
        return path
    if path.start != start:
        path = _without_stub(path.reversed(), path.start.distance(start)).reversed()
    if path.end != end:
        path = _without_stub(path, path.end.distance(end))
    segments = list(path.segments)
    first = segments[0]
    if first.start != start:
        by = start - first.start
        segments[0] = (
            Cubic(start, first.c1 + by, first.c2, first.end)
            if isinstance(first, Cubic)
            else Line(start, first.end)
        )
    last = segments[-1]
    if last.end != end:
        by = end - last.end
        segments[-1] = (
            Cubic(last.start, last.c1, last.c2 + by, end)
            if isinstance(last, Cubic)
            else Line(last.start, end)
        )
    return Path(tuple(segments))


def _without_stub(path: Path, moved: float) -> Path:
    """The path with its last `BENT` mm as one curve, where moving its end so far would make a hook of its last one."""
    last = path.segments[-1]
    stub = last.start.distance(last.end)
    if isinstance(last, Line) or stub > BENT / 2 or moved < stub / 10 or path.length <= BENT:
        return path
    at = path.length - BENT
    if any(at < s < path.length - NOTHING_LEFT for s in path.corners()):
        return path
    inner, way = path.point_at(at), path.tangent_at(at)
    third = inner.distance(path.end) / 3
    bent = Cubic(inner, inner + way * third, path.end - path.arriving * third, path.end)
    return Path((*with_ends(path.between(0, at), path.start, inner).segments, bent))


def make_piece(name: str, title: str, edges: Sequence[Edge], cut: Cut, points: Mapping[str, Point]) -> Piece:
    """A piece from a chain of edges.

    Args:
        edges: each starts where the one before ends and the last ends where the first starts, within half a mm.
        points: named points of the draft; those on the paper become the piece's own.

    Raises:
        PieceError: the chain is open, the outline crosses itself, or there is nothing inside.
    """
    seen: set[str] = set()
    for edge in edges:
        if edge.name in seen:
            raise PieceError(f"two edges are called “{edge.name}”", "Give each edge a name of its own.")
        seen.add(edge.name)
    joined: list[Edge] = []
    for i, edge in enumerate(edges):
        follower = edges[(i + 1) % len(edges)]
        gap = edge.path.end.distance(follower.path.start)
        if gap > ON_EDGE:
            raise PieceError(
                f"the outline is open: “{edge.name}” ends {held(gap)} from where “{follower.name}” begins",
                "Each edge must start at the point where the one before it ended.",
                edge.path.end,
            )
    for i, edge in enumerate(edges):
        before = edges[i - 1].path.end
        joined.append(replace(edge, path=with_ends(edge.path, before, edge.path.end)))
    outline = Path(tuple(s for e in joined for s in e.path.segments))
    area = signed_area(outline)
    if abs(area) < SMALLEST_AREA:
        raise PieceError("the outline encloses no area", "Does it go out and back along the same line?")
    if area < 0:
        joined = [replace(e, path=e.path.reversed()) for e in reversed(joined)]
    piece = Piece(name, title, tuple(joined), cut)
    check_simple(piece)
    return replace(piece, points=points_on(piece, points))


def check_simple(piece: Piece) -> None:
    """Raise PieceError when the outline crosses itself, saying between which edges."""
    crossed = self_crossings(piece.outline)
    if crossed:
        at = crossed[0]
        near = sorted(piece.edges, key=lambda e: e.path.nearest(at)[1])[:2]
        names = " and ".join(f"“{e.name}”" for e in near)
        raise Crossed(f"the outline of “{piece.name}” crosses itself near {names}", at=at)


def points_on(piece: Piece, points: Mapping[str, Point]) -> dict[str, Point]:
    """Those of the named points that lie on the paper, its edge included."""
    outline = piece.outline
    return {name: at for name, at in points.items() if contains(outline, at, ON_EDGE)}
