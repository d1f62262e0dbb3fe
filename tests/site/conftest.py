"""A small site, and a browser to open its pages with."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from catalogue.lengths import Unit
from tests.site import sample
from tests.site.test_pages import made


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small site on disk: three styles, three people; one lacks a measurement."""
    folder = tmp_path_factory.mktemp("site")
    style = sample.style()
    styles = [
        style,
        replace(style, slug="long-coat", title="Long coat", garment="coat", tags=("winter",), digest="b"),
        replace(
            style,
            slug="apron",
            title="Apron",
            garment="apron",
            audience=(),
            needs=("waist_girth",),
            alternatives=(("chest_girth", "bust_girth"),),  # All lack the first and have the second.
            digest="c",
        ),
    ]
    people = [
        sample.person(),
        sample.person("Đặng Thùy Miên", "mien", Unit.IN, without=("shoulder_length",)),
        sample.person("ندى", "nada", kind="girl"),
    ]
    for path, content in made(styles, people).items():
        place = folder / path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(content.encode() if isinstance(content, str) else content)
    return folder


@pytest.fixture
def visit(page: Any, site: Path) -> Iterator[Any]:
    """Opens a page of the site from disk; no request may leave the disk."""
    asked: list[str] = []

    def noted(request: Any) -> None:
        asked.append(request.url)

    page.on("request", noted)

    def go(path: str) -> Any:
        file, hash, fragment = path.partition("#")
        page.goto((site / file).as_uri() + hash + fragment)
        return page

    yield go
    page.remove_listener("request", noted)
    assert asked and all(url.startswith("file:") for url in asked), asked
