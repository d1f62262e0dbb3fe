"""A style in the sizes of each table that asks for it: sheets for its page to offer."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from catalogue.building.common import Common, choices_for
from catalogue.building.kind import UnitKind
from catalogue.building.made_units import MadeUnit
from catalogue.building.nesting import drafted, heading_of, printed
from catalogue.building.unit import Product, Products, Results, Source, SourcesOf, UnitName
from catalogue.findings import Finding, Place
from catalogue.lengths import show_length
from catalogue.people.sizes import named
from catalogue.site.summaries import Download, SizedSummary, SizedTable, as_plain

if TYPE_CHECKING:
    from catalogue.drafting import Draft, Extent
    from catalogue.people import Client, Size, SizeTable
    from catalogue.studio.style import Style


class Sizes(UnitKind):
    """The sheets of each style that a table of sizes asks for; their summary is that of a `SizedSummary`."""

    name = "sizes"
    place = "styles/{style}/sizes/"
    uses_templates = False
    page = "styles/*/index.html"
    beside = ("sizes/*.pdf",)

    def names(self, common: Common) -> list[UnitName]:
        studio = common.studio
        return [UnitName(self.name, style.slug) for style in studio.styles if studio.tables_for(style)]

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        style = common.studio.by_style[name.style]
        tables = [
            (
                *(table.slug, table.file, table.name, table.kind, table.units, table.ok, table.sources),
                table.garment_places[style.slug],
                [(size.name, _figures(style, size)) for size in table.sizes],
                [
                    (slug, name, choice.text, choice.place, choice.key_place)
                    for slug, chosen in choices_for(style, table.choices).items()
                    for name, choice in chosen.items()
                ],
            )
            for table in common.studio.tables_for(style)
        ]
        return Source((style.digest, tables, common.own(style.uses)))

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        from catalogue.sheets.paper import paper_named

        style, settings = common.studio.by_style[name.style], common.studio.settings
        files: dict[str, bytes] = {}
        told: list[Finding] = []
        shown = []
        for table in common.studio.tables_for(style):
            drafts, findings = _drafts(common, style, table)
            kept = {draft.client.name for draft in drafts}
            sizes = [size for size in table.sizes if named(size.name) in kept]
            downloads = []
            for paper, result, remarks in printed(
                settings, drafts, settings.papers if drafts else (), heading_of(table, sizes)
            ):
                findings += remarks
                if result:
                    file = f"{table.slug}-{paper}.pdf"
                    files[f"{self.folder(name)}{file}"] = result.data
                    title, about = f"Print on {paper_named(paper).title}", "true scale, all sizes nested"
                    downloads.append(Download("print", title, f"sizes/{file}", result.pages, about))
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
        return {name: Product(files, as_plain(SizedSummary(tuple(shown))), tuple(dict.fromkeys(told)))}

    def is_checked(self, common: Common) -> bool:
        return True

    def check(self, common: Common, name: UnitName) -> tuple[Finding, ...]:
        from catalogue.drafting import Extent

        style = common.studio.by_style[name.style]
        found = (
            f for t in common.studio.tables_for(style) for f in _drafts(common, style, t, Extent.JUDGED)[1]
        )
        return tuple(dict.fromkeys(found))

    def can_wait(self, common: Common, name: UnitName, made: MadeUnit) -> bool:
        return True

    def warm(self, common: Common) -> None:
        import catalogue.drafting
        import catalogue.sheets  # noqa: F401

    def warm_to_check(self) -> None:
        import catalogue.drafting  # noqa: F401


def _drafts(
    common: Common, style: Style, table: SizeTable, extent: Extent | None = None
) -> tuple[list[Draft], list[Finding]]:
    """The drafts, and what there is to say that reading the files has not said already."""
    from catalogue.drawing.linestyles import OWN_LINES

    if not table.ok or not style.ok:
        return [], []
    place = table.garment_places[style.slug]
    if len(table.sizes) > len(OWN_LINES):
        message = f"{len(table.sizes)} sizes are too many for one sheet: expected at most {len(OWN_LINES)}"
        hint = "Name some of them: “catalogue nest STYLE --table NAME --size ...”"
        return [], [Finding("too-many-sizes", message, place, hint)]
    clients = [_client_of(style, table, size) for size in table.sizes]
    drafts, findings = drafted((client, common.draft(style, client, extent)) for client in clients)
    return drafts, [
        replace(_in_table(f, table), place=f.place or place) for f in findings if f not in style.findings
    ]


def _in_table(finding: Finding, table: SizeTable) -> Finding:
    if finding.about:
        return replace(finding, about=f"{table.name}, {finding.about}")
    return replace(finding, message=f"{table.name}, {finding.message}")


def _client_of(style: Style, table: SizeTable, size: Size) -> Client:
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
