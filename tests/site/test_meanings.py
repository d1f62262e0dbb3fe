"""Every verdict that is not green says on its own page what it means and what to do, without a pointer or a script."""

import re
from dataclasses import replace

import pytest

from catalogue.drafting.model import Check
from catalogue.findings import Finding, Place, Severity
from catalogue.site.meanings import FAILING, UNALTERED, WAITING, WARNED, WRONG, meanings_of
from catalogue.site.measured import StyleState
from catalogue.site.pages import Site
from tests.site import sample

WARNING = Finding("odd", "Look at this.", Place("styles/plain-bodice.md", 3), severity=Severity.WARNING)


def meant(page: str) -> str:
    """What the page of a draft says its verdict means; "" where it says nothing."""
    found = re.search(r'<details class="meaning"><summary>What does this mean\?</summary><p>([^<]*)', page)
    return found[1] if found else ""


@pytest.mark.parametrize(
    ("changes", "text"),
    [
        ({}, ""),
        ({"checks": (Check("it fits", False, "", Place("a.md")),)}, FAILING.text),
        ({"findings": (WARNING,)}, WARNED.text),
        ({"findings": (replace(WARNING, severity=Severity.ERROR),)}, WRONG.text),
        ({"missing": ("waist_girth",)}, WAITING.text),
        ({"unaltered": ("swayed back 6 mm",)}, UNALTERED.text),
    ],
)
def test_a_draft_says_what_its_verdict_means(changes, text):
    style, client = sample.style(), sample.person()
    site = Site(sample.settings(), [style], [client])
    view = site.view(replace(sample.draft(), **changes))
    assert meant(site.draft_page(view, style, client)) == text


def test_lists_explain_the_states_that_are_in_them_and_no_others():
    state = StyleState("a", "b", "ready")
    assert meanings_of([state]) == ()
    states = [
        state,
        replace(state, state="waiting"),
        replace(state, warned=True),
        replace(state, state="waiting"),
    ]
    assert meanings_of(states) == (WAITING, WARNED)


def test_warnings_are_known_to_the_search_too():
    site = Site(sample.settings(), [sample.style()], [sample.person()])
    script = site.home_pages({("plain-bodice", "amaka"): {"state": "ready", "warned": True}})[
        "assets/search.js"
    ]
    assert '"plain-bodice/amaka":"warned"' in script
