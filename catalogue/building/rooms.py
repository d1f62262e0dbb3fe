"""The rooms a build calls on: reading, drafting, drawing, printing and page-making, as `Works` asks for them."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from catalogue.building import fingerprint
from catalogue.building.outputs import outputs_of, wrong
from catalogue.building.pictures import Pictures, look_through
from catalogue.building.studio import STYLES, TEMPLATE, Studio
from catalogue.building.works import PairMade, PairSource, Summaries
from catalogue.findings import Finding

if TYPE_CHECKING:
    from catalogue.building.sized import SizedMade
    from catalogue.drafting import Draft
    from catalogue.people import Client, SizeTable
    from catalogue.site.pages import Site
    from catalogue.site.records import DraftView
    from catalogue.site.summaries import Download
    from catalogue.studio.settings import Settings
    from catalogue.studio.style import Style


Figures = tuple[str, list[tuple[str, str]]]
"""A day, and the measurements taken on it: the key of each, and it with its value as one text."""


class StudioWorks:
    """What the catalogue is made with.

    Args:
        papers: printed on in place of the studio's own, where given.
        today: measurements dated later do not count; without it, the day on which each file is read, since a studio
            may be watched for days.
    """

    def __init__(self, papers: Sequence[str] = (), today: date | None = None) -> None:
        self._papers = tuple(papers)
        self._today = today

    def warm(self, studio: Studio) -> None:
        import shapely  # noqa: F401

        import catalogue.cloth
        import catalogue.drafting.record
        import catalogue.drawing.overview
        import catalogue.sheets.sheet  # noqa: F401

        self.warm_to_draft()
        _site(studio).make_ready("draft.html", "base.html", "parts.html")

    def warm_to_draft(self) -> None:
        import catalogue.drafting  # noqa: F401

    def settings(self, root: Path) -> tuple[Settings, tuple[Finding, ...]]:
        from catalogue.people.own import read_own
        from catalogue.studio.settings import read_settings

        read = read_settings(root / TEMPLATE / "studio.toml", root)
        if self._papers:
            read = replace(read, papers=tuple(dict.fromkeys(self._papers)))
        own = read_own(root, read.units)
        # A remark in the file, or one taken out, makes nothing again.
        return replace(read, findings=(), digest="", register=own.register), (*read.findings, *own.findings)

    def style(self, path: Path, root: Path, settings: Settings) -> Style:
        from catalogue.studio.reading import read_style

        return read_style(path, root, settings.register)

    def client(self, path: Path, root: Path, settings: Settings) -> Client:
        from catalogue.people import read_client

        return read_client(path, root, settings.units, self._today or date.today(), settings.register)

    def sizes(self, path: Path, root: Path, settings: Settings) -> SizeTable:
        from catalogue.people import read_sizes

        return read_sizes(path, root, settings.units, settings.register)

    def shared(self, studio: Studio) -> Any:
        from catalogue.people import REGISTER

        # Measurements of the studio's own are shared by those who use them alone: see `own`.
        return replace(studio.settings, register=REGISTER)

    def shared_pages(self, studio: Studio) -> Any:
        return [(p, d) for p, d in studio.files.under(TEMPLATE) if not p.endswith("/studio.toml")]

    def look_over(self, studio: Studio) -> tuple[Finding, ...]:
        if not _has_templates(studio) and not any(
            s.picture or any("![" in row for row in s.lines) for s in studio.styles
        ):
            return ()  # So that nothing heavy is imported for nothing.
        book = _book(studio)
        return (*book.site.mistakes(), *book.pictures.findings)

    def said(self, studio: Studio) -> tuple[Finding, ...]:
        return _site(studio).troubles()

    def suits(self, style: Style, client: Client) -> bool:
        from catalogue.drafting import suits

        return suits(style, client)

    def pair_from(self, studio: Studio, style: Style, client: Client) -> PairSource:
        # Asked for every pair at every build, so what is the same for all styles is worked out once a client.
        book = _book(studio)
        keys, chosen = book.needed(style), client.choices.get(style.slug, {})
        now, *before = book.figures(client)
        content = fingerprint.of_plain(
            (
                style.digest,
                book.client_content(client),
                [told for key, told in now[1] if key in keys],
                [(name, choice.text) for name, choice in chosen.items()],
                style.slug in client.garments,
                [(day, [told for key, told in taken if key in keys]) for day, taken in before],
                book.own(keys),
            )
        )
        places = (client.file, [f"{choice.place} {choice.key_place}" for choice in chosen.values()])
        return PairSource(content, places, book.client_page(client))

    def style_from(self, studio: Studio, style: Style) -> Any:
        from catalogue.building.sized import tables_for
        from catalogue.site.overlay import earlier

        needed = sorted(_book(studio).needed(style))
        told = [(t.slug, t.notes, t.lang, t.findings) for t in tables_for(studio, style)]
        clients = [
            (
                *(c.slug, c.name, c.kind),
                "".join("x" if key in c.measurements else "-" for key in needed),
                [e.key for e in earlier(c, style)] if len(c.sets) > 1 else (),
            )
            for c in studio.clients
            if self.suits(style, c)
        ]
        return style.digest, clients, told, _book(studio).own(needed)

    def sized_from(self, studio: Studio, style: Style) -> Any:
        from catalogue.building.sized import sized_from, tables_for

        tables = tables_for(studio, style)
        return (sized_from(style, tables), _book(studio).own(style.uses)) if tables else None

    def sized(self, studio: Studio, style: Style) -> SizedMade:
        from catalogue.building.sized import sized

        return sized(studio, style, lambda client: _draft(studio, style, client))

    def check_sized(self, studio: Studio, style: Style) -> tuple[Finding, ...]:
        from catalogue.building.sized import check_sized

        return check_sized(studio, style, lambda client: _draft(studio, style, client))

    def choices_from(self, studio: Studio, style: Style) -> Any:
        # What is told besides the drafting doesn't change a picture, and to draft a style many times takes a while.
        from catalogue.studio.style import Block

        blocks = [
            part.source for section in style.sections for part in section.parts if isinstance(part, Block)
        ]
        own = _book(studio).own(style.uses)
        return style.title, style.choices, style.flat, style.audience, style.needs, style.ok, blocks, own

    def client_from(self, studio: Studio, client: Client) -> Any:
        used = {key for style in studio.styles for key in style.uses}
        used |= {key for each in client.sets for key in each.values}
        return client.digest, [style.digest for style in studio.styles], _book(studio).own(used)

    def front_from(self, studio: Studio) -> Any:
        digests = [[each.digest for each in every] for every in (studio.styles, studio.clients)]
        return digests, list(studio.all_findings()), _book(studio).own()

    def others_from(self, studio: Studio) -> Any:
        return [style.digest for style in studio.styles], studio.files.under(STYLES), _book(studio).own()

    def pair(self, studio: Studio, style: Style, client: Client) -> PairMade:
        from catalogue.site.draft_page import draft_summary
        from catalogue.site.keeping import as_bytes
        from catalogue.site.summaries import as_plain

        draft = _draft(studio, style, client)
        made = outputs_of(studio.settings, draft)
        view = _site(studio).view(draft)
        page = self._page(studio, view, style, client, made.downloads)
        summary = as_plain(draft_summary(view, style, client, made.downloads))
        files = {**made.files, **_outlines(studio, draft, client)}
        return PairMade(files, page, summary, (*made.findings, *wrong(draft)), as_bytes(view))

    def pair_page(
        self, studio: Studio, style: Style, client: Client, summary: Mapping[str, Any], record: bytes = b""
    ) -> bytes:
        from catalogue.site.keeping import from_bytes
        from catalogue.site.summaries import DraftSummary, from_plain

        view = from_bytes(record) or _site(studio).view(_draft(studio, style, client))
        return self._page(studio, view, style, client, from_plain(summary, DraftSummary).downloads)

    def pair_failed(self, studio: Studio, style: Style, client: Client, finding: Finding) -> PairMade:
        from catalogue.drafting import Draft
        from catalogue.site.draft_page import draft_summary
        from catalogue.site.summaries import as_plain

        view = _site(studio).view(Draft(style, client, findings=(finding,)))
        page = _site(studio).draft_page(view, style, client).encode()
        return PairMade({}, page, as_plain(draft_summary(view, style, client)), (finding,))

    def check(self, studio: Studio, style: Style, client: Client) -> tuple[Finding, ...]:
        draft = _draft(studio, style, client)
        if not _has_templates(studio):
            return wrong(draft)
        self._page(studio, _site(studio).view(draft), style, client)
        return (*wrong(draft), *self.said(studio))

    def check_pages(self, studio: Studio) -> tuple[Finding, ...]:
        if not _has_templates(studio):
            return ()
        for style in studio.styles:
            self.style_pages(studio, style, {})
        for client in studio.clients:
            self.client_pages(studio, client, {})
        self.front_pages(studio, {})
        self.others(studio)
        self.handbook(studio)
        return self.said(studio)

    def style_pages(self, studio: Studio, style: Style, summaries: Summaries) -> Mapping[str, bytes]:
        from catalogue.site.paths import compare_path, style_path

        site = _site(studio)
        return _encoded(
            {
                style_path(style.slug): site.style_page(style, summaries),
                compare_path(style.slug): site.compare_page(style, summaries),
            }
        )

    def choice_paths(self, style: Style) -> Collection[str]:
        from catalogue.site.extremes import choice_picture_path, values_drawn

        return [choice_picture_path(style.slug, c) for c in style.choices if values_drawn(c) and style.ok]

    def choices(self, studio: Studio, style: Style) -> Mapping[str, bytes]:
        from catalogue.site.extremes import choice_pictures

        return _encoded(choice_pictures(style, studio.settings))

    def client_pages(self, studio: Studio, client: Client, summaries: Summaries) -> Mapping[str, bytes]:
        from catalogue.site.paths import card_path, client_path

        site = _site(studio)
        return _encoded(
            {
                client_path(client.slug): site.client_page(client, summaries),
                card_path(client.slug): site.card_page(client),
            }
        )

    def front_pages(self, studio: Studio, summaries: Summaries) -> Mapping[str, bytes]:
        return _encoded(_site(studio).home_pages(summaries, tuple(studio.all_findings())))

    def others(self, studio: Studio) -> Mapping[str, bytes]:
        from catalogue.site.markdown import PICTURES

        site = _site(studio)
        shown = {
            f"{PICTURES}/{name}": path.read_bytes() for name, path in _book(studio).pictures.good.items()
        }
        return {**_encoded(site.measuring_pages()), **site.assets(), **shown}

    def handbook(self, studio: Studio) -> Mapping[str, bytes]:
        # Its examples take about a second to draft, so it is not made again with every style that is saved.
        return _encoded(_site(studio).handbook_pages())

    def _page(
        self,
        studio: Studio,
        view: DraftView,
        style: Style,
        client: Client,
        downloads: Sequence[Download] = (),
    ) -> bytes:
        # The draft was made of what counts for it alone, without the warnings of the client's file. The errors in it
        # are among the draft's own.
        remarks = client.findings_for(style.uses) if client.ok_for(style.uses) else ()
        return _site(studio).draft_page(view, style, client, downloads, remarks).encode()


def _has_templates(studio: Studio) -> bool:
    """Whether the studio has page templates of its own, which may be wrong."""
    from catalogue.site.folders import own_templates

    named = any(path.endswith(".html") for path, _ in studio.files.under(TEMPLATE))
    return named and own_templates(studio.root) is not None


def _what_counts(style: Style, client: Client, keys: Collection[str]) -> Client:
    """The client with no more than a draft of this style may depend on: the measurements `keys`, its choices, ...

    Drafts are made from this, so that what a fingerprint leaves out can't find its way into a drawing.
    """
    return replace(
        _without_particulars(client),
        findings=() if client.ok_for(style.uses) else client.findings_for(style.uses),
        concerning={},
        file=client.file,
        measurements={key: m for key, m in client.measurements.items() if key in keys},
        choices={slug: chosen for slug, chosen in client.choices.items() if slug == style.slug},
        garments=tuple(slug for slug in client.garments if slug == style.slug),
    )


def _without_particulars(client: Client) -> Client:
    """What of a client every draft may depend on: name, kind, units, and the day of the newest measurements."""
    newest = max((s.date for s in client.sets if s.date is not None), default=None)
    return replace(
        client,
        file="",
        sets=tuple(replace(s, values={}, note="", weight_kg=None) for s in client.sets if s.date == newest)[
            -1:
        ],
        measurements={},
        choices={},
        garments=(),
        garment_places={},
        choice_places={},
        notes="",
        notes_line=1,
        lang="",
        weight_kg=None,
        # Warnings about the file stop no draft; errors do, and are then all there is to show.
        findings=() if client.ok else client.findings,
        digest="",
    )


class _Book:
    """What was worked out for the styles and clients of one studio."""

    def __init__(self, studio: Studio) -> None:
        self.studio = studio
        self._needed: dict[str, frozenset[str]] = {}
        self._clients: dict[str, tuple[str, str]] = {}
        self._figures: dict[str, list[Figures]] = {}
        self._own: dict[str, str] | None = None

    def needed(self, style: Style) -> frozenset[str]:
        """Keys of the measurements a style uses, and of those that the figure is drawn from where one wears it."""
        from catalogue.drawing.body_outline import MEASURED

        if style.slug not in self._needed:
            self._needed[style.slug] = frozenset(style.uses) | (MEASURED if style.flat else frozenset())
        return self._needed[style.slug]

    def own(self, keys: Collection[str] | None = None) -> list[str]:
        """Fingerprints of the studio's own measurements as it describes them; only those among `keys` when given."""
        if self._own is None:
            own = self.studio.settings.register.own
            self._own = {measurement.key: fingerprint.of(measurement) for measurement in own}
        return [told for key, told in self._own.items() if keys is None or key in keys]

    def figures(self, client: Client) -> list[Figures]:
        """The client's measurements: those that count now, then those of each earlier set, with its day."""
        if client.slug not in self._figures:
            every = [("", client.measurements), *((str(s.date), s.values) for s in client.sets[:-1])]
            self._figures[client.slug] = [
                (day, [(key, f"{key}={m.mm!r}") for key, m in taken.items()]) for day, taken in every
            ]
        return self._figures[client.slug]

    def client_content(self, client: Client) -> str:
        """Fingerprint of what all drafts of a client come from."""
        return self._client(client)[0]

    def client_page(self, client: Client) -> str:
        """Fingerprint of what the pages of all drafts of a client show besides."""
        return self._client(client)[1]

    def _client(self, client: Client) -> tuple[str, str]:
        if client.slug not in self._clients:
            page = fingerprint.of(client.file, client.notes, client.findings, client.lang)
            self._clients[client.slug] = fingerprint.of(_without_particulars(client)), page
        return self._clients[client.slug]

    @cached_property
    def pictures(self) -> Pictures:
        """The pictures that styles show."""
        return look_through(self.studio, self._whole_site.story)

    @cached_property
    def site(self) -> Site:
        """The page-maker, which holds templates and prose made ready."""
        site = self._whole_site
        # A style without its picture is shown by its pieces.
        site.styles = [s if s.picture in self.pictures.good else replace(s, picture="") for s in site.styles]
        return site

    @cached_property
    def _whole_site(self) -> Site:
        from catalogue.site.pages import Site

        studio = self.studio
        return Site(studio.settings, studio.styles, studio.clients, studio.root, studio.sizes)


_last_book: _Book | None = None


def _book(studio: Studio) -> _Book:
    """The book of a studio; only the last one asked for is kept."""
    global _last_book
    if _last_book is None or _last_book.studio is not studio:
        _last_book = _Book(studio)
    return _last_book


def _site(studio: Studio) -> Site:
    return _book(studio).site


def _draft(studio: Studio, style: Style, client: Client) -> Draft:
    from catalogue.drafting import draft_style

    return draft_style(style, _what_counts(style, client, _book(studio).needed(style)), studio.settings)


def _outlines(studio: Studio, draft: Draft, client: Client) -> dict[str, bytes]:
    """The outlines of a draft, and of the same as the client was measured before, for laying them over each other."""
    from catalogue.site.overlay import FILE, earlier, outline_script

    if not draft.pieces or draft.missing:
        return {}
    before = [(e.key, _draft(studio, draft.style, e.client)) for e in earlier(client, draft.style)]
    return {FILE: outline_script(draft, before).encode()}


def _encoded(pages: Mapping[str, str]) -> dict[str, bytes]:
    return {path: page.encode() for path, page in pages.items()}
