"""Tracing: a new piece drawn off a finished one (a facing, a lining, an interfacing)."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from catalogue.geometry import Path, Point, contains, crossings, parallel
from catalogue.lengths import held
from catalogue.pattern.making import PieceError
from catalogue.pattern.measure import gaps
from catalogue.pattern.parting import cut
from catalogue.pattern.piece import Cut, Piece

REACH = 500.0
"""mm by which the inner line of a facing is run on so that it meets the edges beside it."""


def copy(piece: Piece, name: str, title: str, to_cut: Cut | None) -> Piece:
    """The whole piece traced, under a new name."""
    return piece.with_changes(
        name=name, title=title, cut=to_cut or piece.cut, operations=(f"traced from {piece.title}",)
    )


def band(
    piece: Piece, name: str, title: str, edges: Sequence[str], width: float, to_cut: Cut | None
) -> Piece:
    """A facing: the paper within `width` mm of some neighbouring edges.

    Raises:
        PieceError: the edges do not follow each other, one has a dart, or the piece is narrower than the facing.
    """
    for edge in edges:
        if gaps(piece, edge):
            raise PieceError(f"there is a dart on “{edge}”", "Close it before the facing is traced.")
    run = _in_a_row(piece, edges)
    inner = parallel(run, width)
    line = inner.extended(REACH, REACH)
    first_edge = piece.edge(_ordered(piece, edges)[0])
    holds = first_edge.path.point_at(first_edge.path.length / 2)
    try:
        facing, _ = cut(piece, _first_run(piece, line), [(name, title), (f"{name}_rest", "")], "inner", holds)
    except PieceError as error:
        raise PieceError(
            f"no facing {held(width)} wide fits along “{' and '.join(edges)}” of “{piece.name}”: {error.message}",
            "Make it narrower than the piece, or trace it along a line.",
        ) from None
    return facing.with_changes(cut=to_cut or facing.cut, operations=(f"traced from {piece.title}",))


def along(piece: Piece, name: str, title: str, line: Path, holds: Point | None, to_cut: Cut | None) -> Piece:
    """The part of a piece on one side of a line, traced: the one with `holds`, or the outline's start."""
    part, _ = cut(piece, line, [(name, title), (f"{name}_rest", "")], "inner", holds)
    return part.with_changes(cut=to_cut or part.cut, operations=(f"traced from {piece.title}",))


def _ordered(piece: Piece, names: Sequence[str]) -> list[str]:
    """The names in the order of the outline, starting where the run starts."""
    for name in names:
        if all(e.name != name for e in piece.edges):
            known = ", ".join(e.name for e in piece.edges)
            raise PieceError(f"the piece “{piece.name}” has no edge “{name}”", f"Its edges: {known}.")
    all_names = [e.name for e in piece.edges]
    count = len(all_names)
    for start in range(count):
        run = [all_names[(start + i) % count] for i in range(len(names))]
        if set(run) == set(names):
            return run
    raise PieceError(
        f"the edges {' and '.join(names)} do not follow each other round the piece",
        f"In order they are: {', '.join(all_names)}.",
    )


def _in_a_row(piece: Piece, names: Sequence[str]) -> Path:
    path: Path | None = None
    for name in _ordered(piece, names):
        edge = piece.edge(name).path
        path = edge if path is None else path.joined(edge)
    assert path is not None
    return path


def _first_run(piece: Piece, line: Path) -> Path:
    """The longest part of a line that lies on the paper."""
    marks = sorted({0.0, line.length, *(c.on_first for c in crossings(line, piece.outline))})
    inside = [
        (a, b)
        for a, b in pairwise(marks)
        if b - a > 0.5 and contains(piece.outline, line.point_at((a + b) / 2), 0.0)
    ]
    if not inside:
        raise PieceError("its inner line misses the piece")
    return line.between(*max(inside, key=lambda r: r[1] - r[0]))
