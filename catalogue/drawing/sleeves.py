"""The form of a sleeve of one piece or two, and how it hangs from the shoulder."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from catalogue.drafting.model import Draft
from catalogue.drawing.gathers import gathers
from catalogue.drawing.hanging import strip_height
from catalogue.drawing.patch import FINE, Patch, Polyline, along, length_of, patch_of
from catalogue.drawing.pieces_worn import NotTogetherError, seams_of, strips_on, titles_of
from catalogue.geometry import Cubic, Path, Point
from catalogue.pattern import Piece

_SLIM = 0.63  # a sleeve seen from the front as a share of its width laid flat: a tube is 2 / pi
_LEVELS = 16  # places down a sleeve where its width is taken
_LEAST, _MOST = 9.0, 42.0  # degrees from upright
_SET_IN = 0.40  # height of a cap over the sleeve's width from which on a sleeve hangs close
_DRAWN_IN = 0.12  # of its length over which a gathered hem comes in to its cuff
_STRAIGHT = 0.08  # height of a cap over the sleeve's width below which there is none
_CAPS = ("cap", "head", "crown")


@dataclass(frozen=True, slots=True)
class SleeveForm:
    """A sleeve by its measures, mm.

    Attributes:
        rise: from the level under the arm to the top of the cap.
        widths: all round, from the level under the arm down to the hem.
        long: from the level under the arm to the hem.
        under: share of the width that an under sleeve takes; 0 for a sleeve of one piece.
        cuff: height and length of a cuff; 0 without one.
        buttons: how far above the hem each button at the back seam lies.
    """

    rise: float
    widths: tuple[float, ...]
    long: float
    under: float = 0.0
    cuff: tuple[float, float] = (0.0, 0.0)
    buttons: tuple[float, ...] = ()

    @property
    def gathered(self) -> bool:
        """Whether the hem is drawn in to the cuff."""
        return 0 < self.cuff[1] < 0.88 * self.widths[-1]


@dataclass(frozen=True, slots=True)
class Tube:
    """A sleeve hung from the shoulder, flattened.

    Attributes:
        outline: closed; it ends along the armhole.
        cuff: closed; empty without one.
        lines: seams and gathers on it, by kind.
        buttons: on its back.
    """

    outline: Polyline
    cuff: Polyline
    lines: tuple[tuple[str, Polyline], ...] = ()
    buttons: tuple[Point, ...] = ()


def cap_of(draft: Draft, piece: Piece) -> str:
    """Name of the edge that goes into the armhole; "" when none does."""
    for edge in piece.edges:
        if any(word in edge.name for word in _CAPS):
            return edge.name
    for first, second in seams_of(draft):
        for one, other in ((first, second), (second, first)):
            if (
                len(one) == 1
                and one[0][0] == piece.name
                and any("armhole" in e or "scye" in e for _, e in other)
            ):
                return one[0][1]
    return ""


def sleeve_form(draft: Draft, pieces: Sequence[Piece]) -> SleeveForm:
    """The form of a sleeve; raises `NotTogetherError` where its pieces don't tell it."""
    if len(pieces) > 2:
        raise NotTogetherError(
            f"a sleeve of one or two pieces can be drawn, and there are {len(pieces)}: {titles_of(pieces)}"
        )
    parts = [_part(draft, piece) for piece in pieces]
    top = max(parts, key=lambda part: part.rise)
    under = [part for part in parts if part is not top]
    shares = [n / _LEVELS for n in range(_LEVELS + 1)]
    widths = [sum(part.width(t) for part in parts) for t in shares]
    rise, long = top.rise, top.long
    for part in under:
        # The under sleeve is hollowed under the arm; its own sides begin where those of the top sleeve do.
        rise += part.hollow
        long -= part.hollow
    if rise < -5 or long < 10 or widths[0] < 60:
        raise NotTogetherError(
            f"the cap of {titles_of(pieces)} does not lie upwards with the sleeve below it"
        )
    cuff = (0.0, 0.0)
    edges = [(p.name, e.name) for p in pieces for e in p.edges]
    for piece, _ in strips_on(draft, edges):
        box = piece.outline.bounds()
        sewn = [length_of(line) for line in patch_of(piece).edges.values()]
        cuff = (strip_height(piece), max(sewn, default=max(box.width, box.height)))
        break
    buttons = set()
    for part in parts:
        low = max(p.y for p in part.patch.outline)
        buttons |= {round(low - b.y) for b in part.patch.buttons if low - b.y < 0.4 * long}
    share = sum(part.width(0.3) for part in under) / sum(part.width(0.3) for part in parts)
    return SleeveForm(max(rise, 0.0), tuple(widths), long, share, cuff, tuple(sorted(map(float, buttons))))


@dataclass(frozen=True, slots=True)
class _SleevePart:
    patch: Patch
    sides: tuple[Polyline, Polyline]  # from the cap down
    rise: float
    hollow: float

    @property
    def long(self) -> float:
        return sum(map(length_of, self.sides)) / 2

    def width(self, share: float) -> float:
        a, b = (along(side, share) for side in self.sides)
        return a.distance(b)


def _part(draft: Draft, piece: Piece) -> _SleevePart:
    cap = cap_of(draft, piece)
    if not cap:
        raise NotTogetherError(
            f"no edge of “{piece.title}” is called cap, head or crown, the edge that goes into the armhole"
        )
    patch = patch_of(piece)
    names = list(patch.edges)
    first = names.index(cap)
    caps = [cap]
    for step in (1, -1):  # a cap of several edges
        n = first + step
        while any(word in names[n % len(names)] for word in _CAPS) and names[n % len(names)] not in caps:
            caps.append(names[n % len(names)])
            n += step
    start = next(n for n, name in enumerate(names) if name in caps and names[n - 1] not in caps)
    order = names[start:] + names[:start]
    caps = [name for name in order if name in caps]
    rest = [name for name in order if name not in caps]
    if len(rest) < 3:
        raise NotTogetherError(f"“{piece.title}” needs two side edges and a hem below its cap")
    line = [p for name in caps for p in patch.edges[name]]
    ends = line[0], line[-1]
    down, up = patch.edges[rest[0]], patch.edges[rest[-1]][::-1]
    level = (ends[0].y + ends[1].y) / 2
    return _SleevePart(
        patch, (down, up), level - min(p.y for p in line), max(max(p.y for p in line) - level, 0.0)
    )


def hang_angle(form: SleeveForm, least: float) -> float:
    """Degrees from upright at which a sleeve hangs: close with a high cap, further out the lower it is.

    Args:
        least: what the hips leave.
    """
    out = (_SET_IN - form.rise / form.widths[0]) * 90.0
    return min(max(_LEAST, least, _LEAST + out), _MOST)


def hung(form: SleeveForm, armhole: Sequence[Point], angle: float, back: bool = False) -> Tube:
    """A sleeve at an armhole of the right half, `angle` degrees from upright, seen from the front or from behind."""
    shoulder = min(armhole, key=lambda p: p.y)
    armpit = max(armhole, key=lambda p: p.y)
    if form.rise < _STRAIGHT * form.widths[0]:
        return _straight(form, armhole, angle)
    down = Point(math.sin(math.radians(angle)), math.cos(math.radians(angle)))
    out = Point(down.y, -down.x)
    full = [width / 2 * _SLIM for width in form.widths]
    # Near the body a sleeve lies in folds under the arm: there it is seen no broader than the shoulder lets it.
    room = abs((armpit - shoulder).cross(down)) + 0.2 * abs(armpit.y - shoulder.y)
    slim = min(room / full[0], 1.0)
    broads = [wide * (slim + (1.0 - slim) * n / _LEVELS) for n, wide in enumerate(full)]
    corner = armpit + out * broads[0]
    long = max(form.rise + form.long - 1.06 * shoulder.distance(corner), 20.0)
    cuff = form.cuff[1] / 2 * _SLIM
    outer, inner = [], []
    for n in range(4 * _LEVELS + 1):
        share = n / (4 * _LEVELS)
        wide = _at(broads, share)
        if form.gathered:
            wide = cuff + (wide - cuff) * math.sqrt(min(max((1.0 - share) / _DRAWN_IN, 0.0), 1.0))
        elif cuff and share == 1.0:
            wide = cuff
        middle = armpit + out * (broads[0] / 2) + down * (long * share)
        outer.append(middle + out * (wide / 2))
        inner.append(middle - out * (wide / 2))
    outer[0], inner[0] = corner, armpit
    # Over the shoulder the fold leaves level with the shoulder's slope and arrives in the line of the arm.
    reach = shoulder.distance(corner)
    slope = Point(math.cos(math.radians(24)), math.sin(math.radians(24)))
    over = Path(
        (
            Cubic(
                shoulder,
                shoulder + (slope + down * 0.6).unit() * (reach * 0.35),
                corner - down * (reach * 0.4),
                corner,
            ),
        )
    )
    armhole_up = sorted(armhole, key=lambda p: -p.y)
    outline = [*over.flatten(FINE), *outer[1:], *reversed(inner), *armhole_up]
    lines: list[tuple[str, Polyline]] = []
    band: Polyline = []
    if form.cuff[0]:
        ends = outer[-1], inner[-1]
        band = [ends[0], ends[1], ends[1] + down * form.cuff[0], ends[0] + down * form.cuff[0]]
        if form.gathered:
            lines += [("gather", line) for line in _turned(gathers([ends[1], ends[0]], -1.0), down)]
    buttons: list[Point] = []
    if form.under:
        # An arm hangs a little turned in: the front seam lies near its inner side, the back seam nearer the middle.
        share = form.under + 0.06 if back else max(form.under - 0.26, 0.1)
        seam = [b.mix(a, share) for a, b in zip(outer, inner, strict=True)]
        seam = [along(armhole_up, 0.55 if back else 0.1), *seam[6 if back else 3 :]]
        lines.append(("seam", seam))
        if back:
            buttons = [seam[-1].mix(seam[0], up / max(long, 1.0)) for up in form.buttons]
    return Tube(outline, band, tuple(lines), tuple(buttons))


def _straight(form: SleeveForm, armhole: Sequence[Point], angle: float) -> Tube:
    """A sleeve without a cap: it goes on from the shoulder as flat as the body of the garment."""
    shoulder = min(armhole, key=lambda p: p.y)
    armpit = max(armhole, key=lambda p: p.y)
    down = Point(math.sin(math.radians(angle)), math.cos(math.radians(angle)))
    out = Point(down.y, -down.x)
    wide = abs((armpit - shoulder).dot(out))
    low = shoulder + down * form.long
    under = low - out * (wide * form.widths[-1] / form.widths[0])
    outline = [shoulder, low, under, *sorted(armhole, key=lambda p: -p.y)]
    cuff = [low, under, under + down * form.cuff[0], low + down * form.cuff[0]] if form.cuff[0] else []
    return Tube(outline, cuff)


def _at(values: Sequence[float], share: float) -> float:
    """A value at a share of the way through a list, straight in between."""
    at = share * (len(values) - 1)
    n = min(int(at), len(values) - 2)
    return values[n] + (values[n + 1] - values[n]) * (at - n)


def _turned(lines: Sequence[Polyline], down: Point) -> Iterator[Polyline]:
    """Lines that run straight up, turned into the line of the arm."""
    for a, b in lines:
        yield [a, a - down * a.distance(b)]
