"""Which units a catalogue has, and what is known of each while it is built."""

from __future__ import annotations

from collections.abc import Iterable

from catalogue.building.made_units import MadeUnit
from catalogue.building.stage import Made
from catalogue.building.unit import UnitName


class KnownUnits:
    """The units by name.

    Attributes:
        results: what was made of each, this time or before.
        staged: of those that were made this time, the names of their files in the hidden folder (see `Made`).
    """

    def __init__(self, names: Iterable[UnitName] = ()) -> None:
        self.results: dict[UnitName, MadeUnit] = {}
        self.staged: dict[UnitName, tuple[str, ...]] = {}
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
        self.results[name] = unit

    def enter(self, name: UnitName, unit: MadeUnit, staged: tuple[str, ...]) -> None:
        """Take a unit that was made just now."""
        self.results[name] = unit
        self.staged[name] = staged

    def made(self, name: UnitName) -> list[Made]:
        """The files of a unit."""
        files = self.results[name].files
        staged = self.staged.get(name) or ("",) * len(files)
        return [Made(written, place) for written, place in zip(files, staged, strict=True)]

    def digest(self, name: UnitName) -> str:
        """Fingerprint of what other units show of a unit."""
        return self.results[name].shown
