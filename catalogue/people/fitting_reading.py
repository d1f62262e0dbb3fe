"""Reading the fittings of a client file.

What a line means is settled where the alterations are known (`catalogue.drafting.fitting_plan`); here it is only taken
apart from what was seen and from what was decided about it later.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator
from typing import Protocol

from catalogue.days import WRITTEN, day_shown, if_turned_round, not_a_day, read_day
from catalogue.findings import Place, Severity
from catalogue.frontmatter import Front, FrontEntry
from catalogue.language.lines import without_comments
from catalogue.lengths import Units
from catalogue.people.client import MeasurementSet
from catalogue.people.fittings import FittingLine, FreeCorrection
from catalogue.slugs import slugify

DATE_TO_COME = "date-to-come"
"""Code of the finding on what is dated after the day it is read on; it goes when that day comes."""
MOST_LINES = 400
"""Lines of fittings in one client file: a fitting a month for thirty years."""
_HEAD = re.compile(rf"\s*({WRITTEN})\s*[,:]?\s*(?:of\s+)?(.*)")
_SEEN = re.compile(r"\s*(?:\s[-–—]|[,;(])\s*seen\s*:?\s*(.*?)\)?\s*$", re.IGNORECASE | re.DOTALL)
_SEEN_KEY = re.compile(r"\s*(?:\s[-–—]|[,;(])\s*seen\s*$", re.IGNORECASE)
_DECIDED = re.compile(rf"\s*[,;-]\s*(kept|dropped)(?:\s+on)?\s+({WRITTEN})\s*$", re.IGNORECASE)
_CORRECTION = re.compile(
    rf"\s*corrections?\s*(?:of|to|on|:)?\s+(.+?)\s*[,:]?\s+({WRITTEN})\s*$", re.IGNORECASE
)


class Reader(Protocol):
    """What reads the client file: it notes what is wrong, knows its sets, and is told which garments were fitted."""

    front: Front
    defaults: Units
    dated: tuple[MeasurementSet, ...]
    fitted: dict[str, Place]
    today: datetime.date | None

    def add(
        self, code: str, message: str, place: Place, hint: str = "", severity: Severity = Severity.ERROR
    ) -> None: ...

    def not_a_group(self, key: str, entry: FrontEntry, hint: str) -> None: ...

    def date(self, text: str, entry: FrontEntry) -> datetime.date | None: ...

    def is_to_come(self, date: datetime.date, entry: FrontEntry, what: str) -> bool: ...


def read_fittings(reader: Reader) -> tuple[FittingLine, ...]:
    """The fittings of a client file, in order of their days; what is wrong is noted by the reader."""
    entry = reader.front.mapping.get("fittings")
    if entry is None or entry.text == "":
        return ()
    if entry.mapping is None:
        reader.not_a_group(
            "fittings",
            entry,
            "Write the day and the garment, as in 2026-03-21 bodice-block: and each change below it after a dash.",
        )
        return ()
    lines = list(_groups(reader, entry))
    if len(lines) > MOST_LINES:
        reader.add(
            "too-long",
            f"a client file has at most {MOST_LINES} lines of fittings",
            lines[MOST_LINES].place,
            "Leave out those of garments long gone.",
        )
    first, order = (
        min((s.date for s in reader.dated if s.date is not None), default=None),
        reader.defaults.dates,
    )
    told = set()
    for line in lines:
        if first is not None and line.date < first and line.date not in told:
            told.add(line.date)
            reader.add(
                "before-measured",
                f"this fitting, {day_shown(line.date, order)}, is earlier than the first measurements, "
                f"{day_shown(first, order)}",
                line.place,
                if_turned_round(line.date, first.__le__, order, first) or "Check the year.",
                Severity.WARNING,
            )
    return tuple(sorted(lines[:MOST_LINES], key=lambda line: line.date))


def _groups(reader: Reader, entry: FrontEntry) -> Iterator[FittingLine]:
    for head, group in (entry.mapping or {}).items():
        found = _HEAD.fullmatch(head)
        if found is None:
            reader.add(
                "not-a-fitting",
                f"“{head}” should be a day and a garment",
                group.key_place,
                "Write the day and the style's name, as in 2026-03-21 bodice-block:",
            )
            continue
        day = reader.date(found.group(1), group)
        if day is None or reader.is_to_come(day, group, "fittings"):
            continue
        name = found.group(2).strip()
        if group.mapping is not None and not name:
            for garment, items in group.mapping.items():
                yield from _lines(reader, day, slugify(garment), items)
        elif not name:
            reader.add(
                "no-garment",
                "the garment that was fitted is missing",
                group.key_place,
                f"Write it after the day, as in {found.group(1)} bodice-block:",
            )
        else:
            yield from _lines(reader, day, slugify(name), group)


def _lines(reader: Reader, day: datetime.date, garment: str, group: FrontEntry) -> Iterator[FittingLine]:
    reader.fitted.setdefault(garment, group.key_place)
    if group.entries is None:
        if group.text:
            yield _line(reader, day, garment, group.text, group.place)
        else:
            hint = "Write each on a line of its own after a dash, as in - swayed back 6 mm."
            reader.add("no-changes", "what was changed is missing", group.key_place, hint)
        return
    for item in group.entries:
        if item.text is not None:
            yield _line(reader, day, garment, item.text, item.place)
        elif item.mapping is not None and len(item.mapping) == 1:
            # A colon and a blank make YAML take the line for a name with its value.
            [(key, value)] = item.mapping.items()
            if (seen := _SEEN_KEY.search(key)) and value.text is not None:
                yield _line(reader, day, garment, key[: seen.start()], value.key_place, value.text)
            else:
                yield _line(reader, day, garment, f"{key}: {value.text or ''}", value.key_place)
        else:
            reader.add("not-a-text", f"a change should be one line, not {item.kind}", item.place)


def _line(
    reader: Reader, day: datetime.date, garment: str, text: str, place: Place, seen: str = ""
) -> FittingLine:
    """The line without what was seen and what was decided, which may follow in either order."""
    decided, decided_on, order = "", None, reader.defaults.dates

    def without_decision(part: str) -> str:
        nonlocal decided, decided_on
        found = _DECIDED.search(part)
        if found is None:
            return part
        decided = found.group(1).casefold()
        decided_on = read_day(found.group(2), order)
        if decided_on is None:
            message, hint = not_a_day(found.group(2), order)
            reader.add("not-a-date", message, place, hint)
        return part[: found.start()]

    text, seen = without_decision(text), without_decision(seen)
    if found := _SEEN.search(text):
        text, seen = text[: found.start()], seen or without_decision(found.group(1))
    text = without_decision(text)
    if decided_on is not None and reader.today is not None and decided_on > reader.today:
        message = (
            f"the date {day_shown(decided_on, order)} is in the future, so “{decided}” does not count yet"
        )
        hint = "Write the day on which it was decided, as year-month-day."
        reader.add(DATE_TO_COME, message, place, hint, Severity.WARNING)
        decided, decided_on = "", None
    elif decided_on is not None and decided_on < day:
        message = f"“{decided} {day_shown(decided_on, order)}” is earlier than this fitting, {day_shown(day, order)}"
        hint = if_turned_round(decided_on, day.__le__, order, day) or "Check both years."
        reader.add("decided-before", message, place, hint, Severity.WARNING)
    lines = reader.front.lines
    source = lines[place.line - 1].rstrip()[:200] if 0 < place.line <= len(lines) else ""
    return FittingLine(
        day,
        garment,
        " ".join(text.split()),
        place,
        " ".join(seen.split()),
        decided,
        decided_on,
        source,
        order,
    )


def read_corrections(reader: Reader) -> tuple[FreeCorrection, ...]:
    """Headings such as “Correction of bodice-block, 2026-03-21” with their prose and draft blocks, by day."""
    found: list[FreeCorrection] = []
    head: tuple[str, datetime.date] | None = None
    prose: list[str] = []
    block: list[str] | None = None
    begins = 0
    for number, row in enumerate(reader.front.body.split("\n"), reader.front.body_line):
        if block is not None:
            if row.strip().startswith("```"):
                if head is not None:
                    place = Place(reader.front.file, begins)
                    found.append(
                        FreeCorrection(
                            head[1],
                            head[0],
                            "\n".join(prose).strip(),
                            "\n".join(block),
                            begins,
                            place,
                            reader.defaults.dates,
                        )
                    )
                block, prose = None, []
            else:
                block.append(without_comments(row))
        elif row.lstrip().startswith("#"):
            head, prose = None, []
            if match := _CORRECTION.fullmatch(row.lstrip().lstrip("#")):
                garment = slugify(match.group(1))
                place = Place(reader.front.file, number)
                if day := read_day(match.group(2), reader.defaults.dates):
                    head = (garment, day)
                    reader.fitted.setdefault(garment, place)
                else:
                    message, hint = not_a_day(match.group(2), reader.defaults.dates)
                    reader.add("not-a-date", message, place, hint)
        elif row.strip().startswith("```") and row.strip().lstrip("`").strip() == "draft":
            block, begins = [], number + 1
        else:
            prose.append(row)
    if block is not None and head is not None:
        reader.add(
            "open-fence",
            "the draft block of this correction is not closed",
            Place(reader.front.file, begins - 1),
            "End it with a line of three backticks: ```",
        )
    return tuple(sorted(found, key=lambda each: each.date))
