"""What a style asks for that is done after its last line: allowances, seams walked, finished measurements taken."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from catalogue.drafting.finished_wanted import FinishedWanted
from catalogue.drafting.model import Check
from catalogue.findings import Place
from catalogue.language.tree import Node
from catalogue.pattern import Piece


@dataclass(frozen=True, slots=True)
class PartAsked:
    """Part of an edge ("piece.edge"), as the style says it; where it lies is worked out when its seam is walked."""

    edge: str
    node: Node


@dataclass(frozen=True, slots=True)
class SeamAsked:
    """A seam declared, walked once the pieces are as they will be cut.

    `smooth` is the most bend in degrees that the edges beside it may have where they run on across it (None: not
    asked); `start` names the edges beside it where the walk begins; `whole` are the edges of half pieces on the fold
    that are sewn with both their halves; `parts` the edges of which only a part is sewn. With `left_to_right` both
    sides name the same edges, of the left piece and of its mirror image. `block` is the title
    of the block that declares it, "" for the style itself.
    """

    first: tuple[str, ...]
    second: tuple[str, ...]
    least: float
    most: float
    within: float
    place: Place
    gathered: bool = False
    smooth: float | None = None
    start: tuple[str, str] | None = None
    whole: frozenset[str] = frozenset()
    parts: tuple[PartAsked, ...] = ()
    left_to_right: bool = False
    block: str = ""


@dataclass(frozen=True, slots=True)
class CheckAsked:
    """A check of a block, to be worked out again on the pieces that were taken from it.

    Attributes:
        parts: the pieces and edges ("front.side") that it speaks of, by the block's names; none where it is about
            figures alone.
        names: of each of the block's pieces that were taken, the name it has now.
        again: what it comes to with other pieces, by the block's names; None where it can't be worked out.
        verdict: what it came to on the block's own pieces.
    """

    parts: frozenset[str]
    names: Mapping[str, str]
    again: Callable[[Mapping[str, Piece]], Check | None]
    verdict: Check


@dataclass(slots=True)
class Requests:
    """Allowances in mm, seams and finished measurements.

    Attributes:
        allowance: of every edge that has none of its own.
        allowances, corners: by edge name or "piece.edge"; how wide, and how the corners are cut.
        block_allowances: of edges that were taken with one of their own, "piece.edge"; the style's for that edge counts
            before it.
        checks: the style's checks as they are written, with what each came to.
        block_checks: those of its blocks that may still apply.
        gives: the cloth stretches, or the garment is laced: it may measure less than the body.
        notions: what is needed beside cloth, as the style's front matter says it: all of it while the steps are
            drafted, then what this draft needs.
    """

    allowance: float | None = None
    allowances: dict[str, float] = field(default_factory=dict)
    corners: dict[str, str] = field(default_factory=dict)
    seams: list[SeamAsked] = field(default_factory=list)
    finished: list[FinishedWanted] = field(default_factory=list)
    block_allowances: dict[str, float] = field(default_factory=dict)
    checks: list[tuple[Node, Check]] = field(default_factory=list)
    block_checks: list[CheckAsked] = field(default_factory=list)
    gives: bool = False
    notions: tuple[str, ...] = ()
