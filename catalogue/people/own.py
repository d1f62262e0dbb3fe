"""The studio's own measurements: `clients/measurements.md`, read once and checked."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple, cast

from catalogue.findings import Finding, Place, Trouble, did_you_mean
from catalogue.frontmatter import Front, FrontEntry, decode, read_bytes, split
from catalogue.lengths import LengthError, Unit, Units, parse_length
from catalogue.people.front import KINDS, FrontReader
from catalogue.people.measurements import ANY, BODIES, Bounds, Figure, Kind, Measurement, key_of
from catalogue.people.naming import SIDES, plain_name
from catalogue.people.register import REGISTER, Register

FILE = "clients/measurements.md"
"""Where a studio describes its own measurements."""
MOST_OWN = 200
LONGEST_NAME = 60
LONGEST_TEXT = 400
CAN_BE = (0.6, 1.6)
"""A figure below so much of the lower end of a measurement's range, or above so much of the upper, is a slip of the pen
(our own judgement; the standard measurements allow about as much)."""

_KINDS = ("girth", "length", "width", "height")
_FIGURES = ("front", "back", "side")
_PARTS = ("what", "how", "for", "range", "also called", "kind", "seen from")
_NAME = re.compile(r"[^\W\d_]([\w\s\-‐‑'’]*\w)?")
_RANGE = re.compile(
    r"(?P<low>.+?)\s+(?:to|until)\s+(?P<high>.+)|(?P<low2>[^-–—]+?)\s*[-–—]\s*(?P<high2>[^-–—]+)"
)
_EXAMPLE = "Write range: 30 cm to 52 cm, or a range for each of woman, man and child on a line of its own."


class Own(NamedTuple):
    """What a studio's file of measurements gives: they are usable, whatever its findings say of their parts."""

    register: Register = REGISTER
    findings: tuple[Finding, ...] = ()


def read_own(root: Path, defaults: Units | None = None) -> Own:
    """The measurements of the studio in the folder `root`: the standard ones, and its own where it has a file of them.

    Never raises for what the file holds. `defaults` are the studio's units, for a file that says none.
    """
    path = root / FILE
    if not path.is_file():
        return Own()
    try:
        reader = _OwnReader(split(decode(read_bytes(path, FILE), FILE), FILE), defaults or Units())
        return reader.own()
    except Trouble as trouble:
        return Own(findings=trouble.findings)


class _OwnReader(FrontReader):
    """Reads a file of own measurements that has been taken apart."""

    keys = ("title", "units", "measurements", "sources")
    what = "file of the studio's own measurements"
    measurements_belong = "under measurements:, with its description indented below it"

    def __init__(self, front: Front, defaults: Units) -> None:
        super().__init__(front, defaults)
        self.taken: dict[str, Place] = {}

    def own(self) -> Own:
        self.unknown_keys()
        unit = self.units().primary
        group = self.front.mapping.get("measurements")
        made: list[Measurement] = []
        if group is None or group.mapping is None:
            place = group.place if group else Place(self.front.file)
            self.add("no-measurements", "no measurements are described here", place, _HINT)
        else:
            if len(group.mapping) > MOST_OWN:
                message = f"a studio describes at most {MOST_OWN} measurements of its own; this file has more"
                self.add("too-many", message, group.key_place)
            for name, entry in list(group.mapping.items())[:MOST_OWN]:
                found = self.measurement(" ".join(name.split()), entry, unit)
                if found:
                    made.append(found)
        return Own(Register(tuple(made)), tuple(self.findings))

    def measurement(self, name: str, entry: FrontEntry, unit: Unit) -> Measurement | None:
        """One measurement; None when its name can't be used. What else is wrong has a default in its place."""
        if not self.may_be_called(name, entry.key_place):
            return None
        if entry.mapping is None:
            self.not_a_group(name, entry, _HINT)
            return None
        for part, value in entry.mapping.items():
            if part not in _PARTS:
                hint = did_you_mean(part, _PARTS) or f"Known: {', '.join(_PARTS)}."
                self.add("unknown-key", f"“{part}” is not known here", value.key_place, hint)
        what, how = (self.sentence(part, entry.mapping) for part in ("what", "how"))
        if not how:
            hint = "Write how: and where the tape begins, what it passes, and where it ends."
            self.add("no-how", f"the file does not say how the {name} is taken", entry.key_place, hint)
        kind = self.one_of("kind", _KINDS, entry.mapping) or _kind_in(name)
        figure = self.one_of("seen from", _FIGURES, entry.mapping) or "front"
        return Measurement(
            name,
            cast(Kind, kind),
            " ".join(text for text in (what, how) if text),
            cast(Figure, figure),
            self.bounds(name, entry, unit),
            tuple(self.other_names(entry.mapping)),
            own=True,
        )

    def may_be_called(self, name: str, place: Place) -> bool:
        if len(name) > LONGEST_NAME or not _NAME.fullmatch(name):
            hint = "Use letters, digits and spaces, beginning with a letter, as in strap length."
            self.add("bad-name", f"“{name[:LONGEST_NAME]}” can't be the name of a measurement", place, hint)
            return False
        if set(plain_name(name).split()) & set(SIDES):
            hint = "Leave out the side: a measurement that both sides have is described once."
            self.add("bad-name", f"“{name}” names a side of the body", place, hint)
            return False
        if found := self.register.find(name) or next(iter(self.register.candidates(name)), None):
            hint = "Use that name, or give this measurement another."
            self.add("name-taken", f"“{name}” is a name of the {found.name}", place, hint)
            return False
        if key_of(name) in ("start", "pi"):
            self.add(
                "name-taken", f"“{name}” means something else in every style", place, "Choose another name."
            )
            return False
        if before := self.taken.get(plain_name(name)):
            self.add(
                "twice", f"“{name}” is already given on line {before.line}", place, "Keep one of the two."
            )
            return False
        self.taken[plain_name(name)] = place
        return True

    def sentence(self, part: str, mapping: Mapping[str, FrontEntry]) -> str:
        """A text with a capital at its beginning and a full stop at its end; "" when it isn't there."""
        entry = mapping.get(part)
        if entry is None or entry.value == "":
            return ""
        if entry.text is None:
            self.add("not-a-text", f"“{part}” must be a text, not {entry.kind}", entry.place)
            return ""
        text = " ".join(entry.text.split())
        if len(text) > LONGEST_TEXT:
            self.add("too-long", f"“{part}” has at most {LONGEST_TEXT} characters", entry.place)
            text = text[:LONGEST_TEXT]
        return text[:1].upper() + text[1:] + ("" if text[-1] in ".!?" else ".")

    def one_of(self, part: str, known: tuple[str, ...], mapping: Mapping[str, FrontEntry]) -> str:
        entry = mapping.get(part)
        if entry is None:
            return ""
        word = " ".join((entry.text or "").split()).casefold()
        if word not in known:
            hint = f"Write {', '.join(known[:-1])} or {known[-1]}."
            self.add("unknown-word", f"“{word}” is not known after {part}:", entry.place, hint)
            return ""
        return word

    def other_names(self, mapping: Mapping[str, FrontEntry]) -> list[str]:
        entry = mapping.get("also called")
        if entry is None:
            return []
        if entry.text is not None:
            found = [
                (m.group().strip(), entry.place_at(m.start())) for m in re.finditer(r"[^,;]+", entry.text)
            ]
        else:
            found = [(item.text or "", item.place) for item in entry.entries or ()]
        return [name.casefold() for name, place in found if name and self.may_be_called(name, place)]

    # ---- whom it is taken of, and what is sensible ----

    def bounds(self, name: str, entry: FrontEntry, unit: Unit) -> dict[str, Bounds]:
        assert entry.mapping is not None
        people = self.people(entry.mapping)
        ranges = entry.mapping.get("range")
        if ranges is None or ranges.value == "":
            self.add("no-range", f"no range is given for the {name}", entry.key_place, _EXAMPLE)
            return dict.fromkeys(people, ANY)
        if ranges.mapping is None:
            found = self.range(ranges, unit)
            return dict.fromkeys(people, found) if found else {}
        bounds = {}
        for word, value in ranges.mapping.items():
            body = _body(word)
            if not body:
                hint = did_you_mean(word, KINDS) or "Write woman, man or child."
                self.add(
                    "unknown-kind", f"“{word}” is not a kind of person known here", value.key_place, hint
                )
            elif "for" in entry.mapping and body not in people:
                message = f"the {name} is not for a {body}, by the line “for”"
                self.add("not-for", message, value.key_place, "Name this kind of person there too.")
            elif found := self.range(value, unit):
                bounds[body] = found
        lacking = [body for body in people if body not in bounds] if "for" in entry.mapping else []
        if lacking and bounds:
            self.add("no-range", f"no range is given for a {lacking[0]}", ranges.key_place, _EXAMPLE)
        return bounds

    def people(self, mapping: Mapping[str, FrontEntry]) -> list[str]:
        """Kinds of body it is taken of: everyone's when the file doesn't say."""
        entry = mapping.get("for")
        if entry is None or entry.value == "":
            return list(BODIES)
        if entry.mapping is not None:
            self.add("not-a-list", "“for” must be words such as women, girls", entry.place)
            return list(BODIES)
        texts = [(i.text or "", i.place) for i in entry.entries] if entry.entries else []
        if entry.text is not None:
            texts = [(m.group(), entry.place_at(m.start())) for m in re.finditer(r"[^\s,;]+", entry.text)]
        people = []
        for word, place in texts:
            if word == "and":
                continue
            if body := _body(word):
                people.append(body)
            else:
                hint = did_you_mean(word, KINDS) or "Write women, men, girls, boys or children."
                self.add("unknown-kind", f"“{word}” is not a kind of person known here", place, hint)
        return list(dict.fromkeys(people)) or list(BODIES)

    def range(self, entry: FrontEntry, unit: Unit) -> Bounds | None:
        """“30 cm to 52 cm”; a bare number takes the file's unit, the lower one that of the upper."""
        found = _RANGE.fullmatch(" ".join((entry.text or "").split()))
        if found is None:
            self.add("bad-range", "a range is expected here", entry.place, _EXAMPLE)
            return None
        low, high = found["low"] or found["low2"], found["high"] or found["high2"]
        named = re.search(r"[^\W\d_]+\.?$|[\"”″]$", high)
        if named and re.fullmatch(r"[\d\s.,/½¼¾⅛⅜⅝⅞⅓⅔]+", low):
            low = f"{low} {named.group()}"
        try:
            least, most = (parse_length(text, unit, taped=True) for text in (low, high))
        except LengthError as error:
            self.add("not-a-length", f"range: {error.message}", entry.place, error.hint or _EXAMPLE)
            return None
        if not 0 <= least < most:
            self.add("bad-range", "the first end of a range must be the smaller", entry.place, _EXAMPLE)
            return None
        return Bounds(least * CAN_BE[0], least, most, most * CAN_BE[1])


_HINT = "Write its name, and indented below it how:, for: and range:."


def _body(word: str) -> str:
    kind = KINDS.get(word.casefold(), "")
    return kind if kind in BODIES else "child" if kind else ""


def _kind_in(name: str) -> str:
    """The kind of measurement that a name speaks of; a length when it says nothing of it."""
    last = plain_name(name).split()[-1]
    return "girth" if last == "circumference" else last if last in _KINDS else "length"
