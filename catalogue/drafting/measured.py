"""Finished measurements, taken off the pieces once they are as they will be cut, and the verdict on their ease."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from catalogue.drafting.desk import Desk
from catalogue.drafting.finished_wanted import EdgeStretch, FinishedWanted, Level
from catalogue.drafting.model import Finished
from catalogue.drafting.usual_ease import Usual, usual_ease
from catalogue.findings import Place
from catalogue.geometry import Path, Point, contains
from catalogue.language.wording import in_words
from catalogue.pattern import InnerLine, Piece, girths
from catalogue.pattern.girths import Garment, Girth, length_along
from catalogue.pattern.making import PieceError
from catalogue.pattern.partners import SewnTogether, is_inside

GIVING = frozenset({"knit", "knits", "laced"})
"""Tags of a style whose garment may measure less round than the body in it."""

CLAIM = 6.35
"""mm by which a formula may differ from what the pieces measure all round: books that work by tables of parts agree
with arithmetic within 1/16 in (Vincent, Systems), and four quarters make a quarter of an inch."""

LIMBS = ("arm", "elbow", "wrist", "hand", "thigh", "knee", "calf", "ankle", "leg", "cuff", "sleeve")
"""Words of a measurement that goes round an arm or a leg."""

_LEVELS = {"bust_girth": ("bust_point",), "waist_girth": (), "hip_girth": ("cf_hip", "centre_hip", "cb_hip")}
_MIDDLES = ("centre", "center", "middle", "front_edge", "opening", "cf", "cb")
_STRIPS = ("band", "cuff", "collar", "stand", "ribbon")


@dataclass(frozen=True, slots=True)
class Taken:
    """What was measured: mm, and how, in words."""

    mm: float
    how: str


def measure_all(desk: Desk, garment: str, tags: Collection[str]) -> None:
    """Measure what the style's finished lines ask for, and judge it; what can't be measured is a finding.

    After an error nothing is measured: what comes out wrong on pieces that are not finished only follows from it. A
    seam that is no longer there leaves the pieces whole, and its line and the finished one must both be moved.
    """
    if any(f.is_error and f.code != "seam-gone" for f in desk.messages.findings):
        return
    whole = Garment(dict(desk.table.pieces), _seams(desk))
    for wanted in desk.asked.finished:
        try:
            taken = _fitted(wanted, whole, desk) if wanted.fitted else _taken(wanted, whole, desk)
        except PieceError as error:
            if wanted.block:
                continue  # It was stated for the block's own pieces.
            desk.messages.findings.extend(
                desk.trouble(
                    "cannot-be-measured",
                    f"The finished {in_words(wanted.name)} can't be measured: {error.message}.",
                    wanted.place,
                    error.hint,
                ).findings
            )
            if wanted.claimed is None:
                continue
            taken = None
        desk.trace.finished.append(_judged(wanted, taken, whole, desk, garment, tags))


BESIDE = (0.0, 1.5, 4.0)
"""mm that a level may be measured lower on a piece that was altered: a corner of it may now be a peak."""


def _fitted(wanted: FinishedWanted, whole: Garment, desk: Desk) -> Taken | None:
    """As `_taken`, on pieces that a fitting changed. Raises PieceError where no level beside can be measured either."""
    for n, down in enumerate(BESIDE):
        levels = tuple(
            replace(level, at=_lower(level, down, desk)) if down and level.piece else level
            for level in wanted.levels
        )
        try:
            return _taken(replace(wanted, levels=levels), whole, desk)
        except PieceError:
            if n == len(BESIDE) - 1:
                raise
    return None


def _lower(level: Level, down: float, desk: Desk) -> Point | None:
    """A point in the middle of the piece, so much lower than the one that the level was said by."""
    piece = desk.table.pieces.get(level.piece)
    if piece is None or level.edge:
        return level.at
    at = level.at if level.at is not None else piece.points.get(level.text.rpartition(".")[2])
    box = piece.outline.bounds()
    return None if at is None else Point((box.left + box.right) / 2, at.y + down)


def _taken(wanted: FinishedWanted, whole: Garment, desk: Desk) -> Taken | None:
    if wanted.stretches:
        return _along(wanted.stretches, desk)
    if wanted.levels:
        found = _round(wanted, wanted.levels, whole, desk)
        paired = {name for seam in desk.asked.seams if seam.left_to_right for name in seam.first}
        for end in (e for girth in found for e in girth.loose_ends if e not in paired):
            if wanted.block:
                raise PieceError("it goes round pieces of the block that were not taken")
            desk.messages.warn(
                "level-ends",
                f"The level of the finished {in_words(wanted.name)} ends at the {in_words(end.partition('.')[2])} of "
                f"“{desk.table.pieces[end.partition('.')[0]].title}”, which nothing is sewn to.",
                wanted.place,
                f"Declare the seam: sew {end} to …",
            )
        mm = sum(g.mm for g in found) - wanted.overlap
        return Taken(mm, _how(found, wanted.overlap, desk))
    return None


def _round(wanted: FinishedWanted, levels: Sequence[Level], whole: Garment, desk: Desk) -> tuple[Girth, ...]:
    pieces = dict(whole.pieces)
    places = [place for level in levels for place in _places(level, pieces, desk)]
    # Pieces on which a level was drawn are measured by themselves.
    measured = whole if pieces == whole.pieces else Garment(pieces, whole.partners.seams)
    return measured.girth_at(places, _is_limb(wanted))


def _seams(desk: Desk) -> list[SewnTogether]:
    asked = [s for s in desk.asked.seams if not s.whole and not s.left_to_right]
    return [SewnTogether(s.first, s.second, s.start) for s in asked]


def _is_limb(wanted: FinishedWanted) -> bool | None:
    """Whether it goes round an arm or a leg: by what it is compared with, or by its name; None where neither says."""
    if wanted.measurement is not None:
        return any(word in LIMBS for word in wanted.measurement.name.split())
    return True if any(word in LIMBS for word in wanted.name.lower().split()) else None


def _places(level: Level, pieces: dict[str, Piece], desk: Desk) -> list[girths.GirthPlace]:
    """Where a level lies on the pieces as they are now; a line is drawn on them, so that it is followed."""
    if level.edge:
        piece = _still(level, pieces)
        if not any(e.name == level.edge for e in piece.edges):
            raise _gone(level)
        return [girths.GirthPlace(level.piece, edge=level.edge, depth=level.depth)]
    if level.line is not None:
        return _on_line(level.line, level, pieces, desk)
    if level.piece:
        piece = _still(level, pieces)
        at = level.at if level.at is not None else piece.points.get(level.text.rpartition(".")[2])
        if at is None:
            raise _gone(level)
        return [girths.GirthPlace(level.piece, at)]
    on = [p for p in pieces.values() if level.text in p.points and p.cut.cloth == "main" and not is_inside(p)]
    if not on:
        raise PieceError(
            f"no piece of the outside has the point “{level.text}”",
            "Name a point of a piece: front.bust_point.",
        )
    return [girths.GirthPlace(on[0].name, on[0].points[level.text])]


def _on_line(line: Path, level: Level, pieces: dict[str, Piece], desk: Desk) -> list[girths.GirthPlace]:
    paper = desk.names.paper_of.get(level.text)
    middle = line.point_at(line.length / 2)
    found = []
    for name, piece in pieces.items():
        same = paper is None or desk.table.paper_of.get(name) == paper
        if (
            same
            and piece.cut.cloth == "main"
            and not is_inside(piece)
            and contains(piece.outline, middle, 0.5)
        ):
            pieces[name] = replace(piece, lines=(*piece.lines, InnerLine(line, "guide", "level")))
            found.append(girths.GirthPlace(name, middle))
    if not found:
        raise PieceError(
            f"the line “{level.text}” lies on no piece", "Draw it on a piece, or name a point of one."
        )
    return found


def _still(level: Level, pieces: dict[str, Piece]) -> Piece:
    if level.piece not in pieces:
        raise _gone(level)
    return pieces[level.piece]


def _gone(level: Level) -> PieceError:
    return PieceError(
        f"“{level.text}” is no longer there",
        "Move this line below the last one that cuts or joins these pieces.",
    )


def _along(stretches: Sequence[EdgeStretch], desk: Desk) -> Taken:
    total, told = 0.0, []
    for stretch in stretches:
        if stretch.piece not in desk.table.pieces:
            raise PieceError(
                f"“{stretch.piece}” is no longer there",
                "Move this line below the last one that cuts or joins it.",
            )
        piece = desk.table.pieces[stretch.piece]
        try:
            mm = length_along(piece, stretch.edge, stretch.start, stretch.end)
        except KeyError:
            raise PieceError(f"“{piece.title}” has no edge “{stretch.edge}” any more") from None
        total += mm
        told.append(f"{piece.title} {desk.show_length(mm)}")
    return Taken(total, f"measured: {_listed(told)}" if len(told) > 1 else "")


def _how(found: Sequence[Girth], overlap: float, desk: Desk) -> str:
    """How a girth comes about: “measured: twice Skirt front 24 cm and Skirt back 26 cm”."""
    told = []
    for girth in found:
        times = {1: "", 2: "twice "}.get(girth.times, f"{girth.times} times ")
        told.append(times + _listed([f"{w.title} {desk.show_length(w.mm)}" for w in girth.widths]))
    less = f", less {desk.show_length(overlap)} that laps over" if overlap else ""
    return f"measured: {', '.join(told)}{less}"


def _listed(items: Sequence[str]) -> str:
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} and {items[-1]}"


def _judged(
    wanted: FinishedWanted,
    taken: Taken | None,
    whole: Garment,
    desk: Desk,
    garment: str,
    tags: Collection[str],
) -> Finished:
    mm = taken.mm if taken is not None else wanted.claimed
    assert mm is not None
    ok, told = True, []
    body, measurement = wanted.body, wanted.measurement
    if body is not None:
        ease = mm - body
        ok, detail = _ease_verdict(wanted, ease, desk)
        if ease < -0.5 and not desk.asked.gives and measurement is not None and measurement.kind == "girth":
            ok = False
            detail = (
                f"it can't close: {desk.show_length(-ease)} less than the body, and woven cloth does not give. "
                "If it is a knit or laced, add that to the style's tags."
            )
        told.append(detail)
        usual = None if measurement is None else usual_ease(garment, tags, measurement.key)
        if ok and usual is not None:
            _warn_unusual(wanted, ease, usual, desk)
    if taken is not None and taken.how:
        told.append(taken.how)
    if taken is not None and wanted.claimed is not None and abs(wanted.claimed - taken.mm) > CLAIM:
        ok = False
        told.append(
            f"the formula says {desk.show_length(wanted.claimed)}, the pieces measure {desk.show_length(taken.mm)}: "
            f"{_apart(taken.mm - wanted.claimed, desk)}"
        )
    if taken is None and wanted.claimed is not None:
        _warn_claimed(wanted, whole, desk)
    return Finished(
        wanted.name,
        mm,
        body,
        ok,
        "; ".join(t for t in told if t),
        wanted.place,
        wanted.claimed,
        taken is not None,
        wanted.block,
    )


def _apart(off: float, desk: Desk) -> str:
    return f"{desk.show_length(abs(off))} {'more' if off > 0 else 'less'}"


def _ease_verdict(wanted: FinishedWanted, ease: float, desk: Desk) -> tuple[bool, str]:
    """Whether the ease is what the style wants, and that in words."""
    detail = f"ease {desk.show_length(ease)}"
    least, most = wanted.least, wanted.most
    if least is None:
        return True, detail
    if most is None:
        return ease >= least - 0.5, f"{detail}; expected at least {desk.show_length(least)}"
    ok = least - 0.5 <= ease <= most + 0.5
    return ok, f"{detail}; expected {desk.show_length(least)} to {desk.show_length(most)}"


def _warn_unusual(wanted: FinishedWanted, ease: float, usual: Usual, desk: Desk) -> None:
    """Ease that is not usual, unless the style states both of its limits."""
    if wanted.meant or (wanted.least is not None and wanted.most is not None):
        return
    if wanted.fitted and ease > usual.least:
        return
    if usual.least - 0.5 <= ease <= usual.most + 0.5:
        return
    much = "more" if ease > usual.most else "less"
    if usual.least == usual.most:
        common = desk.show_length(usual.least)
    elif usual.most == float("inf"):
        common = f"at least {desk.show_length(usual.least)}"
    elif usual.least == -float("inf"):
        common = f"at most {desk.show_length(usual.most)}"
    else:
        common = f"{desk.show_length(usual.least)} to {desk.show_length(usual.most)}"
    low = min(ease, usual.least) if wanted.least is None else wanted.least
    high = max(ease, usual.least if usual.most == float("inf") else usual.most)
    desk.messages.warn(
        "unusual-ease",
        f"The finished {in_words(wanted.name)} has {desk.show_length(ease)} of ease, {much} than is usual for "
        f"{usual.words}: {common}.",
        wanted.place,
        f"If it is meant, state both limits: ease {desk.show_length(low)} to {desk.show_length(high)}",
    )


def _warn_claimed(wanted: FinishedWanted, whole: Garment, desk: Desk) -> None:
    """A formula alone, where the pieces show the level that a body measurement is known by and measure otherwise."""
    if wanted.measurement is None or wanted.claimed is None:
        return
    level = _known_level(wanted.measurement.key, desk)
    if level is None:
        return
    try:
        found = _round(wanted, (level,), whole, desk)
    except PieceError:
        return
    if not all(g.closed or all(_is_middle(end, desk) for end in g.ends) for g in found):
        return
    mm = sum(g.mm for g in found)
    if abs(mm - wanted.claimed) > CLAIM:
        desk.messages.warn(
            "measures-otherwise",
            f"The formula of the finished {in_words(wanted.name)} says {desk.show_length(wanted.claimed)}; at "
            f"{level.text} the pieces measure {desk.show_length(mm)}, {_apart(mm - wanted.claimed, desk)}.",
            wanted.place,
            f"Have it measured: finished {wanted.name} measured at {level.text}",
        )


def _is_middle(end: str, desk: Desk) -> bool:
    """Whether an edge lies at the middle of the body: on a fold, sewn left to right, or by its name; a part of a
    garment ends elsewhere."""
    if any(end in seam.first for seam in desk.asked.seams if seam.left_to_right):
        return True
    piece, _, name = end.partition(".")
    return desk.table.pieces[piece].edge(name).fold or any(word in name for word in _MIDDLES)


def _known_level(key: str, desk: Desk) -> Level | None:
    """The level that a body measurement is known by, on the pieces of the outside: the waist edge, the bust point."""
    outside = [
        p
        for p in desk.table.pieces.values()
        if p.cut.cloth == "main" and not is_inside(p) and not any(s in p.name for s in _STRIPS)
    ]
    if key == "waist_girth":
        for piece in outside:
            if any(e.name == "waist" for e in piece.edges):
                return Level(f"{piece.name}.waist", Place(""), piece.name, edge="waist")
    for name in _LEVELS.get(key, ()):
        for piece in outside:
            if name in piece.points:
                return Level(f"{piece.name}.{name}", Place(""), piece.name, piece.points[name])
    return None
