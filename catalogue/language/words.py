"""The terminals of the grammar in the reader's words."""

from __future__ import annotations

import re
from functools import cache

from lark import Lark

IN_WORDS: dict[str, tuple[str, ...]] = {
    "NAME": ("a name",),
    "DOTTED": ("a piece and its edge (front.side)",),
    "LEG": ("a leg of a dart (front.waist_dart.left leg)",),
    "LENGTH": ("a length (12 cm, 4 3/4 in)",),
    "NUMBER": ("a number",),
    "PERCENT": ("a share (15%)",),
    "ANGLE": ("an angle (12 degrees)",),
    "TEXT": ('words in quotes ("Skirt front")',),
    "DIRECTION": ("a direction (up, down, left, right)",),
    "PLUS": ("+",),
    "_MINUS": ("-",),
    "_TIMES": ("×",),
    "_OVER": ("÷",),
    "EQUAL": ("=",),
    "COMMA": ("a comma",),
    "COLON": ("a colon",),
    "LPAR": ("an opening bracket",),
    "RPAR": ("a closing bracket",),
    "$END": ("the end of the line",),
    "COMPARE": ("at least", "at most", "more than", "less than"),
    "WHICH": ("a comma",),
    "NEAREST": ("a comma",),
    "SHARE_WORD": ("a third", "a quarter"),
    "FRACTION": ("a part (2/5, 15%)",),
    "PLACE_IS": ("level with",),
    "_REPEAT": ("repeat for",),
    "_JOINING": ("line", "connect"),
    "_HALF_OF": ("half of",),
    "BESIDE": ("below", "above", "left of", "right of", "across from"),
    "BY_WHAT": ("on level", "in line with"),
    "WORDS": ("what is measured",),
    "HOW_MANY": ("single", "double", "triple"),
    "TURN": ("clockwise", "anticlockwise"),
    "MARK_KIND": ("drill hole", "button", "buttonhole", "placement", "zip end"),
    "LINE_KIND": ("fold line", "stitch line", "placement line", "guide line", "pleat line", "lengthen line"),
    "ROW_KIND": ("buttons", "buttonholes", "drill holes"),
    "LYING": ("lying along", "lying across"),
    "_NEW_PAPER": ("new paper",),
    "_QUARTER_OF": ("quarter of",),
    "_THIRD_OF": ("third of",),
    "_AT_LEAST": ("at least",),
    "_ON_FOLD": ("on fold",),
    "_FOLD_TO": ("fold to",),
    "_FREE_AT": ("free at",),
    "_AS_PLEAT": ("as pleat",),
    "_LEFT_TO_RIGHT": ("left to right",),
    "_ZIP": ("zip",),
    "_MOVE": ("move",),
    "_SHIFT": ("shift",),
    "_SHIFT_DART": ("shift dart",),
    "_SHIFT_NOTCH": ("shift notch",),
    "_WIDEN": ("widen",),
    "_HINGED_AT": ("hinged at",),
    "_TURN_PIECE": ("turn",),
    "_MIRROR_PIECE": ("mirror",),
    "_BOTH_HALVES": ("both halves of",),
    "_POINT_NAMED": ("point",),
    "_CORNER_OF": ("corner of",),
    "END_OF": ("start of", "end of"),
    "_HALFWAY": ("halfway",),
    "_ALONG_EDGE": ("along",),
    "NOT": ("not",),
    "_LINES": ("lines",),
}
"""Terminals of the grammar in the reader's words, those that are not simply their own word."""

_A_VALUE = {"NAME", "LENGTH", "NUMBER", "LPAR"}
ARITHMETIC = {"PLUS", "_MINUS", "_TIMES", "_OVER"}
_AFTER_A_POINT = {
    "MOVED",
    "THEN",
    "TURNED",
    "EXTENDED",
    "_EXTENDED",
    "BEYOND",
    "_SQUARE_OFF",
    "_OF_THE_WAY",
    "ALONG",
    "OF",
}

_INTRODUCES = {
    **dict.fromkeys(
        [
            "FROM",
            "TOWARD",
            "ABOUT",
            "BESIDE",
            "CURVE",
            "MIDWAY",
            "_JOINING",
            "_LINE_FROM",
            "_ARC_ABOUT",
            "_CIRCLE_ABOUT",
            "_PIVOTING_ON",
            "_MIDDLE_AT",
            "_POINT_AT",
            "_WIDEST_AT",
        ],
        "a point",
    ),
    **dict.fromkeys(
        [
            "ALONG",
            "_ALONG_EDGE",
            "_LENGTH_OF",
            "_ANGLE_OF",
            "_SQUARE_TO",
            "_PARALLEL_TO",
            "_PART_OF",
            "OVER",
            "WHERE",
            "CROSSES",
            "_TO_TOUCH",
            "_SQUARE_OFF",
            "_HALFWAY_ALONG",
            "DRAW",
        ],
        "a line or curve",
    ),
    **dict.fromkeys(["ALLOW", "DEPTH", "INTAKE", "RADIUS"], "a length (12 cm, 4 3/4 in)"),
}
"""What comes after a word, where the grammar itself would take any value."""

MOST_LISTED = 7


@cache
def words_of(lark: Lark) -> dict[str, tuple[str, ...]]:
    """Terminal name -> how the reader would write it, in one way or several; empty for blanks and comments."""
    words = dict(IN_WORDS)
    for terminal in lark.terminals:
        if terminal.name in words or terminal.name.startswith("__IGNORE"):
            continue
        plain = re.sub(r"\\s[+*]", " ", terminal.pattern.value)
        plain = re.sub(r"\(\?[!=].*\)$|\\b", "", plain)
        plain = re.sub(r"\(([^()|]*)\)\?", "", plain)
        alternatives = tuple(" ".join(w.split()) for w in re.sub(r"^\((.*)\)$", r"\1", plain).split("|"))
        if all(re.fullmatch(r"[a-z]+( [a-z]+)*", w) for w in alternatives):
            words[terminal.name] = alternatives
    return words


def is_word(words: str) -> bool:
    """Whether it is written in the file as it stands here, and not a description such as “a name”."""
    return bool(re.fullmatch(r"(?!a |an |words |what |the end)[a-z]+( [a-z]+)*", words))


@cache
def language_words(lark: Lark) -> frozenset[str]:
    """Single words that the language keeps for itself."""
    return frozenset(w for ways in words_of(lark).values() for w in ways if re.fullmatch(r"[a-z]+", w))


@cache
def first_words(lark: Lark) -> tuple[str, ...]:
    """What a line may begin with, names apart: "piece", "new paper", ..."""
    accepted = lark.parse_interactive("", start="statement").accepts()
    return tuple(sorted({w for t in accepted for w in words_of(lark).get(t, ()) if is_word(w)}))


def in_list(lark: Lark, expected: set[str], before_type: str) -> str:
    """Terminals that may follow one of type `before_type`, as a list in words."""
    words, expected = words_of(lark), set(expected)
    if "PLACE_IS" in expected:
        expected -= {"BESIDE", "BY_WHAT"}
    names: list[str] = []
    if expected >= _A_VALUE:
        names.append(_INTRODUCES.get(before_type, "a name, a length or a number"))
        expected &= {"DIRECTION"}
    elif expected >= ARITHMETIC:
        names.append("+ - × ÷")
        expected -= ARITHMETIC | _AFTER_A_POINT
        if before_type == "NUMBER":
            expected -= {"DIRECTION", "FROM"}
    rest = sorted(
        {w for e in expected for w in words.get(e, ())},
        key=lambda w: (w == "the end of the line", w.startswith(("a ", "words ")), w),
    )
    names += rest
    if len(names) > MOST_LISTED:
        names = [*names[:MOST_LISTED], "…"]
    if not names:
        return ""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"
