"""The pages of a client: the drafts there are, and a card to keep at hand."""

from __future__ import annotations

from catalogue.building.common import Common
from catalogue.building.kind import UnitKind
from catalogue.building.unit import Products, Results, Source, SourcesOf, UnitName


class ClientPages(UnitKind):
    """The pages of each client."""

    name = "client"
    place = "clients/{client}/"
    shows = ("pair",)

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        client = common.studio.by_client[name.client]
        used = {key for style in common.studio.styles for key in style.uses}
        used |= {key for each in client.sets for key in each.values}
        return Source((client.digest, [style.digest for style in common.studio.styles], common.own(used)))

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        from catalogue.site.paths import adding_path, card_path, client_path

        client = common.studio.by_client[name.client]
        pages = {
            client_path(client.slug): common.site.client_page(client, results.by_draft()),
            card_path(client.slug): common.site.card_page(client),
            adding_path(client.slug): common.site.adding_page(client),
        }
        return {name: common.pages(pages)}
