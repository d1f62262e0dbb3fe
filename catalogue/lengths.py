"""Tape-measure lengths: text as the trade writes it to millimetres, and back.

Exact factors: 1 in = 25.4 mm (international yard and pound agreement, 1959; NIST SP 811, appendix B).
"""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import lru_cache

INCH = Fraction(127, 5)
LONGEST = 100_000.0
"""Nothing a dressmaker measures is longer than this (100 m, in mm)."""

MINUS = "\N{MINUS SIGN}"
MINUSES = "-−–"


class Unit(Enum):
    """The units a studio works in."""

    MM = "mm"
    CM = "cm"
    IN = "in"

    @property
    def mm(self) -> float:
        """How many millimetres one of it is."""
        return float(_FACTORS[self.value])

    @property
    def is_metric(self) -> bool:
        return self is not Unit.IN


_FACTORS = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": INCH,
    "ft": 12 * INCH,
    "yd": 36 * INCH,
}

_SPELLINGS = {
    "mm": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    "cm": ("cm", "cms", "centimetre", "centimetres", "centimeter", "centimeters"),
    "m": ("m", "metre", "metres", "meter", "meters"),
    "in": ("in", "ins", "inch", "inches", '"', "“", "”", "″", "''", "‘‘", "’’", "′′", "＂"),
    "ft": ("ft", "foot", "feet", "'", "‘", "’", "′"),
    "yd": ("yd", "yds", "yard", "yards"),
}
UNIT_WORDS = {word: unit for unit, words in _SPELLINGS.items() for word in words}
"""Every way of writing a unit that is read here, to one of mm, cm, m, in, ft, yd."""

_VULGAR = {c: Fraction(unicodedata.numeric(c)).limit_denominator(10) for c in "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"}

_TAPE = (1, 2, 4, 8, 16, 32, 64)
_PARTS = {3: "thirds", 5: "fifths", 6: "sixths", 7: "sevenths", 9: "ninths", 10: "tenths", 12: "twelfths"}

_QUOTES = "“”„‟«»‘’‚\"'"

_TOKEN = re.compile(
    r"(?P<space>\s+)"
    r"|(?P<fraction>(?P<top>\d+)\s*[/⁄∕]\s*(?P<bottom>\d+))"
    r"|(?P<number>\d+(?:[.,]\d+)?|[.,]\d+)"
    rf"|(?P<vulgar>[{''.join(_VULGAR)}])"
    r"|(?P<unit>''|‘‘|’’|′′|[\"“”″＂'‘’′]|[^\W\d_]+\.?)",
)


class LengthError(ValueError):
    """A text that isn't a length.

    Attributes:
        message: what is wrong, in the reader's words.
        offset: where in the text, from 0.
        hint: what would help; may be empty.
    """

    def __init__(self, message: str, offset: int = 0, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.offset = offset
        self.hint = hint


@dataclass(frozen=True, slots=True)
class Units:
    """How lengths, and the days beside them, are written.

    Attributes:
        primary: the unit they are shown in; also what a bare number means.
        fraction: inches are shown to the nearest 1/8 or 1/16: 8 or 16.
        both: show the other system in brackets after it.
        comma: write decimals with a comma, "96,5 cm".
        dates: what the studio writes first of a date, "day", "month" or "year"; "" where it settled nothing.
    """

    primary: Unit = Unit.CM
    fraction: int = 16
    both: bool = False
    comma: bool = False
    dates: str = ""


@dataclass(frozen=True, slots=True)
class _Part:
    amount: Fraction
    unit: str
    start: int
    end: int


@lru_cache(maxsize=4096)
def parse_length(
    text: str, unit: Unit | None = None, *, negative: bool = False, taped: bool = False
) -> float:
    """The length written in `text`, in mm.

    Reads `38 1/2`, `38-1/2`, `38½"`, `38.5 in`, `97 cm`, `970mm`, `1,5 cm`, `3 ft 2 in`, and what
    `show_length` writes. A bare number takes `unit`; with None it is an error. A length below zero needs
    `negative`. With `taped` it was read off a tape, so that a fraction of an inch is one that a tape shows.

    Raises:
        LengthError: the text isn't a length, or it is absurd (over 100 m).
    """
    plain = _plain_digits(text)
    start = len(plain) - len(plain.lstrip())
    plain = plain.rstrip()
    if start >= len(plain):
        raise LengthError("a length is expected here, such as 38 1/2 in or 97 cm", 0)
    if len(plain) - start > 60:
        raise LengthError("this is too long to be a length", start)
    sign = 1
    if plain[start] in "+" + MINUSES:
        sign = 1 if plain[start] == "+" else -1
        if sign < 0 and not negative:
            raise LengthError("a length cannot be negative here", start, "Leave out the minus sign.")
        start += 1
    first, after = _whole(plain, start, unit, taped=taped)
    if after < len(plain):
        _check_repeat(plain, after, sign * first)
    mm = float(sign * first)
    if abs(mm) > LONGEST:
        raise LengthError("this is longer than 100 m", start, "Is the unit right?")
    return mm


@lru_cache(maxsize=4096)
def parse_number(text: str) -> float:
    """A plain number of zero or more: `3`, `0.5`, `1,5`, `1/2`, `1 1/2`, `½`.

    Raises:
        LengthError: the text isn't such a number.
    """
    plain = _plain_digits(text).rstrip()
    start = _skip(plain, 0)
    if start >= len(plain):
        raise LengthError("a number is expected here")
    if len(plain) - start > 60:
        raise LengthError("this is too long to be a number", start)
    amount, end = _amount(plain, start)
    if end < len(plain):
        raise LengthError(f"“{plain[end:].strip()}” can't follow a plain number", _skip(plain, end))
    return float(amount)


def _plain_digits(text: str) -> str:
    """Digits of any script as 0-9, one character for one, so that offsets stay true."""
    if text.isascii():
        return text
    return "".join(
        str(unicodedata.decimal(c)) if unicodedata.decimal(c, -1) != -1 else {"٫": ".", "\xa0": " "}.get(c, c)
        for c in text
    )


def _whole(text: str, start: int, unit: Unit | None, *, taped: bool = False) -> tuple[Fraction, int]:
    """All parts of a length ("3 ft 2 in") from `start`; gives mm and where it ended."""
    parts: list[_Part] = []
    at = start
    while at < len(text) and text[at] != "(":
        part = _part(text, at, unit if not parts else None, following=bool(parts))
        if parts and _FACTORS[part.unit] >= _FACTORS[parts[-1].unit]:
            raise LengthError(
                f"{part.unit} can't follow {parts[-1].unit}", part.start, "Write one length, as in 3 ft 2 in."
            )
        if taped and part.unit == "in":
            _check_tape(text[: part.end], part)
        parts.append(part)
        at = part.end
    if not parts:
        raise LengthError("a length is expected here, such as 38 1/2 in or 97 cm", start)
    return sum((p.amount * _FACTORS[p.unit] for p in parts), Fraction(0)), at


def _part(text: str, start: int, unit: Unit | None, *, following: bool) -> _Part:
    """One amount with its unit, and the spaces round it."""
    at = _skip(text, start)
    begin = at
    amount, at = _amount(text, at)
    at = _skip(text, at)
    found = _TOKEN.match(text, at)
    if found and found["unit"]:
        word = found["unit"].rstrip(".").casefold()
        if word not in UNIT_WORDS:
            raise _not_a_unit(found["unit"], at, text, begin)
        return _Part(amount, UNIT_WORDS[word], begin, _skip(text, found.end()))
    if at < len(text) and text[at] != "(":
        raise _stray(text, at)
    if unit is None:
        what = text[begin:at].strip()
        if following:
            raise LengthError(f"{what} has no unit", begin, f"Write {what} in, or {what} cm.")
        raise LengthError(
            f"{what} alone is not a length: it needs a unit",
            begin,
            f"Write {what} cm, {what} mm or {what} in.",
        )
    return _Part(amount, unit.value, begin, at)


def _amount(text: str, at: int) -> tuple[Fraction, int]:
    """A number, a fraction, or a whole number and a fraction."""
    found = _TOKEN.match(text, at)
    if found is None or found["unit"] or found["space"]:
        raise _no_number(text, at)
    if found["fraction"]:
        return _fraction(found, at), found.end()
    if found["vulgar"]:
        return _VULGAR[found["vulgar"]], found.end()
    number = found["number"]
    if re.fullmatch(r"[1-9]\d{0,2},\d{3}", number):
        plain = number.replace(",", "")
        raise LengthError(
            f"{number} can be read two ways",
            at,
            f"Write {plain}, or {number.replace(',', '.')} with a point.",
        )
    amount = Fraction(number.replace(",", "."))
    after = found.end()
    if re.match(r"[eE][+-]?\d", text[after:]):
        raise LengthError(f"{text[at:]} can't be read: powers of ten are not read here", at, "Write it out.")
    next_at = _skip(text, after)
    if text[next_at : next_at + 1] == "-" and number.isdigit():
        next_at += 1
    more = _TOKEN.match(text, next_at)
    if more is None or not (more["fraction"] or more["vulgar"]):
        return amount, after
    if not number.isdigit():
        raise LengthError(f"{number} already has decimals, so no fraction can follow it", next_at)
    part = _VULGAR[more["vulgar"]] if more["vulgar"] else _fraction(more, next_at)
    if part >= 1:
        turned = f"{more['bottom']}/{more['top']}"
        raise LengthError(
            f"{number} {more.group()} is no figure on a tape: {more.group()} is one or more",
            next_at,
            f"Did you mean {number} {turned}?" if part > 1 and int(more["top"] or 0) in _TAPE else "",
        )
    return amount + part, more.end()


def _fraction(found: re.Match[str], at: int) -> Fraction:
    if int(found["bottom"]) == 0:
        raise LengthError(f"{found.group()} has 0 below the line", at, "Write a fraction such as 1/2.")
    return Fraction(int(found["top"]), int(found["bottom"]))


def _check_repeat(text: str, at: int, first: Fraction) -> None:
    """The same length again in the other system, in brackets: it must agree to an eighth of an inch."""
    if not text.endswith(")"):
        raise LengthError("this bracket is not closed", at, "Close it with ).")
    begin = _skip(text, at + 1)
    sign = (
        -1 if first <= 0 and text[begin] in MINUSES else 1
    )  # Zero here may be a little less than zero there.
    again, end = _whole(text[:-1], begin + (sign < 0), None)
    if end < len(text) - 1:
        raise _stray(text, end)
    if abs(sign * again - first) > INCH / 8:
        raise LengthError("the length in brackets is not the same", at + 1, "Keep the right one.")


def _check_tape(text: str, part: _Part) -> None:
    """Refuse a fraction that no tape in inches shows; decimals are no matter."""
    found = next((t for t in _TOKEN.finditer(text, part.start) if t["fraction"] or t["vulgar"]), None)
    below = part.amount.denominator
    if found is None:
        return
    if found.start() == part.start and found["fraction"] and part.amount >= 1:
        raise _run_together(found)
    if below in _TAPE:
        return
    near = show_length(float(part.amount * INCH), Units(Unit.IN))
    raise LengthError(
        f"no tape measure has {_PARTS.get(below, f'{below}ths')} of an inch; expected halves to sixty-fourths",
        found.start(),
        f"The nearest sixteenth is {near}.",
    )


def _run_together(found: re.Match[str]) -> LengthError:
    """61/8 for 6 1/8: the blank was forgotten, and an inch and more would be lost."""
    top, bottom = found["top"], found["bottom"]
    meant = [
        f"{top[:n]} {top[n:]}/{bottom}"
        for n in range(1, len(top))
        if top[n] != "0" and int(top[n:]) < int(bottom)
    ]
    hint = f"Did you mean {' or '.join(meant)}?" if meant else "Write whole inches first, as in 6 1/8."
    return LengthError(f"{found.group()} has more above the line than below", found.start(), hint)


def _skip(text: str, at: int) -> int:
    while at < len(text) and text[at].isspace():
        at += 1
    return at


def _no_number(text: str, at: int) -> LengthError:
    word = re.match(r"[^\W\d_]+", text[at:])
    if word and word.group().casefold() in {"nan", "inf", "infinity"}:
        return LengthError(f"{word.group()} is not a length", at)
    if at < len(text) and text[at] in MINUSES:
        return LengthError("a minus sign can't stand here", at)
    if text[at : at + 1] in _QUOTES and (bare := text[at:].strip(f"{_QUOTES} ")):
        return LengthError(
            "a figure has no quote marks round it", at, f"Remove the quote marks: write {bare}."
        )
    shown = text[at:] or "nothing"
    return LengthError(
        f"a number is expected, not “{shown}”", at, "Write a length such as 38 1/2 in or 97 cm."
    )


def _not_a_unit(word: str, at: int, text: str, begin: int) -> LengthError:
    if word.casefold() == "x" or word in "×":
        return LengthError("one length is expected, not two", at)
    stroke = re.match(r"[lI]([/⁄∕]\d+)", text[at:])
    if stroke:
        written = f"{text[begin:at].strip()} 1{stroke[1]}"
        return LengthError(f"“{word}” is a letter, not the figure 1", at, f"Write {written}.")
    if word in ("o", "O") and text[at - 1 : at].isdigit():
        written = f"{text[begin:at]}0{text[at + 1 :]}".strip()
        return LengthError(f"“{word}” is a letter, not the figure 0", at, f"Write {written}.")
    return LengthError(
        f"“{word}” is not a unit of length", at, f"Write {text[begin:at].strip()} in, cm, mm, m, ft or yd."
    )


def _stray(text: str, at: int) -> LengthError:
    if text[at] in "/⁄∕":
        return LengthError(
            "a fraction needs a whole number above and below the line", at, "Write 1/2, for example."
        )
    fraction = re.fullmatch(r"(\d+)\s*[-–|\\_]\s*(\d+)(?!\d).*", text[at:])
    hint = "Write a length such as 38 1/2 in or 97 cm."
    if fraction:
        hint = f"Write a fraction with a stroke: {fraction[1]}/{fraction[2]}"
    elif re.match(r"\d+\s*[/⁄∕]", text[at:]):
        hint = "Finish the fraction, as in 3/8."
    return LengthError(f"“{text[at:]}” can't be read as part of a length", at, hint)


def show_length(mm: float, units: Units) -> str:
    """The length as a tape measure is read: `38 1/2 in`, `96.5 cm`, `965 mm`, or `96.5 cm (38 in)`.

    Inches to the nearest 1/16 (or 1/8) in lowest terms; metric to the millimetre.
    """
    shown = _show(mm, units.primary, units.fraction)
    if units.both:
        other = Unit.IN if units.primary.is_metric else Unit.CM
        shown += f" ({_show(mm, other, units.fraction)})"
    return shown.replace(".", ",") if units.comma else shown


def _show(mm: float, unit: Unit, fraction: int) -> str:
    if not math.isfinite(mm):
        return "no length"
    if unit is Unit.IN:
        count = _nearest(abs(mm) / 25.4 * fraction)
        whole, rest = divmod(count, fraction)
        shared = math.gcd(rest, fraction)
        part = f"{rest // shared}/{fraction // shared}" if rest else ""
        shown = f"{whole} {part} in" if whole and part else f"{part or whole} in"
    else:
        count = _nearest(abs(mm))
        if unit is Unit.MM:
            shown = f"{count} mm"
        else:
            shown = f"{count // 10}.{count % 10} cm" if count % 10 else f"{count // 10} cm"
    return f"{MINUS}{shown}" if mm < 0 and count else shown


def taped(mm: float, units: Units) -> float:
    """The length that `show_length` shows in the primary unit, mm."""
    if units.primary is Unit.IN:
        shown = _nearest(abs(mm) / 25.4 * units.fraction) * 25.4 / units.fraction
    else:
        shown = float(_nearest(abs(mm)))
    return -shown if mm < 0 else shown


def _nearest(value: float) -> int:
    """The nearest whole number, halves up; the last bit of a float never decides a half."""
    return math.floor(value + 0.5 + 1e-9)


_HELD = re.compile("\ue002([-+.\\de]+)\ue003")


def held(mm: float) -> str:
    """A length in a message whose reader's units are not known yet: `with_lengths` puts it in words."""
    return f"\ue002{mm!r}\ue003"


def with_lengths(text: str, units: Units) -> str:
    """The text with every length that was `held` in it as these units show it."""
    return _HELD.sub(lambda found: show_length(float(found[1]), units), text) if "\ue002" in text else text


def show_number(value: float) -> str:
    """A plain number to three decimals, without trailing zeros and with a real minus sign."""
    if not math.isfinite(value):
        return "no number"
    shown = f"{abs(value):.3f}".rstrip("0").rstrip(".")
    return f"{MINUS if value < 0 and shown != '0' else ''}{shown}"


def show_angle(degrees: float) -> str:
    """An angle to a tenth of a degree: `23.5°`."""
    if not math.isfinite(degrees):
        return "no angle"
    shown = f"{abs(degrees):.1f}".removesuffix(".0")
    return f"{MINUS if degrees < 0 and shown != '0' else ''}{shown}°"
