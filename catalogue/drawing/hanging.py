"""What hangs on a garment in a flat drawing: sleeves at the sides, bands, cuffs and collars along an edge."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from catalogue.drawing.assembly import NotTogetherError
from catalogue.drawing.patch import FINE, Polyline, patch_of
from catalogue.geometry import Cubic, Path, Point
from catalogue.pattern import Piece

_SLIM = 0.63  # a sleeve seen from the front as a share of its width laid flat
_LEVELS = 12  # places down a sleeve where its width is taken
_LEAST, _MOST = 10.0, 36.0  # degrees from upright


@dataclass(frozen=True, slots=True)
class Tube:
    """A sleeve hung from the shoulder, flattened.

    Attributes:
        outline: closed; it ends along the armhole.
        hem: the two ends of its lower edge, the outer one first.
        angle: degrees from upright.
    """

    outline: Polyline
    hem: tuple[Point, Point]
    angle: float


def cap_of(piece: Piece) -> str:
    """Name of the edge that goes into the armhole; "" when none is called so."""
    for edge in piece.edges:
        if any(word in edge.name for word in ("cap", "head", "crown")):
            return edge.name
    return ""


def hung(piece: Piece, armhole: Sequence[Point], angle: float | None = None) -> Tube:
    """A sleeve at an armhole of the right half; raises `NotTogetherError` when its form isn't told.

    It hangs so that it is as wide under the arm as the pattern says: a narrow sleeve close, a wide one standing off;
    or at `angle` degrees from upright.
    """
    cap = cap_of(piece)
    if not cap:
        raise NotTogetherError(
            f"no edge of “{piece.title}” is called cap, head or crown, the edge that goes into the armhole"
        )
    patch = patch_of(piece)
    edge, outline = patch.edges[cap], [*patch.outline, patch.outline[0]]
    under = (edge[0].y + edge[-1].y) / 2
    top, low = min(p.y for p in edge), max(p.y for p in outline)
    rise, long = under - top, low - under
    broad = abs(edge[-1].x - edge[0].x) / 2 * _SLIM
    if rise < 20 or long < 10 or broad < 20:
        raise NotTogetherError(f"the cap of “{piece.title}” does not lie upwards with the sleeve below it")
    shoulder = min(armhole, key=lambda p: p.y)
    armpit = max(armhole, key=lambda p: p.y)
    if angle is None:
        angle, reach_in = _angle(shoulder, armpit, broad)
    else:
        reach_in = _reach(shoulder, armpit, angle)
    slim = min(1.1 * reach_in / broad, 1.0)
    broad *= slim
    down = Point(math.sin(math.radians(angle)), math.cos(math.radians(angle)))
    out = Point(down.y, -down.x)
    # The fold over the shoulder takes of the sleeve's length what it measures.
    corner = armpit + out * broad
    long_here = max(rise + long - 1.08 * shoulder.distance(corner), 20.0)
    outer, inner = [], []
    for n in range(_LEVELS + 1):
        share = n / _LEVELS
        wide = _width(outline, under + long * share - (0.5 if n == _LEVELS else 0.0)) / 2 * _SLIM
        wide *= slim + (1.0 - slim) * share  # as narrow as its top, and true at the wrist
        middle = armpit + out * (broad / 2) + down * (long_here * share)
        outer.append(middle + out * (wide / 2))
        inner.append(middle - out * (wide / 2))
    outer[0], inner[0] = corner, armpit
    # Over the shoulder the fold leaves level with the shoulder's slope and arrives in the line of the arm.
    reach = shoulder.distance(outer[0])
    slope = Point(math.cos(math.radians(24)), math.sin(math.radians(24)))
    over = Path(
        (
            Cubic(
                shoulder,
                shoulder + (slope + down).unit() * (reach * 0.3),
                outer[0] - down * (reach * 0.35),
                outer[0],
            ),
        )
    )
    up = sorted(armhole, key=lambda p: -p.y)
    return Tube([*over.flatten(FINE), *outer[1:], *reversed(inner), *up], (outer[-1], inner[-1]), angle)


def _angle(shoulder: Point, armpit: Point, broad: float) -> tuple[float, float]:
    """Degrees from upright at which the line from the shoulder down the arm passes the armpit at the sleeve's width.

    Also how far it passes there, mm; a wide sleeve that would stand off too far is drawn narrower.
    """
    best, reach = _LEAST, 0.0
    for half in range(int(_LEAST * 2), int(_MOST * 2) + 1):
        here = _reach(shoulder, armpit, half / 2)
        if not reach or abs(here - 0.93 * broad) < abs(reach - 0.93 * broad):
            best, reach = half / 2, here
    return best, reach


def _reach(shoulder: Point, armpit: Point, angle: float) -> float:
    """How far from the armpit a line from the shoulder at `angle` degrees from upright passes, mm."""
    turn = math.radians(angle)
    return abs((armpit - shoulder).cross(Point(math.sin(turn), math.cos(turn))))


def _width(outline: Sequence[Point], level: float) -> float:
    """Width of an outline at a level, mm."""
    crossings = [
        a.x + (b.x - a.x) * (level - a.y) / (b.y - a.y)
        for a, b in pairwise(outline)
        if (a.y - level) * (b.y - level) < 0
    ]
    return max(crossings) - min(crossings) if len(crossings) > 1 else 0.0


def strip_height(piece: Piece) -> float:
    """How high a band shows, mm: half of it when it is folded along its middle."""
    box = piece.outline.bounds()
    across = box.width < box.height
    short = box.width if across else box.height
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


@dataclass(frozen=True, slots=True)
class Collar:
    """A turned-down collar, simplified: the right half of its fall, and how high it stands at the neck, mm."""

    fall: Polyline
    height: float


def collar(piece: Piece, stand: float, neck: Sequence[Point], front: bool) -> Collar:
    """A collar turned down over a neck edge of the right half, which runs from the shoulder to the middle.

    Args:
        stand: how high it stands before it turns.
    """
    box = piece.outline.bounds()
    deep = min(box.width, box.height)
    side, middle = neck[0], neck[-1]
    top = Point(side.x - 0.25 * stand, side.y - 0.8 * stand)
    over = Point(side.x + 0.55 * deep, side.y + 0.2 * deep)
    if front:
        point = middle + Point(0.62 * deep, 1.25 * deep)
        return Collar([middle, point, over, top], stand)
    low = Point(0.0, middle.y - stand + deep)
    edge = Path((Cubic(over, over.mix(low, 0.3), low + Point(0.7 * over.x, 0.0), low),))
    return Collar([Point(0.0, middle.y - stand), top, *edge.flatten(FINE)], stand)
