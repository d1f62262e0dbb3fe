"""`catalogue copy`: a style under a title of its own, from this studio or another, and never a file written over."""

from __future__ import annotations

from pathlib import Path

import pytest

from catalogue.building.folder import Refused
from catalogue.starter import make_studio
from catalogue.starter.copying import copy_style
from catalogue.studio.reading import read_style

BLOCK = "---\ntitle: A block\nblock: yes\n---\n"
CUT = "---\ntitle: Cut from it\ncut from:\n  block: a-block\n---\n"


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    make_studio(tmp_path / "mine")
    return tmp_path / "mine"


def test_a_copy_differs_in_its_title_alone(studio: Path) -> None:
    [made] = copy_style(studio, "First skirt", "Skirt: with pockets")
    assert made.name == "skirt-with-pockets.md"
    copy, first = (read_style(p, studio) for p in (made, studio / "styles/first-skirt.md"))
    assert copy.title == "Skirt: with pockets" and not copy.findings
    differing = [(a, b) for a, b in zip(first.lines, copy.lines, strict=True) if a != b]
    assert differing == [("title: First skirt", 'title: "Skirt: with pockets"')]
    before = made.read_bytes()
    with pytest.raises(Refused, match="is there already"):
        copy_style(studio, "first-skirt", "Skirt: with pockets")
    assert made.read_bytes() == before


def test_from_another_studio_come_the_blocks_too(studio: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    (other / "styles").mkdir(parents=True)
    (other / "styles/a-block.md").write_text(BLOCK)
    (other / "styles/cut.md").write_text(CUT)
    made = copy_style(studio, "cut", source=other)
    assert sorted(p.name for p in made) == ["a-block.md", "cut-from-it.md"]
    assert (studio / "styles/a-block.md").read_text() == BLOCK


def test_a_style_that_is_not_there_is_refused_with_the_nearest(studio: Path) -> None:
    with pytest.raises(Refused, match="Did you mean “first-skirt”"):
        copy_style(studio, "first-skrit")
    with pytest.raises(Refused, match="is not a studio"):
        copy_style(studio, "first-skirt", source=studio / "styles")
