"""A choice that a client's file gives beside the style's default: by hand, 60 cm and 5 cm are 65 cm."""

from __future__ import annotations

import pytest

from catalogue.drafting.drafter import draft_style
from catalogue.lengths import Unit
from catalogue.studio.settings import Settings
from tests.drafting.people_and_styles import person, style_of, with_choices

RANGED = style_of("a = length down from start", "choices:\n  length: 60 cm (40 cm to 90 cm)\n")
SMALL = style_of("a = ease down from start", "choices:\n  ease: 1 cm (-3 cm to 6 cm)\n")


def taken(text: str, style=RANGED, name="length", unit=Unit.CM):
    draft = draft_style(style, with_choices(person(unit), "sample", **{name: text}), Settings())
    return draft.choices[name], [f.code for f in draft.findings]


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("usual + 5 cm", "65 cm"),
        ("default − 5", "55 cm"),
        ("the usual plus 5cm", "65 cm"),
        ("+5 cm", "65 cm"),
        ("plus 50 mm", "65 cm"),
        ("5 cm longer", "65 cm"),
        ("2 1/2 cm shorter", "57.5 cm"),
        ("5 cm more than usual", "65 cm"),
        ("as usual", "60 cm"),
        ("65 cm", "65 cm"),
    ],
)
def test_it_is_so_much_more_or_less(text, shown):
    assert taken(text) == (shown, [])


def test_a_number_alone_is_in_the_clients_unit():
    # By hand: 60 cm and 2 in of 2.54 cm are 65.08 cm, 25 5/8 in to the nearest sixteenth.
    assert taken("2 longer", unit=Unit.IN) == ("25 5/8 in", [])


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("usual + 40 cm", "out-of-range"),
        ("a bit longer", "not-a-length"),
        ("5 cm lower", "not-a-length"),
        ("usual +", "not-a-length"),
    ],
)
def test_what_can_not_be_is_refused(text, code):
    assert taken(text) == ("60 cm", [code])


def test_a_plus_that_can_be_read_two_ways_is_refused_and_a_minus_is_the_length_itself():
    assert taken("+2 cm", SMALL, "ease") == ("1 cm", ["two-readings"])
    assert taken("-2 cm", SMALL, "ease") == ("−2 cm", [])
    assert taken("2 cm more", SMALL, "ease") == ("3 cm", [])
