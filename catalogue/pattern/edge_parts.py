"""Part of an edge sewn alone: the piece with that edge cut in up to three, so that the part can be walked."""

from __future__ import annotations

from dataclasses import replace

from catalogue.geometry import Path, Point
from catalogue.pattern.making import PieceError
from catalogue.pattern.measure import gaps, place_on
from catalogue.pattern.piece import Edge, Piece

SHORTEST = 1.0
"""mm: a part of an edge shorter than this is none."""


def with_part(piece: Piece, name: str, start: float, end: float) -> Piece:
    """The piece with the part of an edge from `start` to `end` (mm along it, as drawn) as the edge of that name.

    What is left of the edge is called “before” and “after” it, in the outline's direction.

    Raises:
        PieceError: the part is shorter than `SHORTEST`, or an end of it lies in a dart or a pleat.
    """
    edge = piece.edge(name)
    first, last = min(start, end), max(start, end)
    if last - first < SHORTEST:
        raise PieceError(f"the part of “{piece.name}.{name}” has no length", "Name two points of the edge.")
    for s0, s1 in gaps(piece, name):
        for s in (first, last):
            if s0 + 1e-6 < s < s1 - 1e-6:
                raise PieceError(
                    f"the part of “{piece.name}.{name}” ends inside a dart or a pleat",
                    "Let it end beside the dart.",
                    edge.path.point_at(s),
                )
    total = edge.path.length
    cuts = [(f"{name} before", 0.0, first), (name, first, last), (f"{name} after", last, total)]
    parts = [(n, s0, s1) for n, s0, s1 in cuts if s1 - s0 > 1e-6]

    def on(s: float) -> str:
        """The part that a place of the edge lies on."""
        if first - 1e-6 <= s <= last + 1e-6:
            return name
        return f"{name} before" if s < first else f"{name} after"

    def middle(ends: tuple[Point, Point], path: Path) -> float:
        return (place_on(path, ends[0]) + place_on(path, ends[1])) / 2

    edges: list[Edge] = []
    for e in piece.edges:
        if e.name == name:
            edges += [replace(e, name=n, path=e.path.between(s0, s1)) for n, s0, s1 in parts]
        else:
            edges.append(e)
    return piece.with_changes(
        edges=tuple(edges),
        notches=tuple(
            replace(n, edge=on(place_on(edge.path, n.at))) if n.edge == name else n for n in piece.notches
        ),
        darts=tuple(
            replace(d, edge=on(middle(d.legs, edge.path))) if d.edge == name else d for d in piece.darts
        ),
        pleats=tuple(
            replace(p, edge=on(middle(p.mouth, edge.path))) if p.edge == name else p for p in piece.pleats
        ),
    )
