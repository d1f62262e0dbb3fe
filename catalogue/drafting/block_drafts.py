"""Blocks drafted for clients: each once, and shared by the styles that are cut from it."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable, Mapping
from dataclasses import replace
from operator import itemgetter
from typing import NamedTuple

from catalogue.drafting import words_blocks
from catalogue.drafting.blocks import BlockDraft, OnHand, Settled
from catalogue.drafting.choosing import take_choices
from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import evaluate
from catalogue.drafting.fitting_plan import NO_FITTINGS, Plan
from catalogue.drafting.fittings import carry_out_fittings
from catalogue.drafting.messages import Broken
from catalogue.drafting.model import Step
from catalogue.drafting.steps import as_drafted, carry_out_steps, desk_for, without_repeats
from catalogue.findings import Finding, Trouble
from catalogue.language.values import Value, Word
from catalogue.people import Client
from catalogue.studio.joining import is_word
from catalogue.studio.style import Style


class _Kept(NamedTuple):
    block: BlockDraft
    style: Style
    silent: bool


class _Unfitted(NamedTuple):
    """A block as it lies on the desk after its last line, before what its own fittings change; nobody changes it."""

    style: Style
    desk: Desk
    refused: dict[str, Finding]
    choices: dict[str, str]
    steps: list[Step]
    rendered: dict[int, str]


class BlockDrafts:
    """The blocks drafted lately, so that the styles cut from one share it: a draft depends on its key alone.

    A block with fittings is drafted to its last line once, and each choice of fittings is carried out on that: what a
    fitting changed is found by leaving it out.

    Attributes:
        drafted: how many were drafted; asked for, they were many more.
    """

    most = 48
    """Kept at a time: those of one client, for a few clients."""
    most_unfitted = 6
    """Desks kept at a time: the blocks of one style."""

    def __init__(self) -> None:
        self.drafted = 0
        self._kept: OrderedDict[Hashable, _Kept] = OrderedDict()
        self._unfitted: OrderedDict[Hashable, _Unfitted] = OrderedDict()

    def clear(self) -> None:
        """Forget what was drafted."""
        self._kept.clear()
        self._unfitted.clear()

    def draft(
        self,
        style: Style,
        client: Client,
        stated: Mapping[str, Settled],
        given: Mapping[str, Settled],
        plan: Plan = NO_FITTINGS,
        *,
        silent: bool = False,
    ) -> BlockDraft:
        """A block drafted for a client, with the choices that a style states and the values it gives, and fittings.

        `silent` where nobody will read its workings.
        """
        settled = {name: each.value for name, each in (*stated.items(), *given.items())}
        below = frozenset(block.slug for block in style.chain)
        drawn = (*depends_on(style, client), tuple(sorted(settled.items(), key=itemgetter(0))))
        key = (*drawn, _concerning(plan, below | {style.slug}))
        kept = self._kept.pop(key, None)
        if kept is None or (kept.silent and not silent):
            if _concerns(plan, style):
                unfitted = self._drawn(
                    (*drawn, _concerning(plan, below)), style, client, settled, plan, silent
                )
                unfitted = unfitted._replace(desk=unfitted.desk.twin(), steps=list(unfitted.steps))
            else:
                self.drafted += 1
                unfitted = _draw_block(style, client, settled, plan, silent)
            kept = _Kept(_fit_block(unfitted, client, plan), style, silent)
        self._kept[key] = kept
        while len(self._kept) > self.most:
            self._kept.popitem(last=False)
        return kept.block

    def _drawn(
        self,
        key: Hashable,
        style: Style,
        client: Client,
        settled: Mapping[str, Value],
        plan: Plan,
        silent: bool,
    ) -> _Unfitted:
        found = self._unfitted.pop(key, None)
        if found is None or (found.desk.trace.silent and not silent):
            self.drafted += 1
            found = _draw_block(style, client, settled, plan, silent)
        self._unfitted[key] = found
        while len(self._unfitted) > self.most_unfitted:
            self._unfitted.popitem(last=False)
        return found


def depends_on(style: Style, client: Client) -> tuple[Hashable, ...]:
    """What of a style and a client its pieces depend on, fittings aside; the style must be held meanwhile."""
    return (
        id(style),
        client.file,
        client.units,
        tuple(sorted((key, m.mm) for key in style.uses if (m := client.measurements.get(key)))),
        tuple(
            (each.slug, *sorted(client.choices.get(each.slug, {}).items())) for each in (style, *style.chain)
        ),
    )


def _concerning(plan: Plan, slugs: frozenset[str]) -> Hashable:
    """What tells apart the fittings that may change a style or one of its blocks."""
    return (
        tuple(c.key for c in plan.corrections if c.family & slugs),
        tuple(each for each in plan.free if each.garment in slugs),
    )


def _concerns(plan: Plan, style: Style) -> bool:
    """Whether there are fittings that may be carried out on the style itself."""
    return any(style.slug in c.family for c in plan.corrections) or any(
        each.garment == style.slug for each in plan.free
    )


BLOCK_DRAFTS = BlockDrafts()


def _draw_block(
    style: Style, client: Client, settled: Mapping[str, Value], plan: Plan, silent: bool
) -> _Unfitted:
    desk = desk_for(style, client, silent=silent)
    refused: dict[str, Finding] = {}
    choices = take_choices(style, client, desk, settled, refused)
    lay_out_blocks(style, client, desk, plan)
    steps, rendered = carry_out_steps(style, desk)
    return _Unfitted(style, desk, refused, choices, steps, rendered)


def _fit_block(unfitted: _Unfitted, client: Client, plan: Plan) -> BlockDraft:
    style, desk, refused, choices, steps, rendered = unfitted
    # What is changed on the block for this body is changed here, before anything is taken from it.
    fittings = carry_out_fittings(style, desk, plan, steps)
    words_blocks.ask_for_blocks(desk)
    draft = as_drafted(style, client, desk, choices, steps, {}, rendered, fittings)
    return BlockDraft(
        replace(draft, findings=tuple(without_repeats(desk.messages.findings))),
        desk.asked,
        words_blocks.checks_to_take(desk, style.title),
        frozenset(desk.names.broken),
        frozenset(desk.table.broken),
        dict(desk.table.paper_of),
        dict(desk.names.values),
        dict(desk.table.empty_darts),
        desk.budget.spent,
        refused,
    )


def lay_out_blocks(style: Style, client: Client, desk: Desk, plan: Plan = NO_FITTINGS) -> None:
    """Put a style's blocks at hand, with the choices that it states for them; they are drafted when they are used.

    Raises ValueError for a style that was not joined with its blocks.
    """
    if not style.cut_from:
        return
    for cut in style.cut_from:
        if cut.name not in style.blocks:
            raise ValueError(f"“{style.slug}” was not joined with its block “{cut.slug}”")
        block = style.blocks[cut.name]
        stated = {}
        for each in cut.stated:
            try:
                value: Value
                if is_word(each, block) and each.text not in desk.names.options:
                    value = Word(each.text)
                else:
                    value = evaluate(each.tree, desk)
                stated[each.choice] = Settled(value, each.place)
            except Broken:
                continue
            except Trouble as trouble:
                desk.messages.findings.extend(trouble.findings)
        desk.blocks.on_hand[cut.name] = OnHand(block, stated)
        if cut.name in desk.names.values or cut.name in desk.names.known_measurements:
            desk.messages.findings.extend(
                desk.trouble(
                    "name-taken",
                    f"“{cut.name}” is a choice or a body measurement, so no block can be called so.",
                    cut.place,
                    "Choose another name.",
                ).findings
            )
    desk.table.block_names = frozenset(desk.blocks.on_hand)
    silent = desk.trace.silent

    def drafted(block: Style, stated: Mapping[str, Settled], given: Mapping[str, Settled]) -> BlockDraft:
        return BLOCK_DRAFTS.draft(block, client, stated, given, plan, silent=silent)

    desk.blocks.draft = drafted
