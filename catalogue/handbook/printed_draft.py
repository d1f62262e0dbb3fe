"""A draft printed in a book, taken stage by stage to a style file: text, code and the client of the book.

Source of rules and figures: I. Rosenfeld, *The Practical Designer, for women's, misses', juniors' & children's cloaks &
suits, shirt waist suits and dresses*, p. 199, Lesson 106 (in the public domain). The wording is ours.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from catalogue.drafting import draft_style
from catalogue.drafting.model import Draft
from catalogue.findings import Place
from catalogue.lengths import Unit, Units
from catalogue.people import Client, Measured
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings

INCH = 25.4

MEASURED = {"bust_girth": 30.0, "waist_girth": 25.5, "hip_girth": 34.0}
"""Inches: the measures of the book's child of size 10."""

FRONT_MATTER = """\
---
title: Child's skirt in one piece
garment: skirt
for: girls
summary: A plain skirt with one back seam, drafted after a book of the 1900s.
sources: I. Rosenfeld, The Practical Designer, p. 199, Lesson 106
choices:
  front length: 20 in (12 in to 30 in) - at the centre front
  side length: 20 1/2 in (12 in to 30 in) - at the side
  back length: 21 in (12 in to 30 in) - at the centre back
---

# Drafting
"""


class DraftStage(NamedTuple):
    """A stage of the draft.

    Attributes:
        title: as a heading of the style file.
        book: rows of what the book prints: points, rule, the figure it states ("" for none).
        how: how to write that, in one to three sentences.
        code: the draft block.
    """

    title: str
    book: tuple[tuple[str, str, str], ...]
    how: str
    code: str


STAGES = (
    DraftStage(
        "The front line and the top line",
        (
            ("A–B", "centre front, the front length", "20"),
            ("A–C", "half the waist", "12 3/4"),
            ("C–D", "always 3, square up from C", "3"),
        ),
        "Begin where the book begins: its A is start. Keep its letters as names, so that the two can be compared. "
        "A length that is measured on the body becomes the name of a measurement, one that the maker decides becomes a "
        "choice, and one that the book always takes stays a length.",
        """\
A = start
B = front_length down from A
C = waist_girth / 2 right from A
D = 3 in up from C
""",
    ),
    DraftStage(
        "The hip line",
        (
            ("A–E", "a third of half the breast", "5"),
            ("D–F", "the same", "5"),
            ("E–F", "half the hip", "17"),
        ),
        "A length that is used twice gets a name of its own. F is given by two lengths, one from D and one from E: two "
        "sweeps of the compasses. They meet in two places, so say which.",
        """\
hip_depth = bust_girth / 2 / 3
E = hip_depth down from A
F = hip_depth from D meeting hip_girth / 2 from E, rightmost
hip_line = line E to F
""",
    ),
    DraftStage(
        "The back line and the side",
        (
            ("D–J", "through F, the back length", "21"),
            ("G", "half of A–D", ""),
            ("G–H", "down for the waist curve", "3/4"),
            ("H–I", "the side length", "20 1/2"),
        ),
        "Where the book leaves something to the eye, decide and say so. Which way G–H and H–I run it does not say: we "
        "square them off A–D.",
        """\
J = back_length from D toward F
waist_straight = line A to D
G = midway A to D
H = 3/4 in square off waist_straight at G, down
I = side_length beyond H from G
""",
    ),
    DraftStage(
        "Waist and hem",
        (("A–H–D", "the waist, curved", ""), ("B–I–J", "the hem, curved", "")),
        "Curves run through the points in the order given. Both leave the fold square, so the halves join without a "
        "corner.",
        """\
waist_curve = curve A leaving right, H, D
hem_curve   = curve B leaving right, I, J
""",
    ),
    DraftStage(
        "The piece",
        (("A–B", "on a fold", ""), ("D–J", "the back seam; the draft has no seams in it", "")),
        "A drawing becomes a piece when its outline is named edge by edge. The book says to add seams: the line "
        "with allow does. What the book states can be checked: the page says so when it no longer holds.",
        """\
piece skirt "Skirt", cut 1 on fold
  outline front: A to B, fold
          hem: B to J along hem_curve
          back: J to D
          waist: D to A along waist_curve
  grain along front
  draw hip_line as guide line
allow 1/2 in, hem 2 in
check length of hip_line = hip_girth / 2, "the hip line is half the hip girth"
check length of skirt.waist at least waist_girth / 2, "the waist goes round the body"
""",
    ),
)


def style_text(stages: int = len(STAGES)) -> str:
    """The style file after so many stages."""
    steps = [f"## {stage.title}\n\n```draft\n{stage.code}```\n" for stage in STAGES[:stages]]
    return "\n".join((FRONT_MATTER, *steps))


@cache
def printed_draft() -> Draft:
    """The whole style, drafted for the book's measures."""
    measured = {
        key: Measured(inches * INCH, f"{inches:g} in", None, Place("handbook"))
        for key, inches in MEASURED.items()
    }
    client = Client("size-10", "handbook", "Size 10", "girl", Units(Unit.IN), measurements=measured)
    style = style_from(style_text().encode(), "printed-draft", "handbook/printed-draft.md")
    return draft_style(style, client, Settings())
