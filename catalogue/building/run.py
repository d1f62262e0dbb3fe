"""A whole build: read, find what is stale, make it, put it in place.

The manifest of the last build says what each unit came from. A unit whose fingerprint is the same and whose
files are all there is kept as it is; everything else is made again, drafts first, then the pages that show
them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from catalogue.building import fingerprint, handover, manifest, publish
from catalogue.building.disk import CannotWrite
from catalogue.building.folder import OutputFolder, Refused
from catalogue.building.making import Account, Maker, Task, UnitName
from catalogue.building.manifest import Manifest, Unit, Written
from catalogue.building.pairs import chosen, internal, pairs
from catalogue.building.pool import Outcome, Pool, cores
from catalogue.building.publish import Made, Stage
from catalogue.building.reading import read_studio, waits_for_a_day
from catalogue.building.report import Report, Request, report_of
from catalogue.building.studio import CLIENTS, OWN, SIZES, Files, find_files
from catalogue.building.works import Works
from catalogue.findings import Finding

Progress = Callable[[int, int, str], None]
"""Called with units done, units to do, and what was last done."""


@dataclass(slots=True)
class _Books:
    """What is known of each unit while a build goes on."""

    units: dict[UnitName, Unit] = field(default_factory=dict)
    made: dict[UnitName, tuple[Made, ...]] = field(default_factory=dict)
    by_style: dict[str, dict[str, Unit]] = field(default_factory=dict)
    by_client: dict[str, dict[str, Unit]] = field(default_factory=dict)
    sized: dict[str, Unit] = field(default_factory=dict)
    digests: dict[tuple[str, str], str] = field(default_factory=dict)

    def keep(self, name: UnitName, unit: Unit) -> None:
        self._note(name, unit, tuple(Made(written) for written in unit.files))

    def enter(self, account: Account, source: str) -> None:
        files = tuple(made.written for made in account.files)
        self._note(account.name, Unit(source, files, account.summary, account.findings), account.files)

    def _note(self, name: UnitName, unit: Unit, made: tuple[Made, ...]) -> None:
        self.units[name] = unit
        self.made[name] = made
        if name.kind == "pair":
            self.by_style.setdefault(name.style, {})[name.client] = unit
            self.by_client.setdefault(name.client, {})[name.style] = unit
            self.digests[name.style, name.client] = fingerprint.of_plain(unit.summary)

        if name.kind == "sizes":
            self.sized[name.style] = unit
            self.digests[name.style, ""] = fingerprint.of_plain(unit.summary)

    def summaries(self, name: UnitName) -> dict[tuple[str, str], Mapping[str, Any]]:
        """Of the drafts that a unit's pages show: its own, all of its style or client, or all there are."""
        if name.kind == "page":
            return {(name.style, name.client): self.by_style[name.style][name.client].summary}
        if name.kind == "style":
            drafts = self.by_style.get(name.style, {})
            if name.style in self.sized:
                drafts = drafts | {"": self.sized[name.style]}
            return {(name.style, client): drafts[client].summary for client in sorted(drafts)}
        if name.kind == "client":
            drafts = self.by_client.get(name.client, {})
            return {(style, name.client): drafts[style].summary for style in sorted(drafts)}
        if name.kind == "front":
            return {
                (style, client): self.by_style[style][client].summary
                for style in sorted(self.by_style)
                for client in sorted(self.by_style[style])
            }
        return {}


@dataclass(frozen=True, slots=True)
class _Sources:
    """Fingerprints of what a unit comes from: `plain`, and `placed` with the places of its parts in their files.

    Where there was nothing to find fault with, places don't matter: notes may grow and lines may move.
    """

    plain: str
    placed: str = ""

    def given(self, findings: tuple[Finding, ...]) -> str:
        return self.placed if findings and self.placed else self.plain


def build(request: Request, works: Works, progress: Progress | None = None) -> Report:
    """Bring the catalogue up to date.

    Raises:
        NotAStudio, UnknownName, Refused, Busy: the request can't be carried out; nothing was changed.
        CannotWrite: the disk did not take it; the catalogue is as it was.
        KeyboardInterrupt: likewise.
    """
    files = find_files(request.studio)
    only = ""
    if request.recipient:
        files, only = handover.files_for(request.recipient, files, works)
    folder = OutputFolder(request.output)
    folder.check(request.studio)
    folder.claim()
    try:
        earlier = publish.recover(folder)
        old = manifest.read(folder.path)
        handover.check_folder(folder, old, only)
        asked = request.force or request.styles or request.clients or request.papers
        if not asked and _is_current(old, files, folder.path):
            units: Mapping[str, Unit] = old.units
            changed: tuple[str, ...] = ()
            made, left = 0, frozenset[str]()
        else:
            stage = Stage(folder.path)
            try:
                work = _Build(request, works, files, only, folder, old, stage, progress or _silent)
                units, changed, made = work.run()
                left = frozenset(map(str, work.left))
            except BaseException:
                stage.discard()
                raise
        ours = (written.path for unit in units.values() for written in unit.files)
        strange = handover.strange_files(folder.path, ours) if only else ()
        return report_of(units, changed, made, earlier, strange, left)
    finally:
        folder.release()


class _Build:
    """One build under way; `run` does it."""

    def __init__(
        self,
        request: Request,
        works: Works,
        files: Files,
        only: str,
        folder: OutputFolder,
        old: Manifest,
        stage: Stage,
        progress: Progress,
    ) -> None:
        self.request = request
        self.works = works
        self.folder = folder
        self.old = old
        self.stage = stage
        self.progress = progress
        self.only = only
        self.jobs = request.jobs or cores()
        self.studio = read_studio(files, works, self.jobs, folder.release)
        self.complete = not request.papers
        if only:
            # With only some styles in it, it is not what the studio's files give when they are built again.
            self.complete = self.complete and not request.styles
            self.studio = handover.narrowed(self.studio, works, request.styles)
            self.request = replace(request, styles=())
        self.shared = fingerprint.of(works.shared(self.studio), fingerprint.of_the_tool())
        self.shared_pages = fingerprint.of(self.shared, works.shared_pages(self.studio))
        others = [
            (path, digest)
            for path, digest in self.studio.files.digests.items()
            if path.startswith((f"{SIZES}/", OWN)) or not path.startswith(f"{CLIENTS}/")
        ]
        self.rest = fingerprint.of(self.shared_pages, others)
        self.books = _Books()
        self.sources: dict[UnitName, _Sources] = {}
        self.number = 0
        self.left: list[UnitName] = []

    def run(self) -> tuple[Mapping[str, Unit], tuple[str, ...], int]:
        """Do it. Returns every unit of the catalogue, the paths that changed and the number of drafts made."""
        studio = self.studio
        drafts, pages = self.drafts_to_make()
        sized = self.sized_to_make()
        if drafts or pages or sized:
            self.works.warm(studio)
        maker = Maker(self.works, studio, self.stage, keeps=not self.only)
        with Pool(maker, self.jobs, release=self.folder.release) as pool:
            self.make(pool, maker, [*sized, *drafts, *pages])
            self.make(pool, maker, self.pages_to_make())
        summary = Unit(self.shared, findings=tuple(studio.all_findings()))
        units = {str(name): unit for name, unit in self.books.units.items()} | {"studio": summary}
        # Where a date is still to come, the same files give something else on a later day.
        lasts = self.complete and not any(map(waits_for_a_day, studio.clients))
        whole = studio.files.fingerprint if lasts else ""
        clients = self.clients_now() if lasts else {}
        changed = self.put_in_place(Manifest(units, whole, only=self.only, clients=clients, rest=self.rest))
        return units, changed, len(drafts)

    def drafts_to_make(self) -> tuple[list[UnitName], list[UnitName]]:
        """Pairs to draft anew, and pairs of which only the page is stale; the others are kept."""
        first = self.request.first
        wanted = set(chosen(self.studio, self.request, self.works))
        if first is not None:
            wanted = {name for name in wanted if (name.style, name.client) in first}
        drafts, pages = [], []
        same = self.clients_as_before()
        for name in pairs(self.studio, self.works):
            drawn, page = self.kept(name), self.kept(name.page)
            if drawn is not None and page is not None and name.client in same:
                self.sources[name] = _Sources(drawn.source)
                self.sources[name.page] = _Sources(page.source)
            else:
                self.find_sources(name)
            # One that was never made is made whoever was asked for: no page may lead nowhere.
            asked = name in wanted or drawn is None or page is None
            current = drawn is not None and drawn.source == self.sources[name].given(drawn.findings)
            shown = page is not None and page.source == self.sources[name.page].plain
            if drawn is None or (asked and (self.request.force or not current)):
                drafts.append(name)
                continue
            self.books.keep(name, drawn)
            if page is None or (asked and not shown):
                pages.append(name.page)
                continue
            self.books.keep(name.page, page)
            if not (current and shown):
                self.leave(name, name.page)
        return drafts, pages

    def clients_as_before(self) -> frozenset[str]:
        """Clients whose drafts come from what they came from at the last build, told by the studio's files alone.

        It saves asking of each of thousands of drafts what it comes from when one client was measured again.
        """
        if self.rest != self.old.rest:
            return frozenset()
        return frozenset(slug for slug, _ in self.clients_now().items() & self.old.clients.items())

    def clients_now(self) -> dict[str, str]:
        """Fingerprints of the files of the clients there are."""
        return {c.slug: self.studio.files.digests[c.file] for c in self.studio.clients}

    def find_sources(self, name: UnitName) -> None:
        """What a pair's drawings and its page come from."""
        style, client = self.studio.by_style[name.style], self.studio.by_client[name.client]
        source = self.works.pair_from(self.studio, style, client)
        plain = fingerprint.of(self.shared, source.content)
        placed = fingerprint.of(plain, source.places)
        self.sources[name] = _Sources(plain, placed)
        self.sources[name.page] = _Sources(fingerprint.of(self.shared_pages, placed, source.page))

    def sized_to_make(self) -> list[UnitName]:
        """Styles in standard sizes that are stale; the others are kept."""
        stale = []
        for style in self.studio.styles:
            source = self.works.sized_from(self.studio, style)
            if source is None:
                continue
            name = UnitName("sizes", style.slug)
            self.sources[name] = _Sources(fingerprint.of(self.shared, source))
            if not self.keep(name):
                stale.append(name)
        return stale

    def pages_to_make(self) -> list[UnitName]:
        """Pages of styles and clients, the first page and the rest, that are stale; the others are kept."""
        works, studio = self.works, self.studio
        wanted: dict[UnitName, Any] = {
            UnitName("handbook"): None,
            UnitName("others"): works.others_from(studio),
        }
        for style in studio.styles:
            wanted[UnitName("style", style.slug)] = works.style_from(studio, style)
            wanted[UnitName("choices", style.slug)] = works.choices_from(studio, style)
        for client in studio.clients:
            wanted[UnitName("client", client=client.slug)] = works.client_from(studio, client)
        wanted[UnitName("front")] = works.front_from(studio)
        stale = []
        for name, source in wanted.items():
            shown = [(*pair, self.books.digests[pair]) for pair in self.books.summaries(name)]
            # Pictures of what choices change are drawn without templates.
            shared = self.shared if name.kind == "choices" else self.shared_pages
            self.sources[name] = _Sources(fingerprint.of(shared, source, shown))
            if not self.keep(name):
                stale.append(name)
        return stale

    def keep(self, name: UnitName) -> bool:
        """Keep a unit as it is, if it is current or may be left to the next build."""
        unit = self.kept(name)
        current = unit is not None and unit.source == self.sources[name].plain
        if unit is None or self.request.force or not (current or self.can_wait(name, unit)):
            return False
        self.books.keep(name, unit)
        if not current:
            self.leave(name)
        return True

    def can_wait(self, name: UnitName, unit: Unit) -> bool:
        """Whether a stale unit may stay as it is while others are made first: what leads to it still finds it."""
        if self.request.first is None or name.kind not in ("choices", "handbook", "sizes"):
            return False
        shown = self.works.choice_paths(self.studio.by_style[name.style]) if name.kind == "choices" else ()
        return {written.path for written in unit.files}.issuperset(shown)

    def leave(self, *names: UnitName) -> None:
        """Stale units that this build was not asked for: the next one makes them."""
        self.complete = False
        if self.request.first is not None:
            self.left += names

    def kept(self, name: UnitName) -> Unit | None:
        """The unit as last made, if all of its files are still there."""
        unit = self.old.units.get(str(name))
        return unit if unit is not None and _is_there(unit, self.folder.path) else None

    def make(self, pool: Pool, maker: Maker, stale: list[UnitName]) -> None:
        tasks = [self.task(name) for name in stale]
        for done, outcome in enumerate(pool.run(tasks), 1):
            accounts: tuple[Account, ...] = outcome.answer or ()
            if outcome.trouble:
                # Perhaps only this once (no memory, no time): without a source it is made again next time.
                self.complete = False
                for account in self.failed(maker, outcome):
                    self.books.enter(account, "")
            for account in accounts:
                self.books.enter(account, self.sources[account.name].given(account.findings))
            self.progress(done, len(tasks), str(outcome.task.name))

    def task(self, name: UnitName, failed: Finding | None = None) -> Task:
        self.number += 1
        summaries = self.books.summaries(name)
        if self.request.force:
            return Task(self.number, name, None, summaries, failed)
        names = (name, name.page) if name.kind == "pair" else (name,)
        units = [self.old.units[str(n)] for n in names if str(n) in self.old.units]
        old = {written.path: written for unit in units for written in unit.files}
        return Task(self.number, name, old, summaries, failed, self.record_of(name))

    def record_of(self, name: UnitName) -> Written | None:
        """The record of the draft whose page is made again, where there is one."""
        if name.kind != "page":
            return None
        kept = self.books.by_style[name.style][name.client]
        return next((written for written in kept.files if written.path == name.record), None)

    def failed(self, maker: Maker, outcome: Outcome) -> tuple[Account, ...]:
        """What there is to show when a unit could not be made: a page that says so."""
        if outcome.kind == CannotWrite.__name__:
            raise CannotWrite(outcome.trouble)
        from catalogue.site.templates import plain_page

        name = outcome.task.name
        finding = internal(outcome, name, self.studio)
        if name.kind == "pair":
            try:
                return maker(self.task(name, finding))
            except CannotWrite:
                raise
            except Exception:  # The page's own template may be what is at fault.
                pass
        page = plain_page(finding).encode()
        folder = {"handbook": "handbook/", "others": "measuring/"}.get(name.kind, name.folder)
        made = self.stage.put(f"{folder}index.html", page, None, f"{outcome.task.number}-plain")
        if name.kind == "pair":
            return Account(name, (), {"state": "wrong"}, (finding,)), Account(name.page, (made,))
        return (Account(name, (made,), findings=(finding,)),)

    def put_in_place(self, after: Manifest) -> tuple[str, ...]:
        made = [file for files in self.books.made.values() for file in files]
        lost, over = (frozenset[str](), frozenset[str]()) if self.old.found else self.folder.adopt()
        known = {written.path for written in self.old.files()} | over
        in_the_way = publish.foreign(made, known, self.folder.path)
        if in_the_way:
            place = self.folder.path / in_the_way[0]
            raise Refused(
                f"“{place}” is in the way: the catalogue needs this place, but did not write what is there. "
                "Move it elsewhere and build again."
            )
        moves = publish.changes(self.old.files(), made, self.folder.path, lost)
        data = after.as_bytes()
        if (
            moves
            or publish.size_of(self.folder.path / manifest.NAME) != len(data)
            or not self.old.found
            or (self.folder.path / manifest.NAME).read_bytes() != data
        ):
            publish.commit(self.stage, moves, data)
        return tuple(move.path for move in moves)


def _silent(done: int, total: int, what: str) -> None:
    pass


def _is_there(unit: Unit, output: Path) -> bool:
    # Asked of every file of a catalogue at every build, so paths are put together as text.
    return all(publish.size_of(f"{output}/{written.path}") == written.size for written in unit.files)


def _is_current(old: Manifest, files: Files, output: Path) -> bool:
    """Whether nothing at all changed since the last build, told without reading a single style."""
    if not old.found or old.studio != files.fingerprint:
        return False
    return all(_is_there(unit, output) for unit in old.units.values())
