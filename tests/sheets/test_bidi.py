"""Which way text runs, against the reference implementation's answers."""

from __future__ import annotations

import pytest

from catalogue.sheets.bidi import base_level, levels, visual_runs

_MIRRORED = dict(zip("()[]<>", ")(][><", strict=True))


def shown(text: str) -> str:
    """The text as it stands on paper from left to right, brackets mirrored where they run right to left."""
    parts = []
    for start, end, rtl in visual_runs(text):
        part = text[start:end]
        parts.append("".join(_MIRRORED.get(c, c) for c in reversed(part)) if rtl else part)
    return "".join(parts)


# What GNU FriBidi 1.0.8 shows for these lines (`fribidi --nopad --nobreak`); Hebrew letters, which have no joining
# forms, stand for any right-to-left script, and Arabic ones for the rules about Arabic digits.
@pytest.mark.parametrize(
    ("text", "paper"),
    [
        ("abc אבג def", "abc גבא def"),
        ("אבג abc דהו", "והד abc גבא"),
        ("אבג 12 cm", "cm 12 גבא"),
        ("size 12 אבג 14 דה", "size 12 הד 14 גבא"),
        ("Ana (שרה) 12", "Ana (הרש) 12"),
        ("שרה (Ana)", "(Ana) הרש"),
        ("a [אב] (גד)", "a [בא] (דג)"),
        ("אב 3/8 גד", "דג 3/8 בא"),
        ("אב 12,5% גד", "דג 12,5% בא"),
        ("אב-12 גד", "דג 12-בא"),
        ("x אב. 5", "x 5 .בא"),
        ("ا 1+2 ب", "ب 2+1 ا"),
        ("a ا 12 b", "a 12 ا b"),
        ("אב  ", "  בא"),
    ],
)
def test_lines_of_mixed_direction(text: str, paper: str) -> None:
    assert shown(text) == paper


# UAX #9 (revision 48), 3.4, example in rule L2, written with Hebrew letters for its capitals.
def test_the_example_of_rule_l2() -> None:
    text = "car means אבג."
    assert levels(text) == [0] * 10 + [1, 1, 1, 0]
    assert shown(text) == "car means גבא."


def test_a_line_without_right_to_left_letters_is_one_run() -> None:
    assert visual_runs("Nguyễn (12 cm) – ok!") == [(0, 20, False)]
    assert visual_runs("") == []


def test_the_first_strong_letter_decides_the_line() -> None:
    assert base_level("12 (abc) אב") == 0
    assert base_level("12 (אב) abc") == 1
    assert base_level("12 …") == 0


def test_an_isolated_name_does_not_mix_with_the_words_around_it() -> None:
    runs = visual_runs("\u2068שרה\u2069 · 25 November 2026")
    text = "\u2068שרה\u2069 · 25 November 2026"
    assert shown(text).replace("\u2068", "").replace("\u2069", "") == "הרש · 25 November 2026"
    assert [r.rtl for r in runs if r.end - r.start == 3] == [True]
    # Without the isolate the number would be drawn to the left of the name.
    assert shown("A שרה 25 b").index("25") < shown("A שרה 25 b").index("הרש")
    assert shown("A \u2068שרה\u2069 25 b").index("25") > shown("A \u2068שרה\u2069 25 b").index("הרש")


def test_every_character_is_in_exactly_one_run() -> None:
    for text in ("ab אב 12 (ג) \u2068א1\u2069 x", "אב (cd [ef) 12]", "\u2068never closed אב", "\u2069 alone"):
        spots = sorted(i for r in visual_runs(text) for i in range(r.start, r.end))
        assert spots == list(range(len(text)))
