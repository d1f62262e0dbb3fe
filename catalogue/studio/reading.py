"""Reading a style file: front matter, headings, prose with formulas in braces, and draft blocks."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from catalogue.between_runs import Later, kept
from catalogue.findings import Finding, Place, Severity, Trouble, did_you_mean
from catalogue.frontmatter import Front, another_beginning, decode, read_bytes
from catalogue.language.tree import Node
from catalogue.people import REGISTER, Register
from catalogue.people.mending import split_mended
from catalogue.slugs import slugify
from catalogue.studio.alterations import LANDMARK
from catalogue.studio.body_reading import BodyReader
from catalogue.studio.choices import ChoiceReader, with_source
from catalogue.studio.condition_checks import ConditionChecks
from catalogue.studio.condition_words import condition_in, read_condition
from catalogue.studio.cut_from import CutFromReader
from catalogue.studio.doubted_words import doubted_words
from catalogue.studio.measured import used_measurements
from catalogue.studio.prose import WHEN, Condition
from catalogue.studio.style import Choice, DraftLines, Section, Style
from catalogue.studio.unused_names import unused_in

KEYS = (
    "title",
    "garment",
    "for",
    "reserved for",
    "summary",
    "tags",
    "cloth",
    "choices",
    "notions",
    "sources",
    "picture",
    "flat",
    "cut from",
    "block",
    "receives",
    "landmarks",
)
_NOT_HERE = dict.fromkeys(
    ("needs", "measurements", "measures"),
    "Leave it out: the measurements that the formulas use are asked for, and no others.",
)
"""Keys that other files have, or that are looked for here, and what to do instead."""
_FOR_SOME = re.compile(rf"\{{\s*({WHEN}\b[^{{}}]*)\}}\s*([^{{}}]+)", re.IGNORECASE)
"""A notion with a condition before it."""
AUDIENCES = ("women", "men", "girls", "boys", "children")

MOST_UNKNOWN = 20
"""Unknown names in the front matter that are spoken of."""

WORTH_KEEPING = 2000
"""Bytes of a style file from which on it takes longer to read it than to look up how it was read before."""


def read_style(path: Path, root: Path, register: Register = REGISTER) -> Style:
    """The style in the file at `path`; problems become its findings.

    Args:
        root: the studio's folder, for naming the file in findings.
        register: the studio's measurements.
    """
    file = path.relative_to(root).as_posix() if path.is_relative_to(root) else path.as_posix()
    try:
        data = read_bytes(path, file)
    except Trouble as trouble:
        return Style(slugify(path.stem), file, path.stem, findings=trouble.findings)
    if len(data) < WORTH_KEEPING:
        return style_from(data, path.stem, file, register)

    def read() -> Style:
        # The studio's measurements are not kept with each of its styles. Of most styles the sections are not looked at.
        style = style_from(data, path.stem, file, register)
        return replace(style, register=REGISTER, sections=Later.of(style.sections))

    key = (path.stem, file, repr(register.own), hashlib.sha256(data).hexdigest())
    return replace(kept("style", key, read), register=register)


def _in_prose(choice: Choice) -> str:
    """How else than in a formula a choice of words is used."""
    if not choice.options:
        return ""
    word = "yes" if "yes" in choice.options else choice.options[0]
    return f" or in the prose as {{{WHEN} {choice.key} is {word}}}"


def _digest_of_blocks(sections: Sequence[Section]) -> str:
    blocks = (part for section in sections for part in section.parts if isinstance(part, DraftLines))
    return hashlib.sha256("\0".join(block.source for block in blocks).encode()).hexdigest()


def style_from(data: bytes, stem: str, file: str, register: Register = REGISTER) -> Style:
    """A style from the bytes of its file; `stem` names it, `file` is for findings."""
    digest = hashlib.sha256(data).hexdigest()
    try:
        front, mended = split_mended(decode(data, file), file, KEYS)
    except Trouble as trouble:
        return Style(slugify(stem), file, stem, findings=trouble.findings, digest=digest)
    reader = _StyleReader(front, stem, digest, register)
    reader.findings += mended
    return reader.style()


class _StyleReader:
    def __init__(self, front: Front, stem: str, digest: str, register: Register) -> None:
        self.register = register
        self.front = front
        self.stem = stem
        self.digest = digest
        self.findings: list[Finding] = []
        self.notion_conditions: list[Condition] = []
        self.choices: tuple[Choice, ...] = ()

    def say(
        self, code: str, message: str, place: Place, hint: str = "", severity: Severity = Severity.ERROR
    ) -> None:
        self.findings.append(self.front.finding(code, message, place, hint, severity))

    def style(self) -> Style:
        unknown = [name for name in self.front.mapping if name not in KEYS]
        for name in unknown[:MOST_UNKNOWN]:
            self.say(
                "unknown-key",
                f"“{name}” is not known in a style file.",
                self.front.mapping[name].key_place,
                _NOT_HERE.get(name) or did_you_mean(name, KEYS) or f"Known: {', '.join(KEYS)}.",
            )
        self.check_conditions()
        choices = tuple(ChoiceReader(self.front, self.findings).choices())
        receives = tuple(ChoiceReader(self.front, self.findings).choices("receives", choices))
        self.choices = given = (*choices, *receives)
        cut_from = tuple(CutFromReader(self.front, self.findings).cut_from())
        sections = tuple(BodyReader(self.front, self.findings, given).sections())
        self.findings += doubted_words(self.front, sections)
        if place := another_beginning(self.front, "title"):
            self.say(
                "second-in-file",
                "Another style begins here; a file holds one.",
                place,
                "Move the lines from here on into a file of their own.",
            )
        written = self.words("notions", ";")
        notions = [self.notion(text, n) for n, text in enumerate(written)]
        self.notion_conditions = [condition for _, condition in notions if condition is not None]
        title = self.text("title")
        untitled = self.front.mapping.get("title")
        if not title and (untitled is None or untitled.text is not None):
            self.say(
                "no-title",
                "The style has no title.",
                untitled.key_place if untitled else Place(self.front.file),
                "Write a line title: with the style's name.",
            )
        stated = [each.tree for block in cut_from for each in block.stated if each.tree is not None]
        drawn = tuple(self.trees(sections, choices))
        used = used_measurements((*drawn, *self.trees((), receives)), given, self.register, stated)
        checks = ConditionChecks(self.front, given, used.given, cut_from, sections, self.register)
        self.check_names(checks, written)
        taken_needs = used_measurements(drawn, given, self.register).needs if receives else used.needs
        # A line that was not understood may be the one that uses it.
        for choice in () if any(f.is_error for f in self.findings) else used.unused:
            self.say(
                "unused-choice",
                f"Nothing uses the choice “{choice.name}”: whatever is chosen, the draft is the same."
                if choice in choices
                else f"Nothing uses “{choice.name}”: whatever is given, the draft is the same.",
                choice.place,
                f"Use it in a formula as {choice.key}{_in_prose(choice)}, or leave it out.",
                Severity.WARNING,
            )
        for node in used.taken:
            self.say(
                "name-taken",
                f"“{node.text}” is the body measurement {self.register[node.text].name}.",
                node.place,
                "Choose another name.",
            )
        style = Style(
            slug=slugify(self.stem),
            file=self.front.file,
            title=title or self.stem,
            garment=self.text("garment"),
            audience=self.audience(),
            reserved_for=self.words("reserved for", ";"),
            summary=self.text("summary"),
            tags=self.words("tags"),
            cloth=tuple(self.pairs("cloth", "main")),
            notions=tuple(text for text, _ in notions),
            notion_conditions={n: condition for n, (_, condition) in enumerate(notions) if condition},
            choices=choices,
            sources=self.words("sources", ";"),
            picture=self.text("picture"),
            flat=self.yes("flat"),
            is_block=self.yes("block", "no", "is there to be cut from alone"),
            receives=receives,
            receives_needs=frozenset(used.needs) - frozenset(taken_needs),
            cut_from=cut_from,
            sections=sections,
            needs=used.needs,
            alternatives=used.alternatives,
            optional=used.optional,
            findings=tuple(self.findings),
            digest=self.digest,
            blocks_digest=_digest_of_blocks(sections),
            lines=self.front.lines,
            everyday=used.everyday,
            given=used.given,
            register=self.register,
            cloth_places=self.cloth_places(),
            landmarks=dict(self.landmarks()),
        )
        return replace(style, unused=tuple(unused_in(style)))

    # --- front matter ---------------------------------------------------------------------------------------

    def yes(
        self, key: str, usual: str = "yes", unusual: str = "has pieces that do not show the garment"
    ) -> bool:
        """Whether an entry says yes; what is `usual` holds when it isn't there."""
        words = self.text(key).casefold()
        if words not in ("", "yes", "no"):
            other = "no" if usual == "yes" else "yes"
            self.say(
                "yes-or-no",
                f"“{key}” is yes or no, not “{words}”.",
                self.front.mapping[key].place,
                f"Write {key}: {other} for a style that {unusual}.",
            )
        return words == "yes" if usual == "no" else words != "no"

    def text(self, key: str) -> str:
        entry = self.front.mapping.get(key)
        if entry is None:
            return ""
        if entry.text is None:
            self.say("wrong-kind", f"“{key}” should be a text; it is {entry.kind}.", entry.place)
            return ""
        return " ".join(entry.text.split())

    def words(self, key: str, separator: str = ",") -> tuple[str, ...]:
        """A list, or a text with separators."""
        entry = self.front.mapping.get(key)
        if entry is None:
            return ()
        if entry.text is not None:
            return tuple(w for w in (" ".join(p.split()) for p in entry.text.split(separator)) if w)
        if entry.entries is None:
            self.say("wrong-kind", f"“{key}” should be a list; it is {entry.kind}.", entry.place)
            return ()
        return tuple(" ".join(e.text.split()) for e in entry.entries if e.text)

    def notion(self, text: str, number: int) -> tuple[str, Condition | None]:
        """A notion, and its condition where it is not always needed: `{when vent is yes} a hook`."""
        found = _FOR_SOME.fullmatch(text)
        entry = self.front.mapping["notions"]
        if found is None:
            if "{" in text or "}" in text:
                self.say(
                    "condition",
                    f"“{text}” can't be read: a notion has at most one condition, before it.",
                    self.place_of(text, entry.place),
                    "Write {when vent is yes} hook and eye, and part notions with semicolons.",
                )
            return text, None
        try:
            return found[2], read_condition(
                found[1], -1 - number, self.place_of(found[1], entry.place), self.choices
            )
        except Trouble as trouble:
            self.findings += [with_source(finding, self.front) for finding in trouble.findings]
            return found[2], None

    def check_names(self, checks: ConditionChecks, notions: Iterable[str]) -> None:
        """Say what is wrong with names and words of conditions, and where one stands in other brackets than braces."""
        if any(finding.is_error for finding in self.findings):
            checks.all_lines_may_give()
        self.findings += checks.wrong_names(
            condition.tree for condition in self.notion_conditions if condition.tree is not None
        )
        entry = self.front.mapping.get("notions")
        self.findings += checks.in_other_brackets(
            {text: self.place_of(text, entry.place) for text in notions} if entry else {}
        )

    def check_conditions(self) -> None:
        """Say so where a condition stands among what is the same for everybody: only notions can have one."""
        notions = self.front.mapping.get("notions")
        begins = sorted(entry.key_place.line for entry in self.front.mapping.values())
        of_notions = notions.key_place.line if notions else 0
        after = next((line for line in begins if line > of_notions), self.front.body_line)
        for number, row in enumerate(self.front.lines[: self.front.body_line - 1], 1):
            if (at := condition_in(row)) is not None and not of_notions <= number < after:
                self.say(
                    "condition",
                    "A condition can't stand here: this is the same for everybody.",
                    Place(self.front.file, number, at + 2),
                    "Write in words for whom it is, such as: a vent on request. A notion can have a condition, and so "
                    "can the prose.",
                )
                return

    def place_of(self, text: str, start: Place) -> Place:
        """Where a text stands in the front matter, from `start` on; `start` where it goes over the end of a row."""
        for number, row in enumerate(self.front.lines[start.line - 1 : self.front.body_line], start.line):
            if (at := row.find(text)) >= 0:
                return Place(self.front.file, number, at + 1)
        return start

    def pairs(self, key: str, alone: str) -> Iterator[tuple[str, str]]:
        entry = self.front.mapping.get(key)
        if entry is None:
            return
        if entry.text is not None:
            yield alone, entry.text
        elif entry.mapping is not None:
            for name, value in entry.mapping.items():
                if value.text is None:
                    self.say("wrong-kind", f"“{name}” should be a text; it is {value.kind}.", value.place)
                else:
                    yield name, value.text
        else:
            self.say(
                "wrong-kind", f"“{key}” should be a text, or names with texts; it is a list.", entry.place
            )

    def landmarks(self) -> Iterator[tuple[str, str]]:
        """What the style calls landmarks of alterations otherwise: `front.side: skirt_front.outer`."""
        entry = self.front.mapping.get("landmarks")
        if entry is None or entry.text == "":
            return
        if entry.mapping is None:
            self.say(
                "wrong-kind",
                f"“landmarks” should be names with names; it is {entry.kind}.",
                entry.place,
                "Write front.side: skirt_front.outer on a line of its own below it.",
            )
            return
        for standard, own in entry.mapping.items():
            for name, place in ((standard, own.key_place), (own.text or "", own.place)):
                if not LANDMARK.fullmatch(name):
                    self.say(
                        "not-a-landmark", f"“{name}” is no landmark.", place, "Write front or front.side."
                    )
                    break
            else:
                yield standard, own.text or ""

    def cloth_places(self) -> dict[str, Place]:
        entry = self.front.mapping.get("cloth")
        if entry is None:
            return {}
        return {name: value.place for name, value in (entry.mapping or {"main": entry}).items()}

    def audience(self) -> tuple[str, ...]:
        words = self.words("for")
        for word in words:
            if word not in AUDIENCES:
                self.say(
                    "unknown-audience",
                    f"“{word}” is not known after for:.",
                    self.front.mapping["for"].place,
                    did_you_mean(word, AUDIENCES) or f"Known: {', '.join(AUDIENCES)}.",
                )
        return tuple(w for w in words if w in AUDIENCES)

    def trees(self, sections: tuple[Section, ...], choices: tuple[Choice, ...]) -> Iterator[Node]:
        for choice in choices:
            yield from choice.trees.values()
        yield from (condition.tree for condition in self.notion_conditions)
        for section in sections:
            for part in section.parts:
                if isinstance(part, DraftLines):
                    yield from part.statements
                else:
                    yield from part.trees
