"""What an earlier build wrote, and what each file came from: `.catalogue.json` in the published folder.

It says which files are ours to replace or remove, and saves making again what is still right. It holds no
times and nothing of this machine, so equal studios give equal manifests. A manifest that is missing, damaged
or of another format is read as far as it goes: the worst it can do is cost time.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

import msgspec

from catalogue.building import fingerprint
from catalogue.findings import Finding, Place, Severity

NAME = ".catalogue.json"
RECORDS = ".catalogue"
"""Folder beside it with what the page of each draft needs of its draft, for when only the page is made again."""
FORMAT = 3
MADE_BY = "pattern-catalogue"


class Written(NamedTuple):
    """A file of the catalogue: its place below the output folder (with "/"), and its contents' fingerprint
    and size.
    """

    path: str
    digest: str
    size: int


class UnitTold(msgspec.Struct, gc=False, frozen=True, omit_defaults=True):
    """A unit as it stands in the manifest; there are tens of thousands of them in a large catalogue."""

    source: str = msgspec.field(name="from")
    files: dict[str, tuple[str, int]]
    summary: dict[str, Any] = {}
    findings: list[dict[str, Any]] = []


class _Told(msgspec.Struct, gc=False):
    """A manifest as it stands in its file."""

    made_by: str = msgspec.field(name="made by")
    format: int
    studio: str
    clients: dict[str, str]
    rest: str
    units: dict[str, UnitTold]
    only: str = ""
    held: dict[str, tuple[str, ...]] = {}


@dataclass(frozen=True, slots=True)
class MadeUnit:
    """What is made together: a page with its drawings, say.

    Attributes:
        source: fingerprint of everything it came from.
        files: what was written for it.
        summary: plain values that other pages show of it.
        findings: what there was to say while making it.
        told: all this as it stands in the manifest that it was read from, so that it need not be put together again.
    """

    source: str
    files: tuple[Written, ...] = ()
    summary: Mapping[str, object] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()
    told: UnitTold | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Manifest:
    """All units by name.

    Attributes:
        studio: fingerprint of the whole studio folder when everything was made from it; "" when only a part
            was.
        found: whether there was a manifest that could be read.
        only: slug of the client whose copy this is; "" for the catalogue of all clients.
        clients: fingerprint of each client's file when everything was made from them; else none.
        rest: fingerprint of everything else that there was to make it from.
        held: names of the style files and of the client files that there were.
    """

    units: Mapping[str, MadeUnit] = field(default_factory=dict)
    studio: str = ""
    found: bool = False
    only: str = ""
    clients: Mapping[str, str] = field(default_factory=dict)
    rest: str = ""
    held: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def files(self) -> Iterator[Written]:
        for unit in self.units.values():
            yield from unit.files

    def as_bytes(self) -> bytes:
        told = {
            "made by": MADE_BY,
            "format": FORMAT,
            "studio": self.studio,
            "only": self.only,
            "clients": dict(self.clients),
            "rest": self.rest,
            "held": {folder: list(names) for folder, names in self.held.items()},
            "units": {name: _unit_out(self.units[name]) for name in sorted(self.units)},
        }
        body = msgspec.json.encode(told)
        # The last line tells a whole manifest from one that was cut off or touched up.
        return b"%s\n%s\n" % (body, fingerprint.of_bytes(body).encode())


def read(folder: Path) -> Manifest:
    """The manifest of an output folder; an empty one with `found` False when none can be trusted."""
    try:
        body, seal = (folder / NAME).read_bytes().rstrip(b"\n").rsplit(b"\n", 1)
        if fingerprint.of_bytes(body).encode() != seal:
            return Manifest()
        told = msgspec.json.decode(body, type=_Told)
        if told.made_by != MADE_BY or told.format != FORMAT:
            return Manifest()
        units = {name: _unit_in(unit) for name, unit in told.units.items()}
        return Manifest(units, told.studio, True, told.only, told.clients, told.rest, told.held)
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return Manifest()


_UNSAFE = (
    *("\n\n", "\n/", "//", "/\n"),
    *("\n./", "/./", "/.\n", "\n.\n"),
    *("\n../", "/../", "/..\n", "\n..\n"),
    *("\\", ":", "\0"),
)
"""In paths, one a line: a part that is empty, "." or "..", or a sign that means something else on some systems."""


def safe(path: str) -> bool:
    """Whether `path` stays below the folder it is joined to: relative, with "/", without "..".

    Several paths are asked about at once, a line each: there are a hundred thousand in a large catalogue.
    """
    lines = f"\n{path}\n"
    return not [unsafe for unsafe in _UNSAFE if unsafe in lines]


def finding_out(finding: Finding) -> dict[str, Any]:
    place = finding.place
    return {
        "code": finding.code,
        "message": finding.message,
        "place": [place.file, place.line, place.column] if place else None,
        "hint": finding.hint,
        "severity": finding.severity.value,
        "source": finding.source,
        "instead": finding.instead,
    }


def finding_in(told: Mapping[str, Any]) -> Finding:
    place = told["place"]
    return Finding(
        told["code"],
        told["message"],
        Place(str(place[0]), int(place[1]), int(place[2])) if place else None,
        told["hint"],
        Severity(told["severity"]),
        told["source"],
        told["instead"],
    )


def _unit_out(unit: MadeUnit) -> UnitTold:
    if unit.told is not None:
        return unit.told
    files = {w.path: (w.digest, w.size) for w in unit.files}
    return UnitTold(unit.source, files, dict(unit.summary), [finding_out(f) for f in unit.findings])


_as_written = tuple.__new__


def _unit_in(told: UnitTold) -> MadeUnit:
    if told.files and not safe("\n".join(told.files)):
        raise ValueError("a path that leaves the folder")
    files = tuple([_as_written(Written, (path, *stated)) for path, stated in told.files.items()])
    findings = tuple([finding_in(f) for f in told.findings])
    return MadeUnit(told.source, files, told.summary, findings, told)
