"""The figures of a draft's steps: the paper as it stands after each, what is new in ink.

Everything on the paper is written into the page once; a step's figure only points at what lies there. So a draft
of forty steps stays a small page.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from math import inf, sqrt
from typing import NamedTuple

from markupsafe import Markup, escape

from catalogue.drafting.model import Draft, Item, Step
from catalogue.drawing.markup import page_path_data, pair, tenths, titled, view_box
from catalogue.drawing.page_svg import Stroke, elements, piece_strokes
from catalogue.drawing.piece_lines import Look
from catalogue.geometry import Box, Path, Point, union
from catalogue.pattern import Piece
from catalogue.site.labels import Label, Labels, rough, taken
from catalogue.site.words import in_words
from catalogue.studio.style import DraftLines

ROOM = (620.0, 640.0)
"""Width and height that one figure may take on the page, px."""
LEAST = (260.0, 110.0)
"""Width and height of the smallest figure, px."""
LETTER = 13.0
"""Height of letters in a figure at full size, px."""
MARGIN = 42.0
"""White round the drawing, for labels, px."""
SIGN = 2.0
"""What a millimetre of signs (notches, drill holes, arrow heads) is drawn as on a sheet, px."""
BESIDE = 20.0
"""Room between two sheets that stand side by side, px."""
MOST_SHRUNK = 2.0
"""How much smaller than alone a sheet may be drawn to stand at the same scale beside a larger one."""

_GUIDE = "guide"  # a line swung or squared on the way to a point, shown only where it is used
_SAME_PLACE = 3.0  # mm that a mark may move with its edge and still be the same one
_WORD = re.compile(r"[^\W\d]\w*")


@dataclass(frozen=True, slots=True)
class StepFigure:
    """One step's figure: a drawing for every sheet of paper on which the step left something.

    Attributes:
        sheets: each sheet's name and drawing, the step's own first, to be put into a page that also holds the
            definitions; none when the step drew nothing.
        lines: new lines and their lengths as shown.
        points: names of the new points.
        pieces: titles of the pieces made or changed.
        marks: what is newly marked on pieces, in words ("Sleeve: 3 notches").
    """

    sheets: tuple[tuple[str, Markup], ...] = ()
    lines: tuple[tuple[str, str], ...] = ()
    points: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()

    @property
    def svg(self) -> Markup:
        """All drawings, one after the other; empty when the step drew nothing."""
        return Markup("").join(svg for _, svg in self.sheets)


@dataclass(frozen=True, slots=True)
class Figures:
    """All step figures of a draft, and the hidden drawing that defines what they show."""

    definitions: Markup
    steps: dict[int, StepFigure] = field(default_factory=dict)


class _News(NamedTuple):
    """What a step drew on a sheet, as `StepFigure` has it."""

    lines: tuple[tuple[str, str], ...] = ()
    points: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()

    def and_also(self, other: _News) -> _News:
        return _News(
            self.lines + other.lines,
            self.points + other.points,
            self.pieces + other.pieces,
            self.marks + other.marks,
        )


@dataclass(slots=True)
class _Paper:
    """One sheet of drafting paper: what ever lay on it, its frame and scale, and labels placed so far."""

    items: list[Item]
    frame: Box
    px: float  # mm per pixel at full size
    labels: Labels
    names: dict[str, Label] = field(default_factory=dict)


def step_figures(
    draft: Draft, show: Callable[[float], str], prefix: str = "", room: tuple[float, float] = ROOM
) -> Figures:
    """The figures of a draft's steps.

    Args:
        show: writes a length in mm in the client's units.
        prefix: put before every id, for pages that show several drafts.
        room: width and height that a figure may take on the page, px.
    """
    drawer = _Drawer(draft, show, prefix, room)
    found = {step.number: drawer.figure(step) for step in draft.steps}
    steps = {number: figure for number, figure in found.items() if figure is not None}
    return Figures(drawer.definitions(), steps)


class _Drawer:
    """Draws one draft's figures, in order, and remembers what the page must define for them."""

    def __init__(
        self, draft: Draft, show: Callable[[float], str], prefix: str, room: tuple[float, float]
    ) -> None:
        self.draft = draft
        self.show = show
        self.prefix = escape(prefix)
        self.papers = _papers(draft.items, *room)
        self.sources = _sources(draft)
        self.used: set[str] = set()
        self._scales: dict[str, set[float]] = {}  # mm to the pixel at which each sheet is shown
        self._marks = {i.id: f"{self.prefix}i-{escape(i.id)}" for i in draft.items}
        self._names = {i.id: f"{self.prefix}n-{escape(i.id)}" for i in draft.items}
        self._strokes: dict[tuple[int, float], list[Stroke]] = {}
        replaced = {(i.name, i.gone): i.shape for i in draft.items if isinstance(i.shape, Piece)}
        self.before = {i.id: replaced[i.name, i.born] for i in draft.items if (i.name, i.born) in replaced}

    def figure(self, step: Step) -> StepFigure | None:
        """The figure of a step; None when its paper doesn't exist, an empty one when it drew nothing."""
        names = dict.fromkeys((step.paper, *step.papers))
        there = [(name, self.papers[name]) for name in names if name in self.papers]
        if step.paper not in self.papers and not there:
            return None
        touched = [(name, paper) for name, paper in there if _left_on(paper, step, name == step.paper)]
        if len(touched) > 1:
            touched = [(name, replace(paper, frame=_close(paper, step.number))) for name, paper in touched]
        together = _together([paper for _, paper in touched])
        sheets, news = [], _News()
        for n, (name, paper) in enumerate(touched):
            new = [i for i in paper.items if i.born == step.number]
            # Letters are as high on every sheet; a small one with names would be nothing but letters at this scale.
            lettered = any(not isinstance(i.shape, Piece) for i in new)
            shrunk = min(together, MOST_SHRUNK * paper.px) if lettered else together
            self._scales.setdefault(name, set()).add(shrunk)
            here = self.news(new)
            news = news.and_also(here)
            drawing = self.sheet(
                step, paper, new, here, shrunk, f"f{step.number}" + (f"-{n + 1}" if n else "")
            )
            sheets.append((name, drawing))
        return StepFigure(tuple(sheets), news.lines, news.points, news.pieces, news.marks)

    def news(self, new: Sequence[Item]) -> _News:
        """What there is to say of what a step drew on a sheet."""
        return _News(
            tuple((in_words(i.name), self.show(i.length)) for i in new if i.kind == "line" and i.length),
            tuple(in_words(i.name) for i in new if i.kind == "point"),
            tuple(i.shape.title for i in new if isinstance(i.shape, Piece)),
            tuple(said for i in new if (said := self.newly_marked(i))),
        )

    def sheet(
        self, step: Step, paper: _Paper, drawn_now: Sequence[Item], news: _News, shrunk: float, id: str
    ) -> Markup:
        """A sheet as it lies there after a step, `shrunk` mm to the pixel."""
        now = step.number
        new = sorted(drawn_now, key=lambda i: i.kind == _GUIDE)
        words = self.place(new, paper)
        earlier = [i for i in paper.items if i.born < now]
        before = [i for i in earlier if i.gone == now]
        old = [i for i in earlier if i.gone is None or i.gone > now]
        mentioned = frozenset(_WORD.findall(self.sources.get(now, "")))
        groups = (
            self.group("old", (i for i in old if i.kind == "piece")),
            self.group("before", before),
            self.group("old", (i for i in old if i.kind != "piece")),
            self.group("guide", (i for i in new if i.kind == _GUIDE)),
            self.group("new", (i for i in new if i.kind != _GUIDE)),
            self.names("old", (i for i in (*before, *old) if i.name in mentioned), paper),
            self.names("new", new, paper),
            *words,
        )
        told = _in_words(news, [in_words(i.name) for i in before])
        attributes, said = titled(f"Step {now}: {step.heading}", told, f"{self.prefix}{id}")
        # Names were placed for the sheet alone; drawn smaller they are written smaller, to keep off each other.
        letter = LETTER * shrunk / min(max(shrunk / paper.px, 1.0), 1.2)
        frame = self.with_names(paper, (*before, *old), new, mentioned, letter)
        return Markup(
            f'<svg class="paper" viewBox="{view_box(frame)}" width="{frame.width / shrunk:.0f}" '
            f'height="{frame.height / shrunk:.0f}" font-size="{letter:.1f}" {attributes}>'
            f"{said}{''.join(groups)}</svg>"
        )

    def with_names(
        self,
        paper: _Paper,
        old: Iterable[Item],
        new: Iterable[Item],
        mentioned: frozenset[str],
        letter: float,
    ) -> Box:
        """The frame of a sheet, made larger where a name that is shown would be cut off at its edge."""
        shown = (*(i for i in old if i.name in mentioned), *new)
        boxes = [taken(paper.names[i.id], in_words(i.name), letter) for i in shown if i.id in paper.names]
        near = paper.frame.grown(0.5)
        return union([paper.frame, *(b for b in boxes if _meet(near, b))]) or paper.frame

    def newly_marked(self, item: Item) -> str:
        """What a piece has marked where nothing was before: "Sleeve: 3 notches"; "" for nothing."""
        if not isinstance(item.shape, Piece):
            return ""
        before = [i.shape for i in self.draft.items if i.gone == item.born and isinstance(i.shape, Piece)]
        had = [n.at for piece in before for n in piece.notches] + [
            m.at for piece in before for m in piece.marks
        ]
        notches, marks = [n.at for n in item.shape.notches], [m.at for m in item.shape.marks]
        said = []
        for word, places in (("notch", notches), ("mark", marks)):
            count = sum(all(at.distance(there) > _SAME_PLACE for there in had) for at in places)
            if count:
                said.append(f"{count} {word}{'' if count == 1 else 'es' if word == 'notch' else 's'}")
        return f"{item.shape.title}: {' and '.join(said)}" if said else ""

    def definitions(self) -> Markup:
        """The hidden drawing that holds everything the figures point at."""
        out = []
        for item in self.draft.items:
            paper = self.papers[item.paper]
            if self.mark(item) in self.used:
                scales = self._scales[item.paper]
                # What is shown large in one figure and small in another has signs between the two.
                out.append(self.defined(item, paper.px, sqrt(min(scales) * max(scales))))
            if self.name(item) in self.used:
                out.append(_text(paper.names[item.id], in_words(item.name), "name", self.name(item)))
        start = '<svg class="definitions" aria-hidden="true" width="0" height="0"><defs>'
        return Markup(f"{start}{''.join(out)}</defs></svg>")

    def defined(self, item: Item, px: float, shown: float) -> str:
        """What an item looks like, `px` mm to the pixel, a piece with signs for `shown` mm to the pixel."""
        shape, id = item.shape, self.mark(item)
        if isinstance(shape, Point):
            centre = f'cx="{tenths(shape.x)}" cy="{tenths(shape.y)}"'
            return f'<circle id="{id}" class="dot" {centre} r="{1.6 * px:.2f}"/>'
        if isinstance(shape, Path):
            return f'<path id="{id}" class="line" d="{page_path_data(shape)}"/>'
        before = self.before.get(item.id)
        had = frozenset(self.strokes_of(before, shown)) if before is not None else frozenset()
        return f'<g id="{id}">{elements(self.strokes_of(shape, shown), had)}</g>'

    def strokes_of(self, piece: Piece, px: float) -> list[Stroke]:
        """The lines of a piece; asked for again as those of the piece before the next."""
        key = id(piece), px
        if key not in self._strokes:
            look = Look(scale=SIGN * px, filled=True, fold_marks=False, largest_notch=inf)
            self._strokes[key] = piece_strokes(piece, look)
        return self._strokes[key]

    def place(self, new: Sequence[Item], paper: _Paper) -> list[str]:
        """Make room for what a step draws, place its names, and write lengths along its lines."""
        for item in new:
            if isinstance(item.shape, Point):
                paper.labels.add_dot(item.shape)
            else:
                paper.labels.add_path(item.shape.outline if isinstance(item.shape, Piece) else item.shape)
        for item in new:
            if isinstance(item.shape, Point):
                paper.names[item.id] = paper.labels.beside(item.shape, in_words(item.name))
        out = []
        written: set[str] = set()
        for item in new:
            if item.length is None or not isinstance(item.shape, Path):
                continue
            words = self.show(item.length)
            if item.kind == _GUIDE and words in written:
                continue  # a guide under a line of the same length says nothing new
            written.add(words)
            label = paper.labels.along(rough(*item.shape.segments), words)
            if label is not None:
                out.append(_text(label, words, "length"))
        for item in new:
            if isinstance(item.shape, Piece):
                before = self.before.get(item.id)
                had = before.marks if before else ()
                named = {in_words(i.name) for i in new if i.kind == "point"}
                for mark in item.shape.marks:
                    if mark.text and mark not in had and mark.text not in named:
                        out.append(_text(paper.labels.beside(mark.at, mark.text), mark.text, "length"))
        return out

    def mark(self, item: Item) -> str:
        return self._marks[item.id]

    def name(self, item: Item) -> str:
        return self._names[item.id]

    def group(self, kind: str, items: Iterable[Item]) -> str:
        return self.pointing(kind, [self.mark(i) for i in items])

    def names(self, kind: str, items: Iterable[Item], paper: _Paper) -> str:
        return self.pointing(f"names {kind}", [self.name(i) for i in items if i.id in paper.names])

    def pointing(self, kind: str, ids: Sequence[str]) -> str:
        """A group that shows what is defined under these ids."""
        self.used.update(ids)
        uses = "".join(f'<use href="#{id}"/>' for id in ids)
        return f'<g class="{kind}">{uses}</g>' if uses else ""


def _bounds(shape: Point | Path | Piece) -> Box:
    if isinstance(shape, Point):
        return Box(*shape, *shape)
    return (shape.outline if isinstance(shape, Piece) else shape).bounds()


def _papers(items: Iterable[Item], width: float, height: float) -> dict[str, _Paper]:
    by_paper: dict[str, list[Item]] = {}
    for item in items:
        by_paper.setdefault(item.paper, []).append(item)
    papers = {}
    for name, there in by_paper.items():
        box = union(_bounds(i.shape) for i in there) or Box(0, 0, 100, 100)
        px = max(box.width / (width - 2 * MARGIN), box.height / (height - 2 * MARGIN), 0.05)
        frame = _roomy(box.grown(MARGIN * px), px)
        papers[name] = _Paper(there, frame, px, Labels(frame, LETTER * px))
    return papers


def _roomy(frame: Box, px: float) -> Box:
    """A frame wide and high enough that names beside a single upright or level line fit into it."""
    across = max(LEAST[0] * px - frame.width, 0.0) / 2
    down = max(LEAST[1] * px - frame.height, 0.0) / 2
    return Box(frame.left - across, frame.top - down, frame.right + across, frame.bottom + down)


def _text(label: Label, words: str, kind: str, id: str = "") -> str:
    attributes = f' id="{id}"' if id else ""
    attributes += f' class="{kind}"'
    attributes += f' text-anchor="{label.anchor}"' if label.anchor != "start" else ""
    if abs(label.angle) > 0.5:
        attributes += f' transform="rotate({label.angle:.1f} {pair(label.at)})"'
    return f'<text{attributes} x="{tenths(label.at.x)}" y="{tenths(label.at.y)}">{escape(words)}</text>'


def _sources(draft: Draft) -> dict[int, str]:
    """What each step's block says, by step number: its words tell which old points matter."""
    return {
        part.number: part.source
        for section in draft.style.sections
        for part in section.parts
        if isinstance(part, DraftLines)
    }


def _left_on(paper: _Paper, step: Step, own: bool) -> bool:
    """Whether a step left or took something on a sheet; a guide counts on the step's own sheet alone."""
    return any(
        step.number in (i.born, i.gone) and (own or i.kind != _GUIDE)
        for i in paper.items
        if i.born == step.number or i.kind != _GUIDE
    )


def _close(paper: _Paper, step: int) -> Box:
    """The part of a sheet where a step left or took something, with white round it; not the whole sheet."""
    boxes = [_bounds(i.shape) for i in paper.items if step in (i.born, i.gone) and i.kind != _GUIDE]
    box = union(boxes)
    return paper.frame if box is None else _roomy(box.grown(MARGIN * paper.px), paper.px)


def _meet(one: Box, other: Box) -> bool:
    return (
        one.left < other.right
        and other.left < one.right
        and one.top < other.bottom
        and other.top < one.bottom
    )


def _together(papers: Sequence[_Paper]) -> float:
    """Millimetres to the pixel at which sheets stand side by side, all at one scale."""
    if len(papers) < 2:
        return max((p.px for p in papers), default=1.0)
    across = 2 if len(papers) < 5 else 3
    width = ROOM[0] / across - BESIDE
    return max(max(p.frame.width / width, p.frame.height / ROOM[1]) for p in papers)


def _in_words(news: _News, before: Sequence[str]) -> str:
    lines, points, pieces, marks = news
    said = []
    if points:
        said.append(f"New points: {', '.join(points)}.")
    if lines:
        said.append(f"New lines: {', '.join(f'{name} {length}' for name, length in lines)}.")
    if pieces:
        said.append(f"Pieces drawn: {', '.join(pieces)}.")
    if marks:
        said.append(f"Marked on {'; '.join(marks)}.")
    if before:
        said.append(f"Changed: {', '.join(before)}.")
    return " ".join(said) or "Nothing new is drawn; see the workings."
