"""Half pieces that lie on the fold, taken whole: both halves of an edge sewn to a piece that is cut whole."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from catalogue.geometry import Point, Transform, contains
from catalogue.pattern.joining import turned_over, unfold
from catalogue.pattern.measure import ON_EDGE
from catalogue.pattern.piece import Edge, Piece
from catalogue.pattern.seamline import Sewn, Sign
from catalogue.pattern.seams import Allowed, Match, Walked, walk


def fold_beside(piece: Piece, name: str) -> Edge | None:
    """The fold edge that an edge of the piece ends at, None when it ends at none."""
    at = next(i for i, e in enumerate(piece.edges) if e.name == name)
    beside = (piece.edges[at - 1], piece.edges[(at + 1) % len(piece.edges)])
    return next((e for e in beside if e.fold and e.name != name), None)


def opened(pieces: Mapping[str, Piece], whole: Collection[str]) -> dict[str, Piece]:
    """The pieces, those with an edge ("piece.edge") in `whole` opened out at the fold beside that edge.

    Raises KeyError when there is no such piece, edge or fold, PieceError as `unfold` does.
    """
    made = dict(pieces)
    for name in whole:
        piece, _, edge = name.partition(".")
        if edge not in {e.name for e in pieces[piece].edges}:
            raise KeyError(name)
        fold = fold_beside(pieces[piece], edge)
        if fold is None:
            raise KeyError(name)
        made[piece] = unfold(pieces[piece], fold.name)
    return made


def on_the_half(walked: Walked, pieces: Mapping[str, Piece], whole: Collection[str]) -> Walked:
    """A seam walked on pieces opened out, its notches shown on the half that is drawn."""

    def shown(sign: Sign | None) -> Sign | None:
        if sign is None or sign.edge not in whole:
            return sign
        piece = pieces[sign.edge.partition(".")[0]]
        fold = fold_beside(piece, sign.edge.partition(".")[2])
        if fold is None or contains(piece.outline, sign.point, ON_EDGE):
            return sign
        return replace(sign, point=Transform.reflection(fold.path.start, fold.path.end).apply(sign.point))

    if not whole:
        return walked
    return replace(
        walked,
        matches=tuple(Match(shown(m.first), shown(m.second), m.miss, m.ok) for m in walked.matches),
    )


_OTHER = "other "
"""What the twin of a piece is called while a seam is walked: no name in a style holds a blank."""


def left_to_right(pieces: Mapping[str, Piece], names: Sequence[str], sewn: Sewn, allowed: Allowed) -> Walked:
    """Edges ("piece.edge") of the left piece walked against the same of the right one, which is its mirror image.

    Both sides are of one length; what the walk shows is how the edges beside the seam run on across it.

    Raises:
        KeyError: an edge isn't there.
    """
    twins = {name.partition(".")[0] for name in names}
    if not twins <= set(pieces):
        raise KeyError(next(name for name in names if name.partition(".")[0] not in pieces))
    both = {
        **pieces,
        **{_OTHER + n: turned_over(pieces[n]).with_changes(name=_OTHER + n) for n in twins},
    }
    others = [([_other(n) for n in a], [_other(n) for n in b]) for a, b in sewn]
    walked = walk(both, names, [_other(n) for n in names], [*sewn, *others], allowed)

    def own(sign: Sign | None) -> Sign | None:
        if sign is None or not sign.edge.startswith(_OTHER):
            return sign
        flip = Transform.reflection(Point(0.0, 0.0), Point(0.0, 1.0))
        return replace(sign, edge=sign.edge.removeprefix(_OTHER), point=flip.apply(sign.point))

    return replace(
        walked,
        matches=tuple(Match(own(m.first), own(m.second), m.miss, m.ok) for m in walked.matches),
        sections=tuple(
            replace(s, start=s.start.replace(_OTHER, ""), end=s.end.replace(_OTHER, ""))
            for s in walked.sections
        ),
        bends=tuple(replace(b, second=b.second.removeprefix(_OTHER)) for b in walked.bends),
    )


def _other(name: str) -> str:
    return _OTHER + name
