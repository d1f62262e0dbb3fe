"""The pages in a real browser, opened from disk as a studio opens them."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect
from pypdf import PdfReader

from tests.accessibility import faults
from tests.browsers import without_complaint
from tests.extent import THOROUGH
from tests.prints import texts
from tests.site import sample
from tests.site.test_pages import made

DRAFT = "styles/plain-bodice/amaka/index.html"

PAGES = (
    "index.html",
    "styles/plain-bodice/index.html",
    DRAFT,
    "styles/plain-bodice/mien/index.html",
    "styles/plain-bodice/compare/index.html",
    "clients/amaka/index.html",
    "clients/amaka/card/index.html",
    "flip/index.html",
    "measuring/index.html",
    "measuring/form/index.html",
    "handbook/index.html",
    "handbook/language/index.html",
    "handbook/first-style/index.html",
    "handbook/from-a-printed-draft/index.html",
    "handbook/draft-json/index.html",
)


def shown_cards(page: Any) -> list[str]:
    return page.locator(".card[data-style]:visible h3").all_inner_texts()


def test_searching_as_one_types(visit: Any) -> None:
    page = visit("index.html")
    # By garment: apron, bodice, coat.
    assert shown_cards(page) == ["Apron", "Plain bodice back", "Long coat"]
    page.get_by_label("Search").fill("WINTER coat")
    assert shown_cards(page) == ["Long coat"]
    page.get_by_label("Search").fill("dang thuy")  # without its marks
    assert shown_cards(page) == [] and "Đặng" not in page.locator(".found").inner_text()
    page.get_by_label("Search").fill("thuy")
    assert page.locator(".results a").all_inner_texts() == ["Đặng Thùy Miên"]
    page.get_by_label("Search").fill("nothing of the kind")
    assert "Nothing found" in page.locator(".found").inner_text()
    page.get_by_role("button", name="Clear").click()
    expect(page.locator(".card[data-style]:visible")).to_have_count(3)


def test_a_word_of_the_language_is_found_as_one_types(visit: Any) -> None:
    page = visit("handbook/language/index.html")
    shown = page.locator("article.entry:visible h3")
    every = shown.count()
    page.get_by_label("Find a word").fill("intersection")
    assert "Where two lines cross" in shown.all_inner_texts() and shown.count() < 5
    assert f"{shown.count()} words found." in page.locator(".sifter").inner_text()
    assert page.locator("h2.ruled:visible").count() == 1
    page.get_by_label("Find a word").fill("slash")
    assert "Slash and spread" in shown.all_inner_texts()
    page.get_by_label("Find a word").fill("zzz")
    assert shown.count() == 0 and "No word found" in page.locator(".sifter").inner_text()
    page.get_by_label("Find a word").fill("")
    assert shown.count() == every > 90


def test_filters_and_the_chosen_client_are_remembered(visit: Any) -> None:
    page = visit("index.html")
    page.get_by_label("Garment").select_option("coat")
    assert shown_cards(page) == ["Long coat"]
    page.get_by_label("Garment").select_option("")
    assert page.get_by_label("Only styles ready for this client").is_disabled()
    page.get_by_label("For client").select_option("mien")
    card = page.locator('[data-style="plain-bodice"]')
    assert "Missing: shoulder length" in card.inner_text()
    page.get_by_label("Only styles ready for this client").check()
    assert shown_cards(page) == ["Apron"]
    page.reload()
    assert page.get_by_label("For client").input_value() == "mien"
    assert shown_cards(page) == ["Apron"]
    page.locator('[data-style="apron"]').get_by_role("link", name="Open the draft").click()
    assert page.url.endswith("styles/apron/mien/index.html")


def test_a_style_not_meant_for_a_client_is_not_offered(visit: Any) -> None:
    page = visit("index.html")
    # Ordered garments are drafted for whoever ordered them; the sample's people order the bodice.
    page.get_by_label("For client").select_option("nada")
    coat = page.locator('[data-style="long-coat"]')
    assert "Not for ندى" in coat.inner_text() and coat.locator(".foot a").count() == 0
    assert "Ready for" in page.locator('[data-style="plain-bodice"]').inner_text()


def test_the_stepper_by_keys_slider_and_buttons(visit: Any) -> None:
    page = visit(DRAFT)
    headings = [heading for heading, _, _ in sample.STEPS]

    def now() -> list[str]:
        return page.locator(".step:visible h3").evaluate_all("all => all.map(h => h.lastChild.textContent)")

    assert now() == [headings[0]]
    page.locator("body").press("ArrowRight")
    assert now() == [headings[1]]
    page.get_by_role("button", name="Next one step").click()
    assert now() == [headings[2]]
    page.locator("#at-step").focus()
    page.keyboard.press("End")
    assert now() == [headings[-1]] and page.get_by_role("button", name="Next one step").is_disabled()
    assert page.locator("#at-step").get_attribute("aria-valuetext") == f"8 of 8: {headings[-1]}"
    page.get_by_role("button", name="All steps").click()
    assert now() == headings
    page.reload()
    assert now() == headings  # the arrangement is remembered
    page.get_by_role("button", name="All steps").click()
    page.goto(page.url.split("#")[0] + "#step-4")
    assert now() == [headings[3]]


def test_figures_show_something_in_every_step(visit: Any) -> None:
    page = visit(DRAFT)
    page.get_by_role("button", name="All steps").click()
    sizes = page.locator("svg.paper").evaluate_all(
        """all => all.map(svg => [...svg.querySelectorAll('g.new > use')].map(use => use.getBBox())
            .filter(box => box.width + box.height > 0).length)"""
    )
    assert len(sizes) == len(sample.STEPS) and all(sizes)
    strokes = page.locator("svg.paper g.new").first.evaluate("g => getComputedStyle(g).strokeWidth")
    assert float(strokes.removesuffix("px")) > 2


def test_ticks_survive_a_reload_and_belong_to_one_draft(visit: Any) -> None:
    page = visit(DRAFT)
    page.get_by_role("button", name="All steps").click()
    page.locator('[data-tick="step-2"]').check()
    page.locator('[data-tick="sewing-1"]').check()
    page.reload()
    ticked = page.locator("[data-tick]:checked").evaluate_all("all => all.map(b => b.dataset.tick)")
    assert ticked == ["step-2", "sewing-1"]
    page.locator('[data-tick="step-2"]').uncheck()
    page.reload()
    assert page.locator("[data-tick]:checked").count() == 1
    visit("styles/plain-bodice/nada/index.html")
    assert page.locator("[data-tick]:checked").count() == 0


SEWN = re.compile(r"<ol>.*?</ol>", re.DOTALL)


def sewing(site: Path, items: Sequence[str]) -> str:
    """The page of the draft with these items to sew: its path, beside the page itself."""
    start, _, rest = (site / DRAFT).read_text().partition('class="sewing">')
    items_in = "".join(f"<li>{item}</li>" for item in items)
    text = start + 'class="sewing">' + SEWN.sub(f"<ol>{items_in}</ol>", rest, count=1)
    path = DRAFT.replace("index", "as-changed")
    (site / path).write_text(text)
    return path


def done(page: Any) -> list[str]:
    return page.locator(".sewing li:has(> input:checked)").all_inner_texts()


def test_a_tick_stays_with_its_words_and_not_with_its_place(visit: Any, site: Path) -> None:
    value = '<span class="figure-value">{}</span>'.format
    darts = f"Sew the darts, {value('8 cm')} long, 3 pins in each."
    page = visit(sewing(site, ["Interface the facing.", darts, "Press.", "Hem by 2 1/2 in."]))
    for n in (1, 2, 4):
        page.locator(f'[data-tick="sewing-{n}"]').check()
    # An item is left out and another comes in its place; figures change, and so does the unit.
    darts = f"Sew the darts, {value('3¼ in')} long, 4 pins in each."
    visit(sewing(site, ["Bind the edge.", "Turn it.", darts, "Press.", "Hem by 3 in."]))
    assert done(page) == ["Sew the darts, 3¼ in long, 4 pins in each.", "Hem by 3 in."]
    # Other words: to be done again, also when the words of before come back.
    visit(sewing(site, ["Sew the darts by hand.", "Press.", "Hem by 3 in.", "Bind."]))
    assert done(page) == ["Hem by 3 in."]
    visit(sewing(site, [darts, "Press.", "Hem by 3 in."]))
    assert done(page) == ["Hem by 3 in."]


def test_equal_items_are_ticked_each_for_itself(visit: Any, site: Path) -> None:
    page = visit(sewing(site, ["Press.", "Pin.", "Press.", "Baste.", "Press."]))
    page.locator('[data-tick="sewing-3"]').check()
    page.locator('[data-tick="sewing-4"]').check()
    page.reload()
    names = page.locator("[data-tick]:checked").evaluate_all("all => all.map(b => b.dataset.tick)")
    assert names == ["sewing-3", "sewing-4"]
    # One of them is left out, and which of them was done can't be known.
    visit(sewing(site, ["Pin.", "Press.", "Baste.", "Press."]))
    assert done(page) == ["Baste."]


def test_ticks_kept_by_place_are_dropped(visit: Any) -> None:
    page = visit(DRAFT)
    page.evaluate("localStorage.setItem('catalogue:ticks:plain-bodice/amaka', '[\"sewing-1\", \"step-2\"]')")
    page.reload()
    assert page.locator("[data-tick]:checked").count() == 0
    assert page.evaluate("localStorage.getItem('catalogue:ticks:plain-bodice/amaka')") == "[]"


def test_a_done_step_outlives_new_figures_and_no_other_words(visit: Any, site: Path) -> None:
    page = visit(DRAFT)
    page.get_by_role("button", name="All steps").click()
    page.locator('[data-tick="step-2"]').check()
    text = (site / DRAFT).read_text()
    figure = re.search(r'with ease, <span class="figure-value">([^<]*)</span>', text)
    assert figure
    path = DRAFT.replace("index", "as-changed")
    (site / path).write_text(text.replace(figure[0], figure[0].replace(figure[1], "31.4 cm")))
    visit(path)
    assert page.locator('[data-tick="step-2"]').is_checked()
    (site / path).write_text(text.replace("Square across a quarter", "Square down a quarter"))
    visit(path)
    assert page.locator("[data-tick]:checked").count() == 0


def test_a_mistake_in_a_file_costs_no_ticks(visit: Any, site: Path) -> None:
    """Of a draft that stopped only the first steps are shown."""
    page = visit(DRAFT)
    page.locator('[data-tick="sewing-1"]').check()
    path = DRAFT.replace("index", "as-changed")
    text = (site / DRAFT).read_text().replace('class="sewing"', "")
    wrong = '<ul class="findings"><li class="error">Not a length.</li></ul>'
    (site / path).write_text(text.replace("</h1>", "</h1>" + wrong, 1))
    visit(path)
    visit(DRAFT)
    assert page.locator("[data-tick]:checked").count() == 1


def test_old_measurements_are_told_on_the_day_the_page_is_read(browser: Any, site: Path) -> None:
    """An adult is measured again after a year, a child after half; common practice, no source."""
    context = browser.new_context()  # of its own: a clock that was set can't be set going again
    with without_complaint(context.new_page()) as page:
        note = page.locator(".verdict .old-figures")
        for today, told in (
            ("2026-09-01", ""),
            ("2027-03-01", "taken a year ago"),
            ("2029-03-01", "taken 3 years ago"),
        ):
            page.clock.set_fixed_time(today)
            page.goto((site / DRAFT).as_uri())
            assert told in note.inner_text() if told else not note.is_visible()
    context.close()


def test_edges_are_folded_away_but_printed(visit: Any) -> None:
    page = visit(DRAFT)
    edge = page.locator("details.edges td[data-edge]").first
    assert not edge.is_visible()
    page.locator("details.edges summary").click()
    assert edge.is_visible()
    page.locator("details.edges summary").click()
    text = "".join(texts(page.pdf(format="A4")))
    printed = text.split("Pieces and their edges")[-1]
    shown = edge.text_content().split(" cm")[0] + " cm"
    assert shown in re.sub(r"\s+", " ", printed.split("Sewing")[0])
    assert not edge.is_visible()  # as it was before


def test_what_the_workroom_wants_is_printed_on_two_sheets_at_most(visit: Any) -> None:
    page = visit(DRAFT)
    whole = texts(page.pdf(format="A4"))
    # What the page shows while its button prints.
    page.evaluate("window.print = () => { window.during = document.documentElement.className; }")
    page.get_by_role("button", name="Print for the workroom").click()
    assert "workroom" in page.evaluate("window.during").split()
    assert "workroom" not in page.evaluate("document.documentElement.className")
    page.goto(page.url.partition("#")[0] + "#for-the-workroom")  # the same without script
    sheets = texts(page.pdf(format="A4"))
    text = " ".join(sheets)
    assert len(sheets) <= 2 < len(whole)
    for wanted in ("Cut list", "Cloth and notions", "Cutting and sewing", "Fitting notes", "Safety"):
        assert wanted in text, wanted
    for left_out in ("Drafting, step by step", "Pieces and their edges", "Drafted from"):
        assert left_out in " ".join(whole) and left_out not in text, left_out
    page.get_by_role("link", name="Show the whole page").click()
    assert page.locator("#steps").is_visible()


def test_the_printed_first_page_names_no_client(visit: Any) -> None:
    page = visit("index.html")
    assert "Amaka" in page.inner_text("main")
    assert "Amaka" not in " ".join(texts(page.pdf(format="A4")))


def test_lines_and_marks_are_explained_on_the_page(visit: Any) -> None:
    page = visit(DRAFT)
    summary = page.locator(".legend summary")
    summary.focus()
    page.keyboard.press("Enter")
    assert page.locator(".legend dd:visible").count() == page.locator(".legend svg:visible").count() == 11
    page.reload()
    assert page.locator(".legend dd:visible").count() == 11, "what one opened stays open"


def test_the_form_shows_only_what_is_needed(visit: Any) -> None:
    page = visit("measuring/form/index.html")
    everything = page.locator("tr[data-styles]:visible").count()
    page.get_by_label("Plain bodice back").check()
    assert page.locator("tr[data-styles]:visible").count() == len(sample.style().needs) < everything


def test_without_script_the_draft_page_is_complete(browser: Any, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / DRAFT).as_uri())
    assert page.locator(".step:visible").count() == len(sample.STEPS)
    assert page.locator(".stepper:visible").count() == 0
    page.goto((site / "index.html").as_uri())
    assert page.locator(".card:visible").count() == 3 and page.locator(".finder:visible").count() == 0
    page.goto((site / "flip/index.html").as_uri())
    assert page.locator(".leaf:visible").count() == 3 and page.locator(".turner:visible").count() == 0
    context.close()


def test_fonts_come_from_the_site(visit: Any) -> None:
    page = visit(DRAFT)
    page.evaluate("document.fonts.ready")
    loaded = page.evaluate("[...document.fonts].filter(f => f.status === 'loaded').map(f => f.family)")
    assert {name.strip('"') for name in loaded} == {"Workroom Sans", "Workroom Serif"}


# WCAG 2.2, 2.5.8: targets of at least 24 by 24 px; links inside a sentence are excepted, as are the plain boxes
# that a label makes larger.
TARGETS = """() => [...document.querySelectorAll('button, select, summary, input, a.button, nav a, .card h3 a')]
  .filter(e => e.offsetParent !== null && !e.closest('label'))
  .map(e => [e.outerHTML.slice(0, 90), e.getBoundingClientRect()])
  .filter(([, b]) => b.height < 23.5 || b.width < 23.5).map(([html, b]) => html + ' ' + b.width + 'x' + b.height)"""


@pytest.mark.parametrize("path", PAGES)
def test_no_page_is_wider_than_the_screen_and_targets_are_large_enough(visit: Any, path: str) -> None:
    page = visit(path)
    for width in (390, 1024, 1440):
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert page.evaluate(TARGETS) == [], width


@pytest.mark.parametrize(
    ("width", "scheme"), [(1440, "light"), *([(1440, "dark"), (390, "light")] if THOROUGH else [])]
)
def test_axe_finds_nothing(browser: Any, site: Path, scheme: str, width: int) -> None:
    """Wide pages in light colours.

    Narrow pages in dark colours are looked at in the demo: `tests.browser.test_walk`. So each kind of page is seen at
    both widths and in both schemes of colours; with --thorough in all four ways.
    """
    # The pages' own policy would keep the checker out.
    context = browser.new_context(
        viewport={"width": width, "height": 900}, color_scheme=scheme, bypass_csp=True
    )
    page = context.new_page()
    for path in PAGES:
        page.goto((site / path).as_uri())
        assert faults(page) == [], path
    context.close()


@pytest.mark.parametrize(("paper", "size"), [("A4", (595, 842)), ("Letter", (612, 792))])
def test_printing_shows_every_step(visit: Any, paper: str, size: tuple[int, int]) -> None:
    page = visit(DRAFT)
    data = page.pdf(format=paper)
    first = PdfReader(io.BytesIO(data)).pages[0].mediabox
    assert (round(first.width), round(first.height)) == pytest.approx(size, abs=1)
    text = " ".join(re.sub(r"\s+", " ", words) for words in texts(data))
    for heading, _, _ in sample.STEPS:
        assert heading in text
    assert "All steps" not in text and "Browse" not in text


def test_what_is_kept_in_the_browser_stays_small_and_named(visit: Any) -> None:
    page = visit(DRAFT)
    page.locator('[data-tick="step-1"]').check()
    kept = json.loads(page.evaluate("JSON.stringify({...localStorage})"))
    assert list(kept) == ["catalogue:ticks:plain-bodice/amaka"]
    (tick,) = json.loads(kept["catalogue:ticks:plain-bodice/amaka"])
    assert tick.startswith("step:") and len(tick) < 25


def test_words_longer_than_the_screen_are_broken(quiet_page: Any, tmp_path: Path) -> None:
    long = "Donaudampfschifffahrtsgesellschaftskapitänsuniformjackenknopfloch"
    style = replace(
        sample.style(), title=long, garment=long.lower(), tags=(long,), summary=long, cloth=(("main", long),)
    )
    for path, content in made([style], [sample.person(long, "long"), sample.person()]).items():
        if not path.startswith("handbook"):
            (tmp_path / path).parent.mkdir(parents=True, exist_ok=True)
            (tmp_path / path).write_bytes(content.encode() if isinstance(content, str) else content)
    for file in sorted(tmp_path.rglob("*.html")):
        quiet_page.goto(file.as_uri())
        for width in (390, 1024):
            quiet_page.set_viewport_size({"width": width, "height": 844})
            assert quiet_page.evaluate("document.documentElement.scrollWidth") <= width, file
