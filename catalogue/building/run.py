"""A build: find out whether anything changed, and if so make it and put it in place.

The manifest of the last build says what each unit came from. A unit whose fingerprint is the same and whose
files are all there is kept as it is; everything else is made again, drafts first, then the pages that show
them. Where nothing changed, that is found without reading a style, and without importing what drafts.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from catalogue.building import manifest
from catalogue.building.folder import OutputFolder
from catalogue.building.manifest import Head, Manifest
from catalogue.building.published import Published
from catalogue.building.recovering import recover
from catalogue.building.removal import refuse_removal
from catalogue.building.report import Progress, Report, Request, report_of
from catalogue.building.stage import Stage
from catalogue.building.studio import Files, find_files

if TYPE_CHECKING:
    from catalogue.building.kind import Definition


def build(
    request: Request, definition: Definition | Callable[[], Definition], progress: Progress | None = None
) -> Report:
    """Bring the catalogue up to date.

    Args:
        definition: what a catalogue is made of, or what gives it: it is asked for only when something is to be made.

    Raises:
        NotAStudio, UnknownName, Refused, Busy: the request can't be carried out; nothing was changed.
        CannotWrite: the disk did not take it; the catalogue is as it was.
        KeyboardInterrupt: likewise.
    """
    files = find_files(request.studio)
    only = ""
    others: tuple[str, ...] = ()
    if request.recipient:
        from catalogue.building import handover

        definition = definition() if callable(definition) else definition
        files, only, others = handover.files_for(request.recipient, files, definition.readers)
    folder = OutputFolder(request.output)
    folder.check(request.studio)
    folder.claim()
    try:
        earlier = recover(folder)
        head = manifest.read_head(folder.path)
        folder.check_whose(head.about, only)
        published = Published(
            folder.path, head, doubtful=earlier.doubtful, jobs=request.jobs, release=folder.release
        )
        if not request.allow_removal:
            refuse_removal(head.about, files, request.output)
        asked = request.force or request.styles or request.clients or request.papers
        report = None if asked else _as_it_was(head, files, published)
        if report is None:
            from catalogue.building.under_way import BuildUnderWay

            definition = definition() if callable(definition) else definition
            old = Manifest() if published.looked.damaged else head.whole(folder.path)
            stage = Stage(folder.path)
            try:
                report = BuildUnderWay(
                    *(request, definition, files, only, others, folder, old, published, stage),
                    progress or _silent,
                ).run()
            except BaseException:
                stage.discard()
                raise
        elif only:
            report = _on_a_copy(head.whole(folder.path), definition, folder, files, others)
        published.settle()
        return replace(report, finished_earlier=earlier.finished)
    finally:
        folder.release()


def _on_a_copy(
    copy: Manifest,
    definition: Definition | Callable[[], Definition],
    folder: OutputFolder,
    files: Files,
    others: tuple[str, ...],
) -> Report:
    """The report on a copy for one client in which nothing changed."""
    from catalogue.building.handover import findings_on

    kinds = (definition() if callable(definition) else definition).kinds
    besides = findings_on(folder.path, copy, files, others)
    return report_of(copy.units, [kind.name for kind in kinds if kind.is_draft], besides)


def _silent(done: int, total: int, what: str) -> None:
    pass


def _as_it_was(head: Head, files: Files, published: Published) -> Report | None:
    """The report when nothing at all changed since the last build, told without reading a single style."""
    about = head.about
    if about.report is None or about.studio != files.fingerprint or not published.has_all():
        return None
    left_over = {*manifest.parts_in(published.output)} - {*map(manifest.part_path, head.parts)}
    return None if left_over else about.report
