"""Tape: two pieces joined edge to edge, and a piece unfolded on its fold."""

from __future__ import annotations

import math
from dataclasses import replace

from catalogue.geometry import Line, Point, Transform
from catalogue.lengths import held
from catalogue.pattern.contents import contents_of, fitted
from catalogue.pattern.making import PieceError, check_simple
from catalogue.pattern.measure import ON_EDGE, gaps
from catalogue.pattern.moving import moved
from catalogue.pattern.piece import Cut, InnerLine, Piece
from catalogue.pattern.ring import Stretch, assemble, place, stretches

TAPE = 2.0
"""mm that two edges may differ by in length and still be taped together."""


def tape(moving: Piece, moving_edge: str, still: Piece, still_edge: str, name: str, title: str) -> Piece:
    """Lay `moving` against `still` along their edges and join them; the joined edges vanish.

    Where both are drawn the same way round (both with the centre on the left, say) `moving` is turned over first, so
    that edges of one name (neck to neck) meet across the join.

    Raises:
        PieceError: the edges differ in length or shape, or have darts.
    """
    moving = _right_way_up(moving, moving_edge, still, still_edge)
    a, b = still.edge(still_edge), moving.edge(moving_edge)
    for piece, edge in ((still, still_edge), (moving, moving_edge)):
        if gaps(piece, edge):
            raise PieceError(
                f"“{piece.name}” has a dart or pleat on “{edge}”", "Close it before the pieces are taped."
            )
    if abs(a.path.length - b.path.length) > TAPE:
        raise PieceError(
            f"“{still.name}.{still_edge}” is {held(a.path.length)} long and “{moving.name}.{moving_edge}” "
            f"{held(b.path.length)}",
            "Only edges of the same length can be taped together.",
        )
    move = laid_against(a.path.start, a.path.end, b.path.start, b.path.end)
    laid = b.path.transformed(move)
    for share in (0.25, 0.5, 0.75):
        off = a.path.nearest(laid.point_at(laid.length * share))[1]
        if off > TAPE:
            raise PieceError(
                f"the edges “{still_edge}” and “{moving_edge}” are curved differently: {held(off)} apart",
                "Redraw one of them before the pieces are taped.",
            )
    s0, s1 = _around(still, still_edge)
    t0, t1 = _around(moving, moving_edge)
    rest = stretches(still, s1, s0)
    added = [replace(s, path=s.path.transformed(move)) for s in stretches(moving, t1, t0)]
    used = {s.edge.name for s in rest}
    neighbours = {rest[-1].edge.name, rest[0].edge.name}
    added = [
        Stretch(replace(s.edge, name=_joined_name(s.edge.name, used, neighbours, moving.name)), s.path)
        for s in added
    ]
    edges = assemble([*rest, *added])
    # Notches of the edges that vanish have nothing left to mark.
    own, far = (
        replace(c, notches=tuple(n for n in c.notches if n.edge != gone))
        for c, gone in ((contents_of(still), still_edge), (contents_of(moving), moving_edge))
    )
    contents = own.and_also(far.moved(move))
    made = Piece(
        name,
        title,
        edges,
        still.cut,
        contents.grain,
        contents.darts,
        contents.pleats,
        contents.notches,
        contents.marks,
        contents.lines,
        contents.points,
        (*still.operations, *moving.operations),
    )
    made = fitted(made)
    check_simple(made)
    return made


def turned_over(piece: Piece) -> Piece:
    """The piece laid with its other side up: mirrored left to right, everything on it too."""
    return moved(piece, Transform.reflection(Point(0.0, 0.0), Point(0.0, 1.0)), turns_over=True)


def _right_way_up(moving: Piece, moving_edge: str, still: Piece, still_edge: str) -> Piece:
    """`moving`, turned over if more edges then meet their namesakes at the ends of the join."""

    def beside(piece: Piece, name: str) -> tuple[str, str]:
        at = next(i for i, e in enumerate(piece.edges) if e.name == name)
        return piece.edges[at - 1].name, piece.edges[(at + 1) % len(piece.edges)].name

    before, after = beside(still, still_edge)
    other_before, other_after = beside(moving, moving_edge)
    # Both run clockwise, so what comes before the one edge meets what comes after the other.
    as_drawn = (before == other_after) + (after == other_before)
    other_side = (before == other_before) + (after == other_after)
    return turned_over(moving) if other_side > as_drawn else moving


def _joined_name(name: str, used: set[str], neighbours: set[str], piece: str) -> str:
    """An edge of one name on both pieces continues where both meet; otherwise its piece is put before its name."""
    return name if name not in used or name in neighbours else f"{piece}_{name}"


def _around(piece: Piece, edge: str) -> tuple[float, float]:
    path = piece.edge(edge).path
    start = 0.0
    for e in piece.edges:
        if e.name == edge:
            return start, start + path.length
        start += e.path.length
    return place(piece, path.start, edge), place(piece, path.end, edge)


def laid_against(a_start: Point, a_end: Point, b_start: Point, b_end: Point) -> Transform:
    """The rigid move that brings b's end to a's start and b's start towards a's end (both run clockwise)."""
    wanted, given = a_start - a_end, b_end - b_start
    turn = math.degrees(math.atan2(given.cross(wanted), given.dot(wanted)))
    rotated = Transform.rotation(turn, b_start)
    middle = a_start.mix(a_end, 0.5)
    shift = middle - rotated.apply(b_start.mix(b_end, 0.5))
    return rotated.then(Transform.translation(shift))


def unfold(piece: Piece, edge_name: str) -> Piece:
    """Mirror a piece over a straight edge and join both halves there.

    Edges of the mirrored half that do not run on across the fold are called other_…. An edge in line with the fold is
    a slit: both its sides lie on each other, so it leaves the outline and is drawn as a line to cut.

    Raises:
        PieceError: the edge is curved or has a dart.
    """
    edge = piece.edge(edge_name)
    path = edge.path
    if (
        any(not isinstance(s, Line) for s in path.segments)
        or path.length - path.start.distance(path.end) > 0.01
    ):
        raise PieceError(
            f"the edge “{edge_name}” is not straight, so nothing can be mirrored over it",
            "Paper folds only along a straight line; redraw the edge straight first.",
        )
    if gaps(piece, edge_name):
        raise PieceError(f"there is a dart on “{edge_name}”", "Close it first.")
    flip = Transform.reflection(path.start, path.end)
    s0, s1 = _around(piece, edge_name)
    unit = (path.end - path.start).unit()
    half: list[Stretch] = []
    slits: list[Stretch] = []
    for part in stretches(piece, s1, s0):
        in_line = all(abs((p - path.start).cross(unit)) < ON_EDGE for p in part.path.flatten(0.1))
        (slits if in_line else half).append(part)
    mirrored = [replace(s, path=s.path.transformed(flip).reversed()) for s in reversed(half)]
    met = {half[-1].edge.name, half[0].edge.name}
    other = []
    for i, s in enumerate(mirrored):
        runs_on = s.edge.name in met and i in (0, len(mirrored) - 1)
        other.append(s if runs_on else Stretch(replace(s.edge, name=f"other_{s.edge.name}"), s.path))
    edges = assemble([*half, *other])
    own = contents_of(piece)
    own = replace(own, notches=tuple(n for n in own.notches if n.edge != edge_name))
    far = own.moved(flip)
    far = replace(
        far,
        darts=tuple(replace(d, name=f"other_{d.name}") for d in far.darts),
        pleats=tuple(replace(p, name=f"other_{p.name}") for p in far.pleats),
        points={
            n if n in own.points and own.points[n].distance(p) < 0.01 else f"other_{n}": p
            for n, p in far.points.items()
        },
        notches=tuple(n for n in far.notches if all(n.at.distance(m.at) > 0.01 for m in own.notches)),
        grain=None,
    )
    both = own.and_also(far)
    cut = (
        replace(piece.cut, on_fold=False)
        if piece.cut.on_fold
        else Cut(max(piece.cut.count // 2, 1), False, False, piece.cut.cloth)
    )
    made = both.on(piece, edges).with_changes(
        cut=cut,
        lines=(*both.lines, *(InnerLine(s.path, "guide", "slit: cut here") for s in slits)),
        grain=both.grain,
    )
    made = fitted(made)
    check_simple(made)
    return made
