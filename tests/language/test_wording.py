"""Formulas as a drafter writes them on paper."""

import pytest

from catalogue.findings import Place
from catalogue.language.parser import parse_block, parse_formula
from catalogue.language.wording import in_words, spell


def spelt(text: str, **put_in: str) -> str:
    tree = parse_formula(text, Place("a.md"))
    return spell(
        tree, (lambda node: put_in.get(node.text) if node.word == "name" else None) if put_in else None
    )


@pytest.mark.parametrize(
    ("formula", "paper"),
    [
        ("bust_girth / 6 + 4 cm", "bust girth ÷ 6 + 4 cm"),
        ("2*a", "2 × a"),
        ("a-b-c", "a − b − c"),
        ("a-(b-c)", "a − (b − c)"),
        ("a-(b+c)", "a − (b + c)"),
        ("a+(b-c)", "a + b − c"),
        ("(a+b)/2", "(a + b) ÷ 2"),
        ("a+b/2", "a + b ÷ 2"),
        ("a/(b/c)", "a ÷ (b ÷ c)"),
        ("a/(b*c)", "a ÷ (b × c)"),
        ("a*(b/c)", "a × b ÷ c"),
        ("(a*b)/c", "a × b ÷ c"),
        ("((a))", "a"),
        ("-a", "−a"),
        ("-(a+b)", "−(a + b)"),
        ("a - -b", "a − −b"),
        ("front.side", "front side"),
        ("1   1/2   in", "1 1/2 in"),
        ("length of front.side", "length of front side"),
        ("half of (a + b)", "half of (a + b)"),
        ("smaller of (a) and (b - 1 cm)", "smaller of (a) and (b − 1 cm)"),
    ],
)
def test_formula_on_paper(formula, paper):
    assert spelt(formula) == paper


def test_numbers_are_put_in_for_names():
    assert spelt("bust_girth / 6 + ease", bust_girth="96 cm", ease="4 cm") == "96 cm ÷ 6 + 4 cm"


def test_brackets_stay_right_when_numbers_are_put_in():
    assert spelt("a - (b - c)", a="9 cm", b="5 cm", c="1 cm") == "9 cm − (5 cm − 1 cm)"


def test_words_around_the_numbers_stay():
    (node,), _ = parse_block("p = a / 2 right and b up from start", "a.md", 1)
    assert spell(node.value) == "a ÷ 2 right and b up from start"


def test_in_words():
    assert in_words("cb_scye") == "cb scye"
    assert in_words("front.armhole_edge") == "front armhole edge"
