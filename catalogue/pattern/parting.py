"""Scissors: cutting a piece along a line, and the two-part move that pivoting, spreading and folding rest on."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from catalogue.geometry import Path, Point, Transform, contains, crossings, signed_area
from catalogue.pattern.contents import Contents, contents_within, fitted
from catalogue.pattern.grain import kept_grain
from catalogue.pattern.making import PieceError, check_simple
from catalogue.pattern.measure import ON_EDGE
from catalogue.pattern.piece import Cut, Edge, Piece
from catalogue.pattern.ring import Stretch, assemble, closed, place, stretches


@dataclass(frozen=True, slots=True)
class PaperPart:
    """Part of a piece's paper: a run of its outline, and what lies on it."""

    outline: tuple[Stretch, ...]
    contents: Contents
    region: Path

    @property
    def area(self) -> float:
        return abs(signed_area(self.region))

    @property
    def has_fold(self) -> bool:
        return any(s.edge.fold for s in self.outline)

    def moved(self, by: Transform) -> PaperPart:
        return PaperPart(
            tuple(replace(s, path=s.path.transformed(by)) for s in self.outline),
            self.contents.moved(by),
            self.region.transformed(by),
        )


def take(piece: Piece, s_from: float, s_to: float, closing: Path, skip: Collection[str] = ()) -> PaperPart:
    """The part of the paper between the outline from one place to another and `closing`, which leads back."""
    outline = stretches(piece, s_from, s_to)
    region = closed(outline, closing)
    return PaperPart(tuple(outline), contents_within(piece, region, skip), region)


def inner_line(piece: Piece, line: Path) -> Path:
    """The part of a line that lies on the paper, from edge to edge.

    A straight line that stops short is run on to the edge. Raises PieceError when the line misses the paper or a
    curve ends inside it.
    """
    outline = piece.outline
    is_straight = len(line.segments) == 1 and line.length - line.start.distance(line.end) < 1e-6
    for end, at in ((0, line.start), (1, line.end)):
        if contains(outline, at, 0.0) and not outline.passes(at, ON_EDGE):
            if is_straight:
                line = line.extended(20_000.0 if end == 0 else 0.0, 20_000.0 if end == 1 else 0.0)
                continue
            raise PieceError(
                f"the line ends inside the piece “{piece.name}”",
                "Draw it from one edge to another.",
                at,
            )
    marks = sorted({0.0, line.length, *(c.on_first for c in crossings(line, outline))})
    inside = [
        (a, b)
        for a, b in pairwise(marks)
        if b - a > ON_EDGE
        and contains(outline, line.point_at((a + b) / 2), 0.0)
        and not outline.passes(line.point_at((a + b) / 2), 0.05)
    ]
    if not inside:
        raise PieceError(
            f"the line misses the piece “{piece.name}”",
            "It must cross the paper from edge to edge. Is it drawn where the piece lies now?",
        )
    runs: list[tuple[float, float]] = []
    for a, b in inside:
        if runs and a - runs[-1][1] < 1e-3:
            runs[-1] = (runs[-1][0], b)
        else:
            runs.append((a, b))
    if len(runs) > 1:
        raise PieceError(f"the line leaves the piece “{piece.name}” and comes back", "Make two cuts.")
    return line.between(*runs[0])


def cut(
    piece: Piece,
    line: Path,
    names: Sequence[tuple[str, str]],
    edge_name: str,
    first_holds: Point | None = None,
) -> tuple[Piece, Piece]:
    """Cut a piece in two along a line.

    Args:
        line: from edge to edge, or a straight line that is run on to the edges.
        names: (name, title) of the two parts. The first is the one that holds the start of the outline, or
            `first_holds` when that is given.
        edge_name: what the new edge is called on both.

    Raises:
        PieceError: the line misses the piece, ends in it, or runs through a dart.
    """
    inner = inner_line(piece, line)
    a, b = place(piece, inner.start), place(piece, inner.end)
    first = take(piece, b, a, inner)
    second = take(piece, a, b, inner.reversed())
    made = []
    new_edge = Edge(edge_name, inner)
    parts = [(first, inner), (second, inner.reversed())]
    mark = (
        first_holds
        if first_holds is not None
        else piece.edges[0].path.point_at(min(1.0, piece.edges[0].path.length / 2))
    )
    if not contains(first.region, mark, ON_EDGE):
        parts.reverse()
    for (part, closing), (name, title) in zip(parts, names, strict=True):
        edges = assemble([*part.outline, Stretch(new_edge, closing)])
        made.append(part_as_piece(piece, name, title, edges, part))
    return made[0], made[1]


def part_as_piece(piece: Piece, name: str, title: str, edges: tuple[Edge, ...], part: PaperPart) -> Piece:
    """A part of a piece as a piece of its own: its cut, grain and what is drawn on it follow from the whole."""
    c = part.contents
    new = Piece(
        name,
        title,
        edges,
        cut_of_part(piece.cut, edges),
        None,
        c.darts,
        c.pleats,
        c.notches,
        c.marks,
        c.lines,
        c.points,
        piece.operations,
    )
    return fitted(new.with_changes(grain=kept_grain(piece, new, c.grain)))


def cut_of_part(cut: Cut, edges: Sequence[Edge]) -> Cut:
    """A part of a piece on the fold stays on the fold if it has the fold edge; the others are cut in pairs."""
    if cut.on_fold and not any(e.fold for e in edges):
        return Cut(cut.count * 2, False, True, cut.cloth)
    return cut


def rejoin(
    piece: Piece, fixed: PaperPart, moved: PaperPart, bridges: tuple[Path | None, Path | None]
) -> Piece:
    """Put two parts together again, after one was moved.

    Args:
        fixed, moved: each a run of the outline; the ring is `fixed`, a bridge, `moved`, a bridge.
        bridges: new outline from the end of `fixed` to the start of `moved`, and back; None where they meet.
    """
    ring: list[Stretch] = [*fixed.outline]
    if bridges[0] is not None:
        ring.append(Stretch(fixed.outline[-1].edge, bridges[0]))
    ring.extend(moved.outline)
    if bridges[1] is not None:
        ring.append(Stretch(moved.outline[-1].edge, bridges[1]))
    edges = _from_first_edge(assemble(ring), piece)
    made = fixed.contents.and_also(moved.contents).on(piece, edges)
    made = fitted(made.with_changes(grain=kept_grain(piece, made, fixed.contents.grain)))
    check_simple(made)
    return made


def _from_first_edge(edges: tuple[Edge, ...], piece: Piece) -> tuple[Edge, ...]:
    """The ring begun at the edge it began with before."""
    name = piece.edges[0].name
    start = next((i for i, e in enumerate(edges) if e.name == name), 0)
    return (*edges[start:], *edges[:start])


def which_moves(a: PaperPart, b: PaperPart) -> bool:
    """True when the first part stays: the one with the fold, else the one with the grain line, else the larger."""
    if a.has_fold != b.has_fold:
        return a.has_fold
    if (a.contents.grain is None) != (b.contents.grain is None):
        return a.contents.grain is not None
    return a.area >= b.area


def bridge(start: Point, end: Point) -> Path | None:
    """A straight new bit of outline, or None where there is nothing to bridge."""
    return Path.line(start, end) if start.distance(end) > 1e-6 else None
