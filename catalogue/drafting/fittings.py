"""Fittings carried out: what was pinned on the body goes into the pieces, after a style's last line or a block's."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import replace
from itertools import chain

from catalogue.days import day_shown
from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import do_lines
from catalogue.drafting.finished_wanted import FinishedWanted
from catalogue.drafting.fitting_follow import (
    follow_names,
    meet_again,
    points_kept_on_edges,
    strips_follow,
    traced_follow,
)
from catalogue.drafting.fitting_plan import NOT_ALTERED, Correction, Plan, not_altered
from catalogue.drafting.landmarks import Landmarked, is_there, landmarked, missing
from catalogue.drafting.model import Draft, EdgeMoved, FittingDone, Step
from catalogue.drafting.trace import Trace
from catalogue.findings import Finding, Severity
from catalogue.geometry import Point
from catalogue.language.parser import parse_block
from catalogue.language.values import Quantity
from catalogue.pattern import Piece
from catalogue.pattern.measure import sewn_length
from catalogue.pattern.two_sides import alike
from catalogue.people.fittings import FreeCorrection
from catalogue.studio.alterations import Alteration, AlterationStep
from catalogue.studio.style import Style

SAME = 0.01
"""mm: an edge whose length changes by less was not changed."""

SOME = 3
"""Missing landmarks that are named."""

FITTING = "Fitting"
"""The section of the steps in which fittings are carried out."""

FREE = "correction"
"""What `draft.json` calls drafting lines of a client's own."""


def carry_out_fittings(style: Style, desk: Desk, plan: Plan, steps: list[Step]) -> tuple[FittingDone, ...]:
    """Carry out, on the pieces as they lie on the desk, what the plan asks of this style; each is a step of its own.

    What was carried out on a block of the style already is left out, and what lacks its landmarks here too.
    """
    done: list[FittingDone] = []
    before = {
        each.key
        for used in desk.blocks.on_hand.values()
        if used.drafted
        for each in used.drafted.draft.fittings
    }
    for each in plan.corrections:
        if style.slug in each.family and (each.line.place, each.line.text) not in before:
            made = _alter(style, desk, each, steps)
            if made is not None:
                done.append(made)
    for free in plan.free:
        if free.garment == style.slug:
            made = _by_own_lines(style, desk, free, steps)
            if made is not None:
                done.append(made)
    if done or before:
        # A formula that says what the garment measures was written without it.
        desk.asked.finished = [
            replace(
                wanted, claimed=None, most=None, fitted=True, meant=None not in (wanted.least, wanted.most)
            )
            if wanted.levels or wanted.stretches
            else wanted
            for wanted in desk.asked.finished
        ]
    return tuple(done)


def not_carried_out(style: Style, plan: Plan, done: Collection[FittingDone], desk: Desk) -> list[Finding]:
    """The lines about this garment that found no place, told with the landmarks that are missing."""
    carried = {each.key for each in done}
    findings = []
    for each in plan.corrections:
        if each.line.garment != style.slug or (each.line.place, each.line.text) in carried:
            continue
        if any(f.place == each.line.place for f in desk.messages.findings):
            continue
        lacking = _lacking(each, landmarked(desk.table.pieces, style.landmarks))
        first = [f"“{name}”" for name in lacking[:SOME]]
        more = f", nor {len(lacking) - SOME} more that it needs" if len(lacking) > SOME else ""
        listed = (
            f"{', '.join(first[:-1])} or {first[-1]}"
            if len(first) > 1
            else first[0]
            if first
            else "place for it"
        )
        findings.append(
            not_altered(
                each.line,
                f"“{each.alteration.title}” can't be made on “{style.title}”, which has no {listed}{more}",
                hint=f"{each.alteration.otherwise} Where the style's file has it under another name, write there, at "
                f"the top under landmarks:, {lacking[0] if lacking else 'back.centre'}: and that name.".lstrip(),
            )
        )
    return findings


def _lacking(each: Correction, pieces: Mapping[str, Landmarked]) -> tuple[str, ...]:
    """The landmarks that its steps lack, without those steps that are for another kind of garment.

    A step that needs what a step beside it says must not be there is for one that has it.
    """
    required = [s for s in each.alteration.steps if not s.optional] or list(each.alteration.steps)
    barred = {name for step in required for name in step.without}
    lacking = [missing(s.landmarks, pieces) for s in required if not s.follows and not _is_barred(s, pieces)]
    of_this_kind = [names for names in lacking if barred.isdisjoint(names)]
    return tuple(dict.fromkeys(chain.from_iterable(of_this_kind or lacking)))


def _alter(style: Style, desk: Desk, each: Correction, steps: list[Step]) -> FittingDone | None:
    """One alteration on all pieces that have its landmarks; None where there are none, or where it failed."""
    known = landmarked(desk.table.pieces, style.landmarks)
    wanted = steps_for(each.alteration, known)
    if not wanted:
        return None
    own = {
        node.name.text
        for step in wanted
        for line in step.statements
        for node in line.walk()
        if node.word in ("define", "find")
    }
    known = {name: _aside(one, own) for name, one in known.items()}
    twin = _twin(desk, {name: one.piece for name, one in known.items()}, each.amount)
    twin.messages.source_line = lambda place: each.alteration.source_line(place.line)
    for step in wanted:
        do_lines(step.statements, twin)
    _settle(desk, twin)
    wrong = next((f for f in twin.messages.findings if f.is_error), None)
    if wrong is not None:
        desk.messages.findings.append(
            not_altered(
                each.line,
                f"“{each.alteration.title}” can't be made here: {_lower(wrong.message)}",
                hint=wrong.hint,
            )
        )
        return None
    altered = {
        one.own.name: _returned(one.given_back(twin.table.pieces[name]))
        for name, one in known.items()
        if name in twin.table.pieces and twin.table.pieces[name] != one.piece
    }
    if not altered:
        return None
    amount = desk.show_length(each.amount)
    words = f"{each.alteration.title}{_of_side(each.side)}, {amount}"
    remark = ""
    if each.out_of_turn:
        remark = (
            f"Carried out before what was written above it: in the trade {_TURN_WORDS[each.alteration.turn]}."
        )
    return _put(
        desk,
        altered,
        steps,
        twin.trace,
        words,
        FittingDone(
            each.line.date,
            each.alteration.slug,
            each.alteration.title,
            each.amount,
            each.side,
            "block" if _is_of_block(each, style) else "garment",
            style.slug,
            each.line.garment,
            each.line.text,
            each.line.seen,
            each.line.place,
            follows=each.alteration.follows,
            remark=remark,
        ),
    )


def steps_for(alteration: Alteration, known: Mapping[str, Landmarked]) -> list[AlterationStep]:
    """The steps of an alteration that these pieces have the landmarks for; none where it can't be made on them."""
    wanted = [step for step in alteration.steps if _applies(step, known)]
    required = [step for step in alteration.steps if not step.optional]
    if all(step.follows for step in wanted) or any(
        step not in wanted and not _is_barred(step, known) for step in required
    ):
        return []
    return wanted


ASIDE = " of the piece"
"""Behind the name of a point of a piece that the alteration gives to something of its own: no name holds a blank."""


def _aside(one: Landmarked, names: set[str]) -> Landmarked:
    """The piece with those of its points called otherwise that the alteration's own names would be taken for."""
    points = one.piece.points
    if names.isdisjoint(points):
        return one
    kept = {f"{n}{ASIDE}" if n in names else n: p for n, p in points.items()}
    return replace(one, piece=one.piece.with_changes(points=kept))


def _returned(piece: Piece) -> Piece:
    points = {n.removesuffix(ASIDE): p for n, p in piece.points.items()}
    return piece.with_changes(points=points)


_TURN_WORDS = {
    "length": "changes of length come first",
    "shoulder": "the shoulders come before bust and width",
    "bust": "the bust comes before the rest",
    "rest": "it comes last",
}


def _is_of_block(each: Correction, style: Style) -> bool:
    return not each.stays and (style.is_a_block or style.slug != each.line.garment)


def _applies(step: AlterationStep, pieces: Mapping[str, Landmarked]) -> bool:
    return all(is_there(name, pieces) for name in step.landmarks) and not _is_barred(step, pieces)


def _is_barred(step: AlterationStep, pieces: Mapping[str, Landmarked]) -> bool:
    return any(is_there(name, pieces) for name in step.without)


def _of_side(side: str) -> str:
    return "" if side == "both" else f", {side} side"


def _lower(message: str) -> str:
    return message[:1].lower() + message[1:].rstrip(".")


def _by_own_lines(style: Style, desk: Desk, free: FreeCorrection, steps: list[Step]) -> FittingDone | None:
    """Drafting lines of the client's own, on the garment's pieces under their own names."""
    file = free.place.file
    nodes, findings = parse_block(free.source, file, free.line)
    told = f"Correction of {free.day}"
    rows = free.source.split("\n")
    twin = _twin(desk, dict(desk.table.pieces), None)
    twin.messages.source_line = lambda place: (
        rows[place.line - free.line] if 0 <= place.line - free.line < len(rows) else ""
    )
    if not findings:
        do_lines(nodes, twin)
    _settle(desk, twin)
    wrong = next((f for f in (*findings, *twin.messages.findings) if f.is_error), None)
    gone = next((name for name in desk.table.pieces if name not in twin.table.pieces), None)
    if wrong is None and gone is not None:
        wrong = Finding(
            "cut-up",
            f"The piece “{gone}” must stay one piece: a correction changes pieces and makes no others.",
            free.place,
        )
    if wrong is not None:
        desk.messages.findings.append(not_altered_by_lines(free, wrong))
        return None
    altered = {
        n: p for n, p in twin.table.pieces.items() if n in desk.table.pieces and p != desk.table.pieces[n]
    }
    return _put(
        desk,
        altered,
        steps,
        twin.trace,
        told,
        FittingDone(
            free.date,
            FREE,
            "Correction in the client's file",
            0.0,
            "both",
            "block" if style.is_a_block else "garment",
            style.slug,
            style.slug,
            free.source.strip(),
            free.prose,
            free.place,
        ),
    )


def not_altered_by_lines(free: FreeCorrection, wrong: Finding) -> Finding:
    """That a client's own drafting lines were not carried out, and why."""
    return Finding(
        NOT_ALTERED,
        f"Not altered: {_lower(wrong.message)} (correction of {free.day}).",
        wrong.place or free.place,
        wrong.hint,
        Severity.WARNING,
        wrong.source,
    )


def _twin(desk: Desk, pieces: dict[str, Piece], amount: float | None) -> Desk:
    """A desk with these pieces on it and nothing else known but the body and the amount."""
    twin = desk.twin()
    twin.messages.findings = []
    twin.trace = twin.table.trace = twin.names.trace = Trace(silent=desk.trace.silent)
    twin.trace.begin(1)
    twin.table.pieces = pieces
    twin.table.paper_of = {}
    twin.table.broken = set()
    twin.table.block_names = frozenset()
    twin.table.empty_darts = {}
    if amount is not None:
        twin.names.values = {"amount": Quantity(amount, 1)}
        twin.names.given_at, twin.names.broken = {}, set()
    return twin


def _settle(desk: Desk, twin: Desk) -> None:
    """Count the work that was done on the other desk."""
    desk.budget.spend(desk.budget.last, twin.budget.spent - desk.budget.spent)


def _put(
    desk: Desk,
    altered: Mapping[str, Piece],
    steps: list[Step],
    trace: Trace,
    words: str,
    done: FittingDone,
) -> FittingDone:
    """Lay the altered pieces on the table in a step of their own."""
    number = max((step.number for step in steps), default=0) + 1
    desk.trace.begin(number)
    altered = {n: points_kept_on_edges(desk.table.pieces[n], p) for n, p in altered.items()}
    altered = traced_follow(desk.table.traced, desk.table.pieces, altered)
    for follow in (strips_follow, meet_again):
        altered = follow(desk.asked.seams, desk.table.pieces, {**desk.table.pieces, **altered}, altered)
    before = {name: desk.table.pieces[name] for name in altered}
    done = replace(done, mark=f"Fitting of {day_shown(done.date, desk.messages.units.dates)}: {words}.")
    papers = []
    for name, piece in altered.items():
        follow_names(desk, before[name], piece)
        desk.asked.finished = [_following(wanted, before[name], piece) for wanted in desk.asked.finished]
        desk.table.put(piece.with_changes(operations=(*before[name].operations, done.mark)))
        papers.append(desk.table.paper_of[name])
    steps.append(
        Step(
            number,
            words,
            FITTING,
            papers[0] if papers else desk.table.paper,
            tuple(trace.workings),
            done.place,
            tuple(trace.operations),
            tuple(dict.fromkeys(papers)),
        )
    )
    return replace(
        done,
        pieces=tuple(altered),
        before=tuple(before.values()),
        after=tuple(desk.table.pieces[name] for name in altered),
        edges=tuple(_moved(before, altered)),
        operations=tuple(trace.operations),
    )


def _following(wanted: FinishedWanted, before: Piece, after: Piece) -> FinishedWanted:
    """What is to be measured, at points of the piece where they are now."""

    def now(at: Point | None) -> Point | None:
        name = next((n for n, p in before.points.items() if at is not None and p.distance(at) < SAME), None)
        return after.points.get(name, at) if name is not None else at

    if not any(level.piece == before.name for level in wanted.levels) and not any(
        stretch.piece == before.name for stretch in wanted.stretches
    ):
        return wanted
    return replace(
        wanted,
        levels=tuple(
            replace(level, at=now(level.at)) if level.piece == before.name else level
            for level in wanted.levels
        ),
        stretches=tuple(
            replace(s, start=now(s.start), end=now(s.end)) if s.piece == before.name else s
            for s in wanted.stretches
        ),
    )


def _moved(before: Mapping[str, Piece], after: Mapping[str, Piece]) -> list[EdgeMoved]:
    found = []
    for name, piece in before.items():
        for edge in piece.edges:
            if not any(e.name == edge.name for e in after[name].edges):
                continue
            was, now = sewn_length(piece, edge.name), sewn_length(after[name], edge.name)
            if abs(was - now) > SAME:
                found.append(EdgeMoved(name, edge.name, was, now))
    return found


def in_this_draft(done: Sequence[FittingDone], pieces: Mapping[str, Piece]) -> tuple[FittingDone, ...]:
    """Fittings of the blocks with the pieces of a style cut from them that they are written on; there may be none."""
    return tuple(
        replace(each, pieces=tuple(n for n, p in pieces.items() if each.mark in p.operations))
        for each in done
    )


NOT_IN_IT = "It is not in this garment: nothing of what it changed on the block was taken over."


def told_apart(draft: Draft, without: Callable[[FittingDone], Draft]) -> Draft:
    """The draft with the pieces named that fittings of its blocks changed though they are not written on them.

    Such a piece was drawn anew along what was taken; it is found by drafting once more without the fitting.
    """
    found = []
    for each in draft.fittings:
        if each.on != draft.style.slug:
            other = without(each)
            names = tuple(
                n
                for n, p in draft.pieces.items()
                if n in each.pieces or n not in other.pieces or not alike(p, other.pieces[n])
            )
            each = replace(each, pieces=names, remark=each.remark if names else NOT_IN_IT)
        found.append(each)
    return replace(draft, fittings=tuple(found))
