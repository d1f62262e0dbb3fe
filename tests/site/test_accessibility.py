"""That `tests.accessibility` finds, of what is repeated, the one that is unlike the others."""

from __future__ import annotations

from typing import Any

import pytest

from tests.accessibility import faults

ROW = '<tr><th scope="row"><a href="#b">Back neck</a></th><td class="num">12 cm</td></tr>'
SECTION = (
    '<article class="entry"><h3>A word</h3><pre tabindex="0">a = 1</pre><p>It is <em>so</em>.</p></article>'
)
DRAWING = '<svg role="img" viewBox="0 0 9 9"><title>A line</title><g><path d="M0 0L9 9"/><text>9 cm</text></g></svg>'
STYLE = "td {padding: 1em} a {padding: 1em} .entry {color: #333} pre {overflow: auto; width: 9em}"


def shown(
    page: Any, last_row: str = ROW, last_section: str = SECTION, last_drawing: str = DRAWING
) -> list[str]:
    """The rules that a page breaks of whose rows, sections and drawings the fifth is another one."""
    page.set_content(
        f'<!doctype html><html lang="en"><head><title>Repeated</title><style>{STYLE}</style></head><body><main>'
        f"<h1>Rows</h1><h2 id=b>Beginning</h2><table><caption>Edges</caption><tbody>{ROW * 4}{last_row}{ROW}"
        f"</tbody></table><h2>Words</h2>{SECTION * 4}{last_section}{SECTION}{DRAWING * 4}{last_drawing}</main></body>"
    )
    return [rule for rule, _ in faults(page, whole=False)]


def test_what_is_right_is_left_alone(quiet_page: Any) -> None:
    assert shown(quiet_page) == []
    # Of six rows and sections two are left, of drawings their titles.
    assert [quiet_page.locator(each).count() for each in ("tr", "article", "svg", "svg *")] == [2, 2, 2, 2]


@pytest.mark.parametrize(
    ("rule", "changed"),
    [
        ("link-name", {"last_row": ROW.replace("Back neck", " ")}),
        ("scope-attr-valid", {"last_row": ROW.replace('"row"', '"rows"')}),
        ("color-contrast", {"last_row": ROW.replace('class="num"', 'style="color: #ddd"')}),
        ("color-contrast", {"last_section": SECTION.replace("<em>", '<em style="color: #ddd">')}),
        ("image-alt", {"last_section": SECTION.replace("It is", '<img src="x.png">')}),
        ("heading-order", {"last_section": SECTION.replace("h3>", "h5>")}),
        ("aria-valid-attr-value", {"last_section": SECTION.replace("<p>", '<p aria-hidden="perhaps">')}),
        ("reference", {"last_section": SECTION.replace("<article", '<article aria-labelledby="nothing"')}),
        ("svg-img-alt", {"last_drawing": DRAWING.replace("A line", "")}),
        (
            "scrollable-region-focusable",
            {
                "last_section": "".join(
                    f"<article><pre>{'a = 1 ' * times}</pre></article>" for times in (1, 1, 1, 9)
                )
            },
        ),
    ],
)
def test_one_among_many_is_found(quiet_page: Any, rule: str, changed: dict[str, str]) -> None:
    assert rule in shown(quiet_page, **changed)
