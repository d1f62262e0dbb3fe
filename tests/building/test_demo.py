"""The demo studio's catalogue, as a visitor gets it: nothing wrong, everything there, every link leads somewhere."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import parse_qsl, unquote, urlsplit

import pytest

from catalogue.building import manifest


@dataclass(frozen=True)
class Links:
    """Where a page leads, what can be led to in it, and what it loads.

    Attributes:
        links: addresses, in the page's order, each once.
        ids: what can be led to.
        twice: ids that are used more than once.
        loads: addresses of what is shown or run with the page.
    """

    links: list[str]
    ids: set[str]
    twice: list[str]
    loads: list[str]


LOADING = {"script", "img", "source", "iframe", "video", "audio", "object", "embed"}
LOADED_BY = ("stylesheet", "icon", "preload")
UNREAD = re.compile(r"<!--.*?-->|(<(script|style)\b[^>]*>).*?(</\2>)", re.DOTALL)
REFERRING = re.compile(r'\s(id|href|src|xlink:href)="([^"]*)"')
LOADER = re.compile(rf"<({'|'.join(sorted(LOADING))}|link)\b([^>]*)>")
ATTRIBUTE = re.compile(r'([\w:-]+)="([^"]*)"')


def links(text: str) -> Links:
    """The links of a page of ours, whose attributes are all in double quotes, sooner than by a reader of HTML."""
    text = UNREAD.sub(r"\1\3", text)
    found = [(key, unescape(value)) for key, value in dict.fromkeys(REFERRING.findall(text)) if value]
    times = Counter(unescape(value) for key, value in REFERRING.findall(text) if key == "id" and value)
    loads = []
    for tag, attributes in LOADER.findall(text):
        given = {key: unescape(value) for key, value in ATTRIBUTE.findall(attributes)}
        if tag != "link" or given.get("rel") in LOADED_BY:
            loads += [v for k in ("src", "href", "data") if (v := given.get(k))]
    ids = [name for name, count in times.items() if count > 1]
    return Links(list(dict.fromkeys(v for key, v in found if key != "id")), set(times), ids, loads)


class ReadAsHtml(HTMLParser):
    """The same, found by a reader of HTML."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.links: list[str] = []
        self.ids: list[str] = []
        self.loads: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        given = dict(attributes)
        self.links += [v for k in ("href", "src", "xlink:href") if (v := given.get(k))]
        self.ids += [name for name in [given.get("id")] if name]
        if tag in LOADING or (tag == "link" and given.get("rel") in LOADED_BY):
            self.loads += [v for k in ("src", "href", "data") if (v := given.get(k))]


@pytest.fixture(scope="module")
def pages(demo_site: Path) -> dict[Path, Links]:
    """Every page of the demo, by its real path."""
    return {page: links(page.read_text(encoding="utf-8")) for page in demo_site.resolve().rglob("*.html")}


def test_links_are_found_as_a_reader_of_html_finds_them(demo_site: Path, pages: dict[Path, Links]) -> None:
    places = {page: page.parent.relative_to(demo_site.resolve()).parts for page in pages}
    one_each = {(parts[:1], len(parts)): page for page, parts in places.items()}
    assert len(one_each) > 8
    for page in one_each.values():
        read, found = ReadAsHtml(page.read_text(encoding="utf-8")), pages[page]
        assert (set(read.links), set(read.ids), read.loads) == (set(found.links), found.ids, found.loads), (
            page
        )
        assert [name for name, times in Counter(read.ids).items() if times > 1] == found.twice, page


def test_nothing_is_wrong_with_the_demo(demo_site: Path) -> None:
    units = manifest.read(demo_site).units
    errors = [str(f) for unit in units.values() for f in unit.findings if f.is_error]
    assert errors == []
    drafts = [unit for name, unit in units.items() if name.startswith("pair/")]
    assert len(drafts) >= 12
    assert {unit.summary["state"] for unit in drafts} <= {"ready", "waiting"}


def test_every_draft_has_its_page_and_drawings(demo_site: Path) -> None:
    for name, unit in manifest.read(demo_site).units.items():
        if name.startswith("pair/"):
            _, style, client = name.split("/")
            folder = demo_site / "styles" / style / client
            assert (folder / "index.html").is_file() and (folder / "draft.json").is_file()
            if unit.summary["state"] == "ready":
                assert (folder / "draft.svg").is_file()
                assert (folder / "draft-a4.pdf").read_bytes().startswith(b"%PDF-")


def test_every_link_leads_somewhere_on_the_disk(demo_site: Path, pages: dict[Path, Links]) -> None:
    assert len(pages) > 30
    site = demo_site.resolve()
    # Pages lead to the same few places thousands of times, and each look at the disk takes its time.
    real: dict[tuple[Path, str], tuple[Path, bool]] = {}

    def place(page: Path, path: str) -> tuple[Path, bool]:
        """What a link leads to, and whether that is a file of the catalogue."""
        if (page.parent, path) not in real:
            target = (page.parent / unquote(path)).resolve()
            real[page.parent, path] = target, target.is_file() and site in target.parents
        return real[page.parent, path]

    wrong = []
    for page, found in pages.items():
        for link in found.links:
            parts = urlsplit(link)
            if parts.scheme in ("mailto", "tel"):
                continue
            if parts.scheme or parts.netloc or parts.path.startswith("/"):
                # A style's sources may name a page on the network; nothing is loaded from there.
                if parts.scheme not in ("http", "https"):
                    wrong.append(f"{page}: {link}")
                continue
            target, there = place(page, parts.path) if parts.path else (page, True)
            if there and parts.fragment and target in pages:
                words = unquote(parts.fragment)
                if (
                    target.parent.name == "compare" and "+" in words
                ):  # the two drafts that its form begins with
                    form = target.read_text(encoding="utf-8")
                    there = all(f'value="{draft}"' in form for draft in words.split("+"))
                elif target.parent.name == "add" and "=" in words:  # what its form begins with
                    form = target.read_text(encoding="utf-8")
                    there = all(
                        f'value="{value}"' in form for _, value in parse_qsl(words, strict_parsing=True)
                    )
                else:
                    there = words in pages[target].ids
            if not there:
                wrong.append(f"{page}: {link}")
    assert wrong == []


def test_no_id_is_used_twice_in_a_page(pages: dict[Path, Links]) -> None:
    assert sum(len(found.ids) for found in pages.values()) > 1000
    assert {str(page): found.twice for page, found in pages.items() if found.twice} == {}
    assert links('<p id="a"><b id="b"></b><i id="a"></i></p>').twice == ["a"]


def test_what_pages_load_lies_in_the_catalogue(pages: dict[Path, Links]) -> None:
    assert len(pages) > 30
    for page, found in pages.items():
        assert found.loads, page
        assert all(not urlsplit(v).scheme or v.startswith("data:") for v in found.loads), page


def test_a_drafts_page_says_what_holds_for_its_client_alone(demo_site: Path) -> None:
    drafts = [path.parent / "index.html" for path in demo_site.glob("styles/*/*/draft.json")]
    assert len(drafts) > 100
    told = {path: path.read_text(encoding="utf-8") for path in drafts}
    assert [path for path, text in told.items() if 'class="figure-formula"' in text] == []
    halves = {path.parent.name for path, text in told.items() if "halves of this body differ" in text}
    assert halves and len(halves) < len({path.parent.name for path in drafts})
