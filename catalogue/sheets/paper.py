"""The papers a studio prints on."""

from __future__ import annotations

from typing import NamedTuple

from catalogue.findings import nearest


class Margins(NamedTuple):
    """What a printer leaves blank at each side, mm."""

    left: float
    top: float
    right: float
    bottom: float


class Paper(NamedTuple):
    """A paper, upright. Millimetres.

    Attributes:
        name: as the studio's settings call it ("a4").
        title: as people call it ("A4").
        margins: never printed on. Desk printers leave 3 to 6.35 mm; these are safe for most (common practice,
            no source).
        roll: the length is what the pattern needs; `height` is then the longest that is worth printing.
    """

    name: str
    title: str
    width: float
    height: float
    margins: Margins
    roll: bool = False

    @property
    def is_large(self) -> bool:
        """Printed on a plotter, not at a desk."""
        return self.roll or min(self.width, self.height) > 400.0

    def leaving(self, margin: float | None) -> Paper:
        """The same paper with one margin on all sides; None keeps its own."""
        if margin is None:
            return self
        return self._replace(margins=Margins(margin, margin, margin, margin))

    def landscape(self) -> Paper:
        """The same paper lying on its side."""
        m = self.margins
        return self._replace(
            width=self.height, height=self.width, margins=Margins(m.bottom, m.left, m.top, m.right)
        )


_DESK = Margins(5.0, 5.0, 5.0, 5.0)
_US = Margins(6.35, 6.35, 6.35, 6.35)
_PLOTTER = Margins(8.0, 8.0, 8.0, 8.0)
_INCH = 25.4


def _roll(name: str, title: str, width: float) -> Paper:
    # No page of a PDF may be longer than 14 400 units (ISO 32000-1, annex C.2): 5080 mm.
    return Paper(name, title, width, 5_000.0, _PLOTTER, roll=True)


# Sizes: ISO 216 for the A sizes, ANSI/ASME Y14.1 for Letter and Tabloid; Legal and rolls by common practice.
PAPERS: dict[str, Paper] = {
    p.name: p
    for p in (
        Paper("a4", "A4", 210.0, 297.0, _DESK),
        Paper("a3", "A3", 297.0, 420.0, _DESK),
        Paper("letter", "US Letter", 8.5 * _INCH, 11 * _INCH, _US),
        Paper("legal", "US Legal", 8.5 * _INCH, 14 * _INCH, _US),
        Paper("tabloid", "Tabloid", 11 * _INCH, 17 * _INCH, _US),
        Paper("a2", "A2", 420.0, 594.0, _PLOTTER),
        Paper("a1", "A1", 594.0, 841.0, _PLOTTER),
        Paper("a0", "A0", 841.0, 1189.0, _PLOTTER),
        _roll("roll-24in", "24 in roll", 24 * _INCH),
        _roll("roll-36in", "36 in roll", 36 * _INCH),
        _roll("roll-42in", "42 in roll", 42 * _INCH),
        _roll("roll-610mm", "610 mm roll", 610.0),
        _roll("roll-914mm", "914 mm roll", 914.0),
    )
}


def desk_paper(paper: Paper) -> Paper:
    """What the first page is printed on when the rest goes to a plotter: A4, or Letter beside rolls in inches."""
    if not paper.is_large:
        return paper
    return PAPERS["letter" if paper.name.endswith("in") else "a4"]


def paper_named(name: str) -> Paper:
    """The paper called `name`, in any spelling of case, blanks and hyphens.

    Raises KeyError with a sentence that names the nearest known paper.
    """
    key = name.strip().casefold().replace(" ", "-").replace("_", "-").removeprefix("us-")
    if key in PAPERS:
        return PAPERS[key]
    close = nearest(key, PAPERS)
    hint = f" Did you mean “{close[0]}”?" if close else f" Known: {', '.join(PAPERS)}."
    raise KeyError(f"no paper is called “{name}”.{hint}")
