"""A client's draft compared with the same under other options, where a file or an order has some."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from catalogue.building.common import Common
from catalogue.building.kind import UnitKind
from catalogue.building.outputs import wrong
from catalogue.building.unit import Products, Results, Source, SourcesOf, UnitName
from catalogue.findings import Finding

if TYPE_CHECKING:
    from catalogue.drafting import Draft
    from catalogue.site.other_options import OtherOptions

OUTLINES = "outline.js"


class Options(UnitKind):
    """The comparison page of each pair that has other options to be compared with."""

    name = "options"
    place = "styles/{style}/compare/{client}/"
    is_of_one_client = True
    beside = ("*.svg", OUTLINES)

    def names(self, common: Common) -> list[UnitName]:
        from catalogue.site.other_options import other_options

        studio = common.studio
        asked = {c.slug for c in studio.clients if c.compared or any(o.choices for o in c.orders)}
        return [
            UnitName(self.name, style, client)
            for style, client in common.suited
            if client in asked and other_options(studio.by_client[client], studio.by_style[style])
        ]

    def comes_from(self, common: Common, name: UnitName, sources: SourcesOf) -> Source:
        others = _others(common, name)
        drawn = sources(UnitName("pair", name.style, name.client))
        chosen = [(o.key, o.words, {n: c.text for n, c in o.choices.items()}) for o in others]
        places = [f"{c.place} {c.key_place}" for o in others for c in o.choices.values()]
        return Source((drawn.plain, chosen), (drawn.placed, places))

    def make(self, common: Common, name: UnitName, results: Results) -> Products:
        from catalogue.site.options_page import options_page, options_pictures
        from catalogue.site.overlay import outline_script

        style, client = common.studio.by_style[name.style], common.studio.by_client[name.client]
        draft = common.draft(style, client)
        drafts = [(other, common.draft(style, other.client)) for other in _others(common, name)]
        known = {(finding.code, finding.message) for finding in wrong(draft)}
        others = [
            (other, drafted, [f for f in wrong(drafted) if (f.code, f.message) not in known])
            for other, drafted in drafts
        ]
        folder = self.folder(name)
        page = options_page(style, client, draft, others)
        files = {file: svg.encode() for file, svg in options_pictures(draft, drafts).items()}
        if any(drafted.pieces for _, drafted in drafts):
            script = outline_script(draft, [(other.key, drafted) for other, drafted in drafts], beside=True)
            files[OUTLINES] = script.encode()
        made = common.pages(
            {page.path: common.site.page(page)}, {f"{folder}{file}": data for file, data in files.items()}
        )
        findings = [f for other, drafted in drafts for f in _of_its_choices(other, drafted, draft)]
        return {name: replace(made, findings=(*made.findings, *findings))}

    def is_checked(self, common: Common) -> bool:
        return any(client.compared for client in common.studio.clients)

    def check(self, common: Common, name: UnitName) -> tuple[Finding, ...]:
        style, client = common.studio.by_style[name.style], common.studio.by_client[name.client]
        asked = [other for other in _others(common, name) if not other.ordered]
        if not asked:
            return ()
        draft = common.draft(style, client)
        return tuple(
            f for other in asked for f in _of_its_choices(other, common.draft(style, other.client), draft)
        )


def _others(common: Common, name: UnitName) -> list[OtherOptions]:
    from catalogue.site.other_options import other_options

    return other_options(common.studio.by_client[name.client], common.studio.by_style[name.style])


def _of_its_choices(other: OtherOptions, drafted: Draft, draft: Draft) -> list[Finding]:
    """What is wrong with the choices of a set, and the errors that the client's own `draft` does not have.

    The workroom's unit tells of those of orders.
    """
    if other.ordered:
        return []
    places = {place for chosen in other.choices.values() for place in (chosen.place, chosen.key_place)}
    return [
        replace(finding, message=f"Compared as “{other.words}”: {finding.message}")
        for finding in drafted.findings
        if finding.place in places or (finding.is_error and finding not in draft.findings)
    ]
