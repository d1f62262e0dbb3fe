"""The draft of an order that has other options than the client's usual one: its page, and all that is printed of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from catalogue.building import fingerprint
from catalogue.building.common import Common, what_counts
from catalogue.building.kind import UnitKind
from catalogue.building.outputs import names_of_outputs, outputs_of
from catalogue.building.unit import Product, Products, Results, Source, SourcesOf, UnitName

if TYPE_CHECKING:
    from catalogue.people.client import Order


class OrderedDraft(UnitKind):
    """One for each order that is not for the usual draft, while anything is left to do for it."""

    name = "ordered"
    place = "orders/{client}/"
    page = "orders/*/*/index.html"
    beside = names_of_outputs()
    is_chosen = is_of_one_client = True

    def names(self, common: Common) -> list[UnitName]:
        from catalogue.workroom.own_drafts import has_own_draft

        by_style = common.studio.by_style
        return [
            UnitName(self.name, order.style, client.slug, order.slug)
            for client in common.studio.clients
            for order in client.orders
            if order.style in by_style and has_own_draft(client, order, by_style[order.style])
        ]

    def folder(self, name: UnitName) -> str:
        return f"{super().folder(name)}{name.item}/"

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        from catalogue.site.other_options import other_options
        from catalogue.studio.suiting import suits
        from catalogue.workroom.own_drafts import notice_for

        style, client = common.studio.by_style[name.style], common.studio.by_client[name.client]
        order = _order(common, name)
        counted = what_counts(style, common.ordered(style, client, order), common.needed(style))
        shown = (
            (order.name, notice_for(client, order, style), suits(style, client)),
            [other.key for other in other_options(client, style)],
        )
        drawn = fingerprint.of(counted, shown, client.sets)
        return Source(
            (
                style.digest,
                drawn,
                common.own(common.needed(style)),
                common.client_page(client),
                client.is_copy,
            )
        )

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        from catalogue.site.draft_page import order_shown

        style, client = common.studio.by_style[name.style], common.studio.by_client[name.client]
        order = _order(common, name)
        ordered = common.ordered(style, client, order)
        draft = common.draft(style, ordered)
        made = outputs_of(common.studio.settings, draft)
        remarks = ordered.findings_for(style.uses) if ordered.ok_for(style.uses) else ()
        page = common.site.draft_page(
            common.site.view(draft),
            style,
            ordered,
            made.downloads,
            remarks,
            order_shown(client, order, style),
        )
        folder = self.folder(name)
        files = {f"{folder}{file}": data for file, data in made.files.items()}
        done = common.pages({f"{folder}index.html": page}, files)
        # What is wrong with the draft itself is told by the workroom's unit.
        prints = [(d.title, f"{folder}{d.file}") for d in made.downloads if d.kind == "print"]
        return {name: Product(done.files, {"prints": prints}, (*done.findings, *made.findings))}

    def is_checked(self, common: Common) -> bool:
        return common.has_templates


def _order(common: Common, name: UnitName) -> Order:
    orders = common.studio.by_client[name.client].orders
    return next(order for order in orders if order.slug == name.item)
