"""The demo studio's catalogue, as a visitor gets it: nothing wrong, everything there, every link leads somewhere."""

from __future__ import annotations

from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import parse_qsl, unquote, urlsplit

import pytest

from catalogue.building import manifest


class Links(HTMLParser):
    """Collects where a page leads, what can be led to in it, and what it loads."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.links: list[str] = []
        self.ids: set[str] = set()
        self.twice: list[str] = []
        self.loads: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        given = dict(attributes)
        self.links += [v for k in ("href", "src", "xlink:href") if (v := given.get(k))]
        if name := given.get("id"):
            if name in self.ids:
                self.twice.append(name)
            self.ids.add(name)
        if tag in LOADING or (tag == "link" and given.get("rel") in ("stylesheet", "icon", "preload")):
            self.loads += [v for k in ("src", "href", "data") if (v := given.get(k))]


LOADING = {"script", "img", "source", "iframe", "video", "audio", "object", "embed"}


@pytest.fixture(scope="module")
def pages(demo_site: Path) -> dict[Path, Links]:
    """Every page of the demo, by its real path."""
    return {page: Links(page.read_text(encoding="utf-8")) for page in demo_site.resolve().rglob("*.html")}


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
        for link in dict.fromkeys(found.links):
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
    assert Links('<p id="a"><b id="b"></b><i id="a"></i></p>').twice == ["a"]


def test_what_pages_load_lies_in_the_catalogue(pages: dict[Path, Links]) -> None:
    assert len(pages) > 30
    for page, found in pages.items():
        assert found.loads, page
        assert all(not urlsplit(v).scheme or v.startswith("data:") for v in found.loads), page
