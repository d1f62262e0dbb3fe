"""The ease of a garment from shoulder to hem on the page of a draft: a chart of girths, lengths, and both in words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from markupsafe import Markup, escape

from catalogue.drafting.body_lengths import LengthBeside, lengths_beside
from catalogue.drafting.girth_profile import GirthLevel, girth_profile
from catalogue.drafting.model import Draft
from catalogue.drawing.markup import tenths, titled

WIDE, ROW, LEFT, TOP = 420.0, 34.0, 130.0, 18.0
"""px: width of the chart between its labels, height of a level, room for names and above."""


SURELY_LENGTH, MUCH = 3.0, 25.0
"""mm from which a width or length counts as short, and a length as much longer than the body's."""
SURELY = 10.0
"""mm: a garment that is short by less of a girth that was only estimated may well fit."""


@dataclass(frozen=True, slots=True)
class EaseRow:
    """A level, width or length of the garment, as the client reads it; `estimated` where the body was not measured."""

    name: str
    body: str
    garment: str
    ease: str
    estimated: bool


@dataclass(frozen=True, slots=True)
class EaseView:
    """The ease of a garment: its levels, a chart of them, widths and lengths, and what is tight or loose in words."""

    rows: tuple[EaseRow, ...] = ()
    words: tuple[str, ...] = ()
    chart: Markup = field(default_factory=Markup)
    lengths: tuple[EaseRow, ...] = ()


def ease_view(draft: Draft, show: Callable[[float], str]) -> EaseView:
    """The ease of a draft; empty where its pieces name neither levels nor landmarks."""
    levels, lengths = girth_profile(draft), lengths_beside(draft)
    rows = tuple(
        EaseRow(
            each.name,
            show(each.body) if each.body is not None else "",
            show(each.garment),
            show(each.ease) if each.ease is not None else "",
            each.estimated,
        )
        for each in levels
    )
    beside = tuple(
        EaseRow(each.name, show(each.body), show(each.garment), _more(each.ease, show), False)
        for each in lengths
    )
    words = (*ease_words(levels, show), *length_words(lengths, show))
    return EaseView(rows, words, _chart(levels, rows) if levels else Markup(""), beside)


def _more(mm: float, show: Callable[[float], str]) -> str:
    return show(mm) if mm < 0 else f"+{show(mm)}"


def ease_words(levels: Sequence[GirthLevel], show: Callable[[float], str]) -> tuple[str, ...]:
    """Where the garment is tight or loose round the body, in sentences."""
    compared = [(each, each.ease) for each in levels if each.ease is not None]
    told = [
        f"{show(-ease)} short {_place(each)}{', where the body is estimated' if each.estimated else ''}."
        for each, ease in compared
        if ease < (-SURELY if each.estimated else -0.5)
    ]
    measured = [(each, ease) for each, ease in compared if not each.estimated]
    if measured:
        (tight, least), (loose, most) = (pick(measured, key=lambda pair: pair[1]) for pick in (min, max))
        if least >= -0.5:
            told.append(f"Tightest {_place(tight)}, with {show(least)} of ease.")
        if most > least + 5.0:
            told.append(f"Loosest {_place(loose)}, with {show(most)}.")
    hem = next((each for each in levels if each.name == "hem"), None)
    if hem is not None:
        told.append(f"The hem is {show(hem.garment)} round.")
    return tuple(told)


def length_words(lengths: Sequence[LengthBeside], show: Callable[[float], str]) -> tuple[str, ...]:
    """What is short or narrow for the body, and what is much longer, in sentences."""
    told = []
    for each in lengths:
        if each.ease < -SURELY_LENGTH:
            lacks = "shorter than the body" if each.is_length else "too narrow"
            told.append(f"{each.name.capitalize()}: {show(-each.ease)} {lacks}.")
        elif each.is_length and each.ease > MUCH:
            told.append(f"{each.name.capitalize()}: {show(each.ease)} longer than the body.")
    return tuple(told)


def _place(level: GirthLevel) -> str:
    if not level.estimated:
        return f"at the {level.name}"
    where, _, name = level.name.partition(" ")
    return f"{where} the {name}"


def _chart(levels: Sequence[GirthLevel], rows: Sequence[EaseRow]) -> Markup:
    """Girths as lines from level to level: the body dashed, the garment in ink."""
    figures = [mm for each in levels for mm in (each.garment, each.body) if mm is not None]
    most, least = max(figures), 0.8 * min(figures)

    def x(mm: float) -> str:
        return tenths(LEFT + (mm - least) / (most - least) * WIDE)

    heights = [TOP + n * ROW for n in range(len(levels))]
    parts = []
    for each, row, y in zip(levels, rows, heights, strict=True):
        parts.append(f'<text x="0" y="{tenths(y + 4)}">{escape(row.name)}</text>')
        level = f'd="M{tenths(LEFT)} {tenths(y)}H{x(max(each.garment, each.body or 0.0))}"'
        parts.append(
            f'<path fill="none" stroke="currentColor" stroke-width="0.5" stroke-opacity="0.4" {level}/>'
        )
        parts.append(f'<text x="{tenths(LEFT + WIDE + 10)}" y="{tenths(y + 4)}">{escape(row.ease)}</text>')
    for kind, girths in (("before", [e.body for e in levels]), ("new", [e.garment for e in levels])):
        points = [(x(mm), tenths(y)) for mm, y in zip(girths, heights, strict=True) if mm is not None]
        line = "L".join(f"{a} {b}" for a, b in points)
        parts.append(
            f'<g class="{kind}"><path fill="none" stroke="currentColor" {_DASH[kind]}d="M{line}"/></g>'
        )
    words = (
        ". ".join(f"{r.name}: {f'body {r.body}, ' if r.body else ''}garment {r.garment}" for r in rows) + "."
    )
    attributes, said = titled("Girths of body and garment", words, "ease-chart")
    wide, high = LEFT + WIDE + 80, heights[-1] + TOP
    return Markup(
        f'<svg class="paper" viewBox="0 0 {wide:.0f} {high:.0f}" width="{wide:.0f}" height="{high:.0f}" '
        f'font-size="13" {attributes}>{said}{"".join(parts)}</svg>'
    )


_DASH = {"before": 'stroke-dasharray="6 4" ', "new": 'stroke-width="2" '}
