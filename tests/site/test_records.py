"""Templates and the program use one set of names."""

from __future__ import annotations

from dataclasses import fields

import pytest
from jinja2 import meta, nodes

import catalogue.site.pages
from catalogue.site.handbook import CHAPTERS, ChapterPage
from catalogue.site.page import Page
from catalogue.site.pages import Site
from catalogue.site.summaries import Download, DraftSummary, SizedSummary, SizedTable, as_plain, from_plain
from tests.site import sample

ADDED = {"root", "here", "path", "studio", "ways", "policy", "version", "lang"}
"""Names that every template may use."""


def kinds() -> dict[str, type[Page]]:
    """Every kind of page, by its name: a class made again with slots counts once."""
    assert catalogue.site.pages.Page is Page
    return {kind.__name__: kind for kind in Page.__subclasses__()}


def templates(kind: type[Page]) -> list[str]:
    if kind is ChapterPage:
        return [f"handbook/{chapter.slug}.html" for chapter in CHAPTERS] + ["handbook/chapter.html"]
    return [kind.template]


def used(name: str) -> set[str]:
    """Names that a template asks for."""
    site = Site(sample.settings(), [], [])
    site.make_ready(name)  # filters must be there before templates are looked into
    path = site.templates.find(name)
    assert path is not None
    tree = site.templates.environment.parse(path.read_text(encoding="utf-8"))
    own = {node.target for node in tree.find_all(nodes.Import)} | {
        node.name for node in tree.find_all(nodes.Macro)
    }
    return meta.find_undeclared_variables(tree) - own


@pytest.mark.parametrize("name", sorted(kinds()))
def test_a_template_uses_the_fields_of_its_page_and_no_others(name: str) -> None:
    kind = kinds()[name]
    names = set().union(*(used(template) for template in templates(kind)))
    assert names - ADDED == {field.name for field in fields(kind)} - ADDED


def test_every_kind_of_page_was_looked_at() -> None:
    assert len(kinds()) >= 13  # those there were when this was written


def test_a_summary_comes_back_as_it_was_and_nothing_else_does() -> None:
    download = Download("lay", "Main cloth needed", "lay-main.svg", about="1.2 m, 140 cm wide")
    summary = DraftSummary("waiting", "Amaka", ("bust_girth",), True, (download,))
    assert from_plain(as_plain(summary), DraftSummary) == summary
    sheet = Download("print", "Print on A4", "sizes/a.pdf", 4)
    table = SizedTable(
        "House", "h.md", False, ("10",), (), ("own",), (sheet,), ("10",), (("bust girth", "88 cm"),)
    )
    assert from_plain(as_plain(SizedSummary((table,))), SizedSummary) == SizedSummary((table,))
    for wrong in ({}, {"state": "done"}, {"state": "ready", "downloads": [["draft.svg", "x", 0, ""]]}):
        with pytest.raises(ValueError):
            from_plain(wrong, DraftSummary)
