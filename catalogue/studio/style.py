"""A style file, read once: what the front matter says, the prose, and the draft blocks as syntax trees."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from catalogue.findings import Finding, Place
from catalogue.language.wording import in_words
from catalogue.people.register import REGISTER, Register
from catalogue.studio.prose import Condition, Prose

NOWHERE = Place("")


@dataclass(frozen=True, slots=True)
class Choice:
    """Something the client or the studio chooses.

    Attributes:
        name: as written ("hip ease"); `key` is its name in formulas ("hip_ease").
        default: text of the default ("5 cm", "full", "yes"), which may be a formula ("waist_to_knee + 4 cm").
        lowest, highest: range of a length or number, as text; "" when there is none.
        options: the words to choose from, when it is a choice of words.
        about: what it is, for the page.
        trees: of default, lowest and highest those that are formulas, as they were read, by their texts.
    """

    name: str
    default: str
    lowest: str = ""
    highest: str = ""
    options: tuple[str, ...] = ()
    about: str = ""
    place: Place = NOWHERE
    trees: Mapping[str, Any] = field(default_factory=dict, compare=False, repr=False)

    @property
    def key(self) -> str:
        return self.name.replace(" ", "_")


@dataclass(frozen=True, slots=True)
class Stated:
    """A choice of a block that a style settles: the choice's name, and a formula or a word for it."""

    choice: str
    text: str
    tree: Any
    place: Place

    @property
    def key(self) -> str:
        return self.choice.replace(" ", "_")


@dataclass(frozen=True, slots=True)
class CutFrom:
    """A block that a style is cut from: what the style calls it, the block's slug, the choices it states for it."""

    name: str
    slug: str
    stated: tuple[Stated, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class DraftLines:
    """A fenced draft block: step `number` (from 1); `statements` are syntax trees for catalogue.drafting."""

    number: int
    source: str
    statements: tuple[Any, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class Section:
    """What stands under one heading: prose and draft blocks in the order of the file.

    Attributes:
        level: 1 for "#", 2 for "##", ...; 0 for what stands before the first heading.
        heading: its text, plain.
    """

    level: int
    heading: str
    parts: tuple[Prose | DraftLines, ...]
    line: int = 1


@dataclass(frozen=True, slots=True)
class Style:
    """A style file.

    Attributes:
        slug: name of its folder in the site and on the command line: the file's stem made safe.
        audience: whom it is for, as words ("women", "men", "girls", ...); may be empty.
        reserved_for: names of the clients who alone it is made for; empty for anyone.
        cloth: use ("main", "lining") to description.
        notions: what is needed beside cloth; `notion_conditions` says of some when, by their place among them.
        cloth_places: where the description of each cloth stands in the file.
        needs: keys of the measurements its formulas use, in order of first use.
        alternatives: measurements of which one of each group is enough ("either bust_girth or chest_girth").
        optional: measurements that are used where a client has them; another that it needs anyway does instead.
        findings: what is wrong with the file; a style with an error is not drafted.
        unused: warnings of names in it that nothing in it uses (see `studio/unused_names.py`).
        digest: hash of the file's bytes.
        blocks_digest: hash of its draft blocks alone.
        lines: the file's lines, for showing the one that a finding speaks of.
        everyday: names that its formulas use for measurements ("waist_circumference"), to their keys.
        given: every name that the style itself gives; a studio's own measurement of that name is not meant there.
        register: the measurements of the studio that the file was read in.
        flat: the garment may be drawn put together of its pieces; else they are shown side by side.
        is_block: it is there to be cut from alone, so clients are not shown it.
        receives: values that a style which is cut from it gives it; drafted alone, it has their defaults.
        receives_needs: measurements that nothing but those defaults uses.
        cut_from: the blocks it is cut from.
        cut_into: slugs of the styles that are cut from it, by way of others too, once the studio's styles are joined.
        landmarks: what it calls the landmarks of alterations otherwise: "front.side" to "skirt_front.outer".
        blocks: the same by the names it has for them, once the studio's styles are joined (`studio/joining.py`).
    """

    slug: str
    file: str
    title: str
    garment: str = ""
    audience: tuple[str, ...] = ()
    reserved_for: tuple[str, ...] = ()
    summary: str = ""
    tags: tuple[str, ...] = ()
    cloth: tuple[tuple[str, str], ...] = ()
    notions: tuple[str, ...] = ()
    notion_conditions: Mapping[int, Condition] = field(default_factory=dict)
    choices: tuple[Choice, ...] = ()
    sources: tuple[str, ...] = ()
    picture: str = ""
    sections: Sequence[Section] = ()
    needs: tuple[str, ...] = ()
    alternatives: tuple[tuple[str, ...], ...] = ()
    optional: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    unused: tuple[Finding, ...] = ()
    digest: str = ""
    blocks_digest: str = ""
    lines: tuple[str, ...] = ()
    flat: bool = True
    is_block: bool = False
    receives: tuple[Choice, ...] = ()
    receives_needs: frozenset[str] = frozenset()
    cut_from: tuple[CutFrom, ...] = ()
    blocks: Mapping[str, Style] = field(default_factory=dict, compare=False, repr=False)
    cut_into: frozenset[str] = field(default=frozenset(), compare=False, repr=False)
    landmarks: Mapping[str, str] = field(default_factory=dict)
    everyday: Mapping[str, str] = field(default_factory=dict)
    given: frozenset[str] = frozenset()
    register: Register = field(default=REGISTER, compare=False, repr=False)
    cloth_places: Mapping[str, Place] = field(default_factory=dict, compare=False, repr=False)

    def source_line(self, number: int) -> str:
        """The text of a line of the file, from 1; empty when there is none."""
        return self.lines[number - 1].rstrip() if 0 < number <= len(self.lines) else ""

    @property
    def notions_in_words(self) -> tuple[str, ...]:
        """The notions where nothing is drafted, each that is not always needed with its condition."""
        conditions = {n: in_words(condition.text) for n, condition in self.notion_conditions.items()}
        return tuple(
            f"{notion}, when {conditions[n]}" if n in conditions else notion
            for n, notion in enumerate(self.notions)
        )

    @property
    def asked(self) -> tuple[str, ...]:
        """Every measurement that clients are asked for, each once: what it needs, and of what one is enough."""
        return tuple(dict.fromkeys((*self.needs, *(name for group in self.alternatives for name in group))))

    @property
    def uses(self) -> tuple[str, ...]:
        """Every measurement a draft of it may depend on, each once."""
        return tuple(dict.fromkeys((*self.asked, *self.optional)))

    def missing_from(self, measured: Container[str]) -> tuple[str, ...]:
        """Measurements that are lacking; of a group of alternatives the first, when there is none of them."""
        lacking = [name for name in self.needs if name not in measured]
        lacking += [g[0] for g in self.alternatives if not any(name in measured for name in g)]
        return tuple(dict.fromkeys(lacking))

    @property
    def is_a_block(self) -> bool:
        """Whether it is drafted once for a client and kept, for others to be cut from."""
        return bool(self.cut_into) or self.is_block or "block" in {tag.casefold() for tag in self.tags}

    @property
    def chain(self) -> tuple[Style, ...]:
        """Every style that it is cut from, each once, the nearest first; those that they are cut from come after."""
        found: dict[str, Style] = {}
        nearest = list(self.blocks.values())
        while nearest:
            fresh = {style.slug: style for style in nearest if style.slug not in found}
            found |= fresh
            nearest = [block for style in fresh.values() for block in style.blocks.values()]
        return tuple(found.values())

    @property
    def ok(self) -> bool:
        return not any(f.is_error for f in self.findings)
