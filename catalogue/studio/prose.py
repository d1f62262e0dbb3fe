"""Prose of a style: Markdown with formulas, and words that are there only where a condition holds.

A condition stands in braces, as a formula does: `{when vent is yes}`, `{otherwise}`, `{always}`. It says for whom the
text after it is, up to the next one. What is not for a client is left out as if it were not written, before the
Markdown is read: so lists number themselves.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from catalogue.findings import Place

WHEN, OTHERWISE, ALWAYS = "when", "otherwise", "always"
MARK = re.compile("\ue003(\\d+)\ue004")
"""Where a condition stands in the Markdown: private-use characters around its index."""
SLOT = re.compile("\ue000(\\d+)\ue001")
ITEM = re.compile(r" *(?:(\d{1,9})[.)]|[-*+])(?: +(?:\[[ xX]\] +)?|$)")
"""How an item of a list begins, with the box of one that is ticked off, and its number."""


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula in braces inside the prose. `index` is its place in `Draft.rendered`."""

    index: int
    text: str
    tree: Any
    place: Place


@dataclass(frozen=True, slots=True)
class Condition:
    """A brace that says for whom the text after it is.

    Attributes:
        index: of `when`, its place in `Draft.holding`; no formula has it too.
        word: WHEN, OTHERWISE or ALWAYS.
        text: the condition as written; "" of those that have none.
        tree: the condition, of `when` alone.
        after: indices of the `when` before it that it ends: `otherwise` is for where none of them holds.
    """

    index: int
    word: str
    text: str
    place: Place
    tree: Any = None
    after: tuple[int, ...] = ()

    @property
    def written(self) -> str:
        """What stands between its braces."""
        return f"{self.word} {self.text}".rstrip()

    @staticmethod
    def slot(index: int) -> str:
        """The mark that stands for condition `index` in the Markdown."""
        return f"\ue003{index}\ue004"


Holds = Callable[[Condition], bool | None]
"""Says whether a `when` holds; None where that is not known, and everything is shown with its conditions in words."""


@dataclass(frozen=True, slots=True)
class ProseRows:
    """Rows of prose that are shown or left out together.

    Attributes:
        kind: "text" (a paragraph, or the first of an item), "fence" (as it is written) or "blank".
        text: its rows, of an item without `marker`.
        marker: what an item begins with ("   3. ").
        depth: blanks before its first row.
        under: index of the condition on a row above it.
        whole: index of the condition at its beginning that holds for all of its item, with what lies below it.
        series: number of its numbered list in this prose; -1 in none. `first` is the number that the list begins with.
    """

    kind: Literal["text", "fence", "blank"]
    text: str = ""
    marker: str = ""
    depth: int = 0
    under: int | None = None
    whole: int | None = None
    series: int = -1
    first: str = ""


@dataclass(frozen=True, slots=True)
class Prose:
    """Markdown with each `{formula}` replaced by the placeholder that `Prose.slot(index)` gives.

    Attributes:
        markdown: all of it, with a mark for each condition.
        stretches: its rows; empty where there is no condition.
    """

    markdown: str
    line: int
    formulas: tuple[Formula, ...] = ()
    conditions: tuple[Condition, ...] = ()
    stretches: tuple[ProseRows, ...] = ()

    @staticmethod
    def slot(index: int) -> str:
        """The placeholder of formula `index`: private-use characters around its number."""
        return f"\ue000{index}\ue001"

    @property
    def trees(self) -> Iterator[Any]:
        """Its conditions and formulas as syntax trees."""
        yield from (c.tree for c in self.conditions if c.tree is not None)
        yield from (f.tree for f in self.formulas)

    def words(self) -> dict[int, str]:
        """The text of each formula, and of each condition as it is read where it is not known whether it holds."""
        said = {WHEN: "when {}:", OTHERWISE: "otherwise:", ALWAYS: "in any case:"}
        return {
            **{f.index: f.text for f in self.formulas},
            **{c.index: said[c.word].format(c.text) for c in self.conditions},
        }

    def shown(self, holds: Holds) -> str:
        """The Markdown that is there for a client. `holds` is asked for no condition in what is left out."""
        return "\n".join(_WayOfProse(self, holds).rows()) if self.conditions else self.markdown

    def filled(self, rendered: Mapping[int, str], holding: Mapping[int, bool]) -> str:
        """The Markdown that is there for a client, with that client's figures."""
        words = self.words()

        def value(slot: re.Match[str]) -> str:
            index = int(slot[1])
            return rendered.get(index) or (words[index] if index in conditions else "…")

        conditions = {c.index for c in self.conditions}
        return SLOT.sub(value, self.shown(lambda c: holding.get(c.index)))


class _WayOfProse:
    """One way of showing a prose."""

    def __init__(self, prose: Prose, holds: Holds) -> None:
        self.prose = prose
        self.holds = holds
        self.by_index = {c.index: c for c in prose.conditions}
        self.known: dict[int, bool | None] = {}

    def rows(self) -> Iterator[str]:
        """The rows that are there. No empty row is left behind by what is not there, lest it parts a list."""
        left_out_at: int | None = None
        empty, empty_before = 0, 0
        something_left_out = False
        begun: set[int] = set()
        for stretch in self.prose.stretches:
            if stretch.kind == "blank":
                empty += 1
                continue
            if left_out_at is not None and stretch.depth <= left_out_at:
                left_out_at = None
            rows = "" if left_out_at is not None else self.stretch(stretch, begun)
            if not rows:
                empty_before = empty if not something_left_out else empty_before
                something_left_out = True
                if left_out_at is None and stretch.whole is not None:
                    left_out_at = stretch.depth
                continue
            if something_left_out:
                empty = min(1, empty_before if stretch.marker else max(empty, empty_before))
            yield from [""] * empty
            yield rows
            empty, something_left_out = 0, False

    def stretch(self, stretch: ProseRows, begun: set[int]) -> str:
        """Its rows as they are there; "" where nothing of it is."""
        there = True if stretch.under is None else self.verdict(stretch.under)
        if there is False:
            return ""
        label = "" if there or stretch.under is None else Prose.slot(stretch.under)
        if stretch.kind == "fence":
            return f"{' ' * stretch.depth}{label}\n{stretch.text}" if label else stretch.text
        text = self.cut(stretch.text)
        if not text.strip(" \n>"):  # nor is a quotation left of which nothing is there
            return ""
        marker = stretch.marker
        if label:
            marker = marker or " " * stretch.depth
            text = f"{label} {text.lstrip()}"
        if stretch.series >= 0 and stretch.series not in begun:
            begun.add(stretch.series)
            marker = re.sub(r"\d+", stretch.first, marker, count=1)
        return marker + (text.lstrip(" ") if marker else text)

    def cut(self, text: str) -> str:
        """A text without what is not for the client, and without the rows and blanks that would be left of it."""
        first, *rest = MARK.split(text)
        if not rest:
            return text
        left_out = ""
        for index, words in zip(rest[::2], rest[1::2], strict=True):
            there = self.verdict(int(index))
            if there is False:
                left_out = words
                continue
            if left_out and not words.startswith((" ", "\n")) and not left_out.endswith((" ", "\n")):
                first = first.rstrip(" ")  # as in **on {otherwise} off{always}**
            left_out = ""
            if there is None:
                first, words = self.with_condition(first, words, int(index))
            first = _joined(first, words)
        return "\n".join(row for row in first.rstrip().split("\n") if row.strip())

    @staticmethod
    def with_condition(before: str, words: str, index: int) -> tuple[str, str]:
        """Text, and words after it with their condition, which comes after a comma or full stop at their beginning."""
        bare = words.lstrip(" ")
        sign = bare[:1] if bare[:1] in _SIGNS else ""
        rest = bare[len(sign) :]
        before = _joined(before, sign)
        if not rest.strip():
            return before, rest
        blank = "" if not before or before.endswith((" ", "\n")) else " "
        return f"{before}{blank}{Prose.slot(index)} ", rest

    def verdict(self, index: int) -> bool | None:
        """Whether the text after a condition is there; None where that is not known."""
        if index not in self.known:
            condition = self.by_index[index]
            if condition.word == WHEN:
                self.known[index] = self.holds(condition)
            else:
                before = [self.verdict(n) for n in condition.after]
                if condition.word == ALWAYS:
                    self.known[index] = None if None in before else True
                else:
                    self.known[index] = False if True in before else None if None in before else True
        return self.known[index]


_SIGNS = tuple(",.;:!?)")


def _joined(before: str, after: str) -> str:
    """Two texts with one blank between them, and none before a comma."""
    if not before or before[-1] in " \n":
        after = after.lstrip(" ")
    if after[:1] in _SIGNS:
        before = before.rstrip(" \n")
    return before + after
