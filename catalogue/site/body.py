"""A drawn figure, front, back and side, and where the tape goes for each measurement.

Front and back are the model of `catalogue.drawing.body_outline`, in its units. It stands for everyone: it shows
where to measure, not whom.
"""

from __future__ import annotations

from functools import cache

from markupsafe import Markup, escape

from catalogue.drawing.body_outline import (
    ARM,
    FLOOR,
    HEAD,
    INSIDE,
    NECK,
    NECK_LINE,
    SHOULDER,
    SIDE,
    SIDE_ARM,
    SIDE_BACK,
    SIDE_FRONT,
    Spot,
    head_knots,
)
from catalogue.drawing.markup import page_path_data, tenths, view_box
from catalogue.geometry import Box, Knot, Path, Point, smooth, union

WAIST, HIP, CROTCH, KNEE, ARMPIT = 281.0, 372.0, 392.0, 546.0, 187.0
BUST = (29.0, 207.0)
ELBOW, WRIST = (88.0, 283.0), (106.0, 370.0)


def _curve(spots: tuple[Spot, ...]) -> Path:
    return smooth([Knot(Point(*s)) for s in spots])


def _mirrored(spots: tuple[Spot, ...]) -> tuple[Spot, ...]:
    return tuple((-x, y) for x, y in spots)


@cache
def _views() -> dict[str, str]:
    """Path data of each view's outline."""
    half = (NECK_LINE, SIDE, INSIDE, ARM)
    standing = "".join(_data(_curve(s)) for h in half for s in (h, _mirrored(h)))
    back = (
        standing
        + _data(smooth(head_knots([Point(*s) for s in HEAD])))
        + _detail(((0, 124), (0, 200), (0, WAIST)))
    )
    face = _detail(((-23, 124), (0, 134), (23, 124)))
    bust = "".join(_detail(((s * 50, 214), (s * 29, 224), (s * 9, 214))) for s in (1, -1))
    side = "".join(_data(_curve(s)) for s in (SIDE_FRONT, SIDE_BACK, ((-20, 747), (54, 747)), SIDE_ARM))
    return {
        "front": standing + _data(smooth(head_knots([Point(*s) for s in HEAD]))) + face + bust,
        "back": back,
        "side": side,
    }


def _detail(spots: tuple[Spot, ...]) -> str:
    return _data(_curve(spots))


class _Tape:
    """One measurement's tape: what is seen, what runs behind the body, and dots where it starts and ends."""

    def __init__(self, *seen: Path, behind: tuple[Path, ...] = (), dots: tuple[Spot, ...] = ()) -> None:
        self.seen = seen
        self.behind = behind
        self.dots = dots

    def box(self) -> Box:
        box = union(p.bounds() for p in (*self.seen, *self.behind))
        assert box is not None
        return box


def _round(left: Spot, right: Spot, sag: float = 7.0) -> _Tape:
    """A tape round the body, seen in front and dashed behind."""
    a, b = Point(*left), Point(*right)
    middle, down = a.mix(b, 0.5), (b - a).unit().normal() * sag
    front = smooth([Knot(a), Knot(middle + down), Knot(b)])
    return _Tape(front, behind=(smooth([Knot(a), Knot(middle - down), Knot(b)]),))


def _level(y: float, half: float, sag: float = 7.0) -> _Tape:
    return _round((-half, y), (half, y), sag)


def _along(*spots: Spot) -> _Tape:
    """A tape laid from the first spot over the others to the last."""
    path = Path.polyline([Point(*s) for s in spots]) if len(spots) == 2 else _curve(spots)
    return _Tape(path, dots=(spots[0], spots[-1]))


def _over(*spots: Spot) -> _Tape:
    """A tape laid straight from spot to spot, as over a shoulder or the neck."""
    return _Tape(Path.polyline([Point(*s) for s in spots]), dots=(spots[0], spots[-1]))


def _to_floor(x: float, y: float) -> _Tape:
    return _along((x, y), (x, FLOOR))


@cache
def _tapes() -> dict[str, tuple[str, _Tape]]:
    """By measurement key: the view, and the tape."""
    nape: Spot = (0, 112)
    front = {
        "head_girth": _level(38, 34, 5),
        "neck_girth": _level(105, 17, 4),
        "neck_base_girth": _Tape(
            _curve((_flip(NECK), (0, 134), NECK)), behind=(_curve((_flip(NECK), (0, 113), NECK)),)
        ),
        "shoulder_girth": _level(172, 87),
        "chest_girth": _level(184, 62, 5),
        "bust_girth": _level(207, 61),
        "under_bust_girth": _level(238, 54),
        "waist_girth": _level(WAIST, 47),
        "high_hip_girth": _level(326, 58),
        "trunk_circumference": _Tape(
            _curve(((50, 127), (38, 207), (16, WAIST), (0, CROTCH))),
            behind=(_curve(((50, 127), (56, 207), (34, WAIST), (0, CROTCH))),),
        ),
        "armscye_girth": _round(SHOULDER, (61, ARMPIT), 10),
        "upper_arm_girth": _round((68, 213), (91, 211), 4),
        "forearm_girth": _round((83, 304), (104, 300), 4),
        "wrist_girth": _round((99, 368), (114, 365), 3),
        "hand_girth": _round((104, 404), (123, 400), 3),
        "thigh_girth": _round((3, 410), (66, 404), 6),
        "mid_thigh_girth": _round((9, 470), (59, 467), 5),
        "knee_girth": _round((12, KNEE), (44, KNEE), 4),
        "lower_knee_girth": _round((12, 566), (44, 566), 4),
        "minimum_leg_girth": _round((14, 692), (31, 692), 3),
        "ankle_girth": _round((15, 712), (31, 712), 3),
        "height": _to_floor(-134, 2),
        "knee_height": _to_floor(60, KNEE),
        "inside_leg_length": _to_floor(0, CROTCH),
        "waist_to_knee": _along((28, WAIST + 2), (31, HIP), (28, KNEE)),
        "front_waist_length": _over(NECK, BUST, (29, WAIST + 5)),
        "front_neck_to_waist": _along((0, 131), (0, WAIST + 6)),
        "nape_to_waist_front": _over((12, 113), NECK, BUST, (29, WAIST + 5)),
        "neck_shoulder_point_to_bust_point": _along(NECK, BUST),
        "nape_to_bust_point": _over((12, 113), NECK, BUST),
        "shoulder_length": _along(NECK, SHOULDER),
        "inside_arm_length": _along((64, ARMPIT), (79, 283), (101, 369)),
        "hand_length": _along((106, 371), (113, 434)),
        "chest_width": _along((-60, 165), (60, 165)),
        "bust_point_width": _along(_flip(BUST), BUST),
    }
    back = {
        "nape_height": _to_floor(0, 112),
        "nape_to_knee": _along(nape, (0, WAIST), (14, 440), (28, KNEE)),
        "scye_depth": _along(nape, (0, ARMPIT)),
        "back_waist_length": _along(nape, (0, WAIST)),
        "neck_shoulder_point_to_waist_back": _along(NECK, (34, 190), (30, WAIST)),
        "shoulder_drop": _along((SHOULDER[0], NECK[1]), SHOULDER),
        "nape_to_wrist": _over(nape, SHOULDER, ELBOW, WRIST),
        "shoulder_width": _along(_flip(SHOULDER), nape, SHOULDER),
        "back_width": _along((-62, 160), (62, 160)),
    }
    side = {
        "hip_girth": _round((-52, HIP), (40, HIP)),
        "crotch_length": _Tape(
            _curve(
                (
                    *((-25, WAIST), (-44, 335), (-53, HIP), (-36, 404), (0, 412)),
                    *((32, 400), (42, HIP), (45, 330), (35, WAIST)),
                )
            ),
            dots=((-25, WAIST), (35, WAIST)),
        ),
        "elbow_girth": _round((-20, 286), (3, 280), 4),
        "calf_girth": _round((-30, 598), (21, 596), 4),
        "waist_height": _to_floor(5, WAIST),
        "hip_height": _to_floor(-6, HIP),
        "ankle_height": _to_floor(0, 712),
        "outside_leg_length": _along((5, WAIST), (0, HIP), (0, FLOOR)),
        "body_rise": _along((5, WAIST), (0, 402)),
        "waist_to_hip": _along((5, WAIST), (-4, HIP)),
        "under_arm_length": _along((0, ARMPIT), (5, WAIST)),
        "upper_arm_length": _along((-6, 138), (-20, 286)),
        "arm_length": _along((-6, 138), (-20, 286), (-3, 366)),
        "foot_length": _along((-22, 752), (56, 752)),
    }
    views = {"front": front, "back": back, "side": side}
    return {key: (view, tape) for view, tapes in views.items() for key, tape in tapes.items()}


def _flip(spot: Spot) -> Spot:
    return -spot[0], spot[1]


def body_definitions() -> Markup:
    """The hidden drawing that holds the three outlines."""
    outlines = "".join(f'<path id="body-{view}" class="body" d="{d}"/>' for view, d in _views().items())
    return Markup(
        f'<svg class="definitions" aria-hidden="true" width="0" height="0"><defs>{outlines}</defs></svg>'
    )


def measured_keys() -> frozenset[str]:
    """Keys of the measurements that can be shown."""
    return frozenset(_tapes())


def tape_figure(key: str, name: str, how: str) -> Markup:
    """Where the tape goes, as a small drawing; empty for a measurement that no tape takes."""
    found = _tapes().get(key)
    if found is None:
        return Markup("")
    view, tape = found
    frame = _frame(tape.box())
    parts = [f'<use href="#body-{view}"/>']
    parts += [f'<path class="tape-behind" d="{_data(p)}"/>' for p in tape.behind]
    parts += [f'<path class="tape-line" d="{_data(p)}"/>' for p in tape.seen]
    size = max(frame.height / 60, 1.6)
    parts += [
        f'<circle class="tape-end" cx="{tenths(x)}" cy="{tenths(y)}" r="{tenths(size)}"/>'
        for x, y in tape.dots
    ]
    box, said = view_box(frame), escape(f"{name}, seen from the {view}: {how}")
    return Markup(f'<svg class="where" viewBox="{box}" role="img" aria-label="{said}">{"".join(parts)}</svg>')


def _frame(tape: Box) -> Box:
    """What a figure shows: the tape with enough of the body round it to see where one is, four wide to five high."""
    height = max(tape.height * 1.25, 210.0)
    height = max(height, tape.width * 1.45 / 0.8)
    width = height * 0.8
    middle = tape.centre
    top = min(max(middle.y - height / 2, -12.0), FLOOR + 14 - height)
    # A figure that shows most of the body has it in the middle.
    left = (middle.x if width < 300 else 0.0) - width / 2
    return Box(left, top, left + width, top + height)


def _data(path: Path) -> str:
    return page_path_data(path)
