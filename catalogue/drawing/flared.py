"""A skirt cut from part of a circle, as it hangs: waist, sides, and a hem that falls in folds."""

from __future__ import annotations

import math
from dataclasses import dataclass

from catalogue.drafting.model import Draft
from catalogue.drawing.assembly import BACK, is_strip, strips_on, view_of, worn
from catalogue.drawing.body_outline import BREADTH
from catalogue.drawing.hanging import strip_height
from catalogue.drawing.patch import Polyline
from catalogue.geometry import Point
from catalogue.pattern import Edge, Piece

_LEAST = 30.0  # degrees that a waist edge must turn on the pieces of a half for the skirt to count as flared
_MOST = 36.0  # degrees from upright at which the side of the fullest skirt hangs


@dataclass(frozen=True, slots=True)
class Flared:
    """Shapes from behind to the front, and lines of the folds; y from the waist, mm."""

    shapes: tuple[Polyline, ...]
    folds: tuple[Polyline, ...]
    seam: Polyline  # in the middle of the back; empty where there is none


def flared(draft: Draft) -> Flared | None:
    """The skirt; None for anything that isn't a plain flared skirt."""
    pieces = [p for p in worn(draft) if _edge(p, "waist") and _edge(p, "hem")]
    others = [p for p in worn(draft) if p not in pieces and not is_strip(p)]
    if not pieces or others:
        return None
    waist = round_ = turn = 0.0
    for piece in pieces:
        edge, lower = _edge(piece, "waist"), _edge(piece, "hem")
        assert edge is not None and lower is not None
        if piece.darts or piece.pleats:
            return None
        times = piece.cut.count * (2 if piece.cut.on_fold else 1)
        path = edge.path
        between = (
            path.tangent_at(0.0).cross(path.tangent_at(path.length)),
            path.tangent_at(0.0).dot(path.tangent_at(path.length)),
        )
        turn += abs(math.degrees(math.atan2(*between))) * times
        waist += path.length * times
        round_ += lower.path.length * times
    if turn < 2 * _LEAST:
        return None
    first = pieces[0]
    top, low = _edge(first, "waist"), _edge(first, "hem")
    assert top is not None and low is not None
    long = low.path.nearest(top.path.point_at(top.path.length / 2))[1]
    # A full circle would stand level; its weight lets it hang.
    tilt = min(math.degrees(math.asin(min(turn / 360.0, 1.0))), _MOST)
    half = waist / 4 * BREADTH
    out, down = math.sin(math.radians(tilt)) * long, math.cos(math.radians(tilt)) * long
    spread = half + out
    waves = max(0, round((round_ / 2 - 2 * spread) / 180)) if turn > 170 else 0
    waves = min(waves, 7)
    deep = 0.028 * long if waves else 0.0
    hem: Polyline = []
    steps = 96
    for n in range(steps + 1):
        share = n / steps
        x = spread - 2 * spread * share
        sag = (long - down) * (1 - (x / spread) ** 2)
        hem.append(
            Point(x, down + sag + deep * math.cos(2 * math.pi * (waves + 0.5) * (share - 0.5)) * _fade(share))
        )
    sag = 0.035 * half
    waist_line = [Point(half * (n / 12 * 2 - 1), sag * (1 - (n / 12 * 2 - 1) ** 2)) for n in range(13)]
    folds = []
    for n in range(waves):
        share = 0.5 + (n - (waves - 1) / 2) / (waves + 0.5)
        x = spread - 2 * spread * share
        at = hem[round(share * steps)]
        high = 0.45 if n % 2 else 0.62
        top_x = x / spread * (half + (spread - half) * (1 - high))
        folds.append([Point(top_x, at.y - high * long * 0.97), at])
    shapes: list[Polyline] = [[*waist_line, *hem]]
    edges = [(p.name, e.name) for p in pieces for e in p.edges]
    for band, _ in strips_on(draft, edges):
        high = strip_height(band)
        upper = [Point(p.x, p.y - high) for p in waist_line]
        shapes.append([*waist_line, *reversed(upper)])
        break
    parted = (
        any(p.cut.count > 1 and not p.cut.on_fold and view_of(p) == BACK for p in pieces) or len(pieces) == 1
    )
    seam = [Point(0.0, sag), min(hem, key=lambda p: abs(p.x))] if parted else []
    return Flared(tuple(shapes), tuple(folds), seam)


def _fade(share: float) -> float:
    return min(1.0, 6 * min(share, 1 - share))


def _edge(piece: Piece, word: str) -> Edge | None:
    return next((e for e in piece.edges if e.name == word or e.name.endswith(f"_{word}")), None)
