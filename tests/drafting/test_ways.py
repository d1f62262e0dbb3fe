"""A style drafted several ways gives what drafting it each way by itself gives."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from catalogue.drafting import Draft, Step, draft_style, steps, ways
from catalogue.drafting.desk import Desk
from catalogue.drafting.ways import draft_ways
from catalogue.people import Client
from catalogue.site.extremes import values_drawn
from catalogue.site.neutral import standard_person
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from catalogue.studio.style import Choice, DraftLines, Section, Style
from tests.drafting.people_and_styles import DEMO_STYLES, demo_style, person
from tests.extent import few_of

SOURCE = """---
title: Sheet
choices:
  width: 20 cm (10 cm to 30 cm)
  tall: width + 5 cm (10 cm to 90 cm)
  shape: plain (plain, notched)
  unused: 1 cm (0 cm to 2 cm)
---
# One
```draft
a = start
b = width right from a
```
# Two
```draft
c = tall down from b
d = tall down from a
when shape is notched
  note "Notched" when width is more than 1 cm
piece sheet "Sheet", cut 1
  outline top: a to b
          right: b to c
          low: c to d
          left: d to a
sew sheet.left to sheet.right
finished width = width
```
# Three
```draft
allow 1 cm
check tall is more than 12 cm
```
"""


def each_way(style: Style) -> list[tuple[Choice, ...]]:
    return [
        tuple(replace(c, default=value) if c is choice else c for c in style.choices)
        for choice in style.choices
        for value in values_drawn(choice)
    ]


def told(draft: Draft) -> tuple[object, ...]:
    """What both kinds of draft have: no workings and their guides, cutting lines, rendered prose, walked seams."""
    steps = [(s.number, s.heading, s.section, s.paper, s.papers, s.operations) for s in draft.steps]
    findings = [f for f in draft.findings if f.code not in ("allowance-room", "seam-bend")]
    seams = [(s.first, s.second, s.place) for s in draft.seams]
    return (
        *(draft.style.choices, draft.choices, draft.values, draft.points, draft.paths, draft.pieces, steps),
        *(seams, draft.checks, draft.finished, findings, draft.missing),
    )


def apart(style: Style, choices: Sequence[Choice], client: Client | None = None) -> Draft:
    client = client or standard_person(style)
    return draft_style(replace(style, choices=tuple(choices)), client, Settings())


@pytest.mark.parametrize("slug", DEMO_STYLES)
def test_demo_styles_come_out_as_drafted_by_themselves(slug: str) -> None:
    style = demo_style(slug)
    choices = few_of(each_way(style))
    made = draft_ways(style, standard_person(style), Settings(), choices)
    assert len(made) == len(choices) >= 1
    for way, draft in zip(choices, made, strict=True):
        assert told(draft) == told(apart(style, way))


def sheet(source: str = SOURCE) -> Style:
    style = style_from(source.encode(), "sheet", "sheet.md")
    assert style.ok, [str(f) for f in style.findings]
    return style


def test_what_the_ways_have_in_common_is_drafted_once(monkeypatch: pytest.MonkeyPatch) -> None:
    drafted: list[int] = []
    real = steps.do_block

    def counted(block: DraftLines, section: Section, above: str, desk: Desk) -> Step:
        drafted.append(block.number)
        return real(block, section, above, desk)

    monkeypatch.setattr(ways, "do_block", counted)
    style = sheet()
    made = draft_ways(style, person(), Settings(), each_way(style))
    assert [told(d) for d in made] == [told(apart(style, way, person())) for way in each_way(style)]
    # Width is named in the first block, tall and shape in the second, the unused one nowhere. A width also changes
    # the tall that hangs on it; "plain" is what is taken anyhow.
    assert drafted.count(1) == 1 + 2
    assert drafted.count(2) == 1 + 2 + 2 + 1


def test_a_style_that_asks_for_too_much_is_drafted_as_far_as_it_goes(monkeypatch: pytest.MonkeyPatch) -> None:
    style = sheet()
    monkeypatch.setattr("catalogue.drafting.budget.BUDGET", 60)
    made = draft_ways(style, person(), Settings(), each_way(style))
    alone = [apart(style, way, person()) for way in each_way(style)]
    assert any(f.code == "too-much-work" for d in alone for f in d.findings)
    assert [d.pieces for d in made] == [d.pieces for d in alone]
    assert [any(f.is_error for f in d.findings) for d in made] == [
        any(f.is_error for f in d.findings) for d in alone
    ]


def test_a_choice_that_cannot_be_worked_out_is_told_of() -> None:
    style = sheet(SOURCE.replace("tall: width + 5 cm", "tall: widht + 5 cm"))
    made = draft_ways(style, person(), Settings(), each_way(style))
    assert [told(d) for d in made] == [told(apart(style, way, person())) for way in each_way(style)]
    assert any("widht" in f.message for f in made[0].findings)


def test_what_is_lacking_is_told_of() -> None:
    style = sheet(SOURCE.replace("width: 20 cm (", "width: hip_girth / 4 ("))
    made = draft_ways(style, person(), Settings(), each_way(style))
    assert {d.missing for d in made} == {("hip_girth",)}
