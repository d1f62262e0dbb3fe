"""Small drawings of what is seen at a fitting: a part of the dressed figure, with drag lines, folds and edges on it."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from markupsafe import Markup

from catalogue.drawing.bounds import Recorder
from catalogue.drawing.canvas import Canvas, LineKind
from catalogue.drawing.markup import titled
from catalogue.drawing.page_svg import PageCanvas, elements
from catalogue.geometry import Cubic, Path, Point, Transform
from catalogue.studio.signs import Mark, Part, SignDrawing, SignMark

SIZE = 100.0
"""Width and height of the grid that a drawing lies on."""
_ORIGIN = Point(0.0, 0.0)
Spot = tuple[float, float]
Bow = tuple[Spot, Spot, Spot, Spot]
"""A curve: where it starts, two points that draw it, where it ends."""

# Right halves of what is alike on both sides; the middle lies at 50.
_BODICE: tuple[Bow, ...] = (
    ((58, 7), (64, 10), (74, 12), (82, 16)),
    ((82, 16), (78, 26), (74, 34), (77, 45)),
    ((77, 45), (78, 60), (73, 76), (71, 92)),
)
_SKIRT: tuple[Bow, ...] = (
    ((50, 8), (55, 8.5), (59, 8), (64, 6)),
    ((64, 6), (68, 16), (76, 22), (76, 34)),
    ((76, 34), (77, 55), (77, 75), (77, 94)),
    ((50, 95), (60, 95), (70, 95), (77, 94)),
)
_TROUSERS: tuple[Bow, ...] = (
    ((50, 7), (56, 7.5), (60, 7), (65, 5)),
    ((65, 5), (68, 13), (75, 18), (75, 28)),
    ((75, 28), (76, 50), (73, 75), (72, 96)),
    ((50, 40), (53, 43), (55, 48), (55, 56)),
    ((55, 56), (56, 70), (56, 84), (57, 96)),
    ((57, 96), (62, 97), (67, 97), (72, 96)),
)
_HALVES: dict[str, tuple[Bow, ...]] = {
    "bodice front": (
        *_BODICE,
        ((50, 18), (55, 18), (58, 13), (58, 7)),
        ((50, 93), (58, 93), (65, 93), (71, 92)),
    ),
    "bodice back": (
        *_BODICE,
        ((50, 10), (54, 10), (57, 9), (58, 7)),
        ((50, 93), (58, 93), (65, 93), (71, 92)),
    ),
    "skirt front": _SKIRT,
    "skirt back": _SKIRT,
    "trousers front": _TROUSERS,
    "trousers back": _TROUSERS,
}
# From the side the figure faces right; nothing is mirrored.
_SIDES: dict[str, tuple[Bow, ...]] = {
    "bodice side": (
        ((40, 8), (30, 18), (30, 34), (34, 46)),
        ((34, 46), (37, 60), (38, 74), (38, 92)),
        ((55, 14), (62, 24), (66, 34), (72, 44)),
        ((72, 44), (72, 56), (62, 66), (62, 92)),
        ((40, 8), (44, 11), (50, 14), (55, 14)),
        ((38, 92), (46, 94), (54, 94), (62, 92)),
        ((45, 10.5), (46, 13), (47, 15), (47, 16)),
        ((47, 16), (38, 26), (38, 42), (49, 46)),
        ((47, 16), (58, 22), (60, 40), (49, 46)),
    ),
    "skirt side": (
        ((40, 6), (38, 14), (28, 20), (28, 34)),
        ((28, 34), (29, 55), (31, 75), (31, 94)),
        ((62, 6), (67, 14), (70, 20), (70, 32)),
        ((70, 32), (70, 55), (69, 75), (69, 94)),
        ((40, 6), (47, 8.5), (55, 8.5), (62, 6)),
        ((31, 94), (43, 96), (57, 96), (69, 94)),
    ),
    "trousers side": (
        ((42, 5), (40, 12), (30, 18), (30, 30)),
        ((30, 30), (30, 44), (40, 50), (40, 96)),
        ((62, 5), (66, 12), (68, 18), (67, 28)),
        ((67, 28), (66, 50), (60, 75), (60, 96)),
        ((42, 5), (48, 7), (56, 7), (62, 5)),
        ((40, 96), (46, 97), (54, 97), (60, 96)),
    ),
    "sleeve": (
        ((50, 6), (62, 6), (72, 16), (74, 32)),
        ((50, 6), (38, 6), (28, 16), (26, 32)),
        ((74, 32), (74, 50), (68, 68), (66, 83)),
        ((26, 32), (27, 50), (36, 68), (38, 83)),
        ((38, 83), (46, 85), (58, 85), (66, 83)),
        ((26, 32), (40, 38), (60, 38), (74, 32)),
    ),
}
_HAND: tuple[Bow, ...] = (
    ((43, 84), (40, 91), (43, 99), (51, 99)),
    ((61, 84), (64, 91), (59, 99), (51, 99)),
)
_MIDDLE: dict[str, Bow | None] = {
    "bodice front": ((50, 18), (50, 40), (50, 70), (50, 93)),
    "bodice back": ((50, 10), (50, 40), (50, 70), (50, 93)),
    "skirt back": ((50, 8), (50, 40), (50, 70), (50, 95)),
    "trousers front": ((50, 7), (50, 20), (50, 30), (50, 40)),
    "trousers back": ((50, 7), (50, 20), (50, 30), (50, 40)),
}


def draw_sign(canvas: Canvas, drawing: SignDrawing, corner: Point = _ORIGIN, wide: float = SIZE) -> None:
    """Draw a sign in a square `wide` across whose upper left corner is `corner`: the figure thin, what is seen bold."""
    _recorded(drawing, corner, wide).replay(canvas)


@lru_cache(maxsize=512)
def _recorded(drawing: SignDrawing, corner: Point, wide: float) -> Recorder:
    """A sign as it is drawn there: most sheets show the same signs at the same places."""
    canvas = Recorder()
    by = Transform.scaling(wide / SIZE, wide / SIZE).then(Transform.translation(corner))

    def stroke(path: Path, line: LineKind) -> None:
        canvas.stroke(path.transformed(by), line)

    for bow in _outline(drawing.part):
        stroke(_curve(bow), LineKind.GUIDE)
    for mark in drawing.marks:
        for each in (mark, _mirror(mark)) if mark.mirrored else (mark,):
            _draw_mark(each, stroke, lambda at, r: canvas.dot(by.apply(at), r * wide / SIZE))
    return canvas


def sign_svg(drawing: SignDrawing, id: str, words: str) -> Markup:
    """A sign as a drawing inside a page: the classes of its lines get their look from the page's style sheet.

    Args:
        id: fit for an id and unique on the page. words: what it shows, for those who can't see it.
    """
    canvas = PageCanvas()
    draw_sign(canvas, drawing)
    attributes, said = titled("The sign on the body", words, id)
    lines = elements([(f"sign-{kind}", data) for kind, data in canvas.strokes])
    return Markup(
        f'<svg class="sign" viewBox="-2 -2 104 104" width="150" height="150" {attributes}>{said}{lines}</svg>'
    )


def _outline(part: Part) -> list[Bow]:
    half = _HALVES.get(part, ())
    found = [*half, *(_turned_over(bow) for bow in half), *_SIDES.get(part, ())]
    if part == "sleeve":
        found += _HAND
    middle = _MIDDLE.get(part)
    return [*found, middle] if middle is not None else found


def _turned_over(bow: Bow) -> Bow:
    (ax, ay), (bx, b_y), (cx, cy), (dx, dy) = bow
    return (SIZE - ax, ay), (SIZE - bx, b_y), (SIZE - cx, cy), (SIZE - dx, dy)


def _mirror(mark: SignMark) -> SignMark:
    (ax, ay), (bx, b_y) = mark.start, mark.end
    return SignMark(mark.kind, (SIZE - ax, ay), (SIZE - bx, b_y), -mark.bow)


def _curve(bow: Bow) -> Path:
    a, b, c, d = (Point(float(x), float(y)) for x, y in bow)
    return Path((Cubic(a, b, c, d),))


def _bowed(a: Point, b: Point, bow: float) -> Path:
    """A curve from one point to another, bowed to the left of its way: upwards where it runs right."""
    side = (b - a).unit().normal() * (-bow * 4 / 3) if a.distance(b) > 0 else Point(0.0, 0.0)
    return Path((Cubic(a, a.mix(b, 1 / 3) + side, a.mix(b, 2 / 3) + side, b),))


def _draw_mark(mark: SignMark, stroke: Callable[..., None], dot: Callable[[Point, float], None]) -> None:
    a, b = Point(*mark.start), Point(*mark.end)
    if mark.kind == "spot":
        dot(a, 1.8)
    elif mark.kind == "edge":
        stroke(_bowed(a, b, mark.bow), LineKind.SEAM)
    elif mark.kind == "drag":
        # Drawn tight: straight, thin at the far end, with a short second crease where it pulls from.
        stroke(_bowed(a, b, mark.bow), LineKind.MARK)
        beside = (b - a).unit().normal() * 2.6
        stroke(_bowed(a.mix(b, 0.12) + beside, a.mix(b, 0.55) + beside * 0.6, mark.bow * 0.6), LineKind.MARK)
    elif mark.kind == "fold":
        # Cloth to spare: a soft roll between two lines.
        for bow in (mark.bow + 2.0, mark.bow - 2.0):
            stroke(_bowed(a, b, bow), LineKind.MARK)
    elif mark.kind == "gap":
        stroke(_bowed(a, b, mark.bow), LineKind.MARK)
        for share in (0.25, 0.5, 0.75):
            here = _bowed(a, b, mark.bow)
            stroke(Path.line(a.mix(b, share), here.point_at(here.length * share)), LineKind.GUIDE)
    elif mark.kind == "pull":
        stroke(Path.line(a, b), LineKind.MARK)
        back = (a - b).unit()
        for side in (1.0, -1.0):
            stroke(Path.line(b, b + back * 4.0 + back.normal() * (2.4 * side)), LineKind.MARK)


def sign_words(drawing: SignDrawing) -> str:
    """What the marks of a drawing stand for, in a sentence."""
    kinds = {mark.kind for mark in drawing.marks}
    told = [words for kind, words in MEANING.items() if kind in kinds]
    return f"{'; '.join(told).capitalize()}."


MEANING: dict[Mark, str] = {
    "drag": "straight strokes: cloth drawn tight",
    "fold": "narrow loops: cloth to spare",
    "gap": "a bow: cloth that stands off",
    "edge": "dashed: where the edge or seam lies now",
    "pull": "an arrow: which way the cloth goes",
    "spot": "a dot: the point of the body",
}
