"""`catalogue copy`: a style under a title of its own, from this studio or another, and never a file written over."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from catalogue.building.disk import CannotWrite
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
    assert differing == [("title: First skirt", "title: 'Skirt: with pockets'")]
    before = made.read_bytes()
    with pytest.raises(Refused, match="is there already"):
        copy_style(studio, "first-skirt", "Skirt: with pockets")
    assert made.read_bytes() == before


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("Épaule skirt", "epaule-skirt.md"),
        ("Jupe d'été", "jupe-d-ete.md"),
        ("Đông skirt", "dong-skirt.md"),
        ("№ 3 skirt", "no-3-skirt.md"),
        ("Ìró àti bùbá", "iro-ati-buba.md"),
        ("تنورة طويلة", "تنورة-طويلة.md"),
        ("긴 치마", "긴-치마.md"),
    ],
)
def test_the_file_of_a_copy_is_called_so_that_it_is_found_again(studio: Path, title: str, name: str) -> None:
    [made] = copy_style(studio, "first-skirt", title)
    assert made.name == name and read_style(made, studio).title == title
    with pytest.raises(Refused, match="is there already"):
        copy_style(studio, "first-skirt", title)


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


@pytest.mark.parametrize(
    "title", ['Called "wide": long', "The dean's: long", "a\\b: long", '"Quoted"', "- x"]
)
def test_a_title_with_signs_in_it_stays_as_it_was_typed(studio: Path, title: str) -> None:
    [made] = copy_style(studio, "First skirt", title)
    copy = read_style(made, studio)
    assert (copy.title, copy.findings) == (title, ())


def test_a_style_in_another_encoding_or_without_a_title_is_copied_or_refused_in_words(studio: Path) -> None:
    text = (studio / "styles/first-skirt.md").read_text("utf-8")
    (studio / "styles/wide.md").write_bytes(text.encode("utf-16"))
    [made] = copy_style(studio, "wide", "Wider")
    assert read_style(made, studio).title == "Wider"
    (studio / "styles/latin.md").write_bytes(text.replace("title: ", "title: Jup\xf3n ").encode("latin-1"))
    (studio / "styles/plain.md").write_text(text.replace("title: First skirt\n", ""), "utf-8")
    for name, why in (("latin", "not in UTF-8"), ("plain", "can't be changed")):
        with pytest.raises(Refused, match=why):
            copy_style(studio, name, "Another")
    assert not (studio / "styles/another.md").exists()


def test_a_block_that_is_there_and_another_is_told(studio: Path, tmp_path: Path) -> None:
    (tmp_path / "other/styles").mkdir(parents=True)
    (tmp_path / "other/styles/a-block.md").write_text(BLOCK)
    (tmp_path / "other/styles/cut.md").write_text(CUT)
    (studio / "styles/a-block.md").write_text(BLOCK.replace("A block", "Another block"))
    told: list[str] = []
    copy_style(studio, "cut", source=tmp_path / "other", tell=told.append)
    assert len(told) == 1 and "a-block.md" in told[0] and "is cut from the one" in told[0]


def test_a_picture_is_taken_from_the_folder_of_styles_alone(studio: Path, tmp_path: Path) -> None:
    (tmp_path / "other/styles").mkdir(parents=True)
    (tmp_path / "other/secret.txt").write_text("a secret")
    (tmp_path / "other/styles/cut.md").write_text(BLOCK.replace("block: yes", "picture: ../secret.txt"))
    assert [p.name for p in copy_style(studio, "cut", source=tmp_path / "other")] == ["a-block.md"]


@pytest.mark.skipif(sys.platform == "win32", reason="makes files that Windows does not have")
@pytest.mark.parametrize(
    "make",
    [
        lambda styles: os.mkfifo(styles / "newer-one.md"),
        lambda styles: (styles / "newer-one.md").symlink_to("nowhere"),
        lambda styles: (styles / "Newer One.md").write_text("---\ntitle: Other\n---\n"),
    ],
    ids=["a pipe", "a link to nothing", "a name that differs in capitals"],
)
def test_what_would_be_called_the_same_is_never_copied_beside(
    studio: Path, make: Callable[[Path], object]
) -> None:
    make(studio / "styles")
    before = sorted(studio.rglob("*"))
    with pytest.raises(Refused, match="is there already"):
        copy_style(studio, "first-skirt", "Newer one")
    assert sorted(studio.rglob("*")) == before


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a full disk")
def test_a_full_disk_leaves_no_half_of_a_style(studio: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = Path.open

    def full(path: Path, mode: str = "r", *rest: object, **more: object) -> object:
        if mode == "xb":
            real(path, mode).close()
            return open("/dev/full", "wb", buffering=0)  # noqa: PTH123
        return real(path, mode, *rest, **more)  # type: ignore[call-overload]

    monkeypatch.setattr(Path, "open", full)
    with pytest.raises(CannotWrite):
        copy_style(studio, "first-skirt", "Newer one")
    assert not (studio / "styles/newer-one.md").exists()
