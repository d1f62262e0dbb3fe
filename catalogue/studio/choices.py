"""The choices in the front matter of a style: a default, a range or words to choose from, and what they are."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from catalogue.findings import Finding, Place, Severity, Trouble, did_you_mean
from catalogue.frontmatter import Front, FrontEntry
from catalogue.language.letters import composed, is_name
from catalogue.language.parser import parse_formula
from catalogue.language.tree import Node
from catalogue.people import known_measurements
from catalogue.studio.doubted_words import doubted_range
from catalogue.studio.style import Choice

_CHOICE = re.compile(r"^(?P<default>[^()]+?)\s*(?:\((?P<limits>[^()]*)\))?\s*(?:[-–—]\s+(?P<about>.+))?$")
_RANGED = re.compile(
    r"^(?P<default>[^()]+?)\s*\((?P<limits>[^()]+\sto\s[^()]+)\)\s*(?:[-–—]\s+(?P<about>.+))?$"
)
"""A range settles that a dash before it is a minus: `bust_girth / 4 - 1 in (5 in to 14 in)`."""

_DASHED = re.compile(r"^(?P<low>[^,]*?\d[^,]*?)\s*(?:[-–—−]|\.{2,3}|…)\s*(?P<high>\d[^,]*)$")
"""A range written with a dash or dots, in place of “to”."""

MOST_CHOICES = 100
LONGEST_CHOICE = 600
"""Characters of a choice: its name, or its default, range and explanation."""


def _is_formula(text: str, place: Place) -> bool:
    try:
        parse_formula(text, place)
    except Trouble:
        return False
    return True


def _with_unit(low: str, high: str) -> str:
    """The lower end of a range, with the unit of the upper one if it has none: the `2` of `2-8 cm`."""
    unit = re.search(r"[^\W\d_]+$", high)
    return f"{low} {unit.group()}" if unit and low[-1].isdigit() else low


def with_source(finding: Finding, front: Front) -> Finding:
    """The finding with the line of the file that it speaks of."""
    if finding.source or finding.place is None or finding.place.file != front.file:
        return finding
    number = finding.place.line
    return replace(finding, source=front.lines[number - 1][:200] if 0 < number <= len(front.lines) else "")


class ChoiceReader:
    """Reads the choices of one style; what is wrong is added to `findings`."""

    def __init__(self, front: Front, findings: list[Finding]) -> None:
        self.front = front
        self.findings = findings

    def say(
        self, code: str, message: str, place: Place, hint: str = "", severity: Severity = Severity.ERROR
    ) -> None:
        self.findings.append(self.front.finding(code, message, place, hint, severity))

    def choices(self, key: str = "choices", before: Iterable[Choice] = ()) -> Iterator[Choice]:
        """What the entry `key` lists: names with a default, a range and words; none may be one of those `before`."""
        entry = self.front.mapping.get(key)
        if entry is None or entry.value == "":
            return
        if entry.mapping is None:
            self.say(
                "wrong-kind",
                f"“{key}” should be names with values; it is {entry.kind}.",
                entry.place,
                "Write, indented under it: length: 58 cm (40 cm to 75 cm) - from the waist down",
            )
            return
        if len(entry.mapping) > MOST_CHOICES:
            self.say("too-long", f"A style has at most {MOST_CHOICES} choices.", entry.key_place)
            return
        given = {choice.key for choice in before}
        for name, value in entry.mapping.items():
            choice = self.choice(composed(" ".join(name.replace("_", " ").split())), value)
            if choice is None:
                continue
            if choice.key in given:
                self.say("given-twice", f"The choice “{choice.name}” is given twice.", value.key_place)
                continue
            if choice.key in known_measurements() or choice.key == "start":
                self.say(
                    "name-taken",
                    f"“{choice.name}” is a body measurement."
                    if choice.key != "start"
                    else "“start” is the first point.",
                    value.key_place,
                    f"Choose another name, such as {choice.name} ease.",
                )
                continue
            given.add(choice.key)
            yield choice

    def choice(self, name: str, entry: FrontEntry) -> Choice | None:
        if len(name) > LONGEST_CHOICE or not is_name(name.replace(" ", "_")):
            self.say(
                "bad-name",
                f"“{name}” can't be the name of a choice.",
                entry.key_place,
                "Use letters, digits and spaces, beginning with a letter.",
            )
            return None
        text = " ".join((entry.text or "").split())
        short = len(text) <= LONGEST_CHOICE
        found = _CHOICE.match(text) if short else None
        ranged = _RANGED.match(text) if short else None
        if ranged and _is_formula(ranged["default"], entry.place):
            found = ranged
        if not found:
            self.say(
                "bad-choice",
                f"The choice “{name}” is not understood.",
                entry.place,
                "Write a default, then a range or the options to choose from: 58 cm (40 cm to 75 cm) - about it",
            )
            return None
        default, limits, about = (
            found["default"].strip(),
            (found["limits"] or "").strip(),
            found["about"] or "",
        )
        if " to " in limits:
            low, _, high = limits.partition(" to ")
            return self.checked(Choice(name, default, low.strip(), high.strip(), (), about, entry.place))
        if dashed := _DASHED.match(limits):
            low, high = _with_unit(dashed["low"], dashed["high"]), dashed["high"]
            row = self.front.lines[entry.place.line - 1]
            column = max(row.find(limits, entry.place.column - 1), entry.place.column - 1) + 1
            self.say(
                "bad-choice",
                f"The range of “{name}” is not understood; expected “to” between its two ends.",
                replace(entry.place, column=column),
                f"Write a range as {low} to {high}.",
            )
            return self.checked(Choice(name, default, low, high, (), about, entry.place))
        options = tuple(composed(w.strip()) for w in re.split(r",|\bor\b", limits) if w.strip())
        default = composed(default)
        if options and default not in options:
            self.say(
                "bad-choice",
                f"The default “{default}” is not one of the options of “{name}”.",
                entry.place,
                did_you_mean(default, options),
            )
        bad = next((o for o in options if not is_name(o)), None)
        if bad is not None:
            self.say(
                "bad-choice", f"“{bad}” cannot be an option: expected one word made of letters.", entry.place
            )
        return self.checked(Choice(name, default, "", "", options, about, entry.place))

    def checked(self, choice: Choice) -> Choice:
        """The choice with its formulas read, after saying what is wrong with them."""
        if choice.options:
            return choice
        trees: dict[str, Node] = {}
        row = self.front.lines[choice.place.line - 1] if choice.place.line <= len(self.front.lines) else ""
        at = choice.place.column - 1
        for text in filter(None, (choice.default, choice.lowest, choice.highest)):
            found = row.find(text, at)
            at = found if found >= 0 else at
            try:
                trees.setdefault(text, parse_formula(text, replace(choice.place, column=at + 1)))
            except Trouble as trouble:
                self.findings += [with_source(finding, self.front) for finding in trouble.findings]
            at += len(text) if found >= 0 else 0
        self.findings += doubted_range(choice, self.front)
        return replace(choice, trees=trees)
