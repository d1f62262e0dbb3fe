"""Outlines for laying drafts over each other: small, of the draft itself, and of earlier days that differ."""

import datetime
import json
import re
from dataclasses import replace

import pytest

from catalogue.drafting.record import draft_record
from catalogue.findings import Place
from catalogue.people import Client, Measured, MeasurementSet
from catalogue.site.overlay import earlier, outline_script
from catalogue.site.pages import Site
from tests.site import sample


def read(script: str) -> tuple[str, dict]:
    name, data = re.fullmatch(r'catalogueOutline\("([^"]+)",(.*)\);\n', script).groups()
    return name, json.loads(data)


def measured_on(*days: tuple[int, dict[str, float]]) -> Client:
    def values(taken: dict[str, float], day: datetime.date) -> dict[str, Measured]:
        return {k: Measured(mm, f"{mm} mm", day, Place("c.md")) for k, mm in taken.items()}

    sets = tuple(
        MeasurementSet(datetime.date(2025, month, 1), values(taken, datetime.date(2025, month, 1)))
        for month, taken in days
    )
    newest = {k: m for s in sets for k, m in s.values.items()}
    return replace(sample.person(), sets=sets, measurements=newest)


APRON = replace(sample.style(), slug="apron", needs=("waist_girth",))


def test_the_lengths_are_those_of_the_draft_record() -> None:
    draft = sample.draft()
    name, data = read(outline_script(draft))
    assert name == "plain-bodice/amaka" and list(data) == [""]
    record = json.loads(json.dumps(draft_record(draft)))["pieces"]["back"]["edges"]
    told = {edge.replace(" ", "_"): mm for edge, mm, _ in data[""]["pieces"]["back"]["edges"]}
    assert set(told) == set(record)
    for edge, mm in told.items():
        assert mm == pytest.approx(record[edge]["length"], abs=0.01)
    left, top, right, bottom = data[""]["pieces"]["back"]["box"]
    assert left < right and top < bottom


def test_hostile_names_stay_inside_the_script() -> None:
    style = replace(sample.style(), slug="x")
    draft = sample.draft(of=style)
    piece = replace(draft.pieces["back"], title='"</script><b>')
    script = outline_script(replace(draft, pieces={"back": piece}))
    assert read(script)[1][""]["pieces"]["back"]["title"] == '"</script><b>'


def test_earlier_days_are_offered_where_what_the_style_needs_was_otherwise() -> None:
    client = measured_on(
        (1, {"waist_girth": 700}),
        (2, {"waist_girth": 700, "hip_girth": 900}),  # nothing that counts has changed
        (3, {"waist_girth": 720}),
        (4, {"waist_girth": 740}),
    )
    found = earlier(client, APRON)
    assert [e.key for e in found] == ["2025-03-01", "2025-01-01"]
    assert [e.client.measurements["waist_girth"].mm for e in found] == [720, 700]
    assert found[0].words == "1 March 2025"


def test_a_day_on_which_something_was_not_yet_measured_is_not_offered() -> None:
    client = measured_on((1, {"hip_girth": 900}), (2, {"waist_girth": 700}))
    assert earlier(client, APRON) == []


def test_no_more_than_three_days() -> None:
    client = measured_on(*((month, {"waist_girth": 600.0 + month}) for month in range(1, 9)))
    assert [e.key for e in earlier(client, APRON)] == ["2025-07-01", "2025-06-01", "2025-05-01"]


def test_the_page_stays_small_for_two_hundred_clients() -> None:
    people = [sample.person(f"Person number {n} of the sample", f"p{n}") for n in range(200)]
    style = sample.style()
    site = Site(sample.settings(), [style], people)
    summaries = {(style.slug, p.slug): {"state": "ready", "picture": True} for p in people}
    page = site.compare_page(style, summaries)
    assert page.count("<option") == 400
    assert len(page.encode()) < 120_000
    # The outlines of one draft are a file of their own.
    assert len(outline_script(sample.draft()).encode()) < 4_000


def test_the_page_says_how_a_draft_of_an_earlier_day_is_made() -> None:
    """Where one can be laid over another; elsewhere there is nothing to say."""
    told = "A draft of an earlier day is made from the measurements taken up to that day, with today’s style file"
    twice = measured_on((2, {"waist_girth": 700.0}), (5, {"waist_girth": 720.0}))
    once = measured_on((5, {"waist_girth": 720.0}))
    for client, said in ((twice, True), (once, False)):
        site = Site(sample.settings(), [APRON], [client])
        shown = sample.summary(site, replace(sample.draft(of=APRON), client=client))
        html = site.compare_page(APRON, {(APRON.slug, client.slug): shown})
        assert (told in html) is said
