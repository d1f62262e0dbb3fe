"""A style in the sizes of each table that asks for it: what the catalogue prints of it, for its page to offer."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from catalogue.building.nesting import drafted, heading_of, printed
from catalogue.building.studio import Studio
from catalogue.findings import Finding, Place
from catalogue.lengths import show_length
from catalogue.people.sizes import named
from catalogue.site.summaries import Download, SizedSummary, SizedTable, as_plain

if TYPE_CHECKING:
    from catalogue.drafting import Draft
    from catalogue.people import Client, Size, SizeTable
    from catalogue.studio.style import Style

DraftOf = Callable[["Client"], "Draft"]


@dataclass(frozen=True, slots=True)
class SizedMade:
    """A style in sizes, ready to be written.

    Attributes:
        files: sheets by name, for a folder of their own.
        summary: plain values of the `SizedSummary` for the style's page.
        findings: what is wrong with it.
    """

    files: dict[str, bytes] = field(default_factory=dict)
    summary: dict[str, Any] = field(default_factory=dict)
    findings: tuple[Finding, ...] = ()


def tables_for(studio: Studio, style: Style) -> list[SizeTable]:
    """The tables whose files ask for this style."""
    return [table for table in studio.sizes if style.slug in table.garments]


def sized_from(style: Style, tables: Iterable[SizeTable]) -> Any:
    """What `sized` comes from, besides what is shared."""
    return style.digest, [
        (
            *(table.slug, table.file, table.name, table.kind, table.units, table.ok, table.sources),
            table.garment_places[style.slug],
            [(size.name, _figures(style, size)) for size in table.sizes],
            [
                (name, choice.text, choice.place, choice.key_place)
                for name, choice in table.choices.get(style.slug, {}).items()
            ],
        )
        for table in tables
    ]


def sized(studio: Studio, style: Style, draft_of: DraftOf) -> SizedMade:
    """The style drafted in the sizes of every table that asks for it, nested and printed on the studio's papers."""
    from catalogue.sheets.paper import paper_named

    files: dict[str, bytes] = {}
    told: list[Finding] = []
    shown = []
    for table in tables_for(studio, style):
        drafts, findings = _drafts(style, table, draft_of)
        kept = {draft.client.name for draft in drafts}
        sizes = [size for size in table.sizes if named(size.name) in kept]
        downloads = []
        for paper, result, remarks in printed(
            studio.settings, drafts, studio.settings.papers if drafts else (), heading_of(table, sizes)
        ):
            findings += remarks
            if result:
                file = f"{table.slug}-{paper}.pdf"
                files[file] = result.data
                downloads.append(
                    Download(
                        "print",
                        f"Print on {paper_named(paper).title}",
                        f"sizes/{file}",
                        result.pages,
                        "true scale, all sizes nested",
                    )
                )
        told += (f if f.place else replace(f, place=Place(table.file)) for f in findings)
        shown.append(
            SizedTable(
                name=table.name,
                file=table.file,
                broken=not table.ok,
                sizes=tuple(size.name for size in sizes),
                left_out=tuple(size.name for size in table.sizes if size not in sizes),
                sources=tuple(table.sources),
                downloads=tuple(downloads),
                heads=tuple(size.name for size in table.sizes),
                rows=_rows(style, table),
            )
        )
    return SizedMade(files, as_plain(SizedSummary(tuple(shown))), tuple(dict.fromkeys(told)))


def check_sized(studio: Studio, style: Style, draft_of: DraftOf) -> tuple[Finding, ...]:
    """What is wrong with the drafts of a style in the sizes of the tables that ask for it."""
    found = (f for table in tables_for(studio, style) for f in _drafts(style, table, draft_of)[1])
    return tuple(dict.fromkeys(found))


def _drafts(style: Style, table: SizeTable, draft_of: DraftOf) -> tuple[list[Draft], list[Finding]]:
    """The drafts, and what there is to say that reading the files has not said already."""
    from catalogue.drawing.linestyles import OWN_LINES

    if not table.ok or not style.ok:
        return [], []
    place = table.garment_places[style.slug]
    if len(table.sizes) > len(OWN_LINES):
        message = (
            f"{len(table.sizes)} sizes are too many to be told apart on one sheet: "
            f"expected at most {len(OWN_LINES)}"
        )
        hint = "Name some of them: catalogue nest STYLE --table NAME --size ..."
        return [], [Finding("too-many-sizes", message, place, hint)]
    clients = [_what_counts(style, table, size) for size in table.sizes]
    drafts, findings = drafted((client, draft_of(client)) for client in clients)
    return drafts, [
        replace(f, message=f"{table.name}, {f.message}", place=f.place or place)
        for f in findings
        if f not in style.findings
    ]


def _what_counts(style: Style, table: SizeTable, size: Size) -> Client:
    """The size as a client, with no more measurements than a draft of the style may depend on."""
    kept = {key: m for key, m in size.measurements.items() if key in style.uses}
    return table.client(replace(size, measurements=kept))


def _rows(style: Style, table: SizeTable) -> tuple[tuple[str, ...], ...]:
    """What each size measures, as far as the style needs it: the measurement's name, then a text a size."""
    rows = []
    for key in table.register:
        values = [size.measurements.get(key) for size in table.sizes]
        if key in style.uses and any(values):
            shown = (show_length(m.mm, table.units) if m else "–" for m in values)
            rows.append((table.register[key].name, *shown))
    return tuple(rows)


def _figures(style: Style, size: Size) -> str:
    return " ".join(f"{key}={m.mm!r}" for key, m in size.measurements.items() if key in style.uses)
