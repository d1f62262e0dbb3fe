"""What a draft's page shows of the draft itself: plain values that can be kept when the draft is gone.

A page also shows the style and the client as they are now, with their notes and warnings; these are put beside it in
`catalogue.site.draft_view`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import TypedDict

from markupsafe import Markup, escape

from catalogue.drafting import Check, Draft, Working
from catalogue.drawing.labels import cloth_words, count_words, letters_of
from catalogue.findings import Finding
from catalogue.lengths import show_length
from catalogue.pattern import Piece
from catalogue.pattern.measure import sewn_length
from catalogue.site.figures import Figures, StepFigure, step_figures
from catalogue.site.markdown import in_words
from catalogue.site.seam_figure import seam_figure
from catalogue.site.story import Story


class Cut(TypedDict):
    """A row of the cut list."""

    letter: str
    title: str
    cut: str
    cloth: str


class EdgeRow(TypedDict):
    """An edge of a piece: its length in words and in mm, and as sewn where darts take some of it."""

    name: str
    length: str
    mm: float
    sewn: str
    fold: bool


class PieceEdges(TypedDict):
    """The edges of one piece."""

    letter: str
    name: str
    title: str
    edges: list[EdgeRow]


class SeamRow(TypedDict):
    """Two edges sewn together, with their lengths in words and in mm."""

    first: str
    second: str
    first_length: str
    second_length: str
    first_mm: float
    second_mm: float
    ease: str
    ok: bool
    detail: str


class FinishedRow(TypedDict):
    """A measurement of the garment in words."""

    name: str
    garment: str
    body: str
    ease: str
    ok: bool
    detail: str


class Note(TypedDict):
    """Prose after the drafting."""

    heading: str
    prose: Markup


NOTHING = Markup("")


@dataclass(frozen=True, slots=True)
class StepView:
    """One step as the page shows it; `key` is unique on the page, `number` None for prose between steps.

    `unmet` holds the seams asked for in this step that do not match: in words, and drawn. Its figure and what is
    written under that stand with all others in `Drafted.figures`, and are put in by `Drafted.told`.
    """

    key: str
    number: int | None
    heading: str
    section: str
    prose: Markup
    workings: tuple[Working, ...]
    operations: tuple[str, ...]
    source: str
    unmet: tuple[tuple[str, Markup], ...] = ()
    figure: StepFigure | None = None
    caption: Markup = NOTHING


@dataclass(frozen=True, slots=True)
class Drafted:
    """What a page shows of a draft.

    Attributes:
        findings: what the draft itself has to say.
        missing: measurements it waits for.
        failing: everything that doesn't hold, one sentence each.
        drawn: number of steps that were drafted.
        pieces: titles of the pieces.
        steps: without their figures, which are in `figures`.
    """

    findings: tuple[Finding, ...]
    missing: tuple[str, ...]
    failing: tuple[str, ...]
    drawn: int
    pieces: tuple[str, ...]
    choices: list[tuple[str, str]]
    cut_list: list[Cut]
    edges: list[PieceEdges]
    intro: Markup
    figures: Figures
    steps: list[StepView]
    checks: tuple[Check, ...]
    seams: list[SeamRow]
    finished: list[FinishedRow]
    notes: list[Note]

    def told(self) -> list[StepView]:
        """The steps with their figures."""
        figures = self.figures.steps
        told = []
        for step in self.steps:
            figure = figures.get(step.number) if step.number is not None else None
            if figure is not None and figure.sheets:
                step = replace(step, figure=figure, caption=_caption(figure))
            told.append(step)
        return told


def drafted(draft: Draft, story: Story, root: str) -> Drafted:
    """What the page of a draft shows of it; `root` leads from the page to the site's root."""

    def show(mm: float) -> str:
        return show_length(mm, draft.client.units)

    pieces = list(draft.pieces.values())
    letters = letters_of(pieces)
    return Drafted(
        draft.findings,
        draft.missing,
        tuple(failures(draft)),
        len(draft.steps),
        tuple(p.title for p in pieces),
        list(draft.choices.items()),
        [
            {
                "letter": letters[p.name],
                "title": p.title,
                "cut": count_words(p.cut),
                "cloth": cloth_words(p.cut.cloth),
            }
            for p in pieces
        ],
        [_edges(letters[p.name], p, show) for p in pieces],
        _joined(story, draft.spoken, root),
        step_figures(draft, show),
        _steps(draft, story, root, show),
        draft.checks,
        _seams(draft, show),
        _finished(draft, show),
        [
            {"heading": t.heading, "prose": story.html(t, draft.spoken, root)}
            for t in story.closing
            if t.heading or t.prose
        ],
    )


def failures(draft: Draft) -> list[str]:
    """Everything that doesn't hold, one sentence each."""
    found = [f"{c.text}: {c.detail}" if c.detail else c.text for c in draft.checks if not c.ok]
    names = _edge_names(draft)
    found += [
        f"{names(s.first)} and {names(s.second)} do not match" + (f": {s.detail}" if s.detail else "")
        for s in draft.seams
        if not s.ok
    ]
    found += [
        f"{in_words(f.name)}" + (f": {f.detail}" if f.detail else "") for f in draft.finished if not f.ok
    ]
    return found


def _steps(draft: Draft, story: Story, root: str, show: Callable[[float], str]) -> list[StepView]:
    drafted = {s.number: s for s in draft.steps}
    unmet = _unmet(draft, show)
    views = []
    for n, told in enumerate(story.steps):
        step = drafted.get(told.number) if told.number is not None else None
        if told.number is not None and step is None:
            continue  # the draft stopped before it
        heading = (step.heading if step else told.heading) or told.heading
        views.append(
            StepView(
                key=f"{told.number}" if told.number is not None else f"aside-{n}",
                number=told.number,
                heading=heading or (f"Step {told.number}" if told.number is not None else ""),
                section=told.group if told.group != heading else "",
                prose=story.html(told, draft.spoken, root),
                workings=step.workings if step else (),
                operations=step.operations if step else (),
                source=told.source.strip("\n"),
                unmet=tuple(unmet.get(told.number or 0, ())),
            )
        )
    return views


def _unmet(draft: Draft, show: Callable[[float], str]) -> dict[int, list[tuple[str, Markup]]]:
    """Seams that do not match by the step that asks for them: in words, and drawn."""
    names = _edge_names(draft)
    found: dict[int, list[tuple[str, Markup]]] = {}
    for n, seam in enumerate(s for s in draft.seams if not s.ok):
        asking = [s.number for s in draft.steps if s.place.line <= seam.place.line]
        drawn = seam_figure(draft, seam, show, f"unmet-{n + 1}")
        if asking and drawn:
            words = f"{names(seam.first)} and {names(seam.second)} do not match"
            found.setdefault(asking[-1], []).append((f"{words}: {seam.detail}", drawn))
    return found


def _caption(figure: StepFigure) -> Markup:
    """The new lines with their lengths, each length kept in one piece, and what is newly marked."""
    lines = [f'{escape(name)} <span class="whole">{escape(length)}</span>' for name, length in figure.lines]
    said = [f"New lines: {', '.join(lines)}."] if lines else []
    if figure.marks:
        said.append(f"Newly marked on {escape('; '.join(figure.marks))}.")
    return Markup(" ".join(said))


def _seams(draft: Draft, show: Callable[[float], str]) -> list[SeamRow]:
    names = _edge_names(draft)
    rows: list[SeamRow] = []
    for s in draft.seams:
        first, second = show(s.first_length), show(s.second_length)
        # The two lengths have columns of their own.
        detail = s.detail.removeprefix(f"{first} and {second}").lstrip(",; ") if s.ok else s.detail
        rows.append(
            {
                "first": names(s.first),
                "second": names(s.second),
                "first_length": first,
                "second_length": second,
                "first_mm": s.first_length,
                "second_mm": s.second_length,
                "ease": show(s.ease) if abs(s.ease) >= 0.5 else "none",
                "ok": s.ok,
                "detail": detail,
            }
        )
    return rows


def _finished(draft: Draft, show: Callable[[float], str]) -> list[FinishedRow]:
    return [
        {
            "name": f.name,
            "garment": show(f.garment),
            "body": show(f.body) if f.body is not None else "",
            "ease": show(f.garment - f.body) if f.body is not None else "",
            "ok": f.ok,
            "detail": f.detail,
        }
        for f in draft.finished
    ]


def _edges(letter: str, piece: Piece, show: Callable[[float], str]) -> PieceEdges:
    """A piece's edges: the length on paper, and the length sewn where darts take some of it."""
    edges: list[EdgeRow] = []
    for edge in piece.edges:
        mm, sewn = edge.path.length, sewn_length(piece, edge.name)
        sewn_text = show(sewn) if abs(mm - sewn) >= 0.5 else ""
        edges.append({"name": edge.name, "length": show(mm), "mm": mm, "sewn": sewn_text, "fold": edge.fold})
    return {"letter": letter, "name": piece.name, "title": piece.title, "edges": edges}


def _edge_names(draft: Draft) -> Callable[[str], str]:
    """Says "back.side" as "Bodice back, side"; edges joined by "and" one by one."""

    def one(edge: str) -> str:
        piece, _, rest = edge.partition(".")
        known = draft.pieces.get(piece)
        return f"{known.title}, {in_words(rest)}" if known and rest else in_words(edge)

    return lambda edges: " and ".join(one(edge) for edge in edges.split(" and "))


def _joined(story: Story, spoken: Mapping[int, str], root: str) -> Markup:
    out = []
    for n, told in enumerate(story.opening):
        if told.heading and n:
            out.append(Markup("<h3>{}</h3>").format(told.heading))
        out.append(story.html(told, spoken, root))
    return Markup("").join(out)
