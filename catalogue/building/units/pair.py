"""A style drafted for a client: its drawings, sheets and figures. It is made with its page, which shows the draft."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING

from catalogue.building import fingerprint
from catalogue.building.common import Common, choices_for
from catalogue.building.kind import UnitKind
from catalogue.building.outputs import names_of_outputs, outputs_of, wrong
from catalogue.building.unit import Product, Products, Results, Source, SourcesOf, UnitName
from catalogue.building.units.page import PairPage, page_of, record_path
from catalogue.findings import Finding

if TYPE_CHECKING:
    from catalogue.drafting import Draft, Extent
    from catalogue.people import Client
    from catalogue.studio.style import Style


class Pair(UnitKind):
    """The draft of each style for each client that it suits."""

    name = "pair"
    place = "styles/{style}/{client}/"
    uses_templates = False
    is_draft = is_chosen = is_of_one_client = True
    beside = (*names_of_outputs(), "outline.js")

    def names(self, common: Common) -> list[UnitName]:
        return [UnitName(self.name, style, client) for style, client in common.suited]

    def made_with(self, name: UnitName) -> tuple[UnitName, ...]:
        return (name._replace(kind=PairPage.name),)

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        from catalogue.workroom.own_drafts import notices

        # Asked for every pair at every build, so what is the same for all styles is worked out once a client.
        style, client = common.studio.by_style[name.style], common.studio.by_client[name.client]
        keys, chosen = common.needed(style), choices_for(style, client.choices)
        now, *before = common.figures(client)
        content = fingerprint.of_plain(
            (
                style.digest,
                common.client_content(client),
                [told for key, told in now[1] if key in keys],
                [
                    (slug, name, [(one.text, str(one.date)) for one in (choice, *choice.before)])
                    for slug, each in chosen.items()
                    for name, choice in each.items()
                ],
                style.slug in client.garments,
                [(day, [told for key, told in taken if key in keys]) for day, taken in before],
                common.own(keys),
                *fittings_of(common, style, client, keys),
                *(told for path, told in common.kept_files(client) if path.endswith("/outlines.json")),
                client.doubts_for(style.uses),
                notices(client, style) if client.orders else (),
            )
        )
        return Source(
            content,
            (client.file, [f"{c.place} {c.key_place}" for each in chosen.values() for c in each.values()]),
        )

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        from catalogue.site.draft_page import draft_summary
        from catalogue.site.keeping import as_bytes
        from catalogue.site.summaries import as_plain

        draft = _draft(common, name)
        made = outputs_of(common.studio.settings, draft)
        view = common.site.view(draft)
        files = {**made.files, **self._outlines(common, name, draft)}
        style, client = common.studio.by_style[name.style], common.studio.by_client[name.client]
        [page_name] = self.made_with(name)
        return {
            name: Product(
                {f"{self.folder(name)}{file}": data for file, data in files.items()},
                as_plain(draft_summary(view, style, client, made.downloads)),
                (*made.findings, *wrong(draft)),
                {record_path(name): as_bytes(view)},
            ),
            page_name: page_of(common, name, view, made.downloads),
        }

    def failed(self, common: Common, name: UnitName, finding: Finding) -> Products:
        from catalogue.drafting import Draft
        from catalogue.site.draft_page import draft_summary
        from catalogue.site.summaries import as_plain

        [page_name] = self.made_with(name)
        style, client = common.studio.by_style[name.style], common.studio.by_client[name.client]
        try:
            view = common.site.view(Draft(style, client, findings=(finding,)))
            summary = as_plain(draft_summary(view, style, client))
            page = common.pages(
                {f"{self.folder(name)}index.html": common.site.draft_page(view, style, client)}
            )
        except Exception:  # The page's own template may be what is at fault.
            plain = super().failed(common, name, finding)[name]
            return {name: Product({}, {"state": "wrong"}, (finding,)), page_name: Product(plain.files)}
        return {name: Product({}, summary, (finding,)), page_name: page}

    def is_checked(self, common: Common) -> bool:
        return True

    def check(self, common: Common, name: UnitName) -> tuple[Finding, ...]:
        if not common.has_templates:
            from catalogue.drafting import Extent

            return wrong(_draft(common, name, Extent.JUDGED))
        draft = _draft(common, name)
        page = page_of(common, name, common.site.view(draft))
        return (*wrong(draft), *page.findings)

    def warm(self, common: Common) -> None:
        import shapely  # noqa: F401

        import catalogue.cloth
        import catalogue.drafting.record
        import catalogue.drawing.overview
        import catalogue.sheets.sheet  # noqa: F401

        common.site.make_ready("draft.html", "base.html", "parts.html")

    def warm_to_check(self) -> None:
        import catalogue.drafting  # noqa: F401

    def _outlines(self, common: Common, name: UnitName, draft: Draft) -> dict[str, bytes]:
        """The draft's outlines, and those of it as the client was measured before, to lay them over each other."""
        from catalogue.drafting import Extent
        from catalogue.site.overlay import FILE, earlier, outline_script

        if not draft.pieces or draft.missing:
            return {}
        client = common.studio.by_client[name.client]
        before = [
            (e.key, common.draft(draft.style, e.client, Extent.PIECES)) for e in earlier(client, draft.style)
        ]
        cut = [
            (each.key, each.told.outlines) for each in common.kept(client)[0] if each.told.style == name.style
        ]
        return {FILE: outline_script(draft, before, cut).encode()}


def fittings_of(common: Common, style: Style, client: Client, keys: Collection[str]) -> list[str]:
    """Fingerprints of what the fittings of a client, and measurements of one side, have to do with a draft."""
    if not (client.fittings or client.corrections or client.sides):
        return []
    from catalogue.building.common import what_counts

    counted = what_counts(style, client, keys)
    return [
        fingerprint.of(
            counted.fittings,
            counted.corrections,
            counted.sides,
            [(s.date, s.values) for s in counted.sets],
            sorted(slug for block in (style, *style.chain) for slug in block.cut_into),
        )
    ]


def _draft(common: Common, name: UnitName, extent: Extent | None = None) -> Draft:
    return common.draft(common.studio.by_style[name.style], common.studio.by_client[name.client], extent)
