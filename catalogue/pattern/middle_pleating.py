"""A pleat in the middle of the garment: half of it added to a half piece, beyond its fold or its centre edge."""

from __future__ import annotations

from collections.abc import Collection

from catalogue.geometry import Line, Path, Point, Transform
from catalogue.pattern.contents import fitted
from catalogue.pattern.grain import kept_grain
from catalogue.pattern.making import PieceError, check_simple
from catalogue.pattern.measure import ON_EDGE
from catalogue.pattern.piece import Edge, InnerLine, Piece, Pleat
from catalogue.pattern.pleating import (
    arrow_across,
    fold_line,
    from_edge_to_edge,
    run_through,
    strips_between,
    zigzag,
)
from catalogue.pattern.ring import Stretch, assemble


def middle_pleat(
    piece: Piece, name: str, edge_name: str, kind: str, depth: float, free_at: Collection[str] = ()
) -> Piece:
    """Half of a box or inverted pleat added to a half piece, along the edge in the middle of the garment.

    The edge moves out by twice the depth and stays what it was, a fold or a seam. Of an inverted pleat the old middle
    line is the fold that is seen, and both meet there; of a box pleat the fold that is seen lies a depth to the side.

    Args:
        depth: mm from the fold that is seen to the one behind it.
        free_at: edges where the pleat hangs open: they run smoothly through there.

    Raises:
        PieceError: the edge is not straight, the pleat is a knife pleat, the paper is narrower than the pleat is deep,
            or it does not reach an edge that it should hang free at.
    """
    at = next(i for i, e in enumerate(piece.edges) if e.name == edge_name)
    middle, after, before = piece.edges[at], piece.edges[(at + 1) % len(piece.edges)], piece.edges[at - 1]
    line = _straight(middle)
    if kind == "knife":
        raise PieceError(
            f"a knife pleat turns to one side, and “{edge_name}” is the middle of a half piece",
            "Write box pleat or inverted pleat; or unfold the piece first: "
            f"unfold {piece.name} on {edge_name}.",
        )
    if depth <= 0:
        raise PieceError("a pleat needs a depth of more than nothing", "For example: depth 3 cm.")
    missed = [n for n in free_at if n not in (before.name, after.name)]
    if missed:
        raise PieceError(
            f"the pleat does not reach the edge “{missed[0]}”",
            f"It runs from “{before.name}” to “{after.name}”.",
        )
    # The outline runs clockwise and y down, so the paper lies to the right of its travel.
    away = -(line.end - line.start).unit().normal()
    strips = strips_between([0.0, -depth, 0.0])
    width = 2 * depth
    ends = (("start", before, line.start), ("end", after, line.end))
    ways = {
        end: run_through(beside.path, corner, away, width)
        if beside.name in free_at
        else zigzag(piece, corner, away, line, strips)
        for end, beside, corner in ends
    }
    out = Transform.translation(away * width)
    others = [*piece.edges[at + 1 :], *piece.edges[:at]]
    ring = [
        *(Stretch(e, e.path) for e in others),
        Stretch(before, ways["start"]),
        Stretch(middle, middle.path.transformed(out)),
        Stretch(after, ways["end"].reversed()),
    ]
    edges = assemble(ring)
    start = next((i for i, e in enumerate(edges) if e.name == piece.edges[0].name), 0)
    pleats = tuple(
        Pleat(
            name if end == "start" else f"{name}_end",
            beside.name,
            (corner, out.apply(corner)) if end == "start" else (out.apply(corner), corner),
            kind,
        )
        for end, beside, corner in ends
        if beside.name not in free_at
    )
    folds = [fold_line(ways, away, line, flat) for flat in (0.0, depth)]
    made = piece.with_changes(
        edges=(*edges[start:], *edges[:start]),
        pleats=(*piece.pleats, *pleats),
        lines=(*piece.lines, *(InnerLine(f, "pleat") for f in folds)),
    )
    check_simple(made)
    made = made.with_changes(lines=(*made.lines, *_laid(made, kind, folds, away, depth)))
    return fitted(made.with_changes(grain=kept_grain(piece, made, piece.grain)))


def middle_edge(piece: Piece, line: Path) -> Edge | None:
    """The edge that a line lies along from end to end, None where it lies along none."""
    for edge in piece.edges:
        if all(line.nearest(edge.path.point_at(edge.path.length * t))[1] <= ON_EDGE for t in (0.0, 0.5, 1.0)):
            return edge
    return None


def _straight(middle: Edge) -> Path:
    path = middle.path
    bowed = path.length - path.start.distance(path.end)
    if bowed > 0.01 or any(not isinstance(s, Line) for s in path.segments):
        raise PieceError(
            f"the edge “{middle.name}” is not straight, and paper folds only along straight lines",
            "Redraw it straight first.",
        )
    return Path.line(path.start, path.end)


def _laid(piece: Piece, kind: str, folds: list[Path], away: Point, depth: float) -> list[InnerLine]:
    """How the pleat is laid: arrows from the fold that is seen to the line it is laid on."""
    if kind == "inverted":
        seen, onto = folds[0], folds[0].transformed(Transform.translation(away * (2 * depth)))
        return [arrow_across(seen, onto, share) for share in (0.12, 0.88)]
    seen, onto = (
        folds[1],
        from_edge_to_edge(piece, folds[0].transformed(Transform.translation(-away * depth))),
    )
    return [InnerLine(onto, "guide"), *(arrow_across(seen, onto, share) for share in (0.12, 0.88))]
