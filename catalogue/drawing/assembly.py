"""Half a garment, front or back, put together of its pieces at the seams that the style declares."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from catalogue.drafting.model import Draft
from catalogue.drawing.patch import Move, Patch, Polyline, both_ways, follow, patch_of, turn_of
from catalogue.geometry import Point, Transform
from catalogue.language.wording import in_words
from catalogue.pattern import Piece
from catalogue.pattern.partners import INSIDE

FRONT, BACK = "front", "back"

_STRIPS = {"band", "waistband", "neckband", "cuff", "collar", "stand", "binding", "ribbon"}
_CENTRES = ("front_edge", "centre", "center", "middle", "cf", "cb", "opening")
_LEGS = {"crotch", "fork", "inseam", "leg"}

Edge = tuple[str, str]
"""A piece's name and an edge's name."""


class NotTogetherError(Exception):
    """Raised where the pieces don't say how they go together: which piece or seam stopped it, and what to write."""


@dataclass(frozen=True, slots=True)
class Half:
    """The half of a view that lies to the right of the middle line x = 0.

    Attributes:
        patches: the pieces, in the order they were put to each other.
        overlap: mm that the front runs on over the middle line, to be buttoned.
        closed: the middle lies on a fold, so nothing is seen there.
    """

    patches: tuple[Patch, ...]
    overlap: float = 0.0
    closed: bool = False

    def edges(self, *words: str) -> list[Polyline]:
        """Edges whose name has one of the words."""
        return [e for p in self.patches for name, e in p.edges.items() if set(words) & words_of(name)]

    def moved(self, move: Move) -> Half:
        return Half(tuple(p.moved(move) for p in self.patches), self.overlap, self.closed)


def worn(draft: Draft) -> list[Piece]:
    """The pieces that make the outside of the garment."""
    return [
        p for p in draft.pieces.values() if p.cut.cloth == "main" and not words_of(p.name, p.title) & INSIDE
    ]


def is_sleeve(piece: Piece) -> bool:
    words = words_of(piece.name, piece.title)
    return "sleeve" in words and not words & _STRIPS


def is_strip(piece: Piece) -> bool:
    """A band, cuff or collar, or whatever is as long and narrow."""
    box = piece.outline.bounds()
    long, short = max(box.width, box.height), min(box.width, box.height)
    words = words_of(piece.name, piece.title)
    return bool(words & _STRIPS) or (long > 5 * short and not view_of(piece))


def view_of(piece: Piece) -> str:
    """ "front", "back", or "" for a piece that belongs to both or to neither."""
    words = words_of(piece.name, piece.title)
    found = [view for view in (FRONT, BACK) if view in words]
    return found[0] if len(found) == 1 else ""


def seams_of(draft: Draft) -> Iterator[tuple[tuple[Edge, ...], tuple[Edge, ...]]]:
    """The edges on both sides of each declared seam."""
    for seam in draft.seams:
        yield _edges(seam.first), _edges(seam.second)


def half(draft: Draft, view: str) -> Half:
    """Half of a view put together; raises `NotTogetherError` when the pieces don't say how."""
    pieces = {p.name: p for p in worn(draft) if not is_sleeve(p) and not is_strip(p)}
    mine = [p for p in pieces.values() if view_of(p) == view]
    roots = [(score, p, edge) for p in mine for score, edge in [_centre(p)] if edge]
    if not mine:
        raise NotTogetherError(f"no piece of main cloth has “{view}” in its name")
    if not roots and any(_LEGS & words_of(edge.name) for p in mine for edge in p.edges):
        raise NotTogetherError("only a garment without legs can be drawn so")
    if not roots:
        raise NotTogetherError(
            f"no edge of {titles_of(mine)} lies at the middle of the body; call it “centre”, or put it on the fold"
        )
    _, root, centre = max(roots, key=lambda r: r[0])
    path = root.edge(centre).path
    outward = 1 if root.outline.bounds().centre.x > (path.start.x + path.end.x) / 2 else -1
    start = _upright(patch_of(root, outward), centre)
    if start is None:
        raise NotTogetherError(
            f"the edge “{in_words(centre)}” of {titles_of([root])}, at the middle of the body, does not run downwards"
        )
    placed = {root.name: start}
    waiting = [root.name]
    while waiting:
        name = waiting.pop(0)
        for edge, other, other_edge in _neighbours(draft, name):
            if other in placed or other not in pieces or view_of(pieces[other]) not in ("", view):
                continue
            if not view_of(pieces[other]) and "shoulder" in edge + other_edge:
                continue  # it ends at the shoulder and belongs to the other side
            if edge not in placed[name].edges or not any(e.name == other_edge for e in pieces[other].edges):
                continue
            target = placed[name].edges[edge]
            # A level seam takes a piece as well either way; then it is not turned over.
            ways = both_ways(pieces[other], outward)
            patch = min(ways, key=lambda p: round(turn_of(p, other_edge, target)))
            patch = follow(patch, other_edge, target)
            if not view_of(pieces[other]):
                patch = _this_side(draft, patch, other_edge, view)
            placed[other] = patch
            waiting.append(other)
    apart = [p for p in mine if p.name not in placed]
    if apart:
        there = titles_of([pieces[name] for name in placed])
        raise NotTogetherError(
            f"no seam joins one edge of {titles_of(apart)} to one edge of {there}; "
            f"a line such as “sew {apart[0].name}.side to {root.name}.side” does"
        )
    laps = view == FRONT and not root.edge(centre).fold and bool(start.buttons or start.middles)
    overlap = max(0.0, -min(p.x for p in start.outline)) if laps else 0.0
    kept = [p.moved(_from_middle(overlap)) for p in placed.values()]
    return Half(tuple(kept), overlap, root.edge(centre).fold)


def outline_of(shapes: Sequence[Polyline], what: str) -> Polyline:
    """The outline of everything together; raises `NotTogetherError` when it falls apart or there is no shape."""
    from shapely import buffer, linearrings, make_valid, polygons, union_all

    rings = [shape for shape in shapes if len(shape) > 2]
    apart = NotTogetherError(f"the pieces of the {what}, put together at their seams, do not make one shape")
    if not rings:
        raise apart
    which = [n for n, shape in enumerate(rings) for _ in shape]
    pieces = make_valid(polygons(linearrings([p for shape in rings for p in shape], indices=which)))
    whole = union_all(buffer(pieces, 1.2, quad_segs=16, join_style="mitre"))
    whole = buffer(whole, -1.2, quad_segs=16, join_style="mitre")
    parts = sorted(getattr(whole, "geoms", [whole]), key=lambda part: -part.area)
    if not parts or parts[0].area < 0.995 * whole.area:
        raise apart
    return [Point(x, y) for x, y in parts[0].exterior.coords[:-1]]


def titles_of(pieces: Sequence[Piece]) -> str:
    """Titles in quotation marks: “Front” or “Side front”."""
    return " or ".join(f"“{piece.title}”" for piece in pieces)


def _from_middle(overlap: float) -> Move:
    def move(p: Point) -> Point:
        return Point(max(p.x, -overlap), p.y)

    return move


def _centre(piece: Piece) -> tuple[int, str]:
    """How sure it is that a piece lies at the middle of the body, and the edge that does."""
    for edge in piece.edges:
        if edge.fold and piece.cut.on_fold:
            return 3, edge.name
    for n, word in enumerate(_CENTRES):
        for edge in piece.edges:
            if edge.name == word or word in words_of(edge.name):
                return (2 if n < 3 else 1), edge.name
    return 0, ""


def _upright(patch: Patch, centre: str) -> Patch | None:
    """The patch turned so that its middle is upright, and moved so that it lies at x = 0."""
    line = patch.edges[centre]
    way = line[-1] - line[0] if line[-1].y > line[0].y else line[0] - line[-1]
    if way.length < 1 or abs(way.x) > 0.5 * way.y:
        return None
    move = Transform.rotation(math.degrees(math.atan2(way.x, way.y)), line[0])
    turned = patch.moved(move.apply)
    places = (
        turned.buttons or tuple(p for line in turned.middles for p in line) or tuple(turned.edges[centre])
    )
    middle = sorted(p.x for p in places)[len(places) // 2]
    return turned.moved(lambda p: Point(p.x - middle, p.y))


def _neighbours(draft: Draft, name: str) -> Iterator[tuple[str, str, str]]:
    """Seams of a piece that join one edge to one edge: its edge, the other piece, the other edge."""
    for first, second in seams_of(draft):
        if len(first) == len(second) == 1:
            for (a, edge), (b, other) in ((first[0], second[0]), (second[0], first[0])):
                if a == name and b != name:
                    yield edge, b, other


def _this_side(draft: Draft, patch: Patch, sewn: str, view: str) -> Patch:
    """A yoke cut off where the shoulder lies: level with a notch, else 3 cm from its front."""
    pieces = draft.pieces
    far = [
        edge
        for edge, other, _ in _neighbours(draft, patch.name)
        if edge != sewn
        and "shoulder" not in edge
        and other in pieces
        and view_of(pieces[other]) not in ("", view)
    ]
    if not far or far[0] not in patch.edges:
        return patch
    theirs = far[0] if view == BACK else sewn
    front = patch.edges[theirs]
    along = (front[-1] - front[0]).unit()
    inward = along.normal()  # into the piece, from the front seam
    reach = _shoulder(pieces[patch.name], theirs)

    def depth(p: Point) -> float:
        return ((p - front[0]).dot(inward) - reach) * (1 if view == BACK else -1)

    kept = {name: _held(edge, depth) for name, edge in patch.edges.items()}
    return replace(patch, edges={name: edge for name, edge in kept.items() if len(edge) > 1})


def _held(line: Polyline, depth: Callable[[Point], float]) -> Polyline:
    """The part of a polyline where `depth` is above nought, cut where it crosses."""
    points: Polyline = []
    for n, p in enumerate(line):
        here = depth(p)
        if n:
            before = depth(line[n - 1])
            if before * here < 0:
                points.append(line[n - 1].mix(p, before / (before - here)))
        if here >= 0:
            points.append(p)
    return points


def _shoulder(piece: Piece, front: str) -> float:
    """How far behind its front seam a yoke lies on the shoulder, mm."""
    path = piece.edge(front).path
    away = [path.nearest(n.at)[1] for n in piece.notches if n.edge != front]
    near = [d for d in away if 5 < d < 80]
    return min(near, default=30.0)


@lru_cache(maxsize=4096)
def _edges(side: str) -> tuple[Edge, ...]:
    named = (part.strip().partition(".") for part in side.split(" and "))
    return tuple((piece, edge) for piece, _, edge in named)


@lru_cache(maxsize=4096)
def words_of(*names: str) -> frozenset[str]:
    """The words in names, in small letters."""
    return frozenset(re.findall(r"[a-z]+", " ".join(names).lower().replace("_", " ")))


def strips_on(draft: Draft, edges: Sequence[Edge]) -> Iterator[tuple[Piece, list[Edge]]]:
    """Bands, collars and cuffs sewn to any of the edges, and to which of them."""
    wanted = set(edges)
    for first, second in seams_of(draft):
        for one, other in ((first, second), (second, first)):
            held = [e for e in one if e in wanted]
            if held and len({piece for piece, _ in other}) == 1:
                piece = draft.pieces.get(other[0][0])
                if piece is not None and piece.cut.cloth == "main" and is_strip(piece):
                    yield piece, held
