"""A working worked out again by hand, from what is printed, gives the result that is printed."""

import ast
import operator
import re
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from catalogue.drafting import draft_style
from catalogue.findings import Place
from catalogue.lengths import Unit, Units, parse_length, show_length
from catalogue.people import Client, Measured
from catalogue.studio.reading import style_from
from catalogue.studio.settings import Settings
from tests.extent import examples

INCHES, EIGHTHS, CM, MM = Units(Unit.IN, 16), Units(Unit.IN, 8), Units(Unit.CM), Units(Unit.MM)
OPERATORS = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
}


def working(formula: str, units: Units, before: str = "", **figures: float):
    """What the page shows for `part = formula`, with these body measurements in mm."""
    text = f"---\ntitle: T\n---\n\n# Drafting\n\n```draft\n{before}\npart = {formula}\n```\n"
    measured = {key: Measured(mm, "", None, Place("c.md")) for key, mm in figures.items()}
    client = Client("c", "c.md", "C", units=units, measurements=measured)
    draft = draft_style(style_from(text.encode(), "t", "styles/t.md"), client, Settings())
    assert draft.findings == ()
    return next(w for w in draft.steps[0].workings if w.name == "part")


def by_hand(printed: str) -> float:
    """A printed sum of lengths and numbers in mm, by exact fractions."""
    text = re.sub(r" \([^()]*\d (?:in|cm)\)", "", printed)
    text = re.sub(
        r"(?:\d+ )?\d+/\d+ in|\d+(?:\.\d+)? (?:in|cm|mm)",
        lambda found: str(Fraction(parse_length(found.group(), None)).limit_denominator(10**12)).join("()"),
        text,
    )
    text = re.sub(r"(?<![\d/(])(\d+) (\d+/\d+)", r"(\1 + \2)", text)
    tree = ast.parse(text.replace("×", "*").replace("÷", "/").replace("−", "-"), mode="eval").body

    def value(node: ast.expr) -> Fraction:
        if isinstance(node, ast.BinOp):
            return OPERATORS[type(node.op)](value(node.left), value(node.right))
        if isinstance(node, ast.UnaryOp):
            return -value(node.operand)
        assert isinstance(node, ast.Constant)
        return Fraction(str(node.value))

    return float(value(tree))


def test_the_product_of_a_fraction_is_right() -> None:
    # Ingalls, gored skirt: a side gore of 2 2/3 in at the waist measures 4 in at the hip, once and a half as much.
    found = working("side * 1 1/2", INCHES, "side = waist_girth / 9", waist_girth=24 * 25.4)
    assert (found.substituted, found.text) == ("2.67 in × 1 1/2", "4 in")
    assert show_length(by_hand(found.substituted), INCHES) == "4 in"


@pytest.mark.parametrize(
    ("formula", "units", "put_in", "text"),
    [
        ("waist_girth / 4", INCHES, "28 1/2 in ÷ 4", "7 1/8 in"),
        ("waist_girth / 4 + 1 cm", CM, "72.4 cm ÷ 4 + 1 cm", "19.1 cm"),
        ("waist_girth * 2", MM, "724 mm × 2", "1448 mm"),
        ("8 * waist_girth", CM, "8 × 72.39 cm", "579.1 cm"),
    ],
)
def test_figures_stay_as_a_tape_shows_them_where_the_sum_is_right(
    formula: str, units: Units, put_in: str, text: str
) -> None:
    found = working(formula, units, waist_girth=723.9)
    assert (found.substituted, found.text) == (put_in, text)


FORMULAS = (
    "waist_girth * 1 1/2",
    "waist_girth / 4 + hip_girth / 8 - 3 cm",
    "(hip_girth - waist_girth) * 5 / 8",
    "half of waist_girth + third of hip_girth",
    "7 * waist_girth - 2 * hip_girth",
    "hip_girth * (waist_girth / hip_girth)",
)
LENGTHS = st.floats(200.0, 1600.0, allow_nan=False)


@settings(max_examples=examples(30), deadline=None)
@given(
    formula=st.sampled_from(FORMULAS[:3] + FORMULAS[4:]),
    units=st.sampled_from((INCHES, EIGHTHS, CM, MM, Units(Unit.IN, 16, True), Units(Unit.CM, 8, True))),
    waist=LENGTHS,
    hip=LENGTHS,
)
def test_what_is_printed_comes_to_what_is_printed(
    formula: str, units: Units, waist: float, hip: float
) -> None:
    found = working(formula, units, waist_girth=waist, hip_girth=hip)
    assert found.result is not None
    single = Units(units.primary, units.fraction)
    printed = parse_length(found.text, None, negative=True)
    place = 25.4 / units.fraction if units.primary is Unit.IN else 1.0
    assert abs(by_hand(found.substituted) - printed) <= place / 2 * (1 + 1e-3), (
        found.substituted,
        found.text,
    )
    assert show_length(found.result.value, single) == show_length(printed, single)


def test_a_half_of_an_uneven_figure_is_right_too() -> None:
    found = working(FORMULAS[3], INCHES, waist_girth=701.3, hip_girth=933.8)
    half, third = (by_hand(text) for text in re.findall(r"of ([\d./ ]+ in)", found.substituted))
    assert show_length(half / 2 + third / 3, INCHES) == found.text


def test_the_amount_a_point_is_placed_by_is_right() -> None:
    found = working("side * 1 1/2 down from start", INCHES, "side = waist_girth / 9", waist_girth=24 * 25.4)
    assert found.substituted.startswith("2.67 in × 1 1/2 down") and found.text == "4 in down"
