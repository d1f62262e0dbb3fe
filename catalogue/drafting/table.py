"""The drafting table: the pieces that lie on it and the papers they lie on."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import NamedTuple

from catalogue.drafting.budget import Budget
from catalogue.drafting.messages import Broken, Messages
from catalogue.drafting.trace import Trace
from catalogue.findings import Place, did_you_mean
from catalogue.language.tree import Node
from catalogue.pattern import Dart, Piece


class Traced(NamedTuple):
    """How a piece was traced: off which piece, along which of its edges, and how to trace it off that again."""

    source: str
    edges: tuple[str, ...]
    again: Callable[[Piece], Piece]


@dataclass(slots=True)
class DraftingTable:
    """Pieces and papers.

    Attributes:
        paper: the sheet being drawn on.
        paper_of: on which sheet each piece lies.
        here: the piece that the line being worked out works on.
        broken: pieces whose line failed.
        block_names: what the style calls its blocks; no piece may be called so.
        cut_up: pieces that were cut into parts or taped to others: one of that name is not the same any more.
        empty_darts: by piece, darts that this body does not need; closing one does nothing, and the piece has a point
            of that name where the dart would be.
        first_put: by piece, where the line is that first laid it on the table.
        traced: facings, and what is traced whole for another cloth; they follow the piece they were traced off.
    """

    messages: Messages
    budget: Budget
    trace: Trace
    pieces: dict[str, Piece] = field(default_factory=dict)
    paper: str = ""
    paper_of: dict[str, str] = field(default_factory=dict)
    here: Piece | None = None
    broken: set[str] = field(default_factory=set)
    block_names: frozenset[str] = frozenset()
    cut_up: set[str] = field(default_factory=set)
    empty_darts: dict[str, frozenset[str]] = field(default_factory=dict)
    first_put: dict[str, Place] = field(default_factory=dict)
    traced: dict[str, Traced] = field(default_factory=dict)

    def piece(self, node: Node, name: str | None = None) -> Piece:
        """The piece that `node` names. Raises Trouble with the nearest known piece."""
        name = name or node.text
        if name in self.pieces:
            return self.pieces[name]
        if name in self.broken:
            raise Broken(name)
        if name in self.block_names:
            raise self.messages.trouble(
                "block-not-piece",
                f"“{name}” is a block; expected one of the pieces on the table.",
                node.place,
                f"Take the piece first: take front from {name}",
            )
        so_far = (
            f"The pieces so far: {', '.join(self.pieces)}." if self.pieces else "No piece has been made yet."
        )
        raise self.messages.trouble(
            "unknown-piece",
            f"There is no piece “{name}” here.",
            node.place,
            did_you_mean(name, self.pieces) or so_far,
        )

    def dart(self, node: Node, piece: Piece, name: str) -> Dart:
        """The dart of that name on the piece. Raises Trouble with the nearest known dart."""
        for dart in piece.darts:
            if dart.name == name:
                return dart
        known = [d.name for d in piece.darts]
        raise self.messages.trouble(
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
            paper = self.paper_of.get(piece.name, self.paper)
        size = len(piece.outline.segments)
        self.budget.spend(self.budget.last, 10 * size + size * size // 20)
        self.take_away(piece.name)
        self.first_put.setdefault(piece.name, self.budget.last)
        self.paper_of[piece.name] = paper
        self.pieces[piece.name] = piece
        self.trace.draw(piece.name, "piece", piece, paper)

    def take_away(self, name: str) -> None:
        """Take a piece off the table."""
        if self.pieces.pop(name, None) is not None:
            self.trace.remove_piece(name)

    @contextmanager
    def working_on(self, piece: Piece) -> Iterator[None]:
        """Inside, a point's name means where that point is on the piece now, and what is drawn is drawn there."""
        before, self.here = self.here, piece
        paper, self.paper = self.paper, self.paper_of.get(piece.name, self.paper)
        try:
            yield
        finally:
            self.here, self.paper = before, paper
