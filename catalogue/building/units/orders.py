"""The orders of a client in the workroom: a page, and beside it the job ticket and the lays of each order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from catalogue.building import fingerprint
from catalogue.building.common import Common
from catalogue.building.kind import UnitKind
from catalogue.building.unit import Product, Products, Results, Source, SourcesOf, UnitName
from catalogue.days import day_shown
from catalogue.findings import Finding, Place, Severity

if TYPE_CHECKING:
    from catalogue.drafting import Draft
    from catalogue.people import Client
    from catalogue.people.client import Order
    from catalogue.workroom.kept_garments import KeptGarment
    from catalogue.workroom.order_view import OrderView


class Orders(UnitKind):
    """The orders of each client who has any."""

    name = "orders"
    place = "workroom/{client}/"
    beside = ("*/ticket.pdf", "*/lay-*.svg", "*/lay-*.pdf")

    def names(self, common: Common) -> list[UnitName]:
        return [
            UnitName(self.name, client=c.slug) for c in common.studio.clients if c.orders and not c.is_copy
        ]

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        studio = common.studio
        client = studio.by_client[name.client]
        styles = [studio.by_style[o.style].digest for o in client.orders if o.style in studio.by_style]
        own = common.own(
            {key for o in client.orders if (s := studio.by_style.get(o.style)) for key in s.uses}
        )
        kept = studio.files.digests.get(kept_file(client.slug), "")
        cloths = [fingerprint.of(cloth) for cloth in studio.cloths.values()]
        cut = [told for path, told in common.kept_files(client) if path.endswith("/outlines.json")]
        return Source((client.digest, styles, own, kept, cloths, fingerprint.of(studio.settings.prices), cut))

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        from catalogue.site.workroom_pages import order_files, row_of

        views, findings = order_views(common, name.client), []
        files: dict[str, bytes] = {}
        settings = common.studio.settings
        for view in views:
            for file, data in order_files(view, settings.name, settings.language).items():
                files[f"{self.folder(name)}{view.order.slug}/{file}"] = data
            for each in view.lays:
                if each.lay is not None and each.lay.problems:
                    message = f"the lay of {each.cloth.name} for “{view.order.name}” is wrong: {each.lay.problems[0]}"
                    findings.append(
                        Finding("lay-wrong", message, view.order.place, severity=Severity.WARNING)
                    )
        client = common.studio.by_client[name.client]
        page = common.pages(
            {f"{self.folder(name)}index.html": common.site.orders_page(client, views, common.kept(client)[0])}
        )
        rows = [row_of(view, settings.prices.currency) for view in views]
        kept = common.kept(client)[0]
        for view in views:
            findings += [
                *_of_its_choices(client, view.order, view.draft),
                *_not_kept(view.order, kept, client.units.dates),
            ]
        return {name: Product({**page.files, **files}, {"rows": rows}, (*page.findings, *findings))}

    def is_checked(self, common: Common) -> bool:
        return any(
            _is_drafted_anew(order)
            for client in common.studio.clients
            for order in client.orders
            if not client.is_copy
        )

    def check(self, common: Common, name: UnitName) -> tuple[Finding, ...]:
        from catalogue.drafting import Extent

        studio, found = common.studio, list[Finding]()
        client = studio.by_client[name.client]
        for order in client.orders:
            style = studio.by_style.get(order.style)
            if _is_drafted_anew(order) and style is not None:
                kept = common.kept(client)[0]
                draft = common.draft(style, common.ordered(style, client, order), Extent.JUDGED)
                found += [*_of_its_choices(client, order, draft), *_not_kept(order, kept, client.units.dates)]
        return tuple(found)


def _is_drafted_anew(order: Order) -> bool:
    """Whether an order has a draft of its own: with choices of its own, or as it was cut on an earlier day."""
    return bool(order.choices) or order.as_cut is not None


def _of_its_choices(client: Client, order: Order, draft: Draft) -> list[Finding]:
    """What is wrong with the draft of an order that is drafted anew: no other draft tells of it."""
    from catalogue.building.outputs import wrong
    from catalogue.people.more_or_less import more_or_less

    if not _is_drafted_anew(order):
        return []
    places = {place for chosen in order.choices.values() for place in (chosen.place, chosen.key_place)}
    found = [
        replace(finding, about=_called(order, client, finding.place))
        for finding in wrong(draft)
        if finding.is_error or finding.place in places
    ]
    for name, chosen in order.choices.items():
        own = client.choices.get(order.style, {}).get(name)
        if own is not None and more_or_less(chosen.text) is not None:
            shown = draft.choices.get(name, "")
            message = (
                f"Order “{order.name}”: “{chosen.text}” is counted from the style's own {name}, not from the "
                f"“{own.text}” of this client{f', and gives {shown}' if shown else ''}"
            )
            hint = "Write what it measures."
            found.append(Finding("order-beside-own", message, chosen.place, hint, Severity.WARNING))
    return found


def _called(order: Order, client: Client, place: Place | None) -> str:
    """An order as it is named beside what was found there: with its client, where that is another file."""
    whose = "" if place is not None and place.file == client.file else f" of {client.name}"
    return f"Order “{order.name}”{whose}"


def _not_kept(order: Order, kept: Sequence[KeptGarment], dates: str) -> list[Finding]:
    """A warning where an order makes a garment again of which nothing was kept on the day it names."""
    from catalogue.workroom.order_view import cut_before

    if order.as_cut is None or cut_before(order, kept) is not None:
        return []
    days = [day_shown(each.told.date, dates) for each in kept if each.told.style == order.style]
    message = f"Order “{order.name}”: no garment of this style was kept on {day_shown(order.as_cut, dates)}"
    hint = f"Kept: {', '.join(days)}." if days else "None was kept: look at what is drafted before it is cut."
    return [Finding("order-not-kept", message, order.place, hint, Severity.WARNING)]


def kept_file(client: str) -> str:
    """Where the good lays of a client's orders are kept."""
    from catalogue.workroom.kept_lays import FOLDER

    return f"{FOLDER}/{client}.json"


def order_views(common: Common, client_slug: str) -> list[OrderView]:
    """The orders of a client worked out, those whose style the studio has."""
    from catalogue.workroom.kept_lays import kept_or_quick, read_kept
    from catalogue.workroom.order_view import order_view

    studio = common.studio
    client = studio.by_client[client_slug]
    filler = kept_or_quick(read_kept(studio.root / kept_file(client.slug)))
    views = []
    for order in client.orders:
        style = studio.by_style.get(order.style)
        if style is not None:
            draft = common.draft(style, common.ordered(style, client, order))
            views.append(order_view(client, order, draft, studio.cloths, studio.settings, filler))
    return views
