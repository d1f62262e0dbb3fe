"""The names of a draft in the making: what the style has named so far, and the client's measurements."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field

from catalogue.drafting.messages import Broken, Messages
from catalogue.drafting.table import DraftingTable
from catalogue.drafting.trace import Trace
from catalogue.findings import Place, did_you_mean, nearest
from catalogue.geometry import Path, Point
from catalogue.language.tree import Node
from catalogue.language.values import Quantity, Value
from catalogue.people import Register
from catalogue.trade_names import called_here, trade_hint

ALWAYS: Mapping[str, tuple[Value, str]] = {
    "start": (Point(0.0, 0.0), "the first point"),
    "pi": (Quantity(math.pi), "the number that a circle measures round for each unit across"),
}
"""Names that every draft has from the beginning: the value, and what it is."""

ALMOST_THE_SAME = 0.8
"""How alike a name must be to one of the style's to be sooner that than a measurement."""

MOST_HINTS = 25
"""Findings of a draft after which no likely measurement is looked for."""

USUAL_HINT = "Names are given on an earlier line, or are body measurements."

REACH = 100_000.0
"""mm from the start beyond which nothing is drawn: a draft that leaves the room is a mistake."""


@dataclass(slots=True)
class Names:
    """Names and their values.

    Attributes:
        measurements: name -> mm, of this client, by the everyday names too that the style uses.
        known_measurements: name -> its plain name, of all that a client file may hold.
        values: what the style has named so far.
        given_at: where each name was given.
        paper_of: on which sheet of paper each name was drawn.
        broken: names whose line failed.
        options: the words that each choice of words allows.
        trial: values are being tried, so what is named is not drawn.
    """

    messages: Messages
    table: DraftingTable
    trace: Trace
    measurements: Mapping[str, float]
    known_measurements: Mapping[str, str]
    register: Register
    values: dict[str, Value] = field(default_factory=dict)
    given_at: dict[str, Place] = field(default_factory=dict)
    paper_of: dict[str, str] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)
    options: dict[str, tuple[str, ...]] = field(default_factory=dict)
    trial: bool = False

    def look_up(self, node: Node) -> Value:
        """The value of a name; inside a line that works on a piece, that piece's own points come first."""
        name, here, pieces = node.text, self.table.here, self.table.pieces
        if here is not None and name in here.points:
            return here.points[name]
        if name in self.values:
            return self.values[name]
        if name in self.broken:
            raise Broken(name)
        if name in self.measurements:
            return Quantity(self.measurements[name], 1)
        if name in ALWAYS:
            return ALWAYS[name][0]
        if name in self.known_measurements:
            raise self.messages.trouble(
                "missing-measurement", f"The client file has no {self.known_measurements[name]}.", node.place
            )
        if name in pieces:
            raise self.messages.trouble(
                "piece-not-value",
                f"“{name}” is a piece; expected a point, a line or a length.",
                node.place,
                f"Name an edge or a point of it: {name}.{pieces[name].edges[0].name}",
            )
        if name in self.table.block_names:
            raise self.messages.trouble(
                "block-not-value",
                f"“{name}” is a block; expected a point, a line or a length.",
                node.place,
                f"Name something that the block drafts: {name}.front_width",
            )
        if several := self.register.candidates(name):
            keys = ", ".join(m.key for m in several[:-1]) + f" or {several[-1].key}"
            raise self.messages.trouble(
                "ambiguous-measurement",
                f"“{name}” means one measurement to some and another to others.",
                node.place,
                f"Write {keys}, or give the name on an earlier line.",
            )
        known = [*self.values, *self.measurements, *(here.points if here else ()), *ALWAYS]
        for piece in pieces.values():
            edges = [edge.name for edge in piece.edges]
            if name in edges:
                beside = edges[(edges.index(name) + 1) % len(edges)]
                likely = self._likely(name, known)
                or_else = "" if likely == USUAL_HINT else f" {likely}"
                raise self.messages.trouble(
                    "edge-not-value",
                    f"“{name}” is an edge of “{piece.name}”; expected a point, a line or a length.",
                    node.place,
                    f"Write {piece.name}.{name} for the edge, or (corner of {piece.name}.{name} and {beside}) for the "
                    f"point where it ends.{or_else}",
                )
        raise self.messages.trouble(
            "unknown-name", f"“{name}” is not known here.", node.place, self._likely(name, known)
        )

    def _likely(self, name: str, known: Sequence[str]) -> str:
        """A hint for a name that is not known: one of the style's that looks alike, or the measurement it may mean."""
        alike = did_you_mean(name, known)
        mistaken = alike and (
            "looks the same" in alike
            or called_here(name, known)
            or nearest(name, known, least=ALMOST_THE_SAME)
        )
        if mistaken or len(self.messages.findings) > MOST_HINTS:
            return alike or USUAL_HINT
        if hint := trade_hint(name, self.known_measurements):
            return hint
        measurement = self.register.likely(name)
        if measurement is not None and measurement.key in self.known_measurements:
            return f"Did you mean “{measurement.key}”?"
        return alike or USUAL_HINT

    def give(self, name: str, value: Value, node: Node) -> None:
        """Give `name` its value and put it on the paper. Raises Trouble when the name is taken."""
        if not self.trial:
            self.refuse_taken(name, node)
        if isinstance(value, Point) and not (abs(value.x) < REACH and abs(value.y) < REACH):
            raise self.messages.trouble(
                "out-of-reach", f"“{name}” would lie more than 100 m from the start.", node.place
            )
        self.values[name] = value
        if self.trial:
            return
        self.given_at[name] = node.place
        self.paper_of[name] = self.table.paper
        if isinstance(value, Point):
            self.trace.draw(name, "point", value, self.table.paper)
        elif isinstance(value, Path):
            self.trace.draw(name, "line", value, self.table.paper)

    def refuse_taken(self, name: str, node: Node) -> None:
        """Raise Trouble where a name is taken."""
        if name in self.given_at:
            raise self.messages.trouble(
                "given-twice",
                f"“{name}” is already given on line {self.given_at[name].line}.",
                node.place,
                "Choose another name.",
            )
        if name in self.known_measurements or name in ALWAYS:
            what = (
                ALWAYS[name][1] if name in ALWAYS else f"the body measurement {self.known_measurements[name]}"
            )
            raise self.messages.trouble(
                "name-taken", f"“{name}” is {what}.", node.place, "Choose another name."
            )
        if name in self.table.pieces or name in self.table.block_names:
            what = "a piece" if name in self.table.pieces else "a block that the style is cut from"
            raise self.messages.trouble(
                "name-taken", f"“{name}” is {what}.", node.place, "Choose another name."
            )

    @contextmanager
    def trying(self) -> Iterator[None]:
        """Names given inside are forgotten afterwards, and nothing is drawn."""
        kept, was = dict(self.values), self.trial
        self.trial = True
        try:
            yield
        finally:
            self.values, self.trial = kept, was
