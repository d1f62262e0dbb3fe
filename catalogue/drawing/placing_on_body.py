"""Halves of a garment laid on the figure: narrowed as cloth round a body is seen, at the shoulder or at the waist."""

from __future__ import annotations

from dataclasses import replace

from catalogue.drawing.assembly import Half
from catalogue.drawing.body_outline import BREADTH, BodyOutline
from catalogue.drawing.laying import held
from catalogue.drawing.patch import Patch, Polyline
from catalogue.drawing.pieces_worn import words_of
from catalogue.geometry import Point
from catalogue.trade_names import names_for

OVER = "over the shoulder"
"""Name of the part of one half that is seen over the shoulder from the other side."""
_FALLS = 0.8  # of the slope of the body's shoulder that a shoulder cut level takes on
_LEVEL = 0.7  # of that slope, the share that a shoulder must lack to count as cut level
_EVEN = 400.0  # mm under the armhole by which it makes no difference any more
_SEEN = 3.0  # mm of the other half over the shoulder that are worth drawing
_SHOULDER = 20.0  # mm that a shoulder seam may lie before or behind the top of the shoulder
ARMHOLE = names_for("armhole")


def narrowed(one: Half) -> Half:
    """What goes round the body is seen narrower than it lies on a table; what lies on the shoulder is not."""
    armholes = armhole_of(one)
    if not armholes:
        return one.moved(lambda p: Point(p.x * BREADTH, p.y))
    top, low = min(p.y for p in armholes), max(p.y for p in armholes)

    def move(p: Point) -> Point:
        share = min(max((p.y - top) / (low - top), 0.0), 1.0)
        share = share * share * (3 - 2 * share)
        return Point(p.x * (1 + (BREADTH - 1) * share), p.y)

    return one.moved(move)


def at_shoulder(one: Half, body: BodyOutline) -> Half:
    """Moved so that the neck end of its shoulder lies on the figure's shoulder."""
    shoulder = [p for line in one.edges("shoulder") for p in line]
    high = min(shoulder or neck_of(one) or armhole_of(one), key=lambda p: p.y)
    down = body.on_shoulder(high.x) - high.y
    armholes = armhole_of(one)
    tip, low = min(armholes, key=lambda p: p.y), max(p.y for p in armholes)
    wanted = (body.on_shoulder(tip.x) - body.on_shoulder(high.x)) / max(tip.x - high.x, 1.0)
    short = wanted - (tip.y - high.y) / max(tip.x - high.x, 1.0)
    # A shoulder cut level falls along the body's; lower down the cloth hangs as it was cut.
    falls = _FALLS * short if short > _LEVEL * wanted else 0.0

    def move(p: Point) -> Point:
        fade = min(max(1.0 - (p.y - low) / _EVEN, 0.0), 1.0)
        return Point(p.x, p.y + down + falls * max(p.x - high.x, 0.0) * fade)

    return one.moved(move)


def levelled(front: Half, back: Half) -> Half:
    """The front with the length it has over the bust taken out, so that the side seams end at one height."""
    ends = [max((p.y for line in one.edges("side") for p in line), default=0.0) for one in (front, back)]
    more = ends[0] - ends[1]
    armholes = [p.y for p in armhole_of(front)]
    top, low = min(armholes), max(armholes) + 60.0
    if not 0.0 < more < 0.6 * (low - top):
        return front

    def move(p: Point) -> Point:
        share = min(max((p.y - top) / (low - top), 0.0), 1.0)
        return Point(p.x, p.y - more * share * share * (3 - 2 * share))

    return front.moved(move)


def at_waist(one: Half, body: BodyOutline) -> Half:
    """Moved so that its middle begins at the figure's waist."""
    middle = min(p.y for patch in one.patches for p in patch.outline if p.x < 1.0)
    return one.moved(lambda p: Point(p.x, p.y - middle))


def armhole_of(one: Half) -> Polyline:
    return [p for line in one.edges(*ARMHOLE) for p in line]


def neck_of(one: Half) -> Polyline:
    """The neck edge from the shoulder to the middle: by its name, or else whatever leads there from the shoulder."""
    named = one.edges("neck", "neckline", "gorge")
    patches = [p for p in one.patches if p.name != OVER]
    if not any(set(p.edges) & set(_named(p)) for p in patches):
        named += [_from_shoulder(p) for p in patches if "shoulder" in p.edges]
    points = [p for line in named for p in held(line, lambda p: p.x + 0.5)]
    return sorted(points, key=lambda p: (-round(p.x, 1), p.y))


def _named(patch: Patch) -> list[str]:
    return [name for name in patch.edges if {"neck", "neckline", "gorge"} & words_of(name)]


def _from_shoulder(patch: Patch) -> Polyline:
    """The edges before the shoulder, from its inner end to where they come to the middle of the body."""
    names = list(patch.edges)
    start = names.index("shoulder")
    line: Polyline = []
    for name in [*names[start + 1 :], *names[:start]][::-1]:
        for p in reversed(patch.edges[name]):
            if line and p.x < 0:
                return [*line, line[-1].mix(p, line[-1].x / (line[-1].x - p.x))]
            line.append(p)
    return line


def at_one_height(front: Half, back: Half) -> tuple[Half, Half]:
    """Front and back moved up and down a little so that their side seams end at one height.

    Where the shoulder seam lies before or behind the top of the shoulder, one of them ends below it; there the other is
    seen up to the top. With a yoke over the shoulder nothing is moved.
    """
    ends = [max((p.y for line in one.edges("side") for p in line), default=None) for one in (front, back)]
    yoke = {p.name for p in front.patches} & {p.name for p in back.patches}
    if ends[0] is None or ends[1] is None or yoke:
        return front, back
    apart = min(max((ends[1] - ends[0]) / 2, -_SHOULDER), _SHOULDER)
    if abs(apart) < _SEEN:
        return front, back
    moved = [_lowered(front, apart), _lowered(back, -apart)]
    n = 0 if apart > 0 else 1
    if all(len(one.edges("shoulder")) == 1 for one in moved):
        moved[n] = _up_to_the_top(moved[n], abs(apart))
    return moved[0], moved[1]


def _lowered(one: Half, by: float) -> Half:
    return one.moved(lambda p: Point(p.x, p.y + by))


def _up_to_the_top(one: Half, high: float) -> Half:
    """A half with as much of the other above its shoulder seam as is seen over it."""
    (seam,) = one.edges("shoulder")
    seam = seam if seam[0].x < seam[-1].x else seam[::-1]
    top = [Point(p.x, p.y - high) for p in seam]
    strip = Patch(
        OVER,
        {"top": top, "armhole": [top[-1], seam[-1]], "seam": seam[::-1], "neck": [seam[0], top[0]]},
    )
    return replace(one, patches=(*one.patches, strip))
