"""A pattern piece is paper: an outline of named edges, and what is drawn on the paper inside it.

All values are immutable. Points are in millimetres, x to the right and y down, as on paper.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from catalogue.geometry import Path, Point


@dataclass(frozen=True, slots=True)
class Cut:
    """How often a piece is cut, and from what.

    Attributes:
        count: pieces to cut (a piece on the fold counts once).
        on_fold: the piece lies with its fold edge on a fold of the cloth.
        mirrored: pieces are cut in left-and-right pairs.
        cloth: which cloth: "main", "lining", "interfacing" or a name from the style's front matter.
    """

    count: int = 1
    on_fold: bool = False
    mirrored: bool = False
    cloth: str = "main"


@dataclass(frozen=True, slots=True)
class Edge:
    """One named side of a piece.

    Attributes:
        name: as the style file calls it, unique within the piece.
        path: the seam line from the edge's start to its end, dart mouths included.
        fold: True where the piece lies on a fold (no seam there, no allowance).
        allowance: mm outside the seam line; None means the style's default.
        corners: how its allowance ends: "mitred", "squared" to this edge, or "turned up" (mirrored, for hems);
            "" for the habit: hems are turned up, the rest mitred.
    """

    name: str
    path: Path
    fold: bool = False
    allowance: float | None = None
    corners: str = ""


@dataclass(frozen=True, slots=True)
class Dart:
    """A dart that opens at an edge, or a double-ended one inside the piece.

    Attributes:
        name: unique within the piece.
        edge: the edge its mouth lies on; "" for a double-ended dart.
        apex: where the fold ends.
        legs: the two ends of the mouth, in the edge's direction.
        tip: the point of the roof over the mouth (where the folded dart meets the seam line), None when
            the mouth is left straight.
        folded_to: an edge name or direction word that the fold is pressed to; "" when not said.
        far_apex: the second end of a double-ended dart.
    """

    name: str
    edge: str
    apex: Point
    legs: tuple[Point, Point]
    tip: Point | None = None
    folded_to: str = ""
    far_apex: Point | None = None

    @property
    def intake(self) -> float:
        """Width of the mouth, mm, straight across."""
        return (self.legs[1] - self.legs[0]).length


@dataclass(frozen=True, slots=True)
class Pleat:
    """A fold of cloth that opens at an edge. Its fold lines are among the piece's inner lines.

    Attributes:
        name: unique within the piece.
        edge: the edge it is folded at.
        mouth: the two points of the edge that meet when it is folded, in the edge's direction.
        kind: "knife", "box" or "inverted"; also "gathers" and "ease" for fullness that is not laid in folds.
        folded_to: direction word or edge name that the fold which is seen points to, on the right side of the cloth
            (the side that is drawn); what the pleat takes lies on the other side of that fold. "" when not said.
    """

    name: str
    edge: str
    mouth: tuple[Point, Point]
    kind: str = "knife"
    folded_to: str = ""


@dataclass(frozen=True, slots=True)
class Notch:
    """A mark across the seam line. `count` 1 for front and 2 for back, as the trade does."""

    edge: str
    at: Point
    count: int = 1
    name: str = ""


BUTTONHOLE = 14.0
"""mm that a buttonhole is long where the style does not say: a shirt button of 11 mm and 3 mm more (common practice, no
source)."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A point drawn on the piece: kind is "drill", "button", "buttonhole", "label", "end" or "point".

    `angle` is the direction of a buttonhole in degrees, `length` how long it is in mm.
    """

    at: Point
    kind: str = "point"
    text: str = ""
    angle: float = 0.0
    length: float = BUTTONHOLE


@dataclass(frozen=True, slots=True)
class InnerLine:
    """A line drawn inside the piece: kind is "fold", "stitch", "guide", "pleat", "arrow", "placement" or "lengthen"."""

    path: Path
    kind: str = "guide"
    text: str = ""


@dataclass(frozen=True, slots=True)
class Piece:
    """One pattern piece.

    Attributes:
        name: as the style file calls it.
        title: as printed ("Skirt front").
        edges: closed chain in drawing order; each edge starts where the one before it ends. y runs down and the
            chain runs clockwise on paper.
        grain: the two ends of the grain line, or None.
        points: named points on the paper, where they are now (they travel with the part they lie on).
        operations: what has been done to the paper, in order, in words.
    """

    name: str
    title: str
    edges: tuple[Edge, ...]
    cut: Cut = Cut()
    grain: tuple[Point, Point] | None = None
    darts: tuple[Dart, ...] = ()
    pleats: tuple[Pleat, ...] = ()
    notches: tuple[Notch, ...] = ()
    marks: tuple[Mark, ...] = ()
    lines: tuple[InnerLine, ...] = ()
    points: Mapping[str, Point] = field(default_factory=dict)
    operations: tuple[str, ...] = ()
    _outline: Path | None = field(default=None, init=False, repr=False, compare=False)
    _angles: dict[int, float] = field(default_factory=dict, init=False, repr=False, compare=False)

    @property
    def outline(self) -> Path:
        """The whole seam line as one closed path, dart mouths included. Put together once."""
        outline = self._outline
        if outline is None:
            outline = Path(tuple(s for e in self.edges for s in e.path.segments))
            object.__setattr__(self, "_outline", outline)
        return outline

    def angle(self, at: int) -> float:
        """The angle of the paper at the corner where an edge starts, by the edge's number; degrees. Worked out once."""
        found = self._angles.get(at)
        if found is None:
            into, out = self.edges[at - 1].path.arriving, self.edges[at].path.leaving
            found = 180.0 - math.degrees(math.atan2(into.cross(out), into.dot(out)))
            self._angles[at] = found
        return found

    def edge(self, name: str) -> Edge:
        """The edge called `name`. Raises KeyError when there is none."""
        for e in self.edges:
            if e.name == name:
                return e
        raise KeyError(name)

    def with_changes(self, **changes: object) -> Piece:
        made = replace(self, **changes)  # type: ignore[arg-type]
        if made.edges is self.edges:
            object.__setattr__(made, "_outline", self._outline)
            object.__setattr__(made, "_angles", self._angles)
        return made
