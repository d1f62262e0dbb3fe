"""The page of a draft. Where only the page is stale, it is made of the record that was kept of the draft."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from catalogue.building.common import Common
from catalogue.building.kind import UnitKind
from catalogue.building.manifest import RECORDS
from catalogue.building.unit import Product, Products, Results, Source, SourcesOf, UnitName

if TYPE_CHECKING:
    from catalogue.site.records import DraftView
    from catalogue.site.summaries import Download


class PairPage(UnitKind):
    """The page of each pair."""

    name = "page"
    place = "styles/{style}/{client}/"
    shows = ("pair",)
    reads_files = True
    is_chosen = is_of_one_client = True

    def names(self, common: Common) -> list[UnitName]:
        return [UnitName(self.name, style, client) for style, client in common.suited]

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        from catalogue.site.other_options import other_options
        from catalogue.workroom.own_drafts import how_it_differs, own_drafts

        drawn = sources(name._replace(kind="pair"))
        style, client = common.studio.by_style[name.style], common.studio.by_client[name.client]
        others = [other.words for other in other_options(client, style)]
        orders = [
            (order.slug, order.name, how_it_differs(client, order, style))
            for order in own_drafts(client, style)
        ]
        return Source((drawn.placed, common.client_page(client), others, orders))

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        from catalogue.site.keeping import from_bytes
        from catalogue.site.summaries import DraftSummary, from_plain

        style, client = common.studio.by_style[name.style], common.studio.by_client[name.client]
        record = from_bytes(results.read(record_path(name)))
        [summary] = results.summaries.values()
        view = record or common.site.view(common.draft(style, client))
        return {name: page_of(common, name, view, from_plain(summary, DraftSummary).downloads)}

    def is_checked(self, common: Common) -> bool:
        return False  # It is, with its draft.


def record_path(name: UnitName) -> str:
    """Where what the page needs of a draft is kept."""
    return f"{RECORDS}/{name.style}/{name.client}.z"


def page_of(common: Common, name: UnitName, view: DraftView, downloads: Sequence[Download] = ()) -> Product:
    """The page of the draft of a style for a client."""
    style, client = common.studio.by_style[name.style], common.studio.by_client[name.client]
    # The draft was made of what counts for it alone, without the warnings of the client's file. The errors in it
    # are among the draft's own.
    remarks = client.findings_for(style.uses) if client.ok_for(style.uses) else ()
    page = common.site.draft_page(view, style, client, downloads, remarks)
    return common.pages({f"styles/{name.style}/{name.client}/index.html": page})
