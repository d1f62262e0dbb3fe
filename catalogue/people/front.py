"""What client files and size tables have in common at their heads: whom they are for, units, garments, choices."""

from __future__ import annotations

import datetime
import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import replace

from catalogue.days import looks_like_a_day
from catalogue.findings import Finding, Place, Severity, Trouble, did_you_mean
from catalogue.frontmatter import Front, FrontEntry, another_beginning
from catalogue.lengths import UNIT_WORDS, LengthError, Unit, Units, parse_length
from catalogue.people.client import Chosen
from catalogue.people.measurements import Measurement
from catalogue.people.register import REGISTER, Register
from catalogue.people.suggesting import is_of_a_garment
from catalogue.people.weights import parse_weight
from catalogue.slugs import slugify

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
MOST_HINTS = 25
"""Findings after which no likely name is looked for: so many wrong ones make a file of another kind."""
_OF_A_GARMENT = (
    "That is of a garment, not of the body: where the style offers it, write it under choices: and its name."
)
_LANGUAGE = re.compile(r"[A-Za-z]{2,3}(-[A-Za-z0-9]{2,8}){0,3}")


def choice_name(name: str) -> str:
    """The name of a choice as styles have it, for one that is written with underscores or more blanks."""
    return " ".join(name.replace("_", " ").split())


class FrontReader:
    """Reads the head of a file that has been taken apart; each method reads one part and notes what is wrong with it.

    A kind of file says which `keys` it may have, what `what` it is to the reader, and where measurements belong.
    """

    keys: tuple[str, ...] = ()
    what = ""
    measurements_belong = ""

    def __init__(self, front: Front, defaults: Units, register: Register = REGISTER) -> None:
        self.front = front
        self.register = register
        self.defaults = defaults
        self.findings: list[Finding] = []
        self.concerning: dict[Finding, frozenset[str]] = {}

    def one_only(self) -> None:
        """Note a second client or table in the same file, which would be taken for notes."""
        if place := another_beginning(self.front, "name"):
            self.add(
                "second-in-file",
                f"another {self.what} begins here; a file holds one, so this would be shown as notes",
                place,
                "Move the lines from here on into a file of their own.",
            )

    def unknown_keys(self) -> None:
        """Note every key that such a file doesn't have, and a file that holds two."""
        self.one_only()
        for key, entry in self.front.mapping.items():
            if key in self.keys:
                continue
            hint = did_you_mean(key, self.keys)
            if found := self.register.find(key):
                hint = f"{found.name} belongs {self.measurements_belong}."
            elif not hint:
                hint = "Known: " + ", ".join(self.keys[:-1]) + f" and {self.keys[-1]}."
            self.add("unknown-key", f"“{key}” is not known in a {self.what}", entry.key_place, hint)

    def add(
        self,
        code: str,
        message: str,
        place: Place,
        hint: str = "",
        severity: Severity = Severity.ERROR,
        about: tuple[str, ...] | None = None,
    ) -> None:
        """Note what is wrong; `about` are the keys of the measurements that it is about, if it is about some."""
        if len(self.findings) >= MOST - 1:
            much = f"there are more than {MOST - 1} things to say of this file, so it is not read further"
            hint = "Mend those above first, then check it again."
            raise Trouble(*self.findings, self.front.finding("too-much", much, place, hint))
        finding = self.front.finding(code, message, place, hint, severity)
        self.findings.append(finding)
        if about is not None:
            self.concerning[finding] = frozenset(about)

    def text(self, key: str) -> tuple[str, Place]:
        """The text of `key` with single spaces, "" when it is missing or no text."""
        entry = self.front.mapping.get(key)
        if entry is None:
            return "", Place(self.front.file)
        if entry.text is None:
            self.add("not-a-text", f"“{key}” must be a text, not {entry.kind}", entry.place)
            return "", entry.place
        return " ".join(entry.text.split()), entry.place

    def name(self, whose: str) -> str:
        """The name in any script, "" when there is none; `whose` says in findings what it is the name of."""
        name, place = self.text("name")
        if not name:
            self.add("no-name", f"{whose} is missing", place, "Write name: and the name.")
        elif len(name) > 200:
            self.add("long-name", "a name of more than 200 characters can't be right", place)
        return unicodedata.normalize("NFC", name)[:200]

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
        return replace(self.defaults, primary=primary, both=both)

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

    def length(self, measurement: Measurement, entry: FrontEntry, unit: Unit) -> float | None:
        name, about = measurement.name, (measurement.key,)
        text = entry.text or ""
        try:
            mm = parse_length(text, unit, negative=True, taped=True)
        except LengthError as error:
            self.add(
                "not-a-length",
                f"{name}: {error.message}",
                entry.place_at(error.offset),
                error.hint,
                about=about,
            )
            return None
        if mm < 0:
            self.add(
                "negative",
                f"the {name} cannot be negative",
                entry.place,
                "Leave out the minus sign.",
                about=about,
            )
            return None
        return mm

    def unknown(self, name: str, place: Place) -> None:
        """Note that `name` is no measurement, or means several."""
        hint = ""
        if len(self.findings) < MOST_HINTS:
            hint = _OF_A_GARMENT if is_of_a_garment(name) else self.register.suggest(name)
        if self.register.candidates(name):
            message = f"“{name}” means one measurement to some and another to others"
            self.add("ambiguous-measurement", message, place, hint, about=())
            return
        hint = hint or "The page “Measuring” lists every measurement and its other names."
        self.add("unknown-measurement", f"“{name}” is not a measurement known here", place, hint, about=())

    def weight(self, entry: FrontEntry) -> float | None:
        kilograms = parse_weight(entry.text or "")
        if kilograms is None:
            message = f"“{entry.text}” is not a weight"
            self.add("not-a-weight", message, entry.place, "Write 62 kg, 137 lb or 9 st 7 lb.")
        return kilograms

    def choices(self) -> dict[str, dict[str, Chosen]]:
        entry = self.front.mapping.get("choices")
        if entry is None or entry.text == "":
            return {}
        if entry.mapping is None:
            self.not_a_group("choices", entry, "Write the style's name, and its choices indented below it.")
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
            # Those without a date are the oldest.
            found = list(self._chosen(group.mapping, None))
            for key, below in group.mapping.items():
                if below.mapping is not None and looks_like_a_day(key):
                    day = self.choice_day(key, below)
                    found += self._chosen(below.mapping, day) if day is not None else ()
            for name, each in sorted(found, key=lambda pair: pair[1].date or datetime.date.min):
                last = chosen.pop(name, None)
                before = (replace(last, before=()), *last.before) if last is not None else ()
                chosen[name] = replace(each, before=before)
        return choices

    def _chosen(
        self, group: Mapping[str, FrontEntry], day: datetime.date | None
    ) -> Iterator[tuple[str, Chosen]]:
        """The choices written in a group, by name; one that stands there twice is noted, and the first counts."""
        lines: dict[str, int] = {}
        for name, value in group.items():
            if value.text is not None:
                known, text = choice_name(name), " ".join(value.text.split())
                if known in lines:
                    message = f"“{name}” is already chosen on line {lines[known]}"
                    self.add("twice", message, value.key_place, "Keep one of the two.", about=())
                    continue
                lines[known] = value.key_place.line
                yield known, Chosen(text, value.place, value.key_place, day)
            elif value.mapping is not None and day is None and looks_like_a_day(name):
                continue
            else:
                self.add(
                    "not-a-text",
                    f"“{name}” must be one value, not {value.kind}",
                    value.place,
                    "Choices of a later day are written below the day, as in 2026-08-30:."
                    if value.mapping is not None
                    else "",
                )

    def choice_day(self, text: str, entry: FrontEntry) -> datetime.date | None:
        """The day that choices hold from; None where it is noted as wrong."""
        self.add(
            "dated-choice",
            f"the choices of {self.what} have no dates",
            entry.key_place,
            "Write each choice below the style's name.",
        )
        return None

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

    def not_a_group(self, key: str, entry: FrontEntry, hint: str) -> None:
        self.add("not-a-group", f"“{key}” must be names with values, not {entry.kind}", entry.place, hint)
