"""Drawing in millimetres, y down, written as PDF operators."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from math import cos, radians, sin

from catalogue.drawing.canvas import Anchor, LineKind
from catalogue.drawing.linestyles import STYLES, LineStyle
from catalogue.drawing.markup import formatted
from catalogue.geometry import Cubic, Path, Point
from catalogue.sheets.embedding import FontBook
from catalogue.sheets.structure import TAGS, Marked

_TONES = {"paper": 1.0, "ink": 0.0, "accent": 0.35, "light": 0.92}
_QUIET = "0.38"
_ROUND = 0.5522847498  # handle length of a quarter circle, of its radius

CUT, SEAM, MARKS, LABELS, GRID = "cut", "seam", "marks", "labels", "grid"
_PART_OF_LINE = {LineKind.CUT: CUT, LineKind.FOLD: CUT, LineKind.SEAM: SEAM, LineKind.STITCH: SEAM}
_PART_OF_GROUP = {"square": "", "grid": GRID, "leader": LABELS, "always": ""}  # "" is in no layer


class _Ink:
    """Operators that are shown together, and the graphics state they leave."""

    __slots__ = ("line", "operators", "tone")

    def __init__(self) -> None:
        self.operators: list[str] = []
        self.line: LineStyle | None = None
        self.tone = ""  # whatever was drawn before


class PdfCanvas:
    """Gathers PDF operators for content in millimetres, x right, y down.

    Whoever places the content turns the y axis: see `flipped`.

    Args:
        layers: the name of the layer (in the file) of each part of a drawing that has one: `CUT`, `SEAM`, `MARKS`,
            `LABELS`, `GRID`.
        tagged: groups tell reading programmes what is what (see `structure`).

    Attributes:
        owner: name of a further layer that all that is drawn from now on belongs to, or "".
        styles: how each kind of line is drawn from now on.
    """

    def __init__(
        self, fonts: FontBook, *, layers: Mapping[str, str] | None = None, tagged: bool = False
    ) -> None:
        self._fonts = fonts
        self._layers = layers or {}
        self._tagged = tagged
        self._groups: list[tuple[bool, str | None]] = []  # whether marked on the page; the part it decides
        self._part: str | None = None
        self._inks: dict[tuple[str, str], _Ink] = {}
        self.owner = ""
        self.styles: Mapping[LineKind, LineStyle] = STYLES
        self.marked: list[Marked] = []
        self._last: tuple[Path, str] | None = None  # a path and its operators: filled, and then drawn round

    def open_group(self, name: str, *, kind: str = "", title: str = "") -> None:
        opens = self._tagged and kind in TAGS and not any(marked for marked, _ in self._groups)
        if opens:
            tag = TAGS[kind]
            self.literal(f"EMC /{tag} <</MCID {len(self.marked)}>> BDC")
            self.marked.append(Marked(tag, title or name))
        self._groups.append((opens, self._part))
        self._part = _PART_OF_GROUP.get(kind, self._part)

    def close_group(self) -> None:
        opened, self._part = self._groups.pop()
        if opened:
            self.literal("EMC /Artifact BMC")

    def stroke(self, path: Path, line: LineKind, *, closed: bool = False) -> None:
        ink = self._lined(line)
        ink.operators.append(self._made(path) + (" s" if closed else " S"))

    def fill(self, path: Path, tone: str) -> None:
        ink = self._toned(formatted(_TONES[tone]), MARKS)
        ink.operators.append(self._made(path) + " f")

    def _made(self, path: Path) -> str:
        if self._last is None or self._last[0] is not path:
            self._last = path, path_operators(path)
        return self._last[1]

    def dot(self, at: Point, radius: float, *, filled: bool = True, line: LineKind = LineKind.MARK) -> None:
        ink = self._toned(formatted(self.styles[line].tone), MARKS) if filled else self._lined(line)
        ink.operators.append(_circle(at, radius) + (" f" if filled else " s"))

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
        if not words or words.isspace():
            return
        wide, shown = self._fonts.typeset(words, size, bold="strong" in kind)
        back = 0.0 if anchor == "start" else wide * size if anchor == "end" else 0.5 * wide * size
        ink = self._toned(_QUIET if "quiet" in kind else "0", LABELS)
        x, y = at
        if angle:
            c, s = cos(radians(angle)), sin(radians(angle))
            matrix = " ".join(five_decimals(v) for v in (c, s, s, -c))
            x, y = x - back * c, y - back * s
        else:
            matrix = "1 0 0 -1"
            x -= back
        ink.operators.append(f"BT {matrix} {x:.2f} {y:.2f} Tm {shown} ET")

    def literal(self, operators: str) -> None:
        """Put raw operators in; the graphics state is taken as unknown afterwards."""
        ink = self._ink("")
        ink.operators.append(operators)
        ink.line, ink.tone = None, ""

    def content(self) -> str:
        parts = ["/Artifact BMC"] if self._tagged else []
        parts.append("1 j")
        for layers, ink in self._inks.items():
            names = [layer for layer in layers if layer]
            if not names:
                parts += ink.operators
                continue
            # Each part begins from the state the page begins with.
            parts += [
                *(f"/OC /{name} BDC" for name in names),
                "q",
                *ink.operators,
                "Q",
                *("EMC" for _ in names),
            ]
        if self._tagged:
            parts.append("EMC")
        return "\n".join(parts)

    def _ink(self, part: str) -> _Ink:
        """The ink for a part of the drawing, unless the group drawn in decides."""
        key = self.owner, self._layers.get(part if self._part is None else self._part, "")
        ink = self._inks.get(key)
        if ink is None:
            ink = self._inks[key] = _Ink()
        return ink

    def _lined(self, line: LineKind) -> _Ink:
        ink = self._ink(_PART_OF_LINE.get(line, MARKS))
        style = self.styles[line]
        if style is not ink.line:
            ink.operators.append(_pen(style))
            ink.line = style
        return ink

    def _toned(self, tone: str, part: str) -> _Ink:
        ink = self._ink(part)
        if tone != ink.tone:
            ink.operators.append(f"{tone} g")
            ink.tone = tone
        return ink


def five_decimals(value: float) -> str:
    """A factor of a matrix: five decimals, for over a metre they stay within a hundredth of a millimetre."""
    text = f"{value:.5f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def flipped(height: float) -> str:
    """The operator that turns y-down millimetres into y-up ones of a space `height` mm tall."""
    return f"1 0 0 -1 0 {formatted(height)} cm"


def path_operators(path: Path) -> str:
    """The operators that make a path, to a hundredth of a millimetre: finer than any plotter steps."""
    x, y = path.start
    parts = [f"{x:.2f} {y:.2f} m"]
    for s in path.segments:
        x, y = s.end
        if isinstance(s, Cubic):
            (ax, ay), (bx, by) = s.c1, s.c2
            parts.append(f"{ax:.2f} {ay:.2f} {bx:.2f} {by:.2f} {x:.2f} {y:.2f} c")
        else:
            parts.append(f"{x:.2f} {y:.2f} l")
    return " ".join(parts)


def _circle(at: Point, r: float) -> str:
    x, y, k = at[0], at[1], r * _ROUND
    return (
        f"{x + r:.2f} {y:.2f} m {x + r:.2f} {y + k:.2f} {x + k:.2f} {y + r:.2f} {x:.2f} {y + r:.2f} c "
        f"{x - k:.2f} {y + r:.2f} {x - r:.2f} {y + k:.2f} {x - r:.2f} {y:.2f} c "
        f"{x - r:.2f} {y - k:.2f} {x - k:.2f} {y - r:.2f} {x:.2f} {y - r:.2f} c "
        f"{x + k:.2f} {y - r:.2f} {x + r:.2f} {y - k:.2f} {x + r:.2f} {y:.2f} c"
    )


@lru_cache(maxsize=256)
def _pen(style: LineStyle) -> str:
    """The operators that set the width, dashes and tone of a line."""
    dash = " ".join(formatted(d) for d in style.dash)
    return f"{formatted(style.width)} w [{dash}] 0 d {formatted(style.tone)} G"
