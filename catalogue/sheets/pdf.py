"""The PDF back end: drawing in millimetres, y down, written as PDF operators; and the file they go into."""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from math import cos, radians, sin
from typing import Any

from catalogue.drawing.canvas import Anchor, LineKind
from catalogue.drawing.linestyles import STYLES
from catalogue.drawing.svg import figure
from catalogue.geometry import Box, Cubic, Path, Point
from catalogue.sheets.embedding import FontBook
from catalogue.sheets.structure import TAGS, Marked, write_structure

POINTS = 72 / 25.4  # PDF units in one millimetre
_TONES = {"paper": 1.0, "ink": 0.0, "accent": 0.35, "light": 0.92}
_QUIET = 0.38
_ROUND = 0.5522847498  # handle length of a quarter circle, of its radius


class PdfCanvas:
    """Gathers PDF operators for content in millimetres, x right, y down.

    Whoever places the content turns the y axis: see `flipped`.
    """

    def __init__(self, fonts: FontBook, *, tagged: bool = False) -> None:
        self._fonts = fonts
        self._tagged = tagged
        self._groups: list[bool] = []  # for each open group, whether it is a marked part of the page
        self.marked: list[Marked] = []
        self._operators: list[str] = []
        self._line: LineKind | None = None
        self._fill = "0"
        self.forms: list[str] = []

    def open_group(self, name: str, *, kind: str = "", title: str = "") -> None:
        opens = self._tagged and kind in TAGS and not any(self._groups)
        if opens:
            tag = TAGS[kind]
            self.literal(f"EMC /{tag} <</MCID {len(self.marked)}>> BDC")
            self.marked.append(Marked(tag, title or name))
        self._groups.append(opens)

    def close_group(self) -> None:
        if self._groups.pop():
            self.literal("EMC /Artifact BMC")

    def stroke(self, path: Path, line: LineKind, *, closed: bool = False) -> None:
        self._set(line)
        self._operators.append(_path(path) + (" s" if closed else " S"))

    def fill(self, path: Path, tone: str) -> None:
        self._tone(figure(_TONES[tone]))
        self._operators.append(_path(path) + " f")

    def dot(self, at: Point, radius: float, *, filled: bool = True, line: LineKind = LineKind.MARK) -> None:
        if filled:
            self._tone(figure(STYLES[line].tone))
        else:
            self._set(line)
        self._operators.append(_circle(at, radius) + (" f" if filled else " s"))

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
        if not words.strip():
            return
        kinds = kind.split()
        shaped = self._fonts.line(words, bold="strong" in kinds)
        back = {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * shaped.width * size
        c, s = cos(radians(angle)), sin(radians(angle))
        self._tone(figure(_QUIET if "quiet" in kinds else 0.0))
        matrix = " ".join(figure5(v) for v in (c, s, s, -c))
        x, y = figure(at[0] - back * c), figure(at[1] - back * s)
        self._operators.append(f"BT {matrix} {x} {y} Tm {self._fonts.operators(shaped, size)} ET")

    def literal(self, operators: str) -> None:
        """Put raw operators in; the graphics state is taken as unknown afterwards."""
        self._operators.append(operators)
        self._line, self._fill = None, ""

    def content(self) -> str:
        if self._tagged:
            return "\n".join(["/Artifact BMC 1 j", *self._operators, "EMC"])
        return "\n".join(["1 j", *self._operators])

    def _set(self, line: LineKind) -> None:
        if line is not self._line:
            style = STYLES[line]
            dash = " ".join(figure(d) for d in style.dash)
            self._operators.append(f"{figure(style.width)} w [{dash}] 0 d {figure(style.tone)} G")
            self._line = line

    def _tone(self, tone: str) -> None:
        if tone != self._fill:
            self._operators.append(f"{tone} g")
            self._fill = tone


def figure5(value: float) -> str:
    """A factor of a matrix: five decimals, for over a metre they stay within a hundredth of a millimetre."""
    text = f"{value:.5f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def flipped(height: float) -> str:
    """The operator that turns y-down millimetres into y-up ones of a space `height` mm tall."""
    return f"1 0 0 -1 0 {figure(height)} cm"


def _path(path: Path) -> str:
    n = figure
    start = path.start
    parts = [f"{n(start[0])} {n(start[1])} m"]
    for s in path.segments:
        e = s.end
        if isinstance(s, Cubic):
            a, b = s.c1, s.c2
            parts.append(f"{n(a[0])} {n(a[1])} {n(b[0])} {n(b[1])} {n(e[0])} {n(e[1])} c")
        else:
            parts.append(f"{n(e[0])} {n(e[1])} l")
    return " ".join(parts)


def _circle(at: Point, r: float) -> str:
    x, y, k = at[0], at[1], r * _ROUND
    n = figure
    return (
        f"{n(x + r)} {n(y)} m {n(x + r)} {n(y + k)} {n(x + k)} {n(y + r)} {n(x)} {n(y + r)} c "
        f"{n(x - k)} {n(y + r)} {n(x - r)} {n(y + k)} {n(x - r)} {n(y)} c "
        f"{n(x - r)} {n(y - k)} {n(x - k)} {n(y - r)} {n(x)} {n(y - r)} c "
        f"{n(x + k)} {n(y - r)} {n(x + r)} {n(y - k)} {n(x + r)} {n(y)} c"
    )


class _NoFont:
    """Stands where reportlab wants a font to begin with, so that it puts none of its own into the file."""

    class face:
        name = "workroom-none"

    fontName = "workroom-none"
    _dynamicFont = 1
    _multiByte = 0


@lru_cache(maxsize=1)
def _reportlab() -> Any:
    """reportlab, set up for compact files."""
    from reportlab import rl_config
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfgen import canvas

    rl_config.useA85 = 0  # binary streams: a quarter smaller
    pdfmetrics.registerFont(_NoFont())
    return canvas


class PdfFile:
    """One PDF file being made: forms to be shared by pages, and pages in order.

    Args:
        title, subject, author: document properties; `day` is given as the day it was made.
    """

    def __init__(self, *, title: str, subject: str, author: str, day: date, language: str = "en-GB") -> None:
        from io import BytesIO

        self._canvas = _reportlab().Canvas(
            BytesIO(), invariant=1, pageCompression=1, initialFontName=_NoFont.fontName, pdfVersion=(1, 7),
            lang=language,
        )  # fmt: skip
        self.fonts = FontBook(self._canvas._doc)
        self._pages: list[list[Marked]] = []
        c = self._canvas
        c.setTitle(title)
        c.setSubject(subject)
        c.setAuthor(author)
        c.setCreator("pattern-catalogue")
        c.setProducer("pattern-catalogue, reportlab")
        c.setDateFormatter(lambda *_: f"D:{day:%Y%m%d}000000Z")
        c.setViewerPreference("DisplayDocTitle", "true")
        c.setViewerPreference("PrintScaling", "None")

    def canvas(self) -> PdfCanvas:
        """A canvas for the content of a form."""
        return PdfCanvas(self.fonts)

    def page(self) -> PdfCanvas:
        """A canvas for a page; its groups tell reading programmes what is what (see `structure`)."""
        return PdfCanvas(self.fonts, tagged=True)

    def add_form(self, name: str, content: PdfCanvas, width: float, height: float) -> None:
        """Keep content as a form of width x height mm, to be shown by any page with `place`."""
        c = self._canvas
        c.beginForm(name, 0, 0, round(width, 3), round(height, 3))
        c.addLiteral(f"{flipped(height)}\n{content.content()}")
        c.endForm()

    def place(self, page: PdfCanvas, name: str, form_height: float, shown: Box, at: Point) -> None:
        """Show the part `shown` (mm, y down) of a form with its top left corner at `at` of the page, clipped."""
        x, y = at[0] - shown.left, at[1] - shown.top
        n = figure
        box = f"{n(at[0])} {n(at[1])} {n(shown.width)} {n(shown.height)} re W n"
        shown_as = self._canvas._doc.getXObjectName(name)
        page.literal(f"q {box} 1 0 0 -1 {n(x)} {n(y + form_height)} cm /{shown_as} Do Q")
        page.forms.append(name)

    def add_page(self, content: PdfCanvas, width: float, height: float, label: str) -> None:
        """End a page of width x height mm; `label` is its name in a viewer's list of pages."""
        c = self._canvas
        c.setPageSize((width * POINTS, height * POINTS))
        k = f"{POINTS:.6f}"
        c._formsinuse.extend(content.forms)
        c.addLiteral(f"{k} 0 0 -{k} 0 {height * POINTS:.4f} cm\n{content.content()}")
        c.addPageLabel(len(self._pages), prefix=label)
        self._pages.append(content.marked)
        c.showPage()

    def bookmark(self, title: str, key: str, level: int = 0) -> None:
        """An entry in the outline, to the top of the page being made; call it before `add_page`."""
        self._canvas.bookmarkPage(key, fit="Fit")
        self._canvas.addOutlineEntry(title, key, level=level)

    def getvalue(self) -> bytes:
        write_structure(self._canvas._doc, self._pages)
        data: bytes = self._canvas.getpdfdata()
        return data
