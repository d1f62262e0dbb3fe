"""Half a garment, front or back, put together of its pieces at the seams that the style declares."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from catalogue.drafting.model import Draft
from catalogue.drawing.hanging import strip_height
from catalogue.drawing.laying import FULL, at_level, drawn_in, laid, near_half, this_side
from catalogue.drawing.patch import Move, Patch, Polyline, length_of, patch_of
from catalogue.drawing.pieces_worn import (
    BACK,
    FRONT,
    NotTogetherError,
    centre_of,
    crotch_edge,
    fullness,
    is_between,
    is_sleeve,
    is_strip,
    neighbours,
    strips_on,
    titles_of,
    view_of,
    words_of,
    worn,
)
from catalogue.geometry import Point, Transform
from catalogue.geometry.arrays import coordinates
from catalogue.language.wording import in_words
from catalogue.pattern import Piece

_STAND = 60.0  # mm from the edge of the front within which buttons stand on the middle of the body
_LAP = 15.0  # mm by which the cloth runs on over the middle for it to be the lap of a vent


@dataclass(frozen=True, slots=True)
class Half:
    """The half of a view that lies to the right of the middle line x = 0.

    Attributes:
        patches: the pieces, in the order they were put to each other.
        overlap: mm that the front runs on over the middle line, to be buttoned.
        closed: the middle lies on a fold, so nothing is seen there.
        root: name of the piece at the middle.
        turned: lapels, which lie on top.
        roll: the two ends of the line they turn on, the upper one first; empty without them.
    """

    patches: tuple[Patch, ...]
    overlap: float = 0.0
    closed: bool = False
    root: str = ""
    turned: tuple[Patch, ...] = ()
    roll: tuple[Point, ...] = ()

    def edges(self, *words: str) -> list[Polyline]:
        """Edges whose name has one of the words."""
        return [e for p in self.patches for name, e in p.edges.items() if set(words) & words_of(name)]

    def moved(self, move: Move) -> Half:
        return replace(self, patches=tuple(p.moved(move) for p in self.patches))


def half(draft: Draft, view: str) -> Half:
    """Half of a view put together; raises `NotTogetherError` when the pieces don't say how."""
    pieces = {
        p.name: p for p in worn(draft) if not is_sleeve(p) and (not is_strip(p) or is_between(draft, p))
    }
    mine = [p for p in pieces.values() if view_of(p) == view]
    roots = [(score, p, edge) for p in mine for score, edge in [centre_of(p)] if edge]
    if not mine:
        raise NotTogetherError(f"no piece of main cloth has “{view}” in its name")
    if not roots:
        raise NotTogetherError(
            f"no edge of {titles_of(mine)} lies at the middle of the body; call it “centre”, or put it on the fold"
        )
    _, root, centre = max(roots, key=lambda r: r[0])
    path = root.edge(centre).path
    outward = 1 if root.outline.bounds().centre.x > (path.start.x + path.end.x) / 2 else -1
    legs = bool(crotch_edge(root))
    start = _hung_by_grain(root, outward) if legs else _upright(patch_of(root, outward), centre)
    if start is None:
        raise NotTogetherError(
            f"the edge “{in_words(centre)}” of {titles_of([root])}, at the middle of the body, does not run downwards"
        )
    placed = {root.name: start}
    waiting = [root.name]
    while waiting:
        name = waiting.pop(0)
        for edge, other, other_edge in neighbours(draft, name):
            if other in placed or other not in pieces or view_of(pieces[other]) not in ("", view):
                continue
            if not view_of(pieces[other]) and "shoulder" in edge + other_edge:
                continue  # it ends at the shoulder and belongs to the other side
            if edge not in placed[name].edges or not any(e.name == other_edge for e in pieces[other].edges):
                continue
            full = fullness(draft, (name, edge), (other, other_edge))
            if full > FULL:
                placed[name] = drawn_in(placed[name], edge, pieces[other], other_edge)
            patch = laid(
                pieces[other], other_edge, placed[name].edges[edge], outward, gathered=full < 1 / FULL
            )
            if not view_of(pieces[other]):
                level = abs(patch.edges[other_edge][-1].y - patch.edges[other_edge][0].y)
                upright = level > abs(patch.edges[other_edge][-1].x - patch.edges[other_edge][0].x)
                patch = (
                    near_half(draft, patch, other_edge)
                    if upright
                    else this_side(draft, patch, other_edge, view)
                )
            placed[other] = patch
            waiting.append(other)
    if view == FRONT:
        placed |= _bibs(draft, pieces, placed, root)
    apart = [p for p in mine if p.name not in placed]
    if apart:
        there = titles_of([pieces[name] for name in placed])
        raise NotTogetherError(
            f"no seam joins one edge of {titles_of(apart)} to one edge of {there}; "
            f"a line such as “sew {apart[0].name}.side to {root.name}.side” does"
        )
    if legs:
        return Half(tuple(placed.values()), closed=False, root=root.name)
    laps = view == FRONT and not root.edge(centre).fold
    overlap = max(0.0, -min(p.x for p in start.outline)) if laps else 0.0
    vent = _vent(start, centre) if view == BACK else ()
    straight = _straightened(start.edges[centre]) if view == BACK or not overlap else _as_it_is
    kept = [p.moved(straight).moved(_from_middle(overlap)) for p in placed.values()]
    if vent:
        kept[0] = replace(kept[0], lines=(*kept[0].lines, *vent))
    return Half(tuple(kept), overlap, root.edge(centre).fold, root.name)


def _bibs(
    draft: Draft, pieces: Mapping[str, Piece], placed: Mapping[str, Patch], root: Piece
) -> dict[str, Patch]:
    """Bibs that no seam joins, as they stand on the front: above its waist, or the band there."""
    found = {}
    for piece in pieces.values():
        _, centre = centre_of(piece)
        if piece.name in placed or "bib" not in words_of(piece.name, piece.title) or not centre:
            continue
        path = piece.edge(centre).path
        outward = 1 if piece.outline.bounds().centre.x > (path.start.x + path.end.x) / 2 else -1
        patch = _upright(patch_of(piece, outward), centre)
        if patch is None:
            continue
        waist = [(root.name, e.name) for e in root.edges if "waist" in words_of(e.name)]
        band = max((strip_height(strip) for strip, _ in strips_on(draft, waist)), default=0.0)
        own = placed[root.name].outline
        left = (
            min(p.x for line in (placed[root.name].edges[e] for _, e in waist) for p in line)
            if waist
            else 0.0
        )
        up = min(p.y for p in own if p.x < left + 60.0) - band
        shift = Point(left, up - patch.box.bottom)
        found[piece.name] = patch.moved(Transform.translation(shift).apply)
    return found


def outline_of(shapes: Sequence[Polyline], what: str) -> Polyline:
    """The outline of everything together; raises `NotTogetherError` when it falls apart or there is no shape."""
    from numpy import repeat
    from shapely import buffer, get_coordinates, linearrings, make_valid, polygons, union_all

    rings = [shape for shape in shapes if len(shape) > 2]
    apart = NotTogetherError(f"the pieces of the {what}, put together at their seams, do not make one shape")
    if not rings:
        raise apart
    which = repeat(range(len(rings)), [len(shape) for shape in rings])
    points = coordinates([p for shape in rings for p in shape])
    pieces = make_valid(polygons(linearrings(points, indices=which)))
    whole = union_all(buffer(pieces, 1.2, quad_segs=16, join_style="mitre"))
    whole = buffer(whole, -1.2, quad_segs=16, join_style="mitre")
    parts = sorted(getattr(whole, "geoms", [whole]), key=lambda part: -part.area)
    if not parts or parts[0].area < 0.995 * whole.area:
        raise apart
    return [Point(x, y) for x, y in get_coordinates(parts[0].exterior)[:-1].tolist()]


def _straightened(middle: Polyline) -> Move:
    """A seam in the middle that was hollowed lies straight there when it is sewn, and what is beside it comes along."""
    line = sorted(middle, key=lambda p: p.y)
    if line[-1].y - line[0].y < 1.0:
        return _as_it_is

    return lambda p: Point(p.x - at_level(line, p.y), p.y)


def _as_it_is(p: Point) -> Point:
    return p


def _vent(patch: Patch, centre: str) -> tuple[tuple[str, Polyline], ...]:
    """The lines of a vent in the middle of the back: where its laps are held, and the edge of the lower one."""
    edge = patch.edges[centre]
    end = max(edge, key=lambda p: p.y)
    low = max(p.y for p in patch.outline)
    lap = -min((p.x - end.x for p in patch.outline if p.y > end.y - 1.0), default=0.0)
    if lap < _LAP or low - end.y < 2 * lap or len(patch.edges) < 4:
        return ()
    return (
        ("vent", [Point(0.0, end.y), Point(0.0, low)]),
        ("held", [Point(0.0, end.y), Point(lap, end.y + 0.6 * lap)]),
    )


def _from_middle(overlap: float) -> Move:
    def move(p: Point) -> Point:
        return Point(max(p.x, -overlap), p.y)

    return move


def _hung_by_grain(piece: Piece, outward: int) -> Patch:
    """The patch of a leg turned so that its grain, or the crease, is upright."""
    patch = patch_of(piece, outward)
    if piece.grain is None:
        return patch
    way = piece.grain[1] - piece.grain[0]
    way = Point(way.x * outward, way.y)
    way = way if way.y > 0 else -way
    if abs(way.x) > 0.5 * way.y:
        return patch
    return patch.moved(Transform.rotation(math.degrees(math.atan2(way.x, way.y)), piece.grain[0]).apply)


def _upright(patch: Patch, centre: str) -> Patch | None:
    """The patch turned so that its middle is upright, and moved so that it lies at x = 0."""
    edge = patch.edges[centre]
    # A front edge may be shaped; the middle drawn on the piece is straight.
    straight = [line for line in patch.middles if length_of(line) > 0.3 * length_of(edge)]
    line = max(straight, key=length_of) if straight and centre not in patch.folds else edge
    way = line[-1] - line[0] if line[-1].y > line[0].y else line[0] - line[-1]
    if way.length < 1 or abs(way.x) > 0.5 * way.y:
        return None
    move = Transform.rotation(math.degrees(math.atan2(way.x, way.y)), line[0])
    turned = patch.moved(move.apply)
    edge, line = turned.edges[centre], sorted(turned.edges[centre], key=lambda p: -p.y)
    drawn = tuple(p for line in turned.middles for p in line)
    stand = tuple(p for p in turned.buttons if abs(p.x - line[0].x) < _STAND)
    places = tuple(edge) if centre in turned.folds else drawn or stand or tuple(edge)
    middle = sorted(p.x for p in places)[len(places) // 2]
    return turned.moved(lambda p: Point(p.x - middle, p.y))
