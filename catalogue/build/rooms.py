"""The rooms a build calls on: reading, drafting, drawing, printing and page-making, as `Works` asks for them."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from catalogue.build import fingerprint
from catalogue.build.pictures import Pictures, look_through
from catalogue.build.studio import STYLES, TEMPLATE, Studio
from catalogue.build.works import PairMade, PairSource, Summaries
from catalogue.findings import Finding, Place

if TYPE_CHECKING:
    from catalogue.drafting import Draft
    from catalogue.people import Client
    from catalogue.site.draft_view import Download
    from catalogue.site.pages import Site
    from catalogue.studio.settings import Settings
    from catalogue.studio.style import Style


class StudioWorks:
    """What the catalogue is made with; `papers`, where given, are printed on in place of the studio's own."""

    def __init__(self, papers: Sequence[str] = ()) -> None:
        self._papers = tuple(papers)

    def warm(self, studio: Studio) -> None:
        import catalogue.cloth
        import catalogue.drafting.record
        import catalogue.drawing.overview
        import catalogue.sheets.sheet  # noqa: F401

        self.warm_to_draft()
        _site(studio).make_ready("draft.html", "base.html", "parts.html")

    def warm_to_draft(self) -> None:
        import shapely  # noqa: F401

        import catalogue.drafting  # noqa: F401

    def settings(self, root: Path) -> tuple[Settings, tuple[Finding, ...]]:
        from catalogue.studio.settings import read_settings

        read = read_settings(root / TEMPLATE / "studio.toml", root)
        if self._papers:
            read = replace(read, papers=tuple(dict.fromkeys(self._papers)))
        # A remark in the file, or one taken out, makes nothing again.
        return replace(read, findings=(), digest=""), read.findings

    def style(self, path: Path, root: Path, settings: Settings) -> Style:
        from catalogue.studio.reading import read_style

        return read_style(path, root)

    def client(self, path: Path, root: Path, settings: Settings) -> Client:
        from catalogue.people import read_client

        return read_client(path, root, settings.units)

    def shared(self, studio: Studio) -> Any:
        templates = [(p, d) for p, d in studio.files.under(TEMPLATE) if not p.endswith("/studio.toml")]
        return studio.settings, templates

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
        content = (
            style.digest,
            book.client_content(client),
            [(key, m.mm) for key, m in client.measurements.items() if key in keys],
            [(name, choice.text) for name, choice in chosen.items()],
            style.slug in client.garments,
            [(s.date, [(key, m.mm) for key, m in s.values.items() if key in keys]) for s in client.sets[:-1]],
        )
        places = (client.file, [f"{choice.place} {choice.key_place}" for choice in chosen.values()])
        return PairSource(content, places, book.client_page(client))

    def style_from(self, studio: Studio, style: Style) -> Any:
        from catalogue.site.overlay import earlier

        clients = [
            (
                *(c.slug, c.name, c.kind),
                [key in c.measurements for key in sorted(_book(studio).needed(style))],
                [e.key for e in earlier(c, style)] if len(c.sets) > 1 else (),
            )
            for c in studio.clients
            if self.suits(style, c)
        ]
        return style.digest, clients

    def choices_from(self, studio: Studio, style: Style) -> Any:
        # What is told besides the drafting doesn't change a picture, and to draft a style many times takes a while.
        blocks = [
            part.source for section in style.sections for part in section.parts if hasattr(part, "source")
        ]
        return style.title, style.choices, style.flat, style.audience, style.needs, style.ok, blocks

    def client_from(self, studio: Studio, client: Client) -> Any:
        return client.digest, [style.digest for style in studio.styles]

    def front_from(self, studio: Studio) -> Any:
        digests = [[each.digest for each in every] for every in (studio.styles, studio.clients)]
        return digests, list(studio.all_findings())

    def others_from(self, studio: Studio) -> Any:
        return [style.digest for style in studio.styles], studio.files.under(STYLES)

    def pair(self, studio: Studio, style: Style, client: Client) -> PairMade:
        draft = _draft(studio, style, client)
        files, downloads, findings = _drawings(studio, draft)
        files |= _outlines(studio, draft, client)
        summary = _site(studio).summary(draft) | {"downloads": downloads}
        page = self._page(studio, draft, client, downloads)
        return PairMade(files, page, summary, (*findings, *_wrong(draft)))

    def pair_page(self, studio: Studio, style: Style, client: Client, summary: Mapping[str, Any]) -> bytes:
        return self._page(studio, _draft(studio, style, client), client, summary["downloads"])

    def pair_failed(self, studio: Studio, style: Style, client: Client, finding: Finding) -> PairMade:
        from catalogue.drafting import Draft

        draft = Draft(style, client, findings=(finding,))
        summary = _site(studio).summary(draft) | {"downloads": []}
        return PairMade({}, self._page(studio, draft, client, []), summary, (finding,))

    def check(self, studio: Studio, style: Style, client: Client) -> tuple[Finding, ...]:
        draft = _draft(studio, style, client)
        if not _has_templates(studio):
            return _wrong(draft)
        self._page(studio, draft, client, [])
        return (*_wrong(draft), *self.said(studio))

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
        from catalogue.site.pages import compare_path, style_path

        site = _site(studio)
        return _encoded(
            {
                style_path(style.slug): site.style_page(style, summaries),
                compare_path(style.slug): site.compare_page(style, summaries),
            }
        )

    def choices(self, studio: Studio, style: Style) -> Mapping[str, bytes]:
        from catalogue.site.extremes import choice_pictures

        return _encoded(choice_pictures(style, studio.settings))

    def client_pages(self, studio: Studio, client: Client, summaries: Summaries) -> Mapping[str, bytes]:
        from catalogue.site.pages import card_path, client_path

        site = _site(studio)
        return _encoded(
            {
                client_path(client.slug): site.client_page(client, summaries),
                card_path(client.slug): site.card_page(client),
            }
        )

    def front_pages(self, studio: Studio, summaries: Summaries) -> Mapping[str, bytes]:
        return _encoded(_site(studio).front_pages(summaries, tuple(studio.all_findings())))

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
        self, studio: Studio, draft: Draft, client: Client, downloads: Sequence[Sequence[Any]]
    ) -> bytes:
        # The draft was made of what counts for it alone; the page also shows notes and what the file is
        # warned of.
        findings = (
            draft.findings
            if client.findings == draft.client.findings
            else (
                *draft.style.findings,
                *client.findings,
                *draft.findings[len(draft.style.findings) :],
            )
        )
        shown = replace(draft, client=client, findings=findings)
        return _site(studio).draft_page(shown, [_download(d) for d in downloads]).encode()


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

    def needed(self, style: Style) -> frozenset[str]:
        """Keys of the measurements a style uses, and of those that the figure is drawn from where one wears it."""
        from catalogue.drawing.figure import MEASURED
        from catalogue.site.measured import needed

        if style.slug not in self._needed:
            self._needed[style.slug] = frozenset(needed(style)) | (MEASURED if style.flat else frozenset())
        return self._needed[style.slug]

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
        return Site(studio.settings, studio.styles, studio.clients, studio.root)


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


def _drawings(studio: Studio, draft: Draft) -> tuple[dict[str, bytes], list[list[Any]], list[Finding]]:
    """Drawings and figures of a draft, what the page says of each, and what there was to say about the paper."""
    from catalogue.drafting.record import draft_record

    files: dict[str, bytes] = {}
    downloads: list[list[Any]] = []
    findings: list[Finding] = []
    drawn = bool(draft.pieces or draft.items) and not draft.missing
    whole = drawn and not any(f.is_error for f in draft.findings)
    if whole and draft.pieces:
        files, downloads, findings = _sheets(studio, draft)
    if drawn:
        from catalogue.drawing.overview import draft_svg
        from catalogue.sheets.sheet import day_words
        from catalogue.site.pages import PICTURE

        day = _day(studio, draft)
        language = studio.settings.language
        files["draft.svg"] = draft_svg(draft, day=day_words(day) if day else "", language=language).encode()
        downloads.append(
            ["draft.svg", "The pattern as a drawing", 0, "at true size, for a screen or a plotter"]
        )
        picture = _site(studio).draft_picture(draft)
        if picture:
            files[PICTURE] = picture.encode()
    if whole and studio.settings.exchange:
        from catalogue.drawing.exchange import exchange_files

        day = _day(studio, draft)
        for made in exchange_files(draft, studio.settings.exchange, day=day.isoformat() if day else ""):
            files[made.name] = made.data
            downloads.append([made.name, made.what, 0, made.about])
    if whole:
        for name, data, what, about in _lays(draft):
            files[name] = data
            downloads.append([name, what, 0, about])
    record = json.dumps(draft_record(draft), ensure_ascii=False, indent=1)
    files["draft.json"] = f"{record}\n".encode()
    downloads.append(["draft.json", "The figures", 0, "for other programs"])
    return files, downloads, findings


def _lays(draft: Draft) -> Iterator[tuple[str, bytes, str, str]]:
    """A picture of each cloth's lay: file, content, whose lay it is, and how much cloth it takes."""
    from catalogue.cloth import cloth_words, lay_picture, lays, width_in, width_words
    from catalogue.drawing.labels import letters_of
    from catalogue.slugs import slugify

    stated = {use: width_in(words) for use, words in draft.style.cloth}
    widths = {use: width for use, width in stated.items() if width}
    letters = letters_of(list(draft.pieces.values()))
    units = draft.client.units
    for lay in lays(draft.pieces.values(), draft.cut_lines, widths):
        whose = f"{lay.cloth.capitalize()} cloth needed"
        about = f"{cloth_words(lay.length, units)}, {width_words(lay.width, units)} wide"
        if lay.too_wide:
            titles = ", ".join(draft.pieces[name].title for name in lay.too_wide)
            about += f"; too wide for it: {titles}"
        if lay.pieces:
            yield (
                f"lay-{slugify(lay.cloth)}.svg",
                lay_picture(lay, letters, f"{draft.style.title}: {whose.lower()}", about).encode(),
                whose,
                about,
            )


def _outlines(studio: Studio, draft: Draft, client: Client) -> dict[str, bytes]:
    """The outlines of a draft, and of the same as the client was measured before, for laying them over each other."""
    from catalogue.site.overlay import FILE, earlier, outline_script

    if not draft.pieces or draft.missing:
        return {}
    before = [(e.key, _draft(studio, draft.style, e.client)) for e in earlier(client, draft.style)]
    return {FILE: outline_script(draft, before).encode()}


def _sheets(studio: Studio, draft: Draft) -> tuple[dict[str, bytes], list[list[Any]], list[Finding]]:
    from catalogue.sheets import SheetSettings, paper_named, sheet_pdf
    from catalogue.sheets.paper import Margins

    settings = studio.settings
    files: dict[str, bytes] = {}
    downloads: list[list[Any]] = []
    findings: list[Finding] = []
    said = SheetSettings(_day(studio, draft), settings.name, language=settings.language, grid=settings.grid)
    for name in settings.papers:
        try:
            paper = paper_named(name)
            if settings.margin is not None:
                paper = paper._replace(margins=Margins(*[settings.margin] * 4))
            result = sheet_pdf(draft, paper, said)
        except (KeyError, ValueError) as error:
            place = Place(f"{TEMPLATE}/studio.toml")
            findings.append(Finding("paper", f"nothing can be printed on “{name}”: {error.args[0]}", place))
            continue
        file = f"draft-{paper.name}.pdf"
        files[file] = result.data
        downloads.append(
            [file, f"Print on {paper.title}", result.pages, "true scale, with a map and squares to check"]
        )
        findings += [_placed(finding, draft) for finding in result.findings]
    return files, downloads, findings


def _placed(finding: Finding, draft: Draft) -> Finding:
    """A finding about the paper with the file it comes from: the client's when about the name, or the style's."""
    about_name = finding.code == "no-glyph" and any(
        f"U+{ord(c):04X}" in finding.message for c in draft.client.name
    )
    return replace(finding, place=Place(draft.client.file if about_name else draft.style.file))


def _day(studio: Studio, draft: Draft) -> date | None:
    """The date on a draft: as settled for the studio, else when the client was last measured."""
    dates = [s.date for s in draft.client.sets if s.date is not None]
    day: date | None = studio.settings.date or max(dates, default=None)
    return day


def _download(told: Sequence[Any]) -> Download:
    from catalogue.site.draft_view import Download

    file, what, pages, about = told
    return Download(file, what, pages, about)


def _wrong(draft: Draft) -> tuple[Finding, ...]:
    """What a draft has to say, and what of it does not hold."""
    from catalogue.language.wording import in_words

    style = draft.style
    found = list(draft.findings)
    for check in draft.checks:
        if not check.ok:
            found.append(
                _unmet("check-fails", f"it does not hold that {check.text}", check.detail, check.place, style)
            )
    for seam in draft.seams:
        if not seam.ok:
            names = f"{in_words(seam.first)} and {in_words(seam.second)} do not meet"
            found.append(_unmet("seam-fails", names, seam.detail, seam.place, style))
    for finished in draft.finished:
        if not finished.ok:
            name = f"the finished {in_words(finished.name)} does not hold"
            found.append(_unmet("finished-fails", name, finished.detail, Place(style.file), style))
    return tuple(dict.fromkeys(found))


def _unmet(code: str, what: str, detail: str, place: Place, style: Style) -> Finding:
    source = style.source_line(place.line) if place.file == style.file and place != Place(style.file) else ""
    return Finding(code, f"{what}: {detail}" if detail else what, place, source=source)


def _encoded(pages: Mapping[str, str]) -> dict[str, bytes]:
    return {path: page.encode() for path, page in pages.items()}
