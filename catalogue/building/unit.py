"""What is made together: the name of such a unit, what it comes from, and what was made of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from catalogue.findings import Finding

Summary = Mapping[str, object]
"""What other units show of a unit: texts, numbers, lists and mappings, as they stand in the manifest."""


class UnitName(NamedTuple):
    """Which unit: its kind, and the slugs of the style and the client that it is about, "" where it is about none.

    `item` tells apart several units of one kind that are about the same.
    """

    kind: str
    style: str = ""
    client: str = ""
    item: str = ""

    def __str__(self) -> str:
        return "/".join(part for part in self if part)


class Source(NamedTuple):
    """What a unit comes from, besides what all units come from and what was made of the units it shows.

    Attributes:
        content: everything that decides what is in its files.
        places: where in the studio's files these things stand; it matters only where there is something to find
            fault with.
    """

    content: object = None
    places: object = None


@dataclass(frozen=True, slots=True)
class Sources:
    """Fingerprints of what a unit comes from: `plain`, and `placed` with the places of its parts in their files.

    Where there was nothing to find fault with, places don't matter: notes may grow and lines may move.
    """

    plain: str
    placed: str = ""

    def given(self, findings: tuple[Finding, ...]) -> str:
        """The one to keep for a unit that has these findings."""
        return self.placed if findings and self.placed else self.plain


@dataclass(frozen=True, slots=True)
class Product:
    """What was made of a unit, ready to be written.

    Attributes:
        files: by path from the site's root.
        summary: what other units show of it.
        findings: what is wrong with it.
        records: files for later builds alone, by path; a copy for one client holds none.
    """

    files: Mapping[str, bytes] = field(default_factory=dict)
    summary: Summary = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    records: Mapping[str, bytes] = field(default_factory=dict)


Products = Mapping[UnitName, Product]
SourcesOf = Callable[[UnitName], Sources]
"""Gives what another unit comes from."""


def _nothing(path: str) -> bytes:
    return b""


@dataclass(frozen=True, slots=True)
class Results:
    """What was made of the units that a unit shows.

    Attributes:
        summaries: by name; of a unit that was not made there is none.
        read: the contents of one of their files by its path, b"" when it is not as it was made; only for kinds
            of unit that say they read files.
    """

    summaries: Mapping[UnitName, Summary] = field(default_factory=dict)
    read: Callable[[str], bytes] = _nothing

    def by_draft(self) -> dict[tuple[str, str], Summary]:
        """The summaries by style and client, as pages take them; a style in sizes has no client."""
        return {(name.style, name.client): summary for name, summary in self.summaries.items()}
