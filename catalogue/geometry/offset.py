"""Paths parallel to a path: seam allowances, facings, hems."""

from __future__ import annotations

import math
from typing import NamedTuple

from catalogue.geometry.arclength import Speed
from catalogue.geometry.areas import signed_area
from catalogue.geometry.construction import line_meets_line
from catalogue.geometry.crossing import crossings, places_of_self_crossings
from catalogue.geometry.path import JOIN, Path, path_through
from catalogue.geometry.point import GeometryError, Point
from catalogue.geometry.segments import Cubic, Line, Segment, zero_length

# Checked at five places of each piece; the rest of the promised 0.02 mm is room for what lies between them.
_WITHIN = 0.01
_ALONG = 0.3
_PLACES = tuple(
    (t, (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3) for t in (0.5, 0.25, 0.75, 0.1, 0.9)
)
_DEEPEST = 9
_MITRE = 4.0
_NUDGE = 0.005  # ends of neighbouring runs that lie this near are brought together, mm
_MOST_ROUNDS = 12


def parallel(path: Path, distance: float, mitre: float = _MITRE) -> Path:
    """The parallel path `distance` mm to the right-hand side of travel as seen on paper (left when negative).

    Curves become cubics within 0.02 mm of the true parallel curve. Corners on the outer side are mitred; a mitre
    that would reach further than `mitre` times the distance from its corner is cut off square at that reach.
    On the inner side the two runs are cut where they cross. Where a curve bends more tightly than the distance,
    or runs collide, the loops this makes are cut off; a shape whose own details are all finer than the distance
    may keep too much or too little of itself. Raises GeometryError for a path of no length.
    """
    if distance == 0.0:
        return path
    source = [s for s in path.segments if not zero_length(s)]
    if not source:
        raise GeometryError("a line of no length has no parallel")
    if len(source) == 1 and isinstance(source[0], Line):
        return Path(tuple(_parallel_segment(source[0], distance)))
    runs = [Path(tuple(_parallel_segment(s, distance))) for s in source]
    loops = any(_turns_back(s, distance) for s in source)
    count, closed = len(runs), path.is_closed
    for i in range(count if closed and count > 1 else count - 1):
        j = (i + 1) % count
        corner = _Corner(source[i].end, source[i].tangent_at(1.0), source[j].tangent_at(0.0))
        runs[i], runs[j], clean = _join(runs[i], runs[j], corner, distance, mitre)
        loops = loops or not clean
    segments = [segment for run in runs for segment in run.segments]
    if closed and count == 1 and segments[-1].end.distance(segments[0].start) > 1e-7:
        segments.append(Line(segments[-1].end, segments[0].start))
        loops = True
    whole = path_through(segments)
    # On a closed path, runs that are no neighbours may collide too.
    turned = signed_area(path) if closed else None
    return _without_loops(whole, turned) if loops or closed else whole


def _parallel_segment(segment: Segment, distance: float) -> list[Segment]:
    if isinstance(segment, Line):
        shift = segment.tangent_at(0.0).normal() * distance
        return [Line(segment.start + shift, segment.end + shift)]
    return _parallel_cubic(segment, distance)


_Frame = tuple[float, float, float, float, float]
"""A place on the true parallel curve: the point x, y, the direction of travel tx, ty, and the derivative's length.

The parallel curve O = B + d n has the derivative O' = T (|B'| - d w), w being how fast the direction turns. The last
number is |B'| - d w, negative where the parallel curve runs backwards.
"""


def _frame(cubic: Cubic, speed: Speed, distance: float, t: float) -> _Frame:
    px, qx, rx, py, qy, ry = speed
    x0, y0 = cubic.start
    x = x0 + t * (px + t * (qx / 2.0 + t * rx / 3.0))
    y = y0 + t * (py + t * (qy / 2.0 + t * ry / 3.0))
    vx, vy = px + t * (qx + t * rx), py + t * (qy + t * ry)
    ax, ay = qx + 2.0 * t * rx, qy + 2.0 * t * ry
    length = math.hypot(vx, vy)
    if length > 1e-9:
        tx, ty = vx / length, vy / length
        turning = (vx * ay - vy * ax) / (length * length)
    else:  # a handle of no length, or a cusp: the limit of the same
        tx, ty = cubic.tangent_at(t)
        square = ax * ax + ay * ay
        turning = (ax * ry - ay * rx) / square if square > 1e-18 else 0.0
    return x - ty * distance, y + tx * distance, tx, ty, length - distance * turning


def _parallel_cubic(cubic: Cubic, distance: float) -> list[Segment]:
    """Hermite pieces: ends and derivatives of the true parallel curve, halved until they stay near it."""
    speed = cubic.speed
    pieces: list[Segment] = []
    ends = [(1.0, _frame(cubic, speed, distance, 1.0), 0)]
    t0, a = 0.0, _frame(cubic, speed, distance, 0.0)
    start = Point(a[0], a[1])
    while ends:
        t1, b, depth = ends[-1]
        (ax, ay, atx, aty, rate), (bx, by, btx, bty, rate_b) = a, b
        h0, h1 = rate * (t1 - t0) / 3.0, rate_b * (t1 - t0) / 3.0
        c1x, c1y, c2x, c2y = ax + atx * h0, ay + aty * h0, bx - btx * h1, by - bty * h1
        middle = _frame(cubic, speed, distance, 0.5 * (t0 + t1))
        good = True
        for part, w0, w1, w2, w3 in _PLACES:
            place = middle if part == 0.5 else _frame(cubic, speed, distance, t0 + part * (t1 - t0))
            x, y, tx, ty, _ = place
            dx = w0 * ax + w1 * c1x + w2 * c2x + w3 * bx - x
            dy = w0 * ay + w1 * c1y + w2 * c2y + w3 * by - y
            # Ahead of its parameter or behind, the piece may still lie on the curve.
            if abs(dy * tx - dx * ty) > _WITHIN or abs(dx * tx + dy * ty) > _ALONG:
                good = False
                break
        if good or depth >= _DEEPEST:
            end = Point(bx, by)
            pieces.append(Cubic(start, Point(c1x, c1y), Point(c2x, c2y), end))
            ends.pop()
            t0, a, start = t1, b, end
        else:
            ends[-1] = (t1, b, depth + 1)
            ends.append((0.5 * (t0 + t1), middle, depth + 1))
    return pieces


def _turns_back(segment: Segment, distance: float) -> bool:
    """Whether the parallel curve runs backwards somewhere: the curve bends more tightly than the distance."""
    if isinstance(segment, Line):
        return False
    speed = segment.speed
    px, qx, rx, py, qy, ry = speed
    # |B'| - d w is negative where d (B' x B'') is above |B'|³. The cross product is a quadratic: its Bernstein
    # coefficients bound it. Most curves are plainly too gentle, or bend away from the parallel one.
    pq, pr, qr = px * qy - py * qx, px * ry - py * rx, qx * ry - qy * rx
    most = max(distance * pq, distance * (pq + pr), distance * (pq + 2.0 * pr + qr))
    if most <= _slowest(segment) ** 3:
        return False
    return any(_frame(segment, speed, distance, i / 16)[4] < -1e-9 for i in range(17))


def _slowest(cubic: Cubic) -> float:
    """A speed that the cubic surely keeps: the least its control polygon goes ahead along the chord, 0 if backwards."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = cubic.start, cubic.c1, cubic.c2, cubic.end
    dx, dy = x3 - x0, y3 - y0
    chord = math.hypot(dx, dy)
    if chord == 0.0:
        return 0.0
    legs = (x1 - x0) * dx + (y1 - y0) * dy, (x2 - x1) * dx + (y2 - y1) * dy, (x3 - x2) * dx + (y3 - y2) * dy
    return max(3.0 * min(legs) / chord, 0.0)


class _Corner(NamedTuple):
    """A joint of the path itself: where it is, and the directions it arrives and leaves in."""

    point: Point
    before: Point
    after: Point


def _join(
    run: Path, following: Path, corner: _Corner, distance: float, mitre: float
) -> tuple[Path, Path, bool]:
    """Both runs brought to meet at the corner between them; False last when that left a loop to cut off."""
    point, before, after = corner
    if run.end.distance(following.start) <= _NUDGE:
        middle = run.end.mix(following.start, 0.5)
        return _ending_at(run, middle), _starting_at(following, middle), True
    if before.cross(after) * distance > 0.0:
        found = crossings(run, following)
        if found:
            cut = found[-1]
            return run.between(0.0, cut.on_first), following.between(cut.on_second, following.length), True
        return Path((*run.segments, Line(run.end, following.start))), following, False
    half = math.sqrt(max(0.5 * (1.0 + before.dot(after)), 0.0))  # cosine of half the turn
    tip = line_meets_line(run.end, run.end + before, following.start, following.start + after)
    if tip is not None and half * mitre >= 1.0:
        return _lengthened(run, tip), _lengthened(following.reversed(), tip).reversed(), True
    # Too sharp: cut square to the line that halves the corner, at the mitre's greatest length.
    ahead = (before - after).unit()
    reach = (mitre * abs(distance) - (run.end - point).dot(ahead)) / before.dot(ahead)
    run = _lengthened(run, run.end + before * reach)
    back = _lengthened(following.reversed(), following.start - after * reach).reversed()
    return Path((*run.segments, Line(run.end, back.start))), back, True


def _lengthened(run: Path, point: Point) -> Path:
    """The run led straight on to a point ahead of its end."""
    last = run.segments[-1]
    if isinstance(last, Line):
        return Path((*run.segments[:-1], Line(last.start, point)))
    return Path((*run.segments, Line(run.end, point)))


def _starting_at(run: Path, point: Point) -> Path:
    """The run with its very start moved by a hair; the first handle moves along, so the direction stays."""
    first = run.segments[0]
    if first.start == point:
        return run
    if isinstance(first, Cubic):
        moved: Segment = Cubic(point, first.c1 + (point - first.start), first.c2, first.end)
    else:
        moved = Line(point, first.end)
    return Path((moved, *run.segments[1:]))


def _ending_at(run: Path, point: Point) -> Path:
    """The run with its very end moved by a hair; the last handle moves along, so the direction stays."""
    last = run.segments[-1]
    if last.end == point:
        return run
    if isinstance(last, Cubic):
        moved: Segment = Cubic(last.start, last.c1, last.c2 + (point - last.end), point)
    else:
        moved = Line(last.start, point)
    return Path((*run.segments[:-1], moved))


def _without_loops(path: Path, turned: float | None) -> Path:
    """Cut off the loops a path makes where it crosses itself, the shortest first.

    `turned` is the area of the path that this one is parallel to, when that is closed: of the two halves that a
    crossing makes of a closed path, the one that goes round the other way is the loop.
    """
    closed = turned is not None
    for _ in range(_MOST_ROUNDS):
        total = path.length
        loops: list[tuple[float, float, float]] = []
        for _, s0, s1 in places_of_self_crossings(path):
            inner = (s1 - s0, s0, s1)
            around = (total - inner[0], s1, s0) if closed else (math.inf, s1, s0)
            if turned is not None:
                area = signed_area(path.between(s0, s1)) * turned
                rest = signed_area(path) * turned - area
                if (area > 0.0) != (rest > 0.0):
                    loops.append(around if area > 0.0 else inner)
                    continue
            loops.append(min(inner, around))
        if not loops:
            break
        cuts: list[tuple[float, float]] = []
        for _, s0, s1 in sorted(loops):
            if s0 > s1:  # the loop holds the start of the path: begin again at the crossing
                if not cuts:
                    cuts = [(0.0, s1), (s0, total)]
                    break
            elif all(s1 <= c0 or s0 >= c1 for c0, c1 in cuts):
                cuts.append((s0, s1))
        kept: list[Segment] = []
        at = 0.0
        for s0, s1 in [*sorted(cuts), (total, total)]:
            if s0 - at > JOIN:
                kept += path.between(at, s0).segments
            at = s1
        path = _stitched(kept or list(path.segments[:1]), closed)
    return path


def _stitched(segments: list[Segment], closed: bool) -> Path:
    """A path of segments whose joints may miss by what two crossings may differ."""
    kept = [s for s in segments if not zero_length(s)] or segments[:1]
    for i in range(0 if closed and len(kept) > 1 else 1, len(kept)):
        kept[i - 1] = _ending_at(Path((kept[i - 1],)), kept[i].start).segments[0]
    return Path(tuple(kept))
