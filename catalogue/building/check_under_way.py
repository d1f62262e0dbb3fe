"""A studio in which something changed, read and drafted to find what is wrong with it; nothing is written in it.

What was found to be right, by the last build or the last check, is not drafted again while it comes from the same:
fingerprints of what it comes from are kept between runs.
"""

from __future__ import annotations

from collections.abc import Collection
from operator import attrgetter

from catalogue.between_runs import keep, recalled
from catalogue.building import manifest
from catalogue.building.common import Common
from catalogue.building.gathering import Told, gathered
from catalogue.building.kept_clients import waits_for_a_day
from catalogue.building.kind import Definition, UnitKind
from catalogue.building.known_units import KnownUnits
from catalogue.building.making import Checker, internal
from catalogue.building.pool import Pool, cores
from catalogue.building.reading import read_studio
from catalogue.building.report import Progress, Report, Request, lacking
from catalogue.building.selection import chosen
from catalogue.building.sources import SourceBook
from catalogue.building.studio import Files
from catalogue.building.unit import Sources, UnitName
from catalogue.findings import Finding
from catalogue.studio.unused_names import unused_names


def check_closely(
    request: Request,
    definition: Definition,
    files: Files,
    besides: tuple[Finding, ...],
    progress: Progress | None = None,
) -> tuple[Report, bool]:
    """What is wrong with a studio, and whether the same files say the same on any later day.

    Args:
        besides: what else there is to say.

    Raises UnknownName.
    """
    jobs = request.jobs or cores()
    studio = read_studio(files, definition.readers, jobs)
    common = Common(studio)
    drafts = chosen(studio, request, definition.drafts(common))
    styles, clients = {"", *(name.style for name in drafts)}, {"", *(name.client for name in drafts)}

    def wanted(kind: UnitKind) -> list[UnitName]:
        if kind.is_draft:
            return drafts
        # Of pages, only the templates can be wrong, whatever they show.
        whole = kind.uses_templates or not (request.styles or request.clients)
        return [n for n in kind.names(common) if whole or (n.style in styles and n.client in clients)]

    names = [name for kind in definition.kinds if kind.is_checked(common) for name in wanted(kind)]
    built = manifest.read(request.output)
    sources = {} if request.force else _sources(definition, common, names)
    before: frozenset[str] = frozenset(recalled(KEPT, _key(request)) or ())
    right = before | {unit.source for unit in built.units.values() if not unit.findings}
    told: dict[UnitName, tuple[Finding, ...]] = {
        name: () for name, source in sources.items() if source.plain in right
    }
    left = [name for name in names if name not in told]
    for kind in {name.kind: definition.kind_of(name) for name in left}.values():
        kind.warm_to_check()
    with Pool(Checker(definition, common), jobs) as pool:
        for number, outcome in enumerate(
            pool.run(sorted(left, key=attrgetter("client")), attrgetter("client")), 1
        ):
            told[outcome.task] = outcome.answer or ()
            if outcome.trouble:
                told[outcome.task] = (internal(outcome, outcome.task, studio),)
            if progress:
                progress(number, len(left), str(outcome.task))
    now = {source.plain for name, source in sources.items() if not told[name]}
    if request.styles or request.clients:
        now |= before
    if now != before:
        keep(KEPT, _key(request), tuple(sorted(now)))
    shown = {studio.by_style[name].file for name in styles if name}
    unused = (f for f in unused_names(studio.styles) if f.place is not None and f.place.file in shown)
    findings = [(f, "") for f in (*besides, *studio.all_findings(), *unused)]
    for name in names:
        who = studio.by_client[name.client].name if definition.kind_of(name).is_draft else ""
        findings += [(f, who) for f in told[name]]
    pairs = ((studio.by_style[name.style], studio.by_client[name.client]) for name in drafts)
    waiting, sentences = lacking(pairs)
    told_of = gathered(findings)
    if request.styles:  # what is wrong with these comes first, whatever else is in the clients' files
        own = [told for told in told_of if _is_of(told, shown)]
        told_of = (*own, *(told for told in told_of if not _is_of(told, shown)))
    report = Report(told_of, len(drafts), len(drafts), waiting=waiting, lacking=sentences)
    # A fault of the program may have been a want of memory; where a date is still to come, it comes.
    lasts = all(finding.code != "internal" for finding, _ in findings)
    return report, lasts and not any(map(waits_for_a_day, studio.clients))


def _is_of(told: Told, files: Collection[str]) -> bool:
    """Whether a finding is in one of these style files, or came up when they were drafted."""
    place = told.finding.place
    return bool(told.clients or told.others) or (place is not None and place.file in files)


KEPT = "found-right"
"""Under this the fingerprints of what a studio's units come from that had nothing wrong with them are kept."""


def _key(request: Request) -> tuple[str, ...]:
    return (str(request.studio.resolve()),)


def _sources(definition: Definition, common: Common, names: list[UnitName]) -> dict[UnitName, Sources]:
    """What units come from that show no others; none where page templates of the studio's own may be wrong too."""
    if common.has_templates:
        return {}
    book = SourceBook(definition, common, KnownUnits())
    return {name: book.of(name) for name in names if not definition.kind_of(name).shows}
