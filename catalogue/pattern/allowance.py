"""Seam allowances: the cutting line outside the seam line, with the corners a pattern cutter makes.

Each edge is carried outwards by its own allowance; where two edges meet the corner is mitred, squared to one of them,
or, at an edge that is turned up, mirrored so that the turned-up cloth lies on the garment. The seam line is untouched.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from catalogue.geometry import (
    GeometryError,
    Line,
    Path,
    Point,
    Segment,
    crossings,
    is_simple,
    line_meets_line,
    polygon,
    signed_area,
)
from catalogue.geometry.crossing import places_of_self_crossings
from catalogue.pattern.making import with_ends
from catalogue.pattern.piece import Edge, Piece
from catalogue.pattern.ring import chain_of_segments

STRAIGHT_ON = 0.12
"""Sine of the bend (7 degrees) below which two edges run on from each other rather than make a corner."""

LONGEST_MITRE = 2.2
"""A mitre whose point lies further from the corner than this many times the larger allowance is cut off blunt."""

BLUNT = 1.15
"""How far a blunt corner reaches beyond the corner, in allowances: never nearer than the allowance itself."""


@dataclass(frozen=True, slots=True)
class CuttingLine:
    """The cutting line of a piece, a closed path, and what could not be done as asked ("" when all was)."""

    path: Path
    remark: str = ""


def turned_up(edge: Edge) -> bool:
    """Whether an edge's allowance is folded back onto the garment: said so, or a hem by its name."""
    return edge.corners == "turned up" or (not edge.corners and "hem" in edge.name.split("_"))


def cutting_line(piece: Piece) -> CuttingLine:
    """Where a piece is cut: its outline with each edge's allowance added (an edge without one has none)."""
    widths = [0.0 if e.fold else (e.allowance or 0.0) for e in piece.edges]
    if not any(widths):
        return CuttingLine(piece.outline)
    try:
        path = _joined(piece, widths)
    except GeometryError:
        path = None
    if path is not None and is_simple(path) and signed_area(path) >= signed_area(piece.outline) - 1.0:
        return CuttingLine(path)
    return CuttingLine(
        _around(piece, widths), "the allowance is wider than the piece has room for at a hollow"
    )


def cutting_lines(pieces: Mapping[str, Piece]) -> dict[str, CuttingLine]:
    return {name: cutting_line(piece) for name, piece in pieces.items()}


@dataclass(frozen=True, slots=True)
class _Side:
    """An edge on its way outwards."""

    edge: Edge
    width: float
    out: Path

    @property
    def start(self) -> Point:
        return self.edge.path.start

    def leaving(self) -> Point:
        """Direction of travel at the start."""
        return self.edge.path.tangent_at(0.0)

    def arriving(self) -> Point:
        return self.edge.path.tangent_at(self.edge.path.length, before=True)


def _joined(piece: Piece, widths: list[float]) -> Path:
    sides = [
        _Side(e, w, e.path.offset(-w) if w else e.path) for e, w in zip(piece.edges, widths, strict=True)
    ]
    outs = [s.out for s in sides]
    corners: list[list[Point]] = [[] for _ in sides]
    for i, after in enumerate(sides):
        before = sides[i - 1]
        bend = before.arriving().cross(after.leaving())
        facing = before.arriving().dot(after.leaving())
        if bend < -STRAIGHT_ON or (facing < 0 and bend < 0):
            outs[i - 1], outs[i] = _hollow(outs[i - 1], outs[i])
        corners[i] = _corner(before, after, bend, facing)
    segments: list[Segment] = []
    for i, out in enumerate(outs):
        here = [outs[i - 1].end, *corners[i], out.start]
        segments += [Line(a, b) for a, b in pairwise(here) if a.distance(b) > 1e-6]
        segments += list(out.segments)
    return _without_loops(chain_of_segments(segments))


def _corner(before: _Side, after: _Side, bend: float, facing: float) -> list[Point]:
    """The points of the cutting line between the end of one edge's allowance and the start of the next one's."""
    at = after.start
    end, start = before.out.end, after.out.start
    if end.distance(start) < 1e-6 or bend < -STRAIGHT_ON or (facing < 0 and bend < 0):
        return []
    if turned_up(after.edge) and after.width:
        return _mirrored(before, after, at, into=True)
    if turned_up(before.edge) and before.width:
        return _mirrored(after, before, at, into=False)
    if after.edge.corners == "squared" and after.width:
        return _squared(end, before.arriving(), at, after.leaving())
    if before.edge.corners == "squared" and before.width:
        return _squared(start, -after.leaving(), at, before.arriving())
    if abs(bend) <= STRAIGHT_ON and facing > 0:
        return []
    mitre = line_meets_line(end, end + before.arriving(), start, start + after.leaving())
    largest = max(before.width, after.width)
    if mitre is not None and facing > -0.98 and mitre.distance(at) <= LONGEST_MITRE * largest + 1e-6:
        return [mitre]
    return [end + before.arriving() * (BLUNT * largest), start - after.leaving() * (BLUNT * largest)]


def _squared(end: Point, way: Point, at: Point, along: Point) -> list[Point]:
    """The end of an allowance squared to the seam line it is sewn on."""
    meet = line_meets_line(end, end + way, at, at + along.normal())
    return [meet] if meet is not None else []


def _mirrored(other: _Side, hem: _Side, at: Point, *, into: bool) -> list[Point]:
    """The corner of a turned-up allowance: the neighbour's cutting line mirrored over the fold.

    `into` says that the hem follows the neighbour; else it comes before it. Points are in the outline's order.
    """
    fold = hem.leaving() if into else hem.arriving()
    edge_way = other.arriving() if into else -other.leaving()  # towards the hem
    edge_end = other.out.end if into else other.out.start
    on_fold = line_meets_line(edge_end, edge_end + edge_way, at, at + fold)
    if on_fold is None or on_fold.distance(at) > LONGEST_MITRE * max(other.width, 1.0) + hem.width:
        return []
    back = fold * (2 * edge_way.dot(fold)) - edge_way  # the neighbour's direction mirrored over the fold ...
    back = -back if back.dot(fold.normal()) > 0 else back  # ... and leading outwards, away from the garment
    hem_end = hem.out.start if into else hem.out.end
    far = line_meets_line(on_fold, on_fold + back, hem_end, hem_end + fold)
    if far is None or far.distance(on_fold) > 3 * hem.width:
        return []
    return [on_fold, far] if into else [far, on_fold]


def _hollow(before: Path, after: Path) -> tuple[Path, Path]:
    """At a hollow corner the two allowances overlap: both are cut where they cross."""
    found = crossings(before, after)
    if not found:
        return before, after
    nearest = max(found, key=lambda c: c.on_first - c.on_second)
    if nearest.on_first < 1e-6 or after.length - nearest.on_second < 1e-6:
        return before, after
    first = before.between(0.0, nearest.on_first)
    second = after.between(nearest.on_second, after.length)
    return first, with_ends(second, first.end, second.end)


def _without_loops(path: Path) -> Path:
    """Small loops that a hollow or a tight curve leaves are cut off."""
    for _ in range(12):
        found = places_of_self_crossings(path)
        if not found:
            return path
        crossing = min(
            found, key=lambda c: min(c.on_second - c.on_first, path.length - c.on_second + c.on_first)
        )
        inner = crossing.on_second - crossing.on_first
        if inner <= path.length - inner:
            rest = (
                path.between(crossing.on_second, path.length).segments
                + path.between(0, crossing.on_first).segments
            )
        else:
            rest = path.between(crossing.on_first, crossing.on_second).segments
        path = chain_of_segments(list(rest))
    return path


def _around(piece: Piece, widths: list[float]) -> Path:
    """When nothing finer works: the paper with a band of each allowance laid round it, as one outline."""
    from shapely import LineString, MultiPolygon, Polygon, unary_union

    shapes = [polygon(piece.outline).buffer(0)]
    for edge, width in zip(piece.edges, widths, strict=True):
        if width:
            line = LineString([tuple(p) for p in edge.path.flatten(0.02)])
            shapes.append(line.buffer(width, join_style="mitre", cap_style="round"))
    union = unary_union(shapes)
    whole = max(union.geoms, key=lambda g: g.area) if isinstance(union, MultiPolygon) else union
    assert isinstance(whole, Polygon)
    points = [Point(x, y) for x, y in whole.exterior.simplify(0.02).coords]
    path = Path.polyline(points)
    return path if signed_area(path) > 0 else path.reversed()
