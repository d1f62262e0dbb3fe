"""Truing: edges redrawn, made to run on across a seam, squared at a fold, levelled with what they are sewn to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from catalogue.geometry import (
    Cubic,
    Knot,
    Line,
    Path,
    Point,
    crossings,
    parallel,
    signed_area,
    smooth,
)
from catalogue.lengths import held
from catalogue.pattern.contents import fitted
from catalogue.pattern.making import BENT, NOTHING_LEFT, SMALLEST_AREA, PieceError, check_simple, with_ends
from catalogue.pattern.measure import ON_EDGE, gaps, sewn_length
from catalogue.pattern.piece import Edge, InnerLine, Piece
from catalogue.pattern.seamline import Run, plain_name

FAR_OFF = 60.0
"""Degrees: two edges that meet at a sharper bend than this are not meant to run on from each other."""

FARTHEST = 50.0
"""mm: a point that an edge is to be redrawn through lies no farther off it."""

REACHING = ("pleat", "fold", "lengthen")
"""Kinds of inner lines that run from edge to edge, and still do when an edge is redrawn."""


def with_edge(piece: Piece, name: str, path: Path) -> Piece:
    """The piece with an edge redrawn; its neighbours' ends follow. Raises PieceError if it then crosses itself."""
    at = next(i for i, e in enumerate(piece.edges) if e.name == name)
    edges = list(piece.edges)
    edges[at] = replace(edges[at], path=path)
    before, after = (at - 1) % len(edges), (at + 1) % len(edges)
    if len(edges) > 1:
        edges[before] = replace(
            edges[before], path=with_ends(edges[before].path, edges[before].path.start, path.start)
        )
        edges[after] = replace(
            edges[after], path=with_ends(edges[after].path, path.end, edges[after].path.end)
        )
    points = dict(piece.points)
    old = piece.edges[at].path
    for was, now in ((old.start, path.start), (old.end, path.end)):
        for point_name, point in piece.points.items():
            if point.distance(was) < 1e-6:
                points[point_name] = now
    # The edges beside it have new ends, so that lines may reach them elsewhere too.
    lines = piece.lines
    for i in {before, at, after}:
        lines = tuple(run_on(line, piece.edges[i].path, edges[i].path) for line in lines)
    made = piece.with_changes(edges=tuple(edges), points=points, lines=lines)
    if signed_area(made.outline) < SMALLEST_AREA:
        raise PieceError(
            f"nothing would be left of “{piece.name}” with “{name}” redrawn there",
            "Draw the new line where the edge lies now.",
        )
    made = fitted(_notches_on(made, name))
    check_simple(made)
    return made


def run_on(line: InnerLine, old: Path, new: Path) -> InnerLine:
    """A fold line that ran to an edge, run on or cut off to end at the edge redrawn."""
    path = line.path
    if line.kind not in REACHING or len(path.segments) != 1 or not isinstance(path.segments[0], Line):
        return line
    ends = [path.start, path.end]
    way = (path.end - path.start).unit()
    for i, end in enumerate(ends):
        if not old.passes(end, ON_EDGE):
            continue
        found = crossings(Path.line(end - way * path.length, end + way * path.length), new)
        ends[i] = min((c.point for c in found), key=end.distance, default=end)
    if ends[0].distance(ends[1]) < 1.0 or (ends[1] - ends[0]).dot(way) < 0:
        return line
    return replace(line, path=Path.line(*ends))


def _notches_on(piece: Piece, name: str) -> Piece:
    """Notches of a redrawn edge moved onto it, at the same share of its length."""
    path = piece.edge(name).path
    moved = tuple(
        replace(n, at=path.point_at(path.nearest(n.at)[0])) if n.edge == name else n for n in piece.notches
    )
    return piece.with_changes(notches=moved)


def _refuse_darts(piece: Piece, name: str) -> None:
    if gaps(piece, name):
        raise PieceError(
            f"there is a dart or pleat on “{name}”, which redrawing would remove",
            "Redraw it before the dart is made.",
        )


def redraw(piece: Piece, name: str, path: Path) -> Piece:
    """An edge redrawn along a given line, from corner to corner; the line may be drawn either way round."""
    _refuse_darts(piece, name)
    old = piece.edge(name).path
    if old.start.distance(path.start) + old.end.distance(path.end) > old.start.distance(
        path.end
    ) + old.end.distance(path.start):
        path = path.reversed()
    return with_edge(piece, name, path)


def straighten(piece: Piece, name: str) -> Piece:
    """An edge redrawn straight from corner to corner."""
    _refuse_darts(piece, name)
    path = piece.edge(name).path
    if path.start.distance(path.end) < 1e-6:
        raise PieceError(
            f"the edge “{name}” ends where it begins, so it can't be straight", "Redraw it along a line."
        )
    return with_edge(piece, name, Path.line(path.start, path.end))


def smoothed(piece: Piece, name: str, through: Sequence[Point] = ()) -> Piece:
    """An edge redrawn as one smooth curve through its corners and the middles of its parts.

    The kinks that spreading, pivoting or taping leave vanish; the ends and their directions stay.

    Args:
        through: points that the curve keeps to instead of the middles of its parts, in any order.

    Raises:
        PieceError: there is a dart on the edge, or a point lies far off it or at its end.
    """
    _refuse_darts(piece, name)
    path = piece.edge(name).path
    stops = [0.0, *path.corners(), path.length]
    if len(stops) == 2 and not through:
        return piece
    knots = [Knot(path.start, None, path.leaving)]
    if through:
        knots += [Knot(at) for at in sorted(through, key=lambda at: _kept_at(path, name, at))]
    else:
        knots += [Knot(path.point_at((a + b) / 2)) for a, b in pairwise(stops) if b - a > 1.0]
    knots.append(Knot(path.end, path.arriving, None))
    return with_edge(piece, name, smooth(knots))


def _kept_at(path: Path, name: str, at: Point) -> float:
    """Where along an edge a point is that a smooth curve is to keep to."""
    s, off = path.nearest(at)
    if off > FARTHEST:
        raise PieceError(
            f"a point to draw through lies {held(off)} off the edge “{name}”",
            "Give points on the edge, or a little beside it.",
            at,
        )
    if not NOTHING_LEFT < s < path.length - NOTHING_LEFT:
        raise PieceError(
            f"a point to draw through is an end of the edge “{name}”",
            "Its ends stay where they are in any case.",
            at,
        )
    return s


def squared(piece: Piece, name: str, to: str) -> Piece:
    """An edge made to meet a neighbour square, as at a fold. Raises PieceError when they don't meet."""
    edge, other = piece.edge(name), piece.edge(to)
    at_start = edge.path.start.distance(other.path.end) < 1e-6
    if not at_start and edge.path.end.distance(other.path.start) > 1e-6:
        raise PieceError(f"the edges “{name}” and “{to}” do not meet", "Give two edges that share a corner.")
    # Clockwise round the paper every square corner is a turn to the right.
    square = other.path.arriving.normal() if at_start else -other.path.leaving.normal()
    return with_edge(piece, name, turned_end(edge.path, at_start, square))


def turned_end(path: Path, at_start: bool, direction: Point) -> Path:
    """The path bent to take a direction of travel at its start or end.

    Its last segment is bent, and at least the last `BENT` mm: where a cut has left a stub of a curve, that stub and
    what lies before it are drawn as one, from the direction that the line has there. A corner is not bent away.
    """
    if not at_start:
        return turned_end(path.reversed(), True, -direction).reversed()
    first = path.segments[0]
    reach = min(max(first.length(), BENT), path.length)
    corner = next((s for s in path.corners() if s > NOTHING_LEFT), path.length)
    reach = min(reach, corner)
    if reach <= first.length() + 1e-6:
        if isinstance(first, Line):
            if (first.end - first.start).unit().dot(direction) > 1 - 1e-12:
                return path
            c1, c2 = first.start.mix(first.end, 1 / 3), first.start.mix(first.end, 2 / 3)
        else:
            c1, c2 = first.c1, first.c2
        handle = max(first.start.distance(c1), first.length() / 6)
        bent = Cubic(first.start, first.start + direction * handle, c2, first.end)
        return Path((bent, *path.segments[1:]))
    inner, way = path.point_at(reach), path.tangent_at(reach, before=True)
    handle = path.start.distance(inner) / 3
    bent = Cubic(path.start, path.start + direction * handle, inner - way * handle, inner)
    if path.length - reach < 1e-6:
        return Path((bent,))
    return Path((bent, *with_ends(path.between(reach, path.length), inner, path.end).segments))


def _seam_corner(piece: Piece, edge: str, seam: str) -> tuple[bool, Point]:
    """Whether `edge` starts (else ends) at the seam, and the corner they share."""
    path, other = piece.edge(edge).path, piece.edge(seam).path
    if path.start.distance(other.end) < 1e-6:
        return True, path.start
    if path.end.distance(other.start) < 1e-6:
        return False, path.end
    at = next(i for i, e in enumerate(piece.edges) if e.name == seam)
    beside = f"“{piece.edges[at - 1].name}” and “{piece.edges[(at + 1) % len(piece.edges)].name}”"
    raise PieceError(
        f"the edges “{edge}” and “{seam}” of “{piece.name}” do not meet", f"“{seam}” meets {beside}."
    )


def true_across(
    first: Piece, edge: str, seam: str, second: Piece, other: str, other_seam: str
) -> tuple[Piece, Piece]:
    """Make an edge run on smoothly from one piece to the other when the seam between them is closed.

    Both are bent by half the angle between them. The pieces may be drawn either way round.

    Raises:
        PieceError: the edges meet at a corner rather than a bend, or at different ends of the seam.
    """
    runs = Run(first, first.edge(seam)), Run(second, second.edge(other_seam))
    at_end = _seam_corner(first, edge, seam)[0], _seam_corner(second, other, other_seam)[0]
    far = tuple(plain_name(run.corner(not end)[0].name) for run, end in zip(runs, at_end, strict=True))
    if edge != other and (plain_name(edge) == far[1] or plain_name(other) == far[0]):
        raise PieceError(
            f"“{edge}” and “{other}” lie at different ends of the seam",
            "Name the two edges that meet when the seam is closed.",
        )
    angles = [run.corner(end)[1] for run, end in zip(runs, at_end, strict=True)]
    bend = 180.0 - sum(angles)
    if abs(bend) > FAR_OFF:
        raise PieceError(
            f"“{edge}” and “{other}” meet at a corner of {sum(angles):.0f} degrees, not in one line",
            "Only edges that should run on from each other can be trued.",
        )
    return _opened(first, edge, at_end[0], bend / 2), _opened(second, other, at_end[1], bend / 2)


def _opened(piece: Piece, name: str, at_start: bool, degrees: float) -> Piece:
    """An edge bent at one end so that the angle of the paper there is wider by so many degrees."""
    path = piece.edge(name).path
    way = path.leaving if at_start else path.arriving
    # Clockwise round the paper, a wider angle turns the edge that leaves a corner back and one that comes in on.
    return with_edge(piece, name, turned_end(path, at_start, way.turned(-degrees if at_start else degrees)))


def level(first: Piece, edge: str, second: Piece, other: str, at: str) -> tuple[Piece, Piece]:
    """Bring two edges that are sewn together to one length, both giving half, at their ends on the edge `at`.

    Raises PieceError when either doesn't meet `at`.
    """
    difference = sewn_length(first, edge) - sewn_length(second, other)
    return _lengthened(first, edge, -difference / 2, at), _lengthened(second, other, difference / 2, at)


def _lengthened(piece: Piece, edge: str, by: float, at: str) -> Piece:
    """An edge made longer (or shorter) at its end on `at`, which follows."""
    starts, _ = _seam_corner(piece, edge, at)
    if abs(by) < 1e-9:
        return piece
    path = piece.edge(edge).path
    if by > 0:
        new = path.extended(by, 0) if starts else path.extended(0, by)
    else:
        new = path.between(-by, path.length) if starts else path.between(0, path.length + by)
    return with_edge(piece, edge, new)


def shape_edge(piece: Piece, name: str, shifts: dict[str, float], pointed: bool = False) -> Piece:
    """A hem shaped by moving its corners along the edges beside it.

    Args:
        shifts: neighbouring edge -> mm that the hem goes inwards along it (negative: outwards).
        pointed: redraw it straight from corner to corner; else as a curve, square at a fold.

    Raises:
        PieceError: an edge named is no neighbour, or is shorter than the shift.
    """
    _refuse_darts(piece, name)
    at = next(i for i, e in enumerate(piece.edges) if e.name == name)
    before, after = piece.edges[at - 1], piece.edges[(at + 1) % len(piece.edges)]
    unknown = set(shifts) - {before.name, after.name}
    if unknown:
        raise PieceError(
            f"“{min(unknown)}” does not meet the edge “{name}”",
            f"Beside it lie “{before.name}” and “{after.name}”.",
        )
    for edge, by in shifts.items():
        if by >= piece.edge(edge).path.length - 1:
            raise PieceError(
                f"the edge “{edge}” is only {held(piece.edge(edge).path.length)} long",
                "Move the hem by less.",
            )
        piece = _lengthened(piece, edge, -by, name)
    path = piece.edge(name).path
    line = Path.line(path.start, path.end)
    if pointed:
        return with_edge(piece, name, line)
    before, after = piece.edges[at - 1], piece.edges[(at + 1) % len(piece.edges)]
    leaving = before.path.arriving.normal()
    arriving = -after.path.leaving.normal()
    return with_edge(piece, name, smooth([Knot(path.start, None, leaving), Knot(path.end, arriving, None)]))


def _meets(path: Path, at: Point, way: Point, reach: float) -> float | None:
    """How far along `path` a line from `at` in direction `way` first meets it, within `reach` mm."""
    found = crossings(Path.line(at, at + way * reach), path)
    return found[0].on_second if found else None


def extend_edge(piece: Piece, name: str, by: float, new_name: str = "") -> Piece:
    """An edge moved outwards by `by` mm, its neighbours run on to meet it; the old line stays as a guide.

    As for a button stand at the centre front. Raises PieceError when the neighbours would not meet it.
    """
    _refuse_darts(piece, name)
    at = next(i for i, e in enumerate(piece.edges) if e.name == name)
    old = piece.edges[at]
    edges = list(piece.edges)
    before, after = (at - 1) % len(edges), (at + 1) % len(edges)
    p, q = edges[before].path, edges[after].path
    reach = 4 * by + 1
    moved = parallel(old.path, -by).extended(reach, reach)
    start = _meets(moved, p.end, p.arriving, reach)
    end = _meets(moved, q.start, -q.leaving, reach)
    if start is None or end is None or start >= end:
        raise PieceError(
            f"the edges beside “{name}” run alongside it, so it can't be moved outwards",
            "Extend it by less, or redraw the edges beside it first.",
        )
    new_path = moved.between(start, end)
    edges[before] = replace(edges[before], path=p.joined(Path.line(p.end, new_path.start)).simplified)
    edges[after] = replace(edges[after], path=Path.line(new_path.end, q.start).joined(q).simplified)
    cut = (
        replace(piece.cut, on_fold=False, mirrored=True, count=piece.cut.count * 2) if old.fold else piece.cut
    )
    edges[at] = Edge(new_name or old.name, new_path, False, old.allowance)
    made = piece.with_changes(
        edges=tuple(edges),
        cut=cut,
        lines=(*piece.lines, InnerLine(old.path, "guide", old.name.replace("_", " "))),
    )
    check_simple(made)
    return fitted(made)
