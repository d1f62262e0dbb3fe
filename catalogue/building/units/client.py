"""The pages of a client: the drafts there are, and a card to keep at hand."""

from __future__ import annotations

from dataclasses import replace

from catalogue.building.common import Common
from catalogue.building.kind import UnitKind
from catalogue.building.unit import Products, Results, Source, SourcesOf, UnitName


class ClientPages(UnitKind):
    """The pages of each client."""

    name = "client"
    place = "clients/{client}/"
    shows = ("pair",)
    beside = ("kept/*/*.pdf", "kept/*/draft.json", "kept/*/as-cut.txt")

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        client = common.studio.by_client[name.client]
        used = {key for style in common.studio.styles for key in style.uses}
        used |= {key for each in client.sets for key in each.values}
        styles = [style.digest for style in common.studio.styles]
        return Source((client.digest, styles, common.own(used), common.kept_files(client)))

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        from catalogue.site.kept_pages import kept_copies
        from catalogue.site.paths import adding_path, card_path, client_path

        client = common.studio.by_client[name.client]
        kept, findings = common.kept(client)
        pages = {
            client_path(client.slug): common.site.client_page(client, results.by_draft(), kept),
            card_path(client.slug): common.site.card_page(client),
            adding_path(client.slug): common.site.adding_page(client, results.by_draft()),
        }
        made = common.pages(pages, kept_copies(client.slug, common.studio.root, kept))
        return {name: replace(made, findings=(*made.findings, *findings))}
