"""The figures of a draft's steps: the paper as it stands after each, what is new in ink.

Everything on the paper is written into the page once; a step's figure only points at what lies there. So a draft
of forty steps stays a small page.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

from markupsafe import Markup, escape

from catalogue.drafting.model import Draft, Item, Step
from catalogue.geometry import Box, Path, Point
from catalogue.pattern import Piece
from catalogue.site.labels import Label, Labels
from catalogue.site.markdown import in_words
from catalogue.site.outlines import bounds, number, pair, path_data, piece_lines, rough, titled, union
from catalogue.studio.style import Block

WIDEST, TALLEST = 620.0, 640.0
"""Room for one figure on the page, px."""
LETTER = 13.0
"""Height of letters in a figure at full size, px."""
MARGIN = 30.0
"""White round the drawing, for labels, px."""

_GUIDE = "guide"  # a line swung or squared on the way to a point, shown only where it is used
_WORD = re.compile(r"[^\W\d]\w*")


@dataclass(frozen=True, slots=True)
class StepFigure:
    """One step's figure.

    Attributes:
        svg: the drawing, to be put into a page that also holds the sheet's definitions.
        lines: new lines and their lengths as shown.
        points: names of the new points.
        pieces: titles of the pieces made or changed.
    """

    svg: Markup
    lines: tuple[tuple[str, str], ...] = ()
    points: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Figures:
    """All step figures of a draft, and the hidden drawing that defines what they show."""

    definitions: Markup
    steps: dict[int, StepFigure] = field(default_factory=dict)


@dataclass(slots=True)
class _Paper:
    """One sheet of drafting paper: its frame, scale and labels placed so far."""

    frame: Box
    px: float  # mm per pixel at full size
    labels: Labels
    names: dict[str, Label] = field(default_factory=dict)


def step_figures(draft: Draft, show: Callable[[float], str]) -> Figures:
    """The figures of every step. `show` writes a length in mm in the client's units."""
    by_paper: dict[str, list[Item]] = {}
    for item in draft.items:
        by_paper.setdefault(item.paper, []).append(item)
    papers = {name: _paper(items) for name, items in by_paper.items()}
    sources = _sources(draft)
    used: dict[str, None] = {}
    figures: dict[int, StepFigure] = {}
    for step in draft.steps:
        paper = papers.get(step.paper)
        if paper is not None:
            mentioned = frozenset(_WORD.findall(sources.get(step.number, "")))
            figures[step.number] = _figure(step, by_paper[step.paper], paper, mentioned, used, show)
    definitions = "".join(_defined(i, papers[i.paper].px) for i in draft.items if _mark(i) in used)
    names = "".join(
        _text(paper.names[i.id], in_words(i.name), "name", id=f"n-{i.id}")
        for i in draft.items
        if f"n-{i.id}" in used and i.id in (paper := papers[i.paper]).names
    )
    sheet = f'<svg class="definitions" aria-hidden="true" width="0" height="0"><defs>{definitions}{names}</defs></svg>'
    return Figures(Markup(sheet), figures)


def _paper(items: Sequence[Item]) -> _Paper:
    box = union(bounds(i.shape) for i in items) or Box(0, 0, 100, 100)
    px = max(box.width / (WIDEST - 2 * MARGIN), box.height / (TALLEST - 2 * MARGIN), 0.05)
    frame = box.grown(MARGIN * px)
    return _Paper(frame, px, Labels(frame, LETTER * px))


def _figure(
    step: Step,
    items: Sequence[Item],
    paper: _Paper,
    mentioned: frozenset[str],
    used: dict[str, None],
    show: Callable[[float], str],
) -> StepFigure:
    now = step.number
    new = [i for i in items if i.born == now]
    before = [i for i in items if i.born < now and i.gone == now and i.kind != _GUIDE]
    old = [i for i in items if i.born < now and (i.gone is None or i.gone > now)]
    new.sort(key=lambda i: i.kind == _GUIDE)
    lengths = _place(new, paper, show)
    named = {i.id for i in new if i.kind == "point"}
    named |= {i.id for i in (*old, *before) if i.kind == "point" and i.name in mentioned}
    groups = [
        _group("old", (i for i in old if i.kind == "piece"), used),
        _group("before", before, used),
        _group("old", (i for i in old if i.kind != "piece"), used),
        _group("guide", (i for i in new if i.kind == _GUIDE), used),
        _group("new", (i for i in new if i.kind != _GUIDE), used),
        _names("old", (i for i in (*before, *old) if i.id in named), paper, used),
        _names("new", (i for i in new if i.id in named), paper, used),
        *lengths,
    ]
    lines = tuple(
        (in_words(i.name), show(i.length)) for i in new if i.kind == "line" and i.length is not None
    )
    points = tuple(in_words(i.name) for i in new if i.kind == "point")
    pieces = tuple(i.shape.title for i in new if isinstance(i.shape, Piece))
    words = _in_words(points, lines, pieces, [in_words(i.name) for i in before])
    if not new and not before:
        return StepFigure(Markup(""), lines, points, pieces)
    attributes, said = titled(f"Step {now}: {step.heading}", words, f"f{now}")
    frame = paper.frame
    box = f"{number(frame.left)} {number(frame.top)} {number(frame.width)} {number(frame.height)}"
    svg = (
        f'<svg class="paper" viewBox="{box}" width="{frame.width / paper.px:.0f}" '
        f'height="{frame.height / paper.px:.0f}" font-size="{paper.labels.size:.1f}" {attributes}>'
        f"{said}{''.join(groups)}</svg>"
    )
    return StepFigure(Markup(svg), lines, points, pieces)


def _place(new: Sequence[Item], paper: _Paper, show: Callable[[float], str]) -> list[str]:
    """Make room for what a step draws, place the names of its points, and write lengths along its lines."""
    courses = {i.id: rough(i.shape) for i in new if isinstance(i.shape, Path)}
    for item in new:
        if isinstance(item.shape, Point):
            paper.labels.add_dot(item.shape)
        elif isinstance(item.shape, Piece):
            paper.labels.add_line(rough(item.shape.outline))
        else:
            paper.labels.add_line(courses[item.id])
    for item in new:
        if isinstance(item.shape, Point):
            paper.names[item.id] = paper.labels.beside(item.shape, in_words(item.name))
    out = []
    written: set[str] = set()
    for item in new:
        if item.length is not None and item.id in courses:
            words = show(item.length)
            if item.kind == _GUIDE and words in written:
                continue  # a guide under a line of the same length says nothing new
            written.add(words)
            label = paper.labels.along(courses[item.id], words)
            if label is not None:
                out.append(_text(label, words, "length"))
    return out


def _mark(item: Item) -> str:
    return f"i-{item.id}"


def _group(kind: str, items: Iterable[Item], used: dict[str, None]) -> str:
    uses = []
    for item in items:
        used[_mark(item)] = None
        uses.append(f'<use href="#{escape(_mark(item))}"/>')
    return f'<g class="{kind}">{"".join(uses)}</g>' if uses else ""


def _names(kind: str, items: Iterable[Item], paper: _Paper, used: dict[str, None]) -> str:
    uses = []
    for item in items:
        if item.id in paper.names:
            used[f"n-{item.id}"] = None
            uses.append(f'<use href="#n-{escape(item.id)}"/>')
    return f'<g class="names {kind}">{"".join(uses)}</g>' if uses else ""


def _defined(item: Item, px: float) -> str:
    name = f'id="{escape(_mark(item))}"'
    if isinstance(item.shape, Point):
        centre = f'cx="{number(item.shape.x)}" cy="{number(item.shape.y)}"'
        return f'<circle {name} class="dot" {centre} r="{1.6 * px:.2f}"/>'
    if isinstance(item.shape, Piece):
        return f"<g {name}>{''.join(piece_lines(item.shape))}</g>"
    return f'<path {name} class="line" d="{path_data(item.shape)}"/>'


def _text(label: Label, words: str, kind: str, id: str = "") -> str:
    attributes = f' id="{escape(id)}"' if id else ""
    attributes += f' class="{kind}"'
    attributes += f' text-anchor="{label.anchor}"' if label.anchor != "start" else ""
    if abs(label.angle) > 0.5:
        attributes += f' transform="rotate({label.angle:.1f} {pair(label.at)})"'
    return f'<text{attributes} x="{number(label.at.x)}" y="{number(label.at.y)}">{escape(words)}</text>'


def _sources(draft: Draft) -> dict[int, str]:
    """What each step's block says, by step number: its words tell which old points matter."""
    return {
        part.number: part.source
        for section in draft.style.sections
        for part in section.parts
        if isinstance(part, Block)
    }


def _in_words(
    points: Sequence[str], lines: Sequence[tuple[str, str]], pieces: Sequence[str], before: Sequence[str]
) -> str:
    said = []
    if points:
        said.append(f"New points: {', '.join(points)}.")
    if lines:
        said.append(f"New lines: {', '.join(f'{name} {length}' for name, length in lines)}.")
    if pieces:
        said.append(f"Pieces drawn: {', '.join(pieces)}.")
    if before:
        said.append(f"Changed from before: {', '.join(before)}.")
    return " ".join(said) or "Nothing new on the paper; see the workings."
