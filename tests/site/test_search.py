"""Search data: what the script needs, and small enough for many."""

import json
from dataclasses import replace

from catalogue.site.measured import needed, state_of
from catalogue.site.pages import Site
from tests.site import sample


def data_of(script: str) -> dict:
    return json.loads(script.removeprefix("window.catalogueData=").rstrip().removesuffix(";"))


def test_readiness_can_be_reckoned_from_it() -> None:
    styles = [sample.style()]
    people = [sample.person(), sample.person("B", "b", without=("waist_girth", "shoulder_length"))]
    data = data_of(Site(sample.settings(), styles, people).front_pages({})["assets/search.js"])
    (style,) = data["styles"]
    for client, person in zip(data["clients"], people, strict=True):
        lacking = {data["names"][n] for n in style["need"] if n not in client["have"]}
        assert lacking == set(state_of(styles[0], person).missing)
    assert style["kinds"] == ["woman"]


def test_failing_and_wrong_drafts_are_named() -> None:
    site = Site(sample.settings(), [sample.style()], [sample.person()])
    for state, named in (("failing", True), ("wrong", True), ("ready", False), ("waiting", False)):
        data = data_of(site.front_pages({("plain-bodice", "amaka"): {"state": state}})["assets/search.js"])
        assert ("plain-bodice/amaka" in data["states"]) is named


def test_sixty_styles_by_two_hundred_clients_stay_small() -> None:
    styles = [
        replace(sample.style(), slug=f"style-{n}", title=f"Style number {n}", digest=f"{n}")
        for n in range(60)
    ]
    people = [sample.person(f"Person {n} of the sample", f"person-{n}") for n in range(200)]
    assert set(needed(styles[0])) <= set(people[0].measurements)
    pages = Site(sample.settings(), styles, people).front_pages({})
    # The limit set for the first page is 500 KB.
    assert len(pages["index.html"].encode()) < 500_000
    assert len(pages["assets/search.js"].encode()) < 200_000
