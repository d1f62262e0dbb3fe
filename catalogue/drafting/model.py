"""A draft: one style worked out for one client. Nothing here is ever changed after it is made."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from catalogue.findings import Finding, Place
from catalogue.geometry import Path, Point
from catalogue.language.values import Quantity
from catalogue.pattern import Piece
from catalogue.pattern.seams import Bend, Match, SeamSection

if TYPE_CHECKING:
    from catalogue.people import Client
    from catalogue.studio.style import Style

Shape = Point | Path | Piece


@dataclass(frozen=True, slots=True)
class Working:
    """One line of arithmetic as a drafter writes it.

    Attributes:
        name: the name it gives ("scye depth"), in words.
        formula: "bust girth ÷ 6 + 4 cm".
        substituted: the same with this client's numbers: "96.5 cm ÷ 6 + 4 cm".
        result: the value, None for a point; `text` shows it in the client's units.
    """

    name: str
    formula: str
    substituted: str
    result: Quantity | None
    text: str


@dataclass(frozen=True, slots=True)
class Item:
    """One thing on the paper and the steps between which it lies there.

    Attributes:
        id: unique in the draft and fit for an XML id ("i7").
        name: as in the style file.
        kind: "point", "line", "piece", or "guide": a ruler line from one point to the next, shown only in the
            step that drew it (born == gone), with its length.
        shape: Point, Path (lines and guides) or Piece accordingly.
        paper: which sheet of drafting paper it lies on (styles may start new ones).
        born: number of the step that drew it.
        gone: number of the step that changed it into something else or removed it; None while it stays.
    """

    id: str
    name: str
    kind: str
    shape: Shape
    paper: str
    born: int
    gone: int | None = None

    @property
    def length(self) -> float | None:
        """Of a line its arc length in mm, shown on the drawing."""
        return self.shape.length if isinstance(self.shape, Path) else None


@dataclass(frozen=True, slots=True)
class Step:
    """One fenced block of the style file, drafted.

    A step's figure is every item with `born <= number` that is not gone before it, on this step's `paper`:
    items with `born == number` are new (in ink), items with `gone == number` are what was there before (light).
    `papers` are all the sheets it drew on or took something from, `paper` among them; mostly just that one.
    """

    number: int
    heading: str
    section: str
    paper: str
    workings: tuple[Working, ...]
    place: Place
    operations: tuple[str, ...] = ()
    papers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Check:
    """A condition the draft must meet: `text` in words, `detail` with the numbers, in the client's units.

    `source` says who asks for it: "style" (stated in the style file) or "seam" (edges sewn together). `block` is the
    title of the block that states it, "" for the style itself; so it is of seams and finished measurements.
    """

    text: str
    ok: bool
    detail: str
    place: Place
    source: str = "style"
    block: str = ""


@dataclass(frozen=True, slots=True)
class Seam:
    """Two edges sewn together, walked. Lengths in mm; `ease` is first minus second.

    Attributes:
        matches: the notches of both sides, each with what it meets on the other, in order; with their points.
        sections: the seam between one match and the next, in order, with the ease of each.
        bends: how the edges beside the seam run on across it at its two ends, where they do.
    """

    first: str
    second: str
    first_length: float
    second_length: float
    ease: float
    ok: bool
    detail: str
    place: Place
    matches: tuple[Match, ...] = ()
    sections: tuple[SeamSection, ...] = ()
    bends: tuple[Bend, ...] = ()
    block: str = ""


@dataclass(frozen=True, slots=True)
class Finished:
    """A finished measurement of the garment: `body` may be None (a length has no body figure). Lengths in mm.

    Attributes:
        garment: as measured off the pieces; what the formula says where nothing was measured.
        claimed: what the style's formula says; None without one.
        measured: whether it was measured off the pieces.
    """

    name: str
    garment: float
    body: float | None
    ok: bool
    detail: str
    place: Place | None = None
    claimed: float | None = None
    measured: bool = False
    block: str = ""


@dataclass(frozen=True, slots=True)
class BlockUsed:
    """A block that a style was cut from for this client.

    Attributes:
        name: what the style calls it.
        draft: its own steps and what they drew, before anything was taken; it is not cut out and not judged.
        step: number of the step of the style that used it first.
        stated: the choices that the style settled for it, as shown, by their names.
    """

    name: str
    draft: Draft
    step: int
    stated: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class EdgeMoved:
    """An edge that an alteration changed: its length as sewn before and after, mm."""

    piece: str
    edge: str
    before: float
    after: float


@dataclass(frozen=True, slots=True)
class FittingDone:
    """A line of a fitting as it was carried out on a draft.

    Attributes:
        alteration: slug of the alteration; "correction" for drafting lines of the client's own.
        amount: mm; 0 for such lines.
        side: "both", "left" or "right".
        source: "block" where it belongs to the body, and so to every style cut from the block; else "garment".
        on: slug of the style on whose pieces it was carried out. garment: of the one it was seen on.
        pieces: names of the pieces of this draft that it changed.
        before, after: those pieces, as they lay on the table before and after it, in the style it was carried out on.
        edges: the edges whose length it changed.
        operations: what was done to the paper, in sentences.
        follows: what must follow, in words. remark: why it was not carried out in the order of the file; may be empty.
        mark: what is written on each piece that it changed; by it the pieces cut from them later are known.
    """

    date: datetime.date
    alteration: str
    title: str
    amount: float
    side: str
    source: str
    on: str
    garment: str
    text: str
    seen: str
    place: Place
    pieces: tuple[str, ...] = ()
    before: tuple[Piece, ...] = ()
    after: tuple[Piece, ...] = ()
    edges: tuple[EdgeMoved, ...] = ()
    operations: tuple[str, ...] = ()
    follows: str = ""
    remark: str = ""
    mark: str = ""

    @property
    def key(self) -> tuple[Place, str]:
        """What tells it apart from other lines of the client's file."""
        return self.place, self.text


@dataclass(frozen=True, slots=True)
class Draft:
    """A style drafted for a client.

    Attributes:
        values: every named length, number and angle, in the order they were made.
        points, paths: as drafted, by name.
        pieces: as they are at the end, by name, with an allowance on every edge.
        cut_lines: the cutting line of each piece, by its name, allowances included; a closed path.
        items: everything that was ever on the paper, for the step figures.
        rendered: text of each formula in the style's prose that is there for the client, by the formula's index.
        holding: whether each condition of that prose holds, by its index; without those that could not be worked out.
        notions: those of the style that this draft needs.
        findings: errors and warnings; a draft with an error has what could be drawn before it.
        missing: measurements the style needs and the client file lacks (nothing is drafted then).
        choices: the choices taken, as shown ("58 cm").
        blocks: the blocks that it was cut from, in the order of their first use.
        fittings: the lines of fittings that were carried out, on its blocks first.
        unaltered: lines of fittings that concern it and were not carried out, as written; why is in its findings.
        halves: for a body whose two halves differ, the drafts of the right and of the left half; else none.
    """

    style: Style
    client: Client
    values: Mapping[str, Quantity] = field(default_factory=dict)
    points: Mapping[str, Point] = field(default_factory=dict)
    paths: Mapping[str, Path] = field(default_factory=dict)
    pieces: Mapping[str, Piece] = field(default_factory=dict)
    cut_lines: Mapping[str, Path] = field(default_factory=dict)
    items: tuple[Item, ...] = ()
    steps: tuple[Step, ...] = ()
    seams: tuple[Seam, ...] = ()
    checks: tuple[Check, ...] = ()
    finished: tuple[Finished, ...] = ()
    rendered: Mapping[int, str] = field(default_factory=dict)
    holding: Mapping[int, bool] = field(default_factory=dict)
    notions: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    missing: tuple[str, ...] = ()
    choices: Mapping[str, str] = field(default_factory=dict)
    blocks: tuple[BlockUsed, ...] = ()
    fittings: tuple[FittingDone, ...] = ()
    unaltered: tuple[str, ...] = ()
    halves: tuple[Draft, ...] = ()

    @property
    def ok(self) -> bool:
        """Nothing missing, no error, every check, seam and finished measurement holds."""
        return (
            not self.missing
            and not any(f.is_error for f in self.findings)
            and all(c.ok for c in self.checks)
            and all(s.ok for s in self.seams)
            and all(f.ok for f in self.finished)
        )
