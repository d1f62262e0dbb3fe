"""Finding out what each condition of a prose holds for: words in a paragraph, an item, or the rows up to the next one.

A condition on a row of its own holds for whole paragraphs, items and sketches, up to the next such row. One inside a
paragraph holds to its end, or up to the next one in it; at the beginning of an item that has no other it holds for all
of the item, with what lies below.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from catalogue.findings import Place
from catalogue.studio.body import fence_of
from catalogue.studio.marked_words import marked_words
from catalogue.studio.prose import ALWAYS, ITEM, MARK, OTHERWISE, WHEN, Condition, Prose, ProseRows

_ALONE = re.compile(rf"\s*{MARK.pattern}\s*")
_STEP = re.compile(r"\b(?:step|item)s? \d{1,3}\b", re.IGNORECASE)
_BEGINNING = re.compile(r"[ \t]*(?:(?:\d{1,9}[.)]|[-*+])[ \t]+)?")
"""Blanks before a row, and the sign of an item with the blanks after it."""
_RULE = re.compile(r" *(?:([-*_])(?: *\1){2,}|=+) *")
"""A rule across the page, or what makes a heading of the text above: either ends a paragraph."""
_BARS = re.compile(r":?-+:? *(?:\| *:?-+:? *)*\|?(?: *:?-+:?)?")
"""The row below the heads of a table."""
_ADDRESS = re.compile(rf"\]\([^()\n]*?{MARK.pattern}")
_ABOVE, _INSIDE = "on a row above", "in this paragraph"
_END = {
    _ABOVE: "An {always} above has ended it.",
    _INSIDE: "One inside a paragraph or an item ends with it.",
}
"""What ends a condition, by where it stands."""


class WrongCondition(NamedTuple):
    """What is wrong with a condition, and what to do about it; `doubted` where it may be meant so."""

    place: Place
    message: str
    hint: str
    doubted: bool = False


def arranged(prose: Prose) -> tuple[Prose, list[WrongCondition]]:
    """A prose with its stretches, and the mistakes in its conditions."""
    if not prose.conditions:
        return prose, []
    reader = _Arranger(prose)
    stretches = tuple(reader.stretches())
    reader.doubt_numbers(prose, stretches)
    conditions = tuple(reader.by_index[c.index] for c in prose.conditions)
    return replace(prose, conditions=conditions, stretches=stretches), reader.wrong


@dataclass(slots=True)
class _Series:
    """Conditions that follow one another: `when`s, perhaps an `otherwise`, up to `always`."""

    whens: list[Condition]
    last: Condition
    filled: bool = False
    """Whether there is text after the last one."""


class _Arranger:
    def __init__(self, prose: Prose) -> None:
        self.written = prose.markdown.split("\n")
        self.rows = [
            _BEGINNING.sub(_with_blanks, row, count=1) if "\t" in row else row for row in self.written
        ]
        self.by_index = {c.index: c for c in prose.conditions}
        self.file = prose.conditions[0].place.file
        self.wrong: list[WrongCondition] = []
        self.series: _Series | None = None  # of conditions on rows of their own
        self.inside: _Series | None = None  # of those in the paragraph that is being read
        self.number = 0
        self.lists: dict[
            int, tuple[int, str]
        ] = {}  # by depth: the series of a numbered list, its first number
        self.parted = (
            False  # whether the text under a condition row and its otherwise has more than one paragraph
        )
        self.ended: Condition | None = None  # where text under a condition row ended that has several
        self.item: ProseRows | None = None  # the last one, where nothing may be left of its own text

    def doubt_numbers(self, prose: Prose, stretches: Sequence[ProseRows]) -> None:
        """Ask about text that names a step by its number, where steps have other numbers for other clients."""
        if any(s.marker and (s.under is not None or s.whole is not None) for s in stretches):
            for number, row in enumerate(self.rows):
                if found := _STEP.search(row):
                    message = f"“{found[0]}” may have another number for a client who has not all the steps."
                    hint = "Say what is done there (“when the band is on”), or leave the number out."
                    place = Place(self.file, prose.line + number, 1)
                    self.wrong.append(WrongCondition(place, message, hint, doubted=True))

    def say(self, at: Condition, message: str, hint: str) -> None:
        self.wrong.append(WrongCondition(at.place, message, hint))

    def stretches(self) -> Iterator[ProseRows]:
        text: list[str] = []
        number = 0
        while number < len(self.rows):
            row = self.rows[number]
            kind = self.kind(row)
            below_text = bool(text) and not _is_table(text[0])
            if kind == "mark" and below_text and self.is_inside(row, number):
                kind = "text"
            if kind == "text" and below_text:
                text.append(row)
                self.read_inside(row)
                number += 1
                continue
            if text:
                yield self.paragraph(text)
                text = []
            if kind == "blank":
                yield ProseRows("blank")
                self.ended = None
            elif kind == "mark":
                self.on_a_row(self.mark_in(row))
            elif kind == "fence":
                end = self.end_of_fence(number)
                rows = [MARK.sub(self.as_written, each) for each in self.written[number:end]]
                self.numbered(None, _depth(row), is_item=False)  # which it ends, if it stands below it
                yield self.found(ProseRows("fence", "\n".join(rows), depth=_depth(row)))
                number = end
                continue
            elif kind == "rule":
                self.ended = None
                self.numbered(None, _depth(row), is_item=False)
                yield self.found(ProseRows("text", row, depth=_depth(row)))
            else:
                self.check_border(kind)
                text = [row]
                self.inside = None
                self.read_inside(row)
            number += 1
        if text:
            yield self.paragraph(text)
        if self.series is not None:
            self.check_filled(self.series)
            self.say(
                self.series.last,
                f"Nothing says how far “{_said(self.series.last)}” goes.",
                f"Write {{{ALWAYS}}} on a row of its own after the last text that it is for, before the next heading "
                "or draft block.",
            )

    def kind(self, row: str) -> str:
        if not row.strip():
            return "blank"
        if _ALONE.fullmatch(row):
            return "mark"
        if fence_of(row.lstrip(" ")).ticks:
            return "fence"
        if _is_table(row):
            return "table"
        if _RULE.fullmatch(row):
            return "rule"
        return "item" if ITEM.match(row) else "text"

    def mark_in(self, row: str) -> Condition:
        found = MARK.search(row)
        assert found is not None
        return self.by_index[int(found[1])]

    def as_written(self, mark: re.Match[str]) -> str:
        """A condition in code, which stays as it is written."""
        return f"{{{self.by_index[int(mark[1])].written}}}"

    def end_of_fence(self, number: int) -> int:
        opened = fence_of(self.rows[number].lstrip(" ")).ticks
        for end in range(number + 1, len(self.rows)):
            if fence_of(self.rows[end].lstrip(" ")).closes(opened):
                return end + 1
        return len(self.rows)

    # --- conditions on rows of their own --------------------------------------------------------------------

    def is_inside(self, row: str, number: int) -> bool:
        """Whether a condition that is alone on its row, below text, belongs to that paragraph."""
        condition = self.mark_in(row)
        goes_on = number + 1 < len(self.rows) and self.kind(self.rows[number + 1]) == "text"
        if condition.word == WHEN:
            return goes_on and self.series is None
        if self.inside is None:
            return False
        if self.series is not None and goes_on:
            self.say(
                condition,
                f"“{_said(condition)}” may be meant for the paragraph or for the condition on a row above it.",
                "Write it at the end of the row before, or put an empty row above it.",
            )
        return self.series is None

    def on_a_row(self, condition: Condition) -> None:
        if condition.word == OTHERWISE:  # which is there where the text before it is not
            self.ended = None
        else:
            self.ended = condition if self.parted or self.ended is not None else None
            self.parted = False
        if self.series is not None:
            self.check_filled(self.series)
        self.series = self.next(condition, self.series, _ABOVE)

    def next(self, condition: Condition, series: _Series | None, where: str) -> _Series | None:
        """The series with one more condition; None where that ends it."""
        if condition.word == WHEN:
            if series is None:
                return _Series([condition], condition)
            self.check_case(condition, series)
            series.whens.append(condition)
            return _Series(series.whens, condition)
        if series is None:
            self.say(
                condition,
                f"There is no {{{WHEN} …}} {where} that “{_said(condition)}” could belong to.",
                f"Write {{{WHEN} …}} before the text that is for some, such as {{{WHEN} vent is yes}}. {_END[where]}",
            )
            return None
        if condition.word == OTHERWISE and series.last.word == OTHERWISE:
            self.say(
                condition,
                f"{{{OTHERWISE}}} has been said already.",
                f"Write {{{ALWAYS}}} before text that is for everybody, or {{{WHEN} …}} before another case.",
            )
        self.by_index[condition.index] = replace(condition, after=tuple(c.index for c in series.whens))
        return None if condition.word == ALWAYS else _Series(series.whens, condition)

    def check_case(self, condition: Condition, series: _Series) -> None:
        """Say so where a condition follows another and is no other case: it may be meant inside it or after it."""
        last = series.whens[-1]
        if condition.tree is None or last.tree is None:
            return  # which was said
        choice = _choice(condition)
        if series.last.word == WHEN and choice and choice == _choice(last):
            return
        self.say(
            condition,
            f"“{_said(condition)}” may be meant inside “{_said(series.last)}” or after it.",
            f"Write {{{ALWAYS}}} before it, or one condition for both: "
            f"{{{WHEN} {series.whens[-1].text} and {condition.text}}}.",
        )

    def check_filled(self, series: _Series) -> None:
        if not series.filled:
            self.say(
                series.last,
                f"There is no text after “{_said(series.last)}”.",
                "Write what is for these clients after it, or leave the condition out.",
            )

    def check_border(self, kind: str) -> None:
        """Say so where a paragraph goes on below rows that are not always there."""
        if self.ended is not None and kind == "text":
            self.say(
                self.ended,
                "The text below this condition goes on with a paragraph or an item that is not always there.",
                "Put an empty row below the condition, or begin an item there.",
            )
        self.ended = None

    # --- conditions inside a paragraph ----------------------------------------------------------------------

    def read_inside(self, row: str) -> None:
        """Note the conditions of one row of a paragraph, in their order."""
        end = 0
        for found in MARK.finditer(row):
            self.fill_inside(row[end : found.start()])
            condition = self.by_index[int(found[1])]
            if _is_table(row):
                self.say(
                    condition,
                    "Inside a table a condition can't be shown.",
                    "Put it on a row of its own, above the rows of the table that it is for.",
                )
            if self.inside is not None:
                self.check_filled(self.inside)
            self.inside = self.next(condition, self.inside, _INSIDE)
            end = found.end()
        self.fill_inside(row[end:])

    def fill_inside(self, words: str) -> None:
        if self.inside is not None and words.strip():
            self.inside.filled = True

    def paragraph(self, rows: Sequence[str]) -> ProseRows:
        """The rows of a paragraph, or of the first one of an item."""
        if self.inside is not None:
            self.check_filled(self.inside)
            self.inside = None
        text = "\n".join(rows)
        item = ITEM.match(rows[0])
        marker = item[0] if item else ""
        text = text[len(marker) :]
        depth = _depth(rows[0])
        first, *rest = MARK.split(text)
        here = [self.by_index[int(index)] for index in rest[::2]]
        if here:
            self.check_can_be_cut(text, here)
        whole = (
            here[0].index if item and len(here) == 1 and here[0].word == WHEN and not first.strip() else None
        )
        series, number = self.numbered(item[1] if item else None, depth, is_item=item is not None)
        found = self.found(ProseRows("text", text, marker, depth, whole=whole, series=series, first=number))
        always = [first, *(words for c, words in zip(here, rest[1::2], strict=True) if c.word == ALWAYS)]
        may_be_empty = (
            bool(here)
            and whole is None
            and not any(words.strip() for words in always)
            and all(c.word != OTHERWISE for c in here)
        )
        self.item = replace(found, whole=here[0].index) if item and may_be_empty else None
        return found

    def check_can_be_cut(self, text: str, here: Sequence[Condition]) -> None:
        """Say so where a condition in a paragraph would take away more than its words."""
        rows = text.split("\n")
        if any("|" in row and _BARS.fullmatch(row.strip(" >|")) for row in rows[1:]):
            self.say(
                here[0],
                "Inside a table a condition can't be shown.",
                "Begin each row of the table with |, and put the condition on a row of its own above the rows "
                "that it is for.",
            )
        quoted = [row.lstrip(" ") for row in rows]
        if quoted[0].startswith(">") and any(
            not inner or ITEM.match(inner) for inner in (row.lstrip("> ") for row in quoted)
        ):
            self.say(
                here[0],
                "In a quotation of several paragraphs or of items a condition can't be shown.",
                "Put it on a row of its own above the quotation, or leave out the > before its rows.",
            )
        if found := _ADDRESS.search(text):
            self.say(
                self.by_index[int(found[1])],
                "In the address of a link or a picture a condition can't be shown.",
                f"Write the whole link for each case: {{{WHEN} vent is yes}} ![vent](vent.png) {{{OTHERWISE}}} "
                "![seam](seam.png).",
            )
        else:
            self.check_between_signs(text)

    def check_between_signs(self, text: str) -> None:
        """Say so where a condition would leave bold words or a link without their beginning or end for some."""
        for words in marked_words(text):
            inside = [self.by_index[int(index)] for index in MARK.findall(text, words.start, words.end)]
            shown = f"{words.first}…{words.last}"
            if inside and inside[0].word != WHEN:
                hint = f"Write the whole {shown} after “{_said(inside[0])}”, and another before it."
                self.say(
                    inside[0],
                    f"For some clients {shown} has no beginning: “{_said(inside[0])}” is in it.",
                    hint,
                )
            elif inside and inside[-1].word != ALWAYS:
                message = f"For some clients {shown} has no end: “{_said(inside[-1])}” goes on after it."
                hint = f"Write {{{ALWAYS}}} before its end: {{{ALWAYS}}}{words.last}, or all after the condition."
                self.say(inside[-1], message, hint)

    def numbered(self, number: str | None, depth: int, *, is_item: bool) -> tuple[int, str]:
        """The numbered list that an item belongs to, and the number that this list begins with; -1 and "" for none."""
        for deeper in [d for d in self.lists if d > depth or (d == depth and number is None)]:
            del self.lists[deeper]
        if number is None:
            return -1, ""
        if depth not in self.lists:
            self.number += 1
            self.lists[depth] = (self.number, number)
        return self.lists[depth]

    def found(self, stretch: ProseRows) -> ProseRows:
        """A stretch with the condition row that it lies under."""
        if self.item is not None and stretch.depth > self.item.depth:
            assert self.item.whole is not None
            self.say(
                self.by_index[self.item.whole],
                "Nothing may be left of this item but what lies below it.",
                f"Write the condition on a row of its own above the item, and {{{ALWAYS}}} after all that is below it.",
            )
        self.item = None
        if self.series is None:
            return stretch
        self.parted = self.parted or self.series.filled or bool(stretch.marker) or stretch.kind == "fence"
        self.series.filled = True
        return replace(stretch, under=self.series.last.index)


def _choice(condition: Condition) -> str:
    """The choice of which a condition asks for one word; "" for one that is no plain case of a choice."""
    first = condition.tree.comparisons[0]
    return str(first.name.text) if first.word == "is_word" and first.negated is None else ""


def _said(condition: Condition) -> str:
    """A condition as it is written, for a message."""
    return f"{{{condition.written}}}"


def _depth(row: str) -> int:
    return len(row) - len(row.lstrip(" "))


def _with_blanks(beginning: re.Match[str]) -> str:
    """The beginning of a row with blanks for tabs. Source: CommonMark 0.31.2, 2.2: tab stops of four."""
    return beginning[0].expandtabs(4)


def _is_table(row: str) -> bool:
    return row.lstrip(" ").startswith("|")
