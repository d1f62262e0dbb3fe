"""One style nested for several clients or sizes: the command's work, from names to files."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from catalogue.building.common import Common
from catalogue.building.outputs import wrong
from catalogue.building.prints import print_path, write_print
from catalogue.building.readers import StudioReaders
from catalogue.building.reading import read_studio
from catalogue.building.studio import Studio, UnknownName, choose, find_files
from catalogue.findings import Finding, did_you_mean

if TYPE_CHECKING:
    from catalogue.drafting import Draft
    from catalogue.people import Client, Size, SizeTable
    from catalogue.sheets import SheetResult
    from catalogue.studio.settings import Settings
    from catalogue.studio.style import Style

_LEFT_OUT = "not-nested"


@dataclass(frozen=True, slots=True)
class Asked:
    """Which style is to be nested, for whom and on what.

    Attributes:
        style, clients, tables, sizes: names as people write them. With neither clients, tables nor sizes it is for all
            clients whom the style suits; without `sizes`, all sizes of the tables; without `tables`, of any table.
        papers: names; the studio's own when empty.
        out: the file to write, or where several are written, a folder for them; None for the folder one is in.
    """

    style: str
    clients: Sequence[str] = ()
    tables: Sequence[str] = ()
    sizes: Sequence[str] = ()
    papers: Sequence[str] = ()
    out: Path | None = None


class Nested(NamedTuple):
    """What was written, with how many pages each has, and what there is to say."""

    files: tuple[tuple[Path, int], ...]
    findings: tuple[Finding, ...]

    @property
    def ok(self) -> bool:
        return bool(self.files) and not any(f.is_error for f in self.findings)


def nest(root: Path, asked: Asked) -> Nested:
    """Draft a style for clients and sizes and print them nested on each paper.

    Raises NotAStudio, UnknownName and CannotWrite.
    """
    studio = read_studio(find_files(root), StudioReaders())
    common = Common(studio)
    style = next(s for s in studio.styles if s.slug in choose((asked.style,), studio.styles, "style"))
    clients, heading = _people(studio, style, asked)
    drafts, findings = drafted((c, common.draft(style, c)) for c in clients)
    if len(drafts) < len(clients):
        heading = ""
    written: list[tuple[Path, int]] = []
    names = list(asked.papers or studio.settings.papers)
    for paper, result, told in printed(studio.settings, drafts, names, heading) if drafts else ():
        findings += told
        if result:
            path = print_path(asked.out, f"{style.slug}-nested-{paper}.pdf", len(names))
            write_print(path, result.data, "nest")
            written.append((path, result.pages))
    return Nested(tuple(written), tuple(dict.fromkeys(findings)))


def drafted(pairs: Iterable[tuple[Client, Draft]]) -> tuple[list[Draft], list[Finding]]:
    """The drafts that can be nested, and what there is to say of them and of those that are left out.

    What is wrong with several of them is told once, with their names.
    """
    drafts = []
    told: dict[Finding, list[str]] = {}
    for client, draft in pairs:
        errors = [f for f in draft.findings if f.is_error]
        if draft.missing or errors or not draft.pieces:
            known = draft.style.register
            waits = ", ".join(known.name_of(key) for key in draft.missing) or "its pieces"
            found = errors or [Finding(_LEFT_OUT, f"left out: missing {waits}.")]
        else:
            drafts.append(draft)
            found = list(wrong(draft))
        for finding in dict.fromkeys(found):
            # What is wrong with a whole file is nobody's in it.
            of_a_file = finding in client.findings or finding in draft.style.findings
            told.setdefault(finding, []).extend(() if of_a_file else (client.name,))
    return drafts, [_said(finding, names) for finding, names in told.items()]


def _said(finding: Finding, names: Sequence[str]) -> Finding:
    who = ", ".join(names)
    if finding.code == _LEFT_OUT:
        return replace(finding, message=f"{who} {'are' if names[1:] else 'is'} {finding.message}")
    return replace(finding, about=who) if names else finding


def printed(
    settings: Settings, drafts: Sequence[Draft], papers: Iterable[str], heading: str = ""
) -> Iterator[tuple[str, SheetResult | None, list[Finding]]]:
    """Each paper's name with the nested sheets on it and what there is to say; None where it can't be printed on.

    `heading` says who it is for in fewer words than all their names.
    """
    from catalogue.sheets import SheetSettings, nested_pdf, paper_named

    measured = (s.date for d in drafts for s in d.client.sets if s.date is not None)
    day = settings.date or max(measured, default=None)
    said = SheetSettings(day, settings.name, language=settings.language, grid=settings.grid)
    for name in papers:
        try:
            paper = paper_named(name).leaving(settings.margin)
            result = nested_pdf(drafts, paper, said, heading)
        except (KeyError, ValueError) as error:
            yield name, None, [Finding("paper", f"nothing can be printed on “{name}”: {error.args[0]}")]
        else:
            yield paper.name, result, list(result.findings)


def heading_of(table: SizeTable, sizes: Iterable[Size]) -> str:
    """The table's name and its sizes: "House sizes: 36, 38, 40"."""
    return f"{table.name}: {', '.join(size.name for size in sizes)}"


def _people(studio: Studio, style: Style, asked: Asked) -> tuple[list[Client], str]:
    """Whom the style is nested for: clients, then sizes, and what both are called together."""
    from catalogue.drawing.linestyles import OWN_LINES
    from catalogue.studio.suiting import suits

    tables = _tables(studio, asked) if asked.tables or asked.sizes else []
    wanted = choose(
        asked.clients, studio.clients, "client", (studio.sizes, "a table of sizes: write --table")
    )
    if asked.clients or not tables:
        clients = [c for c in studio.clients if (c.slug in wanted if asked.clients else suits(style, c))]
    else:
        clients = []
    people = [*clients, *(_called(table, size, tables) for table, sizes in tables for size in sizes)]
    if not people:
        raise UnknownName(f"There is nobody to nest “{style.title}” for: it suits no client.")
    if len(people) > len(OWN_LINES):
        less = "name some sizes with --size" if tables else "name some clients with --client"
        raise UnknownName(f"{len(people)} are too many for one sheet (at most {len(OWN_LINES)}): {less}.")
    # Tables first: a line that begins with an Arabic name would be read from the right, list and all.
    names = [heading_of(table, sizes) for table, sizes in tables] + [c.name for c in clients]
    return people, "; ".join(names) if tables else ""


def _called(table: SizeTable, size: Size, tables: Sequence[object]) -> Client:
    """A size's client; where there are several tables, with the table's name before the size's."""
    client = table.client(size)
    return replace(client, name=f"{table.name}, {client.name}") if len(tables) > 1 else client


def _tables(studio: Studio, asked: Asked) -> list[tuple[SizeTable, list[Size]]]:
    """The tables asked for, each with the sizes asked for. Raises UnknownName."""
    if not studio.sizes:
        raise UnknownName(
            "This studio has no tables of sizes: a table is a file in the folder clients/sizes/ (*.md)."
        )
    wanted = choose(
        asked.tables, studio.sizes, "table of sizes", (studio.clients, "a client: write --client")
    )
    tables = [t for t in studio.sizes if t.slug in wanted or not asked.tables]
    found = []
    meant = set()
    for table in tables:
        sizes = [s for s in table.sizes if not asked.sizes or any(_same(s, name) for name in asked.sizes)]
        meant |= {name for name in asked.sizes for s in sizes if _same(s, name)}
        if sizes or not asked.sizes:
            found.append((table, sizes))
    for name in asked.sizes:
        if name not in meant:
            known = [size.name for table in tables for size in table.sizes]
            hint = did_you_mean(name, known) or f"There are: {', '.join(known)}."
            whose = " or ".join(f"“{table.name}”" for table in tables)
            raise UnknownName(f"There is no size “{name}” in {whose}. {hint}")
    return found


def _same(size: Size, name: str) -> bool:
    from catalogue.people.sizes import named

    return _folded(name) in (_folded(size.name), _folded(named(size.name)))


def _folded(name: str) -> str:
    return "".join(name.split()).casefold()
