"""One view of a garment: what is painted, from behind to the front, and its elements as SVG."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from catalogue.drawing.markup import formatted as number
from catalogue.drawing.patch import FINE, Polyline
from catalogue.geometry import Point
from catalogue.geometry.arrays import coordinates

STYLE = (
    "path{fill:none;stroke:#231f1a;vector-effect:non-scaling-stroke;stroke-width:1;stroke-linejoin:round;"
    "stroke-linecap:round}"
    ".body{stroke:#b9ae9b}.cloth{fill:#fffdf8;stroke:none}.inside{fill:#e9e1d2}.edge{stroke-width:2.1}"
    ".dart,.gather{stroke-width:.9}.stitch{stroke-width:.8;stroke-dasharray:3.5 2.5}.button{fill:#fffdf8}"
    "@media(prefers-color-scheme:dark){path{stroke:#ece5d8}.body{stroke:#6f675b}.cloth,.button{fill:#34302a}"
    ".inside{fill:#211e1a}}"
)
BUTTON = 5.5
"""Radius of a button in a flat drawing, mm."""


@dataclass(slots=True)
class View:
    """One view, painted from behind to the front.

    Attributes:
        strokes: class of line, points, and whether it is closed.
        outline: the outer edge of everything together.
    """

    strokes: list[tuple[str, Polyline, bool]] = field(default_factory=list)
    outline: Polyline = field(default_factory=list)
    buttons: list[Point] = field(default_factory=list)

    def fill(self, shape: Polyline, kind: str = "cloth") -> None:
        self.strokes.append((kind, shape, True))

    def line(self, points: Polyline, kind: str = "seam") -> None:
        self.strokes.append((kind, points, False))

    def line_once(self, points: Polyline, kind: str = "seam") -> None:
        """A line, unless it is there already."""
        if (kind, points, False) not in self.strokes:
            self.line(points, kind)

    def shape(self, points: Polyline) -> None:
        """A closed shape of cloth with its edge drawn."""
        self.fill(points)
        self.strokes.append(("seam", points, True))

    def thin(self) -> None:
        """Leave out points that change nothing to the eye."""
        lines = thinned([line for _, line, _ in self.strokes])
        self.strokes = [
            (kind, line, closed) for (kind, _, closed), line in zip(self.strokes, lines, strict=True)
        ]

    @property
    def shapes(self) -> list[Polyline]:
        return [line for kind, line, _ in self.strokes if kind == "cloth"]


def view_svg(view: View) -> str:
    """The elements of a thinned view; their look comes from `STYLE`."""
    written: dict[tuple[int, bool], str] = {}  # What a shape is filled and edged with is the same line.
    parts = []
    for kind, line, closed in [*view.strokes, ("edge", view.outline, True)]:
        key = id(line), closed
        if key not in written:
            written[key] = _data(line, closed)
        parts.append(f'<path class="{kind}" d="{written[key]}"/>')
    r = number(BUTTON)
    for p in view.buttons:
        across = f"a{r} {r} 0 1 1 {number(2 * BUTTON)} 0a{r} {r} 0 1 1 {number(-2 * BUTTON)} 0Z"
        parts.append(f'<path class="button" d="M{number(p.x - BUTTON)} {number(p.y)}{across}"/>')
    return "".join(parts)


def _data(line: Polyline, closed: bool = False) -> str:
    spots = [f"{x:.1f} {y:.1f}" for x, y in line]
    return f"M{spots[0]}L{' '.join(spots[1:])}" + ("Z" if closed else "") if len(spots) > 1 else ""


def thinned(lines: Sequence[Polyline]) -> list[Polyline]:
    """Polylines without points that change nothing to the eye."""
    from numpy import repeat
    from shapely import get_coordinates, linestrings, simplify

    found = list(lines)
    long = {id(line): line for line in lines if len(line) > 2}
    if not long:
        return found
    # All at once: to hand over a line takes longer than to thin it.
    every = list(long.values())
    points = coordinates([p for line in every for p in line])
    made = linestrings(points, indices=repeat(range(len(every)), [len(line) for line in every]))
    thin, whose = get_coordinates(simplify(made, FINE, preserve_topology=False), return_index=True)
    kept: list[Polyline] = [[] for _ in every]
    for k, (x, y) in zip(whose.tolist(), thin.tolist(), strict=True):
        kept[k].append(Point(x, y))
    of = dict(zip(long, kept, strict=True))
    return [of.get(id(line), line) for line in found]
