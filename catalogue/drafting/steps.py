"""The steps of a style, carried out on a desk, and what lies on the desk as a draft."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial

from catalogue.drafting.budget import OutOfBudget
from catalogue.drafting.conditions import is_so
from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import do_lines, evaluate
from catalogue.drafting.fitting_plan import NOT_ALTERED
from catalogue.drafting.fittings import in_this_draft
from catalogue.drafting.measured import GIVING
from catalogue.drafting.messages import Broken
from catalogue.drafting.model import BlockUsed, Draft, FittingDone, Step
from catalogue.findings import Finding, Place, Trouble
from catalogue.geometry import GeometryError, Path, Point
from catalogue.language.values import Quantity
from catalogue.people import Client
from catalogue.studio.prose import SLOT, Condition, Formula, Prose
from catalogue.studio.style import DraftLines, Section, Style


def desk_for(style: Style, client: Client, *, silent: bool = False) -> Desk:
    """An empty desk with a client's measurements, for a style that lacks none of them.

    `silent` where nobody will read the workings.
    """
    known = {key: name for key, name in style.register.lengths().items() if key not in style.given}
    measurements = {key: m.mm for key, m in client.measurements.items() if key in known}
    for name, key in style.everyday.items():
        known[name] = known[key]
        if key in measurements:
            measurements[name] = measurements[key]
    desk = Desk.empty(client.units, measurements, known, style.register)
    desk.messages.source_line = lambda place: (
        style.source_line(place.line) if place.file == style.file else ""
    )
    desk.trace.silent = silent
    desk.asked.notions = style.notions
    desk.asked.gives = bool(GIVING & {tag.casefold() for tag in style.tags})
    return desk


def carry_out_steps(style: Style, desk: Desk) -> tuple[list[Step], dict[int, str]]:
    """The steps of a style and the text of its formulas, as far as they could be done."""
    steps: list[Step] = []
    rendered: dict[int, str] = {}
    try:
        _go_through(style, desk, steps, rendered)
        desk.asked.notions = tuple(_notions_needed(style, desk))
    except OutOfBudget as trouble:
        desk.messages.findings.extend(trouble.findings)
    return steps, rendered


def _notions_needed(style: Style, desk: Desk) -> Iterator[str]:
    """The notions of this draft; one of which it can't be said is among them."""
    for n, notion in enumerate(style.notions):
        condition = style.notion_conditions.get(n)
        if condition is None or _holds(condition, desk) is not False:
            yield notion


def as_drafted(
    style: Style,
    client: Client,
    desk: Desk,
    choices: Mapping[str, str],
    steps: Sequence[Step],
    cut_lines: Mapping[str, Path],
    rendered: Mapping[int, str],
    fittings: Sequence[FittingDone] = (),
    unaltered: Sequence[Finding] = (),
) -> Draft:
    """What lies on the desk, as a draft that nobody changes any more."""
    named = desk.names.values
    return Draft(
        style=style,
        client=client,
        values={n: v for n, v in named.items() if isinstance(v, Quantity)},
        points={n: v for n, v in named.items() if isinstance(v, Point)},
        paths={n: v for n, v in named.items() if isinstance(v, Path)},
        pieces=desk.table.pieces,
        cut_lines=cut_lines,
        items=tuple(desk.trace.items),
        steps=tuple(steps),
        seams=tuple(desk.trace.seams),
        checks=tuple(desk.trace.checks),
        finished=tuple(desk.trace.finished),
        rendered=rendered,
        holding=dict(desk.trace.holding),
        notions=desk.asked.notions,
        findings=(
            *style.findings,
            *client.findings_for(style.uses),
            *without_repeats((*desk.messages.findings, *unaltered)),
        ),
        choices=choices,
        blocks=_blocks_used(desk),
        fittings=(*_fittings_of_blocks(desk), *fittings),
        unaltered=tuple(
            f.source.strip().removeprefix("- ").strip('"') or f.message
            for f in (*desk.messages.findings, *unaltered)
            if f.code == NOT_ALTERED
        ),
    )


def _fittings_of_blocks(desk: Desk) -> tuple[FittingDone, ...]:
    """What was fitted on the blocks and is in pieces of this draft; a block that was used twice is listed once."""
    every = {
        each.key: each
        for used in desk.blocks.on_hand.values()
        if used.drafted is not None
        for each in used.drafted.draft.fittings
    }
    return in_this_draft(list(every.values()), desk.table.pieces)


def _blocks_used(desk: Desk) -> tuple[BlockUsed, ...]:
    used = []
    for name, on_hand in desk.blocks.on_hand.items():
        if on_hand.drafted is not None:
            draft = on_hand.drafted.draft
            stated = {choice: draft.choices[choice] for choice in on_hand.stated if choice in draft.choices}
            used.append(BlockUsed(name, draft, on_hand.step, stated))
    return tuple(sorted(used, key=lambda each: each.step))


def _go_through(style: Style, desk: Desk, steps: list[Step], rendered: dict[int, str]) -> None:
    """Each block in turn; the formulas of the prose before it are rendered once it is drawn."""
    waiting: list[Prose] = []
    above = ""
    for section in style.sections:
        above = heading_above(style.sections, section)
        for part in section.parts:
            if isinstance(part, Prose):
                waiting.append(part)
                continue
            steps.append(do_block(part, section, above, desk))
            for prose in waiting:
                _render(prose, desk, rendered)
            waiting = []
    for prose in waiting:
        _render(prose, desk, rendered)


def heading_above(sections: Iterable[Section], section: Section) -> str:
    """The heading that a section stands under."""
    found = ""
    for other in sections:
        if other is section:
            return found
        if 0 < other.level < section.level:
            found = other.heading
    return found


def do_block(block: DraftLines, section: Section, above: str, desk: Desk) -> Step:
    """Draft one block; `above` is the heading that its section stands under."""
    desk.trace.begin(block.number)
    do_lines(block.statements, desk)
    number = block.number
    changed = [i for i in desk.trace.items if i.born == number or i.gone == number]
    touched = dict.fromkeys(i.paper for i in changed)
    pieces = [i.paper for i in changed if i.kind == "piece" and i.born == number]
    paper = pieces[0] if pieces and desk.table.paper not in pieces else desk.table.paper
    return Step(
        block.number,
        section.heading,
        above,
        paper,
        tuple(desk.trace.workings),
        block.place,
        tuple(desk.trace.operations),
        tuple(touched) or (paper,),
    )


def _render(prose: Prose, desk: Desk, rendered: dict[int, str]) -> None:
    """Work out the formulas of a prose; in what is not there for the client nothing is asked for."""
    formulas: Iterable[Formula] = prose.formulas
    if prose.conditions:
        there = {int(slot[1]) for slot in SLOT.finditer(prose.shown(partial(_holds, desk=desk)))}
        formulas = (formula for formula in formulas if formula.index in there)
    for formula in formulas:
        rendered[formula.index] = "…"
        try:
            rendered[formula.index] = desk.show(evaluate(formula.tree, desk))
        except Broken:
            continue
        except OutOfBudget:
            raise
        except Trouble as trouble:
            desk.messages.findings.extend(trouble.findings)


def _holds(condition: Condition, desk: Desk) -> bool | None:
    """Whether a condition of the prose holds; None where that can't be worked out, which is then a finding."""
    try:
        desk.budget.spend(condition.place)
        desk.trace.holding[condition.index] = is_so(condition.tree, desk, as_far_as_needed=True)
    except Broken:
        return None
    except OutOfBudget:
        raise
    except GeometryError as error:
        trouble = desk.trouble("cannot-draw", f"This can't be worked out: {error}.", condition.place)
        desk.messages.findings.extend(trouble.findings)
    except Trouble as trouble:
        desk.messages.findings.extend(trouble.findings)
    return desk.trace.holding.get(condition.index)


_ONCE = frozenset({"unknown-name", "unknown-piece"})


def without_repeats(findings: Iterable[Finding]) -> Iterable[Finding]:
    seen: set[tuple[str, Place | None]] = set()
    for finding in findings:
        # A name that is spelt otherwise where it is given is unknown wherever it is used: that is one mistake.
        key = (finding.message, None if finding.code in _ONCE else finding.place)
        if key not in seen:
            seen.add(key)
            yield finding
