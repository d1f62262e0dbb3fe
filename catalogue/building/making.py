"""Making one unit of the catalogue: a draft with its page, a style's or a client's page, the first page.

A maker runs in a worker process. It writes what it makes into the build's hidden folder and answers with a
short account, so that no drawing travels between processes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from catalogue.building import manifest
from catalogue.building.manifest import Written
from catalogue.building.publish import Made, Stage
from catalogue.building.studio import Studio
from catalogue.building.works import Works
from catalogue.findings import Finding


class UnitName(NamedTuple):
    """Which unit: kind is "pair" (drawings), "page" (of a pair), "style", "choices", "sizes", "client", "front",
    "handbook" or "others".

    Slugs are "" where they don't apply.
    """

    kind: str
    style: str = ""
    client: str = ""

    def __str__(self) -> str:
        return "/".join(part for part in self if part)

    @property
    def folder(self) -> str:
        """Where its page lies, with a "/" at the end; "" is the top of the site."""
        if self.kind in ("pair", "page"):
            return f"styles/{self.style}/{self.client}/"
        if self.kind == "style":
            return f"styles/{self.style}/"
        if self.kind in ("choices", "sizes"):
            return f"styles/{self.style}/{self.kind}/"
        return f"clients/{self.client}/" if self.kind == "client" else ""

    @property
    def record(self) -> str:
        """Where what the page needs of a pair's draft is kept."""
        return f"{manifest.RECORDS}/{self.style}/{self.client}.z"

    @property
    def page(self) -> UnitName:
        """The page's unit of a pair."""
        return self._replace(kind="page")


@dataclass(frozen=True, slots=True)
class Task:
    """A unit to make; a pair is made with its page.

    Attributes:
        number: makes the names of staged files unique.
        old: files as published, by path; None to compare with the published files themselves.
        summaries: of the drafts the page shows.
        failed: why a pair's draft could not be made, when only its page is wanted.
        record: the record of the draft, when only a pair's page is made again; None when there is none.
    """

    number: int
    name: UnitName
    old: Mapping[str, Written] | None = None
    summaries: Mapping[tuple[str, str], Mapping[str, Any]] = field(default_factory=dict)
    failed: Finding | None = None
    record: Written | None = None


@dataclass(frozen=True, slots=True)
class Account:
    """What was made of a unit."""

    name: UnitName
    files: tuple[Made, ...]
    summary: Mapping[str, Any] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class Maker:
    """Makes units: call it with a task. Answers with one account a unit.

    Attributes:
        keeps: whether records of drafts are kept, for making their pages again.
    """

    works: Works
    studio: Studio
    stage: Stage
    keeps: bool = True

    def __call__(self, task: Task) -> tuple[Account, ...]:
        name, studio, works = task.name, self.studio, self.works
        style, client = studio.by_style.get(name.style), studio.by_client.get(name.client)
        if name.kind == "pair":
            if task.failed:
                made = works.pair_failed(studio, style, client, task.failed)
            else:
                made = works.pair(studio, style, client)
            drawn = {f"{name.folder}{file}": data for file, data in made.files.items()}
            if made.record and self.keeps:
                drawn[name.record] = made.record
            page = {f"{name.folder}index.html": made.page}
            return (
                Account(name, self._put(task, drawn), made.summary, made.findings),
                Account(name.page, self._put(task, page, "page"), findings=works.said(studio)),
            )
        if name.kind == "sizes":
            sized = works.sized(studio, style)
            sheets = {f"{name.folder}{file}": data for file, data in sized.files.items()}
            return (Account(name, self._put(task, sheets), sized.summary, sized.findings),)
        if name.kind == "page":
            summary = task.summaries[name.style, name.client]
            record = self.stage.published(task.record) if task.record else b""
            files = {f"{name.folder}index.html": works.pair_page(studio, style, client, summary, record)}
        elif name.kind == "style":
            files = dict(works.style_pages(studio, style, task.summaries))
        elif name.kind == "choices":
            files = dict(works.choices(studio, style))
        elif name.kind == "client":
            files = dict(works.client_pages(studio, client, task.summaries))
        elif name.kind == "front":
            files = dict(works.front_pages(studio, task.summaries))
        elif name.kind == "handbook":
            files = dict(works.handbook(studio))
        else:
            files = dict(works.others(studio))
        return (Account(name, self._put(task, files), findings=works.said(studio)),)

    def _put(self, task: Task, files: Mapping[str, bytes], part: str = "") -> tuple[Made, ...]:
        made = []
        for number, (path, data) in enumerate(sorted(files.items())):
            old = task.old.get(path) if task.old else None
            made.append(self.stage.put(path, data, old, f"{task.number}{part}-{number}"))
        return tuple(made)


@dataclass(frozen=True, slots=True)
class Checker:
    """Drafts pairs, and styles in sizes, and answers with what is wrong with them; writes nothing."""

    works: Works
    studio: Studio

    def __call__(self, name: UnitName) -> tuple[Finding, ...]:
        studio = self.studio
        if name.kind == "sizes":
            return self.works.check_sized(studio, studio.by_style[name.style])
        return self.works.check(studio, studio.by_style[name.style], studio.by_client[name.client])
