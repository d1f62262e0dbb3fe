"""The handbook, which comes from nothing but what all units come from."""

from __future__ import annotations

from catalogue.building.common import Common
from catalogue.building.kind import UnitKind
from catalogue.building.made_units import MadeUnit
from catalogue.building.unit import Products, Results, UnitName


class Handbook(UnitKind):
    """The one unit of its kind. Its examples take about a second to draft."""

    name = "handbook"
    place = "handbook/"

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        return {name: common.pages(common.site.handbook_pages())}

    def can_wait(self, common: Common, name: UnitName, made: MadeUnit) -> bool:
        return True
