"""One piece as a plain SVG at true size, for plotters and cutters: lines only, each kind in a group of its own.

Nothing in it needs a style sheet, a font or a program that knows patterns: every line has its stroke on itself, and a
machine can leave out a group by its name (cut, seam, notches, fold, grain, marks).
"""

from __future__ import annotations

from collections.abc import Iterable

from catalogue.drawing.markup import escaped, formatted, path_data, quoted, view_box
from catalogue.drawing.parts import Parts, Tick, parts_of
from catalogue.geometry import Box, Path, Point
from catalogue.pattern import Piece

MARGIN = 5.0
"""mm of blank round the piece."""

STROKE = 0.25
"""mm; a cutter follows the middle of it."""

CROSS = 2.0
"""mm from the middle of a drill mark to the end of its arms."""


def piece_svg(piece: Piece, cut_line: Path | None, *, title: str = "", parts: Parts | None = None) -> str:
    """The file's text.

    Args:
        title: names the piece and whose it is, for people who open it.
        parts: the parts of the piece, where they are known.
    """
    parts = parts or parts_of(piece, cut_line)
    groups: list[tuple[str, str, list[tuple[str, str]]]] = [
        ("cut", "", [(path_data(parts.cut, closed=True), "")]),
        ("seam", "4 2", [(path_data(parts.seam, closed=True), "")] if parts.seam != parts.cut else []),
        (
            "notches",
            "",
            [(path_data(Path.line(t.at_cut, _end(t))), "") for t in parts.ticks],
        ),
        ("fold", "12 2 2 2", [(path_data(path), "") for path in parts.folds]),
        ("grain", "", [(path_data(parts.grain), "")] if parts.grain else []),
        (
            "marks",
            "",
            [(path_data(p), k) for k, p in parts.inner] + [(_cross(p), k) for k, p in parts.drills],
        ),
    ]
    return _written(_box(parts.cut, [p for _, p in parts.inner]), title or piece.title, groups)


def _end(tick: Tick) -> Point:
    """Where a tick ends: at the seam line, or 5 mm into a piece that is cut along it."""
    return tick.at_seam if tick.at_cut.distance(tick.at_seam) > 1.0 else tick.at_seam + tick.inward * 5.0


def _cross(at: Point) -> str:
    across, down = Point(CROSS, 0.0), Point(0.0, CROSS)
    return path_data(Path.line(at - across, at + across)) + path_data(Path.line(at - down, at + down))


def _box(cut: Path, inner: Iterable[Path]) -> Box:
    box = cut.bounds()
    for path in inner:
        box = box.union(path.bounds())
    return box.grown(MARGIN)


def _written(box: Box, title: str, groups: Iterable[tuple[str, str, list[tuple[str, str]]]]) -> str:
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{formatted(box.width)}mm" height="{formatted(box.height)}mm" '
        f'viewBox="{view_box(box, formatted)}">',
        f"<title>{escaped(title)}</title>",
    ]
    for name, dash, paths in groups:
        if not paths:
            continue
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        lines.append(f'<g id="{name}" fill="none" stroke="#000000" stroke-width="{STROKE}"{dashes}>')
        for data, kind in paths:
            kinds = f' class="{quoted(kind)}"' if kind else ""
            lines.append(f'<path{kinds} d="{data}"/>')
        lines.append("</g>")
    return "\n".join([*lines, "</svg>", ""])
