"""An entry of the handbook: a word of the drafting language, explained."""

from __future__ import annotations

from dataclasses import dataclass

GROUPS = (
    "Names and papers",
    "Numbers",
    "Tables",
    "Points",
    "Lines and curves",
    "Conditions",
    "Pieces",
    "Darts",
    "Paper work",
    "Blocks",
    "Seams and checks",
)
"""Headings of the list of words, in the order in which one learns them."""


@dataclass(frozen=True, slots=True)
class Entry:
    """A word of the language.

    Attributes:
        word: the grammar rule.
        group: one of `GROUPS`.
        title: what it does, as a heading.
        form: how it is written; what stands in capitals is put in by the writer.
        about: one to three plain sentences.
        example: a small complete draft. An empty line before a line at the margin begins a new step, so that the
            drawing of the last step can show what changed.
        also: further grammar rules that this entry explains.
        called: what else people call it, in small letters: searching finds it by these words.
        choices: lines as under `choices:` in a style file, for an example that needs one.
        notions: as after `notions:` in a style file, for an example that needs them.
        cut_from: likewise lines as under `cut from:`.
        blocks: whole style files that the example is cut from, by their slugs.
    """

    word: str
    group: str
    title: str
    form: str
    about: str
    example: str
    also: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    notions: str = ""
    called: str = ""
    cut_from: tuple[str, ...] = ()
    blocks: tuple[tuple[str, str], ...] = ()

    @property
    def words(self) -> tuple[str, ...]:
        """Every grammar rule that the entry explains."""
        return (self.word, *self.also)

    def steps(self) -> tuple[str, ...]:
        """The example cut into draft blocks."""
        blocks: list[list[str]] = [[]]
        lines = self.example.strip("\n").split("\n")
        for before, line in zip(["", *lines], lines, strict=False):
            if not before.strip() and line[:1].strip() and blocks[-1]:
                blocks.append([])
            if line.strip() or blocks[-1]:
                blocks[-1].append(line)
        return tuple("\n".join(b).rstrip() for b in blocks)
