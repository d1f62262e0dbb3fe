"""One style nested for several clients: the command's work, from names to files."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

from catalogue.build.disk import CannotWrite
from catalogue.build.reading import read_studio
from catalogue.build.studio import UnknownName, choose, find_files
from catalogue.findings import Finding


class Nested(NamedTuple):
    """What was written, with how many pages each has, and what there is to say."""

    files: tuple[tuple[Path, int], ...]
    findings: tuple[Finding, ...]

    @property
    def ok(self) -> bool:
        return bool(self.files) and not any(f.is_error for f in self.findings)


def nest(root: Path, style: str, clients: Sequence[str], papers: Sequence[str], out: Path | None) -> Nested:
    """Draft a style for clients (all that suit it when none are named) and print them nested on each paper.

    Args:
        papers: names; the studio's own when empty.
        out: the file to write, or where several are written, a folder for them; None for the folder one is in.

    Raises NotAStudio, UnknownName and CannotWrite.
    """
    from catalogue.build.rooms import StudioWorks, _draft
    from catalogue.sheets import SheetSettings, nested_pdf, paper_named

    works = StudioWorks()
    studio = read_studio(find_files(root), works)
    chosen = [s for s in studio.styles if s.slug in choose((style,), studio.styles, "style")]
    wanted = choose(clients, studio.clients, "client")
    garment = chosen[0]
    found = [c for c in studio.clients if (c.slug in wanted if clients else works.suits(garment, c))]
    if not found:
        raise UnknownName(f"There is nobody to nest “{garment.title}” for: it suits none of the clients.")
    drafts = []
    findings: list[Finding] = []
    for client in found:
        draft = _draft(studio, garment, client)
        errors = [f for f in draft.findings if f.is_error]
        if draft.missing or errors or not draft.pieces:
            findings += errors or [
                Finding(
                    "not-nested",
                    f"{client.name} is left out: the draft waits for {', '.join(draft.missing) or 'its pieces'}.",
                )
            ]
            continue
        drafts.append(draft)
    if not drafts:
        return Nested((), tuple(findings))
    settings = studio.settings
    day: date | None = settings.date or max(
        (s.date for d in drafts for s in d.client.sets if s.date is not None), default=None
    )
    said = SheetSettings(day, settings.name, language=settings.language, grid=settings.grid)
    written: list[tuple[Path, int]] = []
    names = list(papers or settings.papers)
    for name in names:
        try:
            paper = paper_named(name).leaving(settings.margin)
            result = nested_pdf(drafts, paper, said)
        except (KeyError, ValueError) as error:
            findings.append(Finding("paper", f"nothing can be printed on “{name}”: {error.args[0]}"))
            continue
        findings += result.findings
        path = _path(out, f"{garment.slug}-nested-{paper.name}.pdf", len(names))
        _write(path, result.data)
        written.append((path, result.pages))
    return Nested(tuple(written), tuple(dict.fromkeys(findings)))


def _path(out: Path | None, name: str, count: int) -> Path:
    if out is None:
        return Path(name)
    if out.suffix.casefold() == ".pdf" and count == 1 and not out.is_dir():
        return out
    return out / name


def _write(path: Path, data: bytes) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_name(path.name + ".part")
        part.write_bytes(data)
        part.replace(path)
    except OSError as error:
        raise CannotWrite(f"“{path}” can't be written: {error.strerror or error}.") from error
