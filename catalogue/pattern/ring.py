"""The outline as a ring: measured once round the piece, taken apart and put together again.

A place on the ring is mm along the outline from the start of the first edge, clockwise.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from catalogue.geometry import Path, Point, Segment
from catalogue.lengths import held
from catalogue.pattern.making import PieceError, with_ends
from catalogue.pattern.measure import ON_EDGE
from catalogue.pattern.piece import Edge, Piece

NOTHING = 1e-6
"""mm: a stretch shorter than this is dropped."""

WIDEST_GAP = 8.0
"""mm that two stretches may lie apart when they are put together; more than that is a mistake in the draft."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Part of an edge: `edge` says whose name, fold and allowance it carries."""

    edge: Edge
    path: Path


def place(piece: Piece, at: Point, edge: str = "") -> float:
    """Where a point lies on the ring; `edge` settles it at a corner. Raises PieceError when it lies off."""
    best = _nearest_place(piece, at, edge, ON_EDGE + 1e-6)
    if best is None or best[0] > ON_EDGE:  # to say how far off it lies, or that there is no such edge
        best = _nearest_place(piece, at, edge, math.inf)
    if best is None:
        known = ", ".join(e.name for e in piece.edges)
        raise PieceError(f"the piece “{piece.name}” has no edge “{edge}”", f"Its edges: {known}.")
    if best[0] > ON_EDGE:
        where = f"the edge “{edge}”" if edge else "the outline"
        raise PieceError(
            f"the point lies {held(best[0])} off {where} of “{piece.name}”",
            "Give a point on the edge, such as halfway along it.",
            at,
        )
    return best[1]


def _nearest_place(piece: Piece, at: Point, edge: str, within: float) -> tuple[float, float] | None:
    """(how far off, where on the ring) of the place of the outline nearest to a point; None when all is farther off."""
    best: tuple[float, float] | None = None
    start = 0.0
    for e in piece.edges:
        if not edge or e.name == edge:
            s, off = e.path.nearest(at, within if best is None else best[0])
            if off < (within if best is None else best[0] - 1e-9):
                best = (off, start + s)
        start += e.path.length
    return best


def perimeter(piece: Piece) -> float:
    return sum(e.path.length for e in piece.edges)


def edge_at(piece: Piece, s: float) -> Edge:
    """The edge that holds a place of the ring; at a corner the one that begins there."""
    around = perimeter(piece)
    s %= around
    start = 0.0
    for e in piece.edges:
        if s < start + e.path.length - NOTHING:
            return e
        start += e.path.length
    return piece.edges[0]


def stretches(piece: Piece, s_from: float, s_to: float) -> list[Stretch]:
    """The outline clockwise from one place to another; the same place twice gives the whole ring."""
    around = perimeter(piece)
    s_from %= around
    s_to %= around
    if s_to <= s_from + NOTHING:
        s_to += around
    found: list[Stretch] = []
    for turn in (0.0, around):
        start = turn
        for e in piece.edges:
            a, b = max(s_from, start), min(s_to, start + e.path.length)
            if b - a > NOTHING:
                whole = b - a > e.path.length - NOTHING
                found.append(Stretch(e, e.path if whole else e.path.between(a - start, b - start)))
            start += e.path.length
    return found


def chain(parts: Sequence[Stretch]) -> Path:
    """Stretches that follow each other as one path."""
    path = parts[0].path
    for part in parts[1:]:
        path = path.joined(with_ends(part.path, path.end, part.path.end))
    return path


def chain_of_segments(segments: Sequence[Segment]) -> Path:
    """A closed path from segments that meet but for rounding."""
    kept: list[Segment] = []
    for segment in segments:
        if kept and segment.start != kept[-1].end:
            (segment,) = with_ends(Path((segment,)), kept[-1].end, segment.end).segments
        kept.append(segment)
    return with_ends(Path(tuple(kept)), kept[0].start, kept[0].start)


def assemble(parts: Sequence[Stretch]) -> tuple[Edge, ...]:
    """A closed ring of edges from stretches, in order; small gaps are closed by bending the later one's start.

    Neighbouring stretches of one edge become one edge again; stretches of one edge that lie apart are numbered.

    Raises:
        PieceError: two stretches lie too far apart.
    """
    kept = [p for p in parts if p.path.length > NOTHING]
    if not kept:
        raise PieceError("nothing of the outline is left")
    for i in range(len(kept)):
        before = kept[i - 1].path.end
        gap = kept[i].path.start.distance(before)
        if gap > WIDEST_GAP:
            raise PieceError(
                f"the edges “{kept[i - 1].edge.name}” and “{kept[i].edge.name}” no longer meet: "
                f"they end {held(gap)} apart"
            )
        if gap > 0:
            kept[i] = replace(kept[i], path=with_ends(kept[i].path, before, kept[i].path.end))
    merged: list[Stretch] = []
    for part in kept:
        if merged and merged[-1].edge.name == part.edge.name:
            merged[-1] = replace(merged[-1], path=merged[-1].path.joined(part.path))
        else:
            merged.append(part)
    if len(merged) > 1 and merged[0].edge.name == merged[-1].edge.name:
        last = merged.pop()
        merged[0] = replace(merged[0], path=last.path.joined(merged[0].path))
    used: set[str] = set()
    edges = []
    for part in merged:
        name = part.edge.name
        number = 2
        while name in used:
            name = f"{part.edge.name}_{number}"
            number += 1
        used.add(name)
        edges.append(replace(part.edge, name=name, path=_tidy(part.path)))
    return tuple(edges)


def _tidy(path: Path) -> Path:
    """The path with neighbouring straight parts in one line made one."""
    return path.simplified if len(path.segments) > 1 else path


def met(before: Stretch, after: Stretch) -> tuple[Stretch, Stretch]:
    """Two stretches that follow each other, both bent to meet in the middle of what separates them."""
    middle = before.path.end.mix(after.path.start, 0.5)
    return (
        replace(before, path=with_ends(before.path, before.path.start, middle)),
        replace(after, path=with_ends(after.path, middle, after.path.end)),
    )


def closed(parts: Sequence[Stretch], closing: Path | None) -> Path:
    """The closed path of a region: stretches, then `closing` from their end back to their start."""
    path = chain(parts)
    if closing is not None:
        path = path.joined(with_ends(closing, path.end, path.start))
    return path
