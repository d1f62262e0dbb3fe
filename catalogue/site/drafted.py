"""What the page of a draft shows of it, worked out of the draft once: `DraftView`.

From here the way goes on to `catalogue.site.draft_page`, which puts the style and the client as they are now beside
it, at once or later from what `catalogue.site.keeping` kept.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from markupsafe import Markup

from catalogue.cloth.narrow import too_wide, width_findings, width_note
from catalogue.drafting import BlockUsed, Draft, Working
from catalogue.drafting.fittings import FITTING
from catalogue.drafting.possible_alterations import possible_alterations
from catalogue.drawing.flat import why_no_flat
from catalogue.drawing.labels import cloth_words, count_words, letters_of
from catalogue.language.lines import without_comments
from catalogue.lengths import show_length
from catalogue.pattern import Piece
from catalogue.pattern.measure import sewn_length
from catalogue.site.ease_chart import ease_view
from catalogue.site.figures import StepFigure, step_figures
from catalogue.site.fittings import fitting_views
from catalogue.site.measured import chosen_since
from catalogue.site.records import (
    BlockView,
    CutRow,
    DraftView,
    EdgeRow,
    FinishedRow,
    Passage,
    PieceEdges,
    SeamRow,
    StepView,
    UnmetSeam,
)
from catalogue.site.seam_figure import seam_figure
from catalogue.site.story import Story, Telling
from catalogue.site.story import story as story_of
from catalogue.site.words import in_words
from catalogue.studio.alterations import Alteration
from catalogue.studio.style import Style
from catalogue.workroom.notions import notion_words

Stories = Callable[[Style], Story]
Show = Callable[[float], str]
"""Writes a length in mm in the client's units."""


def draft_view(
    draft: Draft, story: Story, root: str, stories: Stories = story_of, own: Sequence[Alteration] = ()
) -> DraftView:
    """What the page of a draft shows of it; `root` leads from the page to the site's root.

    Args:
        stories: gives those of its blocks.
        own: the studio's own alterations.
    """
    show = partial(show_length, units=draft.client.units)
    pieces = list(draft.pieces.values())
    letters = letters_of(pieces)
    figures = step_figures(draft, show)
    notes = {wide.piece: width_note(wide, draft.client.units) for wide in too_wide(draft)}
    wide = width_findings(draft)
    return DraftView(
        findings=(*draft.findings, *wide),
        missing=draft.missing,
        failing=tuple(failures(draft)),
        drawn=sum(1 for step in draft.steps if step.section != FITTING),
        pieces=tuple(p.title for p in pieces),
        choices=tuple(draft.choices.items()),
        chosen_since=tuple(_chosen_since(draft)),
        cut_list=tuple(
            CutRow(
                letters[p.name],
                p.title,
                count_words(p.cut),
                cloth_words(p.cut.cloth),
                notes.get(p.name, ""),
            )
            for p in pieces
        ),
        edges=tuple(PieceEdges(letters[p.name], p.name, p.title, _edges(p, show)) for p in pieces),
        intro=_opening(draft, story, root),
        definitions=figures.definitions,
        steps=tuple(_steps(draft, story, root, figures.steps, _unmet(draft, show))),
        checks=draft.checks,
        seams=tuple(_seams(draft, show)),
        finished=tuple(_finished(draft, show)),
        notes=tuple(
            Passage(t.heading, html)
            for t in story.closing
            if (html := story.html(t, draft.rendered, draft.holding, root)) or (t.heading and not t.prose)
        ),
        blocks=tuple(_blocks(draft, stories, root)),
        undrawn=why_no_flat(draft),
        too_wide=tuple(f"{finding.message} {finding.hint}" for finding in wide),
        fittings=tuple(fitting_views(draft, show)),
        unaltered=draft.unaltered,
        halves=bool(draft.halves),
        ease=ease_view(draft, show),
        alterations=tuple(each.slug for each in possible_alterations(draft, own)),
        notions=tuple(notion_words(draft)),
    )


def _blocks(draft: Draft, stories: Stories, root: str) -> Iterator[BlockView]:
    """The blocks of a draft, each followed by those that it is itself cut from."""
    for n, used, step in _in_turn(draft):
        block = used.draft
        figures = step_figures(block, partial(show_length, units=block.client.units), f"b{n}-")
        steps = _steps(block, stories(block.style), root, figures.steps, {})
        yield BlockView(
            slug=block.style.slug,
            title=block.style.title,
            step=step,
            choices=tuple(block.choices.items()),
            stated=tuple(used.stated),
            definitions=figures.definitions,
            steps=tuple(replace(view, key=f"b{n}-{view.key}") for view in steps),
        )


def _in_turn(draft: Draft) -> Iterator[tuple[int, BlockUsed, int]]:
    """Each block once, with a number for it, and the step of the draft that used it or what is cut from it."""
    count = 0
    seen: set[int] = set()
    waiting = [(used, used.step) for used in draft.blocks]
    while waiting:
        used, step = waiting.pop(0)
        if id(used.draft) in seen:
            continue
        seen.add(id(used.draft))
        count += 1
        yield count, used, step
        waiting[:0] = [(below, step) for below in used.draft.blocks]


def failures(draft: Draft) -> Iterator[str]:
    """Everything that doesn't hold, one sentence each."""
    for check in draft.checks:
        if not check.ok:
            yield _with_detail(check.text, check.detail)
    for seam in draft.seams:
        if not seam.ok:
            yield _with_detail(_do_not_match(draft, seam.first, seam.second), seam.detail)
    for finished in draft.finished:
        if not finished.ok:
            yield _with_detail(in_words(finished.name), finished.detail)


def _edges(piece: Piece, show: Show) -> tuple[EdgeRow, ...]:
    rows = []
    for edge in piece.edges:
        mm, sewn = edge.path.length, sewn_length(piece, edge.name)
        rows.append(EdgeRow(edge.name, show(mm), mm, show(sewn) if abs(mm - sewn) >= 0.5 else "", edge.fold))
    return tuple(rows)


def _chosen_since(draft: Draft) -> Iterator[tuple[str, str]]:
    """Of each choice with a date its name, since when it holds, and what was chosen before."""
    written = draft.client.choices.get(draft.style.slug, {})
    for name, each in written.items():
        key = " ".join(name.replace("_", " ").split())
        if each.date is not None and key in draft.choices:
            yield key, chosen_since(each, draft.client.units.dates)


def _opening(draft: Draft, story: Story, root: str) -> Markup:
    """The prose before the first step, with its headings but the first, which is the style's title."""
    out = []
    for n, telling in enumerate(story.opening):
        html = story.html(telling, draft.rendered, draft.holding, root)
        if telling.heading and n and html:
            out.append(Markup("<h3>{}</h3>").format(telling.heading))
        out.append(html)
    return Markup("").join(out)


def _unmet(draft: Draft, show: Show) -> dict[int, list[UnmetSeam]]:
    """Seams that do not match, by the number of the step that asks for them."""
    found: dict[int, list[UnmetSeam]] = {}
    for n, seam in enumerate(s for s in draft.seams if not s.ok):
        # A seam that a block asks for is walked on what the last step left.
        own = seam.place.file == draft.style.file
        asking = [s.number for s in draft.steps if not own or s.place.line <= seam.place.line]
        drawing = seam_figure(draft, seam, show, f"unmet-{n + 1}")
        if asking and drawing:
            message = f"{_do_not_match(draft, seam.first, seam.second)}: {seam.detail}"
            found.setdefault(asking[-1], []).append(UnmetSeam(message, drawing))
    return found


def _steps(
    draft: Draft,
    story: Story,
    root: str,
    figures: dict[int, StepFigure],
    unmet: dict[int, list[UnmetSeam]],
) -> Iterator[StepView]:
    drafted = {s.number: s for s in draft.steps}
    for n, telling in enumerate(story.steps):
        number = telling.number
        prose = story.html(telling, draft.rendered, draft.holding, root)
        if number is None and telling.prose and not prose:
            continue  # nothing of it is for this client
        if number is None:
            yield StepView(
                f"aside-{n}",
                None,
                telling.heading,
                _group(telling, telling.heading),
                prose,
                (),
                (),
                "",
                (),
                None,
            )
        elif number in drafted:  # else the draft stopped before it
            step = drafted[number]
            heading = step.heading or telling.heading
            figure = figures.get(number)
            yield StepView(
                key=f"{number}",
                number=number,
                heading=heading or f"Step {number}",
                section=_group(telling, heading),
                prose=prose,
                workings=tuple(_as_written(w, draft) for w in step.workings),
                operations=step.operations,
                source=without_comments(telling.source).strip("\n"),
                unmet=tuple(unmet.get(number, ())),
                figure=figure if figure and figure.sheets else None,
            )


def _as_written(working: Working, draft: Draft) -> Working:
    """A working with its decimals as the client's pages write them; the style's own figures have a point."""
    if not draft.client.units.comma:
        return working
    formula, substituted, text = (
        re.sub(r"(?<=\d)\.(?=\d)", ",", each) for each in (working.formula, working.substituted, working.text)
    )
    return replace(working, formula=formula, substituted=substituted, text=text)


def _group(telling: Telling, heading: str) -> str:
    return telling.group if telling.group != heading else ""


def _seams(draft: Draft, show: Show) -> Iterator[SeamRow]:
    for s in draft.seams:
        first, second = show(s.first_length), show(s.second_length)
        # The two lengths have columns of their own.
        detail = s.detail.removeprefix(f"{first} and {second}").lstrip(",; ") if s.ok else s.detail
        yield SeamRow(
            first=_edge_words(draft, s.first),
            second=_edge_words(draft, s.second),
            first_length=first,
            second_length=second,
            first_mm=s.first_length,
            second_mm=s.second_length,
            ease=show(s.ease) if abs(s.ease) >= 0.5 else "none",
            ok=s.ok,
            detail=detail,
            block=s.block,
        )


def _finished(draft: Draft, show: Show) -> Iterator[FinishedRow]:
    for f in draft.finished:
        body, ease = ("", "") if f.body is None else (show(f.body), show(f.garment - f.body))
        yield FinishedRow(f.name, show(f.garment), body, ease, f.ok, f.detail, f.block)


def _do_not_match(draft: Draft, first: str, second: str) -> str:
    return f"{_edge_words(draft, first)} and {_edge_words(draft, second)} do not match"


def _edge_words(draft: Draft, edges: str) -> str:
    """ "back.side" as "Bodice back, side"; edges joined by "and" one by one."""

    def one(edge: str) -> str:
        piece, _, rest = edge.partition(".")
        known = draft.pieces.get(piece)
        return f"{known.title}, {in_words(rest)}" if known and rest else in_words(edge)

    return " and ".join(one(edge) for edge in edges.split(" and "))


def _with_detail(message: str, detail: str) -> str:
    return f"{message}: {detail}" if detail else message
