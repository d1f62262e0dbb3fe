"""Canvases that draw nothing: one keeps what was drawn, one measures how far it reaches."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from math import cos, inf, radians, sin
from typing import Unpack

from catalogue.drawing.canvas import Anchor, Canvas, Lettering, LineKind
from catalogue.drawing.lettering import text_width
from catalogue.geometry import Box, Path, Point

_PLAIN: Lettering = {"anchor": "start", "angle": 0.0, "kind": ""}


def text_corners(at: Point, words: str, size: float, anchor: Anchor, angle: float) -> tuple[Point, ...]:
    """The corners of the space a line of text takes, by estimate: a little more than it needs."""
    wide = text_width(words, size)
    left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[anchor]
    c, s = cos(radians(angle)), sin(radians(angle))

    def place(x: float, y: float) -> Point:
        return Point(at[0] + x * c - y * s, at[1] + x * s + y * c)

    top, bottom = -0.8 * size, 0.22 * size
    return place(left, top), place(left + wide, top), place(left + wide, bottom), place(left, bottom)


@dataclass
class Recorder:
    """Keeps every call, to look at in tests or to draw again on another canvas."""

    calls: list[tuple[str, tuple[object, ...], dict[str, object]]] = field(default_factory=list)

    def _keep(self, verb: str, *args: object, **named: object) -> None:
        self.calls.append((verb, args, named))

    def open_group(self, name: str, *, kind: str = "", title: str = "") -> None:
        self._keep("open_group", name, kind=kind, title=title)

    def close_group(self) -> None:
        self._keep("close_group")

    def stroke(self, path: Path, line: LineKind, *, closed: bool = False) -> None:
        self._keep("stroke", path, line, closed=closed)

    def fill(self, path: Path, tone: str) -> None:
        self._keep("fill", path, tone)

    def dot(self, at: Point, radius: float, *, filled: bool = True, line: LineKind = LineKind.MARK) -> None:
        self._keep("dot", at, radius, filled=filled, line=line)

    def text(self, at: Point, words: str, size: float, **lettering: Unpack[Lettering]) -> None:
        self._keep("text", at, words, size, **{**_PLAIN, **lettering})

    def replay(self, canvas: Canvas) -> None:
        """Draw everything again on `canvas`."""
        for verb, args, named in self.calls:
            method: Callable[..., None] = getattr(canvas, verb)
            method(*args, **named)

    def of(self, verb: str) -> Iterator[tuple[tuple[object, ...], dict[str, object]]]:
        """The arguments of every call of one verb."""
        return ((args, named) for v, args, named in self.calls if v == verb)

    @property
    def words(self) -> list[str]:
        """Every text written, in order."""
        return [str(args[1]) for args, _ in self.of("text")]


class BoundsCanvas:
    """Measures the box of what is drawn (line widths left out, text by estimate)."""

    def __init__(self) -> None:
        self._left = self._top = inf
        self._right = self._bottom = -inf

    @property
    def box(self) -> Box | None:
        """What all that was drawn takes; None where nothing was."""
        box = Box(self._left, self._top, self._right, self._bottom)
        return box if box.left < inf else None

    def _take(self, left: float, top: float, right: float, bottom: float) -> None:
        if left < self._left:
            self._left = left
        if top < self._top:
            self._top = top
        if right > self._right:
            self._right = right
        if bottom > self._bottom:
            self._bottom = bottom

    def open_group(self, name: str, *, kind: str = "", title: str = "") -> None:
        pass

    def close_group(self) -> None:
        pass

    def stroke(self, path: Path, line: LineKind, *, closed: bool = False) -> None:
        self._take(*path.bounds())

    def fill(self, path: Path, tone: str) -> None:
        self._take(*path.bounds())

    def dot(self, at: Point, radius: float, *, filled: bool = True, line: LineKind = LineKind.MARK) -> None:
        self._take(at[0] - radius, at[1] - radius, at[0] + radius, at[1] + radius)

    def text(
        self,
        at: Point,
        words: str,
        size: float,
        *,
        anchor: Anchor = "start",
        angle: float = 0.0,
        kind: str = "",
    ) -> None:
        corners = text_corners(at, words, size, anchor, angle)
        xs, ys = [p[0] for p in corners], [p[1] for p in corners]
        self._take(min(xs), min(ys), max(xs), max(ys))
