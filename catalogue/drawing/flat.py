"""The garment as a flat drawing, front and back, put together of the pieces a draft made, on an outline figure.

Where the pieces don't tell how they go together, there is no such drawing: `garment_svg` gives None, and
`why_no_flat` says which piece or seam it is for.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from catalogue.drafting.model import Draft
from catalogue.drawing.assembly import (
    BACK,
    FRONT,
    Half,
    NotTogetherError,
    half,
    is_sleeve,
    outline_of,
    strips_on,
    titles_of,
    words_of,
    worn,
)
from catalogue.drawing.body_outline import BREADTH, BodyOutline, body_outline_for
from catalogue.drawing.flared import Flared, flared
from catalogue.drawing.hanging import Tube, band_beside, collar, hung, strip_height
from catalogue.drawing.markup import escaped, path_data
from catalogue.drawing.markup import formatted as number
from catalogue.drawing.patch import FINE, Polyline
from catalogue.geometry import Box, Point
from catalogue.pattern import Piece

STYLE = (
    "path{fill:none;stroke:#231f1a;vector-effect:non-scaling-stroke;stroke-width:1;stroke-linejoin:round;"
    "stroke-linecap:round}"
    ".body{stroke:#b9ae9b}.cloth{fill:#fffdf8;stroke:none}.inside{fill:#e9e1d2}.edge{stroke-width:2.1}"
    ".dart{stroke-width:.9}.stitch{stroke-width:.8;stroke-dasharray:3.5 2.5}.button{fill:#fffdf8}"
    "@media(prefers-color-scheme:dark){path{stroke:#ece5d8}.body{stroke:#6f675b}.cloth,.button{fill:#34302a}"
    ".inside{fill:#211e1a}}"
)
BUTTON = 5.5
"""Radius of a button in a flat drawing, mm."""
_ARMHOLE = ("armhole", "scye", "armscye")


@dataclass(slots=True)
class View:
    """One view, painted from behind to the front.

    Attributes:
        strokes: class of line, points, and whether it is closed.
        outline: the outer edge of everything together.
    """

    strokes: list[tuple[str, Polyline, bool]] = field(default_factory=list)
    outline: Polyline = field(default_factory=list)
    buttons: list[Point] = field(default_factory=list)

    def fill(self, shape: Polyline, kind: str = "cloth") -> None:
        self.strokes.append((kind, shape, True))

    def line(self, points: Polyline, kind: str = "seam") -> None:
        self.strokes.append((kind, points, False))

    def shape(self, points: Polyline) -> None:
        """A closed shape of cloth with its edge drawn."""
        self.fill(points)
        self.strokes.append(("seam", points, True))

    @property
    def shapes(self) -> list[Polyline]:
        return [line for kind, line, _ in self.strokes if kind == "cloth"]


@dataclass(frozen=True, slots=True)
class Flat:
    """Both views of a garment on a figure, x from the middle line of each, y from the figure's waist, mm.

    `arm` is how far the sleeves hang from upright, degrees; None without sleeves.
    """

    front: View
    back: View
    body: BodyOutline
    arm: float | None = None


def flat(draft: Draft) -> Flat | None:
    """Both views of a draft's garment; None when its pieces don't say how they go together."""
    try:
        return _put_together(draft)
    except NotTogetherError:
        return None


def why_no_flat(draft: Draft) -> str:
    """Why there is no drawing of the garment, as a part of a sentence; "" where there is one, or none is wanted."""
    if not draft.style.flat or not draft.pieces or draft.missing or any(f.is_error for f in draft.findings):
        return ""
    try:
        _put_together(draft)
    except NotTogetherError as reason:
        return str(reason)
    return ""


def _put_together(draft: Draft) -> Flat:
    if draft.halves:
        # Of a body whose halves differ the right one is drawn on both sides: what differs is less than a line is wide.
        draft = draft.halves[0]
    measured = {key: m.mm for key, m in draft.client.measurements.items()}
    body = body_outline_for(measured, draft.client.kind)
    skirt = flared(draft)
    if skirt is not None:
        return _skirt(skirt, body)
    front, back = half(draft, FRONT), half(draft, BACK)
    sleeves = [p for p in worn(draft) if is_sleeve(p)]
    if len(sleeves) > 1:
        raise NotTogetherError(
            f"only a sleeve of one piece can be drawn, and there are {len(sleeves)} pieces: {titles_of(sleeves)}"
        )
    from_shoulder = bool(front.edges(*_ARMHOLE) and back.edges(*_ARMHOLE))
    if sleeves and not from_shoulder:
        raise NotTogetherError(
            f"{titles_of(sleeves)} needs an edge called “armhole” on the front and on the back"
        )
    place = _at_shoulder if from_shoulder else _at_waist
    front, back = place(_narrowed(front), body), place(_narrowed(back), body)
    if from_shoulder:
        front = _levelled(front, back)
    hanging = [hung(sleeves[0], _armhole(one)) for one in (front, back)] if sleeves else []
    if hanging:  # One arm, seen from both sides.
        angle = (hanging[0].angle + hanging[1].angle) / 2
        hanging = [hung(sleeves[0], _armhole(one), angle) for one in (front, back)]
    views = []
    for n, one in enumerate((front, back)):
        view = View()
        if n == 0 and from_shoulder:
            _inside(view, one, back)
        if hanging:
            _sleeves(draft, view, sleeves[0], hanging[n])
        _body(draft, view, one, draft.client.kind in ("man", "boy"))
        if from_shoulder:
            _collar(draft, view, one, n == 0)
        view.outline = outline_of(view.shapes, (FRONT, BACK)[n])
        views.append(view)
    arm = sum(t.angle for t in hanging) / len(hanging) if hanging else None
    return Flat(views[0], views[1], body, arm)


def garment_svg(draft: Draft, title: str = "") -> str | None:
    """A file with both views side by side; None when the pieces don't allow it.

    Args:
        title: what the picture shows, for screen readers.
    """
    if not draft.pieces or draft.missing:
        return None
    made = flat(draft)
    if made is None:
        return None
    lines = made.body.outlines(made.arm)
    whole = _box([*made.front.outline, *made.back.outline])
    people = _box([p for line in lines for p in line.flatten(2.0)])
    reach = max(-whole.left, whole.right, people.right)
    apart = 2 * reach + 0.12 * people.width
    # Enough of the figure to see where one is, but the garment fills the picture.
    from_shoulder = whole.top < made.body.y(187.0)
    top = min(people.top, whole.top) if from_shoulder else whole.top - 0.25 * whole.height - 90
    bottom = max(min(people.bottom, whole.bottom + 0.3 * whole.height + 60), whole.bottom)
    frame = Box(-reach, top, apart + reach, bottom).grown(0.025 * (bottom - top))
    body = "".join(f'<path class="body" d="{path_data(p)}"/>' for p in lines)
    body = f'<g mask="url(#fade)">{body}</g>'
    out = [_fade(frame, not from_shoulder, bottom < people.bottom)]
    out.append(f"<g><title>Front</title>{body}{view_svg(made.front)}</g>")
    out.append(
        f'<g transform="translate({number(apart)} 0)"><title>Back</title>{body}{view_svg(made.back)}</g>'
    )
    view = " ".join(number(v) for v in (frame.left, frame.top, frame.width, frame.height))
    name = escaped(title or f"{draft.style.title}, front and back")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" width="{number(frame.width)}" '
        f'height="{number(frame.height)}" role="img"><title>{name}</title><style>{STYLE}</style>'
        f"{''.join(out)}</svg>\n"
    )


def view_svg(view: View) -> str:
    """The elements of a view; their look comes from `STYLE`."""
    drawn = [*view.strokes, ("edge", view.outline, True)]
    lines = _thinned([line for _, line, _ in drawn])
    parts = [
        f'<path class="{kind}" d="{_data(line, closed)}"/>'
        for (kind, _, closed), line in zip(drawn, lines, strict=True)
    ]
    r = number(BUTTON)
    for p in view.buttons:
        across = f"a{r} {r} 0 1 1 {number(2 * BUTTON)} 0a{r} {r} 0 1 1 {number(-2 * BUTTON)} 0Z"
        parts.append(f'<path class="button" d="M{number(p.x - BUTTON)} {number(p.y)}{across}"/>')
    return "".join(parts)


def _fade(frame: Box, above: bool, below: bool) -> str:
    """A mask that lets the figure fade where the picture cuts it off."""
    stops = [
        (0.0, "#000" if above else "#fff"),
        (0.16, "#fff"),
        (0.84, "#fff"),
        (1.0, "#000" if below else "#fff"),
    ]
    shades = "".join(f'<stop offset="{at}" stop-color="{colour}"/>' for at, colour in stops)
    wide, high = number(4 * frame.width), number(frame.height)
    return (
        f'<defs><linearGradient id="shade" x2="0" y2="1">{shades}</linearGradient><mask id="fade" '
        f'maskUnits="userSpaceOnUse" x="{number(-2 * frame.width)}" y="{number(frame.top)}" width="{wide}" '
        f'height="{high}"><rect x="{number(-2 * frame.width)}" y="{number(frame.top)}" width="{wide}" '
        f'height="{high}" fill="url(#shade)"/></mask></defs>'
    )


def _data(line: Sequence[tuple[float, float]], closed: bool = False) -> str:
    spots = [f"{x:.1f} {y:.1f}" for x, y in line]
    return f"M{spots[0]}L{' '.join(spots[1:])}" + ("Z" if closed else "") if len(spots) > 1 else ""


def _thinned(lines: Sequence[Polyline]) -> list[Sequence[tuple[float, float]]]:
    """Polylines without points that change nothing to the eye."""
    from shapely import get_coordinates, linestrings, simplify

    long = [n for n, line in enumerate(lines) if len(line) > 2]
    found: list[Sequence[tuple[float, float]]] = list(lines)
    # All at once: to hand over a line takes longer than to thin it.
    points = [p for n in long for p in lines[n]]
    which = [k for k, n in enumerate(long) for _ in lines[n]]
    if not long:
        return found
    thin, whose = get_coordinates(simplify(linestrings(points, indices=which), FINE), return_index=True)
    for n in long:
        found[n] = []
    for k, spot in zip(whose.tolist(), thin.tolist(), strict=True):
        found[long[k]].append(spot)
    return found


def _box(points: Iterable[Point]) -> Box:
    return Box.around(list(points))


# ---- placing ----


def _narrowed(one: Half) -> Half:
    """What goes round the body is seen narrower than it lies on a table; what lies on the shoulder is not."""
    armholes = _armhole(one)
    if not armholes:
        return one.moved(lambda p: Point(p.x * BREADTH, p.y))
    top, low = min(p.y for p in armholes), max(p.y for p in armholes)

    def move(p: Point) -> Point:
        share = min(max((p.y - top) / (low - top), 0.0), 1.0)
        share = share * share * (3 - 2 * share)
        return Point(p.x * (1 + (BREADTH - 1) * share), p.y)

    return one.moved(move)


def _at_shoulder(one: Half, body: BodyOutline) -> Half:
    """Moved so that the neck end of its shoulder lies on the figure's shoulder."""
    high = min(_neck(one) or _armhole(one), key=lambda p: p.y)
    down = body.on_shoulder(high.x) - high.y
    return one.moved(lambda p: Point(p.x, p.y + down))


def _levelled(front: Half, back: Half) -> Half:
    """The front with the length it has over the bust taken out, so that the side seams end at one height."""
    ends = [max((p.y for line in one.edges("side") for p in line), default=0.0) for one in (front, back)]
    more = ends[0] - ends[1]
    armholes = [p.y for p in _armhole(front)]
    top, low = min(armholes), max(armholes) + 60.0
    if not 0.0 < more < 0.6 * (low - top):
        return front

    def move(p: Point) -> Point:
        share = min(max((p.y - top) / (low - top), 0.0), 1.0)
        return Point(p.x, p.y - more * share * share * (3 - 2 * share))

    return front.moved(move)


def _at_waist(one: Half, body: BodyOutline) -> Half:
    """Moved so that its middle begins at the figure's waist."""
    middle = min(p.y for patch in one.patches for p in patch.outline if p.x < 1.0)
    return one.moved(lambda p: Point(p.x, p.y - middle))


def _armhole(one: Half) -> Polyline:
    return [p for line in one.edges(*_ARMHOLE) for p in line]


def _neck(one: Half) -> Polyline:
    """The neck edge from the shoulder to the middle."""
    points = [p for line in one.edges("neck", "neckline") for p in line if p.x > -0.5]
    return sorted(points, key=lambda p: -p.x)


# ---- drawing ----


def _mirrored(line: Polyline) -> Polyline:
    return [Point(-p.x, p.y) for p in line]


def _both(line: Polyline) -> tuple[Polyline, Polyline]:
    return line, _mirrored(line)


def _inside(view: View, front: Half, back: Half) -> None:
    """The inside of the back, seen through the front neck."""
    near, far = _neck(front), _neck(back)
    if near and far:
        view.fill([*far, *_mirrored(far)[::-1], *_mirrored(near), *reversed(near)], "inside")


def _sleeves(draft: Draft, view: View, sleeve: Piece, tube: Tube) -> None:
    for shape in _both(tube.outline):
        view.shape(shape)
    for piece, _ in strips_on(draft, [(sleeve.name, e.name) for e in sleeve.edges]):
        outer, inner = tube.hem
        down = (inner - outer).normal() * strip_height(piece)
        down = down if down.y > 0 else -down
        for shape in _both([outer, inner, inner + down, outer + down]):
            view.shape(shape)
        return


def _body(draft: Draft, view: View, one: Half, left_over_right: bool) -> None:
    """Both halves; the one that closes on top is drawn last."""
    bands = list(_bands(draft, one))
    # Women's clothes close right over left, men's left over right (common practice, no source).
    for over in (False, True):
        turn = _same if over == left_over_right else _mirrored
        under = one if over else one.moved(lambda p: Point(max(p.x, 0.0), p.y))
        for patch in under.patches:
            view.fill(turn(patch.outline))
        for patch in under.patches:
            for name, edge in patch.edges.items():
                if name not in patch.folds:
                    view.line(turn(edge))
            for kind, line in patch.lines:
                view.line(turn(line), "stitch" if kind == "stitch" else "dart")
        for band in bands:
            view.fill(turn(band))
            half_way = len(band) // 2
            view.line(turn(band[:half_way]))
        if over:
            view.buttons = [b for p in one.patches for b in turn(list(p.buttons))]


def _same(line: Polyline) -> Polyline:
    return line


def _bands(draft: Draft, one: Half) -> Iterator[Polyline]:
    """Bands sewn along edges of this view, the right half of each as a closed shape, its seam first."""
    done: set[str] = set()
    where = {(p.name, name): line for p in one.patches for name, line in p.edges.items()}
    for piece, edges in strips_on(draft, list(where)):
        if piece.name in done or _turned_down(draft, piece):
            continue
        done.add(piece.name)
        height = strip_height(piece)
        for edge in edges:
            line = where[edge]
            level = abs(line[-1].x - line[0].x) > 2 * abs(line[-1].y - line[0].y)
            far = [Point(p.x, p.y - height) for p in line] if level else band_beside(line, height)
            yield [*line, *(Point(max(p.x, 0.0), p.y) for p in reversed(far))]


def _turned_down(draft: Draft, stand: Piece) -> Piece | None:
    """The collar that turns down over a neck band, or the band itself when it is such a collar."""
    if "stand" not in words_of(stand.name, stand.title) and "collar" in words_of(stand.name, stand.title):
        return stand
    for piece, _ in strips_on(draft, [(stand.name, e.name) for e in stand.edges]):
        if "collar" in words_of(piece.name, piece.title):
            return piece
    return None


def _collar(draft: Draft, view: View, one: Half, front: bool) -> None:
    neck = _neck(one)
    where = [(p.name, name) for p in one.patches for name in p.edges if "neck" in name]
    for stand, _ in strips_on(draft, where):
        piece = _turned_down(draft, stand)
        if piece is None or not neck:
            continue
        high = strip_height(stand) if stand is not piece else 0.4 * strip_height(stand)
        made = collar(piece, high, neck, front)
        for shape in _both(made.fall) if front else ([*made.fall, *_mirrored(made.fall)[::-1]],):
            view.shape(shape)
        return


def _skirt(skirt: Flared, body: BodyOutline) -> Flat:
    views = []
    for seam in ([], skirt.seam):
        view = View()
        for shape in skirt.shapes:
            view.shape(list(shape))
        for line in (*skirt.folds, seam):
            if line:
                view.line(list(line))
        view.outline = outline_of(skirt.shapes, "skirt")
        views.append(view)
    return Flat(views[0], views[1], body)
