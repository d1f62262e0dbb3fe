"""A style's prose and steps in the order of the file: what comes before the drafting, the steps, and what follows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from markupsafe import Markup

from catalogue.site.markdown import Rendered, render
from catalogue.site.words import in_words
from catalogue.studio.prose import Prose
from catalogue.studio.style import DraftLines, Section, Style

MOST_WAYS = 32
"""Ways of one prose that are kept ready as HTML."""


@dataclass(frozen=True, slots=True)
class ToldProse:
    """A prose, and the HTML of it for those conditions that were asked for."""

    prose: Prose
    _ready: dict[str, Rendered] = field(default_factory=dict, compare=False, repr=False)

    def rendered(self, holding: Mapping[int, bool]) -> Rendered:
        """The prose where these conditions hold; a condition that is not among them is shown in words."""
        markdown = self.prose.shown(lambda condition: holding.get(condition.index))
        if markdown not in self._ready:
            if len(self._ready) >= MOST_WAYS:
                self._ready.clear()
            self._ready[markdown] = render(markdown, slots=True)
        return self._ready[markdown]


@dataclass(frozen=True, slots=True)
class Telling:
    """One heading with its prose, and the block it explains.

    Attributes:
        heading: its text; empty for prose before the first heading.
        group: the heading above it that has no text of its own ("Drafting"); may be empty.
        prose: its texts, in order.
        number: the step it tells of; None when it has no block.
        source: the block as written.
    """

    heading: str
    group: str
    prose: tuple[ToldProse, ...]
    number: int | None = None
    source: str = ""


@dataclass(frozen=True, slots=True)
class Story:
    """A style file as the pages tell it.

    Attributes:
        opening: prose before the first step.
        steps: from the first block to the last, prose without a block in between included.
        closing: prose after the last step: cutting and sewing.
        formulas: text of every formula and condition in the prose, by index, as read aloud.
    """

    opening: tuple[Telling, ...] = ()
    steps: tuple[Telling, ...] = ()
    closing: tuple[Telling, ...] = ()
    formulas: Mapping[int, str] = field(default_factory=dict)

    def html(
        self, telling: Telling, rendered: Mapping[int, str], holding: Mapping[int, bool], root: str
    ) -> Markup:
        """The prose of one heading as it is for a client, with that client's figures.

        Where there are none the formulas are shown, and every text with its condition.
        """
        texts = (prose.rendered(holding) for prose in telling.prose)
        return Markup("").join(text.filled(rendered, self.formulas, root) for text in texts)

    @property
    def pictures(self) -> tuple[str, ...]:
        """Pictures the prose shows, as paths relative to the style file."""
        tellings = (*self.opening, *self.steps, *self.closing)
        return tuple(dict.fromkeys(p for t in tellings for r in t.prose for p in r.rendered({}).pictures))


def story(style: Style) -> Story:
    """Sort a style's sections."""
    tellings: list[Telling] = []
    formulas: dict[int, str] = {}
    group, depth = "", 0
    for section in style.sections:
        if section.level and section.level <= depth:
            group = ""
        if section.level and not section.parts:
            group, depth = section.heading, section.level
            tellings.append(Telling(section.heading, "", ()))
            continue
        tellings += _tellings(section, group)
        for part in section.parts:
            if isinstance(part, Prose):
                formulas.update({index: in_words(text) for index, text in part.words().items()})
    numbered = [n for n, t in enumerate(tellings) if t.number is not None]
    first, last = (numbered[0], numbered[-1] + 1) if numbered else (len(tellings), len(tellings))
    if not numbered:
        return Story((), (), tuple(tellings), formulas)
    opening = [t for t in tellings[:first] if t.prose]
    steps = [t for t in tellings[first:last] if t.prose or t.number is not None]
    return Story(tuple(opening), tuple(steps), tuple(_filled_groups(tellings[last:])), formulas)


def _tellings(section: Section, group: str) -> list[Telling]:
    """A section's blocks, each with the prose before it; prose after the last block stays with it."""
    found: list[Telling] = []
    waiting: list[ToldProse] = []
    for part in section.parts:
        if isinstance(part, Prose):
            if part.markdown.strip():
                waiting.append(ToldProse(part))
        elif isinstance(part, DraftLines):
            found.append(Telling(section.heading, group, tuple(waiting), part.number, part.source))
            waiting = []
    if waiting and found:
        last = found[-1]
        found[-1] = Telling(last.heading, group, (*last.prose, *waiting), last.number, last.source)
    elif not found:
        found.append(Telling(section.heading, group, tuple(waiting)))
    return found


def _filled_groups(tellings: list[Telling]) -> list[Telling]:
    """Tellings without empty headings that nothing follows."""
    kept = list(tellings)
    while kept and not kept[-1].prose:
        kept.pop()
    return kept
