"""What the page of a draft shows of the draft, as plain records: kept when the draft is gone, and read by the template.

Lengths stand as the client reads them, and in mm where the page gives both.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from markupsafe import Markup

from catalogue.drafting import Check, Working
from catalogue.findings import Finding
from catalogue.site.ease_chart import EaseView
from catalogue.site.figures import StepFigure
from catalogue.site.fittings import FittingView


@dataclass(frozen=True, slots=True)
class CutRow:
    """A row of the cut list; `note` says that the piece is wider than the cloth, "" where it isn't."""

    letter: str
    title: str
    cut: str
    cloth: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class EdgeRow:
    """An edge of a piece: its length, and the length sewn where darts take some of it ("" elsewhere)."""

    name: str
    length: str
    mm: float
    sewn: str
    fold: bool


@dataclass(frozen=True, slots=True)
class PieceEdges:
    """The edges of one piece."""

    letter: str
    name: str
    title: str
    edges: tuple[EdgeRow, ...]


@dataclass(frozen=True, slots=True)
class SeamRow:
    """Two edges sewn together; `block` is the title of the block that asks for it."""

    first: str
    second: str
    first_length: str
    second_length: str
    first_mm: float
    second_mm: float
    ease: str
    ok: bool
    detail: str
    block: str


@dataclass(frozen=True, slots=True)
class FinishedRow:
    """A measurement of the garment; `body` and `ease` are "" where the body has no such measurement."""

    name: str
    garment: str
    body: str
    ease: str
    ok: bool
    detail: str
    block: str


@dataclass(frozen=True, slots=True)
class Passage:
    """Prose under a heading, which may be empty."""

    heading: str
    prose: Markup


@dataclass(frozen=True, slots=True)
class UnmetSeam:
    """A seam whose edges do not match: in a sentence, and drawn."""

    message: str
    drawing: Markup


@dataclass(frozen=True, slots=True)
class StepView:
    """One step; `key` is unique on the page.

    Attributes:
        number: None for prose between steps.
        section: the heading above its own; may be empty.
        source: the step's lines as the style file has them.
        unmet: seams asked for in this step that do not match.
        figure: None where nothing was drawn.
    """

    key: str
    number: int | None
    heading: str
    section: str
    prose: Markup
    workings: tuple[Working, ...]
    operations: tuple[str, ...]
    source: str
    unmet: tuple[UnmetSeam, ...]
    figure: StepFigure | None


@dataclass(frozen=True, slots=True)
class BlockView:
    """A block that a draft is cut from, with its own steps for this client.

    Attributes:
        step: number of the step of the draft that used it first.
        choices: each choice of the block and what was taken; `stated` are those that the style settles.
        definitions: as in `DraftView`.
    """

    slug: str
    title: str
    step: int
    choices: tuple[tuple[str, str], ...]
    stated: tuple[str, ...]
    definitions: Markup
    steps: tuple[StepView, ...]


@dataclass(frozen=True, slots=True)
class DraftView:
    """What a page shows of a draft.

    Attributes:
        findings: what the draft itself has to say.
        missing: keys of the measurements it waits for.
        failing: everything that doesn't hold, one sentence each.
        drawn: number of steps that were drafted.
        pieces: titles of the pieces.
        undrawn: why there is no drawing of the garment, "" where there is one or none is wanted.
        too_wide: a sentence for each piece that is wider than its cloth.
        choices: each choice and what was taken. chosen_since: of those with a date, since when, and what was before.
        definitions: the hidden drawing that the figures of the steps point into.
        notes: prose after the drafting.
        blocks: what it is cut from, those that its blocks are cut from after them.
        fittings: what was changed at fittings. unaltered: lines of fittings that were not carried out, as written.
        ease: the garment's girths beside the body's, level by level.
        halves: the two halves of the body differ, so the steps are those of the right one.
        alterations: slugs of those that can be made on it at a fitting.
        notions: the style's, with the draft's own figures, in the client's units.
    """

    findings: tuple[Finding, ...]
    missing: tuple[str, ...]
    failing: tuple[str, ...]
    drawn: int
    pieces: tuple[str, ...]
    choices: tuple[tuple[str, str], ...]
    chosen_since: tuple[tuple[str, str], ...]
    cut_list: tuple[CutRow, ...]
    edges: tuple[PieceEdges, ...]
    intro: Markup
    definitions: Markup
    steps: tuple[StepView, ...]
    checks: tuple[Check, ...]
    seams: tuple[SeamRow, ...]
    finished: tuple[FinishedRow, ...]
    notes: tuple[Passage, ...]
    blocks: tuple[BlockView, ...]
    too_wide: tuple[str, ...] = ()
    fittings: tuple[FittingView, ...] = ()
    unaltered: tuple[str, ...] = ()
    halves: bool = False
    undrawn: str = ""
    ease: EaseView = field(default_factory=EaseView)
    alterations: tuple[str, ...] = ()
    notions: tuple[str, ...] = ()
