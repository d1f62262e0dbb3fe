"""A studio read and drafted to find what is wrong with it; nothing is written."""

from __future__ import annotations

from catalogue.building.making import Checker, UnitName
from catalogue.building.pairs import chosen, internal
from catalogue.building.pool import Pool, cores
from catalogue.building.reading import read_studio
from catalogue.building.report import Report, Request, gathered, lacking
from catalogue.building.run import Progress
from catalogue.building.studio import find_files
from catalogue.building.works import Works
from catalogue.findings import Finding


def check(request: Request, works: Works, progress: Progress | None = None) -> Report:
    """Read and draft everything, write nothing. Raises NotAStudio and UnknownName."""
    jobs = request.jobs or cores()
    studio = read_studio(find_files(request.studio), works, jobs)
    names = chosen(studio, request, works)
    if names:
        works.warm_to_draft()
    findings: list[tuple[Finding, str]] = [(f, "") for f in studio.all_findings()]
    styles = {name.style for name in names} if request.styles or request.clients else studio.by_style
    sized = [
        UnitName("sizes", s.slug)
        for s in studio.styles
        if s.slug in styles and works.sized_from(studio, s) is not None
    ]
    with Pool(Checker(works, studio), jobs) as pool:
        told: dict[UnitName, tuple[Finding, ...]] = {}
        # The long ones first, so that no process is left with one when the others are done.
        for number, outcome in enumerate(pool.run([*sized, *names]), 1):
            told[outcome.task] = (
                (internal(outcome, outcome.task, studio),) if outcome.trouble else outcome.answer
            )
            if progress:
                progress(number, len(names) + len(sized), str(outcome.task))
    findings += [(f, "") for f in works.check_pages(studio)]
    findings += [(f, studio.by_client[name.client].name) for name in names for f in told[name]]
    findings += [(f, "") for name in sized for f in told[name]]
    pairs = ((studio.by_style[name.style], studio.by_client[name.client]) for name in names)
    waiting, wanted = lacking(pairs)
    return Report(gathered(findings), len(names), len(names), waiting=waiting, lacking=wanted)
