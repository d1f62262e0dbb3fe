"""Flipping through the styles and laying drafts over each other, in a real browser."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from catalogue.lengths import Unit, Units, show_length
from tests.site import sample


def test_flipping_and_favourites(visit: Any) -> None:
    page = visit("flip/index.html")
    where = page.locator(".turner .where")

    def at(number: int, of: int = 3) -> None:
        expect(where).to_have_text(f"{number} of {of}")

    at(1)
    page.keyboard.press("ArrowRight")
    at(2)
    assert page.locator("#plain-bodice h2").is_visible()
    page.get_by_role("button", name="Next style").click()
    at(3)
    page.keyboard.press("Home")
    at(1)
    page.locator("#apron").get_by_role("button", name="Favourite").click()
    page.keyboard.press("ArrowRight")
    at(2)
    page.get_by_role("button", name="Favourites only").click()
    assert where.inner_text() == "1 of 1" and page.locator(".leaf:visible h2").inner_text() == "Apron"
    page.reload()
    assert page.locator("#apron .favourite").get_attribute("aria-pressed") == "true"


@pytest.mark.parametrize(
    ("width", "ways"), [(390, 1), (1024, 2)]
)  # a phone has no room for styles side by side
def test_a_tall_drawing_stays_in_its_frame_while_browsing(visit: Any, width: int, ways: int) -> None:
    page = visit("flip/index.html")
    page.set_viewport_size({"width": width, "height": 844})
    tall = "data:image/svg+xml,<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 100 300'></svg>"
    page.evaluate("picture => document.querySelectorAll('.leaf img').forEach(i => i.src = picture)", tall)
    for way in range(ways):
        if way:
            page.get_by_role("button", name="Side by side").click()
        over = page.locator(".leaf:visible .picture").evaluate_all(
            "all => all.map(p => p.querySelector('img') ? "
            "p.querySelector('img').getBoundingClientRect().bottom - p.getBoundingClientRect().bottom : 0)"
        )
        assert over and max(over) <= 0


def test_only_what_is_for_the_client_is_browsed(visit: Any) -> None:
    page = visit("flip/index.html")
    every = page.locator(".leaf").count()
    page.get_by_label("For client").select_option("nada")
    meant = page.locator(".leaf:visible").count()
    expect(page.locator(".turner .where")).to_have_text(f"1 of {meant}")
    assert 0 < meant < every
    assert "Not for" not in page.locator(".leaves").inner_text()


def test_notes_and_the_client_go_from_browsing_into_the_order(visit: Any) -> None:
    page = visit("flip/index.html")
    page.keyboard.press("ArrowRight")
    leaf = page.locator("#plain-bodice")
    assert not leaf.locator("a.order").is_visible(), "an order is somebody's"
    page.get_by_label("For client").select_option("amaka")
    leaf.locator("textarea").fill("in navy & green")
    assert str(leaf.locator("a.order").get_attribute("href")).endswith(
        "orders/new/index.html#style=plain-bodice&client=amaka&note=in+navy+%26+green"
    )
    page.get_by_label("For client").select_option("mien")
    assert leaf.locator("textarea").input_value() == ""
    page.get_by_label("For client").select_option("amaka")
    assert leaf.locator("textarea").input_value() == "in navy & green"
    page.get_by_role("button", name="Side by side").click()
    tops = page.locator(".leaf:visible").evaluate_all("all => all.map(l => l.getBoundingClientRect().top)")
    assert len(tops) == 3 and len(set(tops)) == 1
    # Marked as a favourite there, a style takes nothing from the others; they can still be noted of.
    leaf.get_by_role("button", name="Favourite").click()
    expect(page.locator(".turner .where")).to_have_text("3 side by side")
    page.locator("#apron textarea").fill("with a longer strap")
    page.get_by_role("button", name="Side by side").click()
    expect(page.locator(".turner .where")).to_have_text("2 of 3")


def test_swiping(browser: Any, site: Path) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    page = context.new_page()
    page.goto((site / "flip/index.html").as_uri())
    # A finger dragged from right to left.
    session = context.new_cdp_session(page)

    def touch(kind: str, *points: dict[str, int]) -> None:
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": list(points)})

    touch("touchStart", {"x": 340, "y": 500})
    for step in range(1, 16):
        touch("touchMove", {"x": 340 - 20 * step, "y": 500})
        page.wait_for_timeout(16)
    touch("touchEnd")
    expect(page.locator(".turner .where")).to_have_text("2 of 3")
    context.close()


def test_flipping_shows_the_chosen_client_s_drawing(visit: Any) -> None:
    page = visit("flip/index.html")
    page.get_by_label("For").select_option("mien")
    leaf = page.locator("#apron")
    assert leaf.locator("img").get_attribute("src") == "../styles/apron/mien/pieces.svg"
    opened = leaf.get_by_role("link", name="Open the draft")
    assert opened.get_attribute("href") == "../styles/apron/mien/index.html"
    coat = page.locator("#plain-bodice")
    assert "Missing: shoulder length" in coat.inner_text()


def test_two_drafts_are_laid_over_each_other(visit: Any) -> None:
    page = visit("styles/apron/compare/index.html#amaka+mien")
    expect(page.locator(".overlays figure")).to_have_count(1)
    assert page.locator(".over-first").count() == page.locator(".over-second").count() == 1
    dashes = [
        page.locator(c).evaluate("e => getComputedStyle(e).strokeDasharray")
        for c in (".over-first", ".over-second")
    ]
    assert dashes[0] == "none" != dashes[1]  # told apart without colour
    assert "Amaka" in page.locator(".found").inner_text() and "Thùy" in page.locator(".found").inner_text()
    before = page.locator(".over-first").get_attribute("d")
    page.get_by_role("button", name="Swap").click()
    assert page.locator(".over-second").get_attribute("d") == before
    # The address leads back to the same two, and no other draft was read.
    assert page.evaluate("location.hash") == "#mien+amaka"
    read = page.evaluate("[...document.querySelectorAll('head script')].map(s => s.src)")
    assert sorted(src for src in read if "/assets/" not in src) == [
        (page.url.split("/styles/")[0] + f"/styles/apron/{who}/outline.js") for who in ("amaka", "mien")
    ]


@pytest.mark.parametrize(("first", "second", "unit"), [("amaka", "mien", "cm"), ("mien", "amaka", "in")])
def test_clients_of_two_systems_are_compared_in_one(visit: Any, first: str, second: str, unit: str) -> None:
    page = visit(f"styles/apron/compare/index.html#{first}+{second}")
    expect(page.locator(".overlays figure")).to_have_count(1)
    lengths = page.locator(".overlays td[data-mm]").evaluate_all(
        "cells => cells.map(c => [Number(c.dataset.mm), c.textContent])"
    )
    assert len(lengths) > 2
    for mm, words in lengths:
        assert words == show_length(mm, Units(Unit(unit)))
    differences = page.locator(".overlays tbody td:last-child").all_inner_texts()
    assert all(words in ("same", "–") or words.endswith(f" {unit}") for words in differences)
    assert "in {}".format({"cm": "centimetres", "in": "inches"}[unit]) in page.locator(".found").inner_text()


def test_the_flip_bar_takes_one_line_on_a_phone(browser: Any, site: Path) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto((site / "flip/index.html").as_uri())
    assert page.locator(".turner").bounding_box()["height"] < 70
    assert page.locator(".leaf .picture").first.bounding_box()["y"] < 844 / 4
    context.close()


def test_one_client_on_two_days(visit: Any) -> None:
    page = visit("clients/amaka/index.html")
    page.get_by_role("link", name="Compare with before").last.click()
    expect(page.locator(".overlays figure")).to_have_count(1)
    assert page.get_by_label("First draft, continuous line").input_value() == "amaka@2025-11-03"
    assert page.get_by_label("Second draft, dashed line").input_value() == "amaka"
    assert page.locator(".over-first").get_attribute("d") != page.locator(".over-second").get_attribute("d")
    # Every length is the one in the draft's own script, and differences are theirs.
    shown = page.locator(".overlays td[data-mm]").evaluate_all(
        "cells => cells.map(c => Number(c.dataset.mm))"
    )
    told = page.evaluate(
        """() => new Promise(done => {
            const script = document.createElement('script');
            window.catalogueOutline = (id, data) => done(data);
            script.src = '../amaka/outline.js';
            document.head.appendChild(script);
        })"""
    )
    sides = [[e[1] for e in told[key]["pieces"]["back"]["edges"]] for key in ("2025-11-03", "")]
    assert shown == [mm for pair in zip(*sides, strict=True) for mm in pair]


def test_without_script_the_comparison_lists_the_drafts(browser: Any, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "styles/plain-bodice/compare/index.html").as_uri())
    assert page.locator(".columns a").all_inner_texts()[0] == sample.person().name
    assert (
        page.get_by_text("Without scripting this page").is_visible()
        and not page.locator("select").first.is_visible()
    )
    context.close()
