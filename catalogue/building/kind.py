"""What a kind of unit says of itself, and what a catalogue as a whole is made of.

A build knows units by this alone. Every method's answer depends on its arguments alone and is the same every time.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from catalogue.building.common import Common
from catalogue.building.known_units import KnownUnits
from catalogue.building.made_units import MadeUnit
from catalogue.building.readers import Readers
from catalogue.building.unit import Product, Products, Results, Source, SourcesOf, UnitName
from catalogue.findings import Finding


class UnitKind:
    """A kind of unit; to be inherited from.

    Attributes:
        name: as in the manifest.
        place: the folder of its page, with a "/" at the end; {style} and {client} stand for the slugs of what it is
            about, "" for the top of the site.
        shows: kinds of which it shows units, registered before it: those about its style and its client, where it is
            about one, and else all of them.
        reads_files: whether it also reads files of the units that it shows.
        uses_templates: whether it is made again when a page template changes.
        is_draft: whether it is a draft: reports count it, name its client, and wait for measurements.
        is_chosen: whether it is left as it is when other styles or clients are asked for.
        is_of_one_client: whether, of all clients' files, it comes from its own client's alone, and shows nothing
            that comes from another's.
        folders: folders at the top of the site that pages of it lie in, besides that of `place`.
        beside: patterns of what lies beside its page, or beside the page that `page` is a pattern of: so a catalogue
            whose manifest is lost knows its own files.
    """

    name: ClassVar[str]
    place: ClassVar[str]
    shows: ClassVar[tuple[str, ...]] = ()
    reads_files: ClassVar[bool] = False
    uses_templates: ClassVar[bool] = True
    is_draft: ClassVar[bool] = False
    is_chosen: ClassVar[bool] = False
    is_of_one_client: ClassVar[bool] = False
    folders: ClassVar[tuple[str, ...]] = ()
    beside: ClassVar[tuple[str, ...]] = ()
    page: ClassVar[str] = ""

    def names(self, common: Common) -> list[UnitName]:
        """The units of this kind that the studio gives: by default one for each style or client that `place` names."""
        styles = common.studio.by_style if "{style}" in self.place else ("",)
        clients = common.studio.by_client if "{client}" in self.place else ("",)
        return [UnitName(self.name, style, client) for style in styles for client in clients]

    def folder(self, name: UnitName) -> str:
        """The folder of a unit's page."""
        return self.place.format(style=name.style, client=name.client)

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        """What a unit comes from; by default nothing more than all units do."""
        return Source()

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        """What is made of a unit, and of those made with it."""
        raise NotImplementedError

    def made_with(self, name: UnitName) -> tuple[UnitName, ...]:
        """Units of other kinds that are made with this one, in one go."""
        return ()

    def shown(self, name: UnitName, known: KnownUnits) -> list[UnitName]:
        """The units that a unit shows, in an order that is always the same."""
        return [other for kind in self.shows for other in known.named(kind, name.style, name.client)]

    def failed(self, common: Common, name: UnitName, finding: Finding) -> Products:
        """What there is to show when a unit could not be made, for the reason that `finding` states."""
        from catalogue.site.templates import plain_page

        page = {f"{self.folder(name)}index.html": plain_page(finding).encode()}
        return {name: Product(page, findings=(finding,))}

    def is_checked(self, common: Common) -> bool:
        """Whether a check looks at units of this kind: by default when a studio's own templates may be wrong."""
        return self.uses_templates and common.has_templates

    def check(self, common: Common, name: UnitName) -> tuple[Finding, ...]:
        """What is wrong with a unit, when nothing is to be written and nothing that it shows was made."""
        return self.make(common, name, Results())[name].findings

    def can_wait(self, common: Common, name: UnitName, made: MadeUnit) -> bool:
        """Whether a stale unit, last `made` like this, may stay so for a while: what leads to it still finds it."""
        return False

    def warm(self, common: Common) -> None:
        """Import and make ready what the work needs, before workers are forked."""

    def warm_to_check(self) -> None:
        """The same for a check, which draws nothing."""


@dataclass(frozen=True, slots=True)
class Definition:
    """How a studio's files are read, and the kinds of unit that a catalogue is made of."""

    readers: Readers
    kinds: tuple[UnitKind, ...]

    def kind_of(self, name: UnitName) -> UnitKind:
        return next(kind for kind in self.kinds if kind.name == name.kind)

    def drafts(self, common: Common) -> list[UnitName]:
        """Every draft that the studio gives."""
        return [name for kind in self.kinds if kind.is_draft for name in kind.names(common)]

    def in_turn(self) -> list[list[UnitKind]]:
        """The kinds in groups: those of a group show nothing but what earlier groups make.

        Raises ValueError when a kind is registered before one that it shows.
        """
        turns: dict[str, int] = {}
        groups: list[list[UnitKind]] = []
        for kind in self.kinds:
            for other in kind.shows:
                if other not in turns:
                    raise ValueError(f"“{kind.name}” shows “{other}”, so it must be registered after it")
            turn = turns[kind.name] = max((turns[other] + 1 for other in kind.shows), default=0)
            groups += [[]] if turn == len(groups) else []
            groups[turn].append(kind)
        return groups

    def own_folders(self) -> tuple[str, ...]:
        """Folders at the top of the site that pages lie in."""
        every = (f for kind in self.kinds for f in (kind.place.partition("/")[0], *kind.folders) if f)
        return tuple(dict.fromkeys(every))

    def own_files(self) -> Sequence[tuple[str, tuple[str, ...]]]:
        """Patterns of pages' paths, with patterns of what lies beside such a page."""
        pages = {kind: kind.page or re.sub(r"\{\w+\}", "*", kind.place) + "index.html" for kind in self.kinds}
        return [(page, kind.beside) for kind, page in pages.items() if kind.beside]
