"""What the drafting tests share: the demo studio, people made to measure, and styles written in a few lines."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from catalogue.drafting.drafter import draft_style
from catalogue.drafting.model import Draft
from catalogue.findings import Place
from catalogue.lengths import Unit, Units, parse_length
from catalogue.people import Client, Measured
from catalogue.people.client import Chosen
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style
from catalogue.studio.suiting import suits
from tests.demo import CLIENT_FILES, demo_client, demo_styles

ROOT = Path(__file__).parents[2]
INCH = 25.4
NOWHERE = Place("clients/made-up.md", 1)


@cache
def _demo_studio() -> dict[str, Style]:
    return {style.slug: style for style in demo_styles()}


def demo_style(slug: str) -> Style:
    """A style of the demo studio, with the blocks it is cut from."""
    return _demo_studio()[slug]


DEMO_STYLES = sorted(p.stem for p in (ROOT / "styles").glob("*.md"))
DEMO_CLIENTS = [path.stem for path in CLIENT_FILES]


@cache
def demo_draft(style: str, client: str) -> Draft:
    """The draft of a demo style for a demo client, made once for all tests of a process: it can't be changed."""
    return draft(demo_style(style), demo_client(client))


def suited() -> list[tuple[str, str]]:
    """Each demo style with each demo client it is meant for."""
    return [
        (style, client)
        for style in DEMO_STYLES
        for client in DEMO_CLIENTS
        if suits(demo_style(style), demo_client(client))
    ]


def person(unit: Unit = Unit.CM, kind: str = "woman", **measured: str) -> Client:
    """A client with the given measurements, written as in a client file: bust_girth="38 1/2 in"."""
    values = {key: Measured(parse_length(text, unit), text, None, NOWHERE) for key, text in measured.items()}
    return Client("made-up", "clients/made-up.md", "Made Up", kind, Units(unit), measurements=values)


def with_choices(client: Client, style: str, **choices: str) -> Client:
    """The client choosing for a style; names as in formulas: waist_ease="2 cm"."""
    taken = {k.replace("_", " "): Chosen(v, NOWHERE, NOWHERE) for k, v in choices.items()}
    return replace(client, choices={**client.choices, style: taken})


def style_of(block: str, front: str = "") -> Style:
    """A style with one draft block. The block's first line is line `FIRST_LINE` of the file when `front` is empty."""
    text = f"---\ntitle: Sample\n{front}---\n\n# Draft\n\n```draft\n{block}\n```\n"
    return style_from(text.encode(), "sample", "styles/sample.md")


FIRST_LINE = 8


def draft(style: Style | str, client: Client, front: str = "") -> Draft:
    return draft_style(style_of(style, front) if isinstance(style, str) else style, client, Settings())
