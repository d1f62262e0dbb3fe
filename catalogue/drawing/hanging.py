"""What hangs on a garment in a flat drawing: sleeves at the sides, bands, cuffs and collars along an edge."""

from __future__ import annotations

import math
from collections.abc import Sequence

from catalogue.drawing.patch import FINE, Polyline
from catalogue.geometry import Cubic, Path, Point
from catalogue.geometry.areas import signed_area
from catalogue.pattern import Piece


def strip_height(piece: Piece) -> float:
    """How high a band shows, mm: half of it when it is folded along its middle."""
    box = piece.outline.bounds()
    across = box.width < box.height
    # Of a bent band the box is higher than the band: a strip that long of that area is as high as this.
    round_, area = piece.outline.length / 2, abs(signed_area(piece.outline))
    bent = (round_ - math.sqrt(max(round_ * round_ - 4 * area, 0.0))) / 2
    short = min(box.width if across else box.height, bent)
    long = box.height if across else box.width
    folded = any(line.kind == "fold" and line.path.length > 0.8 * long for line in piece.lines) or any(
        e.fold and e.path.length > 0.8 * long for e in piece.edges
    )
    on_fold = any(e.fold and e.path.length > 0.8 * long for e in piece.edges)
    return short / 2 if folded and not on_fold else short


def band_beside(line: Sequence[Point], height: float) -> Polyline:
    """The far side of a band sewn to an edge that runs clockwise: moved outwards, in the edge's direction."""
    points: Polyline = []
    for n, p in enumerate(line):
        before, after = line[max(n - 1, 0)], line[min(n + 1, len(line) - 1)]
        way = after - before
        if way.length > 1e-6:
            points.append(p - way.normal() * height)
    return points


def collar_edge(neck: Sequence[Point], stand: float, share: float) -> Point:
    """A place on the upper edge of a collar behind the neck, from the shoulder (0) to the middle (1)."""
    side, middle = neck[0], neck[-1]
    top = Point(side.x - 0.25 * stand, side.y - 0.8 * stand)
    low = Point(0.0, min(middle.y - stand, top.y + 6.0))
    return Point(top.x * (1 - share), low.y + (top.y - low.y) * (1 - share) ** 2)


def collar_depth(piece: Piece) -> float:
    """How deep a collar is at the centre back, mm: along its edge there, for its pointed front makes it no deeper."""
    centre = next((e for e in piece.edges if e.fold or "centre" in e.name.split("_")), None)
    return centre.path.length if centre is not None else strip_height(piece)


def collar(piece: Piece, stand: float, fall: float, neck: Sequence[Point], front: bool) -> Polyline:
    """The right half of the fall of a collar turned down over a neck edge, which runs from the shoulder to the middle.

    Args:
        stand: how high it stands before it turns, mm.
        fall: how deep it falls behind from there, mm.
    """
    side, middle = neck[0], neck[-1]
    top = collar_edge(neck, stand, 0.0)
    over = Point(side.x + 0.55 * fall, side.y + 0.2 * fall)
    if front:
        end = next(
            (e.path.length for e in piece.edges if {"front", "end"} & set(e.name.split("_"))), 1.4 * fall
        )
        return [middle, middle + Point(0.44 * end, 0.9 * end), over, top]
    low = Point(0.0, middle.y - stand + fall)
    edge = Path((Cubic(over, over.mix(low, 0.3), low + Point(0.7 * over.x, 0.0), low),))
    return [*(collar_edge(neck, stand, 1 - n / 8) for n in range(9)), *edge.flatten(FINE)]
