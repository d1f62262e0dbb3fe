"""Names in headings are set in one face: the serif where it has every letter, else the sans."""

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from catalogue.site.folders import built_in_templates
from catalogue.site.titles import SERIF, in_serif, titled_name

FONTS = sorted((Path(built_in_templates()) / "fonts").glob("newsreader-title*.woff2"))


@pytest.mark.parametrize("font", FONTS, ids=lambda f: f.stem)
def test_the_letters_said_to_be_in_the_serif_are_in_the_font(font: Path) -> None:
    there = set(TTFont(font).getBestCmap())
    assert {code for first, last in SERIF for code in range(first, last + 1)} <= there


def test_two_faces_are_shipped() -> None:
    assert len(FONTS) == 2


@pytest.mark.parametrize("name", ["Đặng Thùy Miên", "Inês Corvalheira", "Hester Pellow", "Zoë d’Ağaoğlu"])
def test_names_with_ready_made_letters_stay_in_the_serif(name: str) -> None:
    assert in_serif(name) and titled_name(name) == f"<bdi>{name}</bdi>"


@pytest.mark.parametrize(
    "name",
    [
        "Ọmọlará Àjíbọ́yẹ̀",  # marks over a letter with a dot below: put together of two
        "Ṣadé",  # a letter that the serif does not have
        "نديم",
    ],
)
def test_other_names_are_set_in_the_sans_as_a_whole(name: str) -> None:
    assert titled_name(name) == f'<bdi class="plain-face">{name}</bdi>'


def test_letters_and_marks_written_apart_count_as_one() -> None:
    assert in_serif("Inês") and in_serif("Ine\u0302s")


def test_a_name_is_only_words() -> None:
    assert titled_name("<b>", 'x"') == '<bdi lang="x&#34;">&lt;b&gt;</bdi>'
