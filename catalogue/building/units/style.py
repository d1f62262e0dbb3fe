"""The pages of a style: what it is, for whom it is drafted, and its clients' drafts compared."""

from __future__ import annotations

from catalogue.building import fingerprint
from catalogue.building.common import Common
from catalogue.building.kind import UnitKind
from catalogue.building.unit import Products, Results, Source, SourcesOf, UnitName


class StylePages(UnitKind):
    """The pages of each style."""

    name = "style"
    place = "styles/{style}/"
    shows = ("pair", "sizes")

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        from catalogue.site.other_options import other_options
        from catalogue.site.overlay import earlier_days
        from catalogue.studio.suiting import suits

        style = common.studio.by_style[name.style]
        needed, uses = sorted(common.needed(style)), style.uses
        tables = [(t.slug, t.notes, t.lang, t.findings) for t in common.studio.tables_for(style)]
        clients = [
            (
                *(c.slug, c.name, c.kind),
                "".join("x" if key in c.measurements else "-" for key in needed),
                [day.key for day in earlier_days(c, style, common.held(c))]
                if len(c.sets) > 1 or c.fittings or c.corrections or c.choices
                else (),
                [(o.key, o.words) for o in other_options(c, style)],
                bool(c.findings_for(uses)),
                [told for path, told in common.kept_files(c) if path.endswith("/outlines.json")],
            )
            for c in common.studio.clients
            if suits(style, c)
        ]
        cut = [
            (s.slug, s.title) for s in common.studio.styles if any(b.slug == style.slug for b in s.cut_from)
        ]
        fitted = [
            (c.slug, c.units.primary.value, [(f.garment, f.text, f.decided) for f in c.fittings])
            for c in common.studio.clients
            if c.fittings and style.is_a_block and suits(style, c)
        ]
        # Of a large studio these are tens of thousands of words.
        about = fingerprint.of_plain((clients, cut, fitted))
        return Source((style.digest, about, tables, common.own(needed)))

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        from catalogue.site.paths import compare_path, style_path

        style, summaries = common.studio.by_style[name.style], results.by_draft()
        kept = {c.slug: common.kept(c)[0] for c in common.studio.clients if common.kept_files(c)}
        pages = {
            style_path(style.slug): common.site.style_page(style, summaries),
            compare_path(style.slug): common.site.compare_page(style, summaries, kept),
        }
        return {name: common.pages(pages)}
