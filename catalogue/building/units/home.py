"""The first page, and all else that shows every style and client."""

from __future__ import annotations

from catalogue.building.common import Common
from catalogue.building.kind import UnitKind
from catalogue.building.unit import Products, Results, Source, SourcesOf, UnitName


class Home(UnitKind):
    """The one unit of its kind."""

    name = "home"
    place = ""
    shows = ("pair",)
    folders = ("flip", "orders")

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        studio = common.studio
        digests = [[each.digest for each in every] for every in (studio.styles, studio.clients)]
        return Source((digests, list(studio.all_findings()), common.own(), common.cloths))

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        findings = tuple(common.studio.all_findings())
        return {name: common.pages(common.site.home_pages(results.by_draft(), findings))}
