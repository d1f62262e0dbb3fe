"""Random paper for the pattern tests: four-sided pieces with curved edges, bodice fronts for bodies of all sizes."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from hypothesis import assume, settings
from hypothesis import strategies as st

from catalogue.geometry import Knot, Path, Point, Transform, contains, smooth
from catalogue.pattern import Cut, Edge, InnerLine, Mark, Notch, Piece
from catalogue.pattern.darts import add_dart
from catalogue.pattern.grain import upright
from catalogue.pattern.making import PieceError, make_piece
from tests.extent import examples

few = settings(max_examples=examples(15))
"""Paper is slow to work: fewer examples than the profile has."""

STRAY = 0.01
"""mm within which paper that was cut and taped is as it was before."""


def floats(low: float, high: float) -> st.SearchStrategy[float]:
    """Figures in tenths, so that a failing example is readable."""
    return st.integers(round(low * 10), round(high * 10)).map(lambda n: n / 10)


def shares(low: float = 0.2, high: float = 0.8) -> st.SearchStrategy[float]:
    return st.integers(round(low * 100), round(high * 100)).map(lambda n: n / 100)


def drawn_on(piece: Piece) -> Piece:
    """The piece with something of everything on it: a notch on each edge, marks, an inner line, a grain line."""
    box = piece.outline.bounds()
    middle = Point(box.left + box.width / 2, box.top + box.height / 2)
    notches = [
        Notch(e.name, e.path.point_at(e.path.length * 0.37), 1 + i % 2) for i, e in enumerate(piece.edges)
    ]
    shifts = ((-0.12, -0.21), (0.17, -0.1), (0.1, 0.13), (-0.15, 0.18))
    spots = [middle + Point(dx * box.width, dy * box.height) for dx, dy in shifts]
    spots = [s for s in spots if contains(piece.outline, s, 0.0)]
    marks = [Mark(s, "drill", f"mark {i}") for i, s in enumerate(spots)]
    lines = [InnerLine(Path.line(a, b), "guide", f"line {i}") for i, (a, b) in enumerate(pairwise(spots))]
    points = {f"spot_{i}": s for i, s in enumerate(spots)}
    return piece.with_changes(
        notches=tuple(notches),
        marks=tuple(marks),
        lines=tuple(lines),
        points={**piece.points, **points},
        grain=upright(piece),
    )


@st.composite
def curved_edge(draw: st.DrawFn, a: Point, b: Point) -> Path:
    """Straight, or a curve that strays from the straight line by up to an eighth of its length."""
    bow = draw(st.sampled_from([0.0, 0.0, -0.12, -0.05, 0.06, 0.12]))
    if bow == 0.0:
        return Path.line(a, b)
    hollow = a.mix(b, draw(shares(0.35, 0.65))) + (b - a).normal() * (a.distance(b) * bow)
    return smooth([Knot(a), Knot(hollow), Knot(b)])


@st.composite
def quads(draw: st.DrawFn, curved: bool = True) -> Piece:
    """A four-sided piece: top, right, bottom, left; edges up to an eighth of their length out of straight."""
    w, h = draw(floats(150, 600)), draw(floats(150, 900))
    corners = [
        Point(x * w + draw(floats(-0.15, 0.15)) * w, y * h + draw(floats(-0.15, 0.15)) * h)
        for x, y in ((0, 0), (1, 0), (1, 1), (0, 1))
    ]
    edges = []
    for i, name in enumerate(("top", "right", "bottom", "left")):
        a, b = corners[i], corners[(i + 1) % 4]
        edges.append(Edge(name, draw(curved_edge(a, b)) if curved else Path.line(a, b)))
    try:
        piece = make_piece("sheet", "Sheet", edges, Cut(2, False, True), {})
    except PieceError:
        assume(False)
        raise
    return drawn_on(piece)


@dataclass(frozen=True)
class Body:
    """Measurements in mm that a bodice front is drafted from; random, but of the sizes people have."""

    bust: float
    waist: float
    neck: float
    shoulder: float
    front_waist_length: float
    chest: float


@st.composite
def bodies(draw: st.DrawFn) -> Body:
    bust = draw(floats(760, 1500))
    return Body(
        bust,
        bust * draw(shares(0.68, 0.98)),
        draw(floats(320, 460)),
        draw(floats(105, 145)),
        draw(floats(380, 520)),
        bust * draw(shares(0.33, 0.38)),
    )


@st.composite
def bodices(draw: st.DrawFn, darts: tuple[str, ...] = ("waist", "side")) -> Piece:
    """A bodice front on the fold for a random body, with darts to its bust point and everything drawn on it."""
    body = draw(bodies())
    width, length = body.bust / 4 + 15, body.front_waist_length
    neck = body.neck / 6 + 5
    armhole = min(body.bust / 6 + 60, length - 120)
    intake = {"waist": draw(floats(15, 45)), "side": draw(floats(15, 60))}
    neck_point, tip = Point(neck, 0), Point(neck, 0) + Point(body.shoulder * 0.94, body.shoulder * 0.34)
    cf, waist, side_top = Point(0, neck + 10), Point(0, length), Point(width, armhole)
    side_waist = Point(body.waist / 4 + intake["waist"] + 10, length - 8)
    assume(tip.x < width - 15 and side_top.y > tip.y + 90 and side_waist.x > width * 0.72)
    pitch = Point(min(body.chest / 2, width - 20, tip.x - 2), tip.y + (side_top.y - tip.y) * 0.6)
    curve = smooth(
        [Knot(tip, None, (tip - neck_point).normal()), Knot(pitch), Knot(side_top, Point(1, 0), None)]
    )
    edges = [
        Edge("neck", smooth([Knot(cf, None, Point(1, 0)), Knot(neck_point, Point(0, -1), None)])),
        Edge("shoulder", Path.line(neck_point, tip)),
        Edge("armhole", curve),
        Edge("side", Path.line(side_top, side_waist)),
        Edge("waist", smooth([Knot(side_waist), Knot(waist, Point(-1, 0), None)])),
        Edge("centre", Path.line(waist, cf), fold=True),
    ]
    bust_point = Point(body.bust / 11 + 10, armhole + 35)
    try:
        piece = make_piece("front", "Front", edges, Cut(1, True), {"bust_point": bust_point})
        piece = drawn_on(piece)
        for name in darts:
            path = piece.edge(name).path
            middle = path.nearest(bust_point)[0]
            piece = add_dart(piece, name, name, middle, intake[name], apex=bust_point)
    except PieceError:
        assume(False)
        raise
    return piece


moves = st.builds(
    lambda turn, x, y: Transform.rotation(turn).then(Transform.translation(Point(x, y))),
    floats(-180, 180),
    floats(-500, 500),
    floats(-500, 500),
)


def apart(a: Path, b: Path) -> float:
    """How far two outlines lie apart at most, looked at every 5 mm, both ways."""
    return max(
        max(q.nearest(p.point_at(p.length * i / n))[1] for i in range(n))
        for p, q in ((a, b), (b, a))
        for n in [max(20, int(p.length / 5))]
    )


def left_out(before: Piece, *after: Piece) -> set[str]:
    """What lay on the paper before and lies at the same place on none of the parts."""
    there = [thing for piece in after for thing in things_on(piece)]
    return {
        f"{name} {places}"
        for name, places in things_on(before)
        if not any(n == name and all(map(near, places, p)) for n, p in there)
    }


def things_on(piece: Piece) -> list[tuple[str, tuple[Point, ...]]]:
    """Everything drawn on a piece but its lines: what it is, and the points it has."""
    return [
        *((f"notch {n.count}", (n.at,)) for n in piece.notches),
        *((f"mark {m.text}", (m.at,)) for m in piece.marks),
        *((f"point {n}", (p,)) for n, p in piece.points.items()),
        *((f"dart {d.name}", (d.apex, *d.legs)) for d in piece.darts),
    ]


def near(a: Point, b: Point) -> bool:
    return a.distance(b) < STRAY
