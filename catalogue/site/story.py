"""A style's prose and steps in the order of the file: what comes before the drafting, the steps, and what follows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from markupsafe import Markup

from catalogue.site.markdown import Rendered, render
from catalogue.site.words import in_words
from catalogue.studio.style import DraftLines, Prose, Section, Style


@dataclass(frozen=True, slots=True)
class Telling:
    """One heading with its prose, and the block it explains.

    Attributes:
        heading: its text; empty for prose before the first heading.
        group: the heading above it that has no text of its own ("Drafting"); may be empty.
        prose: rendered Markdown, in order.
        number: the step it tells of; None when it has no block.
        source: the block as written.
    """

    heading: str
    group: str
    prose: tuple[Rendered, ...]
    number: int | None = None
    source: str = ""


@dataclass(frozen=True, slots=True)
class Story:
    """A style file as the pages tell it.

    Attributes:
        opening: prose before the first step.
        steps: from the first block to the last, prose without a block in between included.
        closing: prose after the last step: cutting and sewing.
        formulas: text of every formula in the prose, by index, as read aloud.
    """

    opening: tuple[Telling, ...] = ()
    steps: tuple[Telling, ...] = ()
    closing: tuple[Telling, ...] = ()
    formulas: Mapping[int, str] = field(default_factory=dict)

    def html(self, telling: Telling, rendered: Mapping[int, str], root: str) -> Markup:
        """The prose of one heading with the client's figures (or the formulas, where there are none)."""
        return Markup("").join(p.filled(rendered, self.formulas, root) for p in telling.prose)

    @property
    def pictures(self) -> tuple[str, ...]:
        """Pictures the prose shows, as paths relative to the style file."""
        tellings = (*self.opening, *self.steps, *self.closing)
        return tuple(dict.fromkeys(p for t in tellings for r in t.prose for p in r.pictures))


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
                formulas.update({f.index: in_words(f.text) for f in part.formulas})
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
    waiting: list[Rendered] = []
    for part in section.parts:
        if isinstance(part, Prose):
            if part.markdown.strip():
                waiting.append(render(part.markdown, slots=True))
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
