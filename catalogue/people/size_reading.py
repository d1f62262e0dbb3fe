"""Tables of sizes, part by part: each method reads one part of the file and notes what is wrong with it."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from catalogue.findings import Place, Severity, Trouble
from catalogue.frontmatter import Front, FrontEntry
from catalogue.lengths import UNIT_WORDS, Unit, Units, show_length
from catalogue.people.client import Measured
from catalogue.people.front import FrontReader
from catalogue.people.judging import judge
from catalogue.people.measurements import Measurement
from catalogue.people.opening import read_file
from catalogue.people.register import REGISTER, Register
from catalogue.people.sizes import Size, SizeTable, named
from catalogue.people.steps import out_of_step
from catalogue.people.tables import Cell, Table, take_tables

MOST_SIZES = 60
LONGEST_NAME = 40
DASHES = frozenset("-‐‑‒–—−")
"""What is written in a cell where a size has no such measurement."""
_WITH_UNIT = re.compile(r"(.*?)\s*\(\s*([^()]+?)\.?\s*\)")


@dataclass(slots=True)
class _Column:
    """A size while it is read: head, and measurement key to what its column holds."""

    name: str
    place: Place
    values: dict[str, Measured] = field(default_factory=dict)
    weight: tuple[float, Place] | None = None


class SizeReader(FrontReader):
    """Reads one file of sizes that has been taken apart."""

    keys = ("name", "for", "units", "language", "sources", "garments", "choices")
    what = "table of sizes"
    measurements_belong = "in the table below the front matter, on a line of its own"

    def __init__(
        self,
        front: Front,
        slug: str,
        stem: str,
        digest: str,
        defaults: Units,
        register: Register = REGISTER,
    ) -> None:
        super().__init__(front, defaults, register)
        self.slug = slug
        self.stem = stem
        self.digest = digest
        self.columns: list[_Column] = []
        self.seen: dict[str, Place] = {}

    def table(self) -> SizeTable:
        """The table, findings and all."""
        self.unknown_keys()
        kind = self.kind()
        units = self.units()
        tables, left = take_tables(self.front.body.split("\n"), self.front.body_line, self.front.file)
        if not tables:
            hint = "Write | size | 36 | 38 |, a line of dashes | --- | --- | --- |, then each measurement on a line."
            self.add("no-table", "there are no sizes below the front matter", self.end(), hint)
        for table in tables:
            if self.heads(table):
                self.rows(table, units.primary)
        blank = next((i for i, line in enumerate(left) if line.strip()), len(left))
        garments = self.garments()
        made = SizeTable(
            slug=self.slug,
            file=self.front.file,
            name=self.name("the name of these sizes") or self.stem,
            kind=kind or "woman",
            units=units,
            sources=self.sources(),
            sizes=tuple(self.size(column) for column in self.columns),
            choices=self.choices(),
            choice_places=self.choice_places(),
            garments=tuple(garments),
            garment_places=garments,
            notes="\n".join(left[blank:]).rstrip(),
            notes_line=self.front.body_line + blank,
            lang=self.language(),
            digest=self.digest,
            register=self.register,
        )
        if kind:
            self.judge(made)
        self.findings.sort(key=lambda f: f.place or Place(self.front.file))
        return replace(made, findings=tuple(self.findings))

    def end(self) -> Place:
        """Where the table is missing: the first line after the front matter, or the last there is."""
        return Place(self.front.file, min(self.front.body_line, len(self.front.lines)))

    def sources(self) -> tuple[str, ...]:
        entry = self.front.mapping.get("sources")
        if entry is None:
            return ()
        if entry.mapping is not None:
            self.add("not-a-list", "“sources” must be a text or a list", entry.place)
        texts = [item.text for item in entry.entries] if entry.entries else (entry.text or "").split(";")
        return tuple(" ".join(text.split()) for text in texts if text and text.strip())

    # ---- the table ----

    def heads(self, table: Table) -> bool:
        """Take the names of the sizes, or compare them with those of the table before; whether rows can be read."""
        corner, *names = table.head
        if not table.ruled:
            place = table.rows[0][0].place if table.rows else corner.place
            hint = "Write | --- | --- | --- | below the line with the sizes."
            self.add("no-rule", "a line of dashes is expected below the names of the sizes", place, hint)
        if not names:
            hint = "Write them side by side: | size | 36 | 38 | 40 |."
            self.add("no-sizes", "this table names no sizes", corner.place, hint)
            return False
        if sum(self.register.find(cell.text) is not None for cell in names) > len(names) / 2:
            message = (
                "the measurements are side by side here; each needs a line of its own, and each size a column"
            )
            self.add("sizes-in-rows", message, names[0].place, "Swap lines and columns.")
            return False
        if len(names) > MOST_SIZES:
            message = f"{len(names)} sizes are too many for one table: expected at most {MOST_SIZES}"
            self.add("too-many-sizes", message, names[MOST_SIZES].place)
            raise Trouble(*self.findings)
        if self.columns:
            return self.same_sizes(names)
        seen: dict[str, str] = {}
        for cell in names:
            name = _plain(cell.text)
            key = re.sub(r"\s", "", name).casefold()
            if not name:
                self.add("no-name", "this size has no name", cell.place, "Write it above its column.")
            elif len(name) > LONGEST_NAME:
                self.add("long-name", f"a size's name has at most {LONGEST_NAME} characters", cell.place)
            elif key in seen:
                message = f"size “{name}” is given twice"
                self.add("twice", message, cell.place, "Each size has one column; give one another name.")
            seen[key] = name
            self.columns.append(_Column(name[:LONGEST_NAME], cell.place))
        return True

    def same_sizes(self, names: Sequence[Cell]) -> bool:
        """Whether a further table has the sizes of the first, in their order."""
        wanted = [column.name for column in self.columns]
        if (found := [_plain(cell.text) for cell in names]) == wanted:
            return True
        n = next((i for i, (a, b) in enumerate(zip(found, wanted, strict=False)) if a != b), len(wanted))
        place = names[min(n, len(names) - 1)].place
        message = f"the sizes here are not those of line {self.columns[0].place.line}: {', '.join(wanted)}"
        self.add("other-sizes", message, place, "Put other sizes in a file of their own.")
        return False

    def rows(self, table: Table, unit: Unit) -> None:
        for head, *cells in table.rows:
            found = self.measurement(head)
            if found is None:
                continue
            measurement, own = found
            extra = next((c for c in cells[len(self.columns) :] if c.text), None)
            if len(cells) < len(self.columns) or extra:
                figures = len(cells) if extra else sum(bool(c.text) for c in cells)
                message = f"the {measurement.name} has {_figures(figures)} for {len(self.columns)} sizes"
                place = extra.place if extra else (cells[-1] if cells else head).place
                hint = "Put | between figures; where a size has none, write – in its place."
                self.add("uneven", message, place, hint)
                continue
            self.figures(measurement, cells, own or unit)

    def measurement(self, head: Cell) -> tuple[Measurement, Unit | None] | None:
        """The measurement that a line is for, and the unit in brackets behind its name."""
        name, unit = _plain(head.text), None
        if (found := _WITH_UNIT.fullmatch(name)) and UNIT_WORDS.get(found[2].casefold()) in (
            "mm",
            "cm",
            "in",
        ):
            name, unit = found[1], Unit(UNIT_WORDS[found[2].casefold()])
        measurement = self.register.find(name)
        if measurement is None:
            if name:
                self.unknown(name, head.place)
            else:
                message = "this line doesn't say which measurement it is"
                hint = "The page “Measuring” lists every measurement and its other names."
                self.add("unknown-measurement", message, head.place, hint)
            return None
        if before := self.seen.get(measurement.key):
            message = f"“{name}” is the {measurement.name}, which is already given on line {before.line}"
            self.add("twice", message, head.place, "Keep one of the two.")
            return None
        self.seen[measurement.key] = head.place
        return measurement, unit

    def figures(self, measurement: Measurement, cells: Sequence[Cell], unit: Unit) -> None:
        for column, cell in zip(self.columns, cells, strict=False):
            if not cell.text:
                message = f"the {measurement.name} of {named(column.name)} is missing"
                hint = "Write – where it has none; styles that need it are then not drafted in this size."
                self.add("missing", message, cell.place, hint, Severity.WARNING)
                continue
            if cell.text in DASHES:
                continue
            entry = FrontEntry(cell.text, cell.place, cell.place)
            if measurement.kind == "weight":
                kilograms = self.weight(entry)
                column.weight = (kilograms, cell.place) if kilograms is not None else None
            elif (mm := self.length(measurement, entry, unit)) is not None:
                column.values[measurement.key] = Measured(mm, cell.text, None, cell.place)

    def size(self, column: _Column) -> Size:
        values = {key: column.values[key] for key in self.register if key in column.values}
        return Size(column.name, column.place, values, column.weight[0] if column.weight else None)

    # ---- are they plausible? ----

    def judge(self, table: SizeTable) -> None:
        """Judge each size as a client is judged, and each measurement from size to size."""
        for size, column in zip(table.sizes, self.columns, strict=True):
            for found, _ in judge(table.client(size), self.front):
                message = f"{named(size.name)}: {found.message}"
                self.add(found.code, message, found.place or size.place, found.hint, found.severity)
            if column.weight:
                kilograms, place = column.weight
                bounds = self.register["weight"].bounds_for(table.kind)
                if not bounds.lowest <= kilograms <= bounds.highest:
                    message = f"a weight of {kilograms:.0f} kg can't be right for a {table.kind}"
                    self.add("impossible", f"{named(size.name)}: {message}", place)
        for key in self.seen:
            self.judge_row(table, key)

    def judge_row(self, table: SizeTable, key: str) -> None:
        row = [size.measurements.get(key) for size in table.sizes]
        for n in out_of_step([m.mm if m else None for m in row]):
            if measured := row[n]:
                which = f"the {self.register[key].name} of {named(table.sizes[n].name)}"
                message = f"{which} ({show_length(measured.mm, table.units)}) is out of step with the sizes beside it"
                hint = "Is it a slip of the pen?"
                self.add("out-of-step", message, measured.place, hint, Severity.WARNING)


def _plain(text: str) -> str:
    """A name without the signs that make it bold or slanted, single spaces."""
    return unicodedata.normalize("NFC", " ".join(text.strip("*_`").split()))


def _figures(count: int) -> str:
    return "no figures" if not count else "1 figure" if count == 1 else f"{count} figures"


def read_sizes(
    path: Path, root: Path, defaults: Units | None = None, register: Register = REGISTER
) -> SizeTable:
    """The table of sizes in the file at `path`; problems become its findings.

    Args:
        root: the studio's folder, for naming the file in findings.
        defaults: the studio's units, for a file that says none, and how fractions are shown.
        register: the studio's measurements.
    """

    def read(front: Front, slug: str, stem: str, digest: str) -> SizeTable:
        return SizeReader(front, slug, stem, digest, defaults or Units(), register).table()

    return read_file(path, root, read, SizeTable)
