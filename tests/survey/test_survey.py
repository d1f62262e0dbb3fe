"""Every demo style drafted for adults of Heinz et al. 2003 whom it is meant for, some of 260 women and 247 men.

Whom differs from style to style, so that all of them are drafted for. With --thorough, and by
`python -m tests.survey.drafting`, each style is drafted for everybody; its table is in `tests/benchmarks/RESULTS.md`.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from catalogue.findings import Place
from catalogue.people.client import Chosen, Client
from catalogue.people.relations import clashes
from catalogue.studio.suiting import suits
from tests.extent import THOROUGH
from tests.survey.bodies import PROPORTIONS, heinz
from tests.survey.drafting import demo_styles, survey

STYLES = {style.slug: style for style in demo_styles()}
SHARE = 1 if THOROUGH else 20
"""A style is drafted for one in so many: for those that the style before it was not drafted for."""
FLARES = ("full", "half", "quarter")
MEANT = [
    (slug, kind)
    for slug, style in STYLES.items()
    for kind in ("woman", "man")
    if suits(style, heinz(kind)[0])
]


def choosing(client: Client, number: int) -> Client:
    """Each kind of circle for a third of the people."""
    here = Place(client.file)
    flare = Chosen(FLARES[number % 3], here, here)
    return replace(client, choices={"circle-skirt": {"flare": flare}})


def test_the_survey_is_there_whole():
    assert (len(heinz("woman")), len(heinz("man"))) == (260, 247)
    assert len(MEANT) >= 4


@pytest.mark.parametrize("kind", ["woman", "man"])
def test_completed_bodies_are_bodies(kind):
    """No completed body breaks a relation so that it could not be; few are unusual."""
    unusual = 0
    for client in heinz(kind):
        found = list(clashes({k: m.mm for k, m in client.measurements.items()}, kind))
        assert not [c.relation.keys for c in found if c.impossible], client.name
        unusual += bool(found)
    assert unusual <= len(heinz(kind)) // 20


def test_every_proportion_says_where_it_comes_from():
    assert all(p.source for p in PROPORTIONS)
    assert len({p.key for p in PROPORTIONS}) == len(PROPORTIONS)


@pytest.mark.parametrize(("slug", "kind"), MEANT)
def test_style_is_right_for_those_it_is_meant_for(slug, kind):
    first = list(STYLES).index(slug) % SHARE
    people = [choosing(c, i) for i, c in enumerate(heinz(kind))][first::SHARE]
    assert len(people) >= len(heinz(kind)) // SHARE > 0
    report = survey(STYLES[slug], people)
    assert dict(report.faults) == {}, report.bodies
    assert report.right == report.drafted == len(people)
