"""What can't be so at a fold of the cloth: a fold that is not straight, paper or a cutting line beyond it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple

from catalogue.geometry import Path, Point
from catalogue.pattern.measure import ON_EDGE
from catalogue.pattern.piece import Edge, Piece

FLATNESS = 0.1
"""mm by which the line that is looked at may stray from the true one."""


class AtFold(NamedTuple):
    """What is wrong at a fold: of which kind, how far in mm, and the edge that it is about."""

    kind: Literal["bent", "paper", "cut"]
    fold: str
    edge: str
    mm: float


def is_slit(piece: Piece, edge: Edge) -> bool:
    """Whether an edge lies in line with a fold of the piece that it runs on from: a slit cut in the fold."""
    for fold in piece.edges:
        if not fold.fold or fold.path.start.distance(fold.path.end) < ON_EDGE:
            continue
        unit = (fold.path.end - fold.path.start).unit()
        if edge.path.start != fold.path.end and edge.path.end != fold.path.start:
            continue
        if all(abs((p - fold.path.start).cross(unit)) < ON_EDGE for p in edge.path.flatten(FLATNESS)):
            return True
    return False


def wrong_at_folds(piece: Piece, cut_line: Path) -> Iterator[AtFold]:
    """What is wrong at the folds of a piece: for each fold at most one thing, the first cause."""
    for edge in piece.edges:
        if not edge.fold:
            continue
        start, end = edge.path.start, edge.path.end
        if start.distance(end) < ON_EDGE:
            continue
        # The outline runs clockwise and y down: the paper lies to the right of the fold's travel.
        out = -(end - start).unit().normal()

        def beyond(at: Point, start: Point = start, out: Point = out) -> float:
            return (at - start).dot(out)

        bowed = max(abs(beyond(p)) for p in edge.path.flatten(FLATNESS))
        if bowed > ON_EDGE:
            yield AtFold("bent", edge.name, edge.name, bowed)
            continue
        others = [(beyond(p), e.name) for e in piece.edges if e is not edge for p in e.path.flatten(FLATNESS)]
        most = max(others, default=(0.0, ""))
        if most[0] > ON_EDGE:
            yield AtFold("paper", edge.name, most[1], most[0])
            continue
        far = max(cut_line.flatten(FLATNESS), key=beyond)
        if beyond(far) > ON_EDGE:
            cut = [e for e in piece.edges if not e.fold]
            nearest = (
                min(cut, key=lambda e: (not is_slit(piece, e), e.path.nearest(far)[1])).name
                if cut
                else edge.name
            )
            yield AtFold("cut", edge.name, nearest, beyond(far))
