"""What a style is cut from: the blocks that its front matter names, with the choices it states for them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from catalogue.findings import Finding, Place, Trouble
from catalogue.frontmatter import Front, FrontEntry
from catalogue.language.letters import composed, is_name
from catalogue.language.parser import parse_formula
from catalogue.slugs import slugify
from catalogue.studio.style import CutFrom, Stated

MOST_BLOCKS = 20
"""Blocks that one style is cut from: a coat takes body, sleeve, collar, cuff, and a few pockets."""

_PART = re.compile(r"(?:[^,]|(?<=\d),(?=\d))+")
"""What stands between commas; a comma inside a number is none of them."""

EXAMPLE = "Write, indented under it: bodice: bodice-block, waist ease = 3 cm"


class CutFromReader:
    """Reads `cut from:` of one style; what is wrong is added to `findings`."""

    def __init__(self, front: Front, findings: list[Finding]) -> None:
        self.front = front
        self.findings = findings

    def say(self, code: str, message: str, place: Place, hint: str = "") -> None:
        self.findings.append(self.front.finding(code, message, place, hint))

    def cut_from(self) -> Iterator[CutFrom]:
        entry = self.front.mapping.get("cut from")
        if entry is None or entry.value == "":
            return
        if entry.mapping is None:
            message = f"“cut from” should be names with the blocks they stand for; it is {entry.kind}."
            self.say("wrong-kind", message, entry.place, EXAMPLE)
            return
        if len(entry.mapping) > MOST_BLOCKS:
            self.say("too-long", f"A style is cut from at most {MOST_BLOCKS} blocks.", entry.key_place)
            return
        given: set[str] = set()
        for written, value in entry.mapping.items():
            name = composed("_".join(written.split()))
            if not is_name(name):
                self.say(
                    "bad-name",
                    f"“{written}” can't be the name of a block.",
                    value.key_place,
                    "Use letters, digits and blanks, a letter first.",
                )
            elif name in given:
                self.say("given-twice", f"The block “{name}” is there twice.", value.key_place)
            elif block := self.block(name, value):
                given.add(name)
                yield block

    def block(self, name: str, entry: FrontEntry) -> CutFrom | None:
        """`bodice-block, waist ease = 3 cm, sleeve = long`"""
        text = entry.text
        if not text:
            message = f"“{name}” should be the name of a style's file; it is {entry.kind}."
            self.say("wrong-kind", message, entry.place, EXAMPLE)
            return None
        parts = list(_PART.finditer(text))
        slug = parts[0].group().strip() if parts else ""
        if ";" in text:
            message = f"Expected a comma in place of “;” between the block of “{name}” and its choices."
            at = entry.place_at(text.index(";"))
            self.say("no-block", message, at, f"Write: {name}: {re.sub(' *; *', ', ', text.strip('; '))}")
            return None
        if not slug or "=" in slug:
            self.say("no-block", f"“{name}” names no block.", entry.place, self._with_comma(name, text))
            return None
        stated: dict[str, Stated] = {}
        for part in parts[1:]:
            if not part.group().strip():
                continue
            found = self.stated(part.group(), entry.place_at(part.start()))
            if found is not None and found.choice in stated:
                self.say("given-twice", f"The choice “{found.choice}” is stated twice.", found.place)
            elif found is not None:
                stated[found.choice] = found
        return CutFrom(name, slugify(slug.removesuffix(".md")), tuple(stated.values()), entry.place)

    def _with_comma(self, name: str, text: str) -> str:
        """What to write in place of `bodice-block waist ease = 3 cm`, where the comma is missing."""
        slug, _, rest = text.partition(" ")
        if "=" in rest and "=" not in slug and not rest.lstrip().startswith("="):
            return f"Put a comma behind the block: {name}: {slug.rstrip(',')}, {rest.strip()}"
        return EXAMPLE

    def stated(self, text: str, place: Place) -> Stated | None:
        """`waist ease = 3 cm`"""
        choice, sign, value = text.partition("=")
        place = replace(place, column=place.column + len(choice) - len(choice.lstrip()))
        name = composed(" ".join(choice.replace("_", " ").split()))
        at = replace(place, column=place.column + len(choice.lstrip()) + 1 + len(value) - len(value.lstrip()))
        value = " ".join(value.split())
        if not (sign and name and value):
            message = f"“{text.strip()}” does not say what is chosen; expected a choice of the block, = and a value."
            self.say("bad-choice", message, place, "Write it as in: waist ease = 3 cm")
            return None
        try:
            tree = parse_formula(value, at)
        except Trouble as trouble:
            for finding in trouble.findings:
                self.say(finding.code, finding.message, finding.place or at, finding.hint)
            return None
        return Stated(name, value, tree, place)
