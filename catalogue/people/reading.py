"""Client files, key by key: each method reads one part and notes what is wrong with it."""

from __future__ import annotations

import datetime
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import replace

from catalogue.findings import Finding, Place, Severity, Trouble, did_you_mean
from catalogue.frontmatter import Entry, Front
from catalogue.lengths import UNIT_WORDS, LengthError, Unit, Units, parse_length
from catalogue.people.client import Chosen, Client, Measured, MeasurementSet
from catalogue.people.judging import judge
from catalogue.people.register import REGISTER, lookup, suggest
from catalogue.people.weights import parse_weight
from catalogue.slugs import slugify

KEYS = ("name", "for", "units", "language", "measured", "measurements", "choices", "garments")
KINDS = {
    "woman": "woman",
    "women": "woman",
    "lady": "woman",
    "man": "man",
    "men": "man",
    "gentleman": "man",
    "girl": "girl",
    "girls": "girl",
    "boy": "boy",
    "boys": "boy",
    "child": "child",
    "children": "child",
    "baby": "child",
}
MOST = 100
"""Findings about one file; after these the reader has enough to do."""
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_LANGUAGE = re.compile(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8}){0,3}")


class ClientReader:
    """Reads one client file that has been taken apart."""

    def __init__(self, front: Front, slug: str, stem: str, digest: str, defaults: Units) -> None:
        self.front = front
        self.slug = slug
        self.stem = stem
        self.digest = digest
        self.defaults = defaults
        self.findings: list[Finding] = []

    def client(self) -> Client:
        """The client, findings and all."""
        for key, entry in self.front.mapping.items():
            if key not in KEYS:
                self.unknown_key(key, entry)
        kind = self.kind()
        units = self.units()
        sets = self.sets(units.primary)
        newest = {key: m for one in sets for key, m in one.values.items()}
        measurements = {key: newest[key] for key in REGISTER if key in newest}
        weights = [one.weight_kg for one in sets if one.weight_kg is not None]
        garments = self.garments()
        notes, line = self.notes()
        client = Client(
            slug=self.slug,
            file=self.front.file,
            name=self.name(),
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
            choice_places=self.choice_places(),
        )
        if kind:
            self.findings += judge(client, self.front)
        unplaced = Place(self.front.file)
        self.findings.sort(key=lambda f: f.place or unplaced)
        return replace(client, findings=tuple(self.findings))

    def add(
        self, code: str, message: str, place: Place, hint: str = "", severity: Severity = Severity.ERROR
    ) -> None:
        self.findings.append(self.front.finding(code, message, place, hint, severity))
        if len(self.findings) >= MOST:
            raise Trouble(*self.findings)

    def text(self, key: str) -> tuple[str, Place]:
        """The text of `key` with single blanks, "" when it is missing or no text."""
        entry = self.front.mapping.get(key)
        if entry is None:
            return "", Place(self.front.file)
        if entry.text is None:
            self.add("not-a-text", f"“{key}” must be a text, not {entry.kind}", entry.place)
            return "", entry.place
        return " ".join(entry.text.split()), entry.place

    def unknown_key(self, key: str, entry: Entry) -> None:
        hint = did_you_mean(key, KEYS)
        if found := lookup(key):
            hint = f"{found.name} belongs under measured: or measurements:, set in by two blanks."
        elif not hint:
            hint = "Known are " + ", ".join(KEYS[:-1]) + f" and {KEYS[-1]}."
        self.add("unknown-key", f"“{key}” is not known in a client file", entry.key_place, hint)

    def name(self) -> str:
        name, place = self.text("name")
        if not name:
            self.add("no-name", "the client's name is missing", place, "Write name: and the name.")
        elif len(name) > 200:
            self.add("long-name", "a name of more than 200 characters can't be right", place)
        return unicodedata.normalize("NFC", name)[:200] or self.stem

    def kind(self) -> str:
        """The kind of person, "" when the file doesn't say it in a way that is known."""
        word, place = self.text("for")
        if not word:
            if "for" not in self.front.mapping or self.front.mapping["for"].text == "":
                hint = "Write for: woman, for: man, for: girl, for: boy or for: child."
                self.add("no-kind", "the file doesn't say whom it is for", place, hint)
            return ""
        if word.casefold() not in KINDS:
            hint = did_you_mean(word, KINDS) or "Write woman, man, girl, boy or child."
            self.add("unknown-kind", f"“{word}” is not a kind of person known here", place, hint)
        return KINDS.get(word.casefold(), "")

    def units(self) -> Units:
        """`inches`, `cm`, `mm`, or two of them ("inches and cm") to have both shown."""
        text, place = self.text("units")
        if not text:
            return self.defaults
        words = [w.strip() for w in re.split(r"\band\b|[,+/]", text)]
        found = [UNIT_WORDS.get(w.casefold().rstrip("."), "") for w in words]
        if len(found) > 2 or any(u not in ("mm", "cm", "in") for u in found):
            hint = did_you_mean(text, ("inches", "centimetres", "millimetres", "cm", "mm"))
            self.add(
                "unknown-unit", f"“{text}” is not a unit known here", place, hint or "Write inches, cm or mm."
            )
            return self.defaults
        primary = Unit(found[0])
        both = self.defaults.both
        if len(found) == 2:
            both = primary.is_metric != Unit(found[1]).is_metric
        return Units(primary, self.defaults.fraction, both)

    def language(self) -> str:
        text, place = self.text("language")
        if text and not _LANGUAGE.fullmatch(text):
            self.add(
                "unknown-language",
                f"“{text}” is not a language code",
                place,
                "Write a code such as vi or ar.",
            )
            return ""
        return text

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

    def dated_sets(self, group: Mapping[str, Entry], unit: Unit) -> list[MeasurementSet]:
        sets = []
        for key, entry in group.items():
            date = self.date(key, entry)
            if entry.mapping is not None:
                one = self.one_set(date, entry.mapping, unit)
                if date:
                    sets.append(one)
            elif date and entry.text != "":
                self.not_a_group(key, entry, "Write each measurement on a line of its own below the date.")
        return sets

    def date(self, text: str, entry: Entry) -> datetime.date | None:
        hint = "Write year-month-day, for example 2026-03-14."
        if lookup(text):
            message = f"a date must stand above “{text}”"
            self.add(
                "no-date", message, entry.key_place, "Give a date, or write measurements: for measured:."
            )
            return None
        if not _DATE.fullmatch(text.strip()):
            self.add("not-a-date", f"“{text}” is not a date", entry.key_place, hint)
            return None
        try:
            return datetime.date.fromisoformat(text.strip())
        except ValueError:
            self.add("not-a-date", f"there is no day {text}", entry.key_place, hint)
            return None

    def one_set(self, date: datetime.date | None, group: Mapping[str, Entry], unit: Unit) -> MeasurementSet:
        values: dict[str, Measured] = {}
        seen: dict[str, Entry] = {}
        note = ""
        weight = None
        for name, entry in group.items():
            if name in ("note", "notes"):
                note = " ".join((entry.text or "").split())
                continue
            measurement = lookup(name)
            if measurement is None:
                hint = suggest(name) or "The handbook lists every measurement and its other names."
                self.add(
                    "unknown-measurement", f"“{name}” is not a measurement known here", entry.key_place, hint
                )
                continue
            if measurement.key in seen:
                line = seen[measurement.key].key_place.line
                message = f"“{name}” is the {measurement.name}, which stands on line {line} already"
                self.add("twice", message, entry.key_place, "Keep one of the two.")
                continue
            seen[measurement.key] = entry
            if entry.text is None:
                self.add(
                    "not-a-text", f"the {measurement.name} must be a length, not {entry.kind}", entry.place
                )
            elif measurement.kind == "weight":
                weight = self.weight(entry)
            elif (mm := self.length(measurement.name, entry, unit)) is not None:
                values[measurement.key] = Measured(mm, entry.text, date, entry.place)
        return MeasurementSet(date, values, note, weight)

    def length(self, name: str, entry: Entry, unit: Unit) -> float | None:
        text = entry.text or ""
        try:
            mm = parse_length(text, unit, negative=True, taped=True)
        except LengthError as error:
            self.add("not-a-length", f"{name}: {error.message}", entry.place_at(error.offset), error.hint)
            return None
        if mm < 0:
            self.add("negative", f"the {name} can't be below zero", entry.place, "Leave out the minus sign.")
            return None
        return mm

    def weight(self, entry: Entry) -> float | None:
        kilograms = parse_weight(entry.text or "")
        if kilograms is None:
            message = f"“{entry.text}” is not a weight"
            self.add("not-a-weight", message, entry.place, "Write it as 62 kg, 137 lb or 9 st 7 lb.")
        return kilograms

    def choices(self) -> dict[str, dict[str, Chosen]]:
        entry = self.front.mapping.get("choices")
        if entry is None or entry.text == "":
            return {}
        if entry.mapping is None:
            self.not_a_group("choices", entry, "Write the style's name, and its choices set in below it.")
            return {}
        choices: dict[str, dict[str, Chosen]] = {}
        for style, group in entry.mapping.items():
            chosen = choices.setdefault(slugify(style), {})
            if group.mapping is None:
                if group.text != "":
                    self.not_a_group(
                        style, group, "Write each choice on a line of its own, as in length: 60 cm."
                    )
                continue
            for name, value in group.mapping.items():
                if value.text is None:
                    self.add("not-a-text", f"“{name}” must be one value, not {value.kind}", value.place)
                else:
                    text = " ".join(value.text.split())
                    chosen[" ".join(name.split())] = Chosen(text, value.place, value.key_place)
        return choices

    def choice_places(self) -> dict[str, Place]:
        """Slugs of the styles that choices are made for, with their places."""
        entry = self.front.mapping.get("choices")
        groups = entry.mapping if entry is not None and entry.mapping is not None else {}
        places: dict[str, Place] = {}
        for style, group in groups.items():
            places.setdefault(slugify(style), group.key_place)
        return places

    def garments(self) -> dict[str, Place]:
        """Slugs of the styles ordered, with their places: a list, or a text with commas or semicolons."""
        entry = self.front.mapping.get("garments")
        if entry is None:
            return {}
        if entry.mapping is not None:
            self.add(
                "not-a-list",
                "“garments” must be a list of styles",
                entry.place,
                "Write [one style, another].",
            )
            return {}
        garments: dict[str, Place] = {}
        if entry.text is not None:
            for found in re.finditer(r"[^,;]+", entry.text):
                if name := found.group().strip():
                    offset = found.start() + len(found.group()) - len(found.group().lstrip())
                    garments.setdefault(slugify(name), entry.place_at(offset))
        for item in entry.entries or ():
            if not item.text:
                self.add("not-a-text", f"a style's name is expected here, not {item.kind}", item.place)
            else:
                garments.setdefault(slugify(item.text), item.place)
        return garments

    def notes(self) -> tuple[str, int]:
        lines = self.front.body.split("\n")
        blank = next((i for i, line in enumerate(lines) if line.strip()), len(lines))
        return "\n".join(lines[blank:]).rstrip(), self.front.body_line + blank

    def not_a_group(self, key: str, entry: Entry, hint: str) -> None:
        self.add("not-a-group", f"“{key}” must be names with values, not {entry.kind}", entry.place, hint)
