"""A lay drawn as the cloth is spread, on any canvas: its beginning on the left, the selvedge or the fold at the top."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from catalogue.cloth.cloth_lay import ClothLay, LaySection, TableCut, repeats_of
from catalogue.drawing.canvas import Canvas, LineKind
from catalogue.drawing.svg import SvgCanvas
from catalogue.geometry import Box, Path, Point

BETWEEN = 120.0
"""mm of cloth's scale between two sections in a picture."""
MOST_BARS = 400


class NumberedCut(NamedTuple):
    """A cut as it is spoken of at the table: its number, and the section it lies in."""

    number: int
    section: LaySection
    cut: TableCut

    @property
    def from_edge(self) -> float:
        """mm from the selvedge, or from the fold, to the nearest point."""
        return min(p.x for p in self.cut.outline)

    @property
    def from_end(self) -> float:
        """mm from the beginning of the section to the nearest point."""
        return min(p.y for p in self.cut.outline)


def numbered(lay: ClothLay) -> list[NumberedCut]:
    """Every cut of a lay, section by section, in the order in which a cutter meets them."""
    found = []
    for section in lay.sections:
        cuts = sorted(section.cuts, key=lambda c: (min(p.y for p in c.outline), min(p.x for p in c.outline)))
        found += [(section, cut) for cut in cuts]
    return [NumberedCut(n, section, cut) for n, (section, cut) in enumerate(found, 1)]


def section_places(lay: ClothLay) -> Iterator[tuple[LaySection, float]]:
    """Each section with where it begins in a drawing, mm."""
    at = 0.0
    for section in lay.sections:
        yield section, at
        at += section.length + BETWEEN


def drawn_box(lay: ClothLay) -> Box:
    """What a drawing of the lay takes."""
    ends = [at + section.length for section, at in section_places(lay)]
    return Box(0.0, 0.0, max(ends, default=1.0), max((s.width for s in lay.sections), default=lay.width))


def draw_lay(canvas: Canvas, lay: ClothLay, letters: Mapping[str, str], size: float) -> None:
    """Draw every section and its cuts with numbers and letters of `size` mm, at the scale of the cloth."""
    across, along = repeats_of(lay.cloth)
    places = dict.fromkeys(lay.sections, 0.0) | dict(section_places(lay))
    for section, at in section_places(lay):
        canvas.open_group(f"cloth-{section.how}", kind="cloth")
        frame = [
            (at, 0.0),
            (at + section.length, 0.0),
            (at + section.length, section.width),
            (at, section.width),
        ]
        points = [Point(*corner) for corner in frame]
        canvas.stroke(Path.polyline([*points, points[0]]), LineKind.FRAME, closed=True)
        if section.how == "lengthwise":
            canvas.stroke(Path.line(points[0], points[1]), LineKind.FOLD)
        elif section.how == "crosswise":
            canvas.stroke(Path.line(points[0], points[3]), LineKind.FOLD)
        else:
            first = lay.cloth.first_bar * (1.0 - lay.cloth.shrinks_across)
            for x in _bars(first, across, section.width):
                canvas.stroke(Path.line(Point(at, x), Point(at + section.length, x)), LineKind.GUIDE)
            for y in _bars(0.0, along, section.length):
                canvas.stroke(Path.line(Point(at + y, 0.0), Point(at + y, section.width)), LineKind.GUIDE)
        canvas.close_group()
    for number, section, cut in numbered(lay):
        at = places[section]
        points = [Point(at + p.y, p.x) for p in cut.outline]
        canvas.open_group(cut.name, kind="piece")
        path = Path.polyline([*points, points[0]])
        canvas.fill(path, "paper")
        canvas.stroke(path, LineKind.CUT, closed=True)
        around = Box.around(points)
        words = f"{number} {letters.get(cut.name, '')}".strip()
        room = min(size, around.height * 0.5, around.width * 0.4)
        canvas.text(around.centre + Point(0.0, room / 3), words, room, anchor="middle")
        canvas.close_group()


def _bars(first: float, repeat: float, length: float) -> Iterator[float]:
    if repeat > 0 and length / repeat < MOST_BARS:
        at = first
        while at <= length:
            yield at
            at += repeat


def lay_svg(lay: ClothLay, letters: Mapping[str, str], title: str, description: str) -> str:
    """The lay as a picture for a page."""
    box = drawn_box(lay)
    scale = max(box.height / 140.0, 1.0)
    canvas = SvgCanvas(box.grown(20.0), title=title, description=description, weight=0.35 * scale)
    draw_lay(canvas, lay, letters, 8.0 * scale)
    return canvas.tostring()
