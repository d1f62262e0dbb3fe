"""Spoiling a good style file the way tired hands, editors and strangers do."""

from __future__ import annotations

import re
from random import Random

_TOKEN = re.compile(r"\w+|\s+|[^\w\s]")

WORDS = tuple(
    re.findall(
        r"\S+",
        """
by up to above otherwise midway where crosses mirror of over turned about moved line from curve leaving arriving
heading square extended then length distance smaller larger and half third quarter root rounded angle piece
outline cut on fold grain along notch at mark draw as dart middle halfway intake point straight mouth inside
widest allow sew ease gathered within finished body check is not at least most more than less when otherwise
find between so that new paper note level with left right down up across below in toward beyond touch meeting
radius arc circle part parallel close pivoting opening taking named stopping short spread overlap lines nothing
pleat knife box inverted depth tape unfold trace true across redraw smooth shape pointed extend discard lengthen
shorten into edge start hip_girth waist_girth front back sleeve 0 1 2 -1 1/2 3% 12° 90 0 cm 1 cm 2 in 1000 m ½
in " ( ) , : = + - * / . # { } ```draft ``` --- [ ] ’ “ ” × ÷ − > < ≥
""",
    )
)

ODD = "\x00\x07\u200b\u00a0\u2028\ufeff😀اللغة\u0301\u202eé\ue000\\\t\r\n'\"`{}#()=,.:;0"


def spoil(text: str, random: Random, times: int) -> str:
    """The text with `times` things done to it, the front matter mostly left alone."""
    for _ in range(times):
        text = random.choice(_WAYS)(text, random)
    return text[:200_000]


def _span(text: str, random: Random, longest: int) -> tuple[int, int]:
    start = random.randrange(len(text) + 1)
    return start, min(len(text), start + random.randrange(1, longest + 1))


def _cut_characters(text: str, random: Random) -> str:
    a, b = _span(text, random, 12)
    return text[:a] + text[b:]


def _put_in_odd(text: str, random: Random) -> str:
    a = random.randrange(len(text) + 1)
    return text[:a] + "".join(random.choices(ODD, k=random.randrange(1, 4))) + text[a:]


def _change_token(text: str, random: Random) -> str:
    tokens = _TOKEN.findall(text)
    if not tokens:
        return text
    at = random.randrange(len(tokens))
    tokens[at] = random.choice([*WORDS, random.choice(tokens), random.choice(tokens)])
    return "".join(tokens)


def _put_in_token(text: str, random: Random) -> str:
    tokens = _TOKEN.findall(text) or [""]
    tokens.insert(random.randrange(len(tokens) + 1), f" {random.choice([*WORDS, random.choice(tokens)])} ")
    return "".join(tokens)


def _swap_tokens(text: str, random: Random) -> str:
    tokens = _TOKEN.findall(text)
    if len(tokens) < 2:
        return text
    a, b = random.randrange(len(tokens)), random.randrange(len(tokens))
    tokens[a], tokens[b] = tokens[b], tokens[a]
    return "".join(tokens)


def _change_number(text: str, random: Random) -> str:
    found = list(re.finditer(r"\d+(?:[./ ]\d+)?", text))
    if not found:
        return text
    number = random.choice(found)
    new = random.choice(["0", "-1", "1/0", "1e400", "9" * 30, "0.0001", "1000", "2", "1 1/2", "-5", "½", "3"])
    return text[: number.start()] + new + text[number.end() :]


_KINDS = (
    ["up", "down", "left", "right"],
    ["nearest start", "highest", "lowest", "leftmost", "rightmost", "first", "last"],
    ["leaving", "arriving", "heading"],
    ["smaller of", "larger of"],
    ["half of", "third of", "quarter of"],
    ["below", "above", "left of", "right of"],
    ["on level", "in line with"],
    ["at least", "at most", "more than", "less than"],
    ["straight", "smooth"],
    ["knife", "box", "inverted"],
    ["lengthen", "shorten"],
    ["spread", "overlap"],
    ["cm", "mm", "in", "m", "degrees", "%", ""],
    ["+", "-", "*", "/"],
)


def _change_like(text: str, random: Random) -> str:
    """A word for another of its kind, so that the line stays a line of the language."""
    kind = random.choice(_KINDS)
    pattern = "|".join(rf"(?<!\w){re.escape(w)}(?!\w)" for w in kind if w)
    found = list(re.finditer(pattern, text))
    if not found:
        return text
    one = random.choice(found)
    return text[: one.start()] + random.choice(kind) + text[one.end() :]


def _change_name(text: str, random: Random) -> str:
    """A name for another name of the draft."""
    names = [*re.findall(r"^\s*([^\W\d]\w*)\s*=", text, re.M), "start"]
    used = list(re.finditer(rf"(?<![\w.])(?:{'|'.join(set(names))})(?![\w.]|\s*=)", text))
    if not used:
        return text
    one = random.choice(used)
    return text[: one.start()] + random.choice(names) + text[one.end() :]


def _change_length(text: str, random: Random) -> str:
    found = list(re.finditer(r"\d+(?:\.\d+| \d/\d)? (?:cm|mm|in)\b", text))
    if not found:
        return text
    one = random.choice(found)
    new = random.choice(
        ["0 cm", "0.001 mm", "-3 cm", "90 m", "1 m", "3 in", "50 cm", "2 mm", "(0 cm - 5 cm)", "17 cm"]
    )
    return text[: one.start()] + new + text[one.end() :]


def mislead(text: str, random: Random, times: int) -> str:
    """The text with lines that are still lines of the language, but say something else."""
    for _ in range(times):
        text = random.choice((_change_like, _change_name, _change_name, _change_length, _change_length))(
            text, random
        )
    return text


def _rows(text: str, random: Random) -> str:
    rows = text.split("\n")
    at, to = random.randrange(len(rows)), random.randrange(len(rows))
    way = random.randrange(6)
    if way == 0:
        del rows[at]
    elif way == 1:
        rows.insert(to, rows[at])
    elif way == 2:
        rows[at], rows[to] = rows[to], rows[at]
    elif way == 3:
        rows[at] = " " * random.randrange(9) + rows[at]
    elif way == 4:
        rows[at] = rows[at].lstrip()
    elif at + 1 < len(rows):
        rows[at] += rows.pop(at + 1)
    return "\n".join(rows)


def _a_row_from_elsewhere(text: str, random: Random) -> str:
    rows = text.split("\n")
    made = " ".join(random.choices([*WORDS, *re.findall(r"\w+", text)[:400]], k=random.randrange(1, 9)))
    rows.insert(random.randrange(len(rows) + 1), made)
    return "\n".join(rows)


def _cut_short(text: str, random: Random) -> str:
    return text[: random.randrange(len(text) + 1)] if random.random() < 0.2 else text


_WAYS = (
    _cut_characters,
    _put_in_odd,
    _change_token,
    _change_token,
    _change_token,
    _put_in_token,
    _put_in_token,
    _swap_tokens,
    _change_number,
    _change_number,
    _rows,
    _rows,
    _a_row_from_elsewhere,
    _cut_short,
)
