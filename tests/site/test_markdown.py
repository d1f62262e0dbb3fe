"""Prose: what Markdown may hold, and how figures come into it."""

import pytest

from catalogue.site.markdown import Rendered, plain, render
from catalogue.studio.prose import Prose

SLOT = Prose.slot


def filled(markdown: str, **figures: str) -> str:
    rendered = {int(n.removeprefix("n")): text for n, text in figures.items()}
    return str(render(markdown, slots=True).filled(rendered, {7: "bust girth / 4"}, "../"))


def test_a_slot_becomes_the_figure() -> None:
    html = filled(f"It is **{SLOT(0)}** wide.", n0="38 1/2 in")
    assert html == '<p>It is <strong><span class="figure-value">38 1/2 in</span></strong> wide.</p>\n'


def test_a_figure_is_text_never_markup() -> None:
    assert "<b>" not in filled(f"a {SLOT(0)}", n0="<b>")
    assert "&lt;b&gt;" in filled(f"a {SLOT(0)}", n0="<b>")
    # A figure that looks like Markdown comes after Markdown is done.
    assert "<em>" not in filled(f"a {SLOT(0)}", n0="*5*")


def test_a_slot_inside_a_tag_gets_text_without_a_span() -> None:
    html = filled(f'[link](https://example.org "is {SLOT(0)}") ![alt {SLOT(0)}](a.png)', n0='5 "cm"')
    assert 'title="is 5 &#34;cm&#34;"' in html and 'alt="alt 5 &#34;cm&#34;"' in html
    assert "figure-value" not in html


def test_without_a_figure_the_formula_stands_there() -> None:
    assert '<span class="figure-formula">bust girth / 4</span>' in filled(f"a {SLOT(7)}")
    assert "…" in filled(f"a {SLOT(3)}")


def test_it_is_rendered_once_and_filled_for_each() -> None:
    rendered = render(f"a {SLOT(0)}", slots=True)
    assert isinstance(rendered, Rendered)
    one, other = (str(rendered.filled({0: text}, {})) for text in ("1 cm", "2 cm"))
    assert "1 cm" in one and "2 cm" in other and "1 cm" not in other


def test_placeholders_typed_by_a_stranger_are_dropped_from_notes() -> None:
    html = str(plain("a \ue0000\ue001 b \ue002 c"))
    assert "\ue000" not in html and "\ue002" not in html and "figure" not in html


@pytest.mark.parametrize(
    "html",
    ["<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "<b>bold</b>", "<!-- x -->", "<iframe>"],
)
def test_raw_html_stays_text(html: str) -> None:
    out = str(plain(f"a {html}\n\n{html}"))
    assert html not in out and "&lt;" in out


# Ways past filters of links, after the evasion cases that the HTML and URL standards explain: case, entities,
# control characters and blanks that browsers drop from a scheme.
BAD_LINKS = [
    "javascript:alert(1)",
    "JaVaScRiPt:alert(1)",
    "java\tscript:alert(1)",
    "&#106;avascript:alert(1)",
    "javascript&colon;alert(1)",
    "%6aavascript:alert(1)",
    "\x01javascript:alert(1)",
    "vbscript:x",
    "file:///etc/passwd",
    "data:text/html,<script>alert(1)</script>",
    "data:image/svg+xml,<svg onload=alert(1)>",
    "blob:x",
    "view-source:x",
]


@pytest.mark.parametrize("link", BAD_LINKS)
@pytest.mark.parametrize("form", ["[a]({})", "![a]({})", "<{}>", "[a][r]\n\n[r]: {}"])
def test_harmful_links_are_no_links(link: str, form: str) -> None:
    html = str(plain(form.format(link)))
    assert "href=" not in html and "src=" not in html


def test_harmless_links_are_kept() -> None:
    assert 'href="https://example.org/a?b=1&amp;c"' in str(plain("[a](https://example.org/a?b=1&c)"))
    assert 'href="mailto:a@example.org"' in str(plain("<a@example.org>"))
    assert 'rel="noreferrer noopener external"' in str(plain("[a](http://example.org)"))


@pytest.mark.parametrize(
    "source", ["https://example.org/a.png", "//example.org/a.png", "/a.png", "../a.png", "a/../../b.png"]
)
def test_pictures_from_elsewhere_are_not_loaded(source: str) -> None:
    rendered = render(f"![a hem]({source})", slots=True)
    html = str(rendered.filled({}, {}))
    assert "<img" not in html and "a hem" in html and rendered.pictures == ()


def test_pictures_beside_the_style_are_found_from_any_page() -> None:
    rendered = render("![the hem](hems/curved%20hem.jpg)", slots=True)
    assert rendered.pictures == ("hems/curved hem.jpg",)
    assert 'src="../../pictures/hems/curved hem.jpg"' in str(rendered.filled({}, {}, "../../"))


def test_tables_and_task_lists() -> None:
    html = str(plain("| a | b |\n|---|---|\n| 1 | 2 |\n\n- [ ] thread\n- [x] zip"))
    assert "<td>2</td>" in html
    assert html.count('type="checkbox"') == 2 and html.count('checked="checked"') == 1
    assert html.count("<label>") == 2


def test_headings_stand_below_those_of_the_page() -> None:
    assert "<h3>a</h3>" in str(plain("# a")) and "<h6>b</h6>" in str(plain("##### b"))


def test_a_sketch_is_drawn_with_its_caption_and_nothing_of_it_is_markup() -> None:
    html = plain(
        "1. Sew.\n\n   ```sketch A <b> corner\n   wrong side: 0 0, 20 0, 20 10, 0 10\n   words: 2 4, <i>&\n   ```\n"
    )
    assert html.count('<figure class="sketch"><svg ') == 1 and "<pre>" not in html
    assert "<figcaption>A &lt;b&gt; corner</figcaption>" in html and "&lt;i&gt;&amp;</text>" in html
    assert 'viewBox="-1.5 -1.5 23 13"' in html


def test_other_fenced_text_stays_as_it_was_written() -> None:
    assert "<pre><code" in plain("```text\nsketch\n```") and "<figure" not in plain("```text\nsketch\n```")
