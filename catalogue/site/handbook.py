"""The handbook's chapters, and the words of the drafting language with their examples drafted and drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, ClassVar

from markupsafe import Markup

from catalogue.between_runs import kept
from catalogue.lengths import show_length
from catalogue.site.figures import step_figures
from catalogue.site.markdown import plain
from catalogue.site.page import Page
from catalogue.site.story import story
from catalogue.site.words import in_words
from catalogue.studio.reading import AUDIENCES
from catalogue.studio.setting_values import PAPERS
from catalogue.studio.settings import Settings
from catalogue.studio.signs import MARKS, PARTS
from catalogue.trade_names import GROUPS

if TYPE_CHECKING:
    from catalogue.drafting import Draft
    from catalogue.handbook import Entry
    from catalogue.handbook.alterations import AlterationExample


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter: `slug` is its folder and the name of its template."""

    slug: str
    title: str
    about: str


@dataclass(frozen=True, slots=True)
class WordEntry:
    """A word of the drafting language, explained.

    Attributes:
        id: for links to it.
        group: heading under which it stands.
        title: what it does, as a heading.
        form: how it is written.
        does: one to three sentences.
        example: source of a small example.
        figure: the drawing that the example gives; empty when it draws nothing.
        workings: names and results of the example, for one that only reckons.
        called: what else people call it, to find it by.
        files: style files that the example is cut from, by their names.
    """

    id: str
    group: str
    title: str
    form: str
    does: str
    example: str
    figure: str = ""
    workings: tuple[tuple[str, str], ...] = ()
    called: str = ""
    files: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class AlterationView:
    """An alteration, explained and carried out on a plain garment.

    Attributes:
        names: phrases by which a client's file may call it.
        usual, limit: lengths in both systems.
        text: its prose.
        drawing: the sign on the body, and `drawing_words`, what its marks stand for; empty where there is none.
        figure: the pieces that it changes, before and after; empty where the sample lacks what it needs.
        needs: the landmarks that it works on.
        code: its draft blocks.
    """

    slug: str
    title: str
    names: tuple[str, ...]
    sign: str
    pin: str
    amount: str
    usual: str
    limit: str
    sides: str
    belongs: str
    turn: str
    edges: int
    follows: str
    source: str
    text: Markup
    figure: Markup
    operations: tuple[str, ...]
    needs: tuple[str, ...]
    code: str
    drawing: Markup
    drawing_words: str


@dataclass(frozen=True, slots=True)
class StageView:
    """A stage of the printed draft: `book` holds points, rule and stated figure, `workings` names and results."""

    title: str
    book: tuple[tuple[str, str, str], ...]
    how: str
    code: str
    figure: str
    workings: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class PrintedDraft:
    """A draft from a book: what its style file begins with, its stages, and text and detail of each of its checks."""

    front_matter: str
    stages: tuple[StageView, ...]
    checks: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class ProseInTwoWays:
    """Prose with conditions as it is written, and as it is read: the options, and its HTML."""

    written: str
    ways: tuple[tuple[str, Markup], ...]


@dataclass(frozen=True, slots=True)
class ContentsPage(Page):
    """The first page of the handbook."""

    template: ClassVar = "handbook/index.html"
    here: ClassVar = "handbook"
    chapters: Sequence[Chapter]


@dataclass(frozen=True, slots=True)
class ChapterPage(Page):
    """A chapter of the handbook, which has a template of its own.

    Attributes:
        words: every word of the language, in the chapter on it.
        news: each version's name and what it brings, in the chapter on that.
        printed: the draft from a book, in the chapter on that.
        prose: text with conditions, and what it is for two clients, in the chapter on style files.
        alterations: every alteration, under the headings of the trade's order, in the chapter on fitting.
        sign_parts, sign_marks: what the drawing of a sign may consist of.
        kinds: people that a style may be for.
        papers: names of the papers.
        trade_names: the names used here with the other names for the same, under what they are names of.
    """

    here: ClassVar = "handbook"
    chapter: Chapter
    chapters: Sequence[Chapter]
    words: Sequence[WordEntry]
    news: Sequence[tuple[str, Markup]]
    printed: PrintedDraft | None
    prose: ProseInTwoWays | None
    alterations: Sequence[tuple[str, Sequence[AlterationView]]]
    sign_parts: Sequence[str]
    sign_marks: Sequence[str]
    settings: Settings
    kinds: Sequence[str]
    papers: Sequence[str]
    trade_names: Sequence[tuple[str, Sequence[tuple[str, str]]]]

    @property
    def template(self) -> str:  # type: ignore[override]
        return f"handbook/{self.chapter.slug}.html"


def handbook_pages(settings: Settings) -> Iterator[Page]:
    """Every page of the handbook."""
    yield ContentsPage("handbook/index.html", CHAPTERS)
    for chapter in CHAPTERS:
        words = kept("language", (), language) if chapter.slug == "language" else ()
        new = news() if chapter.slug == "what-is-new" else ()
        book = kept("printed", (), printed) if chapter.slug == "from-a-printed-draft" else None
        altered = kept("alterations", (), alterations) if chapter.slug == "fitting" else ()
        path = chapter_path(chapter)
        yield ChapterPage(
            path,
            chapter,
            CHAPTERS,
            words,
            new,
            book,
            in_two_ways() if chapter.slug == "style-files" else None,
            altered,
            PARTS,
            MARKS,
            settings,
            AUDIENCES,
            tuple(PAPERS),
            names_of_the_trade() if chapter.slug == "names" else (),
        )


def names_of_the_trade() -> Sequence[tuple[str, Sequence[tuple[str, str]]]]:
    """(what it is, [(name used here, other names)]), as `ChapterPage.trade_names`."""
    rows = {title: [row.partition(", ") for row in group] for title, group in GROUPS.items()}
    return [(title, [(here, others) for here, _, others in group]) for title, group in rows.items()]


TURN_WORDS = {
    "length": "Length",
    "shoulder": "Shoulder and neck",
    "bust": "Bust",
    "rest": "Width and the rest",
}
"""Headings of the alterations, in the trade's order."""


@cache
def alterations() -> Sequence[tuple[str, Sequence[AlterationView]]]:
    """Every alteration in the trade's order, each carried out by the program itself."""
    from catalogue.handbook.alterations import alteration_examples

    views: dict[str, list[AlterationView]] = {turn: [] for turn in TURN_WORDS}
    for example in alteration_examples():
        views[example.alteration.turn].append(_alteration_view(example))
    return tuple((TURN_WORDS[turn], tuple(found)) for turn, found in views.items() if found)


def _alteration_view(example: AlterationExample) -> AlterationView:
    from catalogue.drawing.fitting_signs import sign_svg, sign_words
    from catalogue.lengths import Unit, Units
    from catalogue.site.fittings import before_and_after
    from catalogue.site.markdown import plain as in_html

    alteration, done = example.alteration, example.done
    both = Units(Unit.MM, 16, both=True)
    low, high = (show_length(mm, both) for mm in alteration.usual)
    prose = "\n\n".join((alteration.prose, *(step.prose for step in alteration.steps)))
    pieces = () if done is None else (done.before, done.after)
    return AlterationView(
        alteration.slug,
        alteration.title,
        alteration.names,
        alteration.sign,
        alteration.pin,
        alteration.amount,
        f"{low} to {high}",
        show_length(alteration.limit, both),
        "on one side or on both" if alteration.one_sided else "on both sides alike",
        "to the body" if alteration.on_the_body else "to the garment",
        alteration.turn,
        alteration.edges,
        alteration.follows,
        alteration.source,
        in_html(prose),
        before_and_after(*pieces, f"shown-{alteration.slug}", alteration.title, FIGURE)
        if pieces
        else Markup(""),
        () if done is None else done.operations,
        tuple(dict.fromkeys(name for step in alteration.steps for name in step.landmarks)),
        "\n\n".join(step.source for step in alteration.steps),
        sign_svg(alteration.drawing, f"sign-{alteration.slug}", alteration.sign)
        if alteration.drawing
        else Markup(""),
        sign_words(alteration.drawing) if alteration.drawing else "",
    )


FIGURE = (560.0, 300.0)
"""Width and height that the figure of an alteration may take, px."""


@cache
def printed() -> PrintedDraft:
    """The draft from a book, drafted by the program itself."""
    from catalogue.handbook.printed_draft import FRONT_MATTER, STAGES, printed_draft

    draft = printed_draft()

    def show(mm: float) -> str:
        return show_length(mm, draft.client.units)

    figures = step_figures(draft, show, "stage-", ROOM)
    stages: list[StageView] = []
    for stage, step in zip(STAGES, draft.steps, strict=True):
        drawn = figures.steps.get(step.number)
        svg = drawn.svg if drawn else ""
        if not stages:
            svg = figures.definitions + svg
        workings = tuple((in_words(w.name), w.text) for w in step.workings)
        stages.append(StageView(stage.title, stage.book, stage.how, stage.code, svg, workings))
    return PrintedDraft(FRONT_MATTER, tuple(stages), tuple((c.text, c.detail) for c in draft.checks))


@cache
def in_two_ways() -> ProseInTwoWays:
    """The example of prose that depends on the client, drafted by the program itself."""
    from catalogue.handbook.prose_example import PROSE, prose_examples

    ways = []
    for options, draft in prose_examples():
        told = story(draft.style)
        ways.append((options, told.html(told.closing[-1], draft.rendered, draft.holding, "")))
    return ProseInTwoWays(PROSE, tuple(ways))


@cache
def news() -> tuple[tuple[str, Markup], ...]:
    """Each version's name, the newest first, and what it brings."""
    from catalogue.handbook import versions

    # Markdown's headings are set two steps lower than written; here they stand right below the version's.
    return tuple((each.name, plain(each.text.replace("### ", "# "))) for each in versions())


@cache
def language() -> tuple[WordEntry, ...]:
    """Every word of the language, its example drafted by the program itself."""
    from catalogue.handbook import draft_example, entries

    return tuple(_word(entry, draft_example(entry)) for entry in entries())


def _word(entry: Entry, draft: Draft) -> WordEntry:

    def show(mm: float) -> str:
        return show_length(mm, draft.client.units)

    id = _id(entry)
    figures = step_figures(draft, show, f"{id}-", ROOM)
    drawn = [f.svg for f in figures.steps.values() if f.svg]
    figure = figures.definitions + drawn[-1] if drawn else ""
    workings = tuple((in_words(w.name), w.text) for s in draft.steps for w in s.workings)
    example = entry.example.strip("\n")
    if entry.cut_from:
        example = "\n".join(("cut from:", *(f"  {line}" for line in entry.cut_from), "", example))
    files = tuple((f"{slug}.md", text.strip()) for slug, text in entry.blocks)
    return WordEntry(
        id,
        entry.group,
        entry.title,
        entry.form,
        entry.about,
        example,
        figure,
        workings,
        entry.called,
        files,
    )


ROOM = (460.0, 340.0)  # px that an example's drawing may take
CHAPTERS = (
    Chapter(
        "first-style",
        "Your first style",
        "From an empty file to a skirt panel on paper, line by line.",
    ),
    Chapter(
        "from-a-printed-draft",
        "From a printed draft to a style file",
        "A draft from an old cutting book, point by point, to a piece on paper.",
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
        "blocks",
        "Blocks and parts",
        "Drafting a bodice, a sleeve or a collar once, and cutting many styles from it.",
    ),
    Chapter(
        "clients", "Client files", "How a client's measurements, choices and fitting notes are written down."
    ),
    Chapter(
        "fitting",
        "Fitting",
        "From the pins on the body back to the paper: every alteration, drawn before and after.",
    ),
    Chapter(
        "sizes", "Tables of sizes", "A studio's own sizes in one file, and all of them printed on one sheet."
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
    Chapter(
        "names",
        "Names of the trade",
        "The names that others use, in Britain, in America and at home, and the name used here.",
    ),
    Chapter("what-is-new", "What is new", "What each version of this program brings."),
)


def chapter_path(chapter: Chapter) -> str:
    return f"handbook/{chapter.slug}/index.html"


def looked_up() -> list[tuple[str, str, str, str]]:
    """What search finds in the handbook, as `search.Entry`: its chapters, and the words of the language."""
    from catalogue.handbook import entries

    kind = "drafting language"
    words = [
        (
            e.title,
            f"handbook/language/index.html#{_id(e)}",
            kind,
            f"{e.form} {e.called}".strip(),
        )
        for e in entries()
    ]
    names = " ".join(row for rows in GROUPS.values() for row in rows)
    chapters = [
        (c.title, chapter_path(c), "handbook", f"{c.about} {names}" if c.slug == "names" else c.about)
        for c in CHAPTERS
    ]
    return [*chapters, *words]


def _id(entry: Entry) -> str:
    return f"word-{entry.word.replace('_', '-')}"
