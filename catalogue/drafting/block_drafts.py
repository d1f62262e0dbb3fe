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
from catalogue.drafting.steps import as_drafted, carry_out_steps, desk_for, without_repeats
from catalogue.findings import Finding, Trouble
from catalogue.language.values import Value, Word
from catalogue.people import Client
from catalogue.studio.joining import is_word
from catalogue.studio.style import Style


class _Kept(NamedTuple):
    block: BlockDraft
    style: Style


class BlockDrafts:
    """The blocks drafted lately, so that the styles cut from one share it: a draft depends on its key alone.

    Attributes:
        drafted: how many were drafted; asked for, they were many more.
    """

    most = 48
    """Kept at a time: those of one client, for a few clients."""

    def __init__(self) -> None:
        self.drafted = 0
        self._kept: OrderedDict[Hashable, _Kept] = OrderedDict()

    def clear(self) -> None:
        """Forget what was drafted."""
        self._kept.clear()

    def draft(
        self,
        style: Style,
        client: Client,
        stated: Mapping[str, Settled],
        given: Mapping[str, Settled],
        plan: Plan = NO_FITTINGS,
    ) -> BlockDraft:
        """A block drafted for a client, with the choices that a style states and the values it gives, and fittings."""
        settled = {name: each.value for name, each in (*stated.items(), *given.items())}
        slugs = {style.slug, *(block.slug for block in style.chain)}
        key = (
            id(style),
            client.file,
            client.units,
            tuple(sorted((key, m.mm) for key in style.uses if (m := client.measurements.get(key)))),
            tuple(
                (each.slug, *sorted(client.choices.get(each.slug, {}).items()))
                for each in (style, *style.chain)
            ),
            tuple(sorted(settled.items(), key=itemgetter(0))),
            tuple(c.key for c in plan.corrections if c.family & slugs),
            tuple(each for each in plan.free if each.garment in slugs),
        )
        kept = self._kept.pop(key, None)
        if kept is None:
            self.drafted += 1
            kept = _Kept(_draft_block(style, client, settled, plan), style)
        self._kept[key] = kept
        while len(self._kept) > self.most:
            self._kept.popitem(last=False)
        return kept.block


BLOCK_DRAFTS = BlockDrafts()


def _draft_block(style: Style, client: Client, settled: Mapping[str, Value], plan: Plan) -> BlockDraft:
    desk = desk_for(style, client)
    refused: dict[str, Finding] = {}
    choices = take_choices(style, client, desk, settled, refused)
    lay_out_blocks(style, client, desk, plan)
    steps, rendered = carry_out_steps(style, desk)
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

    def drafted(block: Style, stated: Mapping[str, Settled], given: Mapping[str, Settled]) -> BlockDraft:
        return BLOCK_DRAFTS.draft(block, client, stated, given, plan)

    desk.blocks.draft = drafted
