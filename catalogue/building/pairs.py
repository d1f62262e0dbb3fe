"""Which styles are drafted for which clients, and what to say of one that the program itself failed at."""

from __future__ import annotations

from collections.abc import Iterator

from catalogue.building.making import UnitName
from catalogue.building.pool import Outcome
from catalogue.building.report import Request
from catalogue.building.studio import Studio, UnknownName, choose
from catalogue.building.works import Works
from catalogue.findings import Finding, Place


def chosen(studio: Studio, request: Request, works: Works) -> list[UnitName]:
    """The pairs that were asked for. Raises UnknownName when there are none."""
    styles = choose(request.styles, studio.styles, "style")
    clients = choose(request.clients, studio.clients, "client")
    names = [
        name
        for name in pairs(studio, works)
        if (not styles or name.style in styles) and (not clients or name.client in clients)
    ]
    if (styles or clients) and not names:
        raise UnknownName(
            "There is nothing to draft: none of these styles is meant for these clients. A client is drafted any "
            "style that stands under “garments” in the client's file."
        )
    return names


def pairs(studio: Studio, works: Works) -> Iterator[UnitName]:
    """Every style with every client that it suits."""
    for style in studio.styles:
        for client in studio.clients:
            if works.suits(style, client):
                yield UnitName("pair", style.slug, client.slug)


def internal(outcome: Outcome, name: UnitName, studio: Studio) -> Finding:
    """A fault of the program, told at the style's file."""
    style = studio.by_style.get(name.style)
    place = Place(style.file) if style is not None else None
    what = outcome.trouble if not outcome.kind else f"{outcome.kind}: {outcome.trouble}"
    return Finding("internal", f"this could not be made, through a fault of this program: {what}", place)
