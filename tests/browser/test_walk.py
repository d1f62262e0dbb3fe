"""The demo studio's catalogue used as people use it: by keyboard alone, without motion, without script, on paper.

Also every kind of its pages through axe-core; the pages of a made-up studio go through it in `tests.site`.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.accessibility import faults
from tests.extent import THOROUGH
from tests.prints import texts

STYLE, CLIENT = "princess-dress", "omolara"
DRAFT = f"styles/{STYLE}/{CLIENT}/index.html"
KINDS = (
    *(
        "index.html",
        f"styles/{STYLE}/index.html",
        DRAFT,
        f"styles/{STYLE}/compare/index.html",
        "styles/straight-skirt/compare/ines/index.html",
        "flip/index.html",
    ),
    *(f"clients/{CLIENT}/index.html", "clients/ines/index.html", f"clients/{CLIENT}/card/index.html"),
    *(
        "measuring/index.html",
        "measuring/form/index.html",
        "handbook/index.html",
        "handbook/language/index.html",
    ),
    *("handbook/first-style/index.html", "handbook/printing/index.html", "handbook/settings/index.html"),
    *("handbook/clients/index.html", "handbook/style-files/index.html", "handbook/draft-json/index.html"),
)

CHAPTERS = {path for path in KINDS if path.startswith("handbook/") and "language" not in path}
UNLIKE = tuple(path for path in KINDS if path not in CHAPTERS - {"handbook/style-files/index.html"})
"""One page of each template: of the handbook's chapters, which are prose, the one with most in it to follow."""

ONLY_HERE = (
    DRAFT,
    f"styles/{STYLE}/index.html",
    "styles/straight-skirt/compare/ines/index.html",
    "clients/ines/index.html",
)
"""Pages of which the made-up studio has none as full: `tests.site.test_in_browser` puts the other kinds through
axe-core when they are wide and in light colours."""

FOCUS = """() => { const e = document.activeElement;
    return [e.tagName, (e.getAttribute('aria-label') || e.labels?.[0]?.textContent || e.textContent || '').trim()]; }"""


LOW = {"width": 1440, "height": 200}
"""A window of a laptop's width in which little is to be drawn, and no picture that would be seen by scrolling alone."""


def tab_to(page: Any, words: str, most: int = 80) -> None:
    """Press the tab key until something called that has the focus; it must be seen to have it."""
    for _ in range(most):
        page.keyboard.press("Tab")
        _, name = page.evaluate(FOCUS)
        if words in name:
            outline = page.evaluate(
                "() => { const s = getComputedStyle(document.activeElement); return [s.outlineStyle, s.outlineWidth]; }"
            )
            assert outline[0] != "none" and outline[1] != "0px", words
            return
    raise AssertionError(f"{words!r} is not reached by the tab key")


def test_from_the_catalogue_to_the_printed_pattern_by_keyboard(page: Any, demo_site: Path) -> None:
    page.set_viewport_size(LOW)
    page.goto((demo_site / "index.html").as_uri())
    page.keyboard.press("Tab")
    assert page.evaluate(FOCUS)[1] == "Skip to the content"
    page.keyboard.press("Enter")
    tab_to(page, "Search")
    page.keyboard.type("panel seams")
    expect(page.locator(".card[data-style]:visible")).to_have_count(1)
    page.keyboard.press("Enter")  # to the first that was found
    assert page.evaluate(FOCUS) == ["A", "Princess dress, lined"]
    page.keyboard.press("Enter")
    page.wait_for_url(f"**/styles/{STYLE}/index.html")
    tab_to(page, "Ọmọlará Àjíbọ́yẹ̀")
    page.keyboard.press("Enter")
    page.wait_for_url(f"**/{DRAFT}")
    tab_to(page, "Next one step")
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    assert page.locator("output").inner_text().startswith("3 of 10: The line of the front panels")
    tab_to(page, "Done")
    page.keyboard.press("Space")
    assert page.locator('[data-tick="step-3"]').is_checked()
    for _ in range(60):  # back to what is printed, above the steps
        page.keyboard.press("Shift+Tab")
        if page.evaluate(FOCUS)[1].startswith("Print on"):
            break
    assert page.evaluate("document.activeElement.getAttribute('href')") == "draft-a4.pdf"
    page.reload()
    assert page.locator('[data-tick="step-3"]').is_checked()


FOCUSABLE = """[...document.querySelectorAll('a[href], button, input, select, summary, textarea, [tabindex="0"]')]
    .filter(e => !e.disabled && !e.closest('[inert]') && e.checkVisibility())"""
OF_EACH_KIND = (
    "tried => { const kinds = new Map(); for (const e of "
    + FOCUSABLE
    + """) { const kind = [e.tagName, e.type, e.className, e.parentElement.tagName, e.parentElement.className].join();
    if (!tried.includes(kind) && !kinds.has(kind)) kinds.set(kind, e); }
    window.kinds = [...kinds.values()]; return [...kinds.keys()]; }"""
)
LONGEST = 220 if THOROUGH else 40
"""Times that the tab key is pressed from a page's beginning; that each kind of thing lets it go is tried beside."""


def test_no_keyboard_trap_on_any_page(page: Any, demo_site: Path) -> None:
    """The tab key goes from each thing to the next, and each kind of thing on any page lets the focus go."""
    tried: list[str] = []
    page.set_viewport_size(LOW)
    for path in UNLIKE:
        page.goto((demo_site / path).as_uri())
        page.evaluate("localStorage.clear()")
        count = page.evaluate(f"() => {FOCUSABLE}.length")
        page.evaluate(
            "() => { window.met = new Set(); document.addEventListener('focusin', e => met.add(e.target)); return 0; }"
        )
        for _ in range(min(count + 4, LONGEST)):
            page.keyboard.press("Tab")
        seen = page.evaluate("met.size")
        assert seen >= min(count, LONGEST) - 1, f"{path}: {seen} of {count}"
        kinds = page.evaluate(OF_EACH_KIND, tried)
        for number, kind in enumerate(kinds):
            page.evaluate("n => kinds[n].focus()", number)
            page.keyboard.press("Tab")
            assert not page.evaluate("n => document.activeElement === kinds[n]", number), f"{path}: {kind}"
        tried += kinds
    assert len(tried) > 40


def test_little_moves_for_those_who_ask_for_it(browser: Any, demo_site: Path) -> None:
    context = browser.new_context(reduced_motion="reduce", viewport=LOW)
    page = context.new_page()
    moving = """() => [...document.querySelectorAll('*')].filter(e => { const s = getComputedStyle(e);
        return s.scrollBehavior === 'smooth' || s.transitionDuration.split(',').some(d => parseFloat(d) > 0)
            || s.animationName !== 'none'; }).map(e => e.outerHTML.slice(0, 80))"""
    for path in UNLIKE:
        page.goto((demo_site / path).as_uri())
        assert page.evaluate(moving) == [], path
    page.goto((demo_site / "flip/index.html").as_uri())
    page.keyboard.press("ArrowRight")
    assert (
        page.evaluate("Math.round(document.querySelector('.leaves').scrollLeft / innerWidth)") == 1
    )  # at once
    context.close()


def test_pages_are_whole_without_script(browser: Any, demo_site: Path) -> None:
    context = browser.new_context(java_script_enabled=False, viewport=LOW)
    page = context.new_page()
    page.goto((demo_site / DRAFT).as_uri())
    steps = page.locator(".step").count()
    assert (
        page.locator(".step:visible").count() == steps >= 8
        and page.locator("[data-edge]:visible").count() >= 40
    )
    for path in UNLIKE:
        page.goto((demo_site / path).as_uri())
        assert page.locator(".needs-script:visible").count() == 0, path
        assert page.locator("main").inner_text().strip(), path
    context.close()


@pytest.mark.parametrize(("width", "scheme"), [(390, "dark"), (1440, "light")])
def test_axe_finds_nothing_in_the_demo(browser: Any, demo_site: Path, width: int, scheme: str) -> None:
    context = browser.new_context(
        viewport={"width": width, "height": 900}, color_scheme=scheme, bypass_csp=True
    )
    page = context.new_page()
    for path in KINDS:
        page.goto((demo_site / path).as_uri())
        assert page.evaluate("document.documentElement.scrollWidth") <= width, path
        if width > 1000 and path not in ONLY_HERE and not THOROUGH:
            continue
        if path == DRAFT:
            page.get_by_role("button", name="All steps").click()
            assert page.evaluate("document.documentElement.scrollWidth") <= width, path
        assert faults(page) == [], path
    context.close()


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_no_heading_stands_alone_at_the_foot_of_a_printed_page(
    page: Any, demo_site: Path, paper: str
) -> None:
    for path in (DRAFT, f"styles/{STYLE}/index.html", "measuring/index.html", "clients/ines/index.html"):
        page.goto((demo_site / path).as_uri())
        headings = {
            " ".join(h.split()) for h in page.locator("main h2, main h3, main caption").all_text_contents()
        }
        for number, sheet in enumerate(texts(page.pdf(format=paper)), 1):
            lines = [" ".join(line.split()) for line in sheet.splitlines() if line.strip()]
            assert lines and lines[-1] not in headings, f"{path}, page {number}: {lines[-1:]}"


def test_a_form_printed_for_a_client_takes_two_pages(page: Any, demo_site: Path) -> None:
    page.goto((demo_site / "measuring/form/index.html").as_uri())
    assert len(texts(page.pdf(format="A4"))) == 2
    wide = page.locator("table.form").first.evaluate(
        "t => t.rows[1].cells[0].getBoundingClientRect().width / t.getBoundingClientRect().width"
    )
    assert wide == pytest.approx(0.64, abs=0.02)


def test_a_printed_comparison_says_whose_lines_are_whose(page: Any, demo_site: Path) -> None:
    page.goto((demo_site / f"styles/{STYLE}/compare/index.html").as_uri() + "#omolara+ines")
    expect(page.locator(".overlays figure").first).to_be_visible()
    text = texts(page.pdf(format="A4"))[0]
    assert "continuous" in text and "dashed" in text
    differences = page.locator(".overlays tbody td:last-child").all_inner_texts()
    assert differences and not any(d.strip("+−").startswith("0 ") for d in differences)
