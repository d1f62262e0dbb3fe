"""How large and how quick the pages of a large studio are in a browser.

    python -m tests.benchmarks.pages [STYLESxCLIENTS] [--keep FOLDER]

Makes the lists of such a studio whole (the catalogue, styles, clients, comparing, searching) as a build does, from the
studio that `builds` makes. Drafts are made of the demo's styles for a few clients alone, and stand in for those of the
styles that are copies of them; the pages that list drafts can't tell. Then opens each kind of page from disk and prints
its weight, when its first drawing stood there, how long it was laid out for, and how long searching took.
"""

from __future__ import annotations

import argparse
import shutil
import tempfile
from collections.abc import Collection
from pathlib import Path

from tests.benchmarks.builds import STYLES, make_studio

DRAFTED = 3
"""For how many clients drafts are made."""


def make_lists(folder: Path, styles: int, clients: int, only: Collection[str] = ()) -> Path:
    """The catalogue of such a studio without most of its drafts; gives the folder to open it from.

    With `only`, slugs of styles and clients, no other style and no other client has a page of its own, and of each
    other style one draft is made.
    """
    from catalogue.building.common import Common
    from catalogue.building.kind import UnitKind
    from catalogue.building.reading import read_studio
    from catalogue.building.studio import find_files
    from catalogue.building.unit import Product, Results, Summary, UnitName
    from catalogue.building.units import CATALOGUE

    root = make_studio(folder / "studio", styles, clients)
    common = Common(read_studio(find_files(root), CATALOGUE.readers))
    studio = common.studio
    site = folder / "site"
    kinds: dict[str, UnitKind] = {kind.name: kind for kind in CATALOGUE.kinds}
    summaries: dict[UnitName, Summary] = {}

    def made(name: UnitName) -> list[Product]:
        return list(kinds[name.kind].make(common, name, Results(summaries)).values())

    for copied in STYLES:
        alike = [s for s in studio.styles if s.slug.startswith(copied.stem)]
        style = alike[0]
        has_page = not only or style.slug in only
        if has_page:
            for path, picture in made(UnitName("choices", style.slug))[0].files.items():
                write(site / path, picture)
        for client in studio.clients[: DRAFTED if has_page else 1]:
            pair, its_page = made(UnitName("pair", style.slug, client.slug))
            for each in alike:
                for path, content in {**pair.files, **its_page.files}.items():
                    if each is style or path.endswith(("/pieces.svg", "/outline.js")):
                        there = path.replace(f"styles/{style.slug}/", f"styles/{each.slug}/", 1)
                        write(site / there, content.replace(style.slug.encode(), each.slug.encode()))
        summaries |= {
            UnitName("pair", each.slug, client.slug): pair.summary
            for each in alike
            for client in studio.clients
        }
    names = [name for kind in ("home", "rest", "style", "client") for name in kinds[kind].names(common)]
    for name in names:
        if only and name.style + name.client and name.style + name.client not in only:
            continue
        for path, page in made(name)[0].files.items():
            write(site / path, page)
    return site


def write(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)


SEARCH = """words => {
    const field = document.querySelector('input[type=search]');
    const before = performance.now();
    field.value = words;
    field.dispatchEvent(new Event('input', {bubbles: true}));
    document.body.offsetHeight;
    return performance.now() - before;
}"""
"""Milliseconds from a letter typed to the answer laid out on the page."""

WORDS = ("s", "skirt", "number 4", "client 15", "waist ease", "nobody at all", "")

READY = """() => performance.getEntriesByType('navigation')[0].loadEventEnd > 0
    && performance.getEntriesByName('first-contentful-paint').length > 0"""

TIMES = """() => {
    const page = performance.getEntriesByType('navigation')[0];
    const drawn = performance.getEntriesByName('first-contentful-paint')[0];
    return [drawn.startTime, page.loadEventEnd];
}"""
"""Milliseconds until something was drawn, and until all that the page names was read."""


def kinds(site: Path) -> dict[str, str]:
    """One page of each kind, by what it is."""
    style = min(p.parent.name for p in site.glob("styles/*/index.html"))
    client = min(p.parent.name for p in site.glob("clients/*/index.html"))
    return {
        "catalogue": "index.html",
        "browse": "flip/index.html",
        "style": f"styles/{style}/index.html",
        "compare": f"styles/{style}/compare/index.html",
        "draft": f"styles/{style}/{client}/index.html",
        "client": f"clients/{client}/index.html",
        "measuring": "measuring/index.html",
        "form": "measuring/form/index.html",
    }


def main() -> None:
    from playwright.sync_api import sync_playwright

    from tests.browsers import ARGUMENTS, find_browser

    parser = argparse.ArgumentParser(description="Weigh and time the pages of a large studio.")
    parser.add_argument("size", nargs="?", default="60x200", metavar="STYLESxCLIENTS")
    parser.add_argument("--keep", type=Path, help="leave the studio and its catalogue in this folder")
    given = parser.parse_args()
    with tempfile.TemporaryDirectory() as temporary, sync_playwright() as library:
        folder = (given.keep or Path(temporary)) / given.size
        shutil.rmtree(folder, ignore_errors=True)
        styles, clients = map(int, given.size.split("x"))
        site = make_lists(folder, styles, clients)
        browser = library.chromium.launch(executable_path=find_browser(), args=[*ARGUMENTS, "--no-sandbox"])
        page = browser.new_page(viewport={"width": 1440, "height": 900})
        data = (site / "assets" / "search.js").stat().st_size
        print(f"Data to search in: {data / 1000:.0f} KB\n")
        print("| page | KB | elements | height, px | first drawn, ms | read, ms | typing, ms at most |")
        print("|---|---|---|---|---|---|---|")
        for what, path in kinds(site).items():
            page.goto((site / path).as_uri())
            page.wait_for_function(READY)
            first, whole = page.evaluate(TIMES)
            elements = page.evaluate("document.querySelectorAll('*').length")
            height = page.evaluate("document.documentElement.scrollHeight")
            typing = ""
            if page.locator("input[type=search]:visible").count():
                typing = f"{max(page.evaluate(SEARCH, w) for w in WORDS):.0f}"
            size = (site / path).stat().st_size / 1000
            print(f"| {what} | {size:.0f} | {elements} | {height} | {first:.0f} | {whole:.0f} | {typing} |")
        browser.close()


if __name__ == "__main__":
    main()
