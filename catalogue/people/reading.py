"""Client files, key by key: each method reads one part and notes what is wrong with it."""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from catalogue.days import day_shown, if_turned_round, not_a_day, read_day
from catalogue.findings import Place
from catalogue.frontmatter import Front, FrontEntry
from catalogue.lengths import Unit, Units
from catalogue.people.client import Client, Measured, MeasurementSet
from catalogue.people.dating import EARLIEST
from catalogue.people.fitting_reading import DATE_TO_COME, read_corrections, read_fittings
from catalogue.people.front import FrontReader
from catalogue.people.judging import judge
from catalogue.people.measurements import Measurement
from catalogue.people.opening import read_file
from catalogue.people.option_sets import read_option_sets
from catalogue.people.orders import OrderReader
from catalogue.people.register import REGISTER, Register
from catalogue.people.sides import is_of_one_side, newest_of, sides_of

_SIDE = re.compile(
    r"(?:(?P<before>left|right)\s+(?P<of>.+)|(?P<what>.+?)[\s,]+(?P<after>left|right))", re.IGNORECASE
)
"""“right shoulder drop” or “shoulder drop right”."""


class ClientReader(FrontReader):
    """Reads one client file that has been taken apart."""

    keys = (
        "name",
        "for",
        "units",
        "language",
        "measured",
        "measurements",
        "choices",
        "compare",
        "garments",
        "fittings",
        "orders",
    )
    what = "client file"
    measurements_belong = "under measured: or measurements:, indented by two spaces"

    def __init__(
        self,
        front: Front,
        slug: str,
        stem: str,
        digest: str,
        defaults: Units,
        today: datetime.date | None = None,
        register: Register = REGISTER,
    ) -> None:
        super().__init__(front, defaults, register)
        self.today = today
        self.slug = slug
        self.stem = stem
        self.digest = digest
        self.fitted: dict[str, Place] = {}
        self.dated: tuple[MeasurementSet, ...] = ()

    def client(self) -> Client:
        """The client, findings and all."""
        self.unknown_keys()
        kind = self.kind()
        units = self.units()
        sets = self.dated = self.sets(units.primary)
        measurements = newest_of(sets, self.register)
        weights = [one.weight_kg for one in sets if one.weight_kg is not None]
        orders = OrderReader(self, self.today, {one.date for one in sets if one.date}).orders()
        garments = self.garments()
        for order in orders:
            garments.setdefault(order.style, order.style_place)
        notes, line = self.notes()
        compared, compared_places = read_option_sets(self)
        client = Client(
            slug=self.slug,
            file=self.front.file,
            name=self.name("the client's name") or self.stem,
            kind=kind or "woman",
            units=units,
            sets=sets,
            measurements=measurements,
            choices=self.choices(),
            garments=tuple(garments),
            garment_places=garments,
            notes=notes,
            notes_line=line,
            lang=self.language(),
            weight_kg=weights[-1] if weights else None,
            digest=self.digest,
            register=self.register,
            choice_places=self.choice_places(),
            fittings=read_fittings(self),
            corrections=read_corrections(self),
            fitting_places=self.fitted,
            sides=sides_of(sets, measurements),
            orders=orders,
            compared=compared,
            compared_places=compared_places,
        )
        if kind:
            for judged in judge(client, self.front):
                self.findings.append(judged.finding)
                self.concerning[judged.finding] = frozenset(judged.about)
        unplaced = Place(self.front.file)
        self.findings.sort(key=lambda f: f.place or unplaced)
        return replace(client, findings=tuple(self.findings), concerning=self.concerning)

    def sets(self, unit: Unit) -> tuple[MeasurementSet, ...]:
        """Every set of measurements, the undated one first, then by date."""
        sets: list[MeasurementSet] = []
        if entry := self.front.mapping.get("measurements"):
            if entry.mapping is not None:
                sets.append(self.one_set(None, entry.mapping, unit))
            elif entry.text != "":
                self.not_a_group(
                    "measurements", entry, "Write each as bust girth: 92 cm on a line of its own."
                )
        if entry := self.front.mapping.get("measured"):
            if entry.mapping is not None:
                sets += self.dated_sets(entry.mapping, unit)
            elif entry.text != "":
                self.not_a_group(
                    "measured", entry, "Write a date such as 2026-03-14: and the measurements below it."
                )
        return tuple(sorted(sets, key=lambda s: s.date or datetime.date.min))

    def dated_sets(self, group: Mapping[str, FrontEntry], unit: Unit) -> list[MeasurementSet]:
        sets = []
        for key, entry in group.items():
            date = self.date(key, entry)
            if entry.mapping is not None:
                one = self.one_set(date, entry.mapping, unit)
                if date and not self.is_to_come(date, entry):
                    sets.append(one)
            elif date and entry.text != "":
                self.not_a_group(key, entry, "Write each measurement on a line of its own below the date.")
        return sets

    def date(self, text: str, entry: FrontEntry) -> datetime.date | None:
        if self.register.find(text):
            message = f"“{text}” needs a date above it"
            self.add(
                "no-date",
                message,
                entry.key_place,
                "Give a date, or write measurements: instead of measured:.",
            )
            return None
        day = read_day(text, self.defaults.dates)
        if day is None:
            message, hint = not_a_day(text, self.defaults.dates)
            self.add("not-a-date", message, entry.key_place, hint)
        return day

    def choice_day(self, text: str, entry: FrontEntry) -> datetime.date | None:
        day = self.date(text, entry)
        if day is not None and day.year < EARLIEST:
            message = f"the year {day.year:04} can't be right for choices of this client"
            self.add(
                "wrong-year", message, entry.key_place, "Write the year in which they were made.", about=()
            )
            return None
        return None if day is None or self.is_to_come(day, entry, "choices") else day

    def is_to_come(self, date: datetime.date, entry: FrontEntry, what: str = "measurements") -> bool:
        """Whether nothing can have been measured or fitted on this day yet; it would outrank every later set."""
        today, first = self.today, self.defaults.dates
        if today is None or date <= today:
            return False
        # Today's date is not named: what is built must not differ from one day to the next.
        message = f"the date {day_shown(date, first)} is in the future, so the {what} below it do not count"
        hint = if_turned_round(date, lambda other: other <= today, first) or (
            "Write the day they were taken as year-month-day, for example 2026-03-14. "
            "If it is right, check the date on this computer."
        )
        self.add(DATE_TO_COME, message, entry.key_place, hint)
        return True

    def one_set(
        self, date: datetime.date | None, group: Mapping[str, FrontEntry], unit: Unit
    ) -> MeasurementSet:
        values: dict[str, Measured] = {}
        seen: dict[str, FrontEntry] = {}
        of_sides: dict[str, dict[str, Measured]] = {}
        note = ""
        weight = None
        for name, entry in group.items():
            if name in ("note", "notes"):
                note = " ".join((entry.text or "").split())
                continue
            measurement, side = self.register.find(name), ""
            if measurement is None and (found := _SIDE.fullmatch(name.strip())):
                side = (found["before"] or found["after"]).casefold()
                measurement = self.register.find(found["of"] or found["what"])
            if measurement is None:
                self.unknown(name, entry.key_place)
                continue
            if side:
                self.one_side(measurement, side, entry, unit, date, of_sides)
                continue
            if measurement.key in seen:
                line = seen[measurement.key].key_place.line
                message = f"“{name}” is the {measurement.name}, which is already given on line {line}"
                self.add("twice", message, entry.key_place, "Keep one of the two.", about=(measurement.key,))
                continue
            seen[measurement.key] = entry
            if entry.text is None:
                message = f"the {measurement.name} must be a length, not {entry.kind}"
                self.add("not-a-text", message, entry.place, about=(measurement.key,))
            elif measurement.kind == "weight":
                weight = self.weight(entry)
            elif (mm := self.length(measurement, entry, unit)) is not None:
                values[measurement.key] = Measured(mm, entry.text, date, entry.place)
        return MeasurementSet(date, values, note, weight, of_sides)

    def one_side(
        self,
        measurement: Measurement,
        side: str,
        entry: FrontEntry,
        unit: Unit,
        date: datetime.date | None,
        of_sides: dict[str, dict[str, Measured]],
    ) -> None:
        """A measurement of one side of the body: `shoulder drop right: 4.6`."""
        if not is_of_one_side(measurement.key):
            self.add(
                "no-side",
                f"the {measurement.name} goes round the body or lies in the middle, so it has no {side} side",
                entry.key_place,
                "Leave out the side.",
                about=(measurement.key,),
            )
        elif measurement.key in of_sides.get(side, {}):
            line = of_sides[side][measurement.key].place.line
            message = f"the {measurement.name} {side} is already given on line {line}"
            self.add("twice", message, entry.key_place, "Keep one of the two.", about=(measurement.key,))
        elif entry.text is None:
            message = f"the {measurement.name} must be a length, not {entry.kind}"
            self.add("not-a-text", message, entry.place, about=(measurement.key,))
        elif (mm := self.length(measurement, entry, unit)) is not None:
            of_sides.setdefault(side, {})[measurement.key] = Measured(mm, entry.text, date, entry.place)

    def notes(self) -> tuple[str, int]:
        lines = self.front.body.split("\n")
        blank = next((i for i, line in enumerate(lines) if line.strip()), len(lines))
        return "\n".join(lines[blank:]).rstrip(), self.front.body_line + blank


def read_client(
    path: Path,
    root: Path,
    defaults: Units | None = None,
    today: datetime.date | None = None,
    register: Register = REGISTER,
) -> Client:
    """The client in the file at `path`; problems become its findings.

    Args:
        root: the studio's folder, for naming the file in findings.
        defaults: the studio's units, for a file that says none, and how fractions are shown.
        today: measurements dated after this day are reported and do not count; None takes every date as it is.
        register: the studio's measurements.
    """

    def read(front: Front, slug: str, stem: str, digest: str) -> Client:
        return ClientReader(front, slug, stem, digest, defaults or Units(), today, register).client()

    return read_file(path, root, read, Client)
