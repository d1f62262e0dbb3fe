"""Which units a catalogue has, and what is known of each while it is built."""

from __future__ import annotations

from collections.abc import Iterable

from catalogue.building import fingerprint
from catalogue.building.manifest import MadeUnit
from catalogue.building.stage import Made
from catalogue.building.unit import UnitName


class KnownUnits:
    """The units by name.

    Attributes:
        results: what was made of each, this time or before.
        made: its files.
    """

    def __init__(self, names: Iterable[UnitName] = ()) -> None:
        self.results: dict[UnitName, MadeUnit] = {}
        self.made: dict[UnitName, tuple[Made, ...]] = {}
        self._digests: dict[UnitName, str] = {}
        self._about: dict[tuple[str, str, str], list[UnitName]] = {}
        for name in names:
            for style in {"", name.style}:
                for client in {"", name.client}:
                    self._about.setdefault((name.kind, style, client), []).append(name)

    def named(self, kind: str, style: str = "", client: str = "") -> list[UnitName]:
        """All units of a kind; where they are given, those about this style and this client."""
        return sorted(self._about.get((kind, style, client), ()))

    def keep(self, name: UnitName, unit: MadeUnit) -> None:
        """Take a unit as it was made before."""
        self.enter(name, unit, tuple([Made(written) for written in unit.files]))

    def enter(self, name: UnitName, unit: MadeUnit, made: tuple[Made, ...]) -> None:
        """Take a unit that was made just now."""
        self.results[name] = unit
        self.made[name] = made

    def digest(self, name: UnitName) -> str:
        """Fingerprint of what other units show of a unit."""
        if name not in self._digests:
            self._digests[name] = fingerprint.of_plain(self.results[name].summary)
        return self._digests[name]
