"""Pleats folded as paper is: laid, trimmed along the seam, and unfolded, so the edge has its true zigzag."""

from __future__ import annotations

import math
from collections.abc import Collection
from itertools import pairwise

from catalogue.geometry import Cubic, Path, Point, Transform, crossings
from catalogue.lengths import held
from catalogue.pattern.contents import direction_word, fitted
from catalogue.pattern.grain import kept_grain
from catalogue.pattern.making import PieceError, check_simple, with_ends
from catalogue.pattern.parting import inner_line, take, which_moves
from catalogue.pattern.piece import InnerLine, Piece, Pleat
from catalogue.pattern.ring import Stretch, assemble, edge_at, place

Strip = tuple[float, float, float, float]
"""A strip of a pleat: mm from the pleat's line, laid flat from and to, folded from and to."""

KINDS = ("knife", "box", "inverted")


def pleat(
    piece: Piece,
    name: str,
    line: Path,
    kind: str,
    depth: float,
    to_left: bool,
    free_at: Collection[str] = (),
) -> Piece:
    """Fold a pleat into a piece along a straight line from edge to edge.

    Args:
        depth: mm from the fold that is seen to the one behind it. A knife pleat takes twice this in cloth, a box or
            inverted pleat four times.
        to_left: the fold of a knife pleat that is seen points to the left of the line's travel (else to the right)
            on the right side of the cloth, which is the side that is drawn; what it takes lies under the other side.
        free_at: edges where the pleat hangs open, as at the hem of a shirt: the edge runs smoothly through there.

    Raises:
        PieceError: the line misses the piece or lies in the cloth of another pleat, the paper beside it is narrower
            than the pleat is deep, or the pleat does not reach an edge that it should hang free at.
    """
    inner = inner_line(piece, line)
    if inner.length - inner.start.distance(inner.end) > 0.01:
        raise PieceError("a pleat needs a straight line", "Paper folds only along straight lines.")
    if depth <= 0:
        raise PieceError("a pleat must be deeper than 0", "For example: depth 3 cm.")
    a, b = place(piece, inner.start), place(piece, inner.end)
    first, second = take(piece, b, a, inner), take(piece, a, b, inner.reversed())
    kept = {p.name for part in (first, second) for p in part.contents.pleats}
    for other in piece.pleats:
        if other.name not in kept:
            wide = other.mouth[0].distance(other.mouth[1])
            raise PieceError(
                f"the line lies in the cloth that the pleat “{other.name}” takes up",
                f"That is {held(wide)} wide here: draw the line beside it, or fold this pleat first.",
                inner.start,
            )
    # Offsets run from the part that stays (negative) into the one that moves, straight across the line.
    first_stays = which_moves(first, second)
    right = (inner.end - inner.start).unit().normal()
    away = -right if first_stays else right
    under_fixed = to_left == first_stays
    turns = _turns(kind, depth, under_fixed)
    strips = strips_between(turns)
    width = strips[-1][1]
    edges = {"start": edge_at(piece, a), "end": edge_at(piece, b)}
    missed = [n for n in free_at if n not in {e.name for e in edges.values()}]
    if missed:
        raise PieceError(
            f"the pleat does not reach the edge “{missed[0]}”",
            f"It runs from “{edges['start'].name}” to “{edges['end'].name}”.",
        )
    zigzags = {
        end: run_through(edges[end].path, at, away, width)
        if edges[end].name in free_at
        else zigzag(piece, at, away, inner, strips)
        for end, at in (("start", inner.start), ("end", inner.end))
    }
    fixed, moving = (first, second) if first_stays else (second, first)
    move = Transform.translation(away * width)
    moved = moving.moved(move)
    order = ("start", "end") if first_stays else ("end", "start")
    ring = [
        *fixed.outline,
        Stretch(edges[order[0]], zigzags[order[0]]),
        *moved.outline,
        Stretch(edges[order[1]], zigzags[order[1]].reversed()),
    ]
    made_edges = assemble(ring)
    start = next((i for i, e in enumerate(made_edges) if e.name == piece.edges[0].name), 0)
    contents = fixed.contents.and_also(moved.contents)
    folds = tuple(fold_line(zigzags, away, inner, flat) for flat in _flat_places(strips))
    direction = direction_word(-right if to_left else right)
    pleats = tuple(
        Pleat(
            f"{name}_{end}" if end == "end" else name,
            edges[end].name,
            _mouth(inner, move, end, first_stays),
            kind,
            "" if kind != "knife" else direction,
        )
        for end in ("start", "end")
        if edges[end].name not in free_at
    )
    made = contents.on(piece, (*made_edges[start:], *made_edges[:start])).with_changes(
        pleats=(*contents.pleats, *pleats),
        lines=(*contents.lines, *(InnerLine(f, "pleat") for f in folds)),
    )
    check_simple(made)
    made = made.with_changes(lines=(*made.lines, *_laid(made, folds, kind, under_fixed, away, depth)))
    made = fitted(made.with_changes(grain=kept_grain(piece, made, fixed.contents.grain)))
    return made


def run_through(edge: Path, at: Point, away: Point, width: float) -> Path:
    """The edge across a pleat that hangs open: one line from where it stopped to where it goes on, without a corner."""
    s = edge.nearest(at)[0]
    way = edge.tangent_at(s)
    way = way if way.dot(away) > 0 else -way
    end = at + away * width
    if abs(way.cross(away)) < 1e-9:
        return Path.line(at, end)
    reach = width / (3 * max(way.dot(away), 0.3))
    return Path((Cubic(at, at + way * reach, end - way * reach, end),))


def _turns(kind: str, depth: float, under_fixed: bool) -> list[float]:
    """Offsets from the line, in the folded state, at which the cloth turns back."""
    if kind == "knife":
        return [0.0, -depth if under_fixed else depth, 0.0]
    return [0.0, -depth, depth, 0.0]


def strips_between(turns: list[float]) -> list[Strip]:
    """The strips between the places at which the cloth turns back."""
    flat, strips = 0.0, []
    for p0, p1 in pairwise(turns):
        strips.append((flat, flat + abs(p1 - p0), p0, p1))
        flat += abs(p1 - p0)
    return strips


def _flat_places(strips: list[Strip]) -> list[float]:
    return [strips[0][0], *(s[1] for s in strips)]


def zigzag(piece: Piece, at: Point, away: Point, line: Path, strips: list[Strip]) -> Path:
    """The edge across the pleat, laid flat: each strip cut to the seam line it lies under when folded."""
    furthest = max(abs(p) for s in strips for p in s[2:])
    under = {math.copysign(1.0, p) for s in strips for p in s[2:] if p}
    seam = {side: _beside(piece, at, away * side, line, furthest) for side in under}
    path: Path | None = None
    for flat0, _, p0, p1 in strips:
        for u0, u1 in _without_crossing_nought(p0, p1):
            side = -1.0 if min(u0, u1) < 0 else 1.0
            part = _between_offsets(seam[side], at, away, abs(u0), abs(u1))
            along = flat0 + abs(u0 - p0)
            if u1 > u0:
                part = part.transformed(Transform.translation(away * (along - u0)))
            else:
                fold = at + away * u0
                part = part.transformed(Transform.reflection(fold, fold + away.normal()))
                part = part.transformed(Transform.translation(away * (along - u0)))
            path = part if path is None else path.joined(with_ends(part, path.end, part.end))
    assert path is not None
    return path


def _without_crossing_nought(p0: float, p1: float) -> list[tuple[float, float]]:
    return [(p0, 0.0), (0.0, p1)] if p0 * p1 < 0 else [(p0, p1)]


def _beside(piece: Piece, at: Point, way: Point, line: Path, reach: float) -> Path:
    """The outline from `at` on the side `way`, as far as `reach` mm straight across from the pleat's line."""
    outline = piece.outline
    s, total = place(piece, at), piece.outline.length
    look = min(reach, 2.0)
    ahead = (outline.point_at((s + look) % total) - at).dot(way) > (
        outline.point_at((s - look) % total) - at
    ).dot(way)
    ring = outline.between(s, total).joined(outline.between(0, s)) if 1e-6 < s < total - 1e-6 else outline
    ring = ring if ahead else ring.reversed()
    unit = (line.end - line.start).unit()
    far = Path.line(at + way * reach - unit * 20_000, at + way * reach + unit * 20_000)
    found = crossings(ring, far)
    if not found:
        raise PieceError(
            "the paper beside the pleat is narrower than the pleat is deep", "Make it shallower.", at
        )
    return ring.between(0, found[0].on_first)


def _between_offsets(seam: Path, at: Point, away: Point, u0: float, u1: float) -> Path:
    """The part of a seam between two distances straight across from the pleat's line, in that order."""

    def place_at(u: float) -> float:
        if u < 1e-9:
            return 0.0
        side = 1.0 if (seam.end - at).dot(away) > 0 else -1.0
        mark = at + away * (u * side)
        unit = away.normal()
        found = crossings(seam, Path.line(mark - unit * 20_000, mark + unit * 20_000))
        return found[0].on_first if found else seam.length

    return seam.between(place_at(u0), place_at(u1))


def _laid(
    piece: Piece, folds: tuple[Path, ...], kind: str, under_fixed: bool, away: Point, depth: float
) -> list[InnerLine]:
    """How the pleat is laid: arrows from each fold that is brought over to the line it is laid on.

    The two folds of an inverted pleat meet on a line of their own in the middle; those of a box pleat lie on lines
    outside it. These are drawn as guide lines.
    """
    by = Transform.translation(away * depth)
    if kind == "knife":
        pairs = [(folds[0], folds[2]) if under_fixed else (folds[2], folds[0])]
        places: list[Path] = []
    elif kind == "inverted":
        places = [from_edge_to_edge(piece, folds[1].transformed(by))]
        pairs = [(folds[0], places[0]), (folds[3], places[0])]
    else:
        places = [
            from_edge_to_edge(piece, folds[0].transformed(by.inverse())),
            from_edge_to_edge(piece, folds[3].transformed(by)),
        ]
        pairs = [(folds[1], places[0]), (folds[2], places[1])]
    return [
        *(InnerLine(p, "guide") for p in places),
        *(arrow_across(fold, place, share) for fold, place in pairs for share in (0.12, 0.88)),
    ]


def from_edge_to_edge(piece: Piece, line: Path) -> Path:
    try:
        return inner_line(piece, line)
    except PieceError:
        return line


def arrow_across(fold: Path, onto: Path, share: float) -> InnerLine:
    """An arrow from a fold to the line it is laid on, at a share of their lengths."""
    return InnerLine(
        Path.line(fold.point_at(fold.length * share), onto.point_at(onto.length * share)), "arrow"
    )


def _mouth(line: Path, move: Transform, end: str, first_stays: bool) -> tuple[Point, Point]:
    at = line.start if end == "start" else line.end
    near, far = at, move.apply(at)
    return (near, far) if (end == "start") == first_stays else (far, near)


def fold_line(zigzags: dict[str, Path], away: Point, line: Path, flat: float) -> Path:
    """The fold at a distance from the line, from the edge at one end to the edge at the other."""
    ends = []
    for end, at in (("start", line.start), ("end", line.end)):
        path = zigzags[end]
        mark = at + away * flat
        unit = away.normal()
        found = crossings(path, Path.line(mark - unit * 20_000, mark + unit * 20_000))
        near = min((c.point for c in found), key=mark.distance, default=mark)
        if flat < 1e-9:
            near = path.start
        elif abs((path.end - path.start).dot(away) - flat) < 1e-6:
            near = path.end
        ends.append(near)
    return Path.line(ends[0], ends[1])
