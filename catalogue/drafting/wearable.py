"""Doubts about wearing a garment: whether head, chest, hands and feet pass where nothing opens, and room for a step.

Only what is shut all round by seams that the style declares is judged. Where an edge beside a neck, waist or hem is
sewn to nothing, or only a part of it is, there is the opening; buttons, hooks and the like among the notions open it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from catalogue.drafting.desk import Desk
from catalogue.findings import Finding, Place, Severity
from catalogue.pattern import Piece
from catalogue.pattern.girths import Garment, GirthPlace
from catalogue.pattern.making import PieceError
from catalogue.pattern.measure import sewn_length
from catalogue.pattern.partners import SewnTogether, is_inside
from catalogue.studio.style import Style

STRETCHES = 1.5
"""Times its own length that the edge of a knit can be pulled to (own judgement)."""
HEEL = 1.2
"""Round heel and instep, as a part of the foot's length: about 1.25 in the 2012 survey of US Army men (from memory)."""
SMALLEST_HEAD = 480.0
"""mm round the head where it was not measured: small for a child of three (from memory)."""
STEP_AT_KNEE, STEP_AT_FLOOR = 0.9, 1.15
"""Round the hem of a skirt that one can walk in, as a part of the hip girth: at the knee, and at the floor (own
judgement)."""
ABOVE_KNEE = 100.0
"""mm above the knee from which on a hem hinders no step."""

_CLOSURES = re.compile(
    r"\b(zip|button|hook|snap|popper|press stud|buckle|laces\b|lacing|fastener|toggle|clasp)", re.IGNORECASE
)
_NONE_OF = re.compile(r"\b(no|without)\s+(an?\s+)?\w+", re.IGNORECASE)
_APART = frozenset(
    {"sleeve", "cuff", "collar", "stand", "hood", "band", "waistband", "pocket", "strap", "tab"}
)
_SLITS = frozenset({"slit", "placket", "vent", "opening", "zip"})
_ENDS = 1.0  # mm within which two edges meet at a corner


@dataclass(frozen=True, slots=True)
class _AllRound:
    """mm round a neck, waist or hem; `shut` where nothing opens there."""

    mm: float
    shut: bool


def doubt_wearing(desk: Desk, style: Style, body: Mapping[str, float], place: Place) -> None:
    """A warning for each way in which a garment can hardly be put on or walked in.

    A block is fitted with pins and not judged, nor is a draft with a mistake, or a style that names no garment.

    Args:
        body: measurements by key, mm.
    """
    if (
        style.is_block
        or not style.garment
        or not desk.asked.seams
        or any(f.is_error for f in desk.messages.findings)
    ):
        return
    for message, hint in _doubts(_AsSewn(desk), body):
        desk.messages.findings.append(Finding("wearing", message, place, hint, Severity.WARNING))


def _doubts(garment: _AsSewn, body: Mapping[str, float]) -> Iterator[tuple[str, str]]:
    show, opens = garment.desk.show_length, garment.opens
    neck = None if opens else garment.ring("neck") or garment.ring("neckline")
    head = body.get("head_girth", SMALLEST_HEAD)
    if neck and neck.shut and neck.mm * garment.gives < head:
        whose = f"a head of {show(head)}" if "head_girth" in body else "a head"
        yield (
            f"Nothing opens at the neck, and it measures {show(neck.mm)} round: {whose} does not pass.",
            "Make the neck wider, leave the end of a seam open there, or name the zip or the buttons under notions.",
        )
    chest = max(body.get("bust_girth", 0.0), body.get("chest_girth", 0.0))
    hips = body.get("hip_girth", 0.0)
    zip_long = garment.zip_at("waist")
    waist = garment.ring("waist") if zip_long or not opens else None
    if waist and waist.shut and not opens and chest and hips and waist.mm * garment.gives < min(chest, hips):
        yield (
            f"Nothing opens at the waist, and it measures {show(waist.mm)} round: neither the hips of {show(hips)} "
            f"nor, over the head, a chest of {show(chest)} pass.",
            "Make it wider, leave a seam open, or name the zip or the buttons under notions.",
        )
    narrow = garment.narrowest()
    if not waist and neck and neck.shut and chest and narrow and narrow * garment.gives < chest:
        yield (
            f"It opens nowhere, and round the waist it measures {show(narrow)}: over the head, a chest of "
            f"{show(chest)} does not pass.",
            "Make the waist wider, or name the zip or the buttons under notions.",
        )
    if waist and zip_long and hips:
        opened = (waist.mm + 2 * zip_long) * garment.gives
        if opened < min(hips, chest or hips):
            yield (
                f"The waist, {show(waist.mm)} round, opens to {show(opened)} with its zip of {show(zip_long)}: the "
                f"hips of {show(hips)} do not pass.",
                "Make the zip longer.",
            )
    yield from _steps(garment, body)
    for piece in garment.sleeves:
        hand, cuff = body.get("hand_girth"), garment.end_of_sleeve(piece)
        if hand and cuff and cuff.shut and cuff.mm * garment.gives < hand:
            yield (
                f"Nothing opens at the end of “{piece.title}”, and it measures {show(cuff.mm)} round: a hand of "
                f"{show(hand)} does not pass.",
                "Make it wider, or draw a slit, placket or vent on the sleeve.",
            )


def _steps(garment: _AsSewn, body: Mapping[str, float]) -> Iterator[tuple[str, str]]:
    """Doubts about hems that a step or a foot must find room in."""
    show = garment.desk.show_length
    legs = None if garment.opens else garment.ring("hem", legs=True)
    foot = body.get("foot_length", 0.0) * HEEL
    if legs and legs.shut and legs.mm * garment.gives < foot:
        yield (
            f"The hem of the leg measures {show(legs.mm)} round, and nothing opens there: heel and instep of a foot "
            f"{show(body['foot_length'])} long need about {show(foot)}.",
            "Make it wider.",
        )
    down, hips, knee = garment.below_waist("hem"), body.get("hip_girth", 0.0), body.get("waist_to_knee", 0.0)
    if not (down and hips and knee) or down < knee - ABOVE_KNEE:
        return
    hem = garment.ring("hem")
    if hem is None or not hem.shut:
        return
    # From the knee to the floor it is some seven tenths of what lies between waist and knee (from memory).
    lower = min(max((down - knee) / (0.7 * knee), 0.0), 1.0)
    step = hips * (STEP_AT_KNEE + (STEP_AT_FLOOR - STEP_AT_KNEE) * lower)
    if hem.mm * garment.gives < step:
        yield (
            f"The hem measures {show(hem.mm)} round, {show(down)} below the waist, and nothing opens there: for a step "
            f"it should measure about {show(step)}.",
            "Widen the hem, or leave the lower end of a seam open for a vent.",
        )


class _AsSewn:
    """The pieces on the table as they are sewn together."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.gives = STRETCHES if desk.asked.gives else 1.0
        self.outside = [p for p in desk.table.pieces.values() if p.cut.cloth == "main" and not is_inside(p)]
        asked = desk.asked.seams
        self.paired = {name for s in asked if s.left_to_right for name in s.first}
        self.partly = {part.edge for s in asked for part in s.parts}
        self.sewn = {name for s in asked for name in (*s.first, *s.second)}
        self.seams = [
            SewnTogether(s.first, s.second, s.start) for s in asked if not s.whole and not s.left_to_right
        ]
        self.garment = Garment(desk.table.pieces, self.seams)
        self.opens = any(_CLOSURES.search(_NONE_OF.sub("", notion)) for notion in desk.asked.notions)

    @property
    def sleeves(self) -> list[Piece]:
        return [p for p in self.outside if "sleeve" in _words(p)]

    def ring(self, edge: str, *, legs: bool = False) -> _AllRound | None:
        """Round the body, or a leg, along the edges of a name; None where no piece has one, or they do not go round."""
        for piece in self.outside:
            if edge not in {e.name for e in piece.edges} or _APART & _words(piece) or legs != _is_leg(piece):
                continue
            return self._round(piece, edge, limb=legs)
        return None

    def end_of_sleeve(self, sleeve: Piece) -> _AllRound | None:
        """Round the end of a sleeve or the cuff on it; it opens where a button or a slit is drawn."""
        edge = next((e.name for e in sleeve.edges if e.name in ("hem", "wrist")), None)
        if (
            edge is None
            or any(_SLITS & set(_named(line.text)) for line in sleeve.lines)
            or _has_buttons(sleeve)
        ):
            return None
        found = self._round(sleeve, edge, limb=True)
        if found is None:
            return None
        for seam in self.seams:
            for one, other in ((seam.first, seam.second), (seam.second, seam.first)):
                if f"{sleeve.name}.{edge}" in one and len(other) == 1:
                    name, _, on_cuff = other[0].partition(".")
                    cuff = self.desk.table.pieces.get(name)
                    if cuff is None or _has_buttons(cuff):
                        return None
                    found = _AllRound(min(found.mm, sewn_length(cuff, on_cuff)), found.shut)
        return found

    def narrowest(self) -> float | None:
        """mm round the waist as the style has it measured; None where it does not."""
        found = [
            f.garment for f in self.desk.trace.finished if f.body is not None and "waist" in _named(f.name)
        ]
        return min(found, default=None)

    def zip_at(self, edge: str) -> float:
        """mm that a zip marked on a piece reaches down from an edge; 0 without one."""
        for piece in self.outside:
            marks = [m.at for m in piece.marks if m.kind == "end" and "zip" in m.text]
            edges = [e.path for e in piece.edges if e.name == edge]
            if marks and edges:
                return min(marks[0].distance(end) for end in (edges[0].start, edges[0].end))
        return 0.0

    def below_waist(self, edge: str) -> float | None:
        """mm from the waist, an edge or a point of a piece, down to its edge of a name; None where it is not known."""
        for piece in self.outside:
            ends = [e.path for e in piece.edges if e.name == edge]
            tops = [p.y for e in piece.edges if e.name == "waist" for p in (e.path.start, e.path.end)]
            tops += [
                p.y for name, p in piece.points.items() if name in ("cf_waist", "cb_waist", "waist_side")
            ]
            if ends and tops and not _APART & _words(piece):
                return max(ends[0].start.y, ends[0].end.y) - min(tops)
        return None

    def _round(self, piece: Piece, edge: str, *, limb: bool) -> _AllRound | None:
        try:
            (girth,) = self.garment.girth_at([GirthPlace(piece.name, edge=edge)], limb)
        except (PieceError, KeyError, ValueError):
            return None
        shut = girth.closed or all(self._is_shut(end) for end in girth.ends)
        names = {w.piece for w in girth.widths}
        return _AllRound(
            girth.mm, shut and not any(self._partly_open(self.desk.table.pieces[n], edge) for n in names)
        )

    def _is_shut(self, end: str) -> bool:
        piece, _, edge = end.partition(".")
        return self.desk.table.pieces[piece].edge(edge).fold or end in self.paired

    def _partly_open(self, piece: Piece, edge: str) -> bool:
        """Whether an edge that meets this one is sewn for a part only."""
        own = next((e.path for e in piece.edges if e.name == edge), None)
        if own is None:
            return False
        beside = [
            e.name
            for e in piece.edges
            if e.name != edge
            and min(a.distance(b) for a in (e.path.start, e.path.end) for b in (own.start, own.end)) < _ENDS
        ]
        return any(f"{piece.name}.{name}" in self.partly for name in beside)


def _words(piece: Piece) -> frozenset[str]:
    return frozenset(_named(f"{piece.name} {piece.title}"))


def _named(text: str) -> list[str]:
    return re.findall(r"[a-z]+", text.lower().replace("_", " "))


def _is_leg(piece: Piece) -> bool:
    return any("crotch" in e.name or "fork" in e.name or "inside" in e.name for e in piece.edges)


def _has_buttons(piece: Piece) -> bool:
    return any(m.kind in ("button", "buttonhole") for m in piece.marks)
