"""The pages of a catalogue: every method gives the text of one file.

Templates are the studio's own first, then the built-in ones; they are trusted. Style and client files are not:
all that comes from them is escaped.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from functools import cached_property
from pathlib import Path
from typing import Any

from jinja2 import Environment

import catalogue
from catalogue.drafting import Draft, suits
from catalogue.drawing.flat import garment_svg
from catalogue.findings import Finding, caret
from catalogue.people import Client, SizeTable
from catalogue.site import measured
from catalogue.site.assets import assets
from catalogue.site.body import body_definitions, tape_figure
from catalogue.site.cards import card, outline, values, wanted
from catalogue.site.draft_view import Download, draft_view, summary
from catalogue.site.drafted import Drafted, drafted
from catalogue.site.extremes import choice_picture_path, taken
from catalogue.site.handbook import CHAPTERS, chapter_path, language, looked_up, news
from catalogue.site.markdown import in_words, plain
from catalogue.site.measured import State, state_of
from catalogue.site.overlay import earlier
from catalogue.site.paths import PICTURE, card_path, client_path, compare_path, draft_path, style_path
from catalogue.site.pictures import pieces_picture
from catalogue.site.search import search_script
from catalogue.site.sized import in_sizes
from catalogue.site.story import Story, story
from catalogue.site.templates import Templates, plain_page
from catalogue.site.titles import titled_name
from catalogue.studio.reading import AUDIENCES
from catalogue.studio.settings import PAPERS, Settings
from catalogue.studio.style import Style

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
DRAWING_CAPTION = (
    "Every piece at one scale. Continuous: cutting line; dashed: sewing line; chain-dotted: fold of the cloth; "
    "the arrow lies along the grain."
)

_ONE_PIECE = "Piece "  # how a download of a single piece begins; there may be many of them

Summaries = Mapping[tuple[str, str], Mapping[str, Any]]
"""By (style slug, client slug): what `Site.summary` gave for the draft."""


class Site:
    """Makes the pages of one studio's catalogue."""

    def __init__(
        self,
        settings: Settings,
        styles: Sequence[Style],
        clients: Sequence[Client],
        studio: Path | None = None,
        tables: Sequence[SizeTable] = (),
    ) -> None:
        """`studio` is the studio's folder; its `site_template` is looked into first. `tables` are those of sizes."""
        self.settings = settings
        self.styles = list(styles)
        self.clients = list(clients)
        self.tables = tuple(tables)
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
            ways=WAYS,
            policy=POLICY,
            version=catalogue.__version__,
            lang=self.settings.language,
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
            with suppress(Exception):  # What is wrong with one is told by the page that needs it.
                self._environment.get_template(template)

    def page(self, template: str, path: str, here: str = "", **context: Any) -> str:
        """A page at `path` (from the site's root) from a template.

        Where one of the studio's own templates is at fault, a page that says so; see `troubles`.
        """
        root = "../" * path.count("/")
        try:
            ready = self._environment.get_template(template)
            return ready.render(root=root, page=path, here=here, **context)
        except Exception as error:
            finding = self.templates.finding(error)
            if finding is None:
                raise
            self._troubles.append(finding)
            return plain_page(finding)

    def troubles(self) -> tuple[Finding, ...]:
        """What was wrong with the studio's own templates since this was last asked."""
        told, self._troubles = tuple(dict.fromkeys(self._troubles)), []
        return told

    def mistakes(self) -> tuple[Finding, ...]:
        """What is wrong with the studio's own templates, as far as it can be told without making a page."""
        self._environment  # noqa: B018 - the names that templates use must be there
        return tuple(self.templates.mistakes())

    # ---- pages about a draft ----

    def drafted(self, draft: Draft) -> Drafted:
        """What the page of a draft needs of it."""
        root = "../" * draft_path(draft.style.slug, draft.client.slug).count("/")
        return drafted(draft, self.story(draft.style), root)

    def draft_page(
        self,
        draft: Draft,
        downloads: Iterable[Download] = (),
        drawing: str = "draft.svg",
        picture: bool = True,
    ) -> str:
        """The page of a draft, at styles/<style>/<client>/index.html. `drawing` is the pattern beside it."""
        return self.drafted_page(
            self.drafted(draft), draft.style, draft.client, downloads, drawing=drawing, picture=picture
        )

    def drafted_page(
        self,
        told: Drafted,
        style: Style,
        client: Client,
        downloads: Iterable[Download] = (),
        *,
        drawing: str = "draft.svg",
        picture: bool = True,
    ) -> str:
        """As `draft_page`, from what the draft told, which may itself be gone."""
        given = list(downloads)
        path = draft_path(style.slug, client.slug)
        shown = bool(told.pieces) and not told.missing
        view = draft_view(told, style, client, "../" * path.count("/"))
        view |= {
            "downloads": [d for d in given if not d.what.startswith(_ONE_PIECE) and not _is_lay(d)],
            "lays": [d for d in given if _is_lay(d)],
            "piece_files": [d for d in given if d.what.startswith(_ONE_PIECE)],
            "has_drawing": picture and shown,
            "garment": PICTURE if shown else "",
            "garment_words": f"{style.title} as drafted for {client.name}, front and back",
            "drawing": drawing,
            "drawing_words": f"The pattern of {style.title} for {client.name}: {', '.join(told.pieces)}",
            "drawing_caption": DRAWING_CAPTION,
            "style_path": style_path(style.slug),
            "client_path": client_path(client.slug),
        }
        return self.page("draft.html", path, "styles", **view)

    def draft_picture(self, draft: Draft) -> str:
        """The picture beside a draft's page (`PICTURE`): the garment, or else its pieces; "" when it has none."""
        if not draft.pieces:
            return ""
        flat = garment_svg(draft) if draft.style.flat else None
        return flat or pieces_picture(list(draft.pieces.values()), f"Pieces of {draft.style.title}")

    @staticmethod
    def summary(draft: Draft) -> dict[str, Any]:
        """What other pages need to know of a draft, as plain values."""
        return summary(draft)

    # ---- pages about styles and clients ----

    def index_page(self, summaries: Summaries, problems: Sequence[Finding] = ()) -> str:
        """The first page: every style as a card, every client in a list."""
        by_style = {s.slug: self._states(s, summaries) for s in self.styles}
        cards = [card(s, by_style[s.slug]) for s in self.styles]
        meant: dict[str, list[State]] = {}
        for state in (state for states in by_style.values() for state in states):
            meant.setdefault(state.client, []).append(state)
        clients = [
            {
                "slug": c.slug,
                "name": c.name,
                "kind": c.kind,
                "path": client_path(c.slug),
                "measured": measured.last_measured(c),
                "count": len(c.measurements),
                "ready": sum(state.state == "ready" for state in meant.get(c.slug, ())),
                "meant": len(meant.get(c.slug, ())),
            }
            for c in self.clients
        ]
        filters = (
            ("garment", "Garment", values(s.garment for s in self.styles)),
            ("audience", "For whom", values(a for s in self.styles for a in s.audience)),
            ("cloth", "Cloth", values(what for s in self.styles for _, what in s.cloth)),
            ("tags", "Tag", values(t for s in self.styles for t in s.tags)),
        )
        return self.page(
            "index.html",
            "index.html",
            "styles",
            tagline=self.settings.strapline or "Styles drafted to each client's own measurements.",
            cards=cards,
            clients=clients,
            filters=[f for f in filters if len(f[2]) > 1],
            problems=problems,
            broken=any(f.is_error for f in problems),
        )

    def style_page(self, style: Style, summaries: Summaries) -> str:
        """The page of a style, at styles/<style>/index.html."""
        path = style_path(style.slug)
        states = self._states(style, summaries)
        tale = self.story(style)
        names = {c.slug: c.name for c in self.clients}
        root = "../" * path.count("/")
        return self.page(
            "style.html",
            path,
            "styles",
            style=style,
            card=card(style, states),
            findings=style.findings,
            compare=compare_path(style.slug) if sum(bool(s.picture) for s in states) else "",
            states=[{"name": names[s.client], "path": s.path, "state": s} for s in states],
            intro=[
                {"heading": t.heading if n else "", "prose": tale.html(t, {}, root)}
                for n, t in enumerate(tale.opening)
            ],
            pictured=[
                {
                    "choice": c,
                    "picture": choice_picture_path(style.slug, c),
                    "values": [in_words(v) for v in taken(c)],
                }
                for c in style.choices
                if taken(c) and style.ok
            ],
            needs=wanted(style, [c for c in self.clients if suits(style, c)]),
            outline=outline(tale),
            sized=in_sizes(summaries.get((style.slug, ""), {}), self.tables, root),
        )

    def compare_page(self, style: Style, summaries: Summaries) -> str:
        """The page that lays drafts of a style over each other, at styles/<style>/compare/index.html."""
        path = compare_path(style.slug)
        made = {s.client for s in self._states(style, summaries) if s.picture}
        drafts = [
            {
                "slug": c.slug,
                "name": c.name,
                "path": draft_path(style.slug, c.slug),
                "earlier": earlier(c, style),
            }
            for c in self.clients
            if c.slug in made
        ]
        return self.page(
            "compare.html", path, "styles", style=style, drafts=drafts, style_path=style_path(style.slug)
        )

    def client_page(self, client: Client, summaries: Summaries) -> str:
        """The page of a client, at clients/<client>/index.html."""
        path = client_path(client.slug)
        titles = {s.slug: s.title for s in self.styles}
        states = [self._state(s, client, summaries) for s in self.styles if suits(s, client)]
        drafted = [
            {
                "title": titles[s.style],
                "path": s.path,
                "state": s,
                "ordered": s.style in client.garments,
                "before": self._before(s, client),
            }
            for s in sorted(states, key=lambda s: (s.style not in client.garments, not s.can_be_made))
        ]
        choices = [
            {"title": titles.get(slug, slug), "taken": [(name, c.text) for name, c in chosen.items()]}
            for slug, chosen in client.choices.items()
        ]
        return self.page(
            "client.html",
            path,
            "clients",
            client=client,
            history=measured.history(client),
            measured=measured.last_measured(client),
            weight=measured.weight(client),
            drafted=drafted,
            choices=choices,
            notes=plain(client.notes, "../" * path.count("/")) if client.notes.strip() else "",
        )

    def _before(self, state: State, client: Client) -> str:
        """Link to the comparison of a draft with the one from the measurements before; "" where there is none."""
        style = next(s for s in self.styles if s.slug == state.style)
        then = earlier(client, style) if state.picture else []
        page = f"{compare_path(style.slug)}#{client.slug}@{then[0].key}+{client.slug}" if then else ""
        return page

    def card_page(self, client: Client) -> str:
        """The client's measurements as a card to print, at clients/<client>/card/index.html."""
        return self.page(
            "card.html",
            card_path(client.slug),
            "clients",
            client=client,
            history=measured.history(client),
            measured=measured.last_measured(client),
        )

    # ---- pages about no one in particular ----

    def flip_page(self, summaries: Summaries) -> str:
        """Styles one at a time, to look through with a client, at flip/index.html."""
        leaves = []
        for s in self.styles:
            states = self._states(s, summaries)
            leaves.append(card(s, states) | {"cloth": s.cloth, "choices": s.choices, "notions": s.notions})
        clients = [{"slug": c.slug, "name": c.name} for c in self.clients]
        return self.page("flip.html", "flip/index.html", "flip", leaves=leaves, clients=clients)

    def measuring_page(self) -> str:
        """How each measurement is taken, at measuring/index.html."""
        titles = {s.slug: s.title for s in self.styles}
        groups = measured.by_kind()
        for m in (m for _, rows in groups for m in rows):
            m["styles"] = [(titles[s], style_path(s)) for s in measured.needing(self.styles, m["id"])]
            m["tape"] = tape_figure(m["id"], m["name"], m["how"])
        return self.page(
            "measuring.html", "measuring/index.html", "measuring", groups=groups, body=body_definitions()
        )

    def form_page(self) -> str:
        """A blank form to write measurements in, at measuring/form/index.html."""
        groups = [
            (title, [m | {"styles": " ".join(measured.needing(self.styles, m["id"]))} for m in rows])
            for title, rows in measured.by_kind()
        ]
        return self.page(
            "form.html", "measuring/form/index.html", "measuring", groups=groups, styles=self.styles
        )

    def handbook_pages(self) -> dict[str, str]:
        """Every page of the handbook by its path; they depend on settings and templates alone.

        The examples of the language are drafted for it, once in each process: about a second.
        """
        pages = {
            "handbook/index.html": self.page(
                "handbook/index.html", "handbook/index.html", "handbook", chapters=CHAPTERS
            )
        }
        for chapter in CHAPTERS:
            path = chapter_path(chapter)
            pages[path] = self.page(
                f"handbook/{chapter.slug}.html",
                path,
                "handbook",
                chapter=chapter,
                chapters=CHAPTERS,
                words=language() if chapter.slug == "language" else (),
                news=news() if chapter.slug == "what-is-new" else (),
                settings=self.settings,
                kinds=AUDIENCES,
                papers=tuple(PAPERS),
            )
        return pages

    # ---- all of them ----

    def front_pages(self, summaries: Summaries, problems: Sequence[Finding] = ()) -> dict[str, str]:
        """Pages and data that show every style and client, by path."""
        return {
            "index.html": self.index_page(summaries, problems),
            "flip/index.html": self.flip_page(summaries),
            "assets/search.js": search_script(self.styles, self.clients, summaries, looked_up()),
        }

    def measuring_pages(self) -> dict[str, str]:
        """Pages on measuring, by path; they name the styles that need a measurement."""
        return {
            "measuring/index.html": self.measuring_page(),
            "measuring/form/index.html": self.form_page(),
        }

    def other_pages(self) -> dict[str, str]:
        """Pages that depend on no draft, by path."""
        return {**self.measuring_pages(), **self.handbook_pages()}

    def assets(self) -> dict[str, bytes]:
        """Style sheets, script, fonts with their licences, and the little mark, by path."""
        return assets(self.templates, self.settings.accent)

    def _state(self, style: Style, client: Client, summaries: Summaries) -> State:
        return state_of(style, client, summaries.get((style.slug, client.slug)))

    def _states(self, style: Style, summaries: Summaries) -> list[State]:
        """How a style stands for each client it is meant for."""
        return [self._state(style, c, summaries) for c in self.clients if suits(style, c)]


def _caret(finding: Finding) -> str:
    return caret(finding.source, finding.place.column) if finding.place else ""


def _is_lay(download: Download) -> bool:
    """Whether a file is the picture of a lay, which the page shows beside the cloth."""
    return download.file.startswith("lay-")
