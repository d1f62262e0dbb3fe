"""What can be told of conditions and formulas without a client, whether they are shown to one or not."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from catalogue.findings import Finding, Place, Severity, Trouble, did_you_mean
from catalogue.frontmatter import Front
from catalogue.language.parser import parse_condition
from catalogue.language.tree import Node
from catalogue.people import Register
from catalogue.studio.body import code_spans, fence_of
from catalogue.studio.condition_repairs import put_right
from catalogue.studio.prose import Prose
from catalogue.studio.style import Choice, CutFrom, DraftLines, Section

_GIVING_MORE = frozenset({"edge", "repeat", "take_piece", "extend_edge", "cut_along", "cut_edge", "opening"})
"""Lines that give names beside those that are values (`studio/measured.py`)."""
_NAME = re.compile(r"[^\W\d]\w*")
_BRACKETED = re.compile(
    r"(?:[(\[（［｛]\s*(?P<text>when\b[^()\[\]{}（）［］｛｝\n]*|otherwise|always)[\s:]*[)\]）］｝](?![(\[])"
    r"|<\s*(?P<angled>when\b(?:[^<>\n]|[<>]=?(?=\s*\d))*|otherwise|always)[\s:]*>)",
    re.IGNORECASE,
)
"""What would be a condition in braces; not the words of a link."""


class ConditionChecks:
    """Looks through what one style says; what is wrong is for the caller to note.

    Args:
        choices: those of the style, and what it receives.
        given: names that its lines give, and those of its choices.
    """

    def __init__(
        self,
        front: Front,
        choices: Sequence[Choice],
        given: Iterable[str],
        cut_from: Sequence[CutFrom],
        sections: Sequence[Section],
        register: Register,
    ) -> None:
        self.front = front
        self.choices = {choice.key: choice for choice in choices}
        self.sections = sections
        self.register = register
        parts = [part for section in sections for part in section.parts]
        self.prose = [part for part in parts if isinstance(part, Prose)]
        self.lines = [part for part in parts if isinstance(part, DraftLines)]
        self.nodes = [node for part in self.lines for tree in part.statements for node in tree.walk()]
        self.own = {
            *given,
            *(cut.name for cut in cut_from),
            *self._named_by_lines(),
            *self._choices_written(),
        }
        rounds = [re.sub(r"\\\{.*?\\\}", r"-?\\d+", re.escape(name)) for name in self.own if "{" in name]
        self.in_rounds = re.compile("|".join(rounds)) if rounds else None

    def _named_by_lines(self) -> Iterator[str]:
        for node in self.nodes:
            if node.word in _GIVING_MORE:
                yield from (leaf.text for leaf in node.inside if leaf is not None and leaf.word == "NAME")

    def _choices_written(self) -> Iterator[str]:
        """Names of choices, those too that were not understood."""
        for key in ("choices", "receives"):
            entry = self.front.mapping.get(key)
            yield from (
                (name.strip().replace(" ", "_") for name in (entry.mapping or {}) if entry) if entry else ()
            )

    def all_lines_may_give(self) -> None:
        """Take every word of a draft block for a name: where a line is not understood, it may give any."""
        for part in self.lines:
            self.own.update(_NAME.findall(part.source))

    # --- names and words ------------------------------------------------------------------------------------

    def wrong_names(self, front_conditions: Iterable[Node]) -> Iterator[Finding]:
        """An error for each name that exists nowhere, and each word that is no option of its choice."""
        told: set[str] = set()
        for node in self.nodes:
            if node.word == "is_word":
                yield from self.wrong_word(node, told)
        for tree in front_conditions:
            yield from self.wrong_in(tree, told)
        for prose in self.prose:
            if prose.conditions:  # all else is worked out for every client
                for tree in prose.trees:
                    yield from self.wrong_in(tree, told)

    def wrong_in(self, tree: Node, told: set[str]) -> Iterator[Finding]:
        for node in tree.walk():
            if node.word == "is_word":
                yield from self.wrong_word(node, told)
            elif node.word == "name":
                yield from self.unknown(node.text, node, told)
            elif node.word == "dotted":
                piece = node.text.partition(".")[0]
                if piece not in self.own:
                    yield from self.unknown(piece, node, told, is_piece=True)

    def wrong_word(self, node: Node, told: set[str]) -> Iterator[Finding]:
        choice = self.choices.get(node.name.text)
        name = node.name.text
        if choice is None and not self.knows(name):
            yield from self.unknown(name, node.name, told)
        elif choice is None and name in self.own:
            return  # a line may give it a word of a choice
        elif choice is None or not choice.options:
            message = f"“{name}” is not a choice of words."
            of_words = [each.key for each in self.choices.values() if each.options]
            hint = (
                f"Choices of words: {', '.join(of_words)}."
                if of_words
                else f"Compare it: {name} more than 60 cm."
            )
            yield self.finding("wrong-kind", message, node.name.place, hint)
        elif node.choice.text not in choice.options:
            yield self.finding(
                "unknown-word",
                f"“{node.choice.text}” is not one of the words of “{choice.key}”: {', '.join(choice.options)}.",
                node.choice.place,
                did_you_mean(node.choice.text, choice.options),
            )

    def unknown(self, name: str, node: Node, told: set[str], *, is_piece: bool = False) -> Iterator[Finding]:
        """What to say of a name; of a piece or block (`is_piece`) even where a measurement is called so."""
        if name in told or (self.knows(name) and not is_piece) or self.is_of_rounds(name):
            return
        told.add(name)
        hint = did_you_mean(
            name, [*self.choices, *sorted(self.own - self.choices.keys()), *self.register.lengths()]
        )
        yield self.finding(
            "unknown-name",
            f"“{name}” is not known here.",
            node.place,
            hint or "Names are given by a draft line or under choices:, or are body measurements.",
        )

    def knows(self, name: str) -> bool:
        return (
            name in self.own
            or name in self.register.lengths()
            or self.register.of_lengths(name) is not None
            or bool(self.register.candidates(name))
            or self.is_of_rounds(name)
        )

    def is_of_rounds(self, name: str) -> bool:
        """Whether repeated lines may give it: `gore_3` where one gives `gore_{n}`."""
        return self.in_rounds is not None and self.in_rounds.fullmatch(name) is not None

    def finding(self, code: str, message: str, place: Place, hint: str) -> Finding:
        return self.front.finding(code, message, place, hint, Severity.ERROR)

    # --- conditions in other brackets than braces -----------------------------------------------------------

    def in_other_brackets(self, notions: Mapping[str, Place]) -> Iterator[Finding]:
        """A warning for each condition in brackets that are no braces, which everybody is shown with what it is for."""
        for text, place in notions.items():
            yield from self._bracketed([(text, place.line, place.column - 1)], has_conditions=False)
        for prose in self.prose:
            rows = list(self._rows(prose))
            yield from self._bracketed(rows, has_conditions=bool(prose.conditions))

    def _rows(self, prose: Prose) -> Iterator[tuple[str, int, int]]:
        """The rows of a prose as they stand in the file, without code: each with its number, from 1."""
        fence = ""
        for number in range(prose.line, prose.line + prose.markdown.count("\n") + 1):
            row = self.front.lines[number - 1] if number <= len(self.front.lines) else ""
            mark = fence_of(row.lstrip(" "))
            if fence:
                fence = "" if mark.closes(fence) else fence
            elif mark.ticks:
                fence = mark.ticks
            else:
                for start, end in code_spans(row):
                    row = row[:start] + " " * (end - start) + row[end:]
                yield row, number, 0

    def _bracketed(self, rows: Sequence[tuple[str, int, int]], *, has_conditions: bool) -> Iterator[Finding]:
        found = [
            (each, number, shift, self._meant(each["text"] or each["angled"]))
            for row, number, shift in rows
            for each in _BRACKETED.finditer(row)
        ]
        has_conditions = has_conditions or any(meant.startswith("{when") for *_, meant in found)
        for each, number, shift, meant in found:
            if meant.startswith("{when") or (meant and has_conditions):
                place = Place(self.front.file, number, each.start() + shift + 1)
                message = f"“{each[0]}” is plain text here: everybody is shown what comes after it."
                said = self.front.finding("doubted-condition", message, place, "", Severity.WARNING)
                yield replace(said, instead=meant)

    def _meant(self, text: str) -> str:
        """The condition that words in brackets would be in braces; "" where they are ordinary words."""
        words = " ".join(text.split()).rstrip(" :,")
        word, _, rest = words.partition(" ")
        if word.casefold() != "when":
            return f"{{{word.casefold()}}}"
        try:
            tree = parse_condition(f"when {rest}", Place(self.front.file))
        except Trouble:
            return put_right(rest, self.choices.values(), alike=1)
        if all(self._is_plain(node) for node in tree.walk()):
            return f"{{when {rest}}}"
        return put_right(rest, self.choices.values())

    def _is_plain(self, node: Node) -> bool:
        """Whether a part of a condition holds names alone that are known, and asks for words of choices alone."""
        if node.word == "is_word":
            choice = self.choices.get(node.name.text)
            return choice is not None and node.choice.text in choice.options
        if node.word == "name":
            return self.knows(node.text)
        return node.word != "dotted" or self.knows(node.text.partition(".")[0])
