"""Pages that show all styles: the home page with a card a style, and the styles to browse one at a time."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

from catalogue.findings import Finding
from catalogue.people import Client
from catalogue.site.meanings import Meaning, meanings_of
from catalogue.site.measured import StyleState, last_measured
from catalogue.site.page import Page, for_whom
from catalogue.site.paths import client_path, style_path
from catalogue.sorting import in_order
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style

States = Mapping[str, Sequence[StyleState]]
"""How each style stands for each client it is meant for, by the style's slug."""


@dataclass(frozen=True, slots=True)
class Card:
    """A style in a list: what kind of garment for whom, its picture ("" when there is none), and how it stands."""

    style: Style
    path: str
    kind: str
    picture: str
    states: tuple[StyleState, ...]

    @property
    def ready(self) -> int:
        """For how many clients it is ready."""
        return sum(s.state == "ready" for s in self.states)


@dataclass(frozen=True, slots=True)
class ClientRow:
    """A client in a list: when last measured, and how many of the styles meant for the client are ready."""

    client: Client
    path: str
    measured: str
    ready: int
    meant: int


@dataclass(frozen=True, slots=True)
class Filter:
    """A field to find styles by: its name in the form, the words before it, and what there is to choose from."""

    name: str
    words: str
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HomePage(Page):
    """Every style as a card, every client in a list, and what is wrong with files (`broken` if there is an error).

    `meanings` are those of drafts that are not simply ready.
    """

    template: ClassVar = "index.html"
    here: ClassVar = "styles"
    strapline: str
    cards: Sequence[Card]
    clients: Sequence[ClientRow]
    filters: Sequence[Filter]
    problems: Sequence[Finding]
    broken: bool
    meanings: Sequence[Meaning]


@dataclass(frozen=True, slots=True)
class BrowsePage(Page):
    """Styles one at a time, to look through with a client."""

    template: ClassVar = "flip.html"
    here: ClassVar = "flip"
    cards: Sequence[Card]
    clients: Sequence[Client]


def home_page(
    settings: Settings,
    styles: Sequence[Style],
    clients: Sequence[Client],
    states: States,
    problems: Sequence[Finding],
) -> HomePage:
    """The page at index.html; `problems` are what is wrong with the studio's files."""
    by_client: dict[str, list[StyleState]] = {}
    for state in (state for s in styles if not s.is_block for state in states[s.slug]):
        by_client.setdefault(state.client, []).append(state)
    filters = (
        Filter("garment", "Garment", _values(s.garment for s in styles)),
        Filter("audience", "For whom", _values(a for s in styles for a in s.audience)),
        Filter("cloth", "Cloth", _values(what for s in styles for _, what in s.cloth)),
        Filter("tags", "Tag", _values(t for s in styles for t in s.tags)),
    )
    return HomePage(
        path="index.html",
        strapline=settings.strapline,
        cards=[card(s, states[s.slug]) for s in styles],
        clients=[_client_row(c, by_client.get(c.slug, ())) for c in clients],
        filters=[f for f in filters if len(f.values) > 1],
        problems=problems,
        broken=any(f.is_error for f in problems),
        meanings=meanings_of(s for each in states.values() for s in each),
    )


def browse_page(styles: Sequence[Style], clients: Sequence[Client], states: States) -> BrowsePage:
    """The page at flip/index.html."""
    return BrowsePage("flip/index.html", [card(s, states[s.slug]) for s in styles if not s.is_block], clients)


def card(style: Style, states: Sequence[StyleState]) -> Card:
    """A style with its own picture, or else that of its first draft."""
    picture = next((s.picture for s in states if s.can_be_made and s.picture), "")
    if style.picture:
        picture = f"pictures/{style.picture}"
    block = "block to cut from" if style.is_block else ""
    kind = " · ".join(
        w for w in (style.garment, block, f"for {for_whom(style)}" if style.audience else "") if w
    )
    return Card(style, style_path(style.slug), kind[:1].upper() + kind[1:], picture, tuple(states))


def _client_row(client: Client, states: Sequence[StyleState]) -> ClientRow:
    ready = sum(s.state == "ready" for s in states)
    return ClientRow(client, client_path(client.slug), last_measured(client), ready, len(states))


def _values(values: Iterable[str]) -> tuple[str, ...]:
    return tuple(in_order({v for v in values if v}))
