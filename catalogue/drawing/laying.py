"""A piece laid to one that is there already: along their seam, gathered where it is fuller, as far as it is seen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

from catalogue.drafting.model import Draft
from catalogue.drawing.gathers import gathered_on
from catalogue.drawing.patch import Patch, Polyline, along, both_ways, follow, length_of, patch_of, turn_of
from catalogue.drawing.pieces_worn import BACK, centre_of, neighbours, view_of
from catalogue.geometry import Point
from catalogue.pattern import Piece

FULL = 1.12  # times the edge it is sewn to, from which on an edge is gathered and not eased


def laid(piece: Piece, edge: str, target: Polyline, outward: int, gathered: bool = False) -> Patch:
    """A piece laid with an edge on an edge that is there already.

    Args:
        gathered: its edge is drawn together to the length of the other.
    """
    ways = both_ways(piece, outward)
    own = length_of(ways[0 if outward > 0 else 1].edges[edge])
    if not gathered and own * FULL < length_of(target) and _is_level(target):
        target = _inner_part(target, own)  # a bib on a part of the waist
    # A level seam takes a piece as well either way; then it is not turned over, unless its middle is then out of place.
    patches = sorted(ways, key=lambda p: round(turn_of(p, edge, target)))
    lay = gathered_on if gathered and _is_level(target) else follow
    found = [lay(patch, edge, target) for patch in patches]
    _, centre = centre_of(piece)
    if centre and abs(turn_of(patches[0], edge, target) - turn_of(patches[1], edge, target)) < 20:
        found.sort(key=lambda p: _mean_x(p.edges[centre]) > p.box.centre.x)
    return found[0]


def _is_level(line: Polyline) -> bool:
    return abs(line[-1].y - line[0].y) < 0.55 * abs(line[-1].x - line[0].x)


def _inner_part(line: Polyline, long: float) -> Polyline:
    """The part of an edge next to the middle of the body."""
    whole = length_of(line)
    near_end = abs(line[-1].x) < abs(line[0].x)
    shares = (1 - long / whole, 1.0) if near_end else (0.0, long / whole)
    return [along(line, shares[0] + (shares[1] - shares[0]) * n / 16) for n in range(17)]


def drawn_in(patch: Patch, edge: str, other: Piece, other_edge: str) -> Patch:
    """A patch gathered along an edge to the shorter edge of the piece that it is sewn to; only where it lies level."""
    line = patch.edges[edge]
    share = length_of(patch_of(other).edges[other_edge]) / length_of(line)
    if not _is_level(line) or share > 1:
        return patch
    inner = min(line, key=lambda p: abs(p.x))
    return gathered_on(patch, edge, [Point(inner.x + (p.x - inner.x) * share, p.y) for p in reversed(line)])


def _mean_x(line: Polyline) -> float:
    return sum(p.x for p in line) / len(line)


def this_side(draft: Draft, patch: Patch, sewn: str, view: str) -> Patch:
    """A yoke cut off where the shoulder lies: level with a notch, else 3 cm from its front."""
    pieces = draft.pieces
    far = [
        edge
        for edge, other, _ in neighbours(draft, patch.name)
        if edge != sewn
        and "shoulder" not in edge
        and other in pieces
        and view_of(pieces[other]) not in ("", view)
    ]
    if not far or far[0] not in patch.edges:
        return patch
    theirs = far[0] if view == BACK else sewn
    front = patch.edges[theirs]
    way = (front[-1] - front[0]).unit()
    inward = way.normal()  # into the piece, from the front seam
    reach = _shoulder(pieces[patch.name], theirs)

    def depth(p: Point) -> float:
        return ((p - front[0]).dot(inward) - reach) * (1 if view == BACK else -1)

    kept = {name: held(edge, depth) for name, edge in patch.edges.items()}
    return replace(patch, edges={name: edge for name, edge in kept.items() if len(edge) > 1})


def near_half(draft: Draft, patch: Patch, sewn: str) -> Patch:
    """A side body as far as it is seen from one side: the half next to the seam, up to where it turns."""
    far = [
        edge
        for edge, _, _ in neighbours(draft, patch.name)
        if edge != sewn
        and edge in patch.edges
        and abs(patch.edges[edge][-1].y - patch.edges[edge][0].y)
        > abs(patch.edges[edge][-1].x - patch.edges[edge][0].x)
    ]
    if not far:
        return patch
    near_line, far_line = (sorted(patch.edges[name], key=lambda p: p.y) for name in (sewn, far[0]))

    def depth(p: Point) -> float:
        start, end = at_level(near_line, p.y), at_level(far_line, p.y)
        return 0.5 - (p.x - start) / (end - start) if abs(end - start) > 1e-6 else 0.5

    kept = {name: part for name, edge in patch.edges.items() if len(part := held(edge, depth)) > 1}
    levels = [p.y for edge in kept.values() for p in edge if depth(p) < 0.02]
    if len(kept) == len(patch.edges) or not levels:
        return patch
    top, low = min(levels), max(levels)
    turn = [top + (low - top) * n / 12 for n in range(13)]
    fold = [Point((at_level(near_line, y) + at_level(far_line, y)) / 2, y) for y in turn]
    order: dict[str, Polyline] = {}
    outward = far_line[0].x > near_line[0].x
    for name, edge in kept.items():
        order[name] = edge
        ends_there = depth(edge[-1]) < 0.02
        if ends_there and "turn" not in order:
            order["turn"] = fold if outward else fold[::-1]
    return replace(patch, edges=order, folds=patch.folds | {"turn"})


def at_level(line: Sequence[Point], level: float) -> float:
    """How far right a line sorted by its levels lies at one; beyond its ends as at the end."""
    for a, b in pairwise(line):
        if level <= b.y:
            share = min(max((level - a.y) / (b.y - a.y), 0.0), 1.0) if b.y > a.y else 1.0
            return a.x + (b.x - a.x) * share
    return line[-1].x


def held(line: Polyline, depth: Callable[[Point], float]) -> Polyline:
    """The part of a polyline where `depth` is above nought, cut where it crosses."""
    points: Polyline = []
    for n, p in enumerate(line):
        here = depth(p)
        if n:
            before = depth(line[n - 1])
            if before * here < 0:
                points.append(line[n - 1].mix(p, before / (before - here)))
        if here >= 0:
            points.append(p)
    return points


def _shoulder(piece: Piece, front: str) -> float:
    """How far behind its front seam a yoke lies on the shoulder, mm."""
    path = piece.edge(front).path
    away = [path.nearest(n.at)[1] for n in piece.notches if n.edge != front]
    near = [d for d in away if 5 < d < 80]
    return min(near, default=30.0)
