"""What was made of a unit, kept as it stands in the manifest: there are tens of thousands of them in a large catalogue.

A unit is unpacked only where it is looked at, and packed by the process that makes it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

import msgspec

from catalogue.building import fingerprint
from catalogue.findings import Finding, Place, Severity


class Written(NamedTuple):
    """A file of the catalogue: its place below the output folder (with "/"), and its contents' fingerprint
    and size.
    """

    path: str
    digest: str
    size: int


class UnitState(msgspec.Struct, gc=False):
    """What a report counts of a unit, out of its summary."""

    state: str = ""
    client: str = ""


class _Body(msgspec.Struct, gc=False, omit_defaults=True):
    """A unit as it stands in the manifest, but for what it comes from; `shown` is the fingerprint of its summary."""

    files: dict[str, int] = {}
    digests: list[str] = []
    shown: str = ""
    summary: dict[str, Any] = {}
    findings: list[dict[str, Any]] = []


class _Files(msgspec.Struct, gc=False):
    files: dict[str, int] = {}
    digests: list[str] = []


class _Shown(msgspec.Struct, gc=False):
    shown: str = ""


class _Summary(msgspec.Struct, gc=False):
    summary: msgspec.Raw = msgspec.Raw(b"{}")


class _State(msgspec.Struct, gc=False):
    summary: UnitState = msgspec.field(default_factory=UnitState)


class _Findings(msgspec.Struct, gc=False):
    findings: list[dict[str, Any]] = []


_files = msgspec.json.Decoder(_Files)
_shown = msgspec.json.Decoder(_Shown)
_summary = msgspec.json.Decoder(_Summary)
_state = msgspec.json.Decoder(_State)
_findings = msgspec.json.Decoder(_Findings)


class MadeUnit:
    """What is made together: a page with its drawings, say.

    Attributes:
        source: fingerprint of everything it came from.
        body: all else, packed.
    """

    __slots__ = ("body", "source")

    def __init__(
        self,
        source: str,
        files: Iterable[Written] = (),
        summary: Mapping[str, object] | None = None,
        findings: Iterable[Finding] = (),
        *,
        body: msgspec.Raw | None = None,
    ) -> None:
        self.source = source
        self.body = packed(files, summary or {}, findings) if body is None else body

    def __eq__(self, other: object) -> bool:
        return isinstance(other, MadeUnit) and (self.source, self.body) == (other.source, other.body)

    __hash__ = None  # type: ignore[assignment]

    @property
    def files(self) -> tuple[Written, ...]:
        """What was written for it. Raises ValueError when a path leads out of the folder."""
        told = _files.decode(self.body)
        if told.files and not safe("\n".join(told.files)):
            raise ValueError("a path that leaves the folder")
        return tuple(
            Written(path, digest, size)
            for (path, size), digest in zip(told.files.items(), told.digests, strict=True)
        )

    @property
    def summary(self) -> dict[str, Any]:
        """Plain values that other pages show of it."""
        return unpacked_summary(self.packed_summary)

    @property
    def packed_summary(self) -> bytes:
        """The same, packed, to hand to another process."""
        return bytes(_summary.decode(self.body).summary)

    @property
    def shown(self) -> str:
        """Fingerprint of the summary."""
        return _shown.decode(self.body).shown

    @property
    def state(self) -> UnitState:
        """What a report counts of it."""
        return _state.decode(self.body).summary

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What there was to say while making it."""
        return tuple([finding_in(told) for told in _findings.decode(self.body).findings])


def packed(
    files: Iterable[Written], summary: Mapping[str, object], findings: Iterable[Finding]
) -> msgspec.Raw:
    """What was made of a unit, packed."""
    files = list(files)
    return msgspec.Raw(
        msgspec.json.encode(
            _Body(
                {w.path: w.size for w in files},
                [w.digest for w in files],
                fingerprint.of_plain(summary) if summary else "",
                dict(summary),
                [finding_out(f) for f in findings],
            )
        )
    )


def unpacked_summary(data: bytes) -> dict[str, Any]:
    """A summary that was packed."""
    return msgspec.json.decode(data, type=dict[str, Any])


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
    about = {"about": finding.about} if finding.about else {}
    return {
        "code": finding.code,
        "message": finding.message,
        "place": [place.file, place.line, place.column] if place else None,
        "hint": finding.hint,
        "severity": finding.severity.value,
        "source": finding.source,
        "instead": finding.instead,
        **about,
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
        told.get("about", ""),
    )
