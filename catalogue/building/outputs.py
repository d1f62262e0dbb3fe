"""What is made of a draft beside its page (drawings, sheets, lays, exchange files), and what is wrong with it.

Heavy rooms are called in where they are used: a check drafts without them.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, Any

from catalogue.building.studio import TEMPLATE
from catalogue.findings import Finding, Place, Severity

if TYPE_CHECKING:
    from catalogue.drafting import Draft
    from catalogue.studio.settings import Settings
    from catalogue.studio.style import Style


def drawings(
    settings: Settings, draft: Draft, picture_of: Callable[[Draft], str]
) -> tuple[dict[str, bytes], list[list[Any]], list[Finding]]:
    """Drawings and figures of a draft, what the page says of each, and what there was to say about the paper."""
    from catalogue.drafting.record import draft_record

    files: dict[str, bytes] = {}
    downloads: list[list[Any]] = []
    findings: list[Finding] = []
    drawn = bool(draft.pieces or draft.items) and not draft.missing
    whole = drawn and not any(f.is_error for f in draft.findings)
    if whole and draft.pieces:
        files, downloads, findings = _sheets(settings, draft)
    if drawn:
        from catalogue.drawing.overview import draft_svg
        from catalogue.sheets.sheet import day_words
        from catalogue.site.paths import PICTURE

        day = day_of(settings, draft)
        language = settings.language
        files["draft.svg"] = draft_svg(draft, day=day_words(day) if day else "", language=language).encode()
        downloads.append(
            ["draft.svg", "The pattern as a drawing", 0, "at true size, for a screen or a plotter"]
        )
        picture = picture_of(draft)
        if picture:
            files[PICTURE] = picture.encode()
    if whole and settings.exchange:
        from catalogue.drawing.exchange import exchange_files

        day = day_of(settings, draft)
        for made in exchange_files(draft, settings.exchange, day=day.isoformat() if day else ""):
            files[made.name] = made.data
            downloads.append([made.name, made.what, 0, made.about])
    if whole:
        for name, data, what, about in lay_files(draft, findings):
            files[name] = data
            downloads.append([name, what, 0, about])
    files["draft.json"] = in_lines(draft_record(draft)).encode()
    downloads.append(["draft.json", "Figures", 0, "for other programs"])
    return files, downloads, findings


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


def lay_files(draft: Draft, findings: list[Finding]) -> Iterator[tuple[str, bytes, str, str]]:
    """A picture of each cloth's lay: file, content, whose lay it is, and how much cloth it takes.

    `findings` gets a warning for each cloth whose lay would be too long to work out.
    """
    from catalogue.cloth import MOST_CLOTH, lay_picture, lays, length_to_buy, width_in, width_words
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
            findings.append(Finding("lay-too-long", message, severity=Severity.WARNING))
            continue
        whose = f"{lay.cloth.capitalize()} cloth needed"
        about = f"{length_to_buy(lay.length, units)}, {width_words(lay.width, units)} wide"
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


def _sheets(settings: Settings, draft: Draft) -> tuple[dict[str, bytes], list[list[Any]], list[Finding]]:
    from catalogue.sheets import SheetSettings, paper_named, sheet_pdf
    from catalogue.sheets.paper import Margins

    files: dict[str, bytes] = {}
    downloads: list[list[Any]] = []
    findings: list[Finding] = []
    said = SheetSettings(
        day_of(settings, draft), settings.name, language=settings.language, grid=settings.grid
    )
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
    return tuple(dict.fromkeys(found))


def _unmet(code: str, what: str, detail: str, place: Place, style: Style) -> Finding:
    source = style.source_line(place.line) if place.file == style.file and place != Place(style.file) else ""
    return Finding(code, f"{what}: {detail}" if detail else what, place, source=source)
