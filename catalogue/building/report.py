"""What is asked of a build, and what it answers."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from catalogue.building.gathering import Told, gathered
from catalogue.findings import Finding
from catalogue.sorting import sort_key

if TYPE_CHECKING:
    from catalogue.building.made_units import MadeUnit
    from catalogue.people import Client
    from catalogue.studio.style import Style

MANIFEST = ".catalogue.json"
"""Name of the file in the output folder that says what was built there (see `manifest.py`)."""

Progress = Callable[[int, int, str], None]
"""Called with units done, units to do, and what was last done."""


@dataclass(frozen=True, slots=True)
class Request:
    """What to build.

    Attributes:
        studio, output: folders.
        styles, clients: names of those to make again; empty for all.
        force: make everything again, whatever the manifest says.
        jobs: worker processes; 0 for as many as there are cores.
        recipient: name of the client that the catalogue is to be handed to, with nothing of any other; `styles`
            then names those to put in; "" for the catalogue of all clients.
        papers: to print on this time, in place of the studio's own; the next build goes back to these.
        allow_removal: go on though most of the style or client files that there were are gone.
        first: pairs of style and client, by their slugs, that someone is looking at. When they are given, other
            drafts, the pictures of choices, sheets of standard sizes and the handbook stay as they are where there are
            some; the next build makes them.
    """

    studio: Path
    output: Path
    styles: tuple[str, ...] = ()
    clients: tuple[str, ...] = ()
    force: bool = False
    jobs: int = 0
    recipient: str = ""
    papers: tuple[str, ...] = ()
    allow_removal: bool = False
    first: frozenset[tuple[str, str]] | None = None


@dataclass(frozen=True, slots=True)
class Report:
    """What a build or a check did.

    Attributes:
        findings: everything there is to say, each once.
        drafts: style-client pairs in the catalogue.
        made: drafts made this time.
        changed: paths of the site that were written or removed.
        waiting: drafts that wait for a measurement.
        lacking: of a check, a sentence for each measurement that a client's drafts wait for.
        finished_earlier: an earlier build had been killed while moving files, and was finished first.
        left: number of units that are stale still and left to the next build, because others were wanted first. What
            was to be said of them is not among the findings.
    """

    findings: tuple[Told, ...] = ()
    drafts: int = 0
    made: int = 0
    changed: tuple[str, ...] = ()
    waiting: int = 0
    finished_earlier: bool = False
    lacking: tuple[str, ...] = ()
    left: int = 0

    @property
    def ok(self) -> bool:
        return not any(told.finding.is_error for told in self.findings)


def lacking(pairs: Iterable[tuple[Style, Client]]) -> tuple[int, tuple[str, ...]]:
    """How many of these drafts (style and client) wait for measurements, and a sentence for each of those."""
    waiting = 0
    wanted: dict[tuple[str, str], list[str]] = {}
    for style, client in pairs:
        # What is wrong with a file comes first: a misspelt measurement isn't lacking as well.
        missing = style.missing_from(client.measurements) if style.ok and client.ok else ()
        waiting += bool(missing)
        for key in missing:
            wanted.setdefault((client.file, style.register.name_of(key)), []).append(style.title)
    return waiting, tuple(
        f"{file}: no {name}, which is needed for {', '.join(titles)}: write “{name}:” with it under “measured:”"
        for (file, name), titles in sorted(
            wanted.items(), key=lambda each: [sort_key(word) for word in each[0]]
        )
    )


def report_of(
    units: Mapping[str, MadeUnit],
    kinds_of_draft: Collection[str],
    besides: Iterable[Finding] = (),
    left: Collection[str] = (),
) -> Report:
    """The report on a catalogue of `units`, by the names that they have in the manifest.

    `besides` is what there is to say of no unit, `left` those that are stale still.
    """
    findings: list[tuple[Finding, str]] = [(finding, "") for finding in besides]
    drafts = waiting = 0
    for name in sorted(units, key=lambda name: (name != "studio", name)):
        who, found = "", units[name].findings
        if name.partition("/")[0] in kinds_of_draft:
            state = units[name].state
            drafts += 1
            waiting += state.state == "waiting"
            who = state.client or name.rpartition("/")[2]
        if name not in left:
            findings += [(finding, who) for finding in found]
    return Report(gathered(findings), drafts, waiting=waiting)
