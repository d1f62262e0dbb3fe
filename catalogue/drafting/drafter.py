"""Drafting: a style worked out for a client, line by line, with what each step drew."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from catalogue.drafting import (
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
from catalogue.drafting.budget import OutOfBudget
from catalogue.drafting.choosing import take_choices
from catalogue.drafting.desk import Desk
from catalogue.drafting.evaluate import do_lines, evaluate
from catalogue.drafting.folds_told import tell_folds
from catalogue.drafting.measured import GIVING, measure_all
from catalogue.drafting.messages import Broken
from catalogue.drafting.model import Draft, Step
from catalogue.findings import Finding, Place, Trouble
from catalogue.geometry import Path, Point
from catalogue.language.values import Quantity
from catalogue.pattern.allowance import cutting_line
from catalogue.people import Client
from catalogue.studio.settings import Settings
from catalogue.studio.style import DraftLines, Prose, Section, Style

WORD_ROOMS = (
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


def suits(style: Style, client: Client) -> bool:
    """Whether a style is drafted for a client: it is meant for such a person, or the client ordered it."""
    if not style.audience or style.slug in client.garments:
        return True
    return bool(_MEANT_FOR.get(client.kind, set()) & set(style.audience))


def draft_style(style: Style, client: Client, settings: Settings) -> Draft:
    """Draft a style for a client.

    Never raises for what a style or client file says: what is wrong is in the draft's findings, and what could be
    drawn before it is in the draft.
    """
    measurements = {key: m.mm for key, m in client.measurements.items()}
    missing = style.missing_from(measurements)
    if missing or not style.ok or not client.ok_for(style.uses):
        found = (*style.findings, *client.findings_for(style.uses))
        return Draft(style, client, missing=missing, findings=found)
    desk = desk_for(style, client)
    choices = take_choices(style, client, desk)
    steps: list[Step] = []
    rendered: dict[int, str] = {}
    try:
        _go_through(style, desk, steps, rendered)
    except OutOfBudget as trouble:
        desk.messages.findings.extend(trouble.findings)
    allow_for_seams(desk, settings)
    cut_lines = _cut(desk, style)
    words_checks.walk_seams(desk)
    measure_all(desk, style.garment, style.tags)
    return as_drafted(style, client, desk, choices, steps, cut_lines, rendered)


def desk_for(style: Style, client: Client) -> Desk:
    """An empty desk with a client's measurements, for a style that lacks none of them."""
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
    desk.asked.notions = style.notions
    desk.asked.gives = bool(GIVING & {tag.casefold() for tag in style.tags})
    return desk


def allow_for_seams(desk: Desk, settings: Settings) -> None:
    """Give every edge its allowance: the style's own, or else the studio's."""
    if desk.asked.allowance is None and settings is not None:
        desk.asked.allowance = settings.seam_allowance
        desk.asked.allowances.setdefault("hem", settings.hem)
    desk.table.pieces = {n: words_pieces.with_allowances(p, desk) for n, p in desk.table.pieces.items()}


def as_drafted(
    style: Style,
    client: Client,
    desk: Desk,
    choices: Mapping[str, str],
    steps: Sequence[Step],
    cut_lines: Mapping[str, Path],
    rendered: Mapping[int, str],
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
        findings=(
            *style.findings,
            *client.findings_for(style.uses),
            *_without_repeats(desk.messages.findings),
        ),
        choices=choices,
    )


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
    for formula in prose.formulas:
        rendered[formula.index] = "…"
        try:
            rendered[formula.index] = desk.show(evaluate(formula.tree, desk))
        except Broken:
            continue
        except OutOfBudget:
            raise
        except Trouble as trouble:
            desk.messages.findings.extend(trouble.findings)


def _without_repeats(findings: Iterable[Finding]) -> Iterable[Finding]:
    seen: set[tuple[str, Place | None]] = set()
    for finding in findings:
        key = (finding.message, finding.place)
        if key not in seen:
            seen.add(key)
            yield finding
