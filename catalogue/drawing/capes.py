"""A cape as it hangs: from the neck over the shoulders, wider to the hem; with its hood up, where it has one."""

from __future__ import annotations

import math
from collections.abc import Sequence

from catalogue.drafting.model import Draft
from catalogue.drawing.body_outline import HEAD, BodyOutline
from catalogue.drawing.details import tabs
from catalogue.drawing.gores import shares_on
from catalogue.drawing.patch import FINE, Patch, Polyline, length_of, patch_of
from catalogue.drawing.pieces_worn import is_strip, words_of, worn
from catalogue.drawing.view import View
from catalogue.geometry import Cubic, Path, Point
from catalogue.pattern import Piece

_MOST = 26.0  # degrees from upright at which the side of a full cape hangs
_LEVELS = 24
_FRONTS, _BACKS = ("front_edge", "front", "opening"), ("centre", "center", "back", "centre_back")


def cape_views(draft: Draft, body: BodyOutline) -> tuple[View, View] | None:
    """Front and back of a cape of one piece for each half of the body; None for anything else."""
    pieces = [p for p in worn(draft) if not is_strip(p) and "tab" not in words_of(p.name)]
    hoods = [p for p in pieces if "hood" in words_of(p.name, p.title)]
    capes = [p for p in pieces if p not in hoods and _is_cape(p)]
    if len(capes) != 1 or len(hoods) > 1 or len(pieces) > len(capes) + len(hoods):
        return None
    patch = patch_of(capes[0])
    front, back = _side(patch, _FRONTS), _side(patch, _BACKS)
    if not front or not back:
        return None
    side = _down_the_side(patch, front, back, body)
    views = []
    for n, middle in enumerate((front, back)):
        top = body.neck.y + (18.0 if n == 0 else 4.0)
        long = length_of(middle)

        def place(across: float, t: float, top: float = top, long: float = long) -> Point:
            at = side[min(round(t * _LEVELS), _LEVELS)]
            x = across * at.x
            low = top + long * t
            return Point(x, low - (low - at.y) * across**2)

        view = View()
        hem = [place(1 - k / 24, 1.0) for k in range(25)]
        neck = [place(k / 8, 0.0) for k in range(9)]
        half = [*neck, *side[1:], *hem[1:]]
        for turn in (1, -1):
            shape = [Point(p.x * turn, p.y) for p in half]
            view.fill(shape)
            view.line(shape[: len(neck)])
        view.line([place(0.0, 0.0), place(0.0, 1.0)])
        for kind, line in patch.lines:
            spots = [shares_on(p, front, back) for p in line]
            shown = [(2 * u if n == 0 else 2 * (1 - u), t) for u, t in spots]
            if all(u <= 1.02 for u, _ in shown):
                for turn in (1, -1):
                    drawn = [place(u, t) for u, t in shown]
                    view.line(
                        [Point(p.x * turn, p.y) for p in drawn], "stitch" if kind == "stitch" else "dart"
                    )
        if n == 0:
            closed_at = [place(0.0, shares_on(b, front, back)[1]) for b in patch.buttons]
            tabs(view, draft, [p.y for p in closed_at])
            view.buttons = view.buttons or closed_at
        if hoods:
            _hood(view, hoods[0], body, n == 1)
        views.append(view)
    return views[0], views[1]


def _is_cape(piece: Piece) -> bool:
    words = [words_of(e.name) for e in piece.edges]
    return (
        any("neck" in w for w in words)
        and any("hem" in w for w in words)
        and not any(w & {"armhole", "waist", "shoulder", "side", "scye"} for w in words)
    )


def _side(patch: Patch, names: Sequence[str]) -> Polyline:
    """The edge at the middle of the body from the neck down; empty without one."""
    neck = next(e for n, e in patch.edges.items() if "neck" in words_of(n))
    for name in names:
        for own, edge in patch.edges.items():
            if own == name or name in own:
                near = min(edge[0].distance(p) for p in neck) <= min(edge[-1].distance(p) for p in neck)
                return edge if near else edge[::-1]
    return []


def _down_the_side(patch: Patch, front: Polyline, back: Polyline, body: BodyOutline) -> Polyline:
    """The outline at the side: over the shoulder, then out and down to the hem."""
    hem = next(e for n, e in patch.edges.items() if "hem" in words_of(n))
    neck = next(e for n, e in patch.edges.items() if "neck" in words_of(n))
    half_way = neck[len(neck) // 2]
    long = min(half_way.distance(p) for p in hem)
    start = Point(body.neck.x + 8.0, body.on_shoulder(body.neck.x + 8.0))
    shoulder = body.shoulder + Point(22.0, 4.0)
    rest = max(long - start.distance(shoulder), 40.0)
    out = min(max(length_of(hem) / math.pi - shoulder.x, 0.12 * rest), math.sin(math.radians(_MOST)) * rest)
    low = shoulder + Point(out, math.sqrt(rest * rest - out * out))
    way = (low - shoulder).unit()
    slope = (body.shoulder - start).unit()
    over = Cubic(
        start, start + slope * (0.6 * start.distance(shoulder)), shoulder - way * 25.0, shoulder + way * 30.0
    )
    path = Path((over, *Path.line(shoulder + way * 30.0, low).segments))
    return [path.point_at(path.length * n / _LEVELS) for n in range(_LEVELS + 1)]


def _hood(view: View, hood: Piece, body: BodyOutline, back: bool) -> None:
    """The hood drawn up over the head."""
    box = hood.outline.bounds()
    wide = max(max(x for x, _ in HEAD) * body.scale * body.head + 38.0, 0.36 * box.width)
    base = Point(body.neck.x + 10.0, body.on_shoulder(body.neck.x + 10.0) + 2.0)
    top = body.neck.y - 0.93 * box.height
    up = Path(
        (
            Cubic(
                base,
                Point(base.x + 4.0, base.y - 30.0),
                Point(wide, base.y - 60.0),
                Point(wide, (base.y + top) / 2),
            ),
            Cubic(
                Point(wide, (base.y + top) / 2),
                Point(wide, top + 30.0),
                Point(0.55 * wide, top),
                Point(0.0, top),
            ),
        )
    ).flatten(FINE)
    outer = [*up, *(Point(-p.x, p.y) for p in reversed(up[:-1]))]
    view.shape(outer)
    if back:
        view.line([Point(0.0, top), Point(0.0, base.y + 2.0)])
        return
    low = base.y + 14.0
    inner = [Point(p.x * 0.8, low + (p.y - base.y) * (low - top - 26.0) / (base.y - top)) for p in up]
    face = [Point(0.0, low), *inner, *(Point(-p.x, p.y) for p in reversed(inner[:-1]))]
    view.fill(face, "inside")
    view.strokes.append(("seam", face, True))
