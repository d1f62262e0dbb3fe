"""The workroom's own page: every open order by the day it is due, and the cloth to buy."""

from __future__ import annotations

from catalogue.building.common import Common
from catalogue.building.kind import UnitKind
from catalogue.building.unit import Products, Results, Source, SourcesOf, UnitName


class Workroom(UnitKind):
    """The one unit of its kind, where there are orders."""

    name = "workroom"
    place = "workroom/"
    shows = ("orders",)

    def names(self, common: Common) -> list[UnitName]:
        return [UnitName(self.name)] if any(c.orders for c in common.studio.clients) else []

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        return Source([(c.slug, c.name) for c in common.studio.clients if c.orders])

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        rows = [row for summary in results.summaries.values() for row in _rows(summary.get("rows"))]
        return {name: common.pages({"workroom/index.html": common.site.workroom_page(rows)})}


def _rows(told: object) -> list[dict[str, object]]:
    return [row for row in told if isinstance(row, dict)] if isinstance(told, list | tuple) else []
