"""Fittings in client files: what was seen and changed on a garment on a day, line by line as it was written down."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from catalogue.days import day_shown
from catalogue.findings import Place


@dataclass(frozen=True, slots=True)
class FittingLine:
    """One thing that was changed at a fitting.

    Attributes:
        date: the day of the fitting.
        garment: slug of the style that was on the body.
        text: what was changed, as written: "right shoulder 6 mm lower".
        place: where the text begins.
        seen: what was seen, as written; may be empty.
        decided: "kept" or "dropped" once a later measurement made one ask; with the day, `decided_on`.
        source: the whole line of the file.
        dates: what the studio writes first of a date, as in `Units`.
    """

    date: datetime.date
    garment: str
    text: str
    place: Place
    seen: str = ""
    decided: str = ""
    decided_on: datetime.date | None = None
    source: str = ""
    dates: str = ""

    @property
    def day(self) -> str:
        """The day of the fitting for messages."""
        return day_shown(self.date, self.dates)


@dataclass(frozen=True, slots=True)
class FreeCorrection:
    """Lines of the drafting language for one garment of this client: `source` begins at `line` of the file.

    `dates` is what the studio writes first of a date.
    """

    date: datetime.date
    garment: str
    prose: str
    source: str
    line: int
    place: Place
    dates: str = ""

    @property
    def day(self) -> str:
        """Its day for messages."""
        return day_shown(self.date, self.dates)
