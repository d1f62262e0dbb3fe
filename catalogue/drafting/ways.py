"""A style drafted with its choices taken in several ways: what the ways have in common is drafted once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from catalogue.drafting import words_blocks, words_checks
from catalogue.drafting.block_drafts import lay_out_blocks
from catalogue.drafting.budget import OutOfBudget
from catalogue.drafting.choosing import take_choices
from catalogue.drafting.desk import Desk
from catalogue.drafting.drafter import allow_for_seams, draft_style
from catalogue.drafting.measured import measure_all
from catalogue.drafting.model import Draft, Step
from catalogue.drafting.steps import as_drafted, desk_for, do_block, heading_above
from catalogue.people import Client
from catalogue.studio.settings import Settings
from catalogue.studio.style import Choice, DraftLines, Section, Style

StepSource = tuple[DraftLines, Section, str]
"""A block, its section, and the heading that the section stands under."""


def draft_ways(
    style: Style, client: Client, settings: Settings, ways: Sequence[Sequence[Choice]]
) -> list[Draft]:
    """The style drafted once for each way, to see what its choices change.

    Every draft has the pieces, checks and finished measurements that `draft_style` gives. Seams may be named and not
    walked; cutting lines, workings with their guides, and the formulas of the prose may be left out.

    Args:
        ways: the style's choices, with other defaults.
    """
    styles = [replace(style, choices=tuple(choices)) for choices in ways]
    measured = {key: m.mm for key, m in client.measurements.items()}
    if style.missing_from(measured) or not style.ok or not client.ok:
        return [draft_style(each, client, settings) for each in styles]
    desk = desk_for(style, client, silent=True)
    _begin(style, client, desk)
    begun = [desk_for(each, client, silent=True) for each in styles]
    taken = [_begin(each, client, start) for each, start in zip(styles, begun, strict=True)]
    sources = [
        (part, section, heading_above(style.sections, section))
        for section in style.sections
        for part in section.parts
        if isinstance(part, DraftLines)
    ]
    named = [_names_in(block) for block, _, _ in sources]
    first = [_first_difference(desk, start, named) for start in begun]

    found: dict[int, Draft] = {}
    work = desk.budget.spent
    steps: list[Step] = []
    try:
        for n in range(max((at for at in first if at is not None), default=-1) + 1):
            for way in (w for w, at in enumerate(first) if at == n):
                own = _with_choices(desk.twin(), begun[way], work)
                found[way] = _carried_on(styles[way], client, settings, own, taken[way], steps, sources[n:])
            if n < len(sources):
                block, section, above = sources[n]
                steps.append(do_block(block, section, above, desk))
    except OutOfBudget:
        pass  # A style that asks for too much is drafted as far as that goes, below.
    return [
        found[way] if way in found else draft_style(each, client, settings) for way, each in enumerate(styles)
    ]


def _begin(style: Style, client: Client, desk: Desk) -> dict[str, str]:
    """Take the style's choices and put its blocks at hand."""
    taken = take_choices(style, client, desk)
    lay_out_blocks(style, client, desk)
    return taken


def _names_in(block: DraftLines) -> frozenset[str]:
    """Every name in a block's lines."""
    leaves = (node.text for line in block.statements for node in line.walk() if not node.inside)
    return frozenset(name for text in leaves for name in text.split("."))


def _first_difference(usual: Desk, way: Desk, named: Sequence[frozenset[str]]) -> int | None:
    """The index of the first block that names a choice taken otherwise than usual; after the last where none does.

    None where the way can't be told from the choices alone.
    """
    if any(desk.messages.findings or desk.names.broken for desk in (usual, way)):
        return None
    before, after = usual.names.values, way.names.values
    if list(before) != list(after):
        return None
    changed = {key for key, value in after.items() if before[key] != value}
    blocks = usual.blocks.on_hand
    changed |= {name for name, block in way.blocks.on_hand.items() if blocks[name].stated != block.stated}
    return next((n for n, names in enumerate(named) if changed & names), len(named))


def _with_choices(desk: Desk, chosen: Desk, work: int) -> Desk:
    """A desk on which the choices are taken as on another; `work` was spent on taking them on the first."""
    desk.names.values.update(chosen.names.values)
    for name, block in chosen.blocks.on_hand.items():
        desk.blocks.on_hand[name] = replace(desk.blocks.on_hand[name], stated=block.stated)
    desk.budget.spent += chosen.budget.spent - work
    return desk


def _carried_on(
    style: Style,
    client: Client,
    settings: Settings,
    desk: Desk,
    choices: dict[str, str],
    before: Sequence[Step],
    sources: Sequence[StepSource],
) -> Draft:
    """What becomes of the work on a desk when the blocks that are left are drafted."""
    steps = list(before)
    desk.messages.source_line = lambda place: (
        style.source_line(place.line) if place.file == style.file else ""
    )
    try:
        for block, section, above in sources:
            steps.append(do_block(block, section, above, desk))
    except OutOfBudget as trouble:
        desk.messages.findings.extend(trouble.findings)
    words_blocks.ask_for_blocks(desk)
    allow_for_seams(desk, settings)
    words_checks.name_seams(desk)
    measure_all(desk, style.garment, style.tags)
    return as_drafted(style, client, desk, choices, steps, {}, {})
