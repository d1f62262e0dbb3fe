"""Paths as SVG path data, and pieces drawn with the line kinds of a pattern sheet.

Lines get their look from classes in the style sheet: `seam`, `fold` (chain-dotted), `dart`, `grain`, `inner`, `notch`
and `mark`.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Iterator, Sequence

from markupsafe import escape

from catalogue.geometry import Box, Cubic, Path, Point, Segment
from catalogue.pattern import Mark, Notch, Piece

SAMPLES = 10
"""Straight bits that stand for one curve where only its rough course matters (placing labels)."""

_GOING_ON = re.compile("[CL]")


def number(value: float) -> str:
    """A coordinate to a tenth of a millimetre, as short as it can be written."""
    text = f"{value:.1f}"
    text = text[:-2] if text.endswith(".0") else text
    return "0" if text == "-0" else text


def pair(point: Point) -> str:
    return f"{number(point.x)} {number(point.y)}"


def path_data(path: Path, closed: bool = False) -> str:
    """The `d` of a path, curves kept as curves."""
    out = [f"M{pair(path.segments[0].start)}"]
    for segment in path.segments:
        if isinstance(segment, Cubic):
            out.append(f"C{pair(segment.c1)} {pair(segment.c2)} {pair(segment.end)}")
        else:
            out.append(f"L{pair(segment.end)}")
    if closed:
        out.append("Z")
    return "".join(out)


def rough(*segments: Segment) -> list[Point]:
    """Points along segments that follow one another, dense enough to keep labels off them."""
    points = [segments[0].start]
    for segment in segments:
        if isinstance(segment, Cubic):
            points += [segment.point_at(n / SAMPLES) for n in range(1, SAMPLES)]
        points.append(segment.end)
    return points


def bounds(shape: Point | Path | Piece) -> Box:
    """The box around a shape, mm."""
    if isinstance(shape, Piece):
        box = shape.outline.bounds()
        for dart in shape.darts:
            box = box.union(Box.around([dart.apex, dart.far_apex or dart.apex, dart.tip or dart.apex]))
        return box
    if isinstance(shape, Path):
        return shape.bounds()
    return Box(shape.x, shape.y, shape.x, shape.y)


def union(boxes: Iterable[Box]) -> Box | None:
    """The box around boxes; None for none."""
    whole: Box | None = None
    for box in boxes:
        whole = box if whole is None else whole.union(box)
    return whole


def piece_paths(piece: Piece, marks: bool = True, size: float = 0.0) -> Iterator[tuple[str, str]]:
    """Kind and path data of what is drawn of a piece: seam lines, folds, darts, inner lines, grain, and what is marked.

    Args:
        marks: with the grain line.
        size: height of small signs (notches, drill marks, buttons), mm; 0 leaves them out.
    """
    for edge in piece.edges:
        yield ("fold" if edge.fold else "seam"), path_data(edge.path)
    for dart in piece.darts:
        yield "dart", f"M{pair(dart.legs[0])}L{pair(dart.apex)}L{pair(dart.legs[1])}"
        if dart.far_apex is not None:
            yield "dart", f"M{pair(dart.legs[0])}L{pair(dart.far_apex)}L{pair(dart.legs[1])}"
    for line in piece.lines:
        yield ("fold" if line.kind in ("fold", "pleat") else "inner"), path_data(line.path)
    if marks and piece.grain is not None:
        yield "grain", arrow(*piece.grain)
    if size:
        for notch in piece.notches:
            yield "notch", _notch(piece, notch, size)
        for mark in piece.marks:
            if mark.kind != "label":
                yield "mark", _mark(mark, size)


def piece_lines(piece: Piece, marks: bool = True, size: float = 0.0) -> Iterator[str]:
    """SVG elements of a piece, its face first."""
    return drawn(piece, list(piece_paths(piece, marks, size)))


def drawn(
    piece: Piece, paths: Sequence[tuple[str, str]], had: Container[tuple[str, str]] = ()
) -> Iterator[str]:
    """SVG elements of a piece from its `piece_paths`, its face first; those that are in `had` are marked as kept."""
    sides = [data for _, data in paths[: len(piece.edges)]]
    yield f'<path class="face" d="{sides[0]}{"".join(map(_carried_on, sides[1:]))}Z"/>'
    for kind, data in paths:
        kept = " kept" if (kind, data) in had else ""
        yield f'<path class="{kind}{kept}" d="{data}"/>'


def _carried_on(data: str) -> str:
    """Path data without its start, to follow on other data that ends there."""
    first = _GOING_ON.search(data)
    return data[first.start() :] if first else ""


def _notch(piece: Piece, notch: Notch, size: float) -> str:
    """Ticks across the seam line, more of them inside than outside."""
    named = [e.path for e in piece.edges if e.name == notch.edge]
    path = named[0] if named else piece.outline
    at, _ = path.nearest(notch.at)
    ticks = []
    for n in range(notch.count):
        spot = min(max(at + (n - (notch.count - 1) / 2) * size * 0.5, 0.0), path.length)
        foot, inward = path.point_at(spot), path.tangent_at(spot).normal()
        ticks.append(f"M{pair(foot - inward * (size * 0.3))}L{pair(foot + inward * (size * 0.7))}")
    return "".join(ticks)


def _mark(mark: Mark, size: float) -> str:
    """A mark's sign: a ring for a button, a bar for an end, a slit with its ends for a buttonhole, else a cross."""
    at, along = mark.at, Point(1.0, 0.0).turned(mark.angle)
    across = along.turned(90)
    if mark.kind == "button":
        r = max(size * 0.4, 5.0)
        left, right = at - along * r, at + along * r
        half = f"A{number(r)} {number(r)} 0 0 1 "
        return f"M{pair(left)}{half}{pair(right)}{half}{pair(left)}Z"
    if mark.kind == "buttonhole":
        a, b = at - along * (mark.length / 2), at + along * (mark.length / 2)
        ends = "".join(f"M{pair(e - across * 2.5)}L{pair(e + across * 2.5)}" for e in (a, b))
        return f"M{pair(a)}L{pair(b)}{ends}"
    r = size * 0.4
    bars = (across,) if mark.kind == "end" else (along, across)
    return "".join(f"M{pair(at - bar * r)}L{pair(at + bar * r)}" for bar in bars)


def arrow(start: Point, end: Point) -> str:
    """A line with a head at each end, as grain is drawn."""
    along = end - start
    if along.length < 1e-6:
        return f"M{pair(start)}"
    size = min(along.length / 8, 14.0)
    back = along.unit() * size
    side = back.normal() * size * 0.4 if back.length else back
    heads = "".join(
        f"M{pair(tip + inward + side)}L{pair(tip)}L{pair(tip + inward - side)}"
        for tip, inward in ((start, back), (end, -back))
    )
    return f"M{pair(start)}L{pair(end)}{heads}"


def titled(title: str, words: str, name: str) -> tuple[str, str]:
    """What a screen reader says of a drawing: the opening attributes of its <svg>, and its first children."""
    attributes = f'role="img" aria-labelledby="{name}-t {name}-d"'
    inner = f'<title id="{name}-t">{escape(title)}</title><desc id="{name}-d">{escape(words)}</desc>'
    return attributes, inner
