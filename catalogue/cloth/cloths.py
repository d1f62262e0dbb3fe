"""A cloth of the studio: what is known of it before it is cut."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal

from catalogue.findings import Finding, Place

Direction = Literal["either way", "one way", "nap up", "nap down"]
DIRECTIONS: tuple[Direction, ...] = ("either way", "one way", "nap up", "nap down")


@dataclass(frozen=True, slots=True)
class Cloth:
    """A cloth as its file describes it. Lengths in mm, as the cloth lies in the shop.

    Attributes:
        name: as written; `slug` tells cloths apart.
        width: from selvedge to selvedge; `usable` is what lies between the selvedges.
        price: of the length `price_for` (a metre or a yard), or None.
        direction: "either way" when pieces may be turned end for end; else all lie the same way.
        repeat_across, repeat_along: of a stripe or plaid; 0 where there is none.
        first_bar: from the edge of the usable width to the first main bar.
        even: whether the pattern is the same in both directions from its main bar.
        shrinks_across, shrinks_along: share of the width and of the length that the first wash or steaming takes.
        stock: lengths at hand, the longest first.
        fibre, weight, about: as written.
    """

    name: str
    slug: str
    place: Place
    width: float
    usable: float
    price: Decimal | None = None
    price_for: float = 1000.0
    fibre: str = ""
    weight: str = ""
    direction: Direction = "either way"
    repeat_across: float = 0.0
    repeat_along: float = 0.0
    first_bar: float = 0.0
    even: bool = True
    shrinks_across: float = 0.0
    shrinks_along: float = 0.0
    stock: tuple[float, ...] = ()
    about: str = ""

    @property
    def is_one_way(self) -> bool:
        """Whether all pieces must lie the same way up: a nap, a figure with a head, or an uneven pattern."""
        return self.direction != "either way" or (self.is_matched and not self.even)

    @property
    def is_matched(self) -> bool:
        """Whether it has a stripe or plaid that must meet at the seams."""
        return self.repeat_across > 0 or self.repeat_along > 0

    @property
    def ready_width(self) -> float:
        """mm between the selvedges once it has shrunk: what pieces are laid on."""
        return self.usable * (1.0 - self.shrinks_across)

    def bought(self, length: float) -> float:
        """mm to buy so that `length` is left when it has shrunk."""
        return length / (1.0 - self.shrinks_along)

    def stock_for(self, length: float) -> float | None:
        """The shortest length at hand that gives `length` (bought, mm); None when none does."""
        return min((piece for piece in self.stock if piece >= length - 1e-6), default=None)


@dataclass(frozen=True, slots=True)
class Cloths:
    """The cloths of a studio, by slug, in the file's order, and what is wrong with their file.

    `broken` are the slugs of cloths that are described with a mistake too large to use them.
    """

    by_slug: Mapping[str, Cloth] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    broken: frozenset[str] = frozenset()
