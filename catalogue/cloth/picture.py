"""A lay as a picture: the cloth, and every cut on it with its piece's letter."""

from __future__ import annotations

from collections.abc import Mapping

from catalogue.cloth.lay import Lay
from catalogue.drawing.canvas import LineKind
from catalogue.drawing.svg import SvgCanvas
from catalogue.geometry import Box, Path, Point

MARGIN = 20.0
"""mm of the cloth's scale round the picture."""


def lay_picture(lay: Lay, letters: Mapping[str, str], title: str, description: str) -> str:
    """An SVG of a lay, the cloth's beginning on the left; `letters` are those of the pieces by name."""
    turned = [tuple(Point(p.y, p.x) for p in laid.outline) for laid in lay.pieces]
    box = Box(0.0, 0.0, lay.length, lay.width)
    scale = max(lay.width / 140.0, 1.0)
    canvas = SvgCanvas(box.grown(MARGIN), title=title, description=description, weight=0.35 * scale)
    canvas.open_group("cloth", kind="cloth")
    frame = [
        Point(0, 0),
        Point(lay.length, 0),
        Point(lay.length, lay.width),
        Point(0, lay.width),
        Point(0, 0),
    ]
    canvas.stroke(Path.polyline(frame), LineKind.FRAME, closed=True)
    canvas.close_group()
    for laid, outline in zip(lay.pieces, turned, strict=True):
        canvas.open_group(laid.name, kind="piece")
        path = Path.polyline((*outline, outline[0]))
        canvas.fill(path, "paper")
        canvas.stroke(path, LineKind.CUT, closed=True)
        around = Box.around(outline)
        size = min(9.0 * scale, around.height * 0.5, around.width * 0.5)
        canvas.text(around.centre + Point(0, size / 3), letters.get(laid.name, ""), size, anchor="middle")
        canvas.close_group()
    return canvas.tostring()
