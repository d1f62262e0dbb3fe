"""Prose made to keep its reader busy is read in time that grows with its length, and shown as it was written."""

from __future__ import annotations

import pytest

from catalogue.site.markdown import _parser, render

ENDLESS = ("![", "[", "![](", "[a](b", "[[", "[a][", "![[", "[`", "![]([", "[a", "- [ ] a\n")
"""What is repeated."""


@pytest.mark.parametrize("repeated", ENDLESS)
def test_the_work_grows_with_the_length(repeated: str) -> None:
    parser = _parser()
    counted = 0
    skip = parser.inline.skipToken

    def counting(state: object) -> None:
        nonlocal counted
        counted += 1
        skip(state)  # type: ignore[arg-type]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(parser.inline, "skipToken", counting)
        work = []
        for length in (12_000, 24_000):
            counted = 0
            text = repeated * (length // len(repeated)) + "]"
            assert repeated[0] in parser.render(text, {"pictures": []}) or repeated.startswith("-")
            work.append(counted)
    assert work[1] < 2.5 * work[0] + 1000 and work[1] < 30 * 24_000


def test_many_items_are_no_tasks_and_few_are() -> None:
    assert render("- [ ] press\n- [x] pin\n").parts[0].count('type="checkbox"') == 2  # type: ignore[union-attr]
    assert "checkbox" not in str(render("- [ ] press\n" * 5000).parts[0])


def test_links_and_pictures_of_a_long_text_are_read() -> None:
    html = str(render("See [the page](https://example.org) and ![it](a.png).\n\n" * 400).parts[0])
    assert html.count("<a href") == 400 and html.count("<img") == 400
