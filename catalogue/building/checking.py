"""A check: find out whether anything changed since the last, and if so what is wrong now. It writes nothing.

What the last check said is kept between runs, sealed with the fingerprint of all that it was said of. Where that is the
same it is said again, without reading a style, and without importing what drafts.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from catalogue.between_runs import keep, recalled
from catalogue.building import fingerprint
from catalogue.building.report import MANIFEST, Progress, Report, Request
from catalogue.building.studio import Files, find_files
from catalogue.findings import Finding

if TYPE_CHECKING:
    from catalogue.building.kind import Definition

SAID = "said"
"""Under this what the last check of a studio said is kept."""


class _Said(NamedTuple):
    """What a check said, and on which day: on an earlier one, a date that had come would still be to come."""

    report: Report
    day: date


def check(
    request: Request, definition: Definition | Callable[[], Definition], progress: Progress | None = None
) -> Report:
    """Read and draft everything, write nothing. Raises NotAStudio, CannotRead and UnknownName.

    Args:
        definition: what a catalogue is made of, or what gives it: it is asked for only when something changed.
    """
    files = find_files(request.studio)
    besides = _refused(request, files)
    key = (str(request.studio.resolve()), *sorted(request.styles), "", *sorted(request.clients))
    secret = fingerprint.of(files.fingerprint, besides, key)
    today = date.today()
    said = None if request.force else recalled(SAID, key, secret)
    if isinstance(said, _Said) and said.day <= today:
        return said.report
    from catalogue.building.check_under_way import check_closely

    definition = definition() if callable(definition) else definition
    report, lasts = check_closely(request, definition, files, besides, progress)
    # A file that was written to meanwhile may say something else than what its fingerprint was taken of.
    if lasts and find_files(request.studio) == files:
        keep(SAID, key, _Said(report, today), secret)
    return report


def _refused(request: Request, files: Files) -> tuple[Finding, ...]:
    """What a build of the same studio would be refused for, where it has been built before."""
    if not (request.output / MANIFEST).exists():
        return ()  # So that nothing is imported for nothing.
    from catalogue.building import manifest
    from catalogue.building.folder import Refused
    from catalogue.building.removal import refuse_removal

    try:
        refuse_removal(manifest.read_head(request.output).about, files, request.output)
    except Refused as refused:
        return (Finding("most-gone", str(refused)),)
    return ()
