"""Widths and lengths of a garment beside the body's, from shoulder to hem, measured off its pieces.

They are found where pieces have the landmarks that alterations know (`landmarks.py`). Girths level by level are in
`girth_profile.py`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from catalogue.drafting.landmarks import Landmarked, landmarks_of
from catalogue.drafting.model import Draft
from catalogue.drafting.once import once
from catalogue.geometry import Path, Point, crossings
from catalogue.pattern import Piece
from catalogue.pattern.measure import sewn_length

BAND = "band"
"""In the name of a piece that lies above the waist seam: with one, lengths from the waist are not told."""


@dataclass(frozen=True, slots=True)
class LengthBeside:
    """A width, length or girth of one limb: mm of garment and body; `is_length` where more is not ease but length."""

    name: str
    garment: float
    body: float
    is_length: bool = False

    @property
    def ease(self) -> float:
        return self.garment - self.body


Known = Mapping[str, Landmarked]


@once(2)
def lengths_beside(draft: Draft) -> tuple[LengthBeside, ...]:
    """What can be compared, top to bottom; the mean of both where the halves of the body differ."""
    if not draft.halves:
        return tuple(_of(draft))
    right, left = ({each.name: each for each in _of(half)} for half in draft.halves)
    return tuple(
        LengthBeside(
            name, (each.garment + left[name].garment) / 2, (each.body + left[name].body) / 2, each.is_length
        )
        for name, each in right.items()
        if name in left
    )


def _of(draft: Draft) -> Iterator[LengthBeside]:
    known = {n: each for n, each in landmarks_of(draft).items() if each.own.cut.cloth == "main"}
    body = {key: m.mm for key, m in draft.client.measurements.items()}
    banded = any(BAND in name for name in draft.pieces)
    for name, key, measure, is_length in _MEASURES:
        mm = body.get(key)
        if mm is None or (name in _FROM_THE_WAIST and banded):
            continue
        found = measure(known, body)
        if found is not None and found > 1.0:
            yield LengthBeside(name, found, mm, is_length)


def _point(known: Known, name: str) -> Point | None:
    piece, _, point = name.partition(".")
    return known[piece].piece.points.get(point) if piece in known else None


def _has(known: Known, *edges: str) -> bool:
    return all(
        piece in known and any(e.name == edge for e in known[piece].piece.edges)
        for piece, _, edge in (name.partition(".") for name in edges)
    )


def _sewn(edge: str) -> Callable[[Known, Mapping[str, float]], float | None]:
    piece, _, name = edge.partition(".")
    return lambda known, body: sewn_length(known[piece].piece, name) if _has(known, edge) else None


def _shoulder(known: Known, body: Mapping[str, float]) -> float | None:
    # The back has ease there, and neither is a shoulder where the neck is cut away or the armhole dropped off it.
    return _sewn("front.shoulder")(known, body) or _sewn("back.shoulder")(known, body)


def _across(name: str) -> Callable[[Known, Mapping[str, float]], float | None]:
    """Twice the width of a piece from its middle to the armhole, midway between shoulder tip and underarm."""

    def measured(known: Known, body: Mapping[str, float]) -> float | None:
        tip, under = _point(known, f"{name}.shoulder_tip"), _point(known, f"{name}.underarm")
        if tip is None or under is None or not _has(known, f"{name}.armhole", f"{name}.centre"):
            return None
        y = (tip.y + under.y) / 2
        piece = known[name].piece
        armhole = _crossing(piece.edge("armhole").path, y)
        centre = _crossing(piece.edge("centre").path, y)
        return None if armhole is None or centre is None else 2 * (armhole - centre)

    return measured


def _crossing(path: Path, y: float) -> float | None:
    box = path.bounds()
    across = Path.line(Point(box.left - 10.0, y), Point(box.right + 10.0, y))
    found = [path.point_at(c.on_second).x for c in crossings(across, path)]
    return found[0] if len(found) == 1 else None


def _down(top: str, end: str) -> Callable[[Known, Mapping[str, float]], float | None]:
    """How much lower one point lies than another of the same piece."""

    def measured(known: Known, body: Mapping[str, float]) -> float | None:
        a, b = _point(known, top), _point(known, end)
        return None if a is None or b is None else b.y - a.y

    return measured


def _neck_to_waist(name: str) -> Callable[[Known, Mapping[str, float]], float | None]:
    def measured(known: Known, body: Mapping[str, float]) -> float | None:
        neck, waist = (_point(known, f"{name}.{point}") for point in ("centre_neck", "centre_waist"))
        if neck is None or waist is None or not _has(known, f"{name}.centre"):
            return None
        centre = known[name].piece.edge("centre").path
        (a, off), (b, away) = centre.nearest(neck), centre.nearest(waist)
        return abs(b - a) if max(off, away) < 1.0 else None

    return measured


def _sleeve(known: Known, body: Mapping[str, float]) -> float | None:
    top = _point(known, "sleeve.cap_top")
    if top is None or not _has(known, "sleeve.hem") or "cuff" in known:
        return None
    hem = known["sleeve"].piece.edge("hem").path
    return hem.point_at(hem.length / 2).y - top.y


def _crotch(known: Known, body: Mapping[str, float]) -> float | None:
    both = [_sewn(f"{name}.crotch")(known, body) for name in ("front", "back")]
    return sum(b for b in both if b is not None) if None not in both else None


def _leg_at(share: Callable[[Mapping[str, float]], float | None]) -> Callable[..., float | None]:
    """Round one leg, at a share of the inside leg down from the fork."""

    def measured(known: Known, body: Mapping[str, float]) -> float | None:
        part, total = share(body), 0.0
        if part is None or not _has(known, "front.inside", "back.inside", "front.side", "back.side"):
            return None
        for name in ("front", "back"):
            piece = known[name].piece
            inside = piece.edge("inside").path
            fork, foot = sorted((inside.start, inside.end), key=lambda p: p.y)
            wide = _width(piece, fork.y + max(part, 0.004) * (foot.y - fork.y))
            if wide is None:
                return None
            total += wide
        return total

    return measured


def _width(piece: Piece, y: float) -> float | None:
    box = piece.outline.bounds()
    across = Path.line(Point(box.left - 10.0, y), Point(box.right + 10.0, y))
    met = sorted(across.point_at(c.on_first).x for c in crossings(across, piece.outline))
    return met[-1] - met[0] if len(met) >= 2 else None


def _knee(body: Mapping[str, float]) -> float | None:
    inside, knee = body.get("inside_leg_length"), body.get("knee_height")
    return (inside - knee) / inside if inside and knee and knee < inside else None


_FROM_THE_WAIST = ("rise at the side", "crotch length")
_MEASURES: tuple[tuple[str, str, Callable[[Known, Mapping[str, float]], float | None], bool], ...] = (
    ("shoulder", "shoulder_length", _shoulder, True),
    ("across the back", "back_width", _across("back"), False),
    ("across the chest", "chest_width", _across("front"), False),
    ("nape to waist", "back_waist_length", _neck_to_waist("back"), True),
    ("front neck to waist", "front_neck_to_waist", _neck_to_waist("front"), True),
    ("sleeve, from the top of the cap", "arm_length", _sleeve, True),
    ("rise at the side", "body_rise", _down("front.waist_side", "front.crotch_point"), True),
    ("crotch length", "crotch_length", _crotch, True),
    ("round the thigh", "thigh_girth", _leg_at(lambda body: 0.0), False),
    ("round the knee", "knee_girth", _leg_at(_knee), False),
)
