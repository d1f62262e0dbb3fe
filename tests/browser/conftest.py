"""A new studio with the pages that its forms are on, and the preview that serves them."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from catalogue.people.reading import read_client
from catalogue.preview import News, PreviewServer
from catalogue.site.extremes import choice_picture_path, values_drawn
from catalogue.site.pages import Site
from catalogue.starter import make_studio
from catalogue.studio.reading import read_style
from catalogue.studio.settings import Settings

PICTURE = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><view id="v0" viewBox="0 0 4 9"/></svg>'


@pytest.fixture(scope="session")
def made_studio(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new studio with the pages that its forms are on, for copying."""
    root = tmp_path_factory.mktemp("forms") / "studio"
    make_studio(root)
    styles = [read_style(p, root) for p in sorted((root / "styles").glob("*.md"))]
    clients = [read_client(p, root) for p in (root / "clients").glob("*.md") if p.name != "measurements.md"]
    site = Site(Settings(), styles, clients)
    pages: dict[str, str | bytes] = {**site.home_pages({}), **site.assets()}
    pages |= {f"clients/{c.slug}/add/index.html": site.adding_page(c) for c in clients}
    # The forms show these; what is in them is tried where they are drawn.
    drawn = [(s, c) for s in styles for c in s.choices if values_drawn(c)]
    pages |= {choice_picture_path(s.slug, c): PICTURE for s, c in drawn}
    for path, text in pages.items():
        file = root / "site" / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(text if isinstance(text, bytes) else text.encode())
    return root


@pytest.fixture
def studio(made_studio: Path, tmp_path: Path) -> Path:
    """A new studio with the pages that its forms are on."""
    root = tmp_path / "näh studio"
    shutil.copytree(made_studio, root)
    return root


@pytest.fixture
def server(studio: Path) -> Iterator[PreviewServer]:
    server = PreviewServer(studio / "site", 0, News(), studio)
    threading.Thread(target=server.serve_forever, args=(0.01,), daemon=True).start()
    yield server
    server.news.close()
    server.shutdown()
    server.server_close()


@pytest.fixture
def served(server: PreviewServer, emptied_tab: Any) -> str:
    """The address of the preview, which the page of this test has been let into."""
    emptied_tab.goto(server.address)
    return server.address.partition("?")[0]
