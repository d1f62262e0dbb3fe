"""What a style asks for that is done after its last line: allowances, seams walked, finished measurements taken."""

from __future__ import annotations

from dataclasses import dataclass, field

from catalogue.drafting.finished_wanted import FinishedWanted
from catalogue.findings import Place
from catalogue.language.tree import Node


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
    sides name the same edges, of the left piece and of its mirror image.
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


@dataclass(slots=True)
class Requests:
    """Allowances in mm, seams and finished measurements.

    Attributes:
        allowance: of every edge that has none of its own.
        allowances, corners: by edge name or "piece.edge"; how wide, and how the corners are cut.
        gives: the cloth stretches, or the garment is laced: it may measure less than the body.
        notions: what is needed beside cloth, as the style's front matter says it.
    """

    allowance: float | None = None
    allowances: dict[str, float] = field(default_factory=dict)
    corners: dict[str, str] = field(default_factory=dict)
    seams: list[SeamAsked] = field(default_factory=list)
    finished: list[FinishedWanted] = field(default_factory=list)
    gives: bool = False
    notions: tuple[str, ...] = ()
