"""The SVG back end: a file that stands alone, in real millimetres, with named groups and its own style sheet."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from typing import Any

from catalogue.drawing.canvas import Anchor, LineKind
from catalogue.drawing.linestyles import STYLES
from catalogue.geometry import Box, Cubic, Path, Point

# The families of the pages' own text; a picture on its own takes the first that the machine has.
FONTS = "'Workroom Sans', 'Noto Sans', 'Segoe UI', 'Helvetica Neue', Arial, sans-serif"
TONES: Mapping[str, str] = {"paper": "#fffdf8", "ink": "#1b1a17", "accent": "#8a3b2a", "light": "#efe9dd"}

_END = "</svg>"
_NOWHERE = Point(0.0, 0.0)


def figure(value: float) -> str:
    """A number as written into a file: at most three decimals, no trailing noughts, never "-0"."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path_data(path: Path, *, closed: bool = False, by: Point = _NOWHERE) -> str:
    """A path in SVG's words, absolute, with true curves; moved `by`."""
    n = figure
    dx, dy = by
    x, y = path.start
    parts = [f"M{n(x + dx)} {n(y + dy)}"]
    for s in path.segments:
        x, y = s.end
        if isinstance(s, Cubic):
            (ax, ay), (bx, b_y) = s.c1, s.c2
            parts.append(f"C{n(ax + dx)} {n(ay + dy)} {n(bx + dx)} {n(b_y + dy)} {n(x + dx)} {n(y + dy)}")
        else:
            parts.append(f"L{n(x + dx)} {n(y + dy)}")
    if closed:
        parts.append("Z")
    return "".join(parts)


def safe_id(name: str) -> str:
    """A name made fit for an XML id: letters of any script, digits and hyphens, starting with a letter."""
    text = re.sub(r"[^\w]+", "-", unicodedata.normalize("NFC", name)).strip("-")
    return text if text and text[0].isalpha() else f"n-{text}"


class SvgCanvas:
    """Draws into an SVG of `box` (mm), shown at true size.

    Args:
        box: the part of the plane to show.
        title, description: read out by screen readers.
        weight: factor on line widths and dashes, for drawings that will be shown much smaller than life.
        prefix: put before ids, so that several drawings can stand in one page.
        language: of the words in it.

    `shift` moves all that is drawn from then on.
    """

    def __init__(
        self,
        box: Box,
        *,
        title: str = "",
        description: str = "",
        weight: float = 1.0,
        prefix: str = "",
        language: str = "en",
    ) -> None:
        import svgwrite

        self._drawing = svgwrite.Drawing(
            size=(f"{figure(box.width)}mm", f"{figure(box.height)}mm"),
            viewBox=f"{figure(box.left)} {figure(box.top)} {figure(box.width)} {figure(box.height)}",
            debug=False,
        )
        root = self._drawing
        root.attribs.pop("xmlns:ev", None)
        root.attribs.update({"class": "pattern", "role": "img", "xml:lang": language})
        self._prefix = prefix
        self._ids: dict[str, int] = {}
        told = [(part, words) for part, words in (("title", title), ("desc", description)) if words]
        names = [self._unique(prefix + part) for part, _ in told]
        root.elements[:0] = [
            _Element(part, {"id": name}, words) for (part, words), name in zip(told, names, strict=True)
        ]
        if names:
            root.attribs["aria-labelledby"] = " ".join(names)
        self.shift = _NOWHERE
        self._weight = weight
        self._used: set[LineKind] = set()
        self._last: tuple[Path, Point, str] | None = (
            None  # a closed path and its data: filled, and then drawn round
        )
        self._body: list[str] = []  # elements and the starts and ends of groups, as they stand in the file

    def _unique(self, name: str) -> str:
        count = self._ids[name] = self._ids.get(name, 0) + 1
        return name if count == 1 else f"{name}-{count}"

    def open_group(self, name: str, *, kind: str = "", title: str = "") -> None:
        kinds = f' class="{_quoted(kind)}"' if kind else ""
        self._body.append(f'<g{kinds} id="{_quoted(self._unique(self._prefix + safe_id(name)))}">')
        if title:
            self._body.append(f"<title>{_escaped(title)}</title>")

    def close_group(self) -> None:
        last = self._body[-1]
        if last.startswith("<g"):
            self._body[-1] = f"{last[:-1]} />"  # nothing was put into it
        else:
            self._body.append("</g>")

    def stroke(self, path: Path, line: LineKind, *, closed: bool = False) -> None:
        self._used.add(line)
        data = self._closed(path) if closed else path_data(path, by=self.shift)
        self._body.append(f'<path d="{data}" class="{line.value}" />')

    def fill(self, path: Path, tone: str) -> None:
        self._body.append(f'<path d="{self._closed(path)}" class="fill-{_quoted(tone)}" />')

    def _closed(self, path: Path) -> str:
        if self._last is None or not (self._last[0] is path and self._last[1] is self.shift):
            self._last = path, self.shift, path_data(path, closed=True, by=self.shift)
        return self._last[2]

    def _spot(self, at: Point) -> tuple[str, str]:
        return figure(at[0] + self.shift[0]), figure(at[1] + self.shift[1])

    def dot(self, at: Point, radius: float, *, filled: bool = True, line: LineKind = LineKind.MARK) -> None:
        self._used.add(line)
        kind = f"{line.value} filled" if filled else line.value
        x, y = self._spot(at)
        self._body.append(f'<circle cx="{x}" cy="{y}" r="{figure(radius)}" class="{kind}" />')

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
        x, y = self._spot(at)
        more = f' text-anchor="{anchor}"' if anchor != "start" else ""
        if kind:
            more += f' class="{_quoted(kind)}"'
        if angle:
            more += f' transform="rotate({figure(angle)} {x} {y})"'
        start = f'<text x="{x}" y="{y}" font-size="{figure(size)}"{more}'
        self._body.append(f"{start}>{_escaped(words)}</text>" if words else f"{start} />")

    def style_sheet(self) -> str:
        """The rules for the kinds of line drawn so far."""
        rules = [
            ".pattern path,.pattern circle{fill:none;stroke-linecap:butt;stroke-linejoin:round}",
            f".pattern text{{font-family:{FONTS};fill:{TONES['ink']};font-variant-numeric:tabular-nums}}",
            ".pattern .strong{font-weight:650}",
            ".pattern .quiet{fill:#57534b}",
        ]
        rules += [f".pattern .fill-{tone}{{fill:{colour};stroke:none}}" for tone, colour in TONES.items()]
        for line in LineKind:
            if line in self._used:
                style = STYLES[line]
                dash = " ".join(figure(d * self._weight) for d in style.dash)
                pattern = f";stroke-dasharray:{dash}" if dash else ""
                width = figure(style.width * self._weight)
                rules.append(
                    f".pattern .{line.value}{{stroke:{_grey(style.tone)};stroke-width:{width}{pattern}}}"
                )
                rules.append(f".pattern .{line.value}.filled{{fill:{_grey(style.tone)};stroke:none}}")
        return "".join(rules)

    def tostring(self) -> str:
        """The whole file as text, the same for the same drawing."""
        root = self._drawing
        root.defs.elements.clear()
        root.defs.add(_Element("style", {"type": "text/css"}, self.style_sheet()))
        # What is drawn is written here: the library would make an element of every line and write that.
        head = str(root.tostring()).removesuffix(_END)
        return f'<?xml version="1.0" encoding="UTF-8"?>\n{head}{"".join(self._body)}{_END}\n'


class _Element:
    """What svgwrite needs of an element, without its checks of every attribute."""

    def __init__(self, name: str, attributes: Mapping[str, str], words: str = "") -> None:
        self._name = name
        self.attribs = dict(attributes)
        self._words = words

    def get_xml(self) -> Any:
        from xml.etree import ElementTree

        element = ElementTree.Element(self._name, self.attribs)
        if self._words:
            element.text = _clean(self._words)
        return element


def _clean(words: str) -> str:
    """Words without the control characters that XML forbids."""
    if words.isprintable():
        return words
    return "".join(c if c >= " " and c not in "\ufffe\uffff" else " " for c in words)


def _escaped(words: str) -> str:
    """Words as they stand between two tags."""
    return _clean(words).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _quoted(words: str) -> str:
    """Words as they stand in an attribute."""
    return _escaped(words).replace('"', "&quot;")


def _grey(tone: float) -> str:
    """Ink paled towards the paper."""
    parts = (round(ink + (255 - ink) * tone) for ink in (0x1B, 0x1A, 0x17))
    return "#" + "".join(f"{p:02x}" for p in parts)
