"""What shows no client and no draft: pages on measuring, style sheets, scripts, fonts, pictures beside style files."""

from __future__ import annotations

from catalogue.building.common import Common
from catalogue.building.kind import UnitKind
from catalogue.building.picture_particulars import without_particulars
from catalogue.building.studio import STYLES
from catalogue.building.unit import Products, Results, Source, SourcesOf, UnitName


class Rest(UnitKind):
    """The one unit of its kind."""

    name = "rest"
    place = "measuring/"

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        studio = common.studio
        return Source(([style.digest for style in studio.styles], studio.files.under(STYLES), common.own()))

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        from catalogue.site.markdown import PICTURES

        pictures = {
            f"{PICTURES}/{name}": without_particulars(path.read_bytes(), path.suffix)
            for name, path in common.pictures.good.items()
        }
        pages = common.site.measuring_pages()
        return {name: common.pages(pages, common.site.assets() | pictures)}
