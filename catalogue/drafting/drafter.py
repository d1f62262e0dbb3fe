"""Drafting: a style worked out for a client, line by line, with what each step drew."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from dataclasses import replace
from enum import Enum

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
from catalogue.drafting.block_drafts import depends_on, lay_out_blocks
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


class Extent(Enum):
    """How far a draft is made."""

    WHOLE = "whole"
    JUDGED = "judged"
    """As far as all that may be wrong with it: workings, and which pieces each fitting changed, may be left out."""
    PIECES = "pieces"
    """As far as its pieces: cutting lines, seams walked and finished measurements may be left out too."""


def draft_style(style: Style, client: Client, settings: Settings, extent: Extent = Extent.WHOLE) -> Draft:
    """Draft a style for a client, as far as is asked for.

    Never raises for what a style or client file says: what is wrong is in the draft's findings, and what could be
    drawn before it is in the draft.
    """
    measurements = {key: m.mm for key, m in client.measurements.items()}
    missing = style.missing_from(measurements)
    if missing or not style.ok or not client.ok_for(style.uses):
        found = (*style.findings, *client.findings_for(style.uses))
        return Draft(style, client, missing=missing, findings=found, notions=style.notions_in_words)
    plan = fitting_plan(style, client, settings)
    if not plan.is_sided and not any(key in style.uses for own in client.sides.values() for key in own):
        return _told_apart(style, client, settings, plan, extent)
    right, left = (
        _told_apart(style, client.as_measured_on(side), settings, plan.of_side(side), extent)
        for side in ("right", "left")
    )
    return two_halves(right, left)


def _told_apart(style: Style, client: Client, settings: Settings, plan: Plan, extent: Extent) -> Draft:
    """The draft, and which of its pieces each fitting changed."""
    if extent is Extent.PIECES and not plan.corrections:
        return replace(_LATELY.pieces(style, client, settings, plan), client=client)
    draw = {Extent.WHOLE: _drafted, Extent.JUDGED: _judged, Extent.PIECES: _pieces}[extent]
    plan, drafted = _that_can_follow(style, client, settings, plan, draw)
    if not drafted.fittings or extent is not Extent.WHOLE:
        return drafted
    _LATELY.keep(style, client, settings, plan, drafted)

    def without(done: FittingDone) -> Draft:
        others = tuple(c for c in plan.corrections if (c.line.place, c.line.text) != done.key)
        free = tuple(f for f in plan.free if f.place != done.place)
        return _LATELY.pieces(style, client, settings, replace(plan, corrections=others, free=free))

    return told_apart(drafted, without)


class _Lately:
    """Drafts made lately of clients with fittings, for their pieces.

    One half of a body without one of its fittings is often what the other half is with all of its own, or what the
    page shows as not yet fitted.
    """

    most = 6

    def __init__(self) -> None:
        self._drafts: OrderedDict[Hashable, Draft] = OrderedDict()

    def keep(self, style: Style, client: Client, settings: Settings, plan: Plan, draft: Draft) -> None:
        self._drafts[self._key(style, client, settings, plan)] = draft
        while len(self._drafts) > self.most:
            self._drafts.popitem(last=False)

    def pieces(self, style: Style, client: Client, settings: Settings, plan: Plan) -> Draft:
        """A draft with the pieces that `_pieces` gives."""
        draft = self._drafts.get(self._key(style, client, settings, plan))
        if draft is None:
            draft = _pieces(style, client, settings, plan)
            self.keep(style, client, settings, plan, draft)
        return draft

    @staticmethod
    def _key(style: Style, client: Client, settings: Settings, plan: Plan) -> Hashable:
        return (
            *depends_on(style, client),
            settings and (settings.seam_allowance, settings.hem),
            tuple((each.key, each.family) for each in plan.corrections),
            plan.free,
        )


_LATELY = _Lately()


def _pieces(style: Style, client: Client, settings: Settings, plan: Plan) -> Draft:
    """The draft as far as its pieces go: see `draft_style`."""
    desk = desk_for(style, client, silent=True)
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


def _drafted(style: Style, client: Client, settings: Settings, plan: Plan, *, silent: bool = False) -> Draft:
    desk = desk_for(style, client, silent=silent)
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


def _judged(style: Style, client: Client, settings: Settings, plan: Plan) -> Draft:
    return _drafted(style, client, settings, plan, silent=True)


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
