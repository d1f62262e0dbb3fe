"""A lay of a known cloth: how the cloth is spread, what lies where on the table and on the cloth opened out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

from catalogue.cloth.cloths import Cloth
from catalogue.cloth.forms import Outline
from catalogue.cloth.lay import LaidCut

How = Literal["single", "lengthwise", "crosswise"]
GAP = 3.0
"""mm left between pieces (common practice, no source)."""
EDGE = 1e-6
"""mm by which a piece may be too wide through rounding alone."""


class TableCut(NamedTuple):
    """A piece as it lies on the table: its outline from the section's corner, and through how many layers it is cut."""

    name: str
    outline: Outline
    layers: int = 1
    on_fold: bool = False


class LaySection(NamedTuple):
    """A stretch of cloth as it is spread.

    Attributes:
        how: single, or folded; lengthwise with the fold at x = 0, crosswise with the fold at y = 0.
        start: mm from the end of the cloth, laid flat, to where it begins.
        width, length: mm as it lies on the table.
    """

    how: How
    start: float
    width: float
    length: float
    cuts: tuple[TableCut, ...]

    @property
    def takes(self) -> float:
        """mm of cloth, laid flat."""
        return self.length * (2 if self.how == "crosswise" else 1)


class WidePiece(NamedTuple):
    """A piece that does not fit across its cloth: mm that it takes, and mm that there are."""

    name: str
    across: float
    width: float


class MetPoint(NamedTuple):
    """A point that must meet another: what, and mm by which they miss on the cloth's pattern, at worst."""

    what: str
    first: str
    second: str
    miss: float


@dataclass(frozen=True, slots=True)
class ClothLay:
    """All that is cut from one cloth, laid out.

    Attributes:
        use: "main", "lining", ... as the pieces say.
        width: mm between the selvedges, the cloth shrunk.
        length: mm of cloth, shrunk; `bought` is what to ask for.
        sections: as the cloth is spread, one after the other.
        flat: every cut where it lies when the cloth is opened out, mm from the selvedge and from the end.
        too_wide: pieces that are left out.
        met: points on the cloth's pattern.
        problems: what the check of the lay found wrong; a lay with any is not to be cut by.
        good: whether it was searched for at length.
    """

    cloth: Cloth
    use: str
    width: float
    length: float
    sections: tuple[LaySection, ...]
    flat: tuple[LaidCut, ...]
    too_wide: tuple[WidePiece, ...] = ()
    met: tuple[MetPoint, ...] = ()
    problems: tuple[str, ...] = ()
    good: bool = False

    @property
    def bought(self) -> float:
        return self.cloth.bought(self.length)

    @property
    def how(self) -> How:
        return self.sections[0].how if self.sections else "single"

    @property
    def used(self) -> float:
        """Share of the cloth that lies under pieces."""
        from shapely.geometry import Polygon

        area = sum(Polygon(cut.outline).area for cut in self.flat)
        return float(area / (self.width * self.length)) if self.length else 0.0


def repeats_of(cloth: Cloth) -> tuple[float, float]:
    """The repeats across and along of the cloth as it is cut, once it has shrunk."""
    return (
        cloth.repeat_across * (1.0 - cloth.shrinks_across),
        cloth.repeat_along * (1.0 - cloth.shrinks_along),
    )
