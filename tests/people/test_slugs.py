"""Names of folders and links."""

import re
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.slugs import slugify


@pytest.mark.parametrize(
    ("text", "slug"),
    [
        ("hester-pellow", "hester-pellow"),
        ("Hester Pellow", "hester-pellow"),
        ("straight_skirt (knee)", "straight-skirt-knee"),
        ("  --A--  ", "a"),
        ("CON", "c-con"),
        ("Compare", "c-compare"),
        ("com1", "c-com1"),
        ("console", "console"),
        ("../../etc/passwd", "etc-passwd"),
    ],
)
def test_makes_a_name_safe(text: str, slug: str) -> None:
    assert slugify(text) == slug


def test_other_scripts_become_a_short_mark_that_stays() -> None:
    arabic, vietnamese = slugify("نديم"), slugify("Thùy Miên")
    assert re.fullmatch("c-[0-9a-f]{6}", arabic)
    assert arabic != vietnamese
    assert slugify("نديم") == arabic
    # a file name decomposed by the file system is the same name
    assert slugify(unicodedata.normalize("NFD", "Thùy Miên")) == vietnamese


def test_long_names_stay_different() -> None:
    first, second = slugify("a" * 200), slugify("a" * 201)
    assert first != second
    assert max(len(first), len(second)) <= 60


@given(st.text(max_size=200))
def test_any_text_gives_a_safe_name(text: str) -> None:
    slug = slugify(text)
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", slug)
    assert len(slug) <= 60
    assert slug not in {"con", "nul", "aux", "prn"}
    assert slugify(slug) == slug
