"""A plain outline figure, front and back, whose heights and widths come from a client's own measurements.

The model behind it is seven and a half heads tall, the hips halve it, the elbows hang at the waist and the wrists at
the hips (A. Sundquist, Extension Circular 306, 1943); a head is 100 units, x runs from the middle line, y down from
the crown. What a client's measurements tell is stretched to them; the rest keeps the model's proportions.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from catalogue.geometry import Knot, Path, Point, Transform, smooth

Spot = tuple[float, float]

_MIRROR = Transform.scaling(-1.0, 1.0)
FLOOR = 750.0
NAPE, ARMPIT_LEVEL, WAIST, HIP, CROTCH, KNEE = 112.0, 187.0, 281.0, 372.0, 392.0, 546.0
NECK, SHOULDER = (29.0, 121.0), (77.0, 138.0)

# Right half of the front: neck and shoulder; side from armpit to foot; inside of the leg; arm; head.
NECK_LINE: tuple[Spot, ...] = ((18, 86), (17, 104), NECK, SHOULDER)
SIDE: tuple[Spot, ...] = (
    *((61, ARMPIT_LEVEL), (61, 208), (54, 238), (47, WAIST), (58, 326), (67, HIP), (64, 430)),
    *((44, KNEE), (47, 596), (30, 700), (31, 718), (41, 744)),
)
INSIDE: tuple[Spot, ...] = (
    *((41, 744), (14, 747), (15, 712), (14, 690), (12, 600), (12, KNEE), (7, 450), (0, CROTCH)),
)
ARM: tuple[Spot, ...] = (
    *(SHOULDER, (86, 166), (91, 215), (99, 283), (114, 366), (123, 400), (118, 430), (109, 434)),
    *((104, 402), (99, 370), (86, 310), (78, 283), (71, 220), (61, ARMPIT_LEVEL)),
)
HEAD: tuple[Spot, ...] = ((0, 2), (34, 40), (29, 74), (0, 100), (-29, 74), (-34, 40), (0, 2))

# The side view, looking to the right: front from crown to toe, back from crown to heel.
SIDE_FRONT: tuple[Spot, ...] = (
    *((0, 2), (33, 30), (37, 50), (43, 62), (36, 70), (34, 92), (16, 100), (17, 124), (36, 168), (51, 207)),
    *(
        (40, 240),
        (35, WAIST),
        (45, 330),
        (40, HIP),
        (38, 430),
        (28, KNEE),
        (17, 630),
        (14, 706),
        (54, 738),
        (54, 747),
    ),
)
SIDE_BACK: tuple[Spot, ...] = (
    *((0, 2), (-36, 28), (-38, 62), (-20, 94), (-20, 114), (-38, 170), (-30, 230), (-25, WAIST), (-44, 335)),
    *((-52, HIP), (-34, 425), (-17, KNEE), (-30, 598), (-12, 690), (-22, 728), (-20, 747)),
)
SIDE_ARM: tuple[Spot, ...] = (
    *((-6, 136), (-19, 170), (-20, 225), (-19, 288), (-4, 366), (0, 400), (10, 432), (19, 426)),
    *((19, 396), (13, 366), (3, 280), (9, 220), (13, 170), (-6, 136)),
)

BREADTH = 0.68
"""Seen from the front, a body (and what is worn close to it) is this share of half its girth wide: common practice
in drawing flats; breadths and girths of waist and hip in the 2012 survey of US Army women give 0.70."""

MEASURED = frozenset(
    {
        *("height", "waist_height", "back_waist_length", "waist_to_hip", "waist_to_knee", "body_rise"),
        *("bust_girth", "chest_girth", "waist_girth", "hip_girth", "neck_base_girth"),
        *("shoulder_width", "shoulder_length", "shoulder_drop"),
    }
)
"""Keys of the measurements that the figure is made from, where they are known."""
CHILDREN = frozenset({"girl", "boy", "child", "baby"})


@dataclass(frozen=True, slots=True)
class BodyOutline:
    """An outline figure: y runs down from the waist, x from the middle, mm.

    Attributes:
        scale: mm to a unit of the model.
        levels: of the model and of this body, top to bottom.
        widths: share of the model's width, at this body's levels.
        shoulder: right shoulder point.
        arm: degrees that the arms hang away from upright.
    """

    scale: float
    levels: tuple[tuple[float, float], ...]
    widths: tuple[tuple[float, float], ...]
    shoulder: Point
    neck: Point
    arm: float = 9.0
    head: float = 1.0

    def y(self, level: float) -> float:
        """Where a level of the model lies on this body."""
        return _between(self.levels, level)

    def on_shoulder(self, x: float) -> float:
        """Height of the shoulder line at a distance from the middle."""
        share = (x - self.neck.x) / max(self.shoulder.x - self.neck.x, 1.0)
        return self.neck.y + (self.shoulder.y - self.neck.y) * share

    def outlines(self, arm: float | None = None) -> list[Path]:
        """The lines of the figure; `arm` hangs the arms at another angle."""
        halves = [
            [self._at(s) for s in NECK_LINE[:-2]] + [self.neck, self.shoulder],
            [self._at(s) for s in SIDE],
            [self._at(s) for s in INSIDE],
            self._arm(self.arm if arm is None else arm),
        ]
        lines = [side for half in map(_curve, halves) for side in (half, half.transformed(_MIRROR))]
        chin = self.y(100.0)
        grown = self.scale * self.head
        head = [Point(x * grown, chin + (y - 100.0) * grown) for x, y in HEAD]
        return [*lines, smooth(head_knots(head))]

    def from_the_side(self) -> list[Path]:
        """The figure from its left, looking to the right: as deep as the model, as tall as this body."""
        toes = ((-20.0, 747.0), (54.0, 747.0))
        sides = (SIDE_FRONT, SIDE_BACK, toes, SIDE_ARM)
        return [_curve([Point(x * self.scale, self.y(y)) for x, y in side]) for side in sides]

    def _at(self, spot: Spot) -> Point:
        y = self.y(spot[1])
        return Point(spot[0] * _between(self.widths, y), y)

    def _arm(self, angle: float) -> list[Point]:
        turn = 9.0 - angle  # the model's own arm hangs at nine degrees
        length = (self.y(HIP) - self.shoulder.y) / (HIP - SHOULDER[1])
        stout = _between(self.widths, self.y(208.0))
        points = []
        for x, y in ARM[1:-1]:
            reach = Point((x - SHOULDER[0]) * stout, (y - SHOULDER[1]) * length)
            points.append(self.shoulder + reach.turned(turn))
        # Beside a broad body the arms hang further out.
        bust = self.y(208.0)
        within = max(61 * stout + 4 * self.scale - min(p.x for p in points if p.y < self.y(240.0)), 0.0)
        deep = bust - self.shoulder.y
        points = [
            Point(p.x + within * min(max((p.y - self.shoulder.y) / deep, 0.0), 1.0), p.y) for p in points
        ]
        return [self.shoulder, *points, self._at(ARM[-1])]


def head_knots(spots: Sequence[Point]) -> list[Knot]:
    """A head that is round at the crown."""
    level = Point(1.0, 0.0)
    return [Knot(spots[0], leaving=level), *(Knot(p) for p in spots[1:-1]), Knot(spots[-1], arriving=level)]


def body_outline_for(measured: Mapping[str, float], kind: str = "") -> BodyOutline:
    """The figure of a body.

    Args:
        measured: measurements by key, mm; whatever is lacking is taken in proportion.
        kind: "woman", "girl", ...: a child's head is larger for its height.
    """
    scale = _scale(measured)
    back, hip = measured.get("back_waist_length", 169 * scale), measured.get("waist_to_hip", 91 * scale)
    knee = max(measured.get("waist_to_knee", 265 * scale), hip + 80 * scale)
    floor = max(measured.get("waist_height", 469 * scale), knee + 90 * scale)
    fork = max(measured.get("body_rise", hip + 20 * scale), hip + 8 * scale)
    fork = min(fork, knee - 60 * scale)
    # The neck lies on the shoulder a little higher than the nape.
    levels = (
        (0.0, -back - 125 * scale),
        (104.0, -back - 21 * scale),
        (NECK[1], -back - 9 * scale),
        (WAIST, 0.0),
        (HIP, hip),
        (CROTCH, fork),
        (KNEE, knee),
        (FLOOR, floor),
    )

    def half(girth: float) -> float:
        return girth / 4 * BREADTH

    bust = measured.get("bust_girth", measured.get("chest_girth", 0.0))
    waist, hips = measured.get("waist_girth", 0.0), measured.get("hip_girth", 0.0)
    usual = 1.12 * scale
    at_bust = half(bust) / 61 if bust else half(waist) / 50 if waist else usual
    at_waist = half(waist) / 47 if waist else at_bust
    at_hip = half(hips) / 67 if hips else max(at_waist * 0.97, usual)
    lower = (at_hip + 2 * scale) / 3
    widths = (
        (-back - 125 * scale, scale),
        (-back, scale),
        (_between(levels, ARMPIT_LEVEL), at_bust),
        (_between(levels, 212.0), at_bust),
        (0.0, at_waist),
        (hip, at_hip),
        (fork, at_hip),
        (knee, lower),
        (floor, scale),
    )
    neck_girth = measured.get("neck_base_girth", 0.0)
    neck = Point(neck_girth / 6 if neck_girth else NECK[0] * scale * 1.1, -back - 9 * scale)
    across = measured.get("shoulder_width", 0.0) / 2
    if not across and measured.get("shoulder_length"):
        across = neck.x + 0.93 * measured["shoulder_length"]
    drop = measured.get("shoulder_drop", 20 * scale)
    shoulder = Point(across or 77 * scale * 1.08, neck.y + drop)
    made = BodyOutline(scale, levels, widths, shoulder, neck, head=1.22 if kind in CHILDREN else 1.0)
    return BodyOutline(scale, levels, widths, shoulder, neck, _arm_angle(made, hip, at_hip * 67), made.head)


def _arm_angle(body: BodyOutline, hip: float, half_hip: float) -> float:
    """The angle at which the hands hang clear of the hips."""
    clear = half_hip + 12 * body.scale + 20 * body.scale - body.shoulder.x
    return max(9.0, math.degrees(math.atan2(clear, hip - body.shoulder.y)))


def _scale(measured: Mapping[str, float]) -> float:
    """Millimetres to a unit of the model, from the first length there is."""
    shares = {
        "height": 750.0,
        "waist_height": FLOOR - WAIST,
        "back_waist_length": WAIST - NAPE,
        "waist_to_knee": KNEE - WAIST,
        "waist_to_hip": HIP - WAIST,
        "bust_girth": 410.0,
        "waist_girth": 330.0,
    }
    for key, units in shares.items():
        if measured.get(key):
            return measured[key] / units
    return 2.24


def _between(table: Sequence[tuple[float, float]], at: float) -> float:
    """The value at a place in a table of places and values, straight in between."""
    for (a, va), (b, vb) in pairwise(table):
        if at <= b:
            return va + (vb - va) * (at - a) / (b - a) if b > a else vb
    return table[-1][1]


def _curve(points: Sequence[Point]) -> Path:
    return smooth([Knot(p) for p in points])
