"""What each unit of a catalogue comes from, as fingerprints: the same for a build and for a check."""

from __future__ import annotations

from functools import cached_property

from catalogue.building import fingerprint
from catalogue.building.common import Common
from catalogue.building.kind import Definition
from catalogue.building.known_units import KnownUnits
from catalogue.building.studio import TEMPLATE
from catalogue.building.unit import Sources, UnitName


class SourceBook:
    """Fingerprints of what units come from; `known` are the units that others show."""

    def __init__(self, definition: Definition, common: Common, known: KnownUnits) -> None:
        self.definition = definition
        self.common = common
        self.known = known
        self._found: dict[UnitName, Sources] = {}

    @cached_property
    def shared(self) -> str:
        """What all units come from: settings and the program."""
        return fingerprint.of(self.common.shared_settings, fingerprint.of_the_tool())

    @cached_property
    def shared_pages(self) -> str:
        """What all pages come from: that, and the templates."""
        studio = self.common.studio
        templates = [(p, d) for p, d in studio.files.under(TEMPLATE) if not p.endswith("/studio.toml")]
        # The main menu of every page leads to the workroom, where there is one.
        has_orders = any(client.orders for client in studio.clients)
        return fingerprint.of(self.shared, templates, has_orders, self.common.left_out)

    def of(self, name: UnitName) -> Sources:
        """What a unit comes from. What it shows must be known."""
        if name not in self._found:
            kind = self.definition.kind_of(name)
            source = kind.comes_from(self.common, name, self.of)
            shown = [(*other, self.known.digest(other)) for other in kind.shown(name, self.known)]
            shared = self.shared_pages if kind.uses_templates else self.shared
            plain = fingerprint.of(shared, source.content, fingerprint.of_plain(shown))
            placed = fingerprint.of(plain, source.places) if source.places is not None else ""
            self._found[name] = Sources(plain, placed)
        return self._found[name]
