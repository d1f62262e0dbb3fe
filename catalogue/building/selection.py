"""Which drafts are meant by the styles and clients that were asked for."""

from __future__ import annotations

from collections.abc import Iterable

from catalogue.building.report import Request
from catalogue.building.studio import Studio, UnknownName, choose
from catalogue.building.unit import UnitName


def chosen(studio: Studio, request: Request, drafts: Iterable[UnitName]) -> list[UnitName]:
    """Those of the `drafts` that were asked for. Raises UnknownName when there are none."""
    styles = choose(request.styles, studio.styles, "style")
    clients = choose(request.clients, studio.clients, "client")
    names = [
        name
        for name in drafts
        if (not styles or name.style in styles) and (not clients or name.client in clients)
    ]
    if (styles or clients) and not names:
        raise UnknownName(
            "There is nothing to draft: none of these styles is for these clients. To draft a style for a client all "
            "the same, list it under “garments” in the client's file."
        )
    return names
