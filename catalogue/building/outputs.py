"""What is made of a draft beside its page (drawings, sheets, lays, files for other programs), and what is wrong in it.

Each kind of output is one function, with `@output` above it: it is called for every draft that has come far enough, its
files are written beside the page, and the page offers them. Heavy rooms are called in where they are used: a check
drafts without them.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from typing import TYPE_CHECKING, Any, Literal

from catalogue.building.studio import TEMPLATE
from catalogue.findings import Finding, Place, Severity
from catalogue.site.summaries import Download

if TYPE_CHECKING:
    from catalogue.drafting import Draft
    from catalogue.studio.settings import Settings
    from catalogue.studio.style import Style


@dataclass(frozen=True, slots=True)
class OutputFile:
    """A file beside the page of a draft; the page offers it where there is a `download`."""

    name: str
    data: bytes
    download: Download | None = None


@dataclass(frozen=True, slots=True)
class Outputs:
    """All that was made of a draft beside its page: files by name, what the page offers, and what there is to say."""

    files: Mapping[str, bytes]
    downloads: tuple[Download, ...]
    findings: tuple[Finding, ...]


UNMET = ("check-fails", "seam-fails", "finished-fails")
"""Codes of findings on what a draft does not meet; a print of it says so."""

Needs = Literal["nothing", "lines", "all"]
"""How far a draft must have come: not at all; something is drawn; it has no error."""
Maker = Callable[["Settings", "Draft"], Iterator["OutputFile | Finding"]]


@dataclass(frozen=True, slots=True)
class _Output:
    names: tuple[str, ...]
    needs: Needs
    make: Maker


_OUTPUTS: list[_Output] = []


def output(*names: str, needs: Needs = "all") -> Callable[[Maker], Maker]:
    """Have a function called for every draft.

    Args:
        names: patterns of the names of its files, by which a catalogue whose manifest is lost knows its own.
        needs: how far the draft must have come.
    """

    def keep(make: Maker) -> Maker:
        _OUTPUTS.append(_Output(names, needs, make))
        return make

    return keep


def names_of_outputs() -> tuple[str, ...]:
    """Patterns of the names of all files that are made beside the page of a draft."""
    return tuple(name for each in _OUTPUTS for name in each.names)


def outputs_of(settings: Settings, draft: Draft) -> Outputs:
    """Everything that is made of a draft beside its page, in the order in which the page offers it."""
    drawn = bool(draft.pieces or draft.items) and not draft.missing
    whole = drawn and not any(f.is_error for f in draft.findings)
    come = {"nothing": True, "lines": drawn, "all": whole}
    made = [each for kind in _OUTPUTS if come[kind.needs] for each in kind.make(settings, draft)]
    files = [each for each in made if isinstance(each, OutputFile)]
    return Outputs(
        {each.name: each.data for each in files},
        tuple(each.download for each in files if each.download),
        tuple(each for each in made if isinstance(each, Finding)),
    )


@output("draft-*.pdf")
def sheets(settings: Settings, draft: Draft) -> Iterator[OutputFile | Finding]:
    """A PDF for each of the studio's papers."""
    from catalogue.sheets import SheetSettings, paper_named, sheet_pdf
    from catalogue.sheets.paper import Margins

    if not draft.pieces:
        return
    day = day_of(settings, draft)
    standing = tuple(f.message for f in wrong(draft) if f.severity is Severity.WARNING or f.code in UNMET)
    sheet_settings = SheetSettings(
        day,
        settings.name,
        language=settings.language,
        grid=settings.grid,
        warnings=(*draft.client.doubts, *standing),
    )
    for name in settings.papers:
        try:
            paper = paper_named(name)
            if settings.margin is not None:
                paper = paper._replace(margins=Margins(*[settings.margin] * 4))
            sheet = sheet_pdf(draft, paper, sheet_settings)
        except (KeyError, ValueError) as error:
            place = Place(f"{TEMPLATE}/studio.toml")
            yield Finding("paper", f"nothing can be printed on “{name}”: {error.args[0]}", place)
            continue
        file, about = f"draft-{paper.name}.pdf", "true scale, with a map and squares to check"
        yield OutputFile(
            file, sheet.data, Download("print", f"Print on {paper.title}", file, sheet.pages, about)
        )
        for finding in sheet.findings:
            yield _placed(finding, draft)


@output("fitting-sheet.pdf")
def fitting_sheet(settings: Settings, draft: Draft) -> Iterator[OutputFile]:
    """A page to take to the fitting."""
    from catalogue.lengths import show_length
    from catalogue.site.ease_chart import ease_view
    from catalogue.workroom.fitting_sheet import fitting_sheet_pdf

    if not draft.pieces:
        return
    day = day_of(settings, draft)
    view = ease_view(draft, partial(show_length, units=draft.client.units))
    ease = (*view.words, *(f"{r.name.capitalize()}: {r.garment} (body {r.body})" for r in view.lengths))
    data = fitting_sheet_pdf(draft, settings.name, settings.language, settings.alterations, ease, day)
    about = "to draw and write on at the fitting"
    yield OutputFile(
        "fitting-sheet.pdf", data, Download("fitting", "Fitting sheet", "fitting-sheet.pdf", 1, about)
    )


@output("draft.svg", needs="lines")
def drawing(settings: Settings, draft: Draft) -> Iterator[OutputFile]:
    """The whole pattern in one drawing."""
    from catalogue.days import day_words
    from catalogue.drawing.overview import draft_svg

    day = day_of(settings, draft)
    data = draft_svg(
        draft, day=day_words(day, settings.units.dates) if day else "", language=settings.language
    ).encode()
    about = "at true size, for a screen or a plotter"
    yield OutputFile(
        "draft.svg", data, Download("drawing", "The pattern as a drawing", "draft.svg", 0, about)
    )


@output("pieces.svg", needs="lines")
def picture(settings: Settings, draft: Draft) -> Iterator[OutputFile]:
    """The picture that pages show of the draft."""
    from catalogue.site.paths import PICTURE
    from catalogue.site.pictures import draft_picture

    shown = draft_picture(draft)
    if shown:
        yield OutputFile(PICTURE, shown.encode())


@output("draft.dxf", "exchange/*.svg")
def exchange(settings: Settings, draft: Draft) -> Iterator[OutputFile]:
    """Files for other machines, where the studio asks for them."""
    if not settings.exchange:
        return
    from catalogue.drawing.exchange import exchange_files

    day = day_of(settings, draft)
    for made in exchange_files(draft, settings.exchange, day=day.isoformat() if day else ""):
        kind: Literal["piece", "exchange"] = "piece" if made.one_piece else "exchange"
        yield OutputFile(made.name, made.data, Download(kind, made.what, made.name, 0, made.about))


@output("lay-*.svg")
def lay_pictures(settings: Settings, draft: Draft) -> Iterator[OutputFile | Finding]:
    """A picture of each cloth's lay, with how much cloth it takes; a warning where it would be too long to work out."""
    from catalogue.cloth.lay import MOST_CLOTH, lays
    from catalogue.cloth.picture import lay_picture
    from catalogue.cloth.words import length_to_buy, width_in, width_words
    from catalogue.drawing.labels import letters_of
    from catalogue.slugs import slugify

    stated = {use: width_in(words) for use, words in draft.style.cloth}
    widths = {use: width for use, width in stated.items() if width}
    letters = letters_of(list(draft.pieces.values()))
    units = draft.client.units
    for lay in lays(draft.pieces.values(), draft.cut_lines, widths):
        if lay.too_long:
            message = (
                f"The pieces of {lay.cloth} cloth take {MOST_CLOTH / 1000:g} m or more, so no lay is drawn. "
                "Cut fewer pieces of it, or check their lengths."
            )
            yield Finding("lay-too-long", message, severity=Severity.WARNING)
            continue
        whose = f"{lay.cloth.capitalize()} cloth needed"
        about = f"{length_to_buy(lay.length, units)}, {width_words(lay.width, units)} wide"
        if lay.too_wide:
            titles = ", ".join(draft.pieces[name].title for name in lay.too_wide)
            about += f"; too wide for it: {titles}"
        if lay.pieces:
            file = f"lay-{slugify(lay.cloth)}.svg"
            data = lay_picture(lay, letters, f"{draft.style.title}: {whose.lower()}", about).encode()
            yield OutputFile(file, data, Download("lay", whose, file, 0, about))


@output("draft.json", needs="nothing")
def figures(settings: Settings, draft: Draft) -> Iterator[OutputFile]:
    """The figures of a draft, for other programs."""
    from catalogue.drafting.record import draft_record

    data = in_lines(draft_record(draft)).encode()
    yield OutputFile(
        "draft.json", data, Download("figures", "Figures", "draft.json", 0, "for other programs")
    )


def in_lines(record: Mapping[str, Any]) -> str:
    """A record as JSON with a line for each part of its parts: a line for each value would take far longer to write."""
    rows = []
    for key, value in record.items():
        if isinstance(value, Mapping) and value:
            parts = ",\n".join(f"  {_json(name)}: {_json(part)}" for name, part in value.items())
            rows.append(f" {_json(key)}: {{\n{parts}\n }}")
        elif isinstance(value, list | tuple) and value:
            parts = ",\n".join(f"  {_json(part)}" for part in value)
            rows.append(f" {_json(key)}: [\n{parts}\n ]")
        else:
            rows.append(f" {_json(key)}: {_json(value)}")
    return "{\n" + ",\n".join(rows) + "\n}\n"


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)


def _placed(finding: Finding, draft: Draft) -> Finding:
    """A finding about the paper with the file it comes from: the client's when about the name, or the style's."""
    about_name = finding.code == "no-glyph" and any(
        f"U+{ord(c):04X}" in finding.message for c in draft.client.name
    )
    return replace(finding, place=Place(draft.client.file if about_name else draft.style.file))


def day_of(settings: Settings, draft: Draft) -> date | None:
    """The date on a draft: as settled for the studio, else when the client was last measured."""
    dates = [s.date for s in draft.client.sets if s.date is not None]
    day: date | None = settings.date or max(dates, default=None)
    return day


def wrong(draft: Draft) -> tuple[Finding, ...]:
    """What a draft has to say, and which of its checks fail."""
    from catalogue.language.wording import in_words

    style = draft.style
    found = list(draft.findings)
    for check in draft.checks:
        if not check.ok:
            found.append(_unmet("check-fails", f"“{check.text}” fails", check.detail, check.place, style))
    for seam in draft.seams:
        if not seam.ok:
            names = f"{in_words(seam.first)} and {in_words(seam.second)} do not match"
            found.append(_unmet("seam-fails", names, seam.detail, seam.place, style))
    for finished in draft.finished:
        if not finished.ok:
            name = f"the finished {in_words(finished.name)} does not meet its requirement"
            found.append(
                _unmet("finished-fails", name, finished.detail, finished.place or Place(style.file), style)
            )
    if style.cloth:
        from catalogue.cloth.narrow import width_findings

        found.extend(width_findings(draft))
    return tuple(dict.fromkeys(found))


def _unmet(code: str, what: str, detail: str, place: Place, style: Style) -> Finding:
    source = style.source_line(place.line) if place.file == style.file and place != Place(style.file) else ""
    return Finding(code, f"{what}: {detail}" if detail else what, place, source=source)
