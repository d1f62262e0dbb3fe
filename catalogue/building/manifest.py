"""What an earlier build wrote, and what each file came from: `.catalogue.json` in the published folder.

It says which files are ours to replace or remove, and saves making again what is still right. It holds no
times and nothing of this machine, so equal studios give equal manifests. A manifest that is missing, damaged
or of another format is read as far as it goes: the worst it can do is cost time.

The units of a large catalogue stand in parts, files of `.catalogue/manifest/` of about a hundred units each; a part is
named after its contents, and `.catalogue.json` names the parts that count. So a build writes only the parts in
which something differs, and the catalogue has its new manifest at the moment in which that one file is replaced. The
parts of the old one are removed after that.
"""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple

import msgspec

from catalogue.building import disk, fingerprint
from catalogue.building.gathering import Told
from catalogue.building.made_units import MadeUnit, finding_in, finding_out, packed, safe
from catalogue.building.report import MANIFEST, Report

NAME = MANIFEST
RECORDS = ".catalogue"
"""Folder beside it with what the page of each draft needs of its draft, for when only the page is made again."""
PARTS = f"{RECORDS}/manifest"
"""Folder with the parts of a large manifest."""
FORMAT = 4
MADE_BY = "pattern-catalogue"
FEW = 500
"""Units that stand in the manifest itself."""
PART = 96
"""Units of a part, about."""
_PART_NAME = re.compile(r"[0-9a-f]{32}\.json")

_as_units = msgspec.json.Decoder(dict[str, tuple[str, msgspec.Raw]])


class _Told(msgspec.Struct, gc=False, omit_defaults=True):
    """A manifest as it stands in its file."""

    made_by: str = msgspec.field(name="made by")
    format: int
    studio: str
    clients: dict[str, str]
    rest: str
    only: str = ""
    held: dict[str, tuple[str, ...]] = {}
    report: dict[str, Any] = {}
    parts: tuple[str, ...] = ()
    units: msgspec.Raw = msgspec.Raw(b"{}")


class Damaged(Exception):
    """A part of a manifest is not what it was."""


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
        report: what there was to say when everything was made from `studio`.
        parts: fingerprint of each part that was read, with the names of the units in it.
    """

    units: Mapping[str, MadeUnit] = field(default_factory=dict)
    studio: str = ""
    found: bool = False
    only: str = ""
    clients: Mapping[str, str] = field(default_factory=dict)
    rest: str = ""
    held: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    report: Report | None = None
    parts: Mapping[str, frozenset[str]] = field(default_factory=dict, compare=False)

    def packed(self, before: Manifest | None = None) -> Packed:
        """The manifest as it is written; parts are not packed again in which nothing differs from `before`."""
        groups = _grouped(self.units)
        known = {name: (digest, names) for digest, names in (before or self).parts.items() for name in names}
        old = before.units if before else {}
        parts: dict[str, bytes] = {}
        for names in groups if len(self.units) > FEW else ():
            digest, there = known.get(names[0], ("", frozenset()))
            if len(there) == len(names) and all(n in there and old.get(n) is self.units[n] for n in names):
                parts[digest] = b""
            else:
                data = self._together(names)
                parts[fingerprint.of_bytes(data)] = data
        told = _Told(
            MADE_BY,
            FORMAT,
            self.studio,
            dict(self.clients),
            self.rest,
            self.only,
            {folder: tuple(names) for folder, names in self.held.items()},
            _report_out(self.report) if self.report else {},
            tuple(parts),
            msgspec.Raw(self._together(sorted(self.units)) if not parts else b"{}"),
        )
        body = msgspec.json.encode(told)
        # The last line tells a whole manifest from one that was cut off or touched up.
        head = b"%s\n%s\n" % (body, fingerprint.of_bytes(body).encode())
        return Packed(head, parts)

    def _together(self, names: list[str]) -> bytes:
        return msgspec.json.encode({name: (self.units[name].source, self.units[name].body) for name in names})


class Packed(NamedTuple):
    """A manifest ready to be written: its own file, and what is in its parts by their names (b"" for those that are
    there).
    """

    head: bytes
    parts: Mapping[str, bytes]

    def paths(self) -> list[str]:
        """The paths of its parts."""
        return [part_path(digest) for digest in self.parts]


@dataclass(frozen=True, slots=True)
class Head:
    """A manifest without its units, which are read when they are asked for.

    Attributes:
        about: all else of it.
        parts: fingerprints of its parts.
        inside: the units that stand in its own file, packed.
    """

    about: Manifest = field(default_factory=Manifest)
    parts: tuple[str, ...] = ()
    inside: bytes | msgspec.Raw = b"{}"

    def data(self, folder: Path) -> Sequence[bytes | Callable[[], bytes]]:
        """What the units stand in: as it is, or how it is read from `folder` (which may raise Damaged)."""
        return [partial(read_part, folder, digest) for digest in self.parts] or [bytes(self.inside)]

    def whole(self, folder: Path) -> Manifest:
        """The manifest with its units; one with `found` False when a part of it can't be trusted."""
        units: dict[str, MadeUnit] = {}
        parts: dict[str, frozenset[str]] = {}
        try:
            for digest in self.parts or ("",):
                data = read_part(folder, digest) if digest else self.inside
                told = _as_units.decode(data)
                units.update((name, MadeUnit(source, body=body)) for name, (source, body) in told.items())
                if digest:
                    parts[digest] = frozenset(told)
        except (Damaged, ValueError):
            return Manifest()
        about = self.about
        return Manifest(
            units,
            about.studio,
            about.found,
            about.only,
            about.clients,
            about.rest,
            about.held,
            about.report,
            parts,
        )


def read(folder: Path) -> Manifest:
    """The manifest of an output folder; an empty one with `found` False when none can be trusted."""
    return read_head(folder).whole(folder)


def read_head(folder: Path) -> Head:
    """What the manifest's own file says; `found` is False when it can't be trusted."""
    try:
        body, seal = disk.read(folder / NAME).rstrip(b"\n").rsplit(b"\n", 1)
        if fingerprint.of_bytes(body).encode() != seal:
            return Head()
        told = msgspec.json.decode(body, type=_Told)
        if told.made_by != MADE_BY or told.format not in (FORMAT, 3):
            return Head()
        about = Manifest(
            {},
            told.studio if told.format == FORMAT else "",
            True,
            told.only,
            told.clients,
            told.rest,
            told.held,
            _report_in(told.report) if told.report else None,
        )
        return Head(about, told.parts, told.units if told.format == FORMAT else _of_format_3(told.units))
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return Head()


def read_part(folder: Path, digest: str) -> bytes:
    """What a part holds. Raises Damaged."""
    try:
        data = disk.read(folder / part_path(digest))
    except OSError as error:
        raise Damaged from error
    if fingerprint.of_bytes(data) != digest:
        raise Damaged
    return data


def holds(folder: Path, head: bytes) -> bool:
    """Whether the manifest's own file is just this."""
    try:
        return disk.read(folder / NAME) == head
    except OSError:
        return False


def part_path(digest: str) -> str:
    """The path of a part."""
    return f"{PARTS}/{digest}.json"


def parts_in(folder: Path) -> list[str]:
    """The paths of all parts that lie in an output folder, whether they count or not."""
    try:
        names = sorted(each.name for each in os.scandir(folder / PARTS))
    except OSError:
        return []
    return [f"{PARTS}/{name}" for name in names if _PART_NAME.fullmatch(name)]


class _UnitOfFormat3(msgspec.Struct, gc=False):
    source: str = msgspec.field(name="from")
    files: dict[str, tuple[str, int]]
    summary: dict[str, Any] = {}
    findings: list[dict[str, Any]] = []


def _of_format_3(units: msgspec.Raw) -> bytes:
    """The units of a manifest as the program wrote it before there were parts."""
    from catalogue.building.made_units import Written

    told = msgspec.json.decode(units, type=dict[str, _UnitOfFormat3])
    paths = [path for unit in told.values() for path in unit.files]
    if paths and not safe("\n".join(paths)):
        raise ValueError("a path that leaves the folder")
    return msgspec.json.encode(
        {
            name: (
                unit.source,
                packed(
                    [Written(path, *stated) for path, stated in unit.files.items()],
                    unit.summary,
                    [finding_in(each) for each in unit.findings],
                ),
            )
            for name, unit in told.items()
        }
    )


def _grouped(names: Mapping[str, object]) -> list[list[str]]:
    """The names of units by part, sorted.

    A part has the units of some of the styles for some of the clients, told by their names alone: what differs after a
    client was measured again, or a style was changed, is then in few of the parts.
    """
    wide = 1
    while wide * wide * PART < len(names):
        wide *= 2
    groups: dict[tuple[int, int], list[str]] = {}
    for name in sorted(names):
        _, _, about = name.partition("/")
        style, _, client = about.partition("/")
        groups.setdefault((_number(style) % wide, _number(client) % wide), []).append(name)
    return [groups[key] for key in sorted(groups)]


def _number(text: str) -> int:
    return int.from_bytes(hashlib.blake2b(text.encode(), digest_size=2).digest())


def _report_out(report: Report) -> dict[str, Any]:
    return {
        "drafts": report.drafts,
        "waiting": report.waiting,
        "told": [
            [finding_out(told.finding), told.clients, told.others, told.figures] for told in report.findings
        ],
    }


def _report_in(told: Mapping[str, Any]) -> Report:
    findings = tuple(_told_in(*each) for each in told["told"])
    return Report(findings, int(told["drafts"]), waiting=int(told["waiting"]))


def _told_in(
    finding: Mapping[str, Any],
    clients: Iterable[str],
    others: Iterable[str] = (),  # A manifest of an earlier program has no more than the clients.
    figures: Iterable[tuple[str, str]] = (),
) -> Told:
    return Told(
        finding_in(finding), tuple(clients), tuple(others), tuple((who, text) for who, text in figures)
    )
