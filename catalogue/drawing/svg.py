"""The SVG back end: a file that stands alone, in real millimetres, with named groups and its own style sheet."""

from __future__ import annotations

from collections.abc import Mapping

from catalogue.drawing.canvas import Anchor, LineKind
from catalogue.drawing.linestyles import STYLES
from catalogue.drawing.markup import escaped, formatted, path_data, quoted, safe_id, view_box
from catalogue.geometry import Box, Path, Point

# The families of the pages' own text; a picture on its own takes the first that the machine has.
FONTS = "'Workroom Sans', 'Noto Sans', 'Segoe UI', 'Helvetica Neue', Arial, sans-serif"
TONES: Mapping[str, str] = {"paper": "#fffdf8", "ink": "#1b1a17", "accent": "#8a3b2a", "light": "#efe9dd"}

_NOWHERE = Point(0.0, 0.0)


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
        self._prefix = prefix
        self._ids: dict[str, int] = {}
        read_out = [(tag, words) for tag, words in (("title", title), ("desc", description)) if words]
        names = [self._unique(prefix + tag) for tag, _ in read_out]
        labelled = f'aria-labelledby="{quoted(" ".join(names))}" ' if names else ""
        self._head = (
            f'<svg {labelled}class="pattern" height="{formatted(box.height)}mm" role="img" '
            f'viewBox="{view_box(box, formatted)}" width="{formatted(box.width)}mm" '
            f'xml:lang="{quoted(language)}" xmlns="http://www.w3.org/2000/svg">'
        )
        for (tag, words), name in zip(read_out, names, strict=True):
            self._head += f'<{tag} id="{quoted(name)}">{escaped(words)}</{tag}>'
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
        kinds = f' class="{quoted(kind)}"' if kind else ""
        self._body.append(f'<g{kinds} id="{quoted(self._unique(self._prefix + safe_id(name)))}">')
        if title:
            self._body.append(f"<title>{escaped(title)}</title>")

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
        self._body.append(f'<path d="{self._closed(path)}" class="fill-{quoted(tone)}" />')

    def _closed(self, path: Path) -> str:
        if self._last is None or not (self._last[0] is path and self._last[1] is self.shift):
            self._last = path, self.shift, path_data(path, closed=True, by=self.shift)
        return self._last[2]

    def _spot(self, at: Point) -> tuple[str, str]:
        return formatted(at[0] + self.shift[0]), formatted(at[1] + self.shift[1])

    def dot(self, at: Point, radius: float, *, filled: bool = True, line: LineKind = LineKind.MARK) -> None:
        self._used.add(line)
        kind = f"{line.value} filled" if filled else line.value
        x, y = self._spot(at)
        self._body.append(f'<circle cx="{x}" cy="{y}" r="{formatted(radius)}" class="{kind}" />')

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
            more += f' class="{quoted(kind)}"'
        if angle:
            more += f' transform="rotate({formatted(angle)} {x} {y})"'
        start = f'<text x="{x}" y="{y}" font-size="{formatted(size)}"{more}'
        self._body.append(f"{start}>{escaped(words)}</text>" if words else f"{start} />")

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
                dash = " ".join(formatted(d * self._weight) for d in style.dash)
                pattern = f";stroke-dasharray:{dash}" if dash else ""
                width = formatted(style.width * self._weight)
                rules.append(
                    f".pattern .{line.value}{{stroke:{_grey(style.tone)};stroke-width:{width}{pattern}}}"
                )
                rules.append(f".pattern .{line.value}.filled{{fill:{_grey(style.tone)};stroke:none}}")
        return "".join(rules)

    def tostring(self) -> str:
        """The whole file as text, the same for the same drawing."""
        style = f'<defs><style type="text/css">{self.style_sheet()}</style></defs>'
        return f'<?xml version="1.0" encoding="UTF-8"?>\n{self._head}{style}{"".join(self._body)}</svg>\n'


def _grey(tone: float) -> str:
    """Ink paled towards the paper."""
    parts = (round(ink + (255 - ink) * tone) for ink in (0x1B, 0x1A, 0x17))
    return "#" + "".join(f"{p:02x}" for p in parts)
