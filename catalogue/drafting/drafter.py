"""Drafting: a style worked out for a client, line by line, with what each step drew."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from dataclasses import replace

from catalogue.drafting import (
    words_blocks,
    words_checks,
    words_darts,
    words_finished,
    words_flow,
    words_fullness,
    words_lines,
    words_marks,
    words_moving,
    words_numbers,
    words_operations,
    words_parts_sewn,
    words_pieces,
    words_points,
    words_truing,
)
from catalogue.drafting.block_drafts import lay_out_blocks
from catalogue.drafting.budget import OutOfBudget
from catalogue.drafting.choosing import take_choices
from catalogue.drafting.desk import Desk
from catalogue.drafting.fitting_plan import Plan, fitting_plan, not_altered
from catalogue.drafting.fittings import carry_out_fittings, not_carried_out, told_apart
from catalogue.drafting.folds_told import tell_folds, tell_missing_folds
from catalogue.drafting.measured import measure_all
from catalogue.drafting.model import Draft, FittingDone
from catalogue.drafting.plausible import doubt_sizes
from catalogue.drafting.steps import as_drafted, carry_out_steps, desk_for
from catalogue.drafting.two_halves import two_halves
from catalogue.drafting.wearable import doubt_wearing
from catalogue.findings import Finding, Place
from catalogue.geometry import Path
from catalogue.pattern.allowance import cutting_line
from catalogue.people import Client
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style

WORD_ROOMS = (
    words_blocks,
    words_checks,
    words_darts,
    words_finished,
    words_flow,
    words_fullness,
    words_lines,
    words_marks,
    words_moving,
    words_numbers,
    words_operations,
    words_parts_sewn,
    words_pieces,
    words_points,
    words_truing,
)
"""Importing them registers the words."""


_MEANT_FOR = {
    "woman": {"women"},
    "man": {"men"},
    "girl": {"girls", "children"},
    "boy": {"boys", "children"},
    "child": {"children", "girls", "boys"},
}


def _folded(name: str) -> str:
    return " ".join(unicodedata.normalize("NFC", name).split()).casefold()


def suits(style: Style, client: Client) -> bool:
    """Whether a style is drafted for a client: it is meant for such a person, or the client ordered it.

    One that is reserved for clients is drafted for these alone, whatever others have in their files.
    """
    if style.reserved_for and client.slug:  # not anybody of a kind
        names = {_folded(name) for name in style.reserved_for}
        return not names.isdisjoint({_folded(client.name), client.slug})
    if not style.audience or style.slug in client.garments:
        return True
    return bool(_MEANT_FOR.get(client.kind, set()) & set(style.audience))


def draft_style(style: Style, client: Client, settings: Settings, *, pieces_alone: bool = False) -> Draft:
    """Draft a style for a client.

    Never raises for what a style or client file says: what is wrong is in the draft's findings, and what could be
    drawn before it is in the draft.

    Args:
        pieces_alone: only its pieces are asked for. Workings, cutting lines, seams walked, finished measurements, and
            which pieces each fitting changed may be left out.
    """
    measurements = {key: m.mm for key, m in client.measurements.items()}
    missing = style.missing_from(measurements)
    if missing or not style.ok or not client.ok_for(style.uses):
        found = (*style.findings, *client.findings_for(style.uses))
        return Draft(style, client, missing=missing, findings=found)
    plan = fitting_plan(style, client, settings)
    if not plan.is_sided and not any(key in style.uses for own in client.sides.values() for key in own):
        return _told_apart(style, client, settings, plan, pieces_alone)
    right, left = (
        _told_apart(style, client.as_measured_on(side), settings, plan.of_side(side), pieces_alone)
        for side in ("right", "left")
    )
    return two_halves(right, left)


def _told_apart(style: Style, client: Client, settings: Settings, plan: Plan, pieces_alone: bool) -> Draft:
    """The draft, and which of its pieces each fitting changed."""
    draw = _pieces if pieces_alone else _drafted
    plan, drafted = _that_can_follow(style, client, settings, plan, draw)

    def without(done: FittingDone) -> Draft:
        others = tuple(c for c in plan.corrections if (c.line.place, c.line.text) != done.key)
        free = tuple(f for f in plan.free if f.place != done.place)
        return _pieces(style, client, settings, replace(plan, corrections=others, free=free))

    return told_apart(drafted, without) if drafted.fittings and not pieces_alone else drafted


def _pieces(style: Style, client: Client, settings: Settings, plan: Plan) -> Draft:
    """The draft as far as its pieces go: see `draft_style`."""
    desk = desk_for(style, client)
    desk.trace.silent = True
    choices = take_choices(style, client, desk)
    lay_out_blocks(style, client, desk, plan)
    steps, rendered = carry_out_steps(style, desk)
    fittings = carry_out_fittings(style, desk, plan, steps)
    words_blocks.ask_for_blocks(desk)
    allow_for_seams(desk, settings)
    return as_drafted(style, client, desk, choices, steps, {}, rendered, fittings)


def _that_can_follow(
    style: Style, client: Client, settings: Settings, plan: Plan, draw: Callable[..., Draft]
) -> tuple[Plan, Draft]:
    """The plan without the fittings after which lines of the style fail, each of them reported, and its draft.

    What fails on the paper of a block is tried on the pieces of the garment itself before it is left out.
    """
    whole = draw(style, client, settings, plan)
    if not plan.corrections or not _errors(whole):
        return plan, whole
    kept = replace(plan, corrections=())
    known = _errors(_pieces(style, client, settings, kept))
    if _errors(_pieces(style, client, settings, plan)) <= known:
        return plan, whole
    for each in plan.corrections:
        wrong: set[Finding] = set()
        # One that has no place on this style makes nothing fail, and is reported with what it lacks.
        without_place = replace(kept, corrections=(*kept.corrections, each))
        for family in dict.fromkeys((each.family, frozenset({style.slug}))):
            with_it = replace(kept, corrections=(*kept.corrections, replace(each, family=family)))
            tried = _pieces(style, client, settings, with_it)
            found = _errors(tried) - known
            if not found and any(done.key == (each.line.place, each.line.text) for done in tried.fittings):
                kept = with_it
                break
            wrong = wrong or found
        else:
            if not wrong:
                kept = without_place
                continue
            first = min(wrong, key=lambda f: (f.place.line if f.place else 0, f.message))
            told = not_altered(
                each.line,
                f"“{each.alteration.title}” can't be made on “{style.title}”, whose lines don't follow it: "
                f"{first.message[:1].lower()}{first.message[1:].rstrip('.')}",
                hint="Draw it by lines of your own under a heading such as Correction of "
                f"{style.slug}, {each.line.day}.",
            )
            kept = replace(kept, findings=(*kept.findings, told))
    return kept, draw(style, client, settings, kept)


def _errors(draft: Draft) -> set[Finding]:
    return {f for f in draft.findings if f.is_error}


def _drafted(style: Style, client: Client, settings: Settings, plan: Plan) -> Draft:
    desk = desk_for(style, client)
    choices = take_choices(style, client, desk)
    lay_out_blocks(style, client, desk, plan)
    steps, rendered = carry_out_steps(style, desk)
    fittings = carry_out_fittings(style, desk, plan, steps)
    words_blocks.ask_for_blocks(desk)
    allow_for_seams(desk, settings)
    cut_lines = _cut(desk, style)
    tell_missing_folds(desk)
    words_checks.walk_seams(desk)
    measure_all(desk, style.garment, style.tags)
    below = [f for used in desk.blocks.on_hand.values() if used.drafted for f in used.drafted.draft.fittings]
    unaltered = (*plan.findings, *not_carried_out(style, plan, (*below, *fittings), desk))
    for name in doubt_sizes(desk, Place(style.file)):
        cut_lines.pop(name, None)
    body = {key: m.mm for key, m in client.measurements.items()}
    doubt_wearing(desk, style, body, Place(style.file))
    return as_drafted(style, client, desk, choices, steps, cut_lines, rendered, fittings, unaltered)


def allow_for_seams(desk: Desk, settings: Settings) -> None:
    """Give every edge its allowance: the style's own, or else the studio's."""
    if desk.asked.allowance is None and settings is not None:
        desk.asked.allowance = settings.seam_allowance
        desk.asked.allowances.setdefault("hem", settings.hem)
    desk.table.pieces = {n: words_pieces.with_allowances(p, desk) for n, p in desk.table.pieces.items()}


def _cut(desk: Desk, style: Style) -> dict[str, Path]:
    """The cutting lines, and a warning where an allowance has no room."""
    lines = {}
    for name, piece in desk.table.pieces.items():
        size = len(piece.outline.segments)
        try:
            desk.budget.spend(desk.budget.last, size * size + 30 * size)
        except OutOfBudget as trouble:
            desk.messages.findings.extend(trouble.findings)
            break
        cut = cutting_line(piece)
        lines[name] = cut.path
        if any(e.fold for e in piece.edges):
            tell_folds(piece, cut.path, Place(style.file), desk)
        if cut.remark:
            desk.messages.warn(
                "allowance-room",
                f"“{piece.title}”: {cut.remark}.",
                Place(style.file),
                f"At most {desk.show_length(cut.room)} fits there; it is drawn as far as there is room."
                if cut.room
                else "Make it narrower there; it is drawn as far as there is room.",
            )
    return lines
