"""A build that has something to make: read the studio, find what is stale, make it, put it in place."""

from __future__ import annotations

from collections.abc import Container, Iterable
from dataclasses import replace
from functools import cached_property
from operator import attrgetter

from catalogue.building import fingerprint, handover, manifest, publish
from catalogue.building.common import Common
from catalogue.building.disk import CannotWrite
from catalogue.building.folder import OutputFolder
from catalogue.building.kept_clients import waits_for_a_day
from catalogue.building.kind import Definition, UnitKind
from catalogue.building.known_units import KnownUnits
from catalogue.building.made_units import MadeUnit
from catalogue.building.making import Account, Maker, Task, internal
from catalogue.building.manifest import Manifest
from catalogue.building.pool import Outcome, Pool, cores
from catalogue.building.published import Published
from catalogue.building.reading import read_studio
from catalogue.building.removal import held_by
from catalogue.building.report import Progress, Report, Request, report_of
from catalogue.building.selection import chosen
from catalogue.building.setting_aside import findings_on, to_set_aside
from catalogue.building.sources import SourceBook
from catalogue.building.stage import Made, Move, Stage
from catalogue.building.studio import CLIENTS, OWN, SIZES, Files
from catalogue.building.unit import UnitName
from catalogue.findings import Finding


class BuildUnderWay:
    """One build under way; `run` does it."""

    def __init__(
        self,
        request: Request,
        definition: Definition,
        files: Files,
        only: str,
        others: tuple[str, ...],
        folder: OutputFolder,
        old: Manifest,
        published: Published,
        stage: Stage,
        progress: Progress,
    ) -> None:
        self.request = request
        self.definition = definition
        self.folder = folder
        self.old = old
        self.published = published
        self.asides: list[Move] = []
        self.stage = stage
        self.progress = progress
        self.only, self.others = only, others
        self.jobs = request.jobs or cores()
        studio = read_studio(files, definition.readers, self.jobs, folder.release, request.papers)
        self.complete = not request.papers
        if only:
            # With only some styles in it, it is not what the studio's files give when they are built again.
            self.complete = self.complete and not request.styles
            drafted = {name.style for name in definition.drafts(Common(studio))}
            studio = handover.narrowed(studio, drafted, request.styles)
            self.request = replace(request, styles=())
        self.studio = studio
        self.common = Common(studio)
        self.maker = Maker(definition, self.common, stage, keeps=not only)
        besides_clients = [
            (path, digest)
            for path, digest in studio.files.digests.items()
            if path.startswith((f"{SIZES}/", OWN)) or not path.startswith(f"{CLIENTS}/")
        ]
        self.names = {kind.name: list(kind.names(self.common)) for kind in definition.kinds}
        self.known = KnownUnits(name for names in self.names.values() for name in names)
        self.sources = SourceBook(definition, self.common, self.known)
        self.rest = fingerprint.of(self.sources.shared_pages, besides_clients)
        self.number = 0
        self.left: list[UnitName] = []
        self.wanted = self.drafts_wanted()
        self.same_clients = self.clients_as_before()

    def run(self) -> Report:
        """Do it."""
        drafts = 0
        with Pool(self.maker, self.jobs, release=self.folder.release) as pool:
            for kinds in self.definition.in_turn():
                stale = {kind: self.stale(kind) for kind in kinds}
                for kind, names in stale.items():
                    drafts += len(names) if kind.is_draft else 0
                    if names:
                        kind.warm(self.common)
                self.make(pool, [name for names in stale.values() for name in names])
        summary = MadeUnit(self.sources.shared, findings=tuple(self.studio.all_findings()))
        units = {str(name): unit for name, unit in self.known.results.items()} | {"studio": summary}
        # Where a date is still to come, the same files give something else on a later day.
        lasts = self.complete and not any(map(waits_for_a_day, self.studio.clients))
        whole = self.studio.files.fingerprint if lasts else ""
        clients = self.clients_now() if lasts else {}
        drafted = [kind.name for kind in self.definition.kinds if kind.is_draft]
        stated = report_of(units, drafted)
        after = Manifest(
            units,
            whole,
            only=self.only,
            clients=clients,
            rest=self.rest,
            # A copy for one client names no style that is left out of it.
            held={} if self.only else held_by(self.studio.files),
            report=stated if lasts else None,
        )
        changed = self.put_in_place(after)
        left = frozenset(map(str, self.left))
        besides = (*findings_on(self.asides), *self.about_a_copy(after))
        report = report_of(units, drafted, besides, left) if besides or left else stated
        return replace(report, changed=changed, made=drafts, left=len(left))

    def about_a_copy(self, after: Manifest) -> Iterable[Finding]:
        """What there is to say of a copy for one client before it is handed over."""
        if not self.only:
            return ()
        return handover.findings_on(self.folder.path, after, self.studio.files, self.others, self.studio)

    def drafts_wanted(self) -> set[tuple[str, str]]:
        """Styles and clients of the drafts that are to be made again where they are stale."""
        drafts = [name for kind in self.definition.kinds if kind.is_draft for name in self.names[kind.name]]
        names = {(name.style, name.client) for name in chosen(self.studio, self.request, drafts)}
        return names if self.request.first is None else names & self.request.first

    def clients_as_before(self) -> frozenset[str]:
        """Clients whose drafts come from what they came from at the last build, told by the studio's files alone.

        It saves asking of each of thousands of drafts what it comes from when one client was measured again.
        """
        if self.rest != self.old.rest:
            return frozenset()
        return frozenset(slug for slug, _ in self.clients_now().items() & self.old.clients.items())

    def clients_now(self) -> dict[str, str]:
        """Fingerprints of the files of the clients there are, and of what was kept for them."""
        digests = self.studio.files.digests
        return {
            c.slug: fingerprint.of(digests[c.file], kept) if kept else digests[c.file]
            for c in self.studio.clients
            for kept in (self.common.kept_files(c),)
        }

    def stale(self, kind: UnitKind) -> list[UnitName]:
        """Units of a kind to make again; the others are kept."""
        names = (name for name in self.names[kind.name] if name not in self.known.results)
        return [name for name in names if not self.keep(kind, name)]

    def keep(self, kind: UnitKind, name: UnitName) -> bool:
        """Keep a unit as it is, if it is current or may be left to the next build."""
        unit = self.kept(name)
        if unit is None:
            return False
        current = (kind.is_of_one_client and name.client in self.same_clients) or (
            unit.source == self.sources.of(name).given(unit.findings)
        )
        if (self.request.force or not current) and not self.may_stay(kind, name, unit):
            return False
        self.known.keep(name, unit)
        if not current:
            self.leave(name)
        return True

    def may_stay(self, kind: UnitKind, name: UnitName, unit: MadeUnit) -> bool:
        """Whether a unit that is not current may stay as it is, since others were asked for."""
        if kind.is_chosen:
            # One that was never made is made whoever was asked for: no page may lead nowhere.
            whole = all(self.kept(other) is not None for other in kind.made_with(name))
            return whole and (name.style, name.client) not in self.wanted
        asked = self.request.first is None or self.request.force
        return not asked and kind.can_wait(self.common, name, unit)

    def leave(self, name: UnitName) -> None:
        """A stale unit that this build was not asked for: the next one makes it."""
        self.complete = False
        if self.request.first is not None:
            self.left.append(name)

    def kept(self, name: UnitName) -> MadeUnit | None:
        """The unit as last made, if all of its files are still there."""
        told = str(name)
        unit = self.old.units.get(told)
        return unit if unit is not None and self.published.has(told) else None

    def make(self, pool: Pool[Task, tuple[Account, ...]], stale: list[UnitName]) -> None:
        """Make units, and enter what was made."""
        # A client's drafts follow on each other in one process: they share the blocks they are cut from.
        tasks = [self.task(name) for name in sorted(stale, key=attrgetter("client"))]
        for done, outcome in enumerate(pool.run(tasks, lambda task: task.name.client), 1):
            accounts = outcome.answer or ()
            if outcome.trouble:
                # Perhaps only this once (no memory, no time): without a source it is made again next time.
                self.complete = False
                accounts = self.failed(outcome)
            for account in accounts:
                source = "" if outcome.trouble else self.sources.of(account.name).given(account.findings)
                self.known.enter(account.name, MadeUnit(source, body=account.body), account.staged)
            self.progress(done, len(tasks), str(outcome.task.name))

    def task(self, name: UnitName) -> Task:
        """The task of making a unit."""
        self.number += 1
        kind = self.definition.kind_of(name)
        shown = kind.shown(name, self.known)
        summaries = {other: self.known.results[other].packed_summary for other in shown}
        files: dict[str, Made] = {}
        if kind.reads_files:
            files = {made.written.path: made for other in shown for made in self.known.made(other)}
        return Task(self.number, name, summaries, files)

    def failed(self, outcome: Outcome[Task, tuple[Account, ...]]) -> tuple[Account, ...]:
        """What there is to show when a unit could not be made: a page that says so."""
        if outcome.kind == CannotWrite.__name__:
            raise CannotWrite(outcome.trouble)
        name = outcome.task.name
        finding = internal(outcome, name, self.studio)
        products = self.definition.kind_of(name).failed(self.common, name, finding)
        return self.maker.put(self.task(name), products)

    def own_files(self) -> tuple[frozenset[str], frozenset[str]]:
        """Files known as ours by what they hold, when the manifest is lost."""
        return self.folder.adopt(self.definition.own_folders(), self.definition.own_files())

    def put_in_place(self, after: Manifest) -> tuple[str, ...]:
        """Put what was made in place. Returns the paths that changed."""
        output = self.folder.path
        lost, over = (frozenset[str](), frozenset[str]()) if self.old.found else self.own_files()
        # A unit that was kept has the files it had: in a large catalogue nearly all of them are left alone.
        old = {
            written.path: written
            for name, unit in self.old.units.items()
            if after.units.get(name) is not unit
            for written in unit.files
        }
        made = [file for name in self.known.staged for file in self.known.made(name)]
        if (old.keys() | lost) - {each.written.path for each in made}:
            kept = (unit for name, unit in self.known.results.items() if name not in self.known.staged)
            made += [Made(written) for unit in kept for written in unit.files]
        publish.refuse_links(output, (m.written.path for m in made if m.staged))
        self.asides = to_set_aside(made, old, _OldPaths(self.old, over), self.published, self.stage)
        moves = publish.changes(old.values(), made, output, lost, self.asides)
        data = after.packed(self.old)
        there = {*manifest.parts_in(output)}
        stale = sorted(there.difference(data.paths()))
        if moves or stale or not self.old.found or not manifest.holds(output, data.head):
            publish.commit(self.stage, moves, data, stale)
        return tuple(move.path for move in moves if not move.aside)


class _OldPaths(Container[str]):
    """The paths of all files that an earlier build wrote, gone through only when one is asked for."""

    def __init__(self, old: Manifest, besides: frozenset[str]) -> None:
        self._old = old
        self._besides = besides

    def __contains__(self, path: object) -> bool:
        return path in self._paths

    @cached_property
    def _paths(self) -> frozenset[str]:
        return self._besides | {w.path for unit in self._old.units.values() for w in unit.files}
