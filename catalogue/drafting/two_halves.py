"""A draft for a body whose two halves differ: drafted once for each half, and put together piece by piece.

Each half alone is corrected, and both keep the middle of the body. What comes out alike stays a pair or on the fold.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from catalogue.drafting.model import Check, Draft, Finished, FittingDone, Seam
from catalogue.findings import Finding, Place, Severity
from catalogue.geometry import Path
from catalogue.lengths import show_length
from catalogue.pattern import Piece
from catalogue.pattern.allowance import cutting_line
from catalogue.pattern.seams import Match
from catalogue.pattern.two_sides import Halves, Hand, alike, halved

HANDS: tuple[Hand, ...] = ("right", "left")
SAME = 0.05
"""mm within which a measurement of the two halves counts as the same."""
_ROUND = ("girth", "round", "bust", "chest", "waist", "hip", "hem")
_OF_ONE = (
    "arm",
    "elbow",
    "wrist",
    "hand",
    "thigh",
    "knee",
    "calf",
    "ankle",
    "leg",
    "cuff",
    "sleeve",
    "length",
    "seam",
)


def two_halves(right: Draft, left: Draft) -> Draft:
    """One draft of the two that were made for the right and the left half of a body.

    Its steps are those of the right half. Pieces that differ become a right and a left one, or one whole piece where
    they lie on a fold; seams of such pieces are there for both halves.
    """
    findings = _findings(right, left)
    if right.pieces.keys() != left.pieces.keys():
        lacking = sorted(right.pieces.keys() ^ left.pieces.keys())
        told = _warning(
            f"The two halves of the body differ so much that “{lacking[0]}” is a piece of one half alone.",
            right,
            "The right half is drafted for both.",
        )
        return replace(right, findings=(*findings, told))
    made: dict[str, Halves] = {}
    pieces: dict[str, Piece] = {}
    cut_lines: dict[str, Path] = {}
    for name, piece in right.pieces.items():
        other = left.pieces[name]
        if alike(piece, other):
            pieces[name] = piece
            if name in right.cut_lines:
                cut_lines[name] = right.cut_lines[name]
            continue
        if not (piece.cut.on_fold or piece.cut.mirrored):
            larger = piece if _area(piece) >= _area(other) else other
            pieces[name], cut_lines[name] = larger, cutting_line(larger).path
            findings.append(
                _warning(
                    f"“{piece.title}” is one piece for both halves of the body, which differ.",
                    right,
                    "It is drawn for the larger half. Compare it with both before it is cut.",
                )
            )
            continue
        halves = made[name] = halved(piece, other)
        if halves.remark:
            findings.append(_warning(f"“{piece.title}”: {halves.remark}.", right))
        for each in halves.pieces:
            pieces[each.name] = each
            cut_lines[each.name] = cutting_line(each).path
    return replace(
        right,
        pieces=pieces,
        cut_lines=cut_lines,
        seams=tuple(_seams(right, left, made)),
        checks=tuple(_checks(right, left)),
        finished=tuple(_finished(right, left)),
        findings=tuple(findings),
        fittings=tuple(_fittings(right, left, made)),
        unaltered=tuple(dict.fromkeys((*right.unaltered, *left.unaltered))),
        halves=(right, left),
    )


def _area(piece: Piece) -> float:
    from catalogue.geometry import signed_area

    return signed_area(piece.outline)


def _findings(right: Draft, left: Draft) -> list[Finding]:
    return list(dict.fromkeys((*right.findings, *left.findings)))


def _warning(message: str, draft: Draft, hint: str = "") -> Finding:
    return Finding("two-halves", message, Place(draft.client.file), hint, Severity.WARNING)


def _seams(right: Draft, left: Draft, made: Mapping[str, Halves]) -> Iterator[Seam]:
    """Every seam; one that a piece with two halves is in, for both."""
    others = {(s.first, s.second): s for s in left.seams}
    for seam in right.seams:
        names = {edge.partition(".")[0] for edge in (*_edges(seam.first), *_edges(seam.second))}
        other = others.get((seam.first, seam.second))
        if other is None or not names & made.keys():
            yield seam
            continue
        yield _of_hand(seam, made, "right")
        yield _of_hand(other, made, "left")


def _edges(side: str) -> list[str]:
    return side.split(" and ")


def _called(edge: str, made: Mapping[str, Halves], hand: Hand) -> str:
    halves = made.get(edge.partition(".")[0])
    return edge if halves is None else halves.names[hand].get(edge, edge)


def _of_hand(seam: Seam, made: Mapping[str, Halves], hand: Hand) -> Seam:
    def named(side: str) -> str:
        return " and ".join(_called(edge, made, hand) for edge in _edges(side))

    def match(one: Match) -> Match:
        signs = []
        for sign in (one.first, one.second):
            halves = made.get(sign.edge.partition(".")[0]) if sign is not None else None
            if sign is None or halves is None:
                signs.append(sign)
            else:
                point = halves.moves[hand].apply(sign.point)
                signs.append(replace(sign, edge=_called(sign.edge, made, hand), point=point))
        return replace(one, first=signs[0], second=signs[1])

    return replace(
        seam,
        first=named(seam.first),
        second=named(seam.second),
        detail=f"{seam.detail}; {hand} half" if seam.detail else f"{hand} half",
        matches=tuple(match(m) for m in seam.matches),
        bends=tuple(
            replace(b, first=_called(b.first, made, hand), second=_called(b.second, made, hand))
            for b in seam.bends
        ),
    )


def _checks(right: Draft, left: Draft) -> Iterator[Check]:
    others = {(c.text, c.place): c for c in left.checks}
    for check in right.checks:
        other = others.get((check.text, check.place))
        if other is None or (other.ok, other.detail) == (check.ok, check.detail):
            yield check
        else:
            yield replace(check, text=f"{check.text} (right half)")
            yield replace(other, text=f"{other.text} (left half)")


def _finished(right: Draft, left: Draft) -> Iterator[Finished]:
    """Girths go round both halves; lengths and what goes round one limb are there for each."""
    units = right.client.units
    others = {(f.name, f.place): f for f in left.finished}
    for one in right.finished:
        other = others.get((one.name, one.place))
        if other is None or abs(one.garment - other.garment) <= SAME:
            yield one
        elif _goes_round(one.name):
            half, far = (show_length(each.garment / 2, units) for each in (one, other))
            both = f"right half {half}, left half {far}"
            yield replace(
                one,
                garment=(one.garment + other.garment) / 2,
                ok=one.ok and other.ok,
                detail=f"{one.detail}; {both}" if one.detail else both,
            )
        else:
            yield replace(one, name=f"{one.name} right")
            yield replace(other, name=f"{other.name} left")


def _goes_round(name: str) -> bool:
    words = name.replace("_", " ").casefold().split()
    return any(w in _ROUND for w in words) and not any(w in _OF_ONE for w in words)


def _fittings(right: Draft, left: Draft, made: Mapping[str, Halves]) -> Iterator[FittingDone]:
    """What was carried out on either half, in order, with the pieces by the names they have now."""
    drafts: dict[Hand, Draft] = {"right": right, "left": left}
    of = {hand: {f.key: f for f in draft.fittings} for hand, draft in drafts.items()}
    keys = list(dict.fromkeys([*of["right"], *of["left"]]))
    every = {**of["left"], **of["right"]}
    for key in sorted(keys, key=lambda k: every[k].date):
        names: list[str] = []
        for hand in HANDS:
            if key not in of[hand]:
                continue
            for name in of[hand][key].pieces:
                halves = made.get(name)
                if halves is None:
                    names.append(name)
                elif len(halves.pieces) == 1:
                    names.append(halves.pieces[0].name)
                else:
                    names.append(halves.pieces[HANDS.index(hand)].name)
        yield replace(every[key], pieces=tuple(dict.fromkeys(names)))
