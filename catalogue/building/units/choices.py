"""Pictures of what a style's choices change, for no client."""

from __future__ import annotations

from catalogue.building.common import Common, encoded
from catalogue.building.kind import UnitKind
from catalogue.building.made_units import MadeUnit
from catalogue.building.unit import Product, Products, Results, Source, SourcesOf, UnitName


class Choices(UnitKind):
    """The pictures of each style's choices."""

    name = "choices"
    place = "styles/{style}/choices/"
    uses_templates = False
    page = "styles/*/index.html"
    beside = ("choices/*.svg",)

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        # What is told besides the drafting doesn't change a picture, and to draft a style many times takes a while.
        style = common.studio.by_style[name.style]
        own = common.own(style.uses)
        return Source(
            (
                *(style.title, style.choices, style.receives, style.flat),
                *(style.audience, style.needs, style.ok, style.blocks_digest, own),
                [(cut.name, [(each.choice, each.text) for each in cut.stated]) for cut in style.cut_from],
                [block.digest for block in style.blocks.values()],
            )
        )

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        from catalogue.site.extremes import choice_pictures

        pictures = choice_pictures(common.studio.by_style[name.style], common.studio.settings)
        return {name: Product(encoded(pictures))}

    def can_wait(self, common: Common, name: UnitName, made: MadeUnit) -> bool:
        return {written.path for written in made.files}.issuperset(self.shown_paths(common, name))

    def shown_paths(self, common: Common, name: UnitName) -> list[str]:
        """Paths of the pictures that the style's page shows."""
        from catalogue.site.extremes import choice_picture_path, values_drawn

        style = common.studio.by_style[name.style]
        return [choice_picture_path(style.slug, c) for c in style.choices if values_drawn(c) and style.ok]
