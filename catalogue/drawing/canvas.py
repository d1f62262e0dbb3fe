"""The one drawing vocabulary: what a drafted piece is drawn with, whatever the output.

Everything that shows a pattern (SVG, PDF, DXF, bounds) is a small class with these few verbs, so that no output
can disagree with another. Coordinates are millimetres, x right, y down.
"""

from __future__ import annotations

from enum import Enum
from typing import Literal, Protocol, TypedDict, Unpack

from catalogue.geometry import Path, Point

Anchor = Literal["start", "middle", "end"]


class LineKind(Enum):
    """Kinds of line on a pattern sheet. Widths and dashes follow ISO 128's line types and the trade's sheets."""

    CUT = "cut"  # cutting line: continuous, wide
    SEAM = "seam"  # sewing line: dashed, narrow
    STITCH = "stitch"  # stitching inside the piece: drawn as the sewing line is
    FOLD = "fold"  # fold of cloth: long chain-dotted
    GRAIN = "grain"  # grain line: continuous, narrow, arrow at each end
    DART = "dart"  # dart legs and fold
    PLEAT = "pleat"  # pleat fold lines
    GUIDE = "guide"  # construction line: thin
    NOTCH = "notch"
    MARK = "mark"  # drill holes, buttons
    PLACEMENT = "placement"  # where something is laid on: a pocket, the next page of a sheet: dotted
    FRAME = "frame"  # tile frames, calibration squares, tables


class Lettering(TypedDict, total=False):
    """What may be said of words besides their place and size: the named parts of `Canvas.text`."""

    anchor: Anchor
    angle: float
    kind: str


class Canvas(Protocol):
    """What an output must be able to do."""

    def open_group(self, name: str, *, kind: str = "", title: str = "") -> None:
        """Start a named group (a piece, a layer). Groups nest."""

    def close_group(self) -> None: ...

    def stroke(self, path: Path, line: LineKind, *, closed: bool = False) -> None:
        """Draw a path as a line of that kind, true curves kept."""

    def fill(self, path: Path, tone: str) -> None:
        """Fill a closed path; `tone` is "paper", "ink", "accent" or "light"."""

    def dot(
        self, at: Point, radius: float, *, filled: bool = True, line: LineKind = LineKind.MARK
    ) -> None: ...

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
        """Write words with the baseline at `at`; `size` is the type size (1 em) in mm, `angle` in degrees clockwise.

        `kind` holds words for the letter: "strong" is bold, "quiet" is grey.
        """


class PassingCanvas:
    """Passes everything on to another canvas; one that changes something inherits from it and overrides only that."""

    def __init__(self, canvas: Canvas) -> None:
        self.canvas = canvas

    def open_group(self, name: str, *, kind: str = "", title: str = "") -> None:
        self.canvas.open_group(name, kind=kind, title=title)

    def close_group(self) -> None:
        self.canvas.close_group()

    def stroke(self, path: Path, line: LineKind, *, closed: bool = False) -> None:
        self.canvas.stroke(path, line, closed=closed)

    def fill(self, path: Path, tone: str) -> None:
        self.canvas.fill(path, tone)

    def dot(self, at: Point, radius: float, *, filled: bool = True, line: LineKind = LineKind.MARK) -> None:
        self.canvas.dot(at, radius, filled=filled, line=line)

    def text(self, at: Point, words: str, size: float, **lettering: Unpack[Lettering]) -> None:
        self.canvas.text(at, words, size, **lettering)
