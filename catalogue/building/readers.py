"""What a studio's files are read with: the rooms that know their form, each imported when it is first needed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from catalogue.building.studio import ALTERATIONS, STYLES, TEMPLATE
from catalogue.findings import Finding

if TYPE_CHECKING:
    from catalogue.cloth.cloths import Cloths
    from catalogue.people import Client, Register, SizeTable
    from catalogue.studio.alterations import Alteration
    from catalogue.studio.settings import Settings
    from catalogue.studio.style import Style


class Readers(Protocol):
    """What the files of a studio are read with; may raise Trouble."""

    def settings(self, root: Path) -> tuple[Settings, tuple[Finding, ...]]:
        """The studio's settings and what is wrong with them."""

    def style(self, path: Path, root: Path, settings: Settings) -> Style: ...

    def client(self, path: Path, root: Path, settings: Settings) -> Client: ...

    def sizes(self, path: Path, root: Path, settings: Settings) -> SizeTable: ...

    def cloths(self, root: Path, settings: Settings) -> Cloths: ...


@dataclass(frozen=True, slots=True)
class StudioReaders:
    """Reads a studio.

    Attributes:
        today: measurements dated later do not count; without it, the day on which each file is read, since a studio
            may be watched for days.
    """

    today: date | None = None

    def settings(self, root: Path) -> tuple[Settings, tuple[Finding, ...]]:
        from catalogue.people.own import read_own
        from catalogue.studio.settings import read_settings

        read = read_settings(root / TEMPLATE / "studio.toml", root)
        own = read_own(root, read.units)
        altered, digest, told = _own_alterations(root, own.register)
        # A remark in the file, or one taken out, makes nothing again.
        settings = replace(
            read,
            findings=(),
            digest="",
            register=own.register,
            alterations=altered,
            alterations_digest=digest,
        )
        return settings, (*read.findings, *own.findings, *told)

    def style(self, path: Path, root: Path, settings: Settings) -> Style:
        from catalogue.studio.reading import read_style

        return read_style(path, root, settings.register)

    def client(self, path: Path, root: Path, settings: Settings) -> Client:
        from catalogue.building.kept_clients import client_at

        return client_at(path, root, settings.units, self.today or date.today(), settings.register)

    def sizes(self, path: Path, root: Path, settings: Settings) -> SizeTable:
        from catalogue.people import read_sizes

        return read_sizes(path, root, settings.units, settings.register)

    def cloths(self, root: Path, settings: Settings) -> Cloths:
        from catalogue.cloth.reading import read_cloths

        return read_cloths(root, settings.units)


def _own_alterations(
    root: Path, register: Register
) -> tuple[tuple[Alteration, ...], str, tuple[Finding, ...]]:
    """The studio's own alterations, a text that changes with any of them, and what is wrong with them."""
    folder = root / STYLES / ALTERATIONS
    if not folder.is_dir():
        return (), "", ()
    from catalogue.studio.alterations import read_alterations

    found = read_alterations(folder, root, register)
    return found, " ".join(each.digest for each in found), tuple(f for each in found for f in each.findings)
