"""The blocks that a style is cut from: drafted when first asked for, and what was taken from them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from catalogue.drafting.asked import CheckAsked, Requests
from catalogue.drafting.budget import Budget
from catalogue.drafting.messages import Broken, Messages
from catalogue.drafting.model import Draft
from catalogue.findings import BLOCK_FAILS, Finding, Place, did_you_mean
from catalogue.language.tree import Node
from catalogue.language.values import Value
from catalogue.pattern import Piece
from catalogue.studio.joining import block_fails
from catalogue.studio.style import Style


class Settled(NamedTuple):
    """A choice of a block that a style states, or a value that it gives it."""

    value: Value
    place: Place


@dataclass(frozen=True, slots=True)
class BlockDraft:
    """A block drafted for a client, as it is taken from; it is shared, and nobody changes it.

    Attributes:
        draft: its steps, what they drew, its names and its findings; its pieces without allowances.
        asked: seams and finished measurements of its own and of its blocks.
        checks: likewise.
        broken_names, broken_pieces: of lines that failed.
        papers: on which of its sheets each piece lies.
        names: every name it gave, with its value.
        empty_darts: by piece, darts that this body does not need.
        spent: the work it took, its own blocks' counted in.
        refused: what is wrong with what the style settled, by the name of the choice or value.
    """

    draft: Draft
    asked: Requests
    checks: tuple[CheckAsked, ...]
    broken_names: frozenset[str]
    broken_pieces: frozenset[str]
    papers: Mapping[str, str]
    names: Mapping[str, Value]
    empty_darts: Mapping[str, frozenset[str]]
    spent: int
    refused: Mapping[str, Finding]

    @property
    def style(self) -> Style:
        return self.draft.style

    @property
    def pieces(self) -> Mapping[str, Piece]:
        return self.draft.pieces


DraftBlock = Callable[[Style, Mapping[str, Settled], Mapping[str, Settled]], BlockDraft]
"""Drafts a block with the choices that a style states, by their names, and the values that it gives, by their keys."""


@dataclass(frozen=True, slots=True)
class OnHand:
    """A block of the style.

    Attributes:
        stated: the choices that the style states for it.
        given: the values that the style gave it; None before it was given any.
        drafted: None until it was asked for.
        step: number of the step that asked first.
    """

    style: Style
    stated: Mapping[str, Settled]
    given: Mapping[str, Settled] | None = None
    drafted: BlockDraft | None = None
    step: int = 0


@dataclass(frozen=True, slots=True)
class Taking:
    """Pieces taken from a block by one line: of each, by the block's name for it, as it was taken."""

    block: BlockDraft
    pieces: Mapping[str, Piece]
    place: Place


def _no_block(style: Style, stated: Mapping[str, Settled], given: Mapping[str, Settled]) -> BlockDraft:
    raise NotImplementedError


@dataclass(slots=True)
class Blocks:
    """The blocks of the style.

    Attributes:
        on_hand: by the names that the style has for them.
        takings: what was taken, in order.
        sheets: on which sheet of the style what is taken lies, by the block's name and its own sheet.
        draft: drafts a block for the client.
    """

    messages: Messages
    budget: Budget
    on_hand: dict[str, OnHand] = field(default_factory=dict)
    takings: list[Taking] = field(default_factory=list)
    sheets: dict[tuple[str, str], str] = field(default_factory=dict)
    draft: DraftBlock = _no_block

    def block(self, name: str, node: Node, step: int) -> BlockDraft:
        """The block of that name, drafted. What is wrong with it is reported once, at its first use."""
        on_hand = self.on_hand[name]
        if on_hand.drafted is not None:
            return on_hand.drafted
        if on_hand.style.receives and on_hand.given is None:
            wanted = " and ".join(f"{value.key} = …" for value in on_hand.style.receives)
            raise self.messages.trouble(
                "not-given",
                f"“{on_hand.style.title}” has not been given its {on_hand.style.receives[0].name} yet.",
                node.place,
                f"Take a piece from it first: take … from {name} with {wanted}",
            )
        drafted = self.draft(on_hand.style, on_hand.stated, on_hand.given or {})
        self.on_hand[name] = replace(on_hand, drafted=drafted, step=step)
        self._report(drafted, {**on_hand.stated, **(on_hand.given or {})})
        self.budget.spend(node.place, drafted.spent)
        return drafted

    def _report(self, drafted: BlockDraft, settled: Mapping[str, Settled]) -> None:
        """Pass on a block's warnings, what is wrong in the client's file, and the first mistake in its own."""
        for name, finding in drafted.refused.items():
            place = settled[name].place
            self.messages.findings.append(
                replace(finding, place=place, source=self.messages.source_line(place))
            )
        told = False
        for finding in drafted.draft.findings:
            mistake = finding.is_error and _is_in_a_style(finding, drafted.style)
            if not mistake:
                self.messages.findings.append(finding)
            elif not told:
                told = True
                passed_on = finding.code == BLOCK_FAILS
                self.messages.findings.append(finding if passed_on else block_fails(drafted.style, finding))

    def give(self, name: str, values: Mapping[str, Settled], node: Node) -> None:
        """Give a block the values that it receives. Raises Trouble where it has been given others."""
        on_hand = self.on_hand[name]
        if on_hand.given is not None and {k: v.value for k, v in on_hand.given.items()} != {
            k: v.value for k, v in values.items()
        }:
            raise self.messages.trouble(
                "given-otherwise",
                f"“{name}” was given other values before.",
                node.place,
                "Name the block twice under cut from:, and give each its own.",
            )
        if on_hand.given is None:
            self.on_hand[name] = replace(on_hand, given=dict(values))

    def value(self, name: str, part: str, node: Node, step: int) -> Value:
        """What a block has given the name `part`. Raises Trouble with the nearest name it has given."""
        block = self.block(name, node, step)
        if part in block.names:
            return block.names[part]
        if part in block.broken_names or part in block.broken_pieces:
            raise Broken(part)
        if part in block.pieces:
            raise self.messages.trouble(
                "piece-not-value",
                f"“{part}” is a piece of the block; expected a point, a line or a length.",
                node.place,
                f"Take it first: take {part} from {name}",
            )
        if part in block.style.uses:
            raise self.messages.trouble(
                "unknown-name",
                f"“{part}” is a body measurement, and no name of the block.",
                node.place,
                f"Write {part}.",
            )
        known = list(block.names)
        raise self.messages.trouble(
            "unknown-name",
            f"The block “{block.style.title}” gives no name “{part}”.",
            node.place,
            did_you_mean(part, known) or (f"It gives: {_some(known)}." if known else ""),
        )

    def sheet(self, name: str, block: BlockDraft, piece: str, used: set[str]) -> str:
        """The sheet that a piece lies on when it is taken: pieces keep their places on the sheets of the block.

        Args:
            used: titles of the sheets that the style has drawn on.
        """
        own = block.papers.get(piece, "")
        if (name, own) not in self.sheets:
            title = own or block.style.title
            self.sheets[name, own] = f"{title} ({name})" if title in used else title
        return self.sheets[name, own]


def _is_in_a_style(finding: Finding, style: Style) -> bool:
    """Whether a finding is about the style's file or one that it is cut from, and not about the client's."""
    files = {style.file, *(block.file for block in style.chain)}
    return finding.code == BLOCK_FAILS or finding.place is None or finding.place.file in files


def _some(names: list[str]) -> str:
    return ", ".join(names[:12]) + (" and more" if len(names) > 12 else "")
