"""What is kept of a draft for its page: read again it is what was written, type by type, or nothing."""

from __future__ import annotations

import json
import zlib
from dataclasses import fields, is_dataclass, replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalogue.building.common import Common
from catalogue.building.readers import StudioReaders
from catalogue.building.reading import read_studio
from catalogue.building.studio import find_files
from catalogue.site.drafted import draft_view
from catalogue.site.keeping import LARGEST, as_bytes, from_bytes
from catalogue.site.records import DraftView
from catalogue.site.story import story
from tests.extent import one_each
from tests.site import sample

ROOT = Path(__file__).parents[2]


def kinds(value: Any) -> Any:
    """A value with the type of each of its parts."""
    if isinstance(value, dict):
        return [(k, type(k), kinds(part)) for k, part in value.items()]
    if isinstance(value, list | tuple):
        return type(value), [kinds(part) for part in value]
    if is_dataclass(value):
        return type(value), [kinds(getattr(value, field.name)) for field in fields(value)]
    return type(value), value


def of_the_sample() -> DraftView:
    draft = sample.draft()
    return draft_view(draft, story(draft.style), "../../../")


def test_drafts_of_the_demo_come_back_as_they_were() -> None:
    studio = read_studio(find_files(ROOT), StudioReaders())
    common = Common(studio)
    sizes = []
    for style_slug, client_slug in one_each(sorted(common.suited)):
        style, client = studio.by_style[style_slug], studio.by_client[client_slug]
        view = draft_view(common.draft(style, client), story(style), "../../../")
        kept = as_bytes(view)
        sizes.append(len(kept))
        again = from_bytes(kept)
        assert again == view
        assert kinds(again) == kinds(view)
    assert len(sizes) >= 10 and min(sizes) > 0 and max(sizes) < 60_000


def test_failing_seams_and_findings_come_back_too() -> None:
    draft = sample.draft()
    seams = tuple(replace(seam, ok=False) for seam in draft.seams)
    finding = replace(sample.draft(sample.person(without=("shoulder_length",))), seams=seams)
    for each in (replace(draft, seams=seams), finding):
        view = draft_view(each, story(draft.style), "")
        assert kinds(from_bytes(as_bytes(view))) == kinds(view)


@given(st.data())
def test_what_is_not_a_record_is_nothing(data: st.DataObject) -> None:
    """A value put in another's place, anywhere in the record, or bytes cut off or changed: never an error."""
    kept = as_bytes(of_the_sample())
    whole = json.loads(zlib.decompress(kept))
    at: Any = whole
    for _ in range(data.draw(st.integers(0, 5))):
        place = data.draw(st.sampled_from(range(len(at)) if isinstance(at, list) else sorted(at)))
        below = at[place]
        if not isinstance(below, list | dict) or not below:
            break
        at = below
    place = data.draw(st.sampled_from(range(len(at)) if isinstance(at, list) else sorted(at)))
    at[place] = data.draw(st.sampled_from([None, 7, "<b>", [], {}, True, [[]], {"a": 1}]))
    view = from_bytes(zlib.compress(json.dumps(whole).encode()))
    # Whatever is taken for a record has the types that a record has.
    assert view is None or kinds(from_bytes(as_bytes(view))) == kinds(view)


@pytest.mark.parametrize(
    "text",
    [
        b"",
        b"[]",
        zlib.compress(b"[]"),
        zlib.compress(b"[" * 100_000),
        zlib.compress(b"\xff"),
        zlib.compress(b" " * (LARGEST + 1)),
    ],
)
def test_other_bytes_are_no_record(text: bytes) -> None:
    assert from_bytes(text) is None and from_bytes(zlib.compress(text)) is None


def test_a_record_cut_short_or_with_more_behind_it_is_none() -> None:
    kept = as_bytes(of_the_sample())
    assert from_bytes(kept) is not None
    assert from_bytes(kept[:-1]) is None and from_bytes(kept + b"x") is None


def test_what_is_too_much_is_not_kept() -> None:
    view = of_the_sample()
    assert as_bytes(replace(view, failing=("x" * LARGEST,))) == b""
    assert as_bytes(replace(view, failing=(object(),))) == b""  # type: ignore[arg-type]
    assert from_bytes(as_bytes(replace(view, failing=({1, 2},)))) is None  # type: ignore[arg-type]
