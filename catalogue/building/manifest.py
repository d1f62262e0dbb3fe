"""What an earlier build wrote, and what each file came from: `.catalogue.json` in the published folder.

It says which files are ours to replace or remove, and saves making again what is still right. It holds no
times and nothing of this machine, so equal studios give equal manifests. A manifest that is missing, damaged
or of another format is read as far as it goes: the worst it can do is cost time.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

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
    told: Mapping[str, Any] | None = field(default=None, compare=False, repr=False)


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
        body = json.dumps(told, ensure_ascii=False, separators=(",", ":"))
        # The last line tells a whole manifest from one that was cut off or touched up.
        return f"{body}\n{fingerprint.of_bytes(body.encode())}\n".encode()


def read(folder: Path) -> Manifest:
    """The manifest of an output folder; an empty one with `found` False when none can be trusted."""
    try:
        body, seal = (folder / NAME).read_bytes().decode().rstrip("\n").rsplit("\n", 1)
        if fingerprint.of_bytes(body.encode()) != seal:
            return Manifest()
        told = json.loads(body)
        if told["made by"] != MADE_BY:
            return Manifest()
        if told["format"] != FORMAT:
            return Manifest()
        units = {str(name): _unit_in(unit) for name, unit in told["units"].items()}
        clients = {str(slug): str(digest) for slug, digest in told["clients"].items()}
        held = {str(folder): tuple(map(str, names)) for folder, names in told.get("held", {}).items()}
        return Manifest(
            units, str(told["studio"]), True, str(told.get("only", "")), clients, str(told["rest"]), held
        )
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return Manifest()


_UNSAFE = re.compile(r"(?:^|/)\.{0,2}(?:/|$)|[\\:\0]", re.MULTILINE)
"""A part of a path that is empty, "." or "..", or a sign that means something else on some systems."""


def safe(path: str) -> bool:
    """Whether `path` stays below the folder it is joined to: relative, with "/", without ".."."""
    return not _UNSAFE.search(path)


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


def _unit_out(unit: MadeUnit) -> Mapping[str, Any]:
    if unit.told is not None:
        return unit.told
    told: dict[str, Any] = {"from": unit.source, "files": {w.path: [w.digest, w.size] for w in unit.files}}
    if unit.summary:
        told["summary"] = dict(unit.summary)
    if unit.findings:
        told["findings"] = [finding_out(f) for f in unit.findings]
    return told


def _unit_in(told: Mapping[str, Any]) -> MadeUnit:
    files = tuple([Written(path, str(digest), int(size)) for path, (digest, size) in told["files"].items()])
    # All of a unit's at once, a line each: there are a hundred thousand files in a large catalogue.
    if files and not safe("\n".join(told["files"])):
        raise ValueError("a path that leaves the folder")
    findings = tuple(finding_in(f) for f in told.get("findings", ()))
    return MadeUnit(str(told["from"]), files, dict(told.get("summary", {})), findings, told)
