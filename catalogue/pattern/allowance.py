"""Seam allowances: the cutting line outside the seam line, with the corners a pattern cutter makes.

Every smooth run of an edge is carried outwards by the edge's own allowance. Where two runs meet, the corner is mitred,
squared to one of them, or, at an edge that is turned up, mirrored so that the turned-up cloth lies on the garment. The
cutting line is the outside of all that. The seam line is untouched, and curves stay curves.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from catalogue.geometry import (
    Cubic,
    GeometryError,
    Line,
    Path,
    Point,
    Segment,
    is_simple,
    parallel,
    polygon,
    signed_area,
)
from catalogue.geometry.outer import OuterStretch, outer_boundary
from catalogue.pattern.corners import Side, corner
from catalogue.pattern.piece import Edge, Piece
from catalogue.pattern.ring import chain_of_segments

if TYPE_CHECKING:
    from shapely import LineString, Polygon

CROWDED = 2.0
"""Of a run, this many allowances may be lost at a hollow before there is something to say about it."""

DEFAULT = 15.0
"""mm, for an edge of which nothing is known; a draft has an allowance on every edge."""

_FAR = 500.0
"""mm beyond a fold within which there is surely no more of an allowance."""


@dataclass(frozen=True, slots=True)
class CuttingLine:
    """The cutting line of a piece.

    Attributes:
        path: closed, clockwise.
        remark: what could not be done as asked, a clause that names the edges; "" when all was.
        room: mm of allowance for which there is room at that place, where there is a remark.
    """

    path: Path
    remark: str = ""
    room: float | None = None


def turned_up(edge: Edge) -> bool:
    """Whether an edge's allowance is folded back onto the garment: said so, or a hem by its name."""
    return edge.corners == "turned up" or (not edge.corners and "hem" in edge.name.split("_"))


def width_of(edge: Edge) -> float:
    """mm outside the seam line; none on a fold."""
    if edge.fold:
        return 0.0
    return DEFAULT if edge.allowance is None else edge.allowance


def cutting_line(piece: Piece) -> CuttingLine:
    """Where a piece is cut: its outline with each edge's allowance added."""
    if not any(width_of(e) for e in piece.edges):
        return CuttingLine(piece.outline)
    sides: list[Side] = []
    try:
        sides = [side for edge in piece.edges for side in _sides(edge)]
        if tight := [side for side in sides if _is_tight(side)]:
            sides = tight
            raise GeometryError("a hollow is tighter than its allowance all along")
        raw, spans = _carried_out(sides)
        walked = outer_boundary(raw)
        if walked is None:
            return CuttingLine(raw)
        path = chain_of_segments([s for part in walked for s in part.of(raw).segments])
        if is_simple(path) and signed_area(path) >= signed_area(piece.outline) - 1.0:
            lost = _lost(sides, [(raw.marks[a], raw.marks[b]) for a, b in spans], walked, raw.length)
            return CuttingLine(path, *_crowded(piece, lost)) if lost else CuttingLine(path)
    except GeometryError:
        pass
    remark, room = _crowded(piece, sides) if sides else ("", None)
    return CuttingLine(
        _around(piece), remark or "the allowance runs into itself, and is drawn in short straight lines", room
    )


def _sides(edge: Edge) -> list[Side]:
    """The smooth runs of an edge, each carried outwards."""
    width, path = width_of(edge), edge.path
    cuts = [s for s in path.corners() if 1e-6 < s < path.length - 1e-6]
    runs = [path.between(a, b) for a, b in pairwise([0.0, *cuts, path.length])] if cuts else [path]
    last = len(runs) - 1
    return [
        Side(
            edge.name,
            run,
            width,
            parallel(run, -width) if width else run,
            fold=edge.fold,
            squared=edge.corners == "squared",
            turned_up=turned_up(edge),
            first=i == 0,
            last=i == last,
        )
        for i, run in enumerate(runs)
    ]


def _is_tight(side: Side) -> bool:
    """Whether a hollow run bends more tightly than its allowance, so that the parallel one runs backwards."""
    if not side.width or _one_way(side.path, side.out):
        return False
    return any(
        side.out.tangent_at(side.out.length * share).dot(side.path.tangent_at(side.path.length * share)) < 0
        for share in (0.0, 0.5, 1.0)
    )


def _one_way(path: Path, out: Path) -> bool:
    """Whether both plainly go one way: all legs of their control polygons within 45 degrees of the run's chord.

    Then no direction of the one is against one of the other, and nothing need be measured to tell.
    """
    dx, dy = path.end - path.start
    for segment in (*path.segments, *out.segments):
        (x0, y0), (x3, y3) = segment.start, segment.end
        if isinstance(segment, Cubic):
            (x1, y1), (x2, y2) = segment.c1, segment.c2
            legs = [(x1 - x0, y1 - y0), (x2 - x1, y2 - y1), (x3 - x2, y3 - y2)]
        else:
            legs = [(x3 - x0, y3 - y0)]
        for x, y in legs:
            if abs(x * dy - y * dx) > x * dx + y * dy:
                return False
    return True


def _carried_out(sides: list[Side]) -> tuple[Path, list[tuple[int, int]]]:
    """All runs and corners as one closed path, and which of its segments are each run's."""
    outs = [s.out for s in sides]
    between: list[list[Segment]] = [[] for _ in sides]
    for i, after in enumerate(sides):
        outs[i - 1], between[i], outs[i] = corner(sides[i - 1], after, outs[i - 1], outs[i])
    segments: list[Segment] = []
    spans: list[tuple[int, int]] = []
    for i, out in enumerate(outs):
        at = outs[i - 1].end
        for segment in (*between[i], Line(between[i][-1].end if between[i] else at, out.start)):
            if segment.start.distance(segment.end) > 1e-6:
                segments.append(segment)
        spans.append((len(segments), len(segments) + len(out.segments)))
        segments += out.segments
    return chain_of_segments(segments), spans


def _lost(
    sides: list[Side], places: list[tuple[float, float]], walked: tuple[OuterStretch, ...], around: float
) -> list[Side]:
    """The runs of which more than a hollow corner takes is not on the outside."""
    kept: list[tuple[float, float]] = []
    for part in walked:
        kept += [(part.at, part.to)] if part.at < part.to else [(part.at, around), (0.0, part.to)]
    found = []
    for side, (start, end) in zip(sides, places, strict=True):
        there = sum(max(0.0, min(end, b) - max(start, a)) for a, b in kept)
        if end - start - there > CROWDED * side.width + 0.1:
            found.append(side)
    return found


def _crowded(piece: Piece, lost: list[Side]) -> tuple[str, float | None]:
    """Says at which edges allowances run into each other, and how wide the hollow is between them."""
    from shapely import prepare, shortest_line

    area = polygon(piece.outline).buffer(0)
    prepare(area)
    runs = [(side, _line(side.path)) for edge in piece.edges for side in _sides(edge) if side.width]
    pairs: list[tuple[float, bool, str, str]] = []
    for side in lost:
        line = _line(side.path)
        for other, beyond in runs:
            neighbours = (other.path.end, other.path.start) if other.path != side.path else (side.path.start,)
            if side.path.start in neighbours or side.path.end in neighbours:
                continue
            across = shortest_line(line, beyond)
            apart = across.length
            if apart < side.width + other.width and area.intersection(across).length < 0.5 * apart:
                pairs.append((round(apart, 3), other not in lost, side.name, other.name))
    names = list(dict.fromkeys(side.name for side in lost))
    if pairs:
        gap, _, one, two = min(pairs)
        where = f"on both sides of the hollow in “{one}”" if one == two else f"of “{one}” and “{two}”"
        return f"the allowances {where} run into each other", gap / 2
    if names:
        return f"the allowance has no room in the hollow of {' and '.join(f'“{n}”' for n in names[:2])}", None
    return "", None


def _line(path: Path) -> LineString:
    from shapely import LineString

    return LineString(path.flatten(0.05))


def _beyond(fold: Path) -> Polygon:
    """What lies beyond a fold, where no paper is."""
    from shapely import Polygon

    near = fold.extended(_FAR, _FAR)
    far = parallel(near, -_FAR)
    return Polygon([near.start, near.end, far.end, far.start])


def _around(piece: Piece) -> Path:
    """When nothing finer works: the paper with a band of each allowance laid round it, as one outline."""
    from shapely import MultiPolygon, Polygon, unary_union

    shapes = [polygon(piece.outline).buffer(0)]
    for edge in piece.edges:
        if width := width_of(edge):
            shapes.append(_line(edge.path).buffer(width, join_style="mitre", cap_style="round"))
    union = unary_union(shapes)
    for edge in piece.edges:
        if edge.fold:
            union = union.difference(_beyond(edge.path))
    whole = max(union.geoms, key=lambda g: g.area) if isinstance(union, MultiPolygon) else union
    assert isinstance(whole, Polygon)
    path = Path.polyline([Point(x, y) for x, y in whole.exterior.simplify(0.02).coords])
    return path if signed_area(path) > 0 else path.reversed()
