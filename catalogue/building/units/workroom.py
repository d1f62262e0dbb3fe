"""The workroom's own page: every open order by the day it is due, and the cloth to buy."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from catalogue.building.common import Common
from catalogue.building.kind import UnitKind
from catalogue.building.unit import Products, Results, Source, SourcesOf, UnitName
from catalogue.findings import Finding, Place, Severity
from catalogue.lengths import Units


class Workroom(UnitKind):
    """The one unit of its kind, where there are orders."""

    name = "workroom"
    place = "workroom/"
    shows = ("orders",)

    def names(self, common: Common) -> list[UnitName]:
        return [UnitName(self.name)] if any(c.orders and not c.is_copy for c in common.studio.clients) else []

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        return Source([(c.slug, c.name) for c in common.studio.clients if c.orders])

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        rows = [row for summary in results.summaries.values() for row in _rows(summary.get("rows"))]
        page = common.pages({"workroom/index.html": common.site.workroom_page(rows)})
        return {
            name: replace(page, findings=(*page.findings, *_left_short(rows, common.studio.settings.units)))
        }


def _left_short(rows: Sequence[Mapping[str, object]], units: Units) -> Iterator[Finding]:
    """Warnings of orders that count on a length of cloth at hand which an order due earlier is cut from."""
    from catalogue.cloth.words import bolt_words
    from catalogue.site.workroom_pages import order_rows
    from catalogue.workroom.claims import Claim, left_short

    orders = {row.path: row for row in order_rows(rows)}
    names = {path: f"{row.client}, {row.name}" for path, row in orders.items()}
    claims = [
        Claim(path, row.due, each.cloth, each.needs, each.lengths)
        for path, row in orders.items()
        for each in row.to_buy
    ]
    for claim, others in left_short(claims):
        row, length = orders[claim.order], min(each for each in claim.at_hand if each >= claim.needs)
        earlier = " and ".join(f"“{names[each]}”" for each in others)
        message = (
            f"“{names[claim.order]}” counts on {bolt_words(length, units)} of {claim.cloth} at hand, and so does "
            f"{earlier}, which comes first: it is not enough for all"
        )
        hint = "Buy the cloth for one of them, or change what is at hand under stock: in clients/cloths.md."
        yield Finding("order-cloth-twice", message, Place(row.file, row.line), hint, Severity.WARNING)


def _rows(told: object) -> list[dict[str, object]]:
    return [row for row in told if isinstance(row, dict)] if isinstance(told, list | tuple) else []
