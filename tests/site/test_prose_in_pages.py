"""Prose with conditions where it is shown: on the page of a draft and of a style, and on the job ticket."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from catalogue.site.drafted import draft_view
from catalogue.site.markdown import Rendered
from catalogue.site.story import MOST_WAYS, ToldProse, story
from catalogue.site.style_pages import style_page
from catalogue.studio.prose import Prose
from catalogue.studio.reading import style_from
from catalogue.studio.style import Style
from catalogue.workroom.ticket import work_steps
from tests.drafting.people_and_styles import draft, person, with_choices

STYLE = """---
title: Skirt
garment: skirt
notions: 20 cm zip; {when vent is yes} hook and eye; thread
choices:
  vent: yes (yes, no)
---

{when vent is yes} It has a vent of {lap}. {otherwise} It has none.

# Drafting

## Vent
{when vent is yes} The lap is {lap} wide.

```draft
lap = by vent: yes 5 cm, otherwise 0 cm
```

## Only with a vent
{when vent is yes} Both laps are alike.

## Hem
```draft
hem = lap + 1 cm
```

# Sewing

1. {when vent is yes} Turn the laps, {lap}.

   ```sketch The laps
   edge: 0 0, 10 10
   ```

2. Hem.

## The vent
{when vent is yes} Press it.
"""


@pytest.fixture(scope="module")
def style() -> Style:
    return style_from(STYLE.encode(), "skirt", "styles/skirt.md")


def view(style: Style, vent: str):
    made = draft(style, with_choices(person(), "skirt", vent=vent))
    assert made.ok
    return made, draft_view(made, story(style), "../../")


def test_the_page_of_a_draft_says_what_is_for_its_client(style):
    _, page = view(style, "yes")
    assert page.intro == '<p>It has a vent of <span class="figure-value">5 cm</span>.</p>\n'
    assert [s.heading for s in page.steps] == ["Vent", "Only with a vent", "Hem"]
    assert [n.heading for n in page.notes] == ["Sewing", "The vent"]
    assert page.notes[0].prose.count("<li>") == 2 and "The laps</figcaption>" in page.notes[0].prose
    assert page.notions == ("20 cm zip", "hook and eye", "thread")
    _, page = view(style, "no")
    assert page.intro == "<p>It has none.</p>\n"
    # A heading of which nothing is left is left out; that of a step stays.
    assert [s.heading for s in page.steps] == ["Vent", "Hem"]
    assert [(n.heading, n.prose) for n in page.notes] == [("Sewing", "<ol>\n<li>Hem.</li>\n</ol>\n")]
    assert page.notions == ("20 cm zip", "thread")


def test_the_page_of_a_style_shows_both_with_their_conditions(style):
    page = style_page(style, story(style), [], [], {"tables": []}, [])
    condition = '<span class="figure-formula">when vent is yes:</span>'
    assert page.intro[0].prose.startswith(f"<p>{condition} It has a vent of ")
    assert '<span class="figure-formula">otherwise:</span> It has none.' in page.intro[0].prose
    assert style.notions_in_words == ("20 cm zip", "hook and eye, when vent is yes", "thread")


@pytest.mark.parametrize(("vent", "steps"), [("yes", ["Turn the laps, 5 cm.", "Hem."]), ("no", ["Hem."])])
def test_the_job_ticket_has_the_steps_of_its_garment(style, vent, steps):
    made, _ = view(style, vent)
    found = work_steps(SimpleNamespace(style=style, draft=made))
    assert [step.words for step in found] == steps
    assert [sketch.caption for step in found for sketch in step.sketches] == (
        ["The laps"] if vent == "yes" else []
    )


def test_each_way_is_made_once_and_few_are_kept(style):
    told = ToldProse(next(part for part in style.sections[0].parts if isinstance(part, Prose)))
    index = told.prose.conditions[0].index
    first = told.rendered({index: True})
    assert isinstance(first, Rendered) and told.rendered({index: True}) is first
    assert told.rendered({index: False}).parts != first.parts
    conditions = "".join(f"{{when vent is yes}} {n} {{always}} " for n in range(2 * MOST_WAYS))
    text = f"---\ntitle: S\nchoices:\n  vent: yes (yes, no)\n---\n{conditions}\n"
    [many] = style_from(text.encode(), "s", "styles/s.md").sections[0].parts
    assert isinstance(many, Prose)
    told = ToldProse(many)
    for n in range(2 * MOST_WAYS):
        told.rendered({condition.index: condition.index // 2 < n for condition in many.conditions})
    assert 1 < len(told._ready) <= MOST_WAYS


def test_notions_with_conditions_that_are_wrong(style):
    def said(notions: str):
        front = f"title: S\nnotions: {notions}\nchoices:\n  vent: yes (yes, no)\n"
        text = f"---\n{front}---\n```draft\na = 3 cm\nwhen vent is yes\n  b = a\n```\n"
        made = style_from(text.encode(), "s", "styles/s.md")
        return made.findings or draft(made, person()).findings

    assert said("zip; {when vent is yes} hook") == ()
    [finding] = said("zip; {when vent is} hook")
    assert (finding.place.line, finding.place.column) == (3, 28) and "stops too early" in finding.message
    [finding] = said("zip; hook {when vent is yes}")
    assert "at most one condition, before it" in finding.message
    [finding] = said("zip; {when vemt is yes} hook")
    assert (finding.place.line, finding.place.column) == (3, 21) and "“vent”" in finding.hint
