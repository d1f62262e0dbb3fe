"""Reading a style's body: headings, prose with formulas in braces, and draft blocks."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import NamedTuple

from catalogue.findings import Finding, Place, Severity, Trouble
from catalogue.frontmatter import Front
from catalogue.language.lines import is_drawn
from catalogue.language.parser import parse_block, parse_formula
from catalogue.studio.body import Part, code_spans, cut_up, fence_of
from catalogue.studio.choices import with_source
from catalogue.studio.condition_words import (
    condition_in,
    is_condition,
    meant_as_condition,
    other_word,
    read_condition,
    without_word,
)
from catalogue.studio.conditions_in_prose import arranged
from catalogue.studio.prose import WHEN, Condition, Formula, Prose
from catalogue.studio.sketches import SKETCH, sketches_in
from catalogue.studio.style import Choice, DraftLines, Section

_FORMULA = re.compile(r"(?<!\\)\{([^{}\n]+)\}")
_OPEN = re.compile(r"(?<!\\)\{(?=[^{}]*(?:\{|$))")
"""A brace that is not closed before the next one opens or the row ends."""

_MARKED = re.compile(r"[`{}\ue000\ue001\ue003\ue004]")
"""What a row of prose has in it that is not left as it is written."""
_OURS = re.compile(r"[\ue000\ue001\ue003\ue004]")
"""Characters that stand around the numbers of formulas and conditions."""
_GIVEN = re.compile(r"^[ \t]*([^\W\d]\w*)[ \t]*=", re.MULTILINE)

MOST_STATEMENTS = 4000
"""Lines of drafting in one style: many times what the longest coat needs."""

MOST_PARTS = 2000
"""Headings, texts and draft blocks in one style."""

MOST_FORMULAS = 2000
"""Opening braces in the prose of one style."""

MOST_MISTAKES = 40
"""Lines and formulas not understood, after which the rest of a style is not read."""


class _Braces(NamedTuple):
    """What stands in braces in one text."""

    formulas: list[Formula]
    conditions: list[Condition]


class BodyReader:
    """Reads the body of one style file; what is wrong with it goes to `findings`.

    Args:
        choices: those of the style, and what it receives: what conditions ask for.
    """

    def __init__(self, front: Front, findings: list[Finding], choices: Sequence[Choice] = ()) -> None:
        self.front = front
        self.choices = choices
        self.findings = findings
        self.blocks = 0
        self.formulas = 0
        self.mistakes = 0

    def say(
        self, code: str, message: str, place: Place, hint: str = "", severity: Severity = Severity.ERROR
    ) -> None:
        self.findings.append(self.front.finding(code, message, place, hint, severity))

    def sections(self) -> Iterator[Section]:
        rows = list(cut_up(self.front.body, self.front.body_line))
        if self.too_long(rows):
            return
        level, heading, heading_line = 0, "", self.front.body_line
        parts: list[Prose | DraftLines] = []
        for row in rows:
            if row.kind == "heading":
                if heading or parts:
                    yield Section(level, heading, tuple(parts), heading_line)
                level, heading, heading_line, parts = row.level, row.text, row.line, []
                self.check_heading(row)
            elif row.kind == "prose":
                parts.append(self.prose(row.text, row.line))
            else:
                if row.kind == "open block":
                    self.say(
                        "open-fence",
                        f"The draft block that begins on line {row.line - 1} is not closed.",
                        Place(self.front.file, row.line - 1),
                        "End it with a line of three backticks: ```",
                    )
                parts.append(self.block(row.text, row.line, is_open=row.kind == "open block"))
        if heading or parts:
            yield Section(level, heading, tuple(parts), heading_line)

    def check_heading(self, row: Part) -> None:
        if condition_in(row.text) is not None and self.mistakes <= MOST_MISTAKES:
            column = condition_in(self.front.lines[row.line - 1]) or 0
            self.say(
                "condition",
                "A heading is the same for everybody; a condition can't stand in it.",
                Place(self.front.file, row.line, column + 2),
                "Put it on a row of its own below the heading, before the text that it is for.",
            )
            self.note_mistakes(1, row.line)

    def too_long(self, rows: Sequence[Part]) -> bool:
        """Say so when the style is larger than any style can be; nothing of it is read then."""
        lines = formulas = 0
        for count, row in enumerate(rows, 1):
            if "block" in row.kind:
                lines += sum(map(is_drawn, row.text.split("\n")))
            else:
                formulas += row.text.count("{")
            for found, most, what in (
                (count, MOST_PARTS, "headings, texts and draft blocks"),
                (lines, MOST_STATEMENTS, "lines of drafting"),
                (formulas, MOST_FORMULAS, "formulas in braces"),
            ):
                if found > most:
                    self.say(
                        "too-long",
                        f"A style has at most {most} {what}; this one has more.",
                        Place(self.front.file, row.line),
                        "Split it into two styles.",
                    )
                    return True
        return False

    def block(self, source: str, line: int, *, is_open: bool = False) -> DraftLines:
        """A draft block; of an open one what comes before the first line that is not understood."""
        self.blocks += 1
        if self.mistakes > MOST_MISTAKES:
            return DraftLines(self.blocks, source, (), Place(self.front.file, line))
        nodes, findings = parse_block(source, self.front.file, line)
        if is_open and findings:
            # From there on it may be prose, of which there is nothing to say.
            end = min(f.place.line for f in findings if f.place is not None)
            return DraftLines(
                self.blocks,
                source,
                tuple(node for node in nodes if node.place.line < end),
                Place(self.front.file, line),
            )
        self.findings.extend(findings)
        self.note_mistakes(len(findings), line)
        return DraftLines(self.blocks, source, nodes, Place(self.front.file, line))

    def note_mistakes(self, count: int, line: int) -> None:
        """Stop reading formulas after many bad ones: a file of another kind gives no thousand findings."""
        before, self.mistakes = self.mistakes, self.mistakes + count
        if before <= MOST_MISTAKES < self.mistakes:
            self.say(
                "too-many-mistakes",
                f"More than {MOST_MISTAKES} lines are not understood; those from here on were not read.",
                Place(self.front.file, line),
                "Correct those above first.",
            )

    def prose(self, text: str, line: int) -> Prose:
        braces = _Braces([], [])
        fence = ""
        out: list[str] = []
        in_sketch = False  # which may be set in deeper, below an item of a list
        for offset, row in enumerate(text.split("\n")):
            mark = fence_of(row)
            if not mark.ticks:
                deeper = fence_of(row.lstrip(" "))
                mark = deeper if in_sketch or (not fence and deeper.word == SKETCH) else mark
            in_sketch = mark.word == SKETCH if mark.ticks and not fence else in_sketch and bool(fence)
            if fence:
                fence = "" if mark.closes(fence) else fence
                out.append(_OURS.sub("\ufffd", row))
            elif mark.ticks:
                fence = mark.ticks
                out.append(_OURS.sub("\ufffd", row))
            elif _MARKED.search(row) is None:
                out.append(row)
            else:
                out.append(self.row(_OURS.sub("\ufffd", row), line + offset, braces))
        if SKETCH in text:
            self.check_sketches(text, line)
        prose, wrong = arranged(Prose("\n".join(out), line, tuple(braces.formulas), tuple(braces.conditions)))
        for each in wrong:
            if self.mistakes > MOST_MISTAKES:
                break
            severity = Severity.WARNING if each.doubted else Severity.ERROR
            self.say("condition", each.message, each.place, each.hint, severity)
            self.note_mistakes(1, each.place.line)
        return prose

    def check_sketches(self, text: str, line: int) -> None:
        """Report rows of sketches that are not understood; the rest of the sketch is drawn."""
        for start, indent, sketch in sketches_in(text):
            for wrong in sketch.mistakes:
                if self.mistakes > MOST_MISTAKES:
                    return
                place = Place(self.front.file, line + start + 1 + wrong.row, wrong.column + indent)
                self.say("sketch", wrong.message, place, wrong.hint, Severity.WARNING)
                self.note_mistakes(1, place.line)

    def row(self, row: str, number: int, braces: _Braces) -> str:
        """A line of prose with its formulas and conditions taken out; those inside code stay as written."""
        out: list[str] = []
        end = 0
        for start, after in code_spans(row):
            out += [self.plain(row, end, start, number, braces), row[start:after]]
            end = after
        out.append(self.plain(row, end, len(row), number, braces))
        return "".join(out)

    def plain(self, row: str, start: int, end: int, number: int, braces: _Braces) -> str:
        """A part of a line of prose that holds no code, its formulas and conditions taken out."""

        def take(found: re.Match[str]) -> str:
            if self.mistakes > MOST_MISTAKES:
                return found.group(0)
            text, place = found.group(1), Place(self.front.file, number, start + found.start(1) + 1)
            mark = is_condition(text)
            try:
                if mark:
                    braces.conditions.append(read_condition(text, self.formulas, place, self.choices))
                else:
                    braces.formulas.append(self.formula(text, place, braces))
            except Trouble as trouble:
                for finding in trouble.findings:
                    self.findings.append(with_source(finding, self.front))
                self.note_mistakes(1, number)
                if not mark:
                    return found.group(0)
                braces.conditions.append(Condition(self.formulas, WHEN, without_word(text), place))
            self.formulas += 1
            return (Condition if mark else Prose).slot(self.formulas - 1)

        for brace in _OPEN.finditer(row, start, end):
            if self.mistakes > MOST_MISTAKES:
                break
            self.say(
                "open-brace",
                "This brace is not closed; expected } on the same line.",
                Place(self.front.file, number, brace.start() + 1),
                "Close the formula with }, or write \\{ for a plain brace.",
            )
            self.note_mistakes(1, number)
        return _FORMULA.sub(take, row[start:end]).replace("\\{", "{").replace("\\}", "}")

    def formula(self, text: str, place: Place, braces: _Braces) -> Formula:
        """A formula. Raises Trouble, also for what would be a condition if it were said as one."""
        if braces.conditions and text.strip() not in self.given and (other := other_word(text, place)):
            raise Trouble(other)
        try:
            return Formula(self.formulas, text, parse_formula(text, place), place)
        except Trouble as trouble:
            meant = meant_as_condition(text, place, self.choices)
            raise Trouble(*((meant,) if meant else trouble.findings)) from None

    @cached_property
    def given(self) -> frozenset[str]:
        """The names that lines of the style give."""
        return frozenset(_GIVEN.findall(self.front.body))
