"""Reading a studio's files: styles, clients and sizes that can be told apart by name, and what is wrong with the rest.

Where there are many styles they are read side by side, and a process that builds again and again (watching) reads only
files whose contents changed.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Generic, TypeAlias, TypeVar, cast

from catalogue.building import fingerprint
from catalogue.building.common import Common
from catalogue.building.doubted_prices import doubted_prices
from catalogue.building.kept_clients import waits_for_a_day
from catalogue.building.pool import Pool
from catalogue.building.readers import Readers
from catalogue.building.studio import (
    CLOTHS,
    Document,
    Files,
    Studio,
    of_one_name,
    title_of,
    unknown_clients,
    unknown_cloths,
    unknown_styles,
)
from catalogue.findings import Finding, Place, Trouble
from catalogue.sorting import sort_key
from catalogue.studio.joining import joined

if TYPE_CHECKING:
    from catalogue.people import Client
    from catalogue.studio.settings import Settings

MANY = 8
"""With fewer styles than this to read, starting processes would take longer than reading."""
FEW = 2
"""With no more processes than this, handing over what was read takes the time that reading side by side saves."""

T = TypeVar("T", bound=Document)
Read: TypeAlias = tuple[T | None, tuple[Finding, ...]]
"""A style, client or table of sizes, or None when it could not be read at all, and then why."""

_known: dict[tuple[str, ...], object] = {}
"""What this process has read before, by reader, file, contents and settings; of the last studio alone."""


@dataclass(frozen=True, slots=True)
class _FileReader(Generic[T]):
    """Reads files of one kind; nothing that is wrong with one stops the rest."""

    read: Callable[[Path, Path, Settings], T]
    root: Path
    settings: Settings

    def __call__(self, path: Path) -> Read[T]:
        try:
            return self.read(path, self.root, self.settings), ()
        except Trouble as trouble:
            return None, trouble.findings
        except Exception as error:
            told = f"{type(error).__name__}: {error}"
            message = f"this file could not be read, through a fault of this program: {told}"
            return None, (Finding("internal", message, Place(path.relative_to(self.root).as_posix())),)


def read_studio(
    files: Files,
    readers: Readers,
    jobs: int = 1,
    release: Callable[[], None] | None = None,
    papers: Iterable[str] = (),
) -> Studio:
    """Read settings, styles, clients and tables of sizes; nothing that is wrong with them stops the rest.

    Args:
        jobs: how many processes may read side by side; `release` is called in each of them (see `Pool`).
        papers: to print on in place of those in the settings, where there are any.
    """
    settings, told = readers.settings(files.root)
    settings = replace(settings, papers=tuple(dict.fromkeys(papers)) or settings.papers)
    findings = list(told)
    since = fingerprint.of(settings)
    root = files.root
    styles = _read_all(_FileReader(readers.style, root, settings), files.styles, files, since, jobs, release)
    clients = _read_all(_FileReader(readers.client, root, settings), files.clients, files, since)
    sizes = _read_all(_FileReader(readers.sizes, root, settings), files.sizes, files, since)
    cloths = readers.cloths(root, settings) if CLOTHS in files.digests else None
    findings += (finding for _, told in (*styles, *clients, *sizes) for finding in told)
    findings += cloths.findings if cloths else ()
    by_slug = cloths.by_slug if cloths else {}
    kept_styles = joined(_tell_apart((each for each, _ in styles if each is not None), findings))
    kept_clients = _tell_apart((each for each, _ in clients if each is not None), findings)
    kept_sizes = _tell_apart((each for each, _ in sizes if each is not None), findings)
    broken = cloths.broken if cloths else frozenset()
    findings += unknown_cloths(kept_clients, by_slug, files, broken)
    findings += doubted_prices(kept_clients)
    findings += of_one_name(kept_clients, kept_styles)
    findings += unknown_clients(kept_styles, kept_clients)
    findings += unknown_styles((*kept_clients, *kept_sizes), kept_styles, files)
    studio = Studio(
        files.root,
        settings,
        kept_styles,
        kept_clients,
        files,
        tuple(findings),
        {s.slug: s for s in kept_styles},
        {c.slug: c for c in kept_clients},
        kept_sizes,
        by_slug,
    )
    return replace(studio, findings=(*findings, *Common(studio).mistakes()))


def read_clients(files: Files, readers: Readers) -> list[tuple[Path, Client]]:
    """The client files that can be read, whatever is wrong with the rest of the studio."""
    settings, _ = readers.settings(files.root)
    reader = _FileReader(readers.client, files.root, settings)
    read = ((path, reader(path)[0]) for path in files.clients)
    return [(path, client) for path, client in read if client is not None]


def _read_all(
    reader: _FileReader[T],
    paths: Iterable[Path],
    files: Files,
    since: str,
    jobs: int = 1,
    release: Callable[[], None] | None = None,
) -> list[Read[T]]:
    """What is in the files, in their order; those read before are not read again."""
    kind = reader.read.__qualname__
    keys = {path: (kind, str(path), digest_of(path, files), since) for path in paths}
    found: dict[Path, Read[T]] = {
        path: (cast(T, _known[key]), ()) for path, key in keys.items() if key in _known
    }
    left = [path for path in keys if path not in found]
    # The first is read here, so that what reading needs is imported once for all.
    found |= {path: reader(path) for path in left[:1]}
    shared = len(left) > MANY and jobs > FEW
    with Pool(reader, jobs if shared else 1, release=release) as pool:
        for outcome in pool.run(left[1:]):
            # A process that broke off may have had too little memory: tried again here, where it is told.
            found[outcome.task] = outcome.answer or reader(outcome.task)
    for key in [key for key in _known if key[0] == kind]:
        del _known[key]
    for path, key in keys.items():
        # A file that was written to meanwhile may hold something else than what its fingerprint was taken of.
        each = found[path][0]
        is_lasting = each is not None and not waits_for_a_day(each)
        if is_lasting and (path not in left or _is_still(path, digest_of(path, files))):
            _known[key] = each
    return [found[path] for path in keys]


def digest_of(path: Path, files: Files) -> str:
    return files.digests[path.relative_to(files.root).as_posix()]


def _is_still(path: Path, digest: str) -> bool:
    try:
        return fingerprint.of_file(path) == digest
    except OSError:
        return False


def _tell_apart(read: Iterable[T], findings: list[Finding]) -> tuple[T, ...]:
    """Those whose names differ, in order; two that would share a folder of the site are both left out and named."""
    claims: dict[str, list[T]] = {}
    for each in read:
        claims.setdefault(unicodedata.normalize("NFC", each.slug).casefold(), []).append(each)
    for slug, claimants in claims.items():
        for each in claimants[1:]:
            message = (
                f"“{each.file}” and “{claimants[0].file}” would both be called “{slug}” in the catalogue; "
                f"neither is made, so that nobody gets the other's"
            )
            findings.append(
                Finding("same-name", message, Place(each.file), "Give one of the files another name.")
            )
    kept = (claimants[0] for claimants in claims.values() if len(claimants) == 1)
    return tuple(sorted(kept, key=lambda each: (sort_key(title_of(each)), each.slug)))
