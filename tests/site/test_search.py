"""Search data: what the script needs, and small enough for many."""

import json
import re
from dataclasses import replace

from catalogue.site.measured import needed, state_of
from catalogue.site.pages import Site
from catalogue.trade_names import other_names
from tests.site import sample


def data_of(script: str) -> dict:
    return json.loads(script.removeprefix("window.catalogueData=").rstrip().removesuffix(";"))


def test_readiness_can_be_reckoned_from_it() -> None:
    styles = [sample.style()]
    people = [sample.person(), sample.person("B", "b", without=("waist_girth", "shoulder_length"))]
    data = data_of(Site(sample.settings(), styles, people).home_pages({})["assets/search.js"])
    (style,) = data["styles"]
    for client, person in zip(data["clients"], people, strict=True):
        lacking = {data["names"][n] for n in style["need"] if n not in client["have"]}
        assert lacking == set(state_of(styles[0], person).missing)
    assert style["kinds"] == ["woman"]


def test_failing_and_wrong_drafts_are_named() -> None:
    site = Site(sample.settings(), [sample.style()], [sample.person()])
    for state, named in (("failing", True), ("wrong", True), ("ready", False), ("waiting", False)):
        data = data_of(site.home_pages({("plain-bodice", "amaka"): {"state": state}})["assets/search.js"])
        assert ("plain-bodice/amaka" in data["states"]) is named


def test_sixty_styles_by_two_hundred_clients_stay_small() -> None:
    styles = [
        replace(sample.style(), slug=f"style-{n}", title=f"Style number {n}", digest=f"{n}")
        for n in range(60)
    ]
    people = [sample.person(f"Person {n} of the sample", f"person-{n}") for n in range(200)]
    assert set(needed(styles[0])) <= set(people[0].measurements)
    pages = Site(sample.settings(), styles, people).home_pages({})
    # The limit set for the first page is 500 KB.
    assert len(pages["index.html"].encode()) < 500_000
    assert len(pages["assets/search.js"].encode()) < 200_000


def test_of_measurements_that_stand_for_each_other_one_is_enough() -> None:
    group = ("bust_girth", "chest_girth")
    style = replace(sample.style(), needs=("waist_girth",), alternatives=(group,))
    people = [sample.person(without=("chest_girth",)), sample.person("Bea", "bea", without=group)]
    site = Site(sample.settings(), [style], people)
    data = data_of(site.home_pages({})["assets/search.js"])
    ((either,),) = [s["either"] for s in data["styles"]]
    assert [data["names"][n] for n in either] == ["bust girth", "chest girth"]
    assert set(either) < set(data["styles"][0]["need"])
    page = site.style_page(style, {})
    rows = re.findall(r"measuring/index.html#(\w+)\">[^<]*</a>([^<]*)(?:<span class=\"note\">([^<]*))?", page)
    assert [(key, words.strip(), lacking) for key, words, lacking in rows] == [
        ("waist_girth", "", ""),
        ("bust_girth", "or chest girth", "(missing for Bea)"),
        ("chest_girth", "or bust girth", ""),
    ]


def test_styles_are_found_by_what_others_call_them() -> None:
    """Names of the trade, common practice, no source."""
    for title, names in (
        ("Straight skirt", {"pencil skirt"}),
        ("Men's waistcoat", {"vest"}),
        ("Robe", {"dressing gown"}),
    ):
        style = replace(sample.style(), title=title, garment="")
        data = data_of(Site(sample.settings(), [style], []).home_pages({})["assets/search.js"])
        assert all(name in data["styles"][0]["words"] for name in names), title
    assert other_names("a pattern") == () and "armhole" in other_names("scye depth")
