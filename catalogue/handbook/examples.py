"""The examples of the handbook, drafted like any style, for a person of a standard size."""

from __future__ import annotations

from functools import cache

from catalogue.drafting import draft_style
from catalogue.drafting.model import Draft
from catalogue.findings import Place
from catalogue.handbook.entry import Entry
from catalogue.lengths import Unit, Units
from catalogue.people import Client, Measured
from catalogue.slugs import slugify
from catalogue.studio.joining import joined
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from catalogue.studio.style import Style

INCH = 25.4

STANDARD_PERSON = {
    # US home-pattern trade sizes after 1967, misses size 14 (trade practice)
    "bust_girth": 36 * INCH,
    "waist_girth": 28 * INCH,
    "hip_girth": 38 * INCH,
    "back_waist_length": 16.5 * INCH,
    # ASTM D5585-11e1, misses size 8, whose bust is 36 1/4 in
    "head_girth": 21.75 * INCH,
    "neck_base_girth": 14.625 * INCH,
    "under_bust_girth": 30 * INCH,
    # US Army survey of 2012 (NATICK/TR-15/007), means of the women, computed from its public data
    "shoulder_length": 135.0,
    "upper_arm_girth": 306.0,
    "wrist_girth": 155.0,
    "hand_girth": 187.0,
}
"""Measurements in mm of the person for whom the examples are drafted."""

_UNITS = Units(Unit.CM)


@cache
def neutral_client() -> Client:
    """The person for whom the examples are drafted."""
    measured = {
        key: Measured(mm, f"{mm / 10:g} cm", None, Place("handbook")) for key, mm in STANDARD_PERSON.items()
    }
    return Client("standard-size", "handbook", "Standard size", "woman", _UNITS, measurements=measured)


def example_source(entry: Entry) -> str:
    """The style file that the example stands for: nothing left out."""
    front = [f"title: {entry.title}"]
    if entry.notions:
        front.append(f"notions: {entry.notions}")
    if entry.choices:
        front += ["choices:", *(f"  {line}" for line in entry.choices)]
    if entry.cut_from:
        front += ["cut from:", *(f"  {line}" for line in entry.cut_from)]
    blocks = [f"```draft\n{block}\n```\n" for block in entry.steps()]
    return "\n".join(("---", *front, "---", "", "# Example", "", *blocks))


def example_style(entry: Entry) -> Style:
    """The style that the example stands for, joined with its blocks."""
    stem = slugify(entry.word)
    files = [(stem, example_source(entry)), *entry.blocks]
    return joined(style_from(text.encode(), slug, f"handbook/{slug}.md") for slug, text in files)[0]


def draft_example(entry: Entry) -> Draft:
    """The example drafted for `neutral_client`; it has a step for each part of the example."""
    return draft_style(example_style(entry), neutral_client(), Settings())
