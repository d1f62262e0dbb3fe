"""Pictures beside style files: which of them go into the catalogue, and what is wrong with the others.

They come with style files, from strangers too. A picture of another kind than its name says, or a drawing that
could do anything but be looked at, is left out.
"""

from __future__ import annotations

import html
import re
import xml.parsers.expat
from collections.abc import Collection, Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from catalogue.building.picture_particulars import without_particulars
from catalogue.building.studio import STYLES, Studio, leads_outside
from catalogue.findings import Finding, Place, Severity, did_you_mean

if TYPE_CHECKING:
    from catalogue.studio.style import Style

LARGEST = 20_000_000
"""Bytes: a page with a larger picture opens too slowly to be of use."""
_BEGINNINGS = {
    ".png": rb"\x89PNG\r\n\x1a\n",
    ".jpg": rb"\xff\xd8\xff",
    ".jpeg": rb"\xff\xd8\xff",
    ".gif": rb"GIF8[79]a",
    ".webp": rb"RIFF....WEBP",
    ".avif": rb"....ftyp(avif|avis|mif1)",
}
"""How files of each kind begin (each format's own specification)."""
_LIVE = frozenset(
    {"script", "foreignobject", "iframe", "embed", "object", "handler", "listener", "audio", "video"}
)
_INSIDE = re.compile(r"#|data:image/(png|jpeg|gif|webp)[;,]", re.IGNORECASE)
_FETCHES = re.compile(r"@import|url\(\s*[\"']?(?!#|data:image/)", re.IGNORECASE)


class Pictures(NamedTuple):
    """Pictures that styles show: `good` ones by their path beside the style files; what is wrong with others.

    `left_out` are the names of the others.
    """

    good: Mapping[str, Path]
    findings: tuple[Finding, ...]
    left_out: frozenset[str] = frozenset()


def look_through(studio: Studio) -> Pictures:
    """The pictures of all styles."""
    found: dict[str, Path] = {}
    findings: list[Finding] = []
    left_out = set()
    for style in studio.styles:
        for name in _named(style):
            trouble = _trouble(studio, name)
            if trouble:
                findings.append(_finding(style, name, *trouble))
                left_out.add(name)
            else:
                found[name] = studio.root / STYLES / name
    return Pictures(found, tuple(findings), frozenset(left_out))


_SHOWN = re.compile(r'<img src="(?:\.\./)*pictures/([^"]*)" alt="([^"]*)" loading="lazy">')
"""A picture of a style's prose in a page, as `site/markdown.py` writes it."""


def without_left_out(page: str, left_out: Collection[str]) -> str:
    """A page with the words of a picture that is left out in place of it, so that no browser shows a broken one."""

    def shown(image: re.Match[str]) -> str:
        name = html.unescape(image[1])
        return f'<span class="no-picture">{image[2]}</span>' if name in left_out else image[0]

    return _SHOWN.sub(shown, page) if left_out else page


def _named(style: Style) -> Iterator[str]:
    """Paths of the pictures a style shows, each once."""
    from catalogue.site.story import story

    # Making prose ready takes time: only where a picture may be in it.
    inside = story(style).pictures if any("![" in line for line in style.lines) else ()
    yield from (name for name in dict.fromkeys((style.picture, *inside)) if name)


def _trouble(studio: Studio, name: str) -> tuple[str, str] | None:
    """What is wrong with a picture and a hint; None when it is good."""
    file, path = f"{STYLES}/{name}", studio.root / STYLES / name
    if file not in studio.files.digests:
        known = [p.removeprefix(f"{STYLES}/") for p, _ in studio.files.under(STYLES)]
        return f"there is no picture “{name}” beside the style files", did_you_mean(name, known)
    if leads_outside(path, studio.root / STYLES):
        return f"“{name}” is a link that leads out of the styles folder, so it is not followed", ""
    kind = path.suffix.lower()
    if kind != ".svg" and kind not in _BEGINNINGS:
        known_kinds = ", ".join(k.removeprefix(".") for k in (*_BEGINNINGS, ".svg"))
        return f"“{name}” is not a picture of a kind known here", f"Known: {known_kinds}."
    try:
        if path.stat().st_size > LARGEST:
            return (
                f"“{name}” is over {LARGEST // 1_000_000} MB: too large to show",
                "Make a smaller one of it.",
            )
        with path.open("rb") as stream:
            data = stream.read(LARGEST)
    except OSError as error:
        return f"“{name}” can't be read: {error.strerror}", ""
    if kind == ".svg":
        reason = unsafe_svg(data)
        return (f"“{name}” is not shown: {reason}", "Save it as a plain drawing.") if reason else None
    if not re.match(_BEGINNINGS[kind], data, re.DOTALL):
        return f"“{name}” is not the kind of file its name says", f"It does not begin like a {kind[1:]} file."
    try:
        without_particulars(data, kind)
    except ValueError as error:
        return f"“{name}” is not shown: {error}", "Save it again as a picture."
    return None


def unsafe_svg(data: bytes) -> str:
    """Why an SVG drawing is more than a drawing; "" when it is none.

    Opened alone, a drawing with a script runs it, and may fetch what it names.
    """
    parser = xml.parsers.expat.ParserCreate()
    reasons: list[str] = []

    def element(name: str, attributes: dict[str, str]) -> None:
        plain = name.rpartition(":")[2].lower()
        if plain in _LIVE:
            reasons.append(f"it holds a “{plain}”")
        for key, value in attributes.items():
            bare = key.rpartition(":")[2].lower()
            if bare.startswith("on"):
                reasons.append(f"it runs something at “{bare}”")
            # A link's target may be set by an animation too.
            linked = bare in ("href", "src") or (bare in ("to", "from", "values", "by") and ":" in value)
            if (linked and not _INSIDE.match(value.strip())) or _FETCHES.search(value):
                reasons.append(f"it leads to “{value.strip()[:60]}”")

    def doctype(_name: str, _system: str | None, _public: str | None, declares: bool) -> None:
        if declares:
            reasons.append("it declares names of its own")

    def instruction(target: str, _data: str) -> None:
        if target.lower().startswith("xml-style"):
            reasons.append("it names a style sheet outside")

    def words(text: str) -> None:
        if _FETCHES.search(text):
            reasons.append("its style fetches something")

    parser.StartElementHandler = element
    parser.StartDoctypeDeclHandler = doctype
    parser.ProcessingInstructionHandler = instruction
    parser.CharacterDataHandler = words
    parser.buffer_text = True
    try:
        parser.Parse(data, True)
    except (xml.parsers.expat.ExpatError, ValueError, LookupError) as error:
        reasons.append(f"it is not well-formed SVG ({error})")
    return reasons[0] if reasons else ""


def _finding(style: Style, name: str, message: str, hint: str) -> Finding:
    line = next((n for n, row in enumerate(style.lines, 1) if name in row), 1)
    source = style.source_line(line)
    place = Place(style.file, line, max(source.find(name), 0) + 1)
    return Finding("picture", message, place, hint, Severity.WARNING, source)
