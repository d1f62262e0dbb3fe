"""Finished measurements: what is judged, and that a woven garment smaller than its wearer is refused in words."""

from __future__ import annotations

import pytest

from catalogue.drafting import draft_style
from catalogue.drafting.model import Draft, Finished
from catalogue.drafting.record import draft_record
from catalogue.handbook.examples import neutral_client
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings

WAIST = 711.2
"""mm, of the person for whom examples are drafted: 28 in."""


def drafted(line: str, tags: str = "woven") -> Draft:
    lines = f"edge = line start to (70 cm right from start)\n{line}"
    source = f"---\ntitle: Belt\ntags: {tags}\n---\n\n# Belt\n\n```draft\n{lines}\n```\n"
    return draft_style(style_from(source.encode(), "belt", "belt.md"), neutral_client(), Settings())


def finished(line: str, tags: str = "woven") -> Finished:
    draft = drafted(line, tags)
    assert [str(f) for f in draft.findings] == []
    return draft.finished[0]


def test_body_garment_and_ease_are_told() -> None:
    told = finished("finished waist girth = length of edge + 5 cm, ease 2 cm to 5 cm")
    assert told.ok and told.garment == pytest.approx(750) and told.body == pytest.approx(WAIST)
    assert told.detail == "ease 3.9 cm; expected 2 cm to 5 cm"


def test_ease_out_of_the_range_does_not_hold() -> None:
    assert not finished("finished waist girth = length of edge + 5 cm, ease 5 cm to 6 cm").ok
    assert not finished("finished waist girth = length of edge + 5 cm, ease at least 4.5 cm").ok


@pytest.mark.parametrize(
    "line",
    [
        "finished waist girth = length of edge",
        "finished waist girth = length of edge, ease -3 cm to 2 cm",
        "finished belt = length of edge, body waist_girth",
    ],
)
def test_a_woven_garment_that_can_not_close_is_an_error_said_in_words(line: str) -> None:
    # Wearing ease is a floor, and only patterns for knits may have little or none: Costume text, ch. 16 "Ease in
    # Clothing" (S. Robinson, Central Washington University).
    draft = drafted(line)
    (told,) = draft.finished
    assert not told.ok and not draft.ok
    assert told.detail.startswith("it can't close: 1.1 cm less than the body, and woven cloth does not give.")
    assert draft_record(draft)["finished"][0]["ok"] is False


@pytest.mark.parametrize("tags", ["knit", "jersey, Knit", "laced, woven"])
def test_a_knit_or_a_laced_garment_may_measure_less_than_the_body(tags: str) -> None:
    assert finished("finished waist girth = length of edge, ease -3 cm to 2 cm", tags).ok
    assert finished("finished waist girth = length of edge", tags).ok
    assert not finished("finished waist girth = length of edge, ease -1 cm to 2 cm", tags).ok


@pytest.mark.parametrize(
    "name", ["sleeve length", "side seam", "hem, waist girth", "waist", "waist girth of the belt"]
)
def test_only_the_exact_name_of_a_measurement_is_compared_with_the_body(name: str) -> None:
    # A client file may say “sleeve length” for the arm's; a garment's sleeve is another length.
    told = finished(f"finished {name} = length of edge")
    assert told.ok and told.body is None and told.detail == ""


@pytest.mark.parametrize("name", ["Waist girth", "waist_girth", "waist  girth"])
def test_blanks_and_capitals_of_the_name_do_not_matter(name: str) -> None:
    assert finished(f"finished {name} = length of edge + 5 cm").body == pytest.approx(WAIST)


def test_what_is_compared_tells_whether_it_goes_round_the_body() -> None:
    # Named like a girth, compared with a length: nothing must close.
    assert finished("finished hem girth = 1 cm, body back_waist_length").ok
    assert not finished("finished belt = length of edge, body waist_girth").ok
    # The person measured has no calf girth: the first of them that there is counts.
    assert not finished("finished belt = length of edge, body either calf_girth or waist_girth").ok


def test_a_length_shorter_than_the_body_is_no_fault() -> None:
    assert finished("finished back waist length = 30 cm").ok


def test_the_page_and_the_build_say_that_it_can_not_close() -> None:
    from catalogue.building.outputs import wrong
    from catalogue.site.draft_view import failures

    draft = drafted("finished waist girth = length of edge")
    assert any("it can't close" in words for words in failures(draft))
    assert [f.code for f in wrong(draft) if f.is_error] == ["finished-fails"]
    (place,) = {f.place for f in wrong(draft) if f.is_error}
    assert place is not None and (place.line, place.column) == (10, 1)
