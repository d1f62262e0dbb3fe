"""The drafting table while a draft is being made: names, papers and pieces so far, and the trace of each step."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from copy import copy
from dataclasses import dataclass, field

from catalogue.drafting.finished_wanted import FinishedWanted
from catalogue.drafting.model import Check, Finished, Item, Seam, Shape, Working
from catalogue.findings import Finding, Place, Severity, Trouble, did_you_mean, nearest
from catalogue.geometry import Path, Point
from catalogue.language.tree import Node
from catalogue.language.values import Quantity
from catalogue.lengths import Units, show_angle, show_length, show_number, with_lengths
from catalogue.pattern import Dart, Piece
from catalogue.people import REGISTER, Register


@dataclass(frozen=True, slots=True)
class Word:
    """A choice of words ("full"), or yes and no."""

    text: str


Value = Quantity | Point | Path | Word

ALWAYS: Mapping[str, tuple[Value, str]] = {
    "start": (Point(0.0, 0.0), "the first point"),
    "pi": (Quantity(math.pi), "the number that a circle measures round for each unit across"),
}
"""Names that every draft has from the beginning: the value, and what it is."""

BUDGET = 200_000
"""Work in one draft, a plain phrase counting as one and geometry by its size (5 to 10 µs each). A style of forty steps
with solved values needs a fiftieth; one with thirty cuts, darts moved, facings and a lining an eighth."""

ALMOST_THE_SAME = 0.8
"""How alike a name must be to one of the style's to be sooner that than a measurement."""

MOST_HINTS = 25
"""Findings of a draft after which no likely measurement is looked for."""
USUAL_HINT = "Names are given on an earlier line, or are body measurements."

LONGEST_MESSAGE = 400
"""Characters of a message, which may quote a long line of the style."""

MOST_SEGMENTS = 300
"""Straight and curved parts of one line: more than the longest frill has."""

REACH = 100_000.0
"""mm from the start beyond which nothing is drawn: a draft that leaves the room is a mistake."""


class Broken(Exception):
    """What a line needs was on a line that failed; that line has been told of already."""


@dataclass(slots=True)
class Allowances:
    """Seam allowances asked for, mm: `default`, by edge name or "piece.edge"; and how their corners are cut."""

    default: float | None = None
    by_edge: dict[str, float] = field(default_factory=dict)
    corners: dict[str, str] = field(default_factory=dict)


@dataclass(slots=True)
class SeamWanted:
    """A seam declared, walked once the pieces are as they will be cut.

    `smooth` is the most bend in degrees that the edges beside it may have where they run on across it (None: not
    asked); `start` names the edges beside it where the walk begins; `whole` are the edges of half pieces on the fold
    that are sewn with both their halves.
    """

    first: tuple[str, ...]
    second: tuple[str, ...]
    least: float
    most: float
    within: float
    place: Place
    gathered: bool = False
    times: int = 1
    smooth: float | None = None
    start: tuple[str, str] | None = None
    whole: frozenset[str] = frozenset()


@dataclass(slots=True)
class Desk:
    """State of a draft in the making. Only the drafting room holds one; what leaves it is a `Draft`.

    Attributes:
        measurements: name -> mm, of this client, by the everyday names too that the style uses.
        names: what the style has named so far.
        given_at: where each name was given.
        paper_of: on which sheet of paper each name was drawn.
        broken: names whose line failed.
        empty_darts: by piece, darts that this body does not need; closing one does nothing, and the piece has a point
            of that name where the dart would be.
        options: the words that each choice of words allows.
        here: the piece that the line being worked out works on.
        spent, last: work done so far, and the place of the phrase it was last done for.
        gives: the cloth stretches, or the garment is laced: it may measure less than the body.
        taken: whether the `when` just done held, for an `otherwise` after it; None when there was none.
        silent: nobody will read the workings, so they are not kept.
    """

    units: Units
    measurements: Mapping[str, float]
    known_measurements: Mapping[str, str]
    register: Register = REGISTER
    names: dict[str, Value] = field(default_factory=dict)
    given_at: dict[str, Place] = field(default_factory=dict)
    paper_of: dict[str, str] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)
    pieces: dict[str, Piece] = field(default_factory=dict)
    paper_of_piece: dict[str, str] = field(default_factory=dict)
    empty_darts: dict[str, set[str]] = field(default_factory=dict)
    broken_pieces: set[str] = field(default_factory=set)
    paper: str = ""
    step: int = 0
    items: list[Item] = field(default_factory=list)
    drawn: int = 0
    workings: list[Working] = field(default_factory=list)
    operations: list[str] = field(default_factory=list)
    checks: list[Check] = field(default_factory=list)
    seams_wanted: list[SeamWanted] = field(default_factory=list)
    seams: list[Seam] = field(default_factory=list)
    finished_wanted: list[FinishedWanted] = field(default_factory=list)
    finished: list[Finished] = field(default_factory=list)
    allowances: Allowances = field(default_factory=Allowances)
    findings: list[Finding] = field(default_factory=list)
    options: dict[str, tuple[str, ...]] = field(default_factory=dict)
    here: Piece | None = None
    taken: bool | None = None
    trial: bool = False
    gives: bool = False
    silent: bool = False
    spent: int = 0
    last: Place = field(default_factory=lambda: Place(""))
    source_line: Callable[[Place], str] = lambda place: ""

    def twin(self) -> Desk:
        """A desk on which all lies as on this one, and on which work may go on another way."""
        other = copy(self)
        for name in self.__slots__:
            value = getattr(self, name)
            if isinstance(value, dict | list | set):
                setattr(other, name, value.copy())
        other.empty_darts = {piece: darts.copy() for piece, darts in self.empty_darts.items()}
        other.allowances = Allowances(
            self.allowances.default, self.allowances.by_edge.copy(), self.allowances.corners.copy()
        )
        return other

    # --- saying what is wrong -------------------------------------------------------------------------------

    def trouble(self, code: str, message: str, place: Place, hint: str = "") -> Trouble:
        """An exception to raise for something wrong at `place`."""
        message, hint = with_lengths(message, self.units), with_lengths(hint, self.units)
        if len(message) > LONGEST_MESSAGE:
            message = f"{message[: LONGEST_MESSAGE // 2]} … {message[-LONGEST_MESSAGE // 2 :]}"
        return Trouble(Finding(code, message, place, hint, source=self.source_line(place)))

    def warn(self, code: str, message: str, place: Place, hint: str = "") -> None:
        message, hint = with_lengths(message, self.units), with_lengths(hint, self.units)
        self.findings.append(
            Finding(code, message, place, hint, Severity.WARNING, source=self.source_line(place))
        )

    def spend(self, place: Place, work: int = 1) -> None:
        """Count work about to be done; a style that asks for too much ends here."""
        self.spent += work
        self.last = place
        if self.spent > BUDGET:
            raise OutOfBudget(
                Finding(
                    "too-much-work",
                    "This style asks for more work than any draft needs.",
                    place,
                    "Are there very long curves, or more lines under a “find” than it needs?",
                    source=self.source_line(place),
                )
            )

    # --- names ----------------------------------------------------------------------------------------------

    def look_up(self, node: Node) -> Value:
        """The value of a name; inside a line that works on a piece, that piece's own points come first."""
        name = node.text
        if self.here is not None and name in self.here.points:
            return self.here.points[name]
        if name in self.names:
            return self.names[name]
        if name in self.broken:
            raise Broken(name)
        if name in self.measurements:
            return Quantity(self.measurements[name], 1)
        if name in ALWAYS:
            return ALWAYS[name][0]
        if name in self.known_measurements:
            raise self.trouble(
                "missing-measurement", f"The client file has no {self.known_measurements[name]}.", node.place
            )
        if name in self.pieces:
            raise self.trouble(
                "piece-not-value",
                f"“{name}” is a piece; expected a point, a line or a length.",
                node.place,
                f"Name an edge or a point of it: {name}.{self.pieces[name].edges[0].name}",
            )
        if several := self.register.candidates(name):
            keys = ", ".join(m.key for m in several[:-1]) + f" or {several[-1].key}"
            raise self.trouble(
                "ambiguous-measurement",
                f"“{name}” means one measurement to some and another to others.",
                node.place,
                f"Write {keys}, or give the name on an earlier line.",
            )
        known = [*self.names, *self.measurements, *(self.here.points if self.here else ()), *ALWAYS]
        raise self.trouble(
            "unknown-name", f"“{name}” is not known here.", node.place, self._likely(name, known)
        )

    def _likely(self, name: str, known: Sequence[str]) -> str:
        """A hint for a name that is not known: one of the style's that looks alike, or the measurement it may mean."""
        alike = did_you_mean(name, known)
        mistaken = alike and ("looks the same" in alike or nearest(name, known, least=ALMOST_THE_SAME))
        if mistaken or len(self.findings) > MOST_HINTS:
            return alike or USUAL_HINT
        measurement = self.register.likely(name)
        if measurement is not None and measurement.key in self.known_measurements:
            return f"Did you mean “{measurement.key}”?"
        return alike or USUAL_HINT

    def give(self, name: str, value: Value, node: Node) -> None:
        """Give `name` its value and put it on the paper. Raises Trouble when the name is taken."""
        if not self.trial:
            self.refuse_taken(name, node)
        if isinstance(value, Point) and not (abs(value.x) < REACH and abs(value.y) < REACH):
            raise self.trouble(
                "out-of-reach", f"“{name}” would lie more than 100 m from the start.", node.place
            )
        self.names[name] = value
        if self.trial:
            return
        self.given_at[name] = node.place
        self.paper_of[name] = self.paper
        if isinstance(value, Point):
            self.add_item(name, "point", value)
        elif isinstance(value, Path):
            self.add_item(name, "line", value, value.length)

    def refuse_taken(self, name: str, node: Node) -> None:
        if name in self.given_at:
            raise self.trouble(
                "given-twice",
                f"“{name}” was given already on line {self.given_at[name].line}.",
                node.place,
                "Choose another name.",
            )
        if name in self.known_measurements or name in ALWAYS:
            what = (
                ALWAYS[name][1] if name in ALWAYS else f"the body measurement {self.known_measurements[name]}"
            )
            raise self.trouble("name-taken", f"“{name}” is {what}.", node.place, "Choose another name.")
        if name in self.pieces:
            raise self.trouble("name-taken", f"“{name}” is a piece.", node.place, "Choose another name.")

    @contextmanager
    def trying(self) -> Iterator[None]:
        """Names given inside are forgotten afterwards, and nothing is drawn."""
        kept, was = dict(self.names), self.trial
        self.trial = True
        try:
            yield
        finally:
            self.names, self.trial = kept, was

    @contextmanager
    def working_on(self, piece: Piece) -> Iterator[None]:
        """Inside, a point's name means where that point is on the piece now, and what is drawn is drawn there."""
        before, self.here = self.here, piece
        paper, self.paper = self.paper, self.paper_of_piece.get(piece.name, self.paper)
        try:
            yield
        finally:
            self.here, self.paper = before, paper

    # --- pieces ---------------------------------------------------------------------------------------------

    def piece(self, node: Node, name: str | None = None) -> Piece:
        """The piece that `node` names. Raises Trouble with the nearest known piece."""
        name = name or node.text
        if name in self.pieces:
            return self.pieces[name]
        if name in self.broken_pieces:
            raise Broken(name)
        raise self.trouble(
            "unknown-piece",
            f"There is no piece “{name}” here.",
            node.place,
            did_you_mean(name, self.pieces)
            or (
                f"The pieces so far: {', '.join(self.pieces)}."
                if self.pieces
                else "No piece has been made yet."
            ),
        )

    def dart(self, node: Node, piece: Piece, name: str) -> Dart:
        """The dart of that name on the piece. Raises Trouble with the nearest known dart."""
        for dart in piece.darts:
            if dart.name == name:
                return dart
        known = [d.name for d in piece.darts]
        raise self.trouble(
            "unknown-dart",
            f"The piece “{piece.name}” has no dart “{name}”.",
            node.place,
            did_you_mean(name, known)
            or (f"Its darts: {', '.join(known)}." if known else "It has no dart yet."),
        )

    def put(self, piece: Piece, paper: str | None = None) -> None:
        """Lay a piece on the table, in place of its earlier self if there is one.

        It lies on `paper`; if that is not said, where it lay before, or on the paper being drawn on.
        """
        if paper is None:
            paper = self.paper_of_piece.get(piece.name, self.paper)
        size = len(piece.outline.segments)
        self.spend(self.last, 10 * size + size * size // 20)
        self.take_away(piece.name)
        self.paper_of_piece[piece.name] = paper
        self.pieces[piece.name] = piece
        self.add_item(piece.name, "piece", piece, paper=paper)

    def handle(self, piece: Piece, times: float = 1.0) -> None:
        """Count the work of cutting a piece of paper apart and putting it together again, `times` over."""
        size = len(piece.outline.segments)
        drawn = len(piece.points) + len(piece.marks) + len(piece.lines) + len(piece.notches)
        both = size * drawn
        self.spend(
            self.last, int(times * (400 + 5 * size + 40 * len(piece.lines) + 2 * both * (1 + both / 3000)))
        )

    def take_away(self, name: str) -> None:
        """Take a piece off the table."""
        if self.pieces.pop(name, None) is not None:
            self._end_item(name)

    def _end_item(self, name: str) -> None:
        for i in range(len(self.items) - 1, -1, -1):
            item = self.items[i]
            if item.kind == "piece" and item.name == name and item.gone is None:
                if item.born == self.step:
                    del self.items[i]
                else:
                    self.items[i] = Item(
                        item.id, item.name, item.kind, item.shape, item.paper, item.born, self.step
                    )
                return

    def add_item(
        self, name: str, kind: str, shape: Shape, length: float | None = None, paper: str | None = None
    ) -> None:
        """Record something drawn in this step; a guide is seen in this step only."""
        gone = self.step if kind == "guide" else None
        self.drawn += 1
        on = self.paper if paper is None else paper
        self.items.append(Item(f"i{self.drawn}", name, kind, shape, on, self.step, gone, length))

    # --- text -----------------------------------------------------------------------------------------------

    def show_length(self, mm: float) -> str:
        return show_length(mm, self.units)

    def show(self, value: Value) -> str:
        """A value as the page writes it, in the client's units."""
        if isinstance(value, Word):
            return value.text
        if isinstance(value, Quantity):
            if value.angle:
                return show_angle(value.value)
            if value.is_length:
                return show_length(value.value, self.units)
            return show_number(value.value)
        if isinstance(value, Path):
            return show_length(value.length, self.units)
        return (
            f"{show_length(value.x, self.units)} right, {show_length(value.y, self.units)} down of the start"
        )


class OutOfBudget(Trouble):
    """The style asked for more work than any draft needs; nothing after it is tried."""
