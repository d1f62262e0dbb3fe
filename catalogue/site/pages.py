"""The pages of a catalogue: every method gives the text of one file.

Templates are the studio's own first, then the built-in ones; they are trusted. Style and client files are not:
all that comes from them is escaped.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jinja2 import Environment

import catalogue
from catalogue.drafting import Draft
from catalogue.findings import Finding, caret
from catalogue.people import Client, SizeTable
from catalogue.site.assets import assets
from catalogue.site.client_pages import card_page, client_page
from catalogue.site.draft_page import DraftOrder, draft_page
from catalogue.site.drafted import draft_view
from catalogue.site.forms import adding_page, new_client_page, new_order_page
from catalogue.site.handbook import handbook_pages, looked_up
from catalogue.site.home_pages import browse_page, home_page
from catalogue.site.measured import StyleState, state_of
from catalogue.site.measuring import form_page, measuring_page
from catalogue.site.page import Page, root_from
from catalogue.site.paths import draft_path
from catalogue.site.records import DraftView
from catalogue.site.search import search_script
from catalogue.site.story import Story, story
from catalogue.site.style_pages import compare_page, style_page
from catalogue.site.summaries import Download, Summaries
from catalogue.site.templates import Templates, plain_page
from catalogue.site.titles import titled_name
from catalogue.site.words import in_words
from catalogue.sorting import SortKey, sort_key
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style
from catalogue.studio.suiting import suits

if TYPE_CHECKING:
    from catalogue.workroom.kept_garments import KeptGarment
    from catalogue.workroom.order_view import OrderView

# `file:` is there for pages opened from disk, where browsers disagree on what 'self' means.
POLICY = (
    "default-src 'none'; script-src 'self' file:; style-src 'self' file:; img-src 'self' file: data:; "
    "font-src 'self' file:; base-uri 'none'; form-action 'none'"
)
WAYS = (
    ("styles", "index.html", "Styles"),
    ("clients", "index.html#clients", "Clients"),
    ("flip", "flip/index.html", "Browse"),
    ("measuring", "measuring/index.html", "Measuring"),
    ("handbook", "handbook/index.html", "Handbook"),
)
WORKROOM = ("workroom", "workroom/index.html", "Workroom")


def _as_listed(style: Style) -> tuple[bool, SortKey, SortKey]:
    """Sorts garments of a kind together, by title, and what garments are cut from after them."""
    return style.is_block, sort_key(style.garment or style.title), sort_key(style.title)


_NOTHING: Summaries = {}
_NONE: Mapping[str, Sequence[KeptGarment]] = {}


class Site:
    """Makes the pages of one studio's catalogue."""

    def __init__(
        self,
        settings: Settings,
        styles: Sequence[Style],
        clients: Sequence[Client],
        studio: Path | None = None,
        tables: Sequence[SizeTable] = (),
        cloths: Sequence[str] = (),
    ) -> None:
        """`studio` is the studio's folder; its `site_template` is looked into first. `tables` are those of sizes.

        `cloths` are the names of the studio's cloths.
        """
        self.settings = settings
        self.styles = sorted(styles, key=_as_listed)
        self.clients = list(clients)
        self.tables = tuple(tables)
        self.cloths = tuple(cloths)
        self.templates = Templates(studio)
        self._troubles: list[Finding] = []
        self._stories: dict[tuple[str, str], Story] = {}

    @cached_property
    def _environment(self) -> Environment:
        """What templates are filled in with."""
        env = self.templates.environment
        env.filters["words"] = in_words
        env.filters["caret"] = _caret
        env.filters["titled"] = titled_name
        env.globals.update(
            studio=self.settings.name,
            ways=(*WAYS[:2], WORKROOM, *WAYS[2:]) if self.has_orders else WAYS,
            policy=POLICY,
            version=catalogue.__version__,
            lang=self.settings.language,
            comma=self.settings.units.comma,
        )
        return env

    def story(self, style: Style) -> Story:
        """The style's prose, rendered once."""
        key = (style.slug, style.digest)
        if key not in self._stories:
            self._stories[key] = story(style)
        return self._stories[key]

    def make_ready(self, *templates: str) -> None:
        """Read templates before they are needed, so that processes forked afterwards have them."""
        for template in templates:
            with suppress(Exception):  # What is wrong with one is reported by the page that needs it.
                self._environment.get_template(template)

    def page(self, page: Page) -> str:
        """A page as HTML.

        Where one of the studio's own templates is at fault, a page that says so; see `troubles`.
        """
        try:
            ready = self._environment.get_template(page.template)
            return ready.render(page.names(), root=page.root, here=page.here)
        except Exception as error:
            finding = self.templates.finding(error)
            if finding is None:
                raise
            self._troubles.append(finding)
            return plain_page(finding)

    def troubles(self) -> tuple[Finding, ...]:
        """What was wrong with the studio's own templates since this was last asked."""
        troubles, self._troubles = tuple(dict.fromkeys(self._troubles)), []
        return troubles

    def mistakes(self) -> tuple[Finding, ...]:
        """What is wrong with the studio's own templates, as far as can be seen without making a page."""
        self._environment  # noqa: B018 - the names that templates use must be there
        return tuple(self.templates.mistakes())

    # ---- pages about a draft ----

    def view(self, draft: Draft) -> DraftView:
        """What the page of a draft shows of it."""
        root = root_from(draft_path(draft.style.slug, draft.client.slug))
        return draft_view(draft, self.story(draft.style), root, self.story, self.settings.alterations)

    def draft_page(
        self,
        view: DraftView,
        style: Style,
        client: Client,
        downloads: Sequence[Download] = (),
        remarks: Sequence[Finding] = (),
        order: DraftOrder | None = None,
    ) -> str:
        """The page of a draft, which may itself be gone; see `catalogue.site.draft_page`."""
        return self.page(draft_page(view, style, client, downloads, remarks, self._slugs, order))

    # ---- pages about styles and clients ----

    def style_page(self, style: Style, summaries: Summaries) -> str:
        """The page of a style, at styles/<style>/index.html."""
        clients = self._meant_for(style)
        states = self._states(style, summaries)
        sized = summaries.get((style.slug, ""), {})
        return self.page(
            style_page(
                style, self.story(style), states, clients, sized, self.tables, self.styles, self.settings
            )
        )

    def compare_page(
        self, style: Style, summaries: Summaries, kept: Mapping[str, Sequence[KeptGarment]] = _NONE
    ) -> str:
        """The page that lays drafts of a style over each other, at styles/<style>/compare/index.html.

        `kept` are garments as they were cut, by the client's slug.
        """
        states = self._states(style, summaries)
        return self.page(compare_page(style, states, self._meant_for(style), kept))

    def client_page(self, client: Client, summaries: Summaries, kept: Sequence[KeptGarment] = ()) -> str:
        """The page of a client, at clients/<client>/index.html."""
        shown = [s for s in self.styles if not s.is_block or s.slug in client.garments]
        states = {s.slug: _state(s, client, summaries) for s in shown if suits(s, client)}
        return self.page(client_page(client, self.styles, states, kept))

    def card_page(self, client: Client) -> str:
        """The client's measurements as a card to print, at clients/<client>/card/index.html."""
        return self.page(card_page(client))

    def adding_page(self, client: Client, summaries: Summaries = _NOTHING) -> str:
        """The form that adds to the client's file, at clients/<client>/add/index.html."""
        possible = {
            s.slug: summaries.get((s.slug, client.slug), {}).get("alterations", ()) for s in self.styles
        }
        return self.page(adding_page(client, self.styles, possible, self.settings.alterations))

    # ---- the workroom ----

    @property
    def has_orders(self) -> bool:
        """Whether there is a workroom: some client has an order. A copy for one client has none."""
        return any(client.orders and not client.is_copy for client in self.clients)

    def orders_page(
        self, client: Client, views: Sequence[OrderView], kept: Sequence[KeptGarment] = ()
    ) -> str:
        """The orders of a client, at workroom/<client>/index.html."""
        from catalogue.site.workroom_pages import orders_page

        return self.page(orders_page(client, views, self.settings.prices.currency, kept))

    def workroom_page(self, rows: Sequence[Mapping[str, Any]]) -> str:
        """Every order by the day it is due, at workroom/index.html."""
        from catalogue.site.workroom_pages import workroom_page

        return self.page(workroom_page(rows, self.settings.units.dates))

    # ---- pages about all of them, and about no one in particular ----

    def home_pages(self, summaries: Summaries, problems: Sequence[Finding] = ()) -> dict[str, str]:
        """Pages and data that show every style and client, by path; `problems` is what is wrong with files."""
        states = {s.slug: self._states(s, summaries) for s in self.styles}
        home = home_page(self.settings, self.styles, self.clients, states, problems)
        browse = browse_page(self.styles, self.clients, states)
        new_client = new_client_page(self.styles, self.clients, self.settings)
        new_order = new_order_page(self.styles, self.clients, self.cloths, self.settings.units.primary.value)
        return {
            **self._by_path(home, browse, new_client, new_order),
            "assets/search.js": search_script(
                self.styles, self.clients, summaries, self.settings.register, looked_up()
            ),
        }

    def measuring_pages(self) -> dict[str, str]:
        """Pages on measuring, by path; they name the styles that need a measurement."""
        return self._by_path(
            measuring_page(self.styles, self.settings.register),
            form_page(self.styles, self.settings.register),
        )

    def handbook_pages(self) -> dict[str, str]:
        """Every page of the handbook by its path; they depend on settings and templates alone.

        The examples of the language are drafted for it, once in each process: about a second.
        """
        return self._by_path(*handbook_pages(self.settings))

    def assets(self) -> dict[str, bytes]:
        """Style sheets, script, fonts with their licences, and the little mark, by path."""
        return assets(self.templates, self.settings.accent)

    def _by_path(self, *pages: Page) -> dict[str, str]:
        return {page.path: self.page(page) for page in pages}

    @cached_property
    def _slugs(self) -> frozenset[str]:
        return frozenset(s.slug for s in self.styles)

    def _meant_for(self, style: Style) -> list[Client]:
        return [c for c in self.clients if suits(style, c)]

    def _states(self, style: Style, summaries: Summaries) -> list[StyleState]:
        """How a style stands for each client it is meant for."""
        return [_state(style, c, summaries) for c in self._meant_for(style)]


def _state(style: Style, client: Client, summaries: Summaries) -> StyleState:
    return state_of(style, client, summaries.get((style.slug, client.slug)))


def _caret(finding: Finding) -> str:
    return caret(finding.source, finding.place.column) if finding.place else ""
