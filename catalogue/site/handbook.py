"""The handbook's chapters, and the entries of the language that other rooms fill in."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from catalogue.slugs import slugify


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter: `slug` is its folder and the name of its template."""

    slug: str
    title: str
    about: str


@dataclass(frozen=True, slots=True)
class Word:
    """A word of the drafting language, explained.

    Attributes:
        word: as it is written.
        does: what it does, one or two sentences.
        example: source of a small example.
        figure: the drawing that the example gives, as SVG made by this program; None when it draws nothing.
        group: heading under which it stands ("Points", "Curves", "Pieces").
    """

    word: str
    does: str
    example: str = ""
    figure: Markup | None = None
    group: str = ""

    @property
    def id(self) -> str:
        return f"word-{slugify(self.word, 'w')}"


CHAPTERS = (
    Chapter(
        "first-style",
        "A first style from nothing",
        "From an empty file to a skirt panel on paper, line by line.",
    ),
    Chapter(
        "style-files",
        "Style files",
        "The parts of a style file: its heading, choices, prose and draft blocks.",
    ),
    Chapter(
        "language", "The drafting language", "Every word, what it does, and a small example with its drawing."
    ),
    Chapter(
        "clients", "Client files", "How a client's measurements, choices and fitting notes are written down."
    ),
    Chapter(
        "settings",
        "Studio settings",
        "The studio's name, units, paper, colour and allowances; your own page templates.",
    ),
    Chapter(
        "printing",
        "Printing and taping",
        "Checking the scale, trimming and taping the sheets, cutting safely.",
    ),
    Chapter(
        "draft-json",
        "Reading draft.json",
        "The figures of every draft for other programs: fields, units, an example.",
    ),
)


def chapter_path(chapter: Chapter) -> str:
    return f"handbook/{chapter.slug}/index.html"
