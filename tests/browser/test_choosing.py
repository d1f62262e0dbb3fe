"""Options chosen beside their drawings, on the page of a style and in the forms, in a real browser."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

from catalogue.drafting import draft_style
from catalogue.people.reading import read_client
from catalogue.preview import PreviewServer
from catalogue.site.pages import Site
from catalogue.studio.reading import read_style
from catalogue.studio.settings import Settings


def test_options_chosen_on_a_page_go_into_the_order(page: Any, studio: Path, served: str) -> None:
    page.goto(
        served + "orders/new/index.html#style=first-skirt&client=first-client&note=in+navy&o.length=70+cm"
    )
    length, ease = page.locator('[data-option="length"]'), page.locator('[data-option="hip ease"]')
    assert length.input_value() == "70 cm" and ease.input_value() == ""
    view = page.locator(".option img").first
    assert str(view.get_attribute("src")).endswith("choices/length.svg"), "70 cm is between 40 and 90: both"
    length.fill("85 cm")
    assert str(view.get_attribute("src")).endswith("choices/length.svg#v1")
    slider = page.get_by_label("Hip ease, as a slider")
    slider.focus()
    page.keyboard.press("End")
    assert ease.input_value() == "8 cm"
    length.fill("95 cm")
    assert "The length is outside its range." in page.inner_text(".result .state")
    length.fill("45 cm")
    assert str(view.get_attribute("src")).endswith("length.svg#v0")
    page.fill("[name=name]", "navy skirt")
    page.click("[data-keep]")
    page.wait_for_selector(".said.fine")
    [order] = read_client(studio / "clients/first-client.md", studio).orders
    assert {name: chosen.text for name, chosen in order.choices.items()} == {
        "length": "45 cm",
        "hip ease": "8 cm",
    }
    assert order.note == "in navy"


def test_choices_are_added_below_their_style(page: Any, studio: Path, served: str) -> None:
    page.goto(served + "clients/first-client/add/index.html")
    page.check("[value=choices]")
    assert page.is_disabled("[data-copy]")
    page.fill('[data-choice="hip ease"]', "5 cm")
    page.click("[data-keep]")
    page.wait_for_selector(".said.fine")
    client = read_client(studio / "clients/first-client.md", studio)
    assert client.ok and client.choices["first-skirt"]["hip ease"].text == "5 cm"


def test_choices_to_compare_with_get_a_name_and_change_none(page: Any, studio: Path, served: str) -> None:
    page.goto(served + "clients/first-client/add/index.html#what=compare&style=first-skirt")
    page.fill('[data-choice="length"]', "70 cm")
    assert "Say what this set of choices is called." in page.inner_text(".result .state")
    page.fill("[name=called]", "longer: to the calf")
    page.click("[data-keep]")
    page.wait_for_selector(".said.fine")
    client = read_client(studio / "clients/first-client.md", studio)
    assert client.ok and client.choices["first-skirt"]["length"].text == "64 cm"
    [longer] = client.compared["first-skirt"]
    assert longer.name == "longer: to the calf"
    assert {name: each.text for name, each in longer.choices.items()} == {"length": "70 cm"}


def test_a_choice_that_is_emptied_is_as_the_style_has_it(page: Any, studio: Path, served: str) -> None:
    page.goto(served + "clients/first-client/add/index.html#what=choices&style=first-skirt")
    assert page.input_value('[data-choice="length"]') == "64 cm" and page.is_disabled("[data-copy]")
    page.fill('[data-choice="length"]', "")
    page.click("[data-keep]")
    page.wait_for_selector(".said.fine")
    client = read_client(studio / "clients/first-client.md", studio)
    assert client.choices["first-skirt"]["length"].text == "usual"
    style = read_style(studio / "styles/first-skirt.md", studio)
    [length] = [choice for choice in style.choices if choice.name == "length"]
    drafted = draft_style(style, client, Settings())
    assert not drafted.findings and drafted.choices["length"] == length.default


def test_a_range_that_depends_on_measurements_has_a_slider_of_the_clients_own(
    page: Any, studio: Path
) -> None:
    """The first client measures 20.5 cm from waist to hip: 40.7 to 82 cm. The standard size need not do for anyone."""
    file = studio / "styles/first-skirt.md"
    plain = "length: 60 cm (40 cm to 90 cm)"
    text = file.read_text(encoding="utf-8")
    assert plain in text
    made = "length: waist_to_hip + 40 cm (waist_to_hip + 20.2 cm to waist_to_hip * 4)"
    file.write_text(text.replace(plain, made), encoding="utf-8")
    style, client = read_style(file, studio), read_client(studio / "clients/first-client.md", studio)
    site = Site(Settings(), [style], [client])
    adding, ordering = (
        studio / "site/clients/first-client/add/index.html",
        studio / "site/orders/new/index.html",
    )
    adding.write_text(site.adding_page(client), encoding="utf-8")
    ordering.write_text(site.home_pages({})["orders/new/index.html"], encoding="utf-8")

    page.goto(adding.as_uri() + "#what=choices&style=first-skirt")
    assert "For First Client: 40.7 cm to 82 cm, left empty 60.5 cm." in page.inner_text(
        "#about-first-skirt-1"
    )
    length, slider = page.locator("[data-choice=length]"), page.get_by_label("Length, as a slider")
    slider.focus()
    for key, there in (("Home", "41 cm"), ("End", "82 cm")):
        page.keyboard.press(key)
        assert length.input_value() == there and length.get_attribute("aria-invalid") == "false"
    length.fill("83 cm")
    assert "The length is outside its range." in page.inner_text(".result .state")
    length.fill("")
    assert slider.get_attribute("aria-valuetext") == "60.5 cm"

    page.goto(ordering.as_uri() + "#style=first-skirt&client=first-client")
    about = page.inner_text("#option-0-about")
    assert "In a standard size " in about and "for a client it is worked out from the measurements" in about
    assert page.get_by_label("Length, as a slider").is_visible()
    page.locator("[data-option=length]").fill("120 cm")
    assert "outside its range" not in page.inner_text(".result .state")


def test_options_of_an_order_stay_when_its_page_is_made_again(
    page: Any, server: PreviewServer, served: str
) -> None:
    page.goto(served + "orders/new/index.html")
    page.select_option("[name=client]", "first-client")
    page.select_option("[name=style]", "first-skirt")
    page.fill('[data-use="main"]', "Blue linen")
    page.fill('[data-option="length"]', "62 cm")
    with page.expect_navigation():
        server.news.tell(["orders/new/index.html"], "")
    page.wait_for_selector('.said:has-text("made again meanwhile")')
    assert page.input_value("[name=style]") == "first-skirt"
    assert page.input_value('[data-use="main"]') == "Blue linen"
    assert page.input_value('[data-option="length"]') == "62 cm"


def test_what_the_clients_own_file_chooses_stands_in_an_order(page: Any, studio: Path, served: str) -> None:
    style = read_style(studio / "styles/first-skirt.md", studio)
    own = read_client(studio / "clients/first-client.md", studio)
    assert own.choices["first-skirt"]["length"].text == "64 cm" and style.choices[0].default == "60 cm"
    other = replace(own, slug="other", name="Other", choices={})
    ordering = studio / "site/orders/new/index.html"
    lists = Site(Settings(), [style], [own, other]).home_pages({})
    ordering.write_text(lists["orders/new/index.html"], encoding="utf-8")
    page.goto(ordering.as_uri() + "#style=first-skirt&client=first-client")
    length, ease = (page.locator(f'[data-option="{name}"]') for name in ("length", "hip ease"))
    assert (length.input_value(), length.get_attribute("placeholder")) == ("", "64 cm")
    assert page.get_by_label("Length, as a slider").get_attribute("aria-valuetext") == "64 cm"
    assert "In the client’s file: 64 cm." in page.inner_text("#option-0-about")
    ease.fill("6 cm")
    page.select_option("[name=client]", "other")
    assert length.get_attribute("placeholder") == "60 cm"
    assert "In the client’s file" not in page.inner_text("#option-0-about")
    assert ease.input_value() == "6 cm", "what was chosen stays"
