"""Lengths as the trade writes them. Values follow from 1 in = 25.4 mm exactly (NIST SP 811, appendix B)."""

import math
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from catalogue.lengths import (
    LengthError,
    Unit,
    Units,
    parse_length,
    parse_number,
    show_angle,
    show_length,
    show_number,
)

GOOD = [
    # text, unit of a bare number, mm
    ("38 1/2", Unit.IN, 977.9),
    ("38-1/2", Unit.IN, 977.9),
    ("38  1/2  ", Unit.IN, 977.9),
    ("38.5 in", None, 977.9),
    ('38½"', None, 977.9),
    ("38 ½ in", None, 977.9),
    ("38 1⁄2 in", None, 977.9),
    ('38 1/2"', None, 977.9),
    ("38 1/2”", None, 977.9),
    ("38 1/2″", None, 977.9),
    ("38 1/2''", None, 977.9),
    ("38 1/2 inches", None, 977.9),
    ("38 1/2 IN.", None, 977.9),
    ("97 cm", None, 970.0),
    ("97cm", None, 970.0),
    ("970mm", None, 970.0),
    ("970 millimetres", None, 970.0),
    ("5/8 in", None, 15.875),
    ("⅝ in", None, 15.875),
    ("⅛", Unit.IN, 3.175),
    ("⅜", Unit.IN, 9.525),
    ("⅞", Unit.IN, 22.225),
    ("¼", Unit.IN, 6.35),
    ("¾", Unit.IN, 19.05),
    ("⅓", Unit.IN, 25.4 / 3),
    ("⅔ yd", None, 609.6),
    ("1,5 cm", None, 15.0),
    (".5 cm", None, 5.0),
    ("0,635 cm", None, 6.35),
    ("3 ft 2 in", None, 965.2),
    ("5' 4 1/2\"", None, 1638.3),
    ("5’4”", None, 1625.6),
    ("2 m", None, 2000.0),
    ("1 m 20 cm", None, 1200.0),
    ("1 yd", None, 914.4),
    ("1 yd 9 in", None, 1143.0),
    ("2 1/4 yards", None, 2057.4),
    ("96", Unit.CM, 960.0),
    ("96", Unit.MM, 96.0),
    ("96.5", Unit.CM, 965.0),
    ("0", Unit.CM, 0.0),
    ("٩٦٫٥", Unit.CM, 965.0),  # the digits of Arabic
    ("९६ cm", None, 960.0),  # of Devanagari
    ("96.5 cm (38 in)", None, 965.0),
    ("38 in (96.5 cm)", None, 965.2),
]

BAD = [
    # text, unit of a bare number, offset of the mark, part of the message
    ("", Unit.IN, 0, "a length is expected"),
    ("   ", Unit.IN, 0, "a length is expected"),
    ("3", None, 0, "3 alone is not a length"),
    ("38 1/2", None, 0, "38 1/2 alone is not a length"),
    ("38 1/0", Unit.IN, 3, "0 below the line"),
    ("1/0 in", None, 0, "0 below the line"),
    ("1e400", Unit.IN, 0, "powers of ten"),
    ("1e3 mm", None, 0, "powers of ten"),
    ("nan", Unit.IN, 0, "nan is not a length"),
    ("inf", Unit.IN, 0, "inf is not a length"),
    ("-3 cm", None, 0, "negative"),
    ("−3 cm", None, 0, "negative"),
    ("--3 cm", None, 0, "negative"),
    ("thirty in", None, 0, "a number is expected"),
    ("38 inc", Unit.IN, 3, "not a unit"),
    ("38 kg", Unit.IN, 3, "not a unit"),
    ("38 x 2", Unit.IN, 3, "one length"),
    ("38,125 mm", None, 0, "two ways"),
    ("38.5 1/2 in", None, 5, "already has decimals"),
    ("38 9/8 in", None, 3, "one or more"),
    ("29 2/1 in", None, 3, "is no figure on a tape"),
    ("38 / in", None, 3, "a fraction needs"),
    ("38 1/", Unit.IN, 3, "can't be read"),
    ("2 in 3 ft", None, 5, "ft can't follow in"),
    ("3 ft 2", None, 5, "2 has no unit"),
    ("97 cm 97 cm", None, 6, "cm can't follow cm"),
    ("100.1 m", None, 0, "longer than 100 m"),
    ("4000", Unit.IN, 0, "longer than 100 m"),
    ("9" * 61, Unit.MM, 0, "too long"),
    ("96.5 cm (37 in)", None, 9, "is not the same"),
    ("96.5 cm (38 in (38 in)", None, 15, "can't be read"),
    ("96.5 cm ()", None, 9, "a length is expected"),
    ("96.5 cm (38 in", None, 8, "is not closed"),
    ("38 1/2 in; 40", None, 9, "a number is expected"),
    ("38#", Unit.IN, 2, "can't be read"),
    ("__import__('os')", Unit.IN, 0, "a number is expected"),
]


@pytest.mark.parametrize(("text", "unit", "mm"), GOOD)
def test_reads_what_the_trade_writes(text: str, unit: Unit | None, mm: float) -> None:
    assert parse_length(text, unit) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(("text", "unit", "offset", "words"), BAD)
def test_says_what_is_wrong_and_where(text: str, unit: Unit | None, offset: int, words: str) -> None:
    with pytest.raises(LengthError) as caught:
        parse_length(text, unit)
    assert words in caught.value.message
    assert caught.value.offset == offset


def test_a_length_below_zero_only_where_it_is_allowed() -> None:
    assert parse_length("-3 cm", negative=True) == -30.0
    assert parse_length("−1 1/2 in", negative=True) == pytest.approx(-38.1)


def test_inches_are_exact() -> None:
    assert parse_length("1 in") == 25.4
    assert parse_length("1 ft") == 304.8
    assert parse_length("1 yd") == 914.4


@pytest.mark.parametrize(
    ("mm", "units", "shown"),
    [
        (977.9, Units(Unit.IN), "38 1/2 in"),
        (965.2, Units(Unit.IN), "38 in"),
        (15.875, Units(Unit.IN), "5/8 in"),
        (25.4 * 3 / 16, Units(Unit.IN), "3/16 in"),
        (25.4 * 3 / 16, Units(Unit.IN, 8), "1/4 in"),
        (25.4 * 15.99, Units(Unit.IN), "16 in"),
        (0.2, Units(Unit.IN), "0 in"),
        (-0.2, Units(Unit.IN), "0 in"),
        (-38.1, Units(Unit.IN), "−1 1/2 in"),
        (965.0, Units(Unit.CM), "96.5 cm"),
        (970.0, Units(Unit.CM), "97 cm"),
        (964.96, Units(Unit.CM), "96.5 cm"),
        (964.5, Units(Unit.CM), "96.5 cm"),
        (4.0, Units(Unit.CM), "0.4 cm"),
        (-4.0, Units(Unit.CM), "−0.4 cm"),
        (965.0, Units(Unit.MM), "965 mm"),
        (-0.4, Units(Unit.MM), "0 mm"),
        (965.0, Units(Unit.CM, both=True), "96.5 cm (38 in)"),
        (965.2, Units(Unit.IN, both=True), "38 in (96.5 cm)"),
        (965.0, Units(Unit.MM, both=True), "965 mm (38 in)"),
        (math.nan, Units(Unit.MM), "no length"),
    ],
)
def test_shows_a_length_as_a_tape_is_read(mm: float, units: Units, shown: str) -> None:
    assert show_length(mm, units) == shown


UNITS = st.builds(Units, st.sampled_from(Unit), st.sampled_from([8, 16]), st.booleans())


@given(st.floats(-90_000, 90_000), UNITS)
@example(12.5, Units(Unit.MM))
@example(25.4 / 32, Units(Unit.IN))
@example(-1.089, Units(Unit.IN, 8, True))
def test_a_round_trip_never_drifts(mm: float, units: Units) -> None:
    shown = show_length(mm, units)
    again = parse_length(shown, negative=True)
    step = 25.4 / units.fraction if units.primary is Unit.IN else 1.0
    assert abs(again - mm) <= step / 2 + 1e-6
    assert show_length(again, replace(units, both=False)) == shown.split(" (")[0]
    assert parse_length(show_length(again, units), negative=True) == again


@given(st.integers(0, 2000), st.sampled_from([2, 4, 8, 16]), st.data())
def test_a_fraction_is_read_back_as_written(whole: int, below: int, data: st.DataObject) -> None:
    above = data.draw(st.integers(1, below - 1))
    mm = parse_length(f"{whole} {above}/{below} in")
    assert mm == float((whole + Fraction(above, below)) * Fraction(127, 5))
    lowest = Fraction(above, below)
    shown = f"{whole} {lowest} in" if whole else f"{lowest} in"
    assert show_length(mm, Units(Unit.IN)) == shown


@given(
    st.text(alphabet=st.characters(codec="utf-8"), max_size=70)
    | st.text("0123456789 ./⁄,-½⅛'\"”incmftyd()", max_size=20)
)
def test_any_text_is_a_length_or_a_length_error(text: str) -> None:
    try:
        mm = parse_length(text, Unit.CM)
    except LengthError as error:
        assert error.message
        assert 0 <= error.offset <= len(text)
    else:
        assert 0 <= mm <= 100_000


@pytest.mark.parametrize(
    ("text", "value"), [("3", 3), ("0.5", 0.5), ("1,5", 1.5), ("1/3", 1 / 3), ("1 1/2", 1.5), ("2½", 2.5)]
)
def test_reads_a_plain_number(text: str, value: float) -> None:
    assert parse_number(text) == value


@pytest.mark.parametrize(
    ("text", "offset", "words"),
    [("", 0, "a number is expected"), ("3 cm", 2, "can't follow"), ("1/0", 0, "0 below"),
     ("1e9", 0, "powers"), ("x", 0, "a number is expected"), ("1" * 70, 0, "too long")],
)  # fmt: skip
def test_refuses_what_is_no_plain_number(text: str, offset: int, words: str) -> None:
    with pytest.raises(LengthError, match=words) as caught:
        parse_number(text)
    assert caught.value.offset == offset


@pytest.mark.parametrize("text", ["41 1-4", "41 1|4", "41 1\\4 in", "41 1_4"])
def test_a_fraction_with_another_sign_for_its_stroke(text: str) -> None:
    with pytest.raises(LengthError, match="can't be read as part of a length") as caught:
        parse_length(text, Unit.IN)
    assert caught.value.offset == 3 and caught.value.hint == "Write a fraction with a stroke: 1/4"


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("40 3/", "Finish the fraction, as in 3/8."),
        ("23 l/2", "Write 23 1/2."),
        ("6O cm", "Write 60 cm."),
        ("2 2", "Write a length such as 38 1/2 in or 97 cm."),
    ],
)
def test_a_slip_in_a_fraction_is_answered_with_what_to_write(text: str, hint: str) -> None:
    with pytest.raises(LengthError) as caught:
        parse_length(text, Unit.IN)
    assert caught.value.hint == hint


@pytest.mark.parametrize(
    ("value", "shown"),
    [(3.0, "3"), (0.25, "0.25"), (1 / 3, "0.333"), (-1.5, "−1.5"), (-0.0001, "0"), (1e21, "1" + "0" * 21),
     (math.inf, "no number")],
)  # fmt: skip
def test_shows_a_number(value: float, shown: str) -> None:
    assert show_number(value) == shown


@pytest.mark.parametrize(
    ("degrees", "shown"),
    [(90.0, "90°"), (22.46, "22.5°"), (-5.0, "−5°"), (-0.01, "0°"), (math.nan, "no angle")],
)
def test_shows_an_angle(degrees: float, shown: str) -> None:
    assert show_angle(degrees) == shown


@pytest.mark.parametrize(
    ("text", "offset", "message", "near"),
    [
        ("41 7/9", 3, "no tape measure has ninths of an inch; expected halves to sixty-fourths", "41 3/4 in"),
        ("38⅓ in", 2, "no tape measure has thirds", "38 5/16 in"),
        ("3 ft 2 1/5 in", 7, "no tape measure has fifths", "2 3/16 in"),
        ("1/100 in", 0, "no tape measure has 100ths", "0 in"),
    ],
)
def test_a_fraction_that_no_tape_shows(text: str, offset: int, message: str, near: str) -> None:
    """Tapes in inches are divided by halving; common practice, no source."""
    with pytest.raises(LengthError) as raised:
        parse_length(text, Unit.IN, taped=True)
    assert raised.value.offset == offset and message in raised.value.message
    assert raised.value.hint == f"The nearest sixteenth is {near}."
    assert parse_length(text, Unit.IN) > 0  # A formula may well take a third.


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("61/8", "Did you mean 6 1/8?"),
        ("291/2 in", "Did you mean 29 1/2?"),
        ("115/16", "Did you mean 1 15/16 or 11 5/16?"),
        ("8/8", "Write whole inches first, as in 6 1/8."),
        ("29 2/1", "Did you mean 29 1/2?"),
    ],
)
def test_a_forgotten_blank_in_a_fraction(text: str, hint: str) -> None:
    with pytest.raises(LengthError) as raised:
        parse_length(text, Unit.IN, taped=True)
    assert raised.value.hint == hint


@pytest.mark.parametrize(
    "text", ["41 7/8", "41 63/64", "41 3/6", "41.7", "1/3 yd", "41 7/9 cm", "⅔ ft", "-1 1/32"]
)
def test_fractions_that_a_tape_shows_and_other_units(text: str) -> None:
    assert parse_length(text, Unit.IN, negative=True, taped=True) == parse_length(
        text, Unit.IN, negative=True
    )
