"""The girth of a garment beside the body's, level by level from bust to hem, measured off the pieces."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from catalogue.drafting.model import Draft
from catalogue.drafting.once import once
from catalogue.geometry import Path, Point, crossings
from catalogue.pattern import Piece
from catalogue.pattern.girths import Garment, GirthPlace
from catalogue.pattern.making import PieceError
from catalogue.pattern.partners import SewnTogether, is_inside

LEVELS = (
    ("bust", "bust_girth", "bust_point"),
    ("chest", "chest_girth", "cf_chest"),
    ("waist", "waist_girth", "cf_waist"),
    ("hip", "hip_girth", "cf_hip"),
)
"""Levels that the body has a figure for, top to bottom: the measurement, and the end of the name of a point there."""
SHARES = (1 / 3, 2 / 3)
"""Where between two levels the garment is measured too."""


@dataclass(frozen=True, slots=True)
class GirthLevel:
    """A level: mm round the garment and the body, and mm below the highest level.

    Between two levels that the body was measured at, `estimated`, its girth is taken in proportion; below the lowest
    of them it has none.
    """

    name: str
    garment: float
    body: float | None
    down: float
    estimated: bool = False

    @property
    def ease(self) -> float | None:
        return None if self.body is None else self.garment - self.body


@once(2)
def girth_profile(draft: Draft) -> tuple[GirthLevel, ...]:
    """The levels of a draft, top to bottom; none where its pieces do not name two of them.

    Where the two halves of the body differ, half of each goes round: the mean of the two drafts.
    """
    if not draft.halves:
        return tuple(_profile(draft))
    one, other = (tuple(_profile(half)) for half in draft.halves)
    if [level.name for level in one] != [level.name for level in other]:
        return ()
    return tuple(
        GirthLevel(
            a.name,
            (a.garment + b.garment) / 2,
            (a.body + b.body) / 2 if a.body is not None and b.body is not None else None,
            a.down,
            a.estimated,
        )
        for a, b in zip(one, other, strict=True)
    )


def _profile(draft: Draft) -> Iterator[GirthLevel]:
    body = {name: m.mm for name, key, _ in LEVELS if (m := draft.client.measurements.get(key))}
    outside = [p for p in draft.pieces.values() if p.cut.cloth == "main" and not is_inside(p)]
    garment = Garment(draft.pieces, _seams(draft))
    down, last = 0.0, ""
    for upper, lower in pairwise([level for level in LEVELS if _on(outside, level[2]) and level[0] in body]):
        piece = next((p for p in outside if _at(p, upper[2]) and _at(p, lower[2])), None)
        if piece is None or (upper[0], lower[0]) == ("bust", "chest"):
            continue
        top, end = _at(piece, upper[2]), _at(piece, lower[2])
        assert top is not None and end is not None
        deep = end.y - top.y
        if deep < 1.0:
            continue
        for share in (0.0, *SHARES, 1.0):
            named = upper[0] if share == 0.0 else lower[0] if share == 1.0 else ""
            if named and named == last:
                continue
            mm = _stated(draft, body[named]) if named else None
            if mm is None:
                mm = _round(garment, piece, top.y + share * deep)
            if mm is None:
                continue
            there = body[upper[0]] + share * (body[lower[0]] - body[upper[0]])
            words = named or f"{'below' if share < 0.5 else 'above'} {upper[0] if share < 0.5 else lower[0]}"
            yield GirthLevel(words, mm, there, down + share * deep, not named)
            last = named
        down += deep
        if last == "hip":
            yield from _to_the_hem(garment, piece, end.y, down)


def _to_the_hem(garment: Garment, piece: Piece, hip: float, down: float) -> Iterator[GirthLevel]:
    """Half way from the hip to the hem, and the hem, where a level still goes round there."""
    hem = next((e.path for e in piece.edges if e.name == "hem"), None)
    centre = next((e.path for e in piece.edges if e.name == "centre"), None)
    if hem is None or centre is None:
        return
    # At the centre; towards the side a hem may rise.
    end = max(centre.start.y, centre.end.y)
    deep = min(end, hem.bounds().top) - hip - 1.0
    if deep < 50.0:
        return
    for share, name in ((0.5, "below hip"), (1.0, "hem")):
        mm = _round(garment, piece, hip + share * deep)
        if mm is not None:
            yield GirthLevel(name, mm, None, down + share * deep)


def _stated(draft: Draft, body: float) -> float | None:
    """mm round the garment where the style itself says at which level it is measured."""
    return next((f.garment for f in draft.finished if f.measured and f.body == body), None)


def _at(piece: Piece, end: str) -> Point | None:
    return next((p for name, p in piece.points.items() if name == end or name.endswith(f"_{end}")), None)


def _on(pieces: list[Piece], end: str) -> bool:
    return any(_at(piece, end) for piece in pieces)


def _seams(draft: Draft) -> list[SewnTogether]:
    """The seams between two edges; the left piece sewn to the right one is no way on to another piece."""
    found = []
    for seam in draft.seams:
        first, second = (tuple(side.split(" and ")) for side in (seam.first, seam.second))
        if set(first) != set(second) and all(_is_edge(draft.pieces, edge) for edge in (*first, *second)):
            found.append(SewnTogether(first, second))
    return found


def _is_edge(pieces: Mapping[str, Piece], edge: str) -> bool:
    piece, _, name = edge.partition(".")
    return piece in pieces and any(e.name == name for e in pieces[piece].edges)


def _round(garment: Garment, piece: Piece, y: float) -> float | None:
    """mm round the garment at a height of the paper; None where no level goes round there."""
    box = piece.outline.bounds()
    across = Path.line(Point(box.left - 10.0, y), Point(box.right + 10.0, y))
    met = sorted(c.on_first for c in crossings(across, piece.outline))
    spans = [(b - a, a) for a, b in zip(met[::2], met[1::2], strict=False)]
    if not spans or max(spans)[0] < 2.0:
        return None
    wide, start = max(spans)
    # Beside the middle of the piece, where a dart or a line drawn along it is less often met.
    at = across.point_at(start + 0.47 * wide)
    try:
        found = garment.girth_at([GirthPlace(piece.name, at)], False)
    except (PieceError, KeyError, ValueError):
        return None
    if any(girth.loose_ends for girth in found):
        return None
    return sum(girth.mm for girth in found)
