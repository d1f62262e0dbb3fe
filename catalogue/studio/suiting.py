"""What is known of a style and a client before anything is drafted: whether it suits, and what a draft comes from.

Every build and check asks this of all styles and clients, so nothing heavy is imported here.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from catalogue.people import Client
    from catalogue.people.fittings import FittingLine
    from catalogue.studio.style import Style

WORN = frozenset(
    {"head_girth", "bust_girth", "chest_girth", "hip_girth", "hand_girth", "foot_length", "waist_to_knee"}
)
"""Keys of the measurements that a doubt about wearing a garment is judged by, where they are known."""

_MEANT_FOR = {
    "woman": {"women"},
    "man": {"men"},
    "girl": {"girls", "children"},
    "boy": {"boys", "children"},
    "child": {"children", "girls", "boys"},
}


def _folded(name: str) -> str:
    return " ".join(unicodedata.normalize("NFC", name).split()).casefold()


def suits(style: Style, client: Client) -> bool:
    """Whether a style is drafted for a client: it is meant for such a person, or the client ordered it.

    One that is reserved for clients is drafted for these alone, whatever others have in their files.
    """
    if style.reserved_for and client.slug:  # not anybody of a kind
        names = {_folded(name) for name in style.reserved_for}
        return not names.isdisjoint({_folded(client.name), client.slug})
    if not style.audience or style.slug in client.garments:
        return True
    return bool(_MEANT_FOR.get(client.kind, set()) & set(style.audience))


def lines_for(style: Style, lines: Iterable[FittingLine]) -> tuple[FittingLine, ...]:
    """The lines that may concern a draft of the style."""
    return tuple(line for line in lines if family_of(line.garment, style))


def family_of(garment: str, style: Style) -> frozenset[str]:
    """Slugs of the style and of its blocks on which a fitting of a garment may be carried out."""
    if garment == style.slug:
        return frozenset({style.slug, *(block.slug for block in style.chain)})
    return frozenset(
        block.slug for block in (style, *style.chain) if block.slug == garment or garment in block.cut_into
    ) | frozenset(below.slug for block in style.chain if block.slug == garment for below in block.chain)
