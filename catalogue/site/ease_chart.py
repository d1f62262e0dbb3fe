"""The ease of a garment from bust to hem on the page of a draft: a chart of body and garment, and the same in words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from markupsafe import Markup, escape

from catalogue.drafting.girth_profile import GirthLevel, girth_profile
from catalogue.drafting.model import Draft
from catalogue.drawing.markup import tenths, titled

WIDE, ROW, LEFT, TOP = 420.0, 34.0, 130.0, 18.0
"""px: width of the chart between its labels, height of a level, room for names and above."""


SURELY = 10.0
"""mm: a garment that is short by less of a girth that was only estimated may well fit."""


@dataclass(frozen=True, slots=True)
class EaseRow:
    """A level of the garment, lengths as the client reads them; `estimated` where the body was not measured there."""

    name: str
    body: str
    garment: str
    ease: str
    estimated: bool


@dataclass(frozen=True, slots=True)
class EaseView:
    """The ease of a garment: its levels, a chart of them, and sentences on where it is tight or loose."""

    rows: tuple[EaseRow, ...] = ()
    words: tuple[str, ...] = ()
    chart: Markup = field(default_factory=Markup)


def ease_view(draft: Draft, show: Callable[[float], str]) -> EaseView:
    """The ease of a draft; empty where its pieces name no levels."""
    levels = girth_profile(draft)
    if not levels:
        return EaseView()
    rows = tuple(
        EaseRow(each.name, show(each.body), show(each.garment), show(each.ease), each.estimated)
        for each in levels
    )
    return EaseView(rows, ease_words(levels, show), _chart(levels, rows))


def ease_words(levels: Sequence[GirthLevel], show: Callable[[float], str]) -> tuple[str, ...]:
    """Where the garment is tight or loose, in sentences."""
    measured = [each for each in levels if not each.estimated]
    told = [
        f"{show(-each.ease)} short {_place(each)}{', where the body is estimated' if each.estimated else ''}."
        for each in levels
        if each.ease < (-SURELY if each.estimated else -0.5)
    ]
    if not measured:
        return tuple(told)
    tight, loose = min(measured, key=lambda each: each.ease), max(measured, key=lambda each: each.ease)
    if tight.ease >= -0.5:
        told.append(f"Tightest {_place(tight)}, with {show(tight.ease)} of ease.")
    if loose.ease > tight.ease + 5.0:
        told.append(f"Loosest {_place(loose)}, with {show(loose.ease)}.")
    return tuple(told)


def _place(level: GirthLevel) -> str:
    if not level.estimated:
        return f"at the {level.name}"
    where, _, name = level.name.partition(" ")
    return f"{where} the {name}"


def _chart(levels: Sequence[GirthLevel], rows: Sequence[EaseRow]) -> Markup:
    """Girths as lines from level to level: the body dashed, the garment in ink."""
    most = max(max(each.garment, each.body) for each in levels)
    least = 0.8 * min(min(each.garment, each.body) for each in levels)

    def x(mm: float) -> str:
        return tenths(LEFT + (mm - least) / (most - least) * WIDE)

    heights = [TOP + n * ROW for n in range(len(levels))]
    parts = []
    for each, row, y in zip(levels, rows, heights, strict=True):
        parts.append(f'<text x="0" y="{tenths(y + 4)}">{escape(row.name)}</text>')
        level = f'd="M{tenths(LEFT)} {tenths(y)}H{x(max(each.garment, each.body))}"'
        parts.append(
            f'<path fill="none" stroke="currentColor" stroke-width="0.5" stroke-opacity="0.4" {level}/>'
        )
        parts.append(f'<text x="{tenths(LEFT + WIDE + 10)}" y="{tenths(y + 4)}">{escape(row.ease)}</text>')
    for kind, girths in (("before", [e.body for e in levels]), ("new", [e.garment for e in levels])):
        line = "L".join(f"{x(mm)} {tenths(y)}" for mm, y in zip(girths, heights, strict=True))
        parts.append(
            f'<g class="{kind}"><path fill="none" stroke="currentColor" {_DASH[kind]}d="M{line}"/></g>'
        )
    words = ". ".join(f"{r.name}: body {r.body}, garment {r.garment}" for r in rows) + "."
    attributes, said = titled("Girths of body and garment", words, "ease-chart")
    wide, high = LEFT + WIDE + 80, heights[-1] + TOP
    return Markup(
        f'<svg class="paper" viewBox="0 0 {wide:.0f} {high:.0f}" width="{wide:.0f}" height="{high:.0f}" '
        f'font-size="13" {attributes}>{said}{"".join(parts)}</svg>'
    )


_DASH = {"before": 'stroke-dasharray="6 4" ', "new": 'stroke-width="2" '}
